//! Where the files are.

use std::path::{Path, PathBuf};

use boothside_store::book::FolderShelf;
use boothside_store::storage::{RealDisk, others_may_write};

/// Where the files are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Places {
    data: PathBuf,
    shop: PathBuf,
}

/// No folder can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("this system tells no home folder for data; accepted: --data DIR")]
pub struct NoPlace;

impl Places {
    /// The places under `data`, or this system's own where none is given.
    ///
    /// # Errors
    /// [`NoPlace`] where the system tells none.
    pub fn find(data: Option<&Path>) -> Result<Self, NoPlace> {
        if let Some(data) = data {
            return Ok(Self { data: data.to_owned(), shop: data.join("shop.json") });
        }
        let dirs = directories::ProjectDirs::from("", "", "boothside").ok_or(NoPlace)?;
        Ok(Self { data: dirs.data_dir().to_owned(), shop: dirs.config_dir().join("shop.json") })
    }

    /// The data folder.
    #[must_use]
    pub fn data(&self) -> &Path {
        &self.data
    }

    /// The folder of the sessions.
    #[must_use]
    pub fn sessions(&self) -> PathBuf {
        self.data.join("sessions")
    }

    /// What is to be told of the data folder: that others may write to it.
    #[must_use]
    pub fn warning(&self) -> Option<String> {
        let sessions = self.sessions();
        let open = [self.data.as_path(), &sessions].into_iter().find(|it| others_may_write(it))?;
        let folder = boothside_store::printable_path(open);
        Some(format!("others may write to this data folder · chmod go-w {folder}"))
    }

    /// The painter's book.
    #[must_use]
    pub fn book(&self) -> FolderShelf<RealDisk> {
        FolderShelf::new(RealDisk, &self.data).with_shop(&self.shop)
    }
}

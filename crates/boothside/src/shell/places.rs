//! Where the files are.

use std::path::{Path, PathBuf};

use boothside_store::book::FolderShelf;
use boothside_store::storage::RealDisk;

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

    /// The painter's book.
    #[must_use]
    pub fn book(&self) -> FolderShelf<RealDisk> {
        FolderShelf::new(RealDisk, &self.data).with_shop(&self.shop)
    }
}

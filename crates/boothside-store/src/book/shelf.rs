//! Where the book's files come from: a folder, or texts in the program.

use std::io;
use std::path::{Path, PathBuf};

use super::kind::Kind;
use crate::storage::Disk;

/// Where the book's files come from. Any `Fn(Kind, &str) -> Option<String>` is one, so that
/// texts embedded in the program are.
pub trait Shelf {
    /// The bytes of a file; `None` where there is none of that name.
    ///
    /// # Errors
    /// Where it is there and cannot be read.
    fn read(&self, kind: Kind, name: &str) -> io::Result<Option<Vec<u8>>>;

    /// What to call the file in a message.
    fn label(&self, kind: Kind, name: &str) -> PathBuf {
        kind.file(name).unwrap_or_else(|| PathBuf::from(name))
    }
}

impl<F: Fn(Kind, &str) -> Option<String>> Shelf for F {
    fn read(&self, kind: Kind, name: &str) -> io::Result<Option<Vec<u8>>> {
        Ok(self(kind, name).map(String::into_bytes))
    }
}

/// A book in a folder: `sheets/`, `parts/`, `systems/`, `jobs/`, `cans/`, and the shop's settings
/// in `shop.json`, which may lie elsewhere.
#[derive(Debug, Clone)]
pub struct FolderShelf<D> {
    disk: D,
    root: PathBuf,
    shop: PathBuf,
}

impl<D: Disk> FolderShelf<D> {
    /// The book in `root`, `shop.json` included.
    #[must_use]
    pub fn new(disk: D, root: impl Into<PathBuf>) -> Self {
        let root = root.into();
        let shop = root.join("shop.json");
        Self { disk, root, shop }
    }

    /// With the shop's settings in the file at `shop`.
    #[must_use]
    pub fn with_shop(self, shop: impl Into<PathBuf>) -> Self {
        let shop = shop.into();
        Self { shop, ..self }
    }

    /// The names of all files of a kind, sorted.
    ///
    /// # Errors
    /// What the disk says; a folder that is not there holds nothing.
    pub fn names(&self, kind: Kind) -> io::Result<Vec<String>> {
        let Some(folder) = kind.folder() else {
            return Ok(vec!["shop".into()]);
        };
        let listed = match self.disk.list(&self.root.join(folder)) {
            Err(why) if why.kind() == io::ErrorKind::NotFound => Vec::new(),
            listed => listed?,
        };
        let names = listed.iter().filter_map(|name| name.strip_suffix(".json"));
        let mut names: Vec<String> =
            names.filter(|name| kind.file(name).is_some()).map(str::to_owned).collect();
        names.sort();
        Ok(names)
    }

    /// The file of that name; `None` where the name is none.
    #[must_use]
    pub fn path(&self, kind: Kind, name: &str) -> Option<PathBuf> {
        let file = kind.file(name)?;
        Some(match kind {
            Kind::Shop => self.shop.clone(),
            _ => self.root.join(file),
        })
    }

    pub(crate) fn disk(&self) -> &D {
        &self.disk
    }

    /// The folder of the book.
    #[must_use]
    pub fn root(&self) -> &Path {
        &self.root
    }
}

impl<D: Disk> Shelf for FolderShelf<D> {
    fn read(&self, kind: Kind, name: &str) -> io::Result<Option<Vec<u8>>> {
        let Some(path) = self.path(kind, name) else {
            return Ok(None);
        };
        match self.disk.read(&path, 0) {
            Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
            read => read.map(Some),
        }
    }

    fn label(&self, kind: Kind, name: &str) -> PathBuf {
        let path = self.path(kind, name);
        path.unwrap_or_else(|| PathBuf::from(name))
    }
}

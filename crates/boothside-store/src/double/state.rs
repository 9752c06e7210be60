//! What the disk in memory holds: as programs see it, and as a power cut would leave it.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};

use super::{Failure, Loss};

/// A file: its bytes as programs see them and as they are on the medium.
#[derive(Debug, Clone, Default)]
pub(super) struct Body {
    pub(super) seen: Vec<u8>,
    pub(super) durable: Vec<u8>,
    /// From here on a failed sync has dropped the bytes: the file shows them, but a later sync
    /// does not save them.
    pub(super) dropped: Option<usize>,
}

#[derive(Debug, Default)]
pub(super) struct State {
    pub(super) files: Vec<Body>,
    pub(super) names: BTreeMap<PathBuf, usize>,
    durable_names: BTreeMap<PathBuf, usize>,
    pub(super) folders: BTreeSet<PathBuf>,
    durable_folders: BTreeSet<PathBuf>,
    pub(super) locked: BTreeSet<PathBuf>,
    pub(super) calls: usize,
    pub(super) planned: BTreeMap<usize, Failure>,
    pub(super) standing: Option<Failure>,
    pub(super) room: Option<usize>,
    /// Counts power cuts, so that files opened before one answer no more.
    pub(super) life: u64,
    without_power: bool,
}

/// Whether a call changes something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Call {
    Looks,
    Changes,
}

impl State {
    /// Counts a call, and says how it is to fail.
    pub(super) fn begin(&mut self, call: Call) -> io::Result<Option<Failure>> {
        let turn = self.calls;
        self.calls += 1;
        if self.without_power {
            return Err(no_power());
        }
        let standing = self.standing.filter(|_| call == Call::Changes);
        let failure = self.planned.remove(&turn).or(standing);
        if matches!(failure, Some(Failure::PowerCut(_))) {
            self.without_power = true;
        }
        Ok(failure)
    }

    /// As `begin`, for a call that has no half.
    pub(super) fn begin_whole(&mut self, call: Call) -> io::Result<()> {
        match self.begin(call)? {
            Some(failure) => Err(failure.into_error()),
            None => Ok(()),
        }
    }

    pub(super) fn find(&self, path: &Path) -> io::Result<usize> {
        let found = self.names.get(path).copied();
        found.ok_or_else(|| io::ErrorKind::NotFound.into())
    }

    pub(super) fn has_folder(&self, folder: &Path) -> bool {
        is_root(folder) || self.folders.contains(folder)
    }

    pub(super) fn body(&mut self, file: usize) -> io::Result<&mut Body> {
        let body = self.files.get_mut(file);
        body.ok_or_else(|| io::ErrorKind::NotFound.into())
    }

    pub(super) fn sync_folder(&mut self, folder: &Path) {
        let same = |a: &Path| a == folder || (is_root(a) && is_root(folder));
        let inside = |path: &Path| same(parent_of(path));
        self.durable_names.retain(|path, _| !inside(path));
        let names = self.names.iter().filter(|(path, _)| inside(path));
        let names = names.map(|(path, file)| (path.clone(), *file));
        self.durable_names.extend(names);
        let folders = self.folders.iter().filter(|path| inside(path));
        self.durable_folders.extend(folders.cloned());
    }

    pub(super) fn crash(&mut self, loss: Loss) {
        for body in &mut self.files {
            body.crash(loss);
        }
        let durable = &self.durable_folders;
        let reachable = |path: &Path| {
            let mut above = path.ancestors().skip(1);
            above.all(|folder| is_root(folder) || durable.contains(folder))
        };
        self.names = self.durable_names.clone();
        self.names.retain(|path, _| reachable(path));
        self.folders = durable.clone();
        self.folders.retain(|path| reachable(path));
        self.locked.clear();
        self.planned.clear();
        self.standing = None;
        self.life += 1;
        self.without_power = false;
    }

    pub(super) fn content(&self, path: &Path) -> Option<Vec<u8>> {
        let file = *self.names.get(path)?;
        Some(self.files.get(file)?.seen.clone())
    }

    pub(super) fn plant(&mut self, path: &Path, bytes: &[u8]) {
        let file = self.files.len();
        self.files.push(Body { seen: bytes.to_vec(), durable: bytes.to_vec(), dropped: None });
        self.names.insert(path.to_owned(), file);
        self.durable_names.insert(path.to_owned(), file);
        for folder in path.ancestors().skip(1).filter(|folder| !is_root(folder)) {
            self.folders.insert(folder.to_owned());
            self.durable_folders.insert(folder.to_owned());
        }
    }
}

impl Body {
    pub(super) fn set_len(&mut self, len: usize) {
        self.seen.truncate(len);
        self.dropped = self.dropped.filter(|from| *from < len);
    }

    pub(super) fn sync(&mut self) {
        self.durable.clone_from(&self.seen);
        if let Some(from) = self.dropped {
            let end = self.durable.len();
            self.durable[from.min(end)..].fill(0);
        }
    }

    /// A failed sync: the bytes count as written and are not.
    pub(super) fn fail_sync(&mut self) {
        let both = self.seen.iter().zip(&self.durable);
        let same = both.take_while(|(a, b)| a == b).count();
        if same < self.seen.len() {
            self.dropped = Some(self.dropped.map_or(same, |from| from.min(same)));
        }
    }

    fn crash(&mut self, loss: Loss) {
        let grown = self.dropped.is_none() && self.seen.starts_with(&self.durable);
        let from = self.durable.len();
        let until = |bytes: usize| self.seen.len().min(from.saturating_add(bytes));
        match loss {
            Loss::Keep(bytes) if grown => {
                let end = until(bytes);
                self.durable.extend_from_slice(&self.seen[from..end]);
            }
            Loss::Zeros(bytes) if grown => {
                let end = until(bytes);
                self.durable.resize(end, 0);
            }
            // cut or written anew since the last sync: the old or the new content
            Loss::Keep(bytes) if bytes > 0 && self.dropped.is_none() => {
                self.durable.clone_from(&self.seen);
            }
            _ => {}
        }
        self.seen.clone_from(&self.durable);
        self.dropped = None;
    }
}

impl Failure {
    pub(super) fn bytes(self) -> usize {
        match self {
            Self::NoSpace(bytes) | Self::Io(bytes) | Self::PowerCut(bytes) => bytes,
        }
    }

    pub(super) fn into_error(self) -> io::Error {
        match self {
            Self::NoSpace(_) => io::ErrorKind::StorageFull.into(),
            Self::Io(_) => io::Error::other("input/output error"),
            Self::PowerCut(_) => no_power(),
        }
    }
}

pub(super) fn parent_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new(""))
}

fn is_root(folder: &Path) -> bool {
    folder.as_os_str().is_empty() || folder == Path::new("/") || folder == Path::new(".")
}

fn no_power() -> io::Error {
    io::Error::other("the power is gone")
}

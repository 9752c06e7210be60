//! The disk in memory as a [`Disk`].

use std::io;
use std::path::Path;

use super::state::{Body, Call, State, parent_of};
use super::{Failure, MemoryDisk, MemoryFile, MemoryLock};
use crate::storage::{Disk, DiskFile};

impl Disk for MemoryDisk {
    type File = MemoryFile;
    type Lock = MemoryLock;

    fn create_new(&self, path: &Path) -> io::Result<MemoryFile> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        if state.names.contains_key(path) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let file = state.new_file(path)?;
        Ok(self.handle(&state, file))
    }

    fn open(&self, path: &Path) -> io::Result<MemoryFile> {
        let mut state = self.state();
        state.begin_whole(Call::Looks)?;
        let file = state.find(path)?;
        Ok(self.handle(&state, file))
    }

    fn read(&self, path: &Path, from: u64) -> io::Result<Vec<u8>> {
        let mut state = self.state();
        state.begin_whole(Call::Looks)?;
        let file = state.find(path)?;
        let from = usize::try_from(from).unwrap_or(usize::MAX);
        let rest = state.body(file)?.seen.get(from..).unwrap_or_default();
        Ok(rest.to_vec())
    }

    fn exists(&self, path: &Path) -> io::Result<bool> {
        let mut state = self.state();
        state.begin_whole(Call::Looks)?;
        Ok(state.names.contains_key(path) || state.has_folder(path))
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        let mut state = self.state();
        state.begin_whole(Call::Looks)?;
        if !state.has_folder(folder) {
            return Err(io::ErrorKind::NotFound.into());
        }
        let inside = state.names.keys().chain(&state.folders);
        let inside = inside.filter(|path| parent_of(path) == folder);
        let names = inside.filter_map(|path| path.file_name()?.to_str().map(str::to_owned));
        Ok(names.collect())
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        if !state.has_folder(parent_of(folder)) {
            return Err(io::ErrorKind::NotFound.into());
        }
        if !state.folders.insert(folder.to_owned()) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        Ok(())
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        state.sync_folder(folder);
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        let file = state.find(from)?;
        state.names.remove(from);
        state.names.insert(to.to_owned(), file);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        state.find(path)?;
        state.names.remove(path);
        Ok(())
    }

    /// It has no links.
    fn check_folder(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }

    /// It has no links.
    fn check_place(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Option<MemoryLock>> {
        let mut state = self.state();
        state.begin_whole(Call::Changes)?;
        if state.locked.contains(path) {
            return Ok(None);
        }
        let file = state.names.get(path).copied();
        let file = file.map_or_else(|| state.new_file(path), Ok)?;
        state.body(file)?.seen = note.as_bytes().to_vec();
        state.locked.insert(path.to_owned());
        Ok(Some(MemoryLock { disk: self.clone(), path: path.to_owned(), life: state.life }))
    }

    fn is_locked(&self, path: &Path) -> io::Result<bool> {
        let mut state = self.state();
        state.begin_whole(Call::Looks)?;
        Ok(state.locked.contains(path))
    }
}

impl MemoryDisk {
    fn handle(&self, state: &State, file: usize) -> MemoryFile {
        MemoryFile { disk: self.clone(), file, life: state.life, broken: false }
    }
}

impl State {
    fn new_file(&mut self, path: &Path) -> io::Result<usize> {
        if !self.has_folder(parent_of(path)) {
            return Err(io::ErrorKind::NotFound.into());
        }
        self.files.push(Body::default());
        let file = self.files.len() - 1;
        self.names.insert(path.to_owned(), file);
        Ok(file)
    }

    /// Appends as much as there is room for.
    fn append(&mut self, file: usize, bytes: &[u8]) -> io::Result<()> {
        let fits = self.room.map_or(bytes.len(), |room| room.min(bytes.len()));
        self.room = self.room.map(|room| room - fits);
        self.body(file)?.seen.extend_from_slice(&bytes[..fits]);
        if fits < bytes.len() {
            return Err(io::ErrorKind::StorageFull.into());
        }
        Ok(())
    }
}

impl MemoryFile {
    fn usable(&self, state: &State) -> io::Result<()> {
        if self.life != state.life {
            return Err(io::Error::other("opened before the power went"));
        }
        if self.broken {
            return Err(io::Error::other("a sync failed on this descriptor"));
        }
        Ok(())
    }
}

impl DiskFile for MemoryFile {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        let mut state = self.disk.state();
        let failure = state.begin(Call::Changes)?;
        self.usable(&state)?;
        let Some(failure) = failure else {
            return state.append(self.file, bytes);
        };
        let written = failure.bytes().min(bytes.len());
        state.append(self.file, &bytes[..written])?;
        Err(failure.into_error())
    }

    fn sync(&mut self) -> io::Result<()> {
        self.disk.wait_at_gate();
        let mut state = self.disk.state();
        let failure = state.begin(Call::Changes)?;
        self.usable(&state)?;
        let Some(failure) = failure else {
            state.body(self.file)?.sync();
            return Ok(());
        };
        if !matches!(failure, Failure::PowerCut(_)) {
            state.body(self.file)?.fail_sync();
            self.broken = true;
        }
        Err(failure.into_error())
    }

    fn set_len(&mut self, len: u64) -> io::Result<()> {
        let mut state = self.disk.state();
        let failure = state.begin(Call::Changes)?;
        self.usable(&state)?;
        if let Some(failure) = failure {
            return Err(failure.into_error());
        }
        let len = usize::try_from(len).unwrap_or(usize::MAX);
        state.body(self.file)?.set_len(len);
        Ok(())
    }

    fn len_at(&self, path: &Path) -> io::Result<Option<u64>> {
        let mut state = self.disk.state();
        state.begin_whole(Call::Looks)?;
        self.usable(&state)?;
        if state.names.get(path) != Some(&self.file) {
            return Ok(None);
        }
        Ok(Some(state.body(self.file)?.seen.len() as u64))
    }
}

impl Drop for MemoryLock {
    fn drop(&mut self) {
        let mut state = self.disk.state();
        if state.life == self.life {
            state.locked.remove(&self.path);
        }
    }
}

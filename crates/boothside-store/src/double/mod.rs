//! A disk in memory for tests: it loses what was not synced, tears a write at any byte, fails any
//! call, fills up, holds a sync back, and does not trust a descriptor after a failed sync.

mod disk;
mod state;

use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};

use state::State;

/// How a call fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Failure {
    /// No space is left; an append has written so many of its bytes.
    NoSpace(usize),
    /// An input or output error; an append has written so many of its bytes. A sync that fails
    /// so has lost what it should have saved, though the file still shows it.
    Io(usize),
    /// The power goes in the middle of the call; an append has written so many of its bytes. From
    /// here on everything fails until [`MemoryDisk::crash`].
    PowerCut(usize),
}

/// What a power cut does to bytes that were written but not synced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    /// All of them are gone.
    All,
    /// So many of them are there.
    Keep(usize),
    /// The file has its new length, but so many bytes of it are zeros.
    Zeros(usize),
}

/// A disk in memory. Clones are the same disk.
#[derive(Debug, Clone, Default)]
pub struct MemoryDisk {
    state: Arc<Mutex<State>>,
    gate: Arc<Gate>,
}

/// A file of a [`MemoryDisk`].
#[derive(Debug)]
pub struct MemoryFile {
    disk: MemoryDisk,
    file: usize,
    life: u64,
    broken: bool,
}

/// A lock on a [`MemoryDisk`].
#[derive(Debug)]
pub struct MemoryLock {
    disk: MemoryDisk,
    path: PathBuf,
    life: u64,
}

#[derive(Debug, Default)]
struct Gate {
    shut: Mutex<bool>,
    opened: Condvar,
}

impl MemoryDisk {
    /// An empty disk with room for everything.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// How many calls were made so far.
    #[must_use]
    pub fn calls(&self) -> usize {
        self.state().calls
    }

    /// Makes call number `call`, counted from 0 over the whole life of the disk, fail.
    pub fn fail(&self, call: usize, failure: Failure) {
        self.state().planned.insert(call, failure);
    }

    /// Makes every call fail that would change something, until `None` is given.
    pub fn fail_all(&self, failure: Option<Failure>) {
        self.state().standing = failure;
    }

    /// Leaves room for so many more bytes; `None` for no limit.
    pub fn leave_room(&self, bytes: Option<usize>) {
        self.state().room = bytes;
    }

    /// Holds every sync of a file back until [`Self::open_gate`].
    pub fn shut_gate(&self) {
        *self.gate.shut.lock().unwrap_or_else(PoisonError::into_inner) = true;
    }

    /// Lets syncs through again.
    pub fn open_gate(&self) {
        *self.gate.shut.lock().unwrap_or_else(PoisonError::into_inner) = false;
        self.gate.opened.notify_all();
    }

    /// The power goes and comes back: what was not synced is lost as `loss` says, locks are
    /// free, files that were open answer no more.
    pub fn crash(&self, loss: Loss) {
        self.state().crash(loss);
    }

    /// What the file holds, synced or not.
    #[must_use]
    pub fn content(&self, path: &Path) -> Option<Vec<u8>> {
        self.state().content(path)
    }

    /// Puts a new file there, durable, in place of what had the name, as another program would.
    pub fn plant(&self, path: &Path, bytes: &[u8]) {
        self.state().plant(path, bytes);
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait_at_gate(&self) {
        let shut = self.gate.shut.lock().unwrap_or_else(PoisonError::into_inner);
        let waited = self.gate.opened.wait_while(shut, |shut| *shut);
        drop(waited.unwrap_or_else(PoisonError::into_inner));
    }
}

//! Keeps half filled forms on disk, beside the painter's typing: the newest of each is written whole, on a thread of
//! its own, so that a slow disk never holds up a key.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

use boothside_store::storage::{Disk, RealDisk};
use boothside_store::{make_folders, save_whole};

use crate::update::scene::Kept;

enum Order {
    /// A file's newest bytes, or that it goes.
    File(u64, PathBuf, Option<Vec<u8>>),
    /// Everything before this is to be done first.
    Flush(Sender<()>),
}

#[derive(Default)]
struct State {
    /// The number of the last order, and of the last with which everything was on the disk.
    sent: u64,
    done: u64,
    refused: Option<String>,
}

/// Keeps half filled forms on disk.
pub struct Keeper {
    tx: Option<Sender<Order>>,
    thread: Option<JoinHandle<()>>,
    state: Arc<Mutex<State>>,
}

/// How long leaving waits for what is still to be kept.
const LAST: Duration = Duration::from_secs(3);

impl Keeper {
    /// A keeper that calls `notify` when something was written or refused.
    #[must_use]
    pub fn start(notify: impl Fn() + Send + 'static) -> Self {
        let (tx, rx) = channel();
        let state = Arc::new(Mutex::new(State::default()));
        let shared = Arc::clone(&state);
        let thread = std::thread::Builder::new()
            .name("keeper".to_owned())
            .spawn(move || run(&rx, &shared, &notify));
        match thread {
            Ok(thread) => Self { tx: Some(tx), thread: Some(thread), state },
            Err(why) => {
                lock(&state).refused = Some(why.to_string());
                Self { tx: None, thread: None, state }
            }
        }
    }

    /// Keeps `bytes` as the whole of the file at `path`.
    pub fn keep(&self, path: &Path, bytes: Vec<u8>) {
        self.order(path, Some(bytes));
    }

    /// Removes the file at `path`.
    pub fn remove(&self, path: &Path) {
        self.order(path, None);
    }

    fn order(&self, path: &Path, bytes: Option<Vec<u8>>) {
        let Some(tx) = &self.tx else { return };
        let mut state = lock(&self.state);
        state.sent += 1;
        let order = Order::File(state.sent, path.to_owned(), bytes);
        drop(state);
        if tx.send(order).is_err() {
            lock(&self.state).refused = Some("the keeper has ended".to_owned());
        }
    }

    /// Whether everything is on the disk.
    #[must_use]
    pub fn kept(&self) -> Kept {
        let state = lock(&self.state);
        match &state.refused {
            Some(why) => Kept::No(why.clone()),
            None if state.done == state.sent => Kept::Yes,
            None => Kept::Soon,
        }
    }

    /// Waits until everything so far was tried, `LAST` at most.
    pub fn flush(&self) {
        let Some(tx) = &self.tx else { return };
        let (done, wait) = channel();
        if tx.send(Order::Flush(done)).is_ok() {
            // where the disk hangs, leaving does not
            let _ = wait.recv_timeout(LAST);
        }
    }
}

impl Drop for Keeper {
    fn drop(&mut self) {
        self.flush();
        self.tx = None;
        if matches!(self.kept(), Kept::Yes | Kept::No(_))
            && let Some(thread) = self.thread.take()
        {
            let _ = thread.join();
        }
    }
}

fn lock(state: &Mutex<State>) -> std::sync::MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

fn run(rx: &Receiver<Order>, state: &Mutex<State>, notify: &impl Fn()) {
    /// After a refusal, how long until the next try.
    const AGAIN: Duration = Duration::from_secs(1);
    let mut desk = Desk::default();
    let mut open = true;
    while open {
        // what was refused is tried again
        let order = if desk.newest.is_empty() {
            rx.recv().map_err(|_| RecvTimeoutError::Disconnected)
        } else {
            rx.recv_timeout(AGAIN)
        };
        match order {
            Ok(order) => desk.take(order),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => open = false,
        }
        while let Ok(order) = rx.try_recv() {
            desk.take(order);
        }
        let refused = write_all(&mut desk.newest);
        let mut state = lock(state);
        state.refused = refused;
        if desk.newest.is_empty() {
            state.done = desk.taken;
        }
        drop(state);
        for done in desk.flushes.drain(..) {
            // nobody may wait any more
            let _ = done.send(());
        }
        notify();
    }
}

/// What the thread has in hand.
#[derive(Default)]
struct Desk {
    newest: BTreeMap<PathBuf, Option<Vec<u8>>>,
    flushes: Vec<Sender<()>>,
    /// The number of the last order taken.
    taken: u64,
}

impl Desk {
    fn take(&mut self, order: Order) {
        match order {
            Order::File(number, path, bytes) => {
                self.newest.insert(path, bytes);
                self.taken = number;
            }
            Order::Flush(done) => self.flushes.push(done),
        }
    }
}

/// Writes what is newest; what the disk refuses stays, and why is returned.
fn write_all(newest: &mut BTreeMap<PathBuf, Option<Vec<u8>>>) -> Option<String> {
    let mut refused = None;
    newest.retain(|path, bytes| match write(path, bytes.as_deref()) {
        Ok(()) => false,
        Err(why) => {
            refused = Some(why);
            true
        }
    });
    refused
}

fn write(path: &Path, bytes: Option<&[u8]>) -> Result<(), String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    match bytes {
        Some(bytes) => {
            make_folders(&RealDisk, folder).map_err(|why| why.to_string())?;
            RealDisk.check_folder(folder).map_err(|why| why.to_string())?;
            save_whole(&RealDisk, path, bytes).map_err(|why| why.to_string())
        }
        None => match RealDisk.remove(path) {
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(()),
            removed => {
                removed.and_then(|()| RealDisk.sync_folder(folder)).map_err(|why| why.to_string())
            }
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_is_kept_and_what_goes_is_gone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("drafts").join("new-sheet.json");
        let keeper = Keeper::start(|| {});
        for text in ["a", "ab", "abc"] {
            keeper.keep(&path, text.into());
        }
        keeper.flush();
        assert_eq!(std::fs::read(&path).unwrap(), b"abc");
        assert_eq!(keeper.kept(), Kept::Yes);
        keeper.remove(&path);
        keeper.flush();
        assert!(!path.exists());
        assert_eq!(keeper.kept(), Kept::Yes);
    }

    #[test]
    fn what_the_disk_refuses_is_said_and_tried_again() {
        let folder = tempfile::tempdir().unwrap();
        // a file where the folder would be
        let blocked = folder.path().join("drafts");
        std::fs::write(&blocked, "in the way").unwrap();
        let path = blocked.join("new-part.json");
        let keeper = Keeper::start(|| {});
        keeper.keep(&path, b"typed".to_vec());
        keeper.flush();
        assert!(matches!(keeper.kept(), Kept::No(why) if why.contains("not saved")));
        std::fs::remove_file(&blocked).unwrap();
        keeper.keep(&path, b"typed more".to_vec());
        keeper.flush();
        assert_eq!(keeper.kept(), Kept::Yes);
        assert_eq!(std::fs::read(&path).unwrap(), b"typed more");
    }
}

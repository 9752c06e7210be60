//! The writer thread: entries go in, and come back as saved only after their own sync.
//!
//! - Entries are saved in the order in which they were sent, each once.
//! - The sender never waits: a slow disk makes the queue longer and nothing else.
//! - While the disk refuses, the queue is kept and tried again: after 250 ms, then each second,
//!   and whenever another entry comes.

mod pending;
#[cfg(test)]
mod tests;
mod thread;

use std::sync::Arc;
use std::sync::mpsc::{self, Receiver, Sender};
use std::time::Duration;

use boothside_core::session::entry::Entry;
use boothside_store::log::LogWriter;
use boothside_store::storage::Disk;

use pending::Pending;

/// What the writer says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Report {
    /// Entry `n` is durable.
    Saved {
        /// Its number.
        n: u64,
    },
    /// The disk refuses.
    Refused {
        /// How many entries are not saved.
        waiting: usize,
        /// Why.
        why: String,
    },
}

/// How long the writer waits between attempts while the disk refuses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// Before the second attempt.
    pub first: Duration,
    /// Before each further one.
    pub then: Duration,
}

impl Default for Pace {
    fn default() -> Self {
        Self { first: Duration::from_millis(250), then: Duration::from_secs(1) }
    }
}

/// The writer could not be started.
#[derive(Debug, thiserror::Error)]
#[error("the writer cannot be started: {0}")]
pub struct NotStarted(#[from] std::io::Error);

/// The hand that gives entries to the writer thread. Dropping it lets the thread try once more
/// to save what waits, unseen; [`Writer::close`] waits for it and tells.
#[derive(Debug)]
pub struct Writer {
    orders: Sender<Order>,
    pending: Arc<Pending>,
    done: Receiver<()>,
}

/// What goes to the thread.
#[derive(Debug)]
pub(crate) enum Order {
    Save(Box<Entry>),
    Close,
}

impl Writer {
    /// Starts the thread on `log`. `report` is called in the thread; it must not wait.
    ///
    /// # Errors
    /// [`NotStarted`] where the system gives no thread.
    pub fn start<D: Disk>(
        log: LogWriter<D>,
        pace: Pace,
        report: impl Fn(Report) + Send + 'static,
    ) -> Result<Self, NotStarted> {
        let (orders, incoming) = mpsc::channel();
        let (finished, done) = mpsc::channel();
        let pending = Arc::new(Pending::default());
        let worker = thread::Worker::new(log, pace, Arc::clone(&pending), report);
        let run = move || {
            worker.run(&incoming);
            // nobody may be waiting for it any more
            let _ = finished.send(());
        };
        std::thread::Builder::new().name("writer".into()).spawn(run)?;
        Ok(Self { orders, pending, done })
    }

    /// Gives an entry to the thread and returns at once.
    pub fn save(&self, entry: Entry) {
        self.pending.add(entry.n);
        // the thread ends only after `close`; were it gone, the entry stays pending and is told
        let _ = self.orders.send(Order::Save(Box::new(entry)));
    }

    /// The numbers of the entries that are not saved yet, in order.
    #[must_use]
    pub fn unsaved(&self) -> Vec<u64> {
        self.pending.list()
    }

    /// Waits until everything is saved, but no longer than `within`. Gives the numbers of the
    /// entries that are not saved; with none the log's lock is free again.
    #[must_use]
    pub fn close(self, within: Duration) -> Vec<u64> {
        let _ = self.orders.send(Order::Close);
        // finished or out of time: what is pending tells which
        let _ = self.done.recv_timeout(within);
        self.pending.list()
    }
}

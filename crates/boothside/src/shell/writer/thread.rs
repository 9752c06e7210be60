//! The thread's side.

use std::collections::VecDeque;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::time::Duration;

use boothside_core::session::entry::Entry;
use boothside_store::log::LogWriter;
use boothside_store::storage::Disk;

use super::pending::Pending;
use super::{Order, Pace, Report};

/// Whether more orders can come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Orders {
    Open,
    /// `close` waits for the queue.
    Closing,
    /// Nobody waits any more.
    Gone,
}

pub(super) struct Worker<D: Disk, R> {
    log: LogWriter<D>,
    pace: Pace,
    pending: Arc<Pending>,
    report: R,
    queue: VecDeque<Entry>,
    orders: Orders,
}

impl<D: Disk, R: Fn(Report)> Worker<D, R> {
    pub(super) fn new(log: LogWriter<D>, pace: Pace, pending: Arc<Pending>, report: R) -> Self {
        let (queue, orders) = (VecDeque::new(), Orders::Open);
        Self { log, pace, pending, report, queue, orders }
    }

    pub(super) fn run(mut self, incoming: &Receiver<Order>) {
        let mut wait = self.pace.first;
        while self.orders == Orders::Open || !self.queue.is_empty() {
            if self.queue.is_empty() {
                self.wait_for_order(incoming);
            }
            while let Ok(order) = incoming.try_recv() {
                self.take(order);
            }
            if self.save_queue() {
                wait = self.pace.first;
                continue;
            }
            if self.orders == Orders::Gone {
                return;
            }
            self.wait_before_retry(incoming, wait);
            wait = self.pace.then;
        }
    }

    fn wait_for_order(&mut self, incoming: &Receiver<Order>) {
        match incoming.recv() {
            Ok(order) => self.take(order),
            Err(_) => self.orders = Orders::Gone,
        }
    }

    fn wait_before_retry(&mut self, incoming: &Receiver<Order>, wait: Duration) {
        match incoming.recv_timeout(wait) {
            Ok(order) => self.take(order),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => self.orders = Orders::Gone,
        }
    }

    fn take(&mut self, order: Order) {
        match order {
            Order::Save(entry) => self.queue.push_back(*entry),
            Order::Close => self.orders = Orders::Closing,
        }
    }

    /// Saves as much of the queue as the disk takes; whether that was all.
    fn save_queue(&mut self) -> bool {
        while let Some(entry) = self.queue.front() {
            if let Err(why) = self.log.append(entry) {
                let waiting = self.pending.count();
                (self.report)(Report::Refused { waiting, why: why.to_string() });
                return false;
            }
            let n = entry.n;
            self.queue.pop_front();
            self.pending.done(n);
            (self.report)(Report::Saved { n });
        }
        true
    }
}

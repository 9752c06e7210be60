//! The way out to the terminal: a thread that writes, so that a terminal which takes nothing holds up
//! neither clocks nor keys.
//!
//! One picture is on its way at a time. While it is, the loop paints none; it is woken when the way is
//! free, and paints what is newest then.

mod line;

use std::io;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::Builder;
use std::time::Duration;

use line::Line;

/// How long what is on its way may take when the terminal is given back.
const GRACE: Duration = Duration::from_millis(500);
/// How long the thread may take to let go of it after that.
const LET_GO: Duration = Duration::from_millis(300);
/// Ends a sequence that was cut in the middle (ECMA-48, 8.3.6, CANCEL).
const CANCEL: u8 = 0x18;
const BELL: u8 = 0x07;

/// What is called when the way is free again.
type Wake = Box<dyn Fn() + Send>;

/// The way out. Clones share it.
#[derive(Clone)]
pub(super) struct Outlet {
    shared: Arc<Shared>,
}

impl std::fmt::Debug for Outlet {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Outlet").finish_non_exhaustive()
    }
}

struct Shared {
    state: Mutex<State>,
    changed: Condvar,
    line: Line,
}

#[derive(Default)]
struct State {
    /// What goes out next.
    next: Vec<u8>,
    /// Whether the bell rings with it.
    bell: bool,
    /// Whether something is on its way.
    writing: bool,
    /// Whether what is on its way is to be dropped.
    cut: bool,
    /// Whether the loop waits for a free way, and what wakes it.
    awaited: bool,
    wake: Option<Wake>,
    /// What the terminal said.
    refused: Option<io::Error>,
    ended: bool,
}

impl Outlet {
    /// Opens the way to the terminal that standard output is.
    ///
    /// # Errors
    /// The system gives no way or no thread.
    pub(super) fn open() -> io::Result<Self> {
        let (state, changed) = (Mutex::new(State::default()), Condvar::new());
        let shared = Arc::new(Shared { state, changed, line: Line::open()? });
        let outlet = Self { shared: Arc::clone(&shared) };
        Builder::new().name("terminal".to_owned()).spawn(move || shared.run())?;
        Ok(outlet)
    }

    /// What is called when the way is free and was asked for while it was not.
    pub(super) fn wake_with(&self, wake: impl Fn() + Send + 'static) {
        self.state().wake = Some(Box::new(wake));
    }

    /// Whether nothing is on its way; if something is, the loop is woken afterwards.
    ///
    /// # Errors
    /// The terminal is gone.
    pub(super) fn is_free(&self) -> io::Result<bool> {
        let mut state = self.state();
        if let Some(why) = &state.refused {
            return Err(io::Error::new(why.kind(), why.to_string()));
        }
        let free = !state.writing && state.next.is_empty();
        state.awaited |= !free;
        Ok(free)
    }

    /// Sends `bytes` after what is on its way, and returns at once.
    pub(super) fn send(&self, bytes: &[u8]) {
        self.state().next.extend_from_slice(bytes);
        self.shared.changed.notify_all();
    }

    /// Rings, once for all the times that the terminal has not taken yet.
    pub(super) fn ring(&self) {
        self.state().bell = true;
        self.shared.changed.notify_all();
    }

    /// Sends `last` and waits until the terminal has taken it; one that takes nothing loses what was
    /// on its way, so that `last` is what it finds first. Whether it took all.
    pub(super) fn finish(&self, last: &[u8]) -> bool {
        self.send(last);
        if self.wait_for(GRACE, State::is_idle) {
            return true;
        }
        let mut state = self.state();
        state.next.clear();
        state.cut = true;
        drop(state);
        self.wait_for(LET_GO, |state| !state.writing);
        self.shared.line.forget();
        self.send(&[&[CANCEL], last].concat());
        self.wait_for(LET_GO, State::is_idle);
        false
    }

    /// Lets the thread end.
    pub(super) fn end(&self) {
        self.state().ended = true;
        self.shared.changed.notify_all();
    }

    fn wait_for(&self, at_most: Duration, done: impl Fn(&State) -> bool) -> bool {
        let state = self.state();
        let waits = |state: &mut State| !done(state) && state.refused.is_none();
        let waited = self.shared.changed.wait_timeout_while(state, at_most, waits);
        done(&waited.unwrap_or_else(PoisonError::into_inner).0)
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.shared.state()
    }
}

impl State {
    fn is_idle(&self) -> bool {
        !self.writing && self.next.is_empty() && !self.bell
    }

    fn take(&mut self) -> Option<Vec<u8>> {
        if self.is_idle() {
            return None;
        }
        let mut bytes = Vec::new();
        // first: nothing may come after what gives the terminal back
        if std::mem::take(&mut self.bell) {
            bytes.push(BELL);
        }
        bytes.append(&mut self.next);
        (self.writing, self.cut) = (true, false);
        Some(bytes)
    }
}

impl Shared {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn run(&self) {
        while let Some(bytes) = self.next() {
            let sent = self.line.write(&bytes, || self.state().cut);
            let mut state = self.state();
            state.writing = false;
            if let Err(why) = sent {
                state.refused = Some(why);
                state.next.clear();
                state.bell = false;
            }
            if std::mem::take(&mut state.awaited)
                && let Some(wake) = &state.wake
            {
                wake();
            }
            drop(state);
            self.changed.notify_all();
        }
    }

    /// Waits for something to send; nothing once the way is closed.
    fn next(&self) -> Option<Vec<u8>> {
        let mut state = self.state();
        loop {
            if let Some(bytes) = state.take() {
                return Some(bytes);
            }
            if state.ended {
                return None;
            }
            state = self.changed.wait(state).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

//! What a panic does: the terminal is given back before it is told.

use std::io::{self, Write};
use std::panic::{PanicHookInfo, set_hook, take_hook};
use std::sync::{Mutex, Once, PoisonError};
use std::thread::{self, ThreadId};

use super::restore;

static INSTALLED: Once = Once::new();
/// The thread that draws.
static DRAWS: Mutex<Option<ThreadId>> = Mutex::new(None);
/// Panics of other threads, told when the terminal is given back.
static HELD_BACK: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// Puts the hook before the one that is there. Works once, whichever way a panic ends the program;
/// notes the calling thread as the one that draws.
pub(super) fn install() {
    *DRAWS.lock().unwrap_or_else(PoisonError::into_inner) = Some(thread::current().id());
    INSTALLED.call_once(|| {
        let before = take_hook();
        set_hook(Box::new(move |info| {
            if ends_the_program() {
                restore();
                before(info);
            } else {
                hold_back(info);
            }
        }));
    });
}

/// A panic of another thread leaves the thread that draws at work: to give the terminal back then would
/// leave the program drawing on the shell's screen.
fn ends_the_program() -> bool {
    let draws = *DRAWS.lock().unwrap_or_else(PoisonError::into_inner);
    cfg!(panic = "abort") || draws.is_none_or(|id| id == thread::current().id())
}

fn hold_back(info: &PanicHookInfo<'_>) {
    let name = thread::current().name().unwrap_or("a thread").to_owned();
    HELD_BACK.lock().unwrap_or_else(PoisonError::into_inner).push(format!("{name}: {info}"));
}

/// Tells on standard error what other threads panicked with, now that it can be read.
pub(super) fn tell_held_back() {
    *DRAWS.lock().unwrap_or_else(PoisonError::into_inner) = None;
    let mut held = HELD_BACK.lock().unwrap_or_else(PoisonError::into_inner);
    for told in held.drain(..) {
        let _ = writeln!(io::stderr(), "{told}");
    }
}

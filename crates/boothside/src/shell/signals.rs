//! What comes in from outside the program: keys, sizes, signals.
//!
//! Threads for the keyboard, for signals and for the terminal's end send to one channel;
//! the loop waits on that channel alone. None of them is ever joined: they end with the program.

#[cfg(unix)]
mod hangup;
mod keyboard;
#[cfg(unix)]
mod keys;

use std::io;
use std::sync::mpsc::Sender;
#[cfg(unix)]
use std::thread::Builder;

use crossterm::event::KeyEvent;

use super::clocks::Look;

/// A signal that concerns the loop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sig {
    /// End: restore the terminal and leave. SIGTERM, SIGINT or SIGQUIT from outside; Ctrl-C at the
    /// keyboard comes as a key.
    End,
    /// The terminal is gone: leave at once, and write nothing to it.
    HungUp,
    /// The program goes on after it was stopped: enter the terminal anew, read the clocks, redraw.
    GoOn,
}

/// A key that was pressed, or is held down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pressed {
    /// The key; its `kind` is always `Press`.
    pub key: KeyEvent,
    /// The clocks when it was read: a loop that is held up must not make it a later key.
    pub at: Look,
}

/// What comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Incoming {
    /// A key.
    Key(Pressed),
    /// A text that was pasted.
    Pasted {
        /// The text as it came.
        text: String,
        /// The clocks when its end was read.
        at: Look,
    },
    /// The terminal has another size: columns, rows.
    Resize(u16, u16),
    /// A signal.
    Signal(Sig),
    /// The terminal can no longer be read, and why. No key will come any more.
    Unreadable(String),
}

/// Begins to send what comes in to `tx`. Call it once, after the terminal was entered.
///
/// When the receiver is gone the threads end at the next thing that comes in.
///
/// # Errors
/// A handler or a thread could not be set up.
pub fn spawn<M>(tx: Sender<M>) -> io::Result<()>
where
    M: From<Incoming> + Send + 'static,
{
    spawn_signals(tx.clone())?;
    #[cfg(unix)]
    hangup::spawn(tx.clone())?;
    keyboard::spawn(tx)
}

#[cfg(unix)]
fn spawn_signals<M>(tx: Sender<M>) -> io::Result<()>
where
    M: From<Incoming> + Send + 'static,
{
    use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGWINCH, SIGXFSZ};

    let all = [SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGWINCH, SIGXFSZ];
    let mut signals = signal_hook::iterator::Signals::new(all)?;
    let heard = move |number| {
        let sig = match number {
            // a file that may grow no further: the write says so as well, and only that counts.
            // Were it not taken here, it would end the program
            SIGXFSZ => return true,
            SIGWINCH => {
                let size = crossterm::terminal::size();
                return size.map_or(true, |(columns, rows)| {
                    tx.send(Incoming::Resize(columns, rows).into()).is_ok()
                });
            }
            SIGHUP => Sig::HungUp,
            SIGCONT => Sig::GoOn,
            _ => Sig::End,
        };
        tx.send(Incoming::Signal(sig).into()).is_ok()
    };
    Builder::new().name("signals".to_owned()).spawn(move || signals.forever().all(heard))?;
    Ok(())
}

/// Systems without these signals end a program on their own.
#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "one signature for all systems")]
#[expect(clippy::needless_pass_by_value, reason = "one signature for all systems")]
fn spawn_signals<M>(_: Sender<M>) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn signals_come_in_within_a_second() {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM};
        let (tx, rx) = std::sync::mpsc::channel::<Incoming>();
        spawn_signals(tx).unwrap();
        let sigs =
            [(SIGTERM, Sig::End), (SIGINT, Sig::End), (SIGHUP, Sig::HungUp), (SIGCONT, Sig::GoOn)];
        for (number, sig) in sigs {
            signal_hook::low_level::raise(number).unwrap();
            let came = rx.recv_timeout(std::time::Duration::from_secs(1));
            assert_eq!(came, Ok(Incoming::Signal(sig)));
        }
    }
}

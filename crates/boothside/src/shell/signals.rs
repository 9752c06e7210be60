//! What comes in from outside the program: keys, sizes, signals.
//!
//! Threads for the terminal's events, for signals and for the terminal's end send to one channel;
//! the loop waits on that channel alone. None of them is ever joined: they end with the program.

#[cfg(unix)]
mod hangup;

use std::io;
use std::sync::mpsc::Sender;
use std::thread::Builder;

use crossterm::event::{self, Event, KeyEvent, KeyEventKind};

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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pressed {
    /// The key; its `kind` is always `Press`.
    pub key: KeyEvent,
    /// Whether the terminal says that it is held down. Most terminals cannot and send presses.
    pub repeat: bool,
}

/// What comes in. Pasted text comes as keys, for bracketed paste is off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Incoming {
    /// A key.
    Key(Pressed),
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
    Builder::new().name("terminal events".to_owned()).spawn(move || send_events(&tx))?;
    Ok(())
}

/// Reads the terminal until it cannot be read or nobody listens.
///
/// crossterm 0.29 does not return, but spins, once its terminal is gone (measured): [`Sig::HungUp`]
/// or the error of the next draw ends the program then.
fn send_events<M: From<Incoming>>(tx: &Sender<M>) {
    loop {
        let incoming = match event::read() {
            Ok(event) => taken(&event),
            Err(error) => Some(Incoming::Unreadable(error.to_string())),
        };
        let last = matches!(incoming, Some(Incoming::Unreadable(_)));
        let unheard = incoming.is_some_and(|incoming| tx.send(incoming.into()).is_err());
        if last || unheard {
            return;
        }
    }
}

/// What of a terminal's event concerns the loop.
fn taken(event: &Event) -> Option<Incoming> {
    match *event {
        Event::Key(key) => pressed(key).map(Incoming::Key),
        Event::Resize(columns, rows) => Some(Incoming::Resize(columns, rows)),
        _ => None,
    }
}

fn pressed(key: KeyEvent) -> Option<Pressed> {
    let repeat = match key.kind {
        KeyEventKind::Press => false,
        KeyEventKind::Repeat => true,
        KeyEventKind::Release => return None,
    };
    let kind = KeyEventKind::Press;
    let key = KeyEvent { kind, ..key };
    Some(Pressed { key, repeat })
}

#[cfg(unix)]
fn spawn_signals<M>(tx: Sender<M>) -> io::Result<()>
where
    M: From<Incoming> + Send + 'static,
{
    use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGXFSZ};

    let all = [SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGXFSZ];
    let mut signals = signal_hook::iterator::Signals::new(all)?;
    let heard = move |number| {
        let sig = match number {
            // a file that may grow no further: the write says so as well, and only that counts.
            // Were it not taken here, it would end the program
            SIGXFSZ => return true,
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
    use crossterm::event::{KeyCode, KeyModifiers};

    fn key(kind: KeyEventKind) -> Event {
        Event::Key(KeyEvent::new_with_kind(KeyCode::Char(' '), KeyModifiers::NONE, kind))
    }

    #[test]
    fn presses_and_repeats_come_in_releases_do_not() {
        let press = KeyEvent::new(KeyCode::Char(' '), KeyModifiers::NONE);
        for (kind, repeat) in [(KeyEventKind::Press, false), (KeyEventKind::Repeat, true)] {
            let expected = Incoming::Key(Pressed { key: press, repeat });
            assert_eq!(taken(&key(kind)), Some(expected));
        }
        assert_eq!(taken(&key(KeyEventKind::Release)), None);
    }

    #[test]
    fn sizes_come_in_and_what_was_not_asked_for_does_not() {
        assert_eq!(taken(&Event::Resize(80, 24)), Some(Incoming::Resize(80, 24)));
        assert_eq!(taken(&Event::FocusGained), None);
        assert_eq!(taken(&Event::Paste("q".to_owned())), None);
    }

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

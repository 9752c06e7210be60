//! Keys, stamped where they are read.

use std::io;
use std::sync::mpsc::Sender;
use std::thread::Builder;

use super::{Incoming, Pressed};
use crate::shell::clocks::{Clocks, MachineClocks};

/// Begins to read the keyboard.
pub(super) fn spawn<M>(tx: Sender<M>) -> io::Result<()>
where
    M: From<Incoming> + Send + 'static,
{
    let clocks = MachineClocks::new();
    let read = move || {
        let why = match system::read(&clocks, &mut |incoming| tx.send(incoming.into()).is_ok()) {
            // nobody listens any more
            Ok(()) => return,
            Err(why) => why,
        };
        let _ = tx.send(Incoming::Unreadable(why.to_string()).into());
    };
    Builder::new().name("keyboard".to_owned()).spawn(read)?;
    Ok(())
}

#[cfg(unix)]
mod system {
    use std::fs::File;
    use std::io::{self, IsTerminal};
    use std::os::fd::{AsFd, BorrowedFd};
    use std::time::Duration;

    use rustix::event::{PollFd, PollFlags, poll};
    use rustix::io::Errno;
    use rustix::time::Timespec;

    use super::super::keys::{Keys, Typed};
    use super::{Clocks, Incoming, MachineClocks, Pressed};

    /// Reads until nobody listens.
    ///
    /// # Errors
    /// The terminal cannot be read: it is gone.
    pub(super) fn read(
        clocks: &MachineClocks,
        heard: &mut dyn FnMut(Incoming) -> bool,
    ) -> io::Result<()> {
        let stdin = io::stdin();
        // keys come from the terminal also where the input is something else
        let terminal = if stdin.is_terminal() { None } else { Some(File::open("/dev/tty")?) };
        let fd = terminal.as_ref().map_or_else(|| stdin.as_fd(), AsFd::as_fd);
        let mut keys = Keys::default();
        let mut buffer = [0_u8; 4096];
        loop {
            let came = wait(fd, keys.until(), || clocks.read().since_boot)?;
            let at = clocks.read();
            let typed = if came {
                match rustix::io::read(fd, &mut buffer) {
                    Ok(0) => return Err(io::ErrorKind::UnexpectedEof.into()),
                    Ok(count) => keys.take(&buffer[..count], at.since_boot),
                    Err(Errno::INTR | Errno::AGAIN) => Vec::new(),
                    Err(why) => return Err(why.into()),
                }
            } else {
                keys.waited(at.since_boot)
            };
            for typed in typed {
                let at = at.clone();
                let incoming = match typed {
                    Typed::Key(key) => Incoming::Key(Pressed { key, at }),
                    Typed::Pasted(text) => Incoming::Pasted { text, at },
                };
                if !heard(incoming) {
                    return Ok(());
                }
            }
        }
    }

    /// Waits for bytes; not longer than until a moment, where one is given.
    fn wait(
        fd: BorrowedFd<'_>,
        until: Option<Duration>,
        now: impl Fn() -> Duration,
    ) -> io::Result<bool> {
        let at_most = until.map(|until| {
            // a millisecond more: the clock is looked at again, and must have reached it
            let left = until.saturating_sub(now()) + Duration::from_millis(1);
            let seconds = i64::try_from(left.as_secs()).unwrap_or(1);
            Timespec { tv_sec: seconds, tv_nsec: left.subsec_nanos().into() }
        });
        let mut fds = [PollFd::from_borrowed_fd(fd, PollFlags::IN)];
        match poll(&mut fds, at_most.as_ref()) {
            Ok(ready) => Ok(ready > 0),
            Err(Errno::INTR) => Ok(false),
            Err(why) => Err(why.into()),
        }
    }
}

#[cfg(not(unix))]
mod system {
    use std::io;

    use crossterm::event::{self, Event, KeyEvent, KeyEventKind};

    use super::{Clocks, Incoming, MachineClocks, Pressed};

    /// Reads until nobody listens.
    ///
    /// # Errors
    /// The terminal cannot be read.
    pub(super) fn read(
        clocks: &MachineClocks,
        heard: &mut dyn FnMut(Incoming) -> bool,
    ) -> io::Result<()> {
        loop {
            let event = event::read()?;
            let at = clocks.read();
            let incoming = match event {
                Event::Key(key) if key.kind != KeyEventKind::Release => {
                    let key = KeyEvent { kind: KeyEventKind::Press, ..key };
                    Incoming::Key(Pressed { key, at })
                }
                Event::Resize(columns, rows) => Incoming::Resize(columns, rows),
                Event::Paste(text) => Incoming::Pasted { text, at },
                _ => continue,
            };
            if !heard(incoming) {
                return Ok(());
            }
        }
    }
}

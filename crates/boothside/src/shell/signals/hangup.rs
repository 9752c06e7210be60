//! A terminal that goes away without a word.
//!
//! SIGHUP goes to those whose controlling terminal it was, and to no one else; the thread that
//! reads events does not return either, but spins (measured: crossterm 0.29). So a third thread
//! asks the system to be woken at the hang-up itself, and sleeps until then.

use std::io;
use std::sync::mpsc::Sender;
use std::thread::Builder;

use rustix::event::{PollFd, PollFlags, poll};

use super::{Incoming, Sig};

/// Begins to wait for the end of the terminal that standard output is.
pub(super) fn spawn<M>(tx: Sender<M>) -> io::Result<()>
where
    M: From<Incoming> + Send + 'static,
{
    let wait = move || {
        if gone() {
            // nobody may be listening any more: the program is leaving
            let _ = tx.send(Incoming::Signal(Sig::HungUp).into());
        }
    };
    Builder::new().name("hang-up".to_owned()).spawn(wait)?;
    Ok(())
}

/// Waits for the hang-up. False where the system cannot tell: then SIGHUP and the next drawing
/// have to do.
fn gone() -> bool {
    let out = io::stdout();
    loop {
        // no event is asked for: a hang-up is told all the same (POSIX.1-2017, poll)
        let mut fds = [PollFd::new(&out, PollFlags::empty())];
        match poll(&mut fds, None) {
            Ok(_) => return fds[0].revents().intersects(PollFlags::HUP | PollFlags::ERR),
            Err(rustix::io::Errno::INTR) => {}
            Err(_) => return false,
        }
    }
}

//! The line to the terminal. It is opened anew where the system allows, so that writing to it can be
//! asked not to wait: the standard output itself is shared with the shell and stays as it is.

use std::io;

#[cfg(unix)]
use rustix::fd::OwnedFd;

/// The line to the terminal.
pub(super) struct Line {
    #[cfg(unix)]
    fd: OwnedFd,
}

/// How long a full line is waited for until it is looked whether what is sent is still wanted.
#[cfg(unix)]
const LOOK_AGAIN: rustix::time::Timespec =
    rustix::time::Timespec { tv_sec: 0, tv_nsec: 100_000_000 };

#[cfg(unix)]
impl Line {
    pub(super) fn open() -> io::Result<Self> {
        let out = io::stdout();
        let fd = match anew(&out) {
            Some(fd) => fd,
            None => rustix::io::dup(&out)?,
        };
        Ok(Self { fd })
    }

    /// Writes all of `bytes`, or stops where `is_cut`.
    pub(super) fn write(&self, bytes: &[u8], is_cut: impl Fn() -> bool) -> io::Result<()> {
        use rustix::io::Errno;
        let mut rest = bytes;
        while !rest.is_empty() {
            match rustix::io::write(&self.fd, rest) {
                Ok(taken) => rest = rest.get(taken..).unwrap_or_default(),
                Err(Errno::INTR) => {}
                Err(Errno::AGAIN) => self.wait()?,
                Err(why) => return Err(why.into()),
            }
            if is_cut() {
                return Ok(());
            }
        }
        Ok(())
    }

    /// Waits until the line has room, or a moment.
    fn wait(&self) -> io::Result<()> {
        use rustix::event::{PollFd, PollFlags, poll};
        let mut fds = [PollFd::new(&self.fd, PollFlags::OUT)];
        match poll(&mut fds, Some(&LOOK_AGAIN)) {
            Ok(_) | Err(rustix::io::Errno::INTR) => Ok(()),
            Err(why) => Err(why.into()),
        }
    }

    /// Drops what the system has not handed to the terminal yet.
    pub(super) fn forget(&self) {
        // where it cannot, the terminal takes it when it goes on
        let _ = rustix::termios::tcflush(&self.fd, rustix::termios::QueueSelector::OFlush);
    }
}

/// The terminal that `out` is, opened so that writing does not wait; nothing where it has no name here,
/// or the name has become another's.
#[cfg(unix)]
fn anew(out: &io::Stdout) -> Option<OwnedFd> {
    use rustix::fs::{Mode, OFlags, fstat, open};
    let name = rustix::termios::ttyname(out, Vec::new()).ok()?;
    let flags = OFlags::WRONLY | OFlags::NOCTTY | OFlags::NONBLOCK | OFlags::CLOEXEC;
    let fd = open(name.as_c_str(), flags, Mode::empty()).ok()?;
    let same = fstat(&fd).ok()?.st_rdev == fstat(out).ok()?.st_rdev;
    same.then_some(fd)
}

#[cfg(not(unix))]
impl Line {
    #[expect(clippy::unnecessary_wraps, reason = "one signature for all systems")]
    pub(super) fn open() -> io::Result<Self> {
        Ok(Self {})
    }

    pub(super) fn write(&self, bytes: &[u8], _: impl Fn() -> bool) -> io::Result<()> {
        use std::io::Write;
        let mut out = io::stdout().lock();
        out.write_all(bytes)?;
        out.flush()
    }

    pub(super) fn forget(&self) {}
}

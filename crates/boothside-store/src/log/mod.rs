//! The log of a session: JSON Lines, one entry a line, each line chained to the one before it.
//!
//! A line is `{"n":…,"t_ms":…,"at":…,"by":…,"events":[…],…,"chain":"…"}`. `chain` is always the
//! last key: SHA-256 in lower-case hex over the previous line's chain (before the first line: 64
//! zeros) followed by this line's bytes up to `,"chain":`. docs/file-formats.md is the page for
//! readers of the files.
//!
//! Rules, each with its reason:
//! - A line is one write and one sync; 'saved' is said after the sync, never before.
//! - Nothing is appended to a file whose end is not known to be the end of a whole line: a half
//!   line with the next glued to it would lose both.
//! - After a failed sync neither the descriptor nor what the file shows is believed: the line is
//!   cut off and written anew.
//! - Only the last piece of a file may be torn, for only it can have been in flight. Everything
//!   else that does not verify is damage, and a damaged file is never written to.
//! - Nothing that this program did not just write is cut before a synced copy lies beside the file.

mod aside;
mod continuation;
mod follow;
mod inspect;
mod line;
mod lock;
mod names;
mod open;
mod scan;
mod strict;
mod writer;

pub use continuation::{ContinueError, Stamp, continue_after};
pub use follow::{Follower, News};
pub use inspect::{Ending, InspectError, Inspection, inspect, logs_in};
pub use line::{MAX_LINE, Unknown, Unwritable, Why};
pub use lock::{Holder, holder, lock_path};
pub use names::{log_name, slug};
pub use open::{Damage, OpenError, Opened, ReadOnly, Recovery, open};
pub use writer::{AppendError, CreateError, LogWriter};

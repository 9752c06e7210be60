//! The clocks of the machine, read here and nowhere else.
//!
//! No single clock will do: one stands still while a laptop sleeps, one is set by network time. Three
//! looked at together tell sleep from a clock that was set ([`session`]).

pub mod hand;
pub mod paced;
pub mod session;
pub mod wall;
mod watch;

use std::sync::OnceLock;
use std::time::{Duration, Instant};

use chrono::{DateTime, FixedOffset, Local};

/// One simultaneous look at the machine's clocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// Since an arbitrary moment, sleep not counted.
    pub awake: Duration,
    /// Since an arbitrary moment that is the same for every program of one start of the machine, sleep
    /// counted.
    pub since_boot: Duration,
    /// The wall's time with its offset.
    pub wall: DateTime<FixedOffset>,
    /// Which start of the machine; empty where it cannot be told.
    pub boot_id: String,
}

/// What can be looked at for the time.
pub trait Clocks: Send {
    /// Looks at all clocks at once.
    fn read(&self) -> Look;
}

/// The clocks of the machine that the program runs on.
///
/// | system | `awake` | `since_boot` | `boot_id` |
/// | --- | --- | --- | --- |
/// | Linux, Android | `CLOCK_MONOTONIC` | `CLOCK_BOOTTIME` | `/proc/sys/kernel/random/boot_id` |
/// | macOS, iOS | `CLOCK_UPTIME_RAW` | `CLOCK_MONOTONIC` | empty |
/// | others | `Instant` | `Instant` | empty |
///
/// Sources: Linux `clock_gettime(2)`, `random(4)`; macOS `clock_gettime(3)`. Where `boot_id` is
/// empty the wall is believed after a restart of the program. On the other systems a sleep that
/// `Instant` does not count looks like a wall that was set forward, and is told as one.
#[derive(Debug, Clone)]
pub struct MachineClocks {
    base: Instant,
    boot_id: String,
}

/// The moment since which `awake` counts: one for all threads, whose looks are compared.
static BASE: OnceLock<Instant> = OnceLock::new();

/// A look that took longer than this was interrupted between two clocks and is taken again.
const ONE_LOOK: Duration = Duration::from_millis(20);

impl MachineClocks {
    /// The clocks of this machine.
    #[must_use]
    #[expect(
        clippy::disallowed_methods,
        reason = "this module is where the machine's clocks are read"
    )]
    pub fn new() -> Self {
        Self { base: *BASE.get_or_init(Instant::now), boot_id: boot_id() }
    }

    #[expect(
        clippy::disallowed_methods,
        reason = "this module is where the machine's clocks are read"
    )]
    fn glance(&self) -> (Look, Duration) {
        let before = since_boot(self.base);
        let look = Look {
            awake: Instant::now().saturating_duration_since(self.base),
            since_boot: before,
            wall: Local::now().fixed_offset(),
            boot_id: self.boot_id.clone(),
        };
        let took = since_boot(self.base).saturating_sub(before);
        (look, took)
    }
}

impl Default for MachineClocks {
    fn default() -> Self {
        Self::new()
    }
}

impl Clocks for MachineClocks {
    /// A lid that closes between two of the readings would look like a clock that was set, there and
    /// back: such a look is taken again, twice at most.
    fn read(&self) -> Look {
        let (mut look, mut took) = self.glance();
        for _ in 0..2 {
            if took <= ONE_LOOK {
                break;
            }
            (look, took) = self.glance();
        }
        look
    }
}

#[cfg(any(target_os = "linux", target_os = "android"))]
fn since_boot(_: Instant) -> Duration {
    of_clock(rustix::time::ClockId::Boottime)
}

#[cfg(any(target_os = "macos", target_os = "ios"))]
fn since_boot(_: Instant) -> Duration {
    of_clock(rustix::time::ClockId::Monotonic)
}

#[cfg(any(target_os = "linux", target_os = "android", target_os = "macos", target_os = "ios"))]
fn of_clock(id: rustix::time::ClockId) -> Duration {
    let time = rustix::time::clock_gettime(id);
    let seconds = u64::try_from(time.tv_sec).unwrap_or(0);
    let nanos = u32::try_from(time.tv_nsec).unwrap_or(0);
    Duration::new(seconds, nanos)
}

#[cfg(not(any(
    target_os = "linux",
    target_os = "android",
    target_os = "macos",
    target_os = "ios"
)))]
#[expect(clippy::disallowed_methods, reason = "this module is where the machine's clocks are read")]
fn since_boot(base: Instant) -> Duration {
    Instant::now().saturating_duration_since(base)
}

#[cfg(any(target_os = "linux", target_os = "android"))]
fn boot_id() -> String {
    std::fs::read_to_string("/proc/sys/kernel/random/boot_id")
        .map(|id| id.trim().to_owned())
        .unwrap_or_default()
}

#[cfg(not(any(target_os = "linux", target_os = "android")))]
fn boot_id() -> String {
    String::new()
}

/// Whole milliseconds of `span`. Saturates.
fn whole_ms(span: Duration) -> i64 {
    i64::try_from(span.as_millis()).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_machine_s_clocks_go_on_together() {
        let clocks = MachineClocks::new();
        let first = clocks.read();
        let (_open, never) = std::sync::mpsc::channel::<()>();
        assert!(never.recv_timeout(Duration::from_millis(30)).is_err());
        let second = clocks.read();
        assert!(second.awake - first.awake >= Duration::from_millis(30));
        assert!(second.since_boot - first.since_boot >= Duration::from_millis(30));
        assert_eq!(first.boot_id, second.boot_id);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn linux_says_which_start_of_the_machine_it_is() {
        let look = MachineClocks::new().read();
        // RFC 9562 text form: 36 characters with four hyphens
        assert_eq!(look.boot_id.len(), 36, "{}", look.boot_id);
        let proc = std::fs::read_to_string("/proc/uptime").unwrap();
        let uptime: f64 = proc.split(' ').next().unwrap().parse().unwrap();
        // proc(5): seconds since boot, sleep counted
        assert!((look.since_boot.as_secs_f64() - uptime).abs() < 5.0);
    }
}

use std::time::Duration;

use boothside_core::session::entry::By;
use boothside_core::session::time::Moment;
use proptest::prelude::*;

use super::super::Clocks;
use super::super::hand::HandClocks;
use super::*;

const MINUTE: i64 = 60_000;
const HOUR: i64 = 60 * MINUTE;
const DAY: i64 = 24 * HOUR;

fn wall(rfc3339: &str) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339(rfc3339).unwrap()
}

fn opened() -> (HandClocks, SessionClock) {
    let clocks = HandClocks::at(wall("2026-05-12T10:00:00-05:00"));
    let clock = SessionClock::open(&clocks.read());
    (clocks, clock)
}

fn minutes(n: u64) -> Duration {
    Duration::from_secs(60 * n)
}

#[test]
fn asleep_47_minutes_is_told_and_counts() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(1));
    clock.tick(&clocks.read());
    clocks.sleep(minutes(47));
    clocks.advance(Duration::from_millis(300));
    let tick = clock.tick(&clocks.read());
    assert_eq!(tick.t_ms, 48 * MINUTE + 300);
    assert_eq!(tick.hand_ms, tick.t_ms);
    let slept = Happened::Slept { from_ms: MINUTE + 300, to_ms: 48 * MINUTE + 300 };
    assert_eq!(tick.happened, [slept]);
    assert_eq!(clock.tick(&clocks.read()).happened, []);
}

#[test]
fn a_wall_that_is_set_is_noted_and_changes_nothing() {
    for by_ms in [HOUR, -HOUR, DAY, -DAY, 2_001, -2_001] {
        let (clocks, mut clock) = opened();
        clocks.advance(minutes(1));
        clocks.jump_wall(by_ms);
        let tick = clock.tick(&clocks.read());
        assert_eq!(tick.t_ms, MINUTE, "{by_ms}");
        // a minute may be slewed by 30 ms: the threshold is 2.03 s
        let told = (by_ms.abs() > 2_030).then_some(Happened::WallJumped { by_ms });
        assert_eq!(tick.happened, told.into_iter().collect::<Vec<_>>());
    }
}

#[test]
fn sleep_and_a_wall_set_back_meanwhile_are_told_apart() {
    let (clocks, mut clock) = opened();
    clocks.sleep(minutes(60));
    clocks.jump_wall(-HOUR);
    let tick = clock.tick(&clocks.read());
    let both = [Happened::Slept { from_ms: 0, to_ms: HOUR }, Happened::WallJumped { by_ms: -HOUR }];
    assert_eq!((tick.t_ms, tick.happened.as_slice()), (HOUR, &both[..]));
}

#[test]
fn slewing_is_not_a_jump() {
    let (clocks, mut clock) = opened();
    for _ in 0..24 {
        clocks.advance(minutes(60));
        clocks.jump_wall(1_800); // 500 ppm of an hour
        assert_eq!(clock.tick(&clocks.read()).happened, []);
    }
    // a whole day without a look: 43.2 s of slewing
    clocks.advance(minutes(60 * 24));
    clocks.jump_wall(43_200);
    assert_eq!(clock.tick(&clocks.read()).happened, []);
}

#[test]
fn a_doze_below_five_seconds_is_not_told() {
    let (clocks, mut clock) = opened();
    for _ in 0..3 {
        clocks.sleep(Duration::from_millis(4_999));
        assert_eq!(clock.tick(&clocks.read()).happened, []);
    }
    clocks.sleep(Duration::from_secs(5));
    assert_eq!(clock.tick(&clocks.read()).happened.len(), 1);
}

#[test]
fn the_night_in_which_summer_time_ends_is_eleven_hours_and_no_jump() {
    // Directive 2000/84/EC: summer time ends on 2026-10-25 at 01:00 UTC
    let clocks = HandClocks::at(wall("2026-10-24T22:00:00+02:00"));
    let mut clock = SessionClock::open(&clocks.read());
    clocks.sleep(minutes(11 * 60));
    let mut look = clocks.read();
    look.wall = wall("2026-10-25T08:00:00+01:00");
    let tick = clock.tick(&look);
    assert_eq!(tick.t_ms, 11 * HOUR);
    assert!(matches!(tick.happened[..], [Happened::Slept { .. }]));
}

#[test]
fn a_restart_within_one_boot_asks_the_clock_that_counts_sleep() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(10));
    clock.tick(&clocks.read());
    let anchor = clock.anchor(&clocks.read());
    clocks.sleep(minutes(30));
    clocks.jump_wall(-DAY);
    let (mut again, how) = SessionClock::resume(&anchor, &clocks.read());
    let wall_jumped_ms = -DAY;
    assert_eq!(how, Resumption::SameBoot { wall_jumped_ms });
    let tick = again.tick(&clocks.read());
    assert_eq!((tick.t_ms, tick.hand_ms), (40 * MINUTE, 0));
    assert_eq!(tick.happened, []);
}

#[test]
fn after_a_reboot_the_wall_is_believed() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(10));
    clock.tick(&clocks.read());
    let anchor = clock.anchor(&clocks.read());
    clocks.reboot(minutes(90), "boot 2");
    let (mut again, how) = SessionClock::resume(&anchor, &clocks.read());
    let elapsed_ms = 90 * MINUTE;
    assert_eq!(how, Resumption::AfterReboot { elapsed_ms });
    clocks.advance(minutes(1));
    assert_eq!(again.tick(&clocks.read()).t_ms, 101 * MINUTE);
}

#[test]
fn one_name_for_two_boots_is_seen_through() {
    let (clocks, clock) = opened();
    let anchor = clock.anchor(&clocks.read());
    clocks.reboot(minutes(90), "boot 1");
    let (_, how) = SessionClock::resume(&anchor, &clocks.read());
    assert_eq!(how, Resumption::AfterReboot { elapsed_ms: 90 * MINUTE });
}

#[test]
fn a_log_without_boot_marks_is_taken_by_the_wall() {
    let (clocks, clock) = opened();
    let mut anchor = clock.anchor(&clocks.read());
    anchor.boot_id.clear();
    clocks.sleep(minutes(5));
    let (_, how) = SessionClock::resume(&anchor, &clocks.read());
    assert_eq!(how, Resumption::BootUnknown { elapsed_ms: 5 * MINUTE });
}

#[test]
fn a_wall_before_the_last_entry_holds_session_time_until_it_is_set_right() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(10));
    clock.tick(&clocks.read());
    let anchor = clock.anchor(&clocks.read());
    clocks.reboot(minutes(90), "boot 2");
    clocks.jump_wall(-10 * DAY);
    let (mut again, how) = SessionClock::resume(&anchor, &clocks.read());
    assert_eq!(how, Resumption::Held { behind_ms: 10 * DAY - 90 * MINUTE });
    assert_eq!(again.tick(&clocks.read()).t_ms, 10 * MINUTE);
    clocks.advance(minutes(1));
    assert_eq!(again.tick(&clocks.read()).t_ms, 11 * MINUTE);
    clocks.jump_wall(10 * DAY);
    let tick = again.tick(&clocks.read());
    let told = [
        Happened::WallJumped { by_ms: 10 * DAY },
        Happened::CaughtUp { from_ms: 11 * MINUTE, to_ms: 101 * MINUTE },
    ];
    assert_eq!(tick.happened, told);
    clocks.advance(minutes(1));
    clocks.jump_wall(DAY);
    let tick = again.tick(&clocks.read());
    assert_eq!(tick.t_ms, 102 * MINUTE);
    assert_eq!(tick.happened, [Happened::WallJumped { by_ms: DAY }]);
}

#[test]
fn a_clock_since_boot_that_goes_back_does_not_take_session_time_with_it() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(10));
    clock.tick(&clocks.read());
    clocks.reboot(Duration::ZERO, "boot 1");
    assert_eq!(clock.tick(&clocks.read()).t_ms, 10 * MINUTE);
    clocks.advance(minutes(1));
    assert_eq!(clock.tick(&clocks.read()).t_ms, 11 * MINUTE);
}

#[test]
fn waits_and_wall_follow_the_last_tick() {
    let (clocks, mut clock) = opened();
    clocks.advance(minutes(10));
    clock.tick(&clocks.read());
    assert_eq!(clock.hand_until(15 * MINUTE), minutes(5));
    assert_eq!(clock.hand_until(10 * MINUTE), Duration::ZERO);
    assert_eq!(clock.hand_until(i64::MIN), Duration::ZERO);
    let ten_minutes_in = clock.stamp().utc_of(10 * MINUTE);
    assert_eq!(ten_minutes_in, wall("2026-05-12T10:10:00-05:00"));
    clocks.jump_wall(HOUR);
    clock.tick(&clocks.read());
    let ten_minutes_in = clock.stamp().utc_of(10 * MINUTE);
    assert_eq!(ten_minutes_in, wall("2026-05-12T11:10:00-05:00"));
}

#[test]
fn an_anchor_survives_the_log() {
    let (clocks, clock) = opened();
    let look = clocks.read();
    let anchor = clock.anchor(&look);
    let json = serde_json::to_string(&anchor).unwrap();
    assert_eq!(
        json,
        r#"{"boot_id":"boot 1","since_boot_ms":3600000,"t_ms":0,"wall":"2026-05-12T10:00:00-05:00"}"#
    );
    assert_eq!(serde_json::from_str::<Anchor>(&json).unwrap(), anchor);
    let mut entry = Entry {
        n: 0,
        t_ms: Moment::OPENING,
        at: "2026-05-12T10:00:00.000-05:00".to_owned(),
        by: By::Key,
        when_ms: None,
        events: Vec::new(),
        breaks: Vec::new(),
        seen: boothside_core::session::entry::Seen::default(),
        anchor: Some(boot_mark(&look)),
    };
    assert_eq!(Anchor::of_entry(&entry).unwrap(), anchor);
    entry.anchor = None;
    assert_eq!(Anchor::of_entry(&entry).unwrap().boot_id, "");
    entry.at = "yesterday".to_owned();
    assert!(Anchor::of_entry(&entry).is_err());
}

#[derive(Debug, Clone)]
enum Fate {
    Advance(u64),
    Sleep(u64),
    Jump(i64),
    Reboot(u64),
    Restart,
}

fn fate() -> impl Strategy<Value = Fate> {
    prop_oneof![
        (0..10_000_000_u64).prop_map(Fate::Advance),
        (0..100_000_000_u64).prop_map(Fate::Sleep),
        (-1_000_000_000..1_000_000_000_i64).prop_map(Fate::Jump),
        (0..100_000_000_u64).prop_map(Fate::Reboot),
        Just(Fate::Restart),
    ]
}

proptest! {
    #[test]
    fn session_time_never_goes_back(fates in prop::collection::vec(fate(), 0..40)) {
        let (clocks, mut clock) = opened();
        let (mut last, mut boots) = (0, 1);
        for fate in fates {
            let anchor = clock.anchor(&clocks.read());
            let restart = matches!(fate, Fate::Reboot(_) | Fate::Restart);
            match fate {
                Fate::Advance(ms) => clocks.advance(Duration::from_millis(ms)),
                Fate::Sleep(ms) => clocks.sleep(Duration::from_millis(ms)),
                Fate::Jump(ms) => clocks.jump_wall(ms),
                Fate::Reboot(ms) => {
                    boots += 1;
                    clocks.reboot(Duration::from_millis(ms), &format!("boot {boots}"));
                }
                Fate::Restart => {}
            }
            if restart {
                clock = SessionClock::resume(&anchor, &clocks.read()).0;
            }
            let tick = clock.tick(&clocks.read());
            prop_assert!(tick.t_ms >= last);
            last = tick.t_ms;
        }
    }

    #[test]
    fn without_restarts_session_time_is_the_time_that_passed(
        fates in prop::collection::vec(fate(), 0..40),
    ) {
        let (clocks, mut clock) = opened();
        let mut passed = 0;
        for fate in fates {
            match fate {
                Fate::Advance(ms) => { clocks.advance(Duration::from_millis(ms)); passed += ms; }
                Fate::Sleep(ms) => { clocks.sleep(Duration::from_millis(ms)); passed += ms; }
                Fate::Jump(ms) => clocks.jump_wall(ms),
                Fate::Reboot(_) | Fate::Restart => {}
            }
            prop_assert_eq!(clock.tick(&clocks.read()).t_ms, i64::try_from(passed).unwrap());
        }
    }
}

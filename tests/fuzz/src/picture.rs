//! A session as the program shows it, whatever its entries say.

use std::time::Duration;

use boothside::shell::clocks::hand::HandClocks;
use boothside::shell::time::Time;
use boothside::update::desk::{Desk, Effect, Now, Pressed};
use boothside::view::{self, theme::Theme};
use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

/// Folds the entries, draws them, lets time pass, and presses keys.
pub(crate) fn look_at(entries: Vec<Entry>) {
    let wall = chrono::DateTime::parse_from_rfc3339("2026-05-12T12:00:00-05:00").expect("a time");
    let clocks = HandClocks::at(wall);
    let (mut time, _) = Time::resume(Box::new(clocks.clone()), &entries);
    let Ok(session) = Session::open(entries) else { return };
    let mut desk = Desk::new(session, &now(&time), None, None, None);
    draw(&desk, &time);
    for key in [' ', 'w', 'u', 'b', '?'] {
        desk.press(Pressed::Char(key), &now(&time));
        clocks.advance(Duration::from_secs(2));
        time.tick();
        let effects = desk.time(&now(&time));
        assert!(!effects.contains(&Effect::Leave));
        draw(&desk, &time);
    }
    clocks.sleep(Duration::from_secs(30 * 86_400));
    time.tick();
    let _ = desk.time(&now(&time));
    draw(&desk, &time);
}

fn now(time: &Time) -> Now<'_> {
    Now { t: time.t, hand_ms: time.hand_ms, times: time }
}

fn draw(desk: &Desk, time: &Time) {
    for (columns, rows) in [(80, 24), (31, 7)] {
        let mut page = Terminal::new(TestBackend::new(columns, rows)).expect("a page");
        let scene = desk.scene(time, time.hand_ms);
        page.draw(|frame| view::draw(frame, &scene, &Theme::new(true))).expect("drawn");
        let buffer = page.backend().buffer();
        let steers = |symbol: &str| symbol.chars().any(char::is_control);
        assert!(!buffer.content().iter().any(|cell| steers(cell.symbol())), "raw on the terminal");
    }
}

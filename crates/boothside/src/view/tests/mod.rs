//! Whole screens, at fixed sizes and times; and every state at every size.

mod bench;
mod log_shots;
mod shots;

use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier};

use super::theme::Theme;
use super::words::Words;
use super::{draw, draw_book};
use crate::update::at_hand::AtHand;
use crate::update::book::list::{Entry, List};
use crate::update::scene::{Notice, Scene, Screen};
use crate::update::table::{Applies, KeyRow, TABLE};
use crate::view::book::RoomScene;
use bench::FixedEye;
use shots::{Shot, all, over_a_due_clock};

const SIZES: [(u16, u16); 3] = [(80, 24), (100, 30), (200, 60)];

fn with_scene(shot: &Shot, show: impl FnOnce(&Scene<'_>)) {
    let board = shot.board();
    let session = shot.rehearsal.is_some();
    let keys: Vec<KeyRow> =
        TABLE.iter().copied().filter(|row| session || row.applies == Applies::Session).collect();
    show(&Scene {
        session: &shot.bench.session,
        board: &board,
        eye: &FixedEye,
        saved: &shot.saved,
        screen: shot.screen,
        glance: shot.glance,
        awake: None,
        chosen: shot.chosen,
        ready_line: None,
        said: shot.bench.said.as_ref().filter(|_| shot.show_said),
        notices: &shot.notices,
        asking: shot.asking.as_ref(),
        form: shot.form.as_ref(),
        picker: shot.picker.as_ref(),
        at_hand: &AtHand::default(),
        offer: &[],
        forgotten: shot.forgotten.then_some(board.forgotten).flatten(),
        log_chosen: shot.log_chosen,
        rehearsal: shot.rehearsal,
        leaving: shot.leaving,
        locked: false,
        keys: &keys,
    });
}

fn drawn(shot: &Shot, width: u16, height: u16, theme: Theme) -> Buffer {
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    with_scene(shot, |scene| {
        terminal.draw(|frame| draw(frame, scene, &theme)).unwrap();
    });
    terminal.backend().buffer().clone()
}

/// The picture as text, with a line under every row that holds reversed cells.
fn text(buffer: &Buffer) -> String {
    let mut lines = Vec::new();
    for y in 0..buffer.area.height {
        let row = (0..buffer.area.width).map(|x| &buffer[(x, y)]);
        let symbols: String = row.clone().map(|cell| cell.symbol()).collect();
        let reversed = |cell: &ratatui::buffer::Cell| cell.modifier.contains(Modifier::REVERSED);
        let marks: String = row.map(|cell| if reversed(cell) { '^' } else { ' ' }).collect();
        lines.push(symbols.trim_end().to_owned());
        if !marks.trim().is_empty() {
            lines.push(marks.trim_end().to_owned());
        }
    }
    lines.join("\n")
}

fn snapshot(name: &str, size: (u16, u16), buffer: &Buffer) {
    let mut settings = insta::Settings::clone_current();
    settings.set_prepend_module_to_snapshot(false);
    settings.set_snapshot_path("../snapshots");
    settings.set_omit_expression(true);
    settings.bind(|| {
        insta::assert_snapshot!(format!("{name}_{}x{}", size.0, size.1), text(buffer));
    });
}

#[test]
fn every_state_looks_as_it_should() {
    for shot in all() {
        for (width, height) in SIZES {
            let buffer = drawn(&shot, width, height, Theme::new(true));
            snapshot(shot.name, (width, height), &buffer);
        }
    }
}

fn book_entries() -> Vec<Entry> {
    vec![
        Entry::GoOn {
            name: "2026-05-11-float-set".into(),
            job: "Float set".into(),
            stands: "begin coat 2: Cuff · left".into(),
            soonest: Some(bench_wall(12.5)),
            read_only: None,
        },
        Entry::GoOn {
            name: "2026-05-02-hatch".into(),
            job: "Hatch".into(),
            stands: "waits until Wed 06:10: all faces may be handled".into(),
            soonest: None,
            read_only: Some("open in another boothside".into()),
        },
        Entry::Example,
        Entry::ExampleRehearsal,
        job("Tail group", None),
        job("Door", Some("no system 'two'")),
        Entry::GoOnAfterDamage {
            name: "2026-03-01-door".into(),
            line: 41,
            byte: 9_312,
            why: "the chain breaks".into(),
        },
        Entry::LookAtDamaged { name: "2026-03-01-door".into() },
        Entry::Past {
            name: "2026-04-02-rudder".into(),
            job: "Rudder".into(),
            opened: "2026-04-02 09:10".into(),
        },
    ]
}

fn job(title: &str, broken: Option<&str>) -> Entry {
    Entry::Thing {
        kind: boothside_store::book::Kind::Job,
        name: title.to_lowercase().replace(' ', "-"),
        title: title.into(),
        about: "2 parts · two-layer".into(),
        retired: false,
        broken: broken.map(str::to_owned),
    }
}

fn bench_wall(hours: f64) -> chrono::DateTime<chrono::FixedOffset> {
    use crate::update::scene::Eye;
    use boothside_core::session::time::{Moment, Span};
    FixedEye.wall(Moment::OPENING.plus(Span::from_seconds(hours * 3600.0)))
}

fn book_drawn(width: u16, height: u16, chosen: usize) -> Buffer {
    let notices = vec![Notice::Torn { file: "2026-05-11.torn".into(), bytes: 118 }];
    let mut list = List::new(book_entries(), notices);
    for _ in 0..chosen {
        list.press(crate::update::desk::Pressed::Down, 0);
    }
    let scene = RoomScene {
        list: &list,
        form: None,
        data: "/home/painter/.local/share/boothside",
        keep_awake: "keep this laptop awake: turn off sleep and the lid switch for the session",
        now: bench_wall(3.0),
    };
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    terminal.draw(|frame| draw_book(frame, &scene, &Theme::new(true))).unwrap();
    terminal.backend().buffer().clone()
}

#[test]
fn the_book_looks_as_it_should() {
    for (width, height) in SIZES {
        snapshot("book", (width, height), &book_drawn(width, height, 0));
    }
}

/// What is written on a screen's bottom line.
fn bottom(shot: &Shot) -> String {
    let buffer = drawn(shot, 80, 24, Theme::new(true));
    (0..80).map(|x| buffer[(x, 23)].symbol().to_owned()).collect()
}

#[test]
fn a_closed_session_names_the_ways_on() {
    let closed = all().into_iter().find(|shot| shot.name == "closed").unwrap();
    let keys = bottom(&closed);
    assert!(keys.contains("8 the book") && keys.contains("q leave"), "{keys}");
}

#[test]
fn nothing_that_the_painter_needs_is_cut_at_the_least_size() {
    let whole = [Screen::Clocks, Screen::Mix, Screen::Ready, Screen::Air, Screen::Film];
    // names longer than most lines are, and a text being typed, are cut where they must be
    let fits = |shot: &Shot| !shot.name.starts_with("sly") && shot.form.is_none();
    for shot in all().into_iter().filter(|shot| fits(shot) && shot.picker.is_none()) {
        for screen in whole {
            let shot = Shot { screen, ..shot.clone() };
            let text = text(&drawn(&shot, 80, 24, Theme::new(true)));
            assert!(!text.contains('…'), "{} {screen:?}:\n{text}", shot.name);
        }
    }
}

#[test]
fn what_is_due_stands_in_a_band_over_the_whole_width() {
    for (name, glance) in [("look_due", false), ("glance_due", true), ("stop_and_clean", false)] {
        let shot = all().into_iter().find(|shot| shot.name == name).unwrap();
        assert_eq!(shot.glance, glance);
        for (width, height) in [(80, 24), (100, 30), (120, 40), (200, 60)] {
            let buffer = drawn(&shot, width, height, Theme::new(false));
            let reversed = |x, y| buffer[(x, y)].modifier.contains(Modifier::REVERSED);
            let rows: Vec<u16> =
                (1..height - 3).filter(|y| (0..width).all(|x| reversed(x, *y))).collect();
            assert!(rows.len() >= 5, "{name} {width}×{height}: {rows:?}");
            assert!(rows.windows(2).all(|two| two[1] == two[0] + 1), "{name}: {rows:?}");
        }
    }
}

/// Every state on every screen, and in the glance.
fn on_every_screen() -> Vec<Shot> {
    let screens = [
        Screen::Clocks,
        Screen::Mix,
        Screen::Ready,
        Screen::Air,
        Screen::Film,
        Screen::Log,
        Screen::Keys,
    ];
    let shots = all().into_iter().chain(over_a_due_clock());
    shots
        .flat_map(|shot| {
            let with = shot.clone();
            let on = screens.into_iter().map(move |screen| Shot { screen, ..with.clone() });
            on.chain([Shot { glance: true, ..shot }])
        })
        .collect()
}

#[test]
fn no_two_texts_share_a_cell() {
    let sizes = [(80, 24), (81, 25), (97, 31), (100, 30), (120, 40), (200, 60)];
    let mut found = std::collections::BTreeSet::new();
    for shot in on_every_screen() {
        let last = shot.bench.session.plan().faces().len() - 1;
        for (width, height) in sizes {
            let least = (width, height) == (80, 24);
            let chosen = if least { &[None, Some(0), Some(last)][..] } else { &[None][..] };
            for chosen in chosen.iter().copied() {
                let shot = Shot { chosen: chosen.or(shot.chosen), ..shot.clone() };
                drawn(&shot, width, height, Theme::new(true));
                let told = super::pen::overlap::take().into_iter();
                let (name, screen) = (shot.name, shot.screen);
                found.extend(told.map(|it| format!("{name} {screen:?} {width}×{height}: {it}")));
            }
        }
    }
    for (width, height) in sizes {
        book_drawn(width, height, 3);
        found.extend(super::pen::overlap::take().into_iter().map(|it| format!("book: {it}")));
    }
    let shown: Vec<&String> = found.iter().take(40).collect();
    assert!(found.is_empty(), "{} texts over others: {shown:#?}", found.len());
}

/// Sizes that between them touch every width and every height.
fn sizes() -> Vec<(u16, u16)> {
    let heights = [0, 1, 2, 7, 23, 24, 25, 31, 60];
    let widths = [0, 1, 3, 17, 79, 80, 81, 97, 200];
    let wide = (0..=200).flat_map(|width| heights.map(|height| (width, height)));
    let high = (0..=60).flat_map(|height| widths.map(|width| (width, height)));
    wide.chain(high).collect()
}

/// Words that would be ambiguous here, and claims that nobody here may make.
const FORBIDDEN: [&str; 16] = [
    "zone",
    "region",
    "batch",
    "blocker",
    "bypass",
    "delete",
    "undo",
    "simulation",
    "demo ",
    "dwell",
    "phase",
    "sufficient",
    "protected",
    "is safe",
    "airworthy",
    "tack coat",
];

#[test]
fn no_picture_uses_a_forbidden_word_or_lets_a_control_character_through() {
    for shot in all() {
        let buffer = drawn(&shot, 200, 60, Theme::new(true));
        let text = text(&buffer).to_lowercase();
        for word in FORBIDDEN {
            assert!(!text.contains(word), "{}: {word}", shot.name);
        }
        let unfit = |c: char| c != '\n' && (c.is_control() || c == '\u{202e}');
        assert!(!text.contains(unfit), "{}", shot.name);
    }
}

#[test]
fn without_colour_no_cell_has_one_and_nothing_ever_blinks() {
    let blinks = Modifier::SLOW_BLINK | Modifier::RAPID_BLINK;
    for shot in all() {
        for colour in [false, true] {
            let buffer = drawn(&shot, 100, 30, Theme::new(colour));
            for cell in &buffer.content {
                assert!(colour || (cell.fg, cell.bg) == (Color::Reset, Color::Reset));
                assert!(!cell.modifier.intersects(blinks));
            }
        }
    }
}

/// The columns of the rows that are reversed in the upper part of the picture.
fn reversed_rows(buffer: &Buffer, rows: std::ops::Range<u16>) -> usize {
    let reversed = |y: &u16| {
        (0..buffer.area.width).any(|x| buffer[(x, *y)].modifier.contains(Modifier::REVERSED))
    };
    rows.filter(reversed).count()
}

#[test]
fn a_question_or_form_never_hides_what_is_due_nor_the_top_line() {
    for shot in over_a_due_clock() {
        for (width, height) in SIZES {
            let buffer = drawn(&shot, width, height, Theme::new(true));
            let text = text(&buffer);
            assert!(text.starts_with(" Float set"), "{text}");
            assert!(reversed_rows(&buffer, 2..12) >= 4, "LOOK is large:\n{text}");
            assert!(text.contains("  ◆ Hatch · "), "{text}");
            let last = text.lines().last().unwrap_or_default();
            assert!(last.contains("Esc"), "how to leave it: {text}");
        }
    }
}

#[test]
fn what_space_does_is_in_sight_in_every_state() {
    for shot in all().into_iter().filter(|shot| shot.form.is_none()) {
        let buffer = drawn(&shot, 80, 24, Theme::new(true));
        let text = text(&buffer);
        let board = shot.board();
        let next = Words::new(&shot.bench.session, &board, &FixedEye).next(&board.next);
        // in a list SPACE types
        let key = if shot.picker.is_some() { " PageDown  " } else { " SPACE  " };
        let line = text.lines().find(|line| line.contains(key)).unwrap_or_default();
        let said: String = next.chars().take(40).collect();
        // on the bench a pour is written by its figure
        let pours = shot.screen == Screen::Mix && line.contains(" shows ");
        let there = line.contains(&said) || !next.is_ascii() && line.len() > 12;
        assert!(there || pours, "{line:?} {next:?}");
    }
}

/// Draws every other state, from this one on: two tests share the cores.
fn draws_at_every_size(from: usize) {
    for shot in all().into_iter().skip(from).step_by(2) {
        for (width, height) in sizes() {
            drawn(&shot, width, height, Theme::new(false));
        }
    }
}

#[test]
fn every_state_draws_at_every_size() {
    draws_at_every_size(0);
}

#[test]
fn every_other_state_draws_at_every_size() {
    draws_at_every_size(1);
}

#[test]
fn the_book_draws_at_every_size() {
    for (width, height) in sizes() {
        book_drawn(width, height, 3);
    }
}

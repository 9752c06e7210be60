//! Whatever is pressed in whatever form: nothing panics at any size, everything can be taken back, and what is saved
//! is sound.

use boothside::book::draft::Draft;
use boothside::book::index::{Entry, Index};
use boothside::update::book::filling::{Filling, Outcome};
use boothside::update::desk::Pressed;
use boothside::update::scene::Kept;
use boothside::view;
use boothside::view::book::RoomScene;
use boothside::view::theme::Theme;
use boothside_store::book::{Kind, check_text};
use chrono::DateTime;
use proptest::prelude::*;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

fn index() -> Index {
    let entry = |name: &str, holds: &[&str]| Entry {
        name: name.into(),
        title: name.to_uppercase(),
        holds: holds.iter().map(|it| ((*it).to_owned(), (*it).to_owned())).collect(),
        ..Entry::default()
    };
    Index::new([
        (Kind::Sheet, vec![entry("primer", &["base", "activator"]), entry("clear", &["base"])]),
        (Kind::Part, vec![entry("fin", &["left", "right"]), entry("hatch", &["top"])]),
        (Kind::System, vec![entry("two-layer", &[])]),
    ])
}

fn key() -> impl Strategy<Value = Pressed> {
    let letters = "abcdeimnrsuvwxy0123456789 .-%<>dq".chars().collect::<Vec<_>>();
    prop_oneof![
        6 => prop::sample::select(letters).prop_map(Pressed::Char),
        6 => Just(Pressed::Enter),
        2 => Just(Pressed::Esc),
        1 => Just(Pressed::Backspace),
        1 => Just(Pressed::Delete),
        2 => Just(Pressed::Up),
        3 => Just(Pressed::Down),
        1 => Just(Pressed::PageUp),
        2 => Just(Pressed::PageDown),
        1 => Just(Pressed::Left),
        1 => Just(Pressed::Right),
        1 => Just(Pressed::Home),
        1 => Just(Pressed::End),
        // words that fit many fields, so that forms come to be saved
        3 => prop::sample::select(vec!['\u{1}', '\u{2}', '\u{3}', '\u{4}']).prop_map(Pressed::Char),
    ]
}

/// A control character stands for a whole word of the script.
fn presses(key: Pressed) -> Vec<Pressed> {
    let word = match key {
        Pressed::Char('\u{1}') => "Primer",
        Pressed::Char('\u{2}') => "15min",
        Pressed::Char('\u{3}') => "1.2m2",
        Pressed::Char('\u{4}') => "20",
        key => return vec![key],
    };
    word.chars().map(Pressed::Char).collect()
}

fn kinds() -> impl Strategy<Value = Kind> {
    prop::sample::select(Kind::ALL.to_vec())
}

fn draw(filling: &Filling, (columns, rows): (u16, u16)) {
    let mut page = Terminal::new(TestBackend::new(columns, rows)).expect("a page");
    let list = boothside::update::book::list::List::new(Vec::new(), Vec::new());
    let scene = RoomScene {
        list: &list,
        form: Some((filling, Kept::No("full".into()))),
        data: "data",
        keep_awake: "awake",
        now: DateTime::parse_from_rfc3339("2026-05-12T09:30:00-05:00").expect("a time"),
    };
    page.draw(|frame| view::draw_book(frame, &scene, &Theme::new(true))).expect("drawn");
}

fn is_sound(kind: Kind, value: &serde_json::Value) -> Result<(), String> {
    let bytes = serde_json::to_vec(value).expect("JSON");
    let told = |why: boothside_store::book::BookError| why.to_string();
    let file = "any.json";
    match kind {
        Kind::Sheet => {
            check_text::<boothside_core::material::sheet::Sheet>(file.into(), &bytes).map(drop)
        }
        Kind::Part => check_text::<boothside_core::work::part::Part>(file.into(), &bytes).map(drop),
        Kind::System => {
            check_text::<boothside_core::work::system::System>(file.into(), &bytes).map(drop)
        }
        Kind::Job => check_text::<boothside_core::work::job::Job>(file.into(), &bytes).map(drop),
        Kind::Shop => check_text::<boothside_core::work::job::Shop>(file.into(), &bytes).map(drop),
        Kind::Can => {
            check_text::<boothside_core::material::can::Can>(file.into(), &bytes).map(drop)
        }
    }
    .map_err(told)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn nothing_panics_everything_can_be_taken_back_and_what_is_saved_is_sound(
        kind in kinds(),
        us in any::<bool>(),
        keys in prop::collection::vec(key(), 0..160),
        size in (0_u16..130, 0_u16..50),
    ) {
        let mut filling = Filling::new(kind, Draft::new(kind.name()), index(), us);
        let before = filling.draft().clone();
        for key in keys.into_iter().flat_map(presses) {
            let outcome = filling.press(key);
            prop_assert!(filling.line().is_some_and(|line| line.takes_focus()), "{key:?}");
            if let Outcome::Save { value, name } = outcome {
                prop_assert!(kind.file(&name).is_some(), "{name}");
                if let Err(why) = is_sound(kind, &value) {
                    prop_assert!(false, "{why}: {value}");
                }
            }
        }
        for size in [size, (80, 24)] {
            draw(&filling, size);
        }
        while filling.is_typing() {
            filling.press(Pressed::Esc);
        }
        for _ in 0..310 {
            filling.press(Pressed::Char('u'));
        }
        prop_assert_eq!(filling.draft(), &before);
    }
}

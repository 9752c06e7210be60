//! A case: where it begins, how large the screen is, what is pressed and how long the hand rests after it.

use boothside::update::desk::Pressed;
use proptest::prelude::*;

use super::starts::{STARTS, Start};

/// A case.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    pub(crate) start: Start,
    pub(crate) which: usize,
    pub(crate) size: (u16, u16),
    pub(crate) steps: Vec<Step>,
}

/// A key, and the pause after it.
#[derive(Debug, Clone)]
pub(crate) struct Step {
    pub(crate) key: Pressed,
    pub(crate) pause_ms: i64,
}

/// Keys that the table knows, in the order of how often a hand presses them.
const LETTERS: &str = "   rrrrddduuuwbtamlyecoxhgfpnvsj+-kq8?KRzé.%/";

fn key() -> impl Strategy<Value = Pressed> {
    let letters: Vec<char> = LETTERS.chars().collect();
    let others = vec![
        Pressed::Backspace,
        Pressed::Delete,
        Pressed::Left,
        Pressed::Right,
        Pressed::Home,
        Pressed::End,
        Pressed::PageDown,
        Pressed::PageUp,
    ];
    prop_oneof![
        12 => prop::sample::select(letters).prop_map(Pressed::Char),
        6 => (b'0'..=b'9').prop_map(|digit| Pressed::Char(char::from(digit))),
        6 => Just(Pressed::Enter),
        3 => Just(Pressed::Up),
        3 => Just(Pressed::Down),
        2 => Just(Pressed::Esc),
        3 => prop::sample::select(others),
    ]
}

/// From one blow of the palm to the length of a face.
fn pause() -> impl Strategy<Value = i64> {
    prop_oneof![
        1 => Just(0),
        1 => 0..150_i64,
        6 => 200..1_000_i64,
        5 => 1_000..3_000_i64,
        2 => 3_000..70_001_i64,
    ]
}

fn size() -> impl Strategy<Value = (u16, u16)> {
    prop_oneof![
        2 => (0..=200_u16, 0..=60_u16),
        2 => (0..=30_u16, 0..=12_u16),
        2 => Just((80, 24)),
    ]
}

/// What a hand presses when it is not sure: the key before taken back, the same key again, an answer to
/// what was not asked. `_` is SPACE, `⏎` is Enter, `^` an arrow up.
const UNSURE: [&str; 16] = [
    "u⏎", "ud", "uw", "uo1", "uo5", "uo8", "ux⏎⏎", "uf", "^u⏎", "r", "rr", "kk", "r1r", "r_", "⏎1",
    "uu",
];

fn steps_of(script: &str) -> Vec<Step> {
    let key = |c| match c {
        '_' => Pressed::Char(' '),
        '⏎' => Pressed::Enter,
        '^' => Pressed::Up,
        c => Pressed::Char(c),
    };
    script.chars().map(|c| Step { key: key(c), pause_ms: 1_100 }).collect()
}

/// Any case: in three of four the hand comes where it does the most harm.
pub(crate) fn any_case() -> impl Strategy<Value = Case> {
    let start = prop_oneof![
        3 => prop::sample::select(STARTS[..7].to_vec()),
        1 => prop::sample::select(STARTS[7..].to_vec()),
    ];
    let step = (key(), pause()).prop_map(|(key, pause_ms)| Step { key, pause_ms });
    let steps = prop::collection::vec(step, 1..60);
    let unsure = prop_oneof![
        1 => Just(Vec::new()),
        1 => prop::sample::select(UNSURE.to_vec()).prop_map(steps_of),
    ];
    (start, 0..60_usize, size(), unsure, steps).prop_map(|(start, which, size, unsure, steps)| {
        Case { start, which, size, steps: [unsure, steps].concat() }
    })
}

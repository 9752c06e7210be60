//! The one table of commands: key, name, what it does. Help, bottom line and docs come from it.

/// What a key does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Do {
    /// The next thing.
    Next,
    /// Act on the chosen face; with none chosen, go on past a wait.
    Act,
    /// Choose the face before.
    Up,
    /// Choose the face after.
    Down,
    /// It has dulled.
    Dulled,
    /// Still wet.
    StillWet,
    /// The rest of this coat is on.
    RestOn,
    /// A reading.
    Reading,
    /// Mix: the bench; there, how much.
    Mix,
    /// The makers' lots.
    Lots,
    /// Seconds in the flow cup.
    FlowCup,
    /// The figures on which the amount rests.
    Rests,
    /// Cup refilled.
    CupFilled,
    /// Other facts of the chosen face.
    OtherFacts,
    /// Pause or go on.
    Pause,
    /// A fault was seen.
    Fault,
    /// What hangs in the booth, what is away, what joins; faces left out.
    Hang,
    /// How the gun is set.
    Gun,
    /// A wet film was read.
    Film,
    /// A note.
    Note,
    /// Take back.
    TakeBack,
    /// A minute earlier.
    Earlier,
    /// The true time of the last key.
    TrueTime,
    /// Mend a figure.
    Figure,
    /// Silence.
    Silence,
    /// The clocks screen.
    Clocks,
    /// The mix screen.
    Bench,
    /// The film screen.
    FilmScreen,
    /// The log screen.
    Log,
    /// The ready screen.
    Ready,
    /// The air screen.
    Air,
    /// All keys.
    Keys,
    /// The book.
    Book,
    /// Leave.
    Leave,
    /// Rehearsal: on to the next due clock.
    JumpOn,
    /// Rehearsal: faster.
    Faster,
    /// Rehearsal: slower.
    Slower,
}

impl Do {
    /// Whether it only looks: it works also where this program writes nothing.
    #[must_use]
    pub const fn only_looks(self) -> bool {
        matches!(
            self,
            Self::Up
                | Self::Down
                | Self::Silence
                | Self::Clocks
                | Self::Bench
                | Self::FilmScreen
                | Self::Log
                | Self::Ready
                | Self::Air
                | Self::Keys
                | Self::Leave
                | Self::Book
                | Self::JumpOn
                | Self::Faster
                | Self::Slower
        )
    }
}

/// A key of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// A printable key.
    Char(char),
    /// Enter.
    Enter,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
}

/// Where a key applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Applies {
    /// In every session.
    Session,
    /// In a rehearsal only.
    Rehearsal,
}

/// One row of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyRow {
    /// What it does.
    pub does: Do,
    /// The key.
    pub key: Key,
    /// Another key that does the same: presenter, pedal.
    pub also: Option<&'static str>,
    /// How the key is shown.
    pub shown: &'static str,
    /// A short name for the bottom line.
    pub short: &'static str,
    /// What it does, in a sentence.
    pub long: &'static str,
    /// Whether a repeat within a second counts again.
    pub repeats: bool,
    /// Where it applies.
    pub applies: Applies,
}

const fn row(
    does: Do,
    key: Key,
    shown: &'static str,
    short: &'static str,
    long: &'static str,
) -> KeyRow {
    KeyRow { does, key, also: None, shown, short, long, repeats: false, applies: Applies::Session }
}

const fn repeating(row: KeyRow) -> KeyRow {
    KeyRow { repeats: true, ..row }
}

const fn also(row: KeyRow, key: &'static str) -> KeyRow {
    KeyRow { also: Some(key), ..row }
}

const fn rehearsal(row: KeyRow) -> KeyRow {
    KeyRow { applies: Applies::Rehearsal, ..row }
}

/// Every key, in the order in which help shows them.
pub const TABLE: &[KeyRow] = &[
    also(
        row(
            Do::Next,
            Key::Char(' '),
            "SPACE",
            "next",
            "does the next thing; the line above says what that is",
        ),
        "PageDown",
    ),
    row(
        Do::Act,
        Key::Enter,
        "Enter",
        "act",
        "acts on the chosen face; with none chosen, goes on past a wait",
    ),
    repeating(row(Do::Up, Key::Up, "↑", "choose", "chooses the face before")),
    repeating(row(Do::Down, Key::Down, "↓", "choose", "chooses the face after")),
    row(Do::Dulled, Key::Char('d'), "d", "dulled", "the face has dulled"),
    row(Do::StillWet, Key::Char('w'), "w", "still wet", "the face is still wet: look again later"),
    row(Do::RestOn, Key::Char('k'), "k", "rest on", "the rest of this coat is on"),
    also(row(Do::TakeBack, Key::Char('u'), "u", "take back", "takes back the last key"), "PageUp"),
    repeating(row(
        Do::Earlier,
        Key::Char('b'),
        "b",
        "minute earlier",
        "the last key happened a minute earlier",
    )),
    row(Do::TrueTime, Key::Char('t'), "t", "true time", "tells when the last key truly happened"),
    row(Do::Reading, Key::Char('a'), "a", "air", "a reading of air and surface"),
    row(Do::Mix, Key::Char('m'), "m", "mix", "what to pour (again: how much)"),
    row(Do::Lots, Key::Char('l'), "l", "lots", "lot numbers and dates"),
    row(Do::FlowCup, Key::Char('y'), "y", "flow cup", "seconds in the flow cup"),
    row(Do::Rests, Key::Char('e'), "e", "rests on", "figures behind the amount"),
    row(Do::CupFilled, Key::Char('c'), "c", "cup", "the gun's cup was filled"),
    row(
        Do::OtherFacts,
        Key::Char('o'),
        "o",
        "other facts",
        "other facts of a face, or on the bench of the pot: wiped, …",
    ),
    row(
        Do::Fault,
        Key::Char('x'),
        "x",
        "fault",
        "a fault was seen: face, fault, what it can come from",
    ),
    row(Do::Hang, Key::Char('h'), "h", "hang", "parts: hang, take away, add; leave a face out"),
    row(Do::Gun, Key::Char('g'), "g", "gun", "how the gun is set, and how it sprays"),
    row(
        Do::Film,
        Key::Char('f'),
        "f",
        "wet film",
        "the wet film of the coat just sprayed was read",
    ),
    row(
        Do::Pause,
        Key::Char('p'),
        "p",
        "pause",
        "why work is interrupted, or back at work; 9 there locks the keys, to wipe them",
    ),
    row(Do::Note, Key::Char('n'), "n", "note", "a note for the record"),
    row(
        Do::Figure,
        Key::Char('v'),
        "v",
        "mend figure",
        "mends a mistyped figure of the sheets; on the bench scale or marks",
    ),
    row(Do::Silence, Key::Char('s'), "s", "silence", "no bell for what is due now"),
    row(Do::Clocks, Key::Char('1'), "1", "clocks", "shows the clocks"),
    row(Do::Bench, Key::Char('2'), "2", "bench", "shows what to pour"),
    row(Do::Ready, Key::Char('3'), "3", "ready", "shows whether everything is ready for the coat"),
    row(
        Do::FilmScreen,
        Key::Char('5'),
        "5",
        "film",
        "shows the film on every face; Enter there tells what was read or weighed",
    ),
    row(Do::Air, Key::Char('6'), "6", "air chart", "shows the air since the sitting began"),
    row(Do::Log, Key::Char('7'), "7", "log", "shows what was written down, newest first"),
    row(Do::Keys, Key::Char('?'), "?", "all keys", "shows all keys"),
    repeating(row(
        Do::Book,
        Key::Char('8'),
        "8",
        "the book",
        "twice: goes to the book; the session stays open and its clocks run on",
    )),
    repeating(row(
        Do::Leave,
        Key::Char('q'),
        "q",
        "leave",
        "twice: leaves; the session stays open and its clocks run on",
    )),
    rehearsal(row(Do::JumpOn, Key::Char('j'), "j", "jump on", "on to the next due clock")),
    repeating(rehearsal(row(
        Do::Faster,
        Key::Char('+'),
        "+",
        "faster",
        "the rehearsal runs faster",
    ))),
    repeating(rehearsal(row(
        Do::Slower,
        Key::Char('-'),
        "-",
        "slower",
        "the rehearsal runs slower",
    ))),
];

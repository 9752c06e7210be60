//! The book's list: pages of what there is, found by typing; a key in, a choice out.

use boothside_store::book::Kind;
use chrono::{DateTime, FixedOffset};

use crate::update::desk::Pressed;
use crate::update::scene::Notice;

/// 'q' twice within this long leaves.
const LEAVE_MS: i64 = 5_000;
/// A repeat of the same key within this long counts once.
const REPEAT_MS: i64 = 1_000;
/// The longest text to find by, in characters.
const LONGEST: usize = 40;

/// A page of the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leaf {
    /// What there is to go on with and to begin.
    Work,
    /// Everything of a kind.
    Of(Kind),
    /// Past sessions.
    Past,
}

/// The pages in order.
pub const LEAVES: [Leaf; 8] = [
    Leaf::Work,
    Leaf::Of(Kind::Sheet),
    Leaf::Of(Kind::Part),
    Leaf::Of(Kind::System),
    Leaf::Of(Kind::Job),
    Leaf::Of(Kind::Can),
    Leaf::Past,
    Leaf::Of(Kind::Shop),
];

/// A line of the book.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// An open session to go on with.
    GoOn {
        /// The session's name.
        name: String,
        /// The job.
        job: String,
        /// Where it stands, in one line of words.
        stands: String,
        /// Its soonest edge by the wall.
        soonest: Option<DateTime<FixedOffset>>,
        /// Why it can only be read, where so.
        read_only: Option<String>,
    },
    /// The example job, for real.
    Example,
    /// The example job, as a rehearsal.
    ExampleRehearsal,
    /// A damaged session: go on in a new file that carries everything before the damage.
    GoOnAfterDamage {
        /// The session's name.
        name: String,
        /// The first damaged line, counted from 1.
        line: u64,
        /// The first damaged byte, counted from 0.
        byte: u64,
        /// What is wrong there.
        why: String,
    },
    /// A damaged session: look at everything before the damage.
    LookAtDamaged {
        /// The session's name.
        name: String,
    },
    /// A past session.
    Past {
        /// The session's name.
        name: String,
        /// The job.
        job: String,
        /// When it was opened.
        opened: String,
    },
    /// A form that is half filled in.
    Half {
        /// What it fills in.
        kind: Kind,
        /// The name of the draft's file.
        file: String,
        /// What it is called so far.
        title: String,
        /// Whether it changes something that is in the book.
        changes: bool,
    },
    /// Something new.
    New(Kind),
    /// Something in the book.
    Thing {
        /// What it is.
        kind: Kind,
        /// The name of its file.
        name: String,
        /// What the painter calls it.
        title: String,
        /// What there is to say of it.
        about: String,
        /// Whether it is retired.
        retired: bool,
        /// What is wrong with its file.
        broken: Option<String>,
    },
    /// The shop's settings.
    Shop {
        /// What there is to say of them.
        about: String,
    },
}

/// What can be done with a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Open it: the session, the form.
    Open,
    /// Begin a session of a job.
    Begin,
    /// Rehearse a job.
    Rehearse,
    /// Change it in its form.
    Change,
    /// A new one like it.
    Copy,
    /// Not for new work any more.
    Retire,
    /// For new work again.
    BringBack,
    /// Throw a half filled form away.
    Drop,
}

impl Act {
    /// What it is called.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Begin => "begin the session",
            Self::Rehearse => "rehearse",
            Self::Change => "change",
            Self::Copy => "copy",
            Self::Retire => "retire: kept, not offered any more",
            Self::BringBack => "bring back",
            Self::Drop => "drop it",
        }
    }
}

/// What the painter chose.
#[derive(Debug, Clone, PartialEq)]
pub enum Chose {
    /// To do something with a line.
    Do(Act, Box<Entry>),
    /// To leave.
    Leave,
}

/// The book's list.
#[derive(Debug, Clone)]
pub struct List {
    entries: Vec<Entry>,
    leaf: usize,
    chosen: usize,
    find: String,
    menu: Option<Vec<Act>>,
    notices: Vec<Notice>,
    leaving: Option<i64>,
    opened: Option<(Pressed, i64)>,
}

impl Entry {
    /// The pages on which it stands.
    #[must_use]
    pub fn stands_on(&self, leaf: Leaf) -> bool {
        match self {
            Self::Past { .. } => leaf == Leaf::Past,
            Self::Thing { kind, .. } | Self::New(kind) if leaf != Leaf::Work => {
                leaf == Leaf::Of(*kind)
            }
            Self::Thing { kind: Kind::Job, retired: false, .. } => true,
            Self::New(kind) => *kind == Kind::Job,
            Self::Thing { .. } => false,
            Self::Half { kind, .. } => leaf == Leaf::Work || leaf == Leaf::Of(*kind),
            Self::Shop { .. } => leaf == Leaf::Of(Kind::Shop),
            _ => leaf == Leaf::Work,
        }
    }

    /// What can be done with it, SPACE's first.
    #[must_use]
    pub fn acts(&self) -> Vec<Act> {
        match self {
            Self::Thing { broken: Some(_), .. } => vec![Act::Open],
            Self::Thing { retired: true, .. } => vec![Act::BringBack, Act::Copy],
            Self::Thing { kind: Kind::Job, .. } => {
                vec![Act::Begin, Act::Rehearse, Act::Change, Act::Copy, Act::Retire]
            }
            Self::Thing { .. } => vec![Act::Change, Act::Copy, Act::Retire],
            Self::Half { .. } => vec![Act::Open, Act::Drop],
            _ => vec![Act::Open],
        }
    }

    /// The words by which it is found.
    #[must_use]
    fn found_by(&self) -> String {
        match self {
            Self::GoOn { job, stands, .. } => format!("{job} {stands}"),
            Self::Past { job, opened, .. } => format!("{job} {opened}"),
            Self::Half { title, .. } => title.clone(),
            Self::Thing { title, about, .. } => format!("{title} {about}"),
            Self::GoOnAfterDamage { name, .. } | Self::LookAtDamaged { name } => name.clone(),
            Self::Example | Self::ExampleRehearsal => "example".to_owned(),
            Self::New(_) | Self::Shop { .. } => String::new(),
        }
    }
}

impl List {
    /// The book with these lines.
    #[must_use]
    pub fn new(entries: Vec<Entry>, notices: Vec<Notice>) -> Self {
        Self {
            entries,
            leaf: 0,
            chosen: 0,
            find: String::new(),
            menu: None,
            notices,
            leaving: None,
            opened: None,
        }
    }

    /// The same page with these lines now, and `on` chosen where it is there.
    pub fn renew(&mut self, entries: Vec<Entry>, on: Option<(Kind, &str)>) {
        self.entries = entries;
        self.menu = None;
        let wanted = on.and_then(|(kind, name)| {
            let is = |entry: &&Entry| matches!(entry, Entry::Thing { kind: k, name: n, .. } if *k == kind && n == name);
            self.shown().iter().position(is)
        });
        self.chosen = wanted.unwrap_or(self.chosen);
        self.hold();
    }

    /// To the page of what there is to go on with, its first line chosen.
    pub fn to_work(&mut self) {
        self.leaf = 0;
        self.chosen = 0;
        self.find.clear();
    }

    /// Where an open session stands now.
    pub fn refresh(&mut self, now: &Entry) {
        let Entry::GoOn { name, .. } = now else { return };
        let same = |entry: &&mut Entry| matches!(entry, Entry::GoOn { name: it, .. } if it == name);
        if let Some(entry) = self.entries.iter_mut().find(same) {
            entry.clone_from(now);
        }
    }

    /// Tells something.
    pub fn tell(&mut self, notice: Notice) {
        self.notices = vec![notice];
    }

    /// Notices, newest last.
    #[must_use]
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// The page shown.
    #[must_use]
    pub fn leaf(&self) -> Leaf {
        LEAVES[self.leaf.min(LEAVES.len() - 1)]
    }

    /// The soonest edge of each session that is open and not held by another program, by its job.
    #[must_use]
    pub fn edges(&self) -> Vec<(&str, DateTime<FixedOffset>)> {
        let mut edges = Vec::new();
        for entry in &self.entries {
            if let Entry::GoOn { job, soonest: Some(at), read_only: None, .. } = entry {
                edges.push((job.as_str(), *at));
            }
        }
        edges
    }

    /// What was typed to find something.
    #[must_use]
    pub fn find(&self) -> &str {
        &self.find
    }

    /// The chosen line's number among those shown.
    #[must_use]
    pub const fn chosen(&self) -> usize {
        self.chosen
    }

    /// The acts to choose among by a digit, where that is asked.
    #[must_use]
    pub fn menu(&self) -> Option<&[Act]> {
        self.menu.as_deref()
    }

    /// Whether one more `q` leaves.
    #[must_use]
    pub const fn is_leaving(&self) -> bool {
        self.leaving.is_some()
    }

    /// The lines of a page that fit what was typed.
    #[must_use]
    pub fn on(&self, leaf: Leaf) -> Vec<&Entry> {
        let find = self.find.to_lowercase();
        let fits = |entry: &&Entry| {
            let by = entry.found_by().to_lowercase();
            entry.stands_on(leaf) && find.split_whitespace().all(|word| by.contains(word))
        };
        self.entries.iter().filter(fits).collect()
    }

    /// The lines shown.
    #[must_use]
    pub fn shown(&self) -> Vec<&Entry> {
        self.on(self.leaf())
    }

    fn here(&self) -> Option<&Entry> {
        self.shown().get(self.chosen).copied()
    }

    fn hold(&mut self) {
        self.chosen = self.chosen.min(self.shown().len().saturating_sub(1));
    }

    /// A key at `hand_ms` of the hand's time.
    pub fn press(&mut self, key: Pressed, hand_ms: i64) -> Option<Chose> {
        let leaving = self.leaving.take().filter(|since| hand_ms - since < LEAVE_MS);
        if let Some(menu) = self.menu.take() {
            return self.answer(&menu, key);
        }
        match key {
            Pressed::Up | Pressed::PageUp => self.chosen = self.chosen.saturating_sub(1),
            Pressed::Down => {
                self.chosen += 1;
                self.hold();
            }
            Pressed::Left => self.turn(-1),
            Pressed::Right => self.turn(1),
            Pressed::Char(' ') | Pressed::PageDown => return self.open(key, hand_ms),
            Pressed::Enter => return self.ask(key, hand_ms),
            Pressed::Backspace | Pressed::Delete => {
                self.find.pop();
                self.hold();
            }
            Pressed::Esc => self.find.clear(),
            Pressed::Char('q' | 'Q') if leaving.is_some() => return Some(Chose::Leave),
            Pressed::Char('q' | 'Q') if self.find.is_empty() => self.leaving = Some(hand_ms),
            Pressed::Char('+') => return self.new_one(),
            Pressed::Char(c) => {
                // a search may begin with the letter that would have left
                let first = if leaving.is_some() { "q" } else { "" };
                self.type_to_find(first, c);
            }
            Pressed::Home | Pressed::End => {}
        }
        None
    }

    fn turn(&mut self, by: isize) {
        let count = LEAVES.len() as isize;
        self.leaf = (self.leaf as isize + by).rem_euclid(count).unsigned_abs();
        self.chosen = 0;
    }

    fn type_to_find(&mut self, first: &str, c: char) {
        if !c.is_control() && self.find.chars().count() < LONGEST {
            self.find.push_str(first);
            self.find.push(c);
            self.chosen = 0;
            self.notices.clear();
        }
    }

    fn counts(&mut self, key: Pressed, hand_ms: i64) -> bool {
        let again = |(last, last_ms)| last == key && hand_ms - last_ms < REPEAT_MS;
        let repeated = self.opened.is_some_and(again);
        self.opened = Some((key, hand_ms));
        !repeated
    }

    fn open(&mut self, key: Pressed, hand_ms: i64) -> Option<Chose> {
        let counts = self.counts(key, hand_ms);
        let entry = self.here().filter(|_| counts)?;
        let act = entry.acts().first().copied()?;
        Some(Chose::Do(act, Box::new(entry.clone())))
    }

    /// Enter asks where there is more than one thing to do.
    fn ask(&mut self, key: Pressed, hand_ms: i64) -> Option<Chose> {
        let acts = self.here().map(Entry::acts)?;
        if acts.len() > 1 {
            self.menu = Some(acts);
            return None;
        }
        self.open(key, hand_ms)
    }

    fn answer(&mut self, menu: &[Act], key: Pressed) -> Option<Chose> {
        let digit = match key {
            Pressed::Char(c) => c.to_digit(10).map(|digit| digit as usize),
            Pressed::Enter => Some(1),
            _ => None,
        };
        let act = digit.and_then(|digit| menu.get(digit.checked_sub(1)?)).copied()?;
        let entry = self.here()?.clone();
        Some(Chose::Do(act, Box::new(entry)))
    }

    fn new_one(&mut self) -> Option<Chose> {
        let kind = match self.leaf() {
            Leaf::Of(Kind::Shop) | Leaf::Past => return None,
            Leaf::Of(kind) => kind,
            Leaf::Work => Kind::Job,
        };
        self.find.clear();
        Some(Chose::Do(Act::Open, Box::new(Entry::New(kind))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thing(kind: Kind, title: &str) -> Entry {
        Entry::Thing {
            kind,
            name: title.to_lowercase(),
            title: title.into(),
            about: String::new(),
            retired: false,
            broken: None,
        }
    }

    fn chose(act: Act, entry: Entry) -> Option<Chose> {
        Some(Chose::Do(act, Box::new(entry)))
    }

    #[test]
    fn arrows_choose_space_opens_and_q_twice_leaves() {
        let mut list = List::new(vec![Entry::Example, Entry::ExampleRehearsal], Vec::new());
        assert_eq!(list.press(Pressed::Down, 0), None);
        assert_eq!(list.press(Pressed::Down, 10), None);
        let rehearsal = chose(Act::Open, Entry::ExampleRehearsal);
        assert_eq!(list.press(Pressed::Char(' '), 20), rehearsal);
        assert_eq!(list.press(Pressed::Char(' '), 900), None, "a repeat counts once");
        assert_eq!(list.press(Pressed::Up, 2_000), None);
        assert_eq!(list.press(Pressed::Enter, 2_010), chose(Act::Open, Entry::Example));
        assert_eq!(list.press(Pressed::Char('q'), 3_000), None);
        assert_eq!(list.press(Pressed::Char('q'), 9_000), None, "too late: once again");
        assert_eq!(list.press(Pressed::Char('q'), 9_500), Some(Chose::Leave));
    }

    #[test]
    fn typing_finds_on_the_page_and_enter_asks_what_to_do() {
        let entries = vec![
            thing(Kind::Sheet, "Grey primer"),
            thing(Kind::Sheet, "Quick blue"),
            thing(Kind::Part, "Rudder"),
        ];
        let mut list = List::new(entries, Vec::new());
        list.press(Pressed::Right, 0);
        assert_eq!(list.leaf(), Leaf::Of(Kind::Sheet));
        assert_eq!(list.shown().len(), 2);
        for (key, at) in [('q', 10), ('u', 20)] {
            assert_eq!(list.press(Pressed::Char(key), at), None);
        }
        assert_eq!(list.find(), "qu");
        assert_eq!(list.press(Pressed::Enter, 30), None);
        assert_eq!(list.menu().map(<[Act]>::len), Some(3));
        assert_eq!(
            list.press(Pressed::Char('2'), 40),
            chose(Act::Copy, thing(Kind::Sheet, "Quick blue"))
        );
        assert_eq!(list.on(Leaf::Of(Kind::Part)).len(), 0, "the other pages are searched as well");
        list.press(Pressed::Esc, 50);
        assert_eq!(list.on(Leaf::Of(Kind::Part)).len(), 1);
        assert_eq!(list.press(Pressed::Char('+'), 60), chose(Act::Open, Entry::New(Kind::Sheet)));
    }
}

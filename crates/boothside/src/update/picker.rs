//! Picking from a list: type to find, arrows choose, Enter takes.

use boothside_core::board::mixing::layer_on_bench;
use boothside_core::session::Session;
use boothside_core::session::stock::{SeenCan, cans_of};
use boothside_core::work::film_fault::{FilmFault, find_film_faults};

use super::at_hand::AtHand;

/// What is picked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Picking {
    /// The face on which a fault was seen.
    Face,
    /// The fault seen on a face.
    Fault {
        /// The face's number.
        face: usize,
    },
    /// A part that hangs, is away or joins.
    Part,
    /// The can from which a component is poured.
    Can,
    /// What becomes of a part or of its faces.
    Hanging {
        /// The part's place among the job's.
        part: usize,
    },
}

/// A part to pick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartRow {
    /// A part of the job, by its place among them.
    OfJob(usize),
    /// A part of the Book that can join, by its place there.
    OfBook(usize),
}

/// What can become of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hanging {
    /// All of it: it hangs or is taken away.
    Part {
        /// Its name in the job.
        part: String,
        /// Whether it is away.
        away: bool,
    },
    /// One of its faces: it is left out or taken in again.
    Face {
        /// The face's number.
        face: usize,
        /// Whether it is left out.
        left: bool,
    },
}

/// A can to take for a component.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CanChoice<'a> {
    /// The component (from 0) of the sheet on the bench.
    pub component: usize,
    /// Its name.
    pub name: &'a str,
    /// The can; nothing for one that is not on the shelf.
    pub can: Option<&'a SeenCan>,
}

impl CanChoice<'_> {
    /// The can's name, or that it is another one.
    #[must_use]
    pub fn title(&self) -> &str {
        self.can.map_or("one not on the shelf", |can| &can.name)
    }
}

/// A list being picked from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picker {
    /// What is picked.
    pub picking: Picking,
    /// What was typed to find it.
    pub typed: String,
    /// The place in the list that is chosen.
    pub at: usize,
}

/// The longest text to find by, in characters.
const LONGEST: usize = 40;

impl Picker {
    /// A picker with nothing typed.
    #[must_use]
    pub const fn new(picking: Picking, at: usize) -> Self {
        Self { picking, typed: String::new(), at }
    }

    /// The faces that fit what was typed, by number.
    #[must_use]
    pub fn faces(&self, session: &Session) -> Vec<usize> {
        let faces = session.plan().faces().iter().enumerate();
        let fitting = faces.filter(|(_, face)| self.fits(&format!("{} {}", face.part, face.face)));
        fitting.map(|(number, _)| number).collect()
    }

    fn fits(&self, name: &str) -> bool {
        let (typed, name) = (self.typed.to_lowercase(), name.to_lowercase());
        typed.split_whitespace().all(|word| name.contains(word))
    }

    /// The parts that fit what was typed: the job's, then those of the Book that can join.
    #[must_use]
    pub fn parts(&self, session: &Session, at_hand: &AtHand) -> Vec<PartRow> {
        let work = &session.state().work;
        let named = |name: &String| work.parts.get(name).map(|part| part.name.as_str());
        let of_job = work.job.parts.iter().enumerate();
        let of_job = of_job.filter(|(_, name)| named(name).is_some_and(|name| self.fits(name)));
        let of_book = at_hand.parts.iter().enumerate();
        let of_book = of_book
            .filter(|(_, (name, part))| !work.parts.contains_key(name) && self.fits(&part.name));
        let of_job = of_job.map(|(row, _)| PartRow::OfJob(row));
        of_job.chain(of_book.map(|(row, _)| PartRow::OfBook(row))).collect()
    }

    /// What can become of the part being looked into, of what fits what was typed.
    #[must_use]
    pub fn hanging(&self, session: &Session) -> Vec<Hanging> {
        let Picking::Hanging { part } = self.picking else { return Vec::new() };
        let (state, plan) = (session.state(), session.plan());
        let Some(part) = state.work.job.parts.get(part) else { return Vec::new() };
        let faces = plan.of_part(part);
        let away = faces.iter().any(|face| state.faces[*face].place.away);
        let name = state.work.parts.get(part).map_or("", |part| &part.name);
        let whole = Hanging::Part { part: part.clone(), away };
        let whole = Some(whole).filter(|_| self.fits(name)).into_iter();
        let faces = faces.into_iter().filter(|face| self.fits(&plan.faces()[*face].face));
        let left = |face: usize| state.faces[face].place.left;
        whole.chain(faces.map(|face| Hanging::Face { face, left: left(face) })).collect()
    }

    /// The faults that fit what was typed, nearest first.
    #[must_use]
    pub fn faults(&self) -> Vec<&'static FilmFault> {
        find_film_faults(&self.typed)
    }

    /// The cans that fit what was typed, by component; of each one that is not on the shelf last.
    #[must_use]
    pub fn cans<'a>(&self, session: &'a Session) -> Vec<CanChoice<'a>> {
        let state = session.state();
        let layer = layer_on_bench(state);
        let components = state.sheet(layer).map_or(&[][..], |sheet| &sheet.mix.components);
        let typed = self.typed.to_lowercase();
        let mut choices = Vec::new();
        for (component, named) in components.iter().enumerate() {
            let kept = cans_of(state, layer, &named.name);
            let other = (!kept.is_empty()).then_some(None);
            let cans = kept.into_iter().map(Some).chain(other);
            choices.extend(cans.map(|can| CanChoice { component, name: &named.name, can }));
        }
        choices.retain(|choice| {
            let name = format!("{} {}", choice.name, choice.title()).to_lowercase();
            typed.split_whitespace().all(|word| name.contains(word))
        });
        choices
    }

    /// How many there are to choose among.
    #[must_use]
    pub fn count(&self, session: &Session, at_hand: &AtHand) -> usize {
        match self.picking {
            Picking::Face => self.faces(session).len(),
            Picking::Fault { .. } => self.faults().len(),
            Picking::Part => self.parts(session, at_hand).len(),
            Picking::Hanging { .. } => self.hanging(session).len(),
            Picking::Can => self.cans(session).len(),
        }
    }

    /// Types a character; the nearest fitting is chosen.
    pub fn type_char(&mut self, c: char) {
        if !c.is_control() && self.typed.chars().count() < LONGEST {
            self.typed.push(c);
            self.at = 0;
        }
    }

    /// Takes the last character back; whether there was one.
    pub fn backspace(&mut self) -> bool {
        self.at = 0;
        self.typed.pop().is_some()
    }

    /// Moves the choice, held at the ends.
    pub fn move_by(&mut self, by: isize, session: &Session, at_hand: &AtHand) {
        let last = self.count(session, at_hand).saturating_sub(1);
        self.at = self.at.saturating_add_signed(by).min(last);
    }
}

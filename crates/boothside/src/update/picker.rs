//! Picking from a list: type to find, arrows choose, Enter takes.

use boothside_core::session::Session;
use boothside_core::work::film_fault::{FilmFault, find_film_faults};

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
        let typed = self.typed.to_lowercase();
        let fits = |name: &str| {
            let name = name.to_lowercase();
            typed.split_whitespace().all(|word| name.contains(word))
        };
        let faces = session.plan().faces().iter().enumerate();
        let fitting = faces.filter(|(_, face)| fits(&format!("{} {}", face.part, face.face)));
        fitting.map(|(number, _)| number).collect()
    }

    /// The faults that fit what was typed, nearest first.
    #[must_use]
    pub fn faults(&self) -> Vec<&'static FilmFault> {
        find_film_faults(&self.typed)
    }

    /// How many there are to choose among.
    #[must_use]
    pub fn count(&self, session: &Session) -> usize {
        match self.picking {
            Picking::Face => self.faces(session).len(),
            Picking::Fault { .. } => self.faults().len(),
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
    pub fn move_by(&mut self, by: isize, session: &Session) {
        let last = self.count(session).saturating_sub(1);
        self.at = self.at.saturating_add_signed(by).min(last);
    }
}

//! Instants, numbers and enums as plain English. The same word for the same thing
//! everywhere.

pub mod booth;
pub mod can;
pub mod choice;
pub mod event;
pub mod fault;
pub mod field;
pub mod figure;
pub mod film;
pub mod forgotten;
pub mod gun;
pub mod hero;
pub mod history;
pub mod hold;
pub mod large;
pub mod mix;
pub mod name;
pub mod next;
pub mod notice;
pub mod readiness;
pub mod ready;
pub mod stage;
pub mod state;
pub mod time;

use boothside_core::board::Board;
use boothside_core::session::Session;
use boothside_core::session::time::{Moment, Span};

use crate::update::scene::{Eye, Scene, Screen};
use figure::Figures;

/// What words are made with: the session's names, its board, the wall's time, the shop's units.
#[derive(Clone, Copy)]
pub struct Words<'a> {
    /// The session.
    pub session: &'a Session,
    /// The board at the moment spoken of.
    pub board: &'a Board,
    eye: &'a dyn Eye,
    /// Whether they stand on the bench, where a pour is written by its figure.
    at_bench: bool,
    /// How long the machine slept, until a key answers.
    awake: Option<Span>,
}

impl<'a> Words<'a> {
    /// The words for what `board` shows of `session`.
    #[must_use]
    pub fn new(session: &'a Session, board: &'a Board, eye: &'a dyn Eye) -> Self {
        Self { session, board, eye, at_bench: false, awake: None }
    }

    /// The words for a scene.
    #[must_use]
    pub fn of(scene: &Scene<'a>) -> Self {
        let at_bench = scene.screen == Screen::Mix;
        let words = Self::new(scene.session, scene.board, scene.eye);
        Self { at_bench, awake: scene.awake, ..words }
    }

    /// The moment spoken of.
    #[must_use]
    pub const fn now(&self) -> Moment {
        self.board.now
    }

    /// Figures in the shop's units.
    #[must_use]
    pub fn figures(&self) -> Figures {
        Figures::new(self.session.state().work.shop.units)
    }
}

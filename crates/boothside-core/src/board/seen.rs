//! What the screen showed, for the entry that a key makes.

use super::Board;
use crate::session::Session;
use crate::session::clocks::Due;
use crate::session::entry::{Seen, SeenDue};

impl Board {
    /// The due times on this board, for the entry that a key makes.
    #[must_use]
    pub fn seen(&self, session: &Session) -> Seen {
        let mut due = Vec::new();
        let mut add = |of: &str, edge: &str, clock: Option<Due>| {
            if let Some(due_ms) = clock.and_then(|clock| clock.moment()) {
                due.push(SeenDue { of: of.to_owned(), edge: edge.to_owned(), due_ms });
            }
        };
        for (face, planned) in self.faces.iter().zip(session.plan().faces()) {
            if face.at.next.is_none() {
                continue;
            }
            add(&planned.id, "look", face.at.look);
            add(&planned.id, "opens", face.at.opens);
            add(&planned.id, "open-until", face.at.open_until);
            add(&planned.id, "wipe-until", face.at.wipe_until);
        }
        for pot in &self.pots {
            add(&format!("pot {}", pot.at.id), "dead", pot.at.dead);
        }
        Seen { due, holds: Vec::new() }
    }
}

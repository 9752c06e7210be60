//! Taking back inside a form. What was typed into one field in one go is one step.

use crate::book::draft::Draft;

/// A form as it was, and where the painter stood in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Step {
    /// The form.
    pub(super) draft: Draft,
    /// The field's place.
    pub(super) path: String,
}

/// What can be taken back, and brought again.
#[derive(Debug, Clone, Default)]
pub(super) struct Undo {
    back: Vec<Step>,
    again: Vec<Step>,
    /// The field that is being typed into: its next character is no step of its own.
    open: Option<String>,
}

/// Steps kept: more than a form has fields.
const MOST: usize = 300;

impl Undo {
    /// Notes how things are before `path` is changed; `typing` goes on with the step that is open.
    pub(super) fn before(&mut self, draft: &Draft, path: &str, typing: bool) {
        self.again.clear();
        if typing && self.open.as_deref() == Some(path) {
            return;
        }
        self.open = typing.then(|| path.to_owned());
        if self.back.len() >= MOST {
            self.back.remove(0);
        }
        self.back.push(Step { draft: draft.clone(), path: path.to_owned() });
    }

    /// What is typed next is another step.
    pub(super) fn close(&mut self) {
        self.open = None;
    }

    /// Takes the last step back: how things were before it.
    pub(super) fn back(&mut self, now: Step) -> Option<Step> {
        self.open = None;
        let step = self.back.pop()?;
        self.again.push(now);
        Some(step)
    }

    /// Brings the last step again that was taken back.
    pub(super) fn again(&mut self, now: Step) -> Option<Step> {
        self.open = None;
        let step = self.again.pop()?;
        self.back.push(now);
        Some(step)
    }
}

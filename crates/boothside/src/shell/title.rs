//! The terminal window's title.

/// The title as the terminal has it, so that it is written only when it changes.
#[derive(Debug, Clone, Default)]
pub struct Title {
    shown: String,
}

/// Characters of a title that are kept; a window's bar shows fewer.
const LONGEST: usize = 100;

impl Title {
    /// The text to write so that the title says `wanted`, or none if it already does.
    ///
    /// Control characters are left out: a face's name must not end the sequence that carries it.
    pub fn change(&mut self, wanted: &str) -> Option<&str> {
        let clean: String = wanted.chars().filter(|c| !c.is_control()).take(LONGEST).collect();
        if clean == self.shown {
            return None;
        }
        self.shown = clean;
        Some(&self.shown)
    }

    /// Forgets what the terminal has: it was restored to no title.
    pub fn forget(&mut self) {
        self.shown.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_written_when_it_changes() {
        let mut title = Title::default();
        assert_eq!(title.change(""), None);
        assert_eq!(title.change("LOOK · Fin"), Some("LOOK · Fin"));
        assert_eq!(title.change("LOOK · Fin"), None);
        title.forget();
        assert_eq!(title.change("LOOK · Fin"), Some("LOOK · Fin"));
    }

    #[test]
    fn a_name_cannot_end_the_sequence_that_carries_it() {
        let mut title = Title::default();
        let sly = "Fin\u{7}\u{1b}]0;x\u{9c}\n";
        assert_eq!(title.change(sly), Some("Fin]0;x"));
        assert_eq!(title.change(&"é".repeat(300)).map(|t| t.chars().count()), Some(100));
    }
}

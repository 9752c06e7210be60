//! Faults of a film: what they look like, what they can come from, what helps.

use boothside_core::work::film_fault::{FilmFault, film_fault};

use crate::view::text::clean;

/// What the trade calls a fault of the log.
#[must_use]
pub fn fault_name(id: &str) -> String {
    film_fault(id).map_or_else(|| clean(id), |fault| fault.name.to_owned())
}

/// One paragraph about a fault: its heading and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// The heading; empty where the text speaks for itself.
    pub heading: &'static str,
    /// The text.
    pub text: String,
}

/// What there is to read about a fault. No cause is told as certain.
#[must_use]
pub fn about(fault: &FilmFault) -> Vec<About> {
    let say = |heading, text: &str| About { heading, text: text.to_owned() };
    let causes = fault.causes.join(" \u{b7} ");
    vec![
        say("looks like", fault.looks_like),
        say("likely causes", &causes),
        say("now", fault.now.unwrap_or("nothing to do now")),
        say("later", fault.later.unwrap_or("nothing mends it")),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use boothside_core::work::film_fault::film_faults;

    #[test]
    fn nothing_is_said_to_be_wet_that_has_cured_long_ago() {
        let about = about(film_fault("chalking").expect("a fault"));
        let now = about.iter().find(|it| it.heading == "now").expect("a paragraph");
        assert_eq!(now.text, "nothing to do now");
        for fault in film_faults().filter(|fault| fault.now.is_none()) {
            assert!(!super::about(fault).iter().any(|it| it.text.contains("while it is wet")));
        }
    }
}

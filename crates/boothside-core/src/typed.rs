//! What the painter typed for a figure, kept beside it: the number counts, the text is how it was
//! written.

use std::collections::BTreeMap;

use crate::fault::Faults;

/// What was typed, by the path of its field as [`crate::fault::Fault`] writes it
/// (`mix.components[0].density_g_per_ml` → `9.8 lb/gal`); for a timing the path of its object
/// (`pot_life.life` → `4h at 75F`). Where text and number differ, the number counts.
pub type Typed = BTreeMap<String, String>;

/// A file keeps no more texts than this.
pub const MOST_TYPED: usize = 500;
/// The longest text, and the longest path, in characters.
pub const LONGEST_TYPED: usize = 200;

/// Notes at `typed` what does not fit: too many texts, or one that is empty, too long or not
/// printable.
pub(crate) fn check(typed: &Typed, faults: &mut Faults) {
    if typed.len() > MOST_TYPED {
        faults.add("typed", format!("{} of them", typed.len()), &format!("0 to {MOST_TYPED}"));
    }
    let accepted = || format!("1 to {LONGEST_TYPED} printable characters");
    for (field, text) in typed {
        if !is_line(field) {
            faults.add("typed", format!("{field:?}"), &accepted());
        } else if !is_line(text) {
            faults.add(&format!("typed.{field}"), format!("{text:?}"), &accepted());
        }
    }
}

fn is_line(text: &str) -> bool {
    let length = text.chars().count();
    (1..=LONGEST_TYPED).contains(&length) && !text.chars().any(char::is_control)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(typed: &Typed) -> Vec<String> {
        let mut faults = Faults::default();
        check(typed, &mut faults);
        faults.into_found().into_iter().map(|fault| fault.field).collect()
    }

    #[test]
    fn texts_are_few_short_and_printable() {
        let one = |field: &str, text: &str| Typed::from([(field.to_owned(), text.to_owned())]);
        assert_eq!(faults(&one("pot_life.life", &"é".repeat(200))), Vec::<String>::new());
        assert_eq!(faults(&one("pot_life.life", &"é".repeat(201))), ["typed.pot_life.life"]);
        assert_eq!(faults(&one("pot_life.life", "4h\u{1b}[2J")), ["typed.pot_life.life"]);
        assert_eq!(faults(&one("pot_life.life", "")), ["typed.pot_life.life"]);
        assert_eq!(faults(&one("\n", "4h")), ["typed"]);
        let many = |count: usize| (0..count).map(|n| (format!("f{n}"), "1".to_owned())).collect();
        assert_eq!(faults(&many(500)), Vec::<String>::new());
        assert_eq!(faults(&many(501)), ["typed"]);
    }
}

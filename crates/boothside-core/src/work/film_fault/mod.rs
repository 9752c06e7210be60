//! Faults of a film by the trade's terms: what each looks like, what it can come from, what helps
//! while the job runs and what mends it later.
//!
//! Common practice of the trade, gathered from many hands; where a sheet says otherwise, the sheet
//! counts. Every fault has several causes: none is certain.

mod cured;
mod drying;
mod wet;

/// A fault that can be seen in a film.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FilmFault {
    /// Its name in the log.
    pub id: &'static str,
    /// What the trade calls it.
    pub name: &'static str,
    /// What it looks like.
    pub looks_like: &'static str,
    /// What it can come from, in no order of likelihood.
    pub causes: &'static [&'static str],
    /// What helps now and on the next coat; nothing where nothing does.
    pub now: Option<&'static str>,
    /// What mends it once the film has cured; nothing where nothing does.
    pub later: Option<&'static str>,
}

/// Every fault, by what shows it: a wet film, a drying one, a cured one.
pub fn film_faults() -> impl Iterator<Item = &'static FilmFault> {
    wet::WET.iter().chain(drying::DRYING).chain(cured::CURED)
}

/// The fault with this name in the log.
#[must_use]
pub fn film_fault(id: &str) -> Option<&'static FilmFault> {
    film_faults().find(|fault| fault.id == id)
}

impl FilmFault {
    /// Whether every word of `typed` begins a word of its name or of what it looks like; a name
    /// that begins so is nearer than a look. 0 is nearest; nothing where it does not fit.
    #[must_use]
    pub fn fits(&self, typed: &str) -> Option<u8> {
        let typed = typed.to_lowercase();
        let words: Vec<&str> = typed.split_whitespace().collect();
        let begins = |text: &str| {
            let text = text.to_lowercase();
            let of_text: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
            words.iter().all(|word| of_text.iter().any(|of| of.starts_with(word)))
        };
        let ranks = [self.name.to_lowercase().starts_with(&typed), begins(self.name)];
        let looks = begins(&format!("{} {}", self.name, self.looks_like));
        let rank = ranks.into_iter().chain([looks]).position(|fits| fits)?;
        u8::try_from(rank).ok()
    }
}

/// The faults that fit what was typed, nearest first; all of them where nothing was typed.
#[must_use]
pub fn find_film_faults(typed: &str) -> Vec<&'static FilmFault> {
    let fitting = film_faults().filter_map(|fault| Some((fault.fits(typed.trim())?, fault)));
    let mut fitting: Vec<(u8, &FilmFault)> = fitting.collect();
    fitting.sort_by_key(|(rank, _)| *rank);
    fitting.into_iter().map(|(_, fault)| fault).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn found(typed: &str) -> Vec<&'static str> {
        find_film_faults(typed).iter().map(|fault| fault.id).collect()
    }

    #[test]
    fn every_fault_has_its_own_name_and_more_than_one_cause() {
        let ids: BTreeSet<&str> = film_faults().map(|fault| fault.id).collect();
        assert_eq!((film_faults().count(), ids.len()), (35, 35), "one row each");
        for fault in film_faults() {
            let fits = |c: char| c.is_ascii_lowercase() || c == '-';
            assert!(fault.id.chars().all(fits), "{}", fault.id);
            assert!(fault.causes.len() > 1, "{}: one cause would look certain", fault.id);
            assert!(fault.now.is_some() || fault.later.is_some(), "{}", fault.id);
            assert!(!fault.looks_like.is_empty(), "{}", fault.id);
            assert_eq!(film_fault(fault.id), Some(fault));
        }
        assert_eq!(film_fault("rust"), None);
    }

    #[test]
    fn a_few_letters_find_a_fault() {
        assert_eq!(found("").len(), 35);
        assert_eq!(found("ora"), ["orange-peel"]);
        assert_eq!(found("Orange Pe")[0], "orange-peel");
        assert_eq!(found("fish"), ["fisheye"]);
        // the name that begins so first, then other words of names, then looks
        assert_eq!(found("dr")[0], "dry-spray");
        assert!(found("milky").contains(&"blush"));
        assert_eq!(found("zzz"), Vec::<&str>::new());
    }
}

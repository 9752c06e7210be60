//! How large each text becomes in a room of a given size.

use super::{HeroText, INDENT};
use crate::view::text::wrap;
use crate::view::widgets::poster::{Poster, Settings};

/// From this many rows on there is a blank row above.
const AIRY: u16 = 7;

/// One text as it is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Block {
    Large(Poster),
    /// Where a character has no glyph, or not even the narrowest letters fit.
    Ordinary {
        lines: Vec<String>,
        band: bool,
    },
}

impl Block {
    pub(super) fn rows(&self) -> u16 {
        match self {
            Self::Large(poster) => poster.rows(),
            Self::Ordinary { lines, band } => rows(lines) + if *band { 2 } else { 0 },
        }
    }

    /// What its height counts for: half rows of a pixel.
    fn height(&self) -> u16 {
        match self {
            Self::Large(poster) => poster.down(),
            Self::Ordinary { .. } => 0,
        }
    }
}

/// A hero set into a room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Plan {
    pub(super) above: u16,
    pub(super) large: Block,
    /// Blank rows between the two.
    pub(super) between: u16,
    pub(super) second: Block,
    pub(super) small: Vec<String>,
}

fn rows(lines: &[String]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// Columns for the letters.
const fn room(width: u16) -> u16 {
    width.saturating_sub(INDENT * 2)
}

/// A text in large letters has no dot between part and face.
fn bare(text: &str) -> String {
    text.replace(" · ", " ")
}

/// The texts of a hero, set in every way.
struct Texts {
    band: bool,
    width: u16,
    large: Settings,
    ordinary_large: Vec<String>,
    second: Settings,
    ordinary_second: Vec<String>,
    small: Vec<String>,
}

impl Texts {
    fn of(hero: &HeroText, width: u16) -> Self {
        let width = room(width);
        Self {
            band: hero.band,
            width,
            large: Settings::of(&bare(&hero.large)),
            ordinary_large: wrap(&hero.large.to_uppercase(), width),
            second: Settings::of(&bare(&hero.second)),
            ordinary_second: wrap(&hero.second, width),
            small: hero.small.iter().flat_map(|text| wrap(text, width)).collect(),
        }
    }

    fn least_large(&self) -> u16 {
        let large = self.large.least_rows(self.width, self.band);
        large.unwrap_or_else(|| self.ordinary().rows())
    }

    fn ordinary(&self) -> Block {
        Block::Ordinary { lines: self.ordinary_large.clone(), band: self.band }
    }

    fn large_in(&self, rows: u16) -> Block {
        let large = self.large.fit(self.width, rows, self.band);
        large.map_or_else(|| self.ordinary(), Block::Large)
    }

    /// The large text as large as can be over the second as ordinary text.
    fn one_size(&self, rows_left: u16) -> Plan {
        // where both do not fit, the large letters stay
        let room = rows_left.saturating_sub(self.least_large());
        let lines = self.ordinary_second.iter().take(room.into()).cloned().collect();
        let second = Block::Ordinary { lines, band: false };
        let large = self.large_in(rows_left.saturating_sub(second.rows()));
        Plan { above: 0, large, between: 0, second, small: Vec::new() }
    }

    /// Both large, the second about half as high.
    fn two_sizes(&self, rows_left: u16) -> Option<Plan> {
        let least = self.least_large();
        (least..rows_left.saturating_sub(1)).rev().find_map(|rows| {
            let large = self.large.fit(self.width, rows, self.band)?;
            let left = rows_left.saturating_sub(large.rows() + 1);
            let half = (large.down() * 4).div_ceil(2).max(4);
            let second = self.second.fit(self.width, left.min(half), false)?;
            let (large, second) = (Block::Large(large), Block::Large(second));
            Some(Plan { above: 0, large, between: 1, second, small: Vec::new() })
        })
    }
}

impl Plan {
    /// `hero` in so many columns and rows.
    pub(super) fn of(hero: &HeroText, width: u16, height: u16) -> Self {
        let texts = Texts::of(hero, width);
        let least = texts.least_large() + rows(&texts.ordinary_second);
        // a band has ground of its own; what explains goes before the blank row
        let airy = !hero.band && height >= AIRY && height > least + rows(&texts.small);
        let above = u16::from(airy);
        let rows_left = height.saturating_sub(above);
        let explained = rows(&texts.small).min(rows_left.saturating_sub(least));
        let rows_left = rows_left - explained;
        let one = texts.one_size(rows_left);
        // the second size may cost the first a third of its height, not more
        let two = texts.two_sizes(rows_left);
        let two = two.filter(|two| two.large.height() * 3 >= one.large.height() * 2);
        let mut plan = two.unwrap_or(one);
        plan.above = above;
        plan.small = texts.small.iter().take(explained.into()).cloned().collect();
        plan
    }

    pub(super) fn rows(&self) -> u16 {
        self.above + self.large.rows() + self.between + self.second.rows() + rows(&self.small)
    }
}

/// Rows for the large text at its smallest and the second as ordinary text.
pub(super) fn least_rows(hero: &HeroText, width: u16) -> u16 {
    let texts = Texts::of(hero, width);
    texts.least_large() + rows(&texts.ordinary_second)
}

/// Rows of what explains it.
pub(super) fn small_rows(hero: &HeroText, width: u16) -> u16 {
    rows(&Texts::of(hero, width).small)
}

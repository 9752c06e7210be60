//! What is read from across the room: one text as large as its room allows, one of the second size under
//! it, and what explains them.
//!
//! Whoever says what is large hands in a [`HeroText`]; how large it becomes, over how many lines and in
//! which letters, is decided here. Nothing of the large text is ever cut: it becomes smaller first.

mod plan;

use super::pen::Pen;
use super::theme::Theme;
use super::words::hero::HeroWords;
use plan::{Block, Plan};

/// Columns left of the letters.
pub(super) const INDENT: u16 = 2;

/// What stands large.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HeroText {
    /// Whether it calls for the painter: the letters stand in a reversed band over the whole width.
    pub band: bool,
    /// The large letters. They break at spaces where that makes them larger; a no-break space keeps two
    /// words together.
    pub large: String,
    /// What goes with it, in the second size where there is room, else as ordinary text.
    pub second: String,
    /// What explains it, most important first: ordinary text, left out where there is no room.
    /// One that begins with '! ' is a caution.
    pub small: Vec<String>,
}

impl From<&HeroWords> for HeroText {
    fn from(words: &HeroWords) -> Self {
        let large = format!("{} {}", words.big, words.subject).trim().to_owned();
        // what stands in the second size is not said again under it
        let small = words.lines.iter().filter(|line| !words.verb.contains(line.as_str())).cloned();
        Self { band: words.due, large, second: words.verb.clone(), small: small.collect() }
    }
}

impl HeroText {
    /// Rows that it needs so that its letters are large and its second text is there.
    pub(super) fn least_rows(&self, width: u16) -> u16 {
        plan::least_rows(self, width)
    }

    /// Rows of what explains it.
    pub(super) fn small_rows(&self, width: u16) -> u16 {
        plan::small_rows(self, width)
    }

    /// Rows that it uses within `most`.
    pub(super) fn best_rows(&self, width: u16, most: u16) -> u16 {
        Plan::of(self, width, most).rows()
    }

    /// Draws it from the top of `pen`'s area.
    pub(super) fn draw(&self, theme: Theme, pen: &mut Pen<'_>) {
        let width = pen.width();
        let plan = Plan::of(self, width, pen.height());
        let style = if self.band { theme.due() } else { theme.strong() };
        let mut y = plan.above;
        draw_block(&plan.large, style, y, pen);
        y += plan.large.rows() + plan.between;
        draw_block(&plan.second, theme.strong(), y, pen);
        y += plan.second.rows();
        for (y, line) in (y..pen.height()).zip(&plan.small) {
            let caution = line.starts_with("! ");
            pen.put(INDENT, y, line, if caution { theme.caution() } else { theme.plain() });
        }
    }
}

fn draw_block(block: &Block, style: ratatui::style::Style, y: u16, pen: &mut Pen<'_>) {
    match block {
        Block::Large(poster) => {
            pen.draw((0, y, pen.width(), poster.rows()), poster.styled(style, INDENT));
        }
        Block::Ordinary { lines, band } => {
            let (rows, pad) = (block.rows(), u16::from(*band));
            let field = " ".repeat(if *band { pen.width().into() } else { 0 });
            (y..y + rows).for_each(|y| _ = pen.put(0, y, &field, style));
            for (y, line) in (y + pad..).zip(lines) {
                pen.put(INDENT, y, line, style);
            }
        }
    }
}

#[cfg(test)]
mod tests;

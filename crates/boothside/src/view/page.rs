//! One picture of a session: the scene, its words, its styles; and the lines that every screen
//! shares.

use ratatui::style::Style;

use super::hero::HeroText;
use super::pen::Pen;
use super::text::columns;
use super::theme::Theme;
use super::words::Words;
use super::words::figure::short;
use super::words::hero::HeroWords;
use crate::update::scene::{Saved, Scene};

/// What every part of a picture is drawn from.
pub(super) struct Page<'s, 'a> {
    pub(super) scene: &'s Scene<'a>,
    pub(super) theme: Theme,
    pub(super) words: Words<'a>,
    pub(super) hero: HeroWords,
    /// The same as it is drawn large.
    pub(super) loud: HeroText,
    /// Rows of the whole screen.
    pub(super) rows: u16,
}

/// Rows of the top line and what stands under it.
pub(super) const HEAD: u16 = 2;

impl<'s, 'a> Page<'s, 'a> {
    pub(super) fn new(scene: &'s Scene<'a>, theme: Theme, rows: u16) -> Self {
        let words = Words::of(scene);
        let hero = words.hero();
        let loud = HeroText::from(&hero);
        Self { scene, theme, words, hero, loud, rows }
    }

    /// The top line, and under it a rule or what the disk says.
    pub(super) fn draw_head(&self, pen: &mut Pen<'_>) {
        self.draw_top(pen);
        if !self.draw_banner(pen, 1) {
            pen.rule(1, self.theme.quiet());
        }
    }

    fn draw_top(&self, pen: &mut Pen<'_>) {
        let width = pen.width();
        let (title, right, gap) = self.fitting_top(width);
        let mut end = width.saturating_sub(1);
        for (text, style) in right.iter().rev() {
            pen.put_right(end, 0, text, *style);
            end = end.saturating_sub(columns(text) + gap);
        }
        pen.put_within(1, 0, end.saturating_sub(1), &title, self.theme.strong());
    }

    /// The fullest top line that fits: the weekday goes first, then the job's name, then the air.
    fn fitting_top(&self, width: u16) -> (String, Vec<(String, Style)>, u16) {
        let stage = self.words.stage();
        let job = format!("{} · {stage}", self.words.job());
        let (day, time) = (self.words.date_and_time(), self.words.time_of_day());
        let air = self.words.board.air.reading.map(|reading| self.words.figures().air(&reading));
        let air = air.filter(|air| !air.is_empty());
        let tries = [
            (&job, &day, air.as_ref(), 4),
            (&job, &day, air.as_ref(), 2),
            (&job, &time, air.as_ref(), 2),
            (&stage, &time, air.as_ref(), 2),
            (&stage, &time, None, 2),
        ];
        let made = tries.map(|(title, when, air, gap)| {
            let right = self.top_right(when, air);
            let wide: u16 = right.iter().map(|(text, _)| columns(text) + gap).sum();
            let fits = columns(title).saturating_add(wide).saturating_add(2) <= width;
            (fits, (title.clone(), right, gap))
        });
        let [.., (_, last)] = &made;
        let fitting = made.iter().find(|(fits, _)| *fits).map(|(_, made)| made);
        fitting.unwrap_or(last).clone()
    }

    fn top_right(&self, when: &str, air: Option<&String>) -> Vec<(String, Style)> {
        let rehearsal = self.rehearsal().map(|text| (text, self.theme.due()));
        let when = (when.to_owned(), self.theme.plain());
        let air = air.map(|air| (air.clone(), self.theme.plain()));
        [rehearsal, Some(when), air, self.saved()].into_iter().flatten().collect()
    }

    /// 'rehearsal ×60'.
    pub(super) fn rehearsal(&self) -> Option<String> {
        let rehearsal = self.scene.rehearsal?;
        Some(format!("rehearsal ×{}", short(rehearsal.pace, 1)))
    }

    /// Whether all is on the disk; where it is not, the banner says so instead.
    pub(super) fn saved(&self) -> Option<(String, Style)> {
        match self.scene.saved {
            Saved::Saved => Some(("saved".into(), self.theme.good())),
            Saved::Saving => Some(("saving".into(), self.theme.plain())),
            Saved::NotSaved { .. } | Saved::ReadOnly { .. } => None,
        }
    }

    /// Says what the disk refuses, or that this program only reads.
    pub(super) fn draw_banner(&self, pen: &mut Pen<'_>, y: u16) -> bool {
        let (text, style) = match self.scene.saved {
            Saved::NotSaved { waiting, why } => {
                (format!(" × NOT SAVED {waiting} · the disk says: {why}"), self.theme.hold())
            }
            Saved::ReadOnly { why } => {
                (format!(" ! READ ONLY, keys write nothing: {why}"), self.theme.caution())
            }
            Saved::Saved | Saved::Saving => return false,
        };
        pen.put(0, y, &text, style);
        true
    }

    /// The hero in one line, where it has no room of its own.
    pub(super) fn hero_line(&self) -> (String, Style) {
        use boothside_core::board::Next;
        let hero = &self.hero;
        let amount = format!("{} {}", hero.big, hero.verb);
        let next = &self.scene.board.next;
        let pours = matches!(next, Next::MixPot { amount_ml: Some(_), .. } | Next::Pour { .. });
        let parts = if pours && self.scene.board.hero.is_none() {
            // a number of millilitres or grams stands before its unit
            [&hero.subject, &amount, &String::new()]
        } else {
            [&hero.big, &hero.subject, &hero.verb]
        };
        let parts: Vec<&str> =
            parts.into_iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        let style = if hero.due { self.theme.due() } else { self.theme.strong() };
        let mark = if hero.due { "◆ " } else { "" };
        (format!("{mark}{}", parts.join(" · ")), style)
    }
}

//! Writes into one area of the screen, and never outside it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;

use super::text::{clean, columns, cut};

/// A pen over one area; columns and rows count from its upper left corner.
pub(super) struct Pen<'a> {
    buf: &'a mut Buffer,
    area: Rect,
}

impl<'a> Pen<'a> {
    pub(super) fn new(buf: &'a mut Buffer, area: Rect) -> Self {
        let area = area.intersection(buf.area);
        Self { buf, area }
    }

    /// A pen over a part of this one's area.
    pub(super) fn part(&mut self, x: u16, y: u16, width: u16, height: u16) -> Pen<'_> {
        let at = self.rect(x, y, width, height);
        Pen { buf: self.buf, area: at }
    }

    fn rect(&self, x: u16, y: u16, width: u16, height: u16) -> Rect {
        let left = self.area.x.saturating_add(x).min(self.area.right());
        let top = self.area.y.saturating_add(y).min(self.area.bottom());
        Rect {
            x: left,
            y: top,
            width: width.min(self.area.right() - left),
            height: height.min(self.area.bottom() - top),
        }
    }

    pub(super) const fn width(&self) -> u16 {
        self.area.width
    }

    pub(super) const fn height(&self) -> u16 {
        self.area.height
    }

    /// Writes `text`, cut at the right edge; returns the column after it.
    pub(super) fn put(&mut self, x: u16, y: u16, text: &str, style: Style) -> u16 {
        self.put_within(x, y, self.area.width.saturating_sub(x), text, style)
    }

    /// Writes `text` into `width` columns; returns the column after it.
    pub(super) fn put_within(
        &mut self,
        x: u16,
        y: u16,
        width: u16,
        text: &str,
        style: Style,
    ) -> u16 {
        let at = self.rect(x, y, width, 1);
        if at.is_empty() {
            return x;
        }
        let text = cut(&clean(text), at.width);
        #[cfg(test)]
        overlap::before(self.buf, Rect { width: columns(&text).min(at.width), ..at }, &text);
        self.buf.set_stringn(at.x, at.y, &text, at.width.into(), style);
        x.saturating_add(columns(&text))
    }

    /// Writes `text` so that it ends before column `end`.
    pub(super) fn put_right(&mut self, end: u16, y: u16, text: &str, style: Style) {
        let end = end.min(self.area.width);
        let wide = columns(&clean(text)).min(end);
        self.put_within(end - wide, y, wide, text, style);
    }

    /// Makes the whole area blank.
    pub(super) fn clear(&mut self) {
        let blank = " ".repeat(self.area.width.into());
        for y in 0..self.area.height {
            self.put(0, y, &blank, Style::new());
        }
    }

    /// Draws a rule over the whole width.
    pub(super) fn rule(&mut self, y: u16, style: Style) {
        let line = "─".repeat(self.area.width.into());
        self.put(0, y, &line, style);
    }

    /// Draws a widget into a part of the area.
    pub(super) fn draw(&mut self, at: (u16, u16, u16, u16), widget: impl Widget) {
        let (x, y, width, height) = at;
        let rect = self.rect(x, y, width, height);
        #[cfg(test)]
        let before = overlap::symbols(self.buf, rect);
        widget.render(rect, self.buf);
        #[cfg(test)]
        overlap::after(self.buf, rect, &before);
    }
}

/// Tells the tests where one text was written over another.
#[cfg(test)]
pub(super) mod overlap {
    use std::cell::RefCell;

    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;

    thread_local! {
        static FOUND: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
    }

    /// What was found since the last call.
    pub(in crate::view) fn take() -> Vec<String> {
        FOUND.take()
    }

    /// A rule is a ground, on which a text may stand.
    fn is_free(symbol: &str) -> bool {
        symbol.trim().is_empty() || symbol == "─"
    }

    pub(super) fn symbols(buf: &Buffer, at: Rect) -> Vec<String> {
        let at = at.intersection(buf.area);
        at.positions().map(|at| buf[at].symbol().to_owned()).collect()
    }

    /// Before `text` is written at `at`.
    pub(super) fn before(buf: &Buffer, at: Rect, text: &str) {
        let there = symbols(buf, at).concat();
        if symbols(buf, at).iter().any(|symbol| !is_free(symbol)) {
            FOUND.with_borrow_mut(|found| {
                found.push(format!("{text:?} over {there:?} at {},{}", at.x, at.y));
            });
        }
    }

    /// After a widget was drawn at `at`.
    pub(super) fn after(buf: &Buffer, at: Rect, before: &[String]) {
        let changed = |(was, is): &(&String, String)| !is_free(was) && *was != is;
        if let Some((was, is)) = before.iter().zip(symbols(buf, at)).find(changed) {
            FOUND.with_borrow_mut(|found| found.push(format!("a widget's {is:?} over {was:?}")));
        }
    }
}

//! A bar that shows what is left.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;

/// What a bar is drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ink {
    /// Heavy lines, to half a column.
    #[default]
    Line,
    /// `=` and, for half a column, `-`: for a terminal that knows ASCII alone.
    Ascii,
}

impl Ink {
    const fn whole_and_half(self) -> (&'static str, &'static str) {
        match self {
            Self::Line => ("━", "╸"),
            Self::Ascii => ("=", "-"),
        }
    }
}

/// The bar for what is left of something, `width` columns wide with its blanks.
///
/// `share` is what is left: 0 nothing, 1 all; held within that, and 0 where it is not a number. Rounded
/// up to half a column: the bar is empty when nothing is left and not before.
#[must_use]
pub fn bar(share: f64, width: u16, ink: Ink) -> String {
    let (whole, half) = ink.whole_and_half();
    let all = usize::from(width) * 2;
    // a share that floating point put a hair above a half column is that half column
    let halves = ((share.clamp(0.0, 1.0) * all as f64 - 1e-9).ceil() as usize).min(all);
    let mut drawn = whole.repeat(halves / 2);
    drawn.push_str(&half[..half.len() * (halves % 2)]);
    drawn.push_str(&" ".repeat(usize::from(width) - halves.div_ceil(2)));
    drawn
}

/// The bar as a widget, one row high.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    share: f64,
    style: Style,
    ink: Ink,
}

impl Bar {
    /// A bar for `share`, what is left: 0 nothing, 1 all.
    #[must_use]
    pub const fn new(share: f64) -> Self {
        Self { share, style: Style::new(), ink: Ink::Line }
    }

    /// Draws in `style`.
    #[must_use]
    pub const fn style(mut self, style: Style) -> Self {
        self.style = style;
        self
    }

    /// Draws with `ink`.
    #[must_use]
    pub const fn ink(mut self, ink: Ink) -> Self {
        self.ink = ink;
        self
    }
}

impl Widget for Bar {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let area = area.intersection(buf.area);
        if !area.is_empty() {
            let drawn = bar(self.share, area.width, self.ink);
            buf.set_string(area.x, area.y, drawn, self.style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_left_to_half_a_column() {
        assert_eq!(bar(1.0, 10, Ink::Line), "━━━━━━━━━━");
        assert_eq!(bar(0.5, 10, Ink::Line), "━━━━━     ");
        assert_eq!(bar(0.45, 10, Ink::Line), "━━━━╸     ");
        assert_eq!(bar(0.45, 10, Ink::Ascii), "====-     ");
        assert_eq!(bar(0.451, 10, Ink::Line), "━━━━━     ");
    }

    #[test]
    fn it_is_empty_when_nothing_is_left_and_not_before() {
        assert_eq!(bar(0.0, 10, Ink::Line).trim_end(), "");
        assert_eq!(bar(0.0001, 10, Ink::Line).trim_end(), "╸");
        assert_eq!(bar(-1.0, 10, Ink::Ascii).trim_end(), "");
        assert_eq!(bar(f64::NAN, 10, Ink::Ascii).trim_end(), "");
        assert_eq!(bar(f64::INFINITY, 3, Ink::Ascii), "===");
        assert_eq!(bar(0.5, 0, Ink::Line), "");
    }

    #[test]
    fn as_a_widget_it_fills_one_row_of_its_area() {
        let mut buf = Buffer::empty(Rect::new(0, 0, 8, 2));
        Bar::new(0.75).render(Rect::new(2, 0, 4, 2), &mut buf);
        assert_eq!(buf, Buffer::with_lines(["  ━━━   ", "        "]));
        Bar::new(1.0).render(Rect::new(6, 1, 40, 1), &mut buf);
        assert_eq!(buf, Buffer::with_lines(["  ━━━   ", "      ━━"]));
    }

    proptest! {
        #[test]
        fn it_is_as_wide_as_asked_and_never_grows_as_less_is_left(
            a in 0.0..=1.0_f64, b in 0.0..=1.0_f64, width in 0..200_u16,
        ) {
            let halves = |share| {
                let drawn = bar(share, width, Ink::Ascii);
                assert_eq!(drawn.chars().count(), usize::from(width));
                2 * drawn.matches('=').count() + drawn.matches('-').count()
            };
            prop_assert!((a <= b) == (halves(a) <= halves(b)) || halves(a) == halves(b));
        }
    }
}

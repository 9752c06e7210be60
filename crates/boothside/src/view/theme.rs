//! Styles by role.
//!
//! Colours come from the terminal's own sixteen, on its own ground: green, red and magenta, which
//! read on light and on dark. White, black and yellow text vanishes on one of the two, blue on dark;
//! 'bright black' has the ground's colour in some palettes, so what is quiet is dim. The ground is never
//! painted; what is due is in reverse. A state is told by a word and a shape before it is by a style:
//! roles may look alike without colour.

use std::ffi::OsStr;

use ratatui::style::{Color, Modifier, Style};

/// The styles of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    colour: bool,
}

impl Theme {
    /// With colours, or with bold, dim, underline and reverse alone.
    #[must_use]
    pub const fn new(colour: bool) -> Self {
        Self { colour }
    }

    /// As the environment wants it: no colours where `NO_COLOR` is set and not empty
    /// (<https://no-color.org>, from memory).
    #[must_use]
    pub fn of_environment() -> Self {
        Self::of_no_color(std::env::var_os("NO_COLOR").as_deref())
    }

    fn of_no_color(value: Option<&OsStr>) -> Self {
        Self::new(value.is_none_or(OsStr::is_empty))
    }

    /// Running text.
    #[must_use]
    pub const fn plain(self) -> Style {
        Style::new()
    }

    /// What may be overlooked: units, hints, lines between.
    #[must_use]
    pub const fn quiet(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// What matters most of its kind.
    #[must_use]
    pub const fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// Clear, open, saved.
    #[must_use]
    pub const fn good(self) -> Style {
        self.coloured(Color::Green, Modifier::empty(), Modifier::empty())
    }

    /// Caution, closing, assumed.
    #[must_use]
    pub const fn caution(self) -> Style {
        self.coloured(Color::Magenta, Modifier::empty(), Modifier::UNDERLINED)
    }

    /// A hold, a dead pot, what is not saved.
    #[must_use]
    pub const fn hold(self) -> Style {
        let without = Modifier::BOLD.union(Modifier::UNDERLINED);
        self.coloured(Color::Red, Modifier::BOLD, without)
    }

    /// What is due now: steady reverse, never blinking.
    #[must_use]
    pub const fn due(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD.union(Modifier::REVERSED))
    }

    /// The face or line that the arrows chose; a mark stands before it.
    #[must_use]
    pub const fn chosen(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// The names above columns and of screens.
    #[must_use]
    pub const fn title(self) -> Style {
        Style::new().add_modifier(Modifier::UNDERLINED)
    }

    const fn coloured(self, colour: Color, with: Modifier, without: Modifier) -> Style {
        if self.colour {
            Style::new().fg(colour).add_modifier(with)
        } else {
            Style::new().add_modifier(without)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::Terminal;
    use ratatui::backend::CrosstermBackend;
    use ratatui::layout::Rect;
    use ratatui::{TerminalOptions, Viewport};

    fn roles(theme: Theme) -> [(&'static str, Style); 9] {
        [
            ("plain", theme.plain()),
            ("quiet", theme.quiet()),
            ("strong", theme.strong()),
            ("good", theme.good()),
            ("caution", theme.caution()),
            ("hold", theme.hold()),
            ("due", theme.due()),
            ("chosen", theme.chosen()),
            ("title", theme.title()),
        ]
    }

    #[test]
    fn colours_read_on_light_and_on_dark_and_the_ground_is_left_alone() {
        for (role, style) in roles(Theme::new(true)) {
            let safe = [None, Some(Color::Green), Some(Color::Red), Some(Color::Magenta)];
            assert!(safe.contains(&style.fg), "{role}");
            assert_eq!(style.bg, None, "{role}");
            let blinks = Modifier::SLOW_BLINK.union(Modifier::RAPID_BLINK);
            assert!(!style.add_modifier.intersects(blinks), "{role}");
        }
    }

    #[test]
    fn without_colours_urgency_still_shows() {
        let theme = Theme::new(false);
        for (role, style) in roles(theme) {
            assert_eq!((style.fg, style.bg), (None, None), "{role}");
        }
        let ladder = [theme.plain(), theme.caution(), theme.hold(), theme.due()];
        for (i, style) in ladder.iter().enumerate() {
            assert!(!ladder[..i].contains(style));
        }
    }

    #[test]
    fn an_empty_no_color_is_none() {
        assert_eq!(Theme::of_no_color(None), Theme::new(true));
        assert_eq!(Theme::of_no_color(Some(OsStr::new(""))), Theme::new(true));
        assert_eq!(Theme::of_no_color(Some(OsStr::new("1"))), Theme::new(false));
    }

    /// What a terminal gets for one word in each role.
    fn written(theme: Theme) -> String {
        let mut bytes = Vec::new();
        let viewport = Viewport::Fixed(Rect::new(0, 0, 10, 9));
        let options = TerminalOptions { viewport };
        let backend = CrosstermBackend::new(&mut bytes);
        let mut terminal = Terminal::with_options(backend, options).unwrap();
        let draw = |frame: &mut ratatui::Frame<'_>| {
            for (y, (role, style)) in (0..).zip(roles(theme)) {
                frame.buffer_mut().set_string(0, y, role, style);
            }
        };
        terminal.draw(draw).unwrap();
        drop(terminal);
        String::from_utf8(bytes).unwrap()
    }

    #[test]
    fn what_is_written_has_the_modifiers_and_only_wanted_colours() {
        // as the terminal is entered; were it not, NO_COLOR would write bare resets
        crossterm::style::force_color_output(true);
        let plain = written(Theme::new(false));
        assert!(!plain.contains("38;5;") && !plain.contains("48;5;"), "{plain:?}");
        assert!(!plain.contains("\u{1b}[m"), "{plain:?}");
        let mut screen = vt100::Parser::new(9, 10, 0);
        screen.process(plain.as_bytes());
        let due = screen.screen().cell(6, 0).unwrap();
        assert!(due.bold() && due.inverse());
        let caution = screen.screen().cell(4, 0).unwrap();
        assert!(caution.underline() && !caution.bold() && !caution.inverse());
        let coloured = written(Theme::new(true));
        // ECMA-48 SGR by index: 1 red, 2 green, 5 magenta of the terminal's own sixteen
        for wanted in ["38;5;1;", "38;5;2;", "38;5;5;"] {
            assert!(coloured.contains(wanted), "{wanted}: {coloured:?}");
        }
        assert!(!coloured.contains("48;5;"), "{coloured:?}");
    }
}

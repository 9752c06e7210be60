//! Draws only what changed: a picture is first painted off the screen, and goes to the terminal
//! only where it differs from the last one.

use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::{Frame, Terminal};

/// The last picture shown, and the page on which the next is tried.
#[derive(Debug)]
pub struct Picture {
    page: Option<Terminal<TestBackend>>,
    shown: Option<Buffer>,
}

impl Default for Picture {
    fn default() -> Self {
        Self::new()
    }
}

impl Picture {
    /// No picture yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { page: None, shown: None }
    }

    /// Whether `paint` makes another picture of this size than the last one. Remembers it.
    pub fn changed(&mut self, size: (u16, u16), paint: impl FnOnce(&mut Frame<'_>)) -> bool {
        let Some(next) = self.painted(size, paint) else { return true };
        if self.shown.as_ref() == Some(&next) {
            return false;
        }
        self.shown = Some(next);
        true
    }

    /// Forgets the last picture: the next one counts as changed.
    pub fn forget(&mut self) {
        self.shown = None;
    }

    fn painted(&mut self, size: (u16, u16), paint: impl FnOnce(&mut Frame<'_>)) -> Option<Buffer> {
        let fits = |page: &Terminal<TestBackend>| {
            let area = page.backend().buffer().area;
            (area.width, area.height) == size
        };
        if !self.page.as_ref().is_some_and(fits) {
            self.page = Terminal::new(TestBackend::new(size.0, size.1)).ok();
        }
        let page = self.page.as_mut()?;
        page.draw(paint).ok()?;
        Some(page.backend().buffer().clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(picture: &mut Picture, size: (u16, u16), text: &'static str) -> bool {
        picture.changed(size, |frame| frame.render_widget(text, frame.area()))
    }

    #[test]
    fn only_another_picture_counts_as_changed() {
        let mut picture = Picture::new();
        assert!(text(&mut picture, (20, 2), "6:44"));
        assert!(!text(&mut picture, (20, 2), "6:44"));
        assert!(text(&mut picture, (20, 2), "6:43"));
        assert!(text(&mut picture, (30, 2), "6:43"), "another size is another picture");
        picture.forget();
        assert!(text(&mut picture, (30, 2), "6:43"));
    }

    #[test]
    fn no_size_is_too_small() {
        let mut picture = Picture::new();
        assert!(text(&mut picture, (0, 0), "6:44"));
        assert!(text(&mut picture, (1, 1), "6:44"));
    }
}

//! The book on the screen: its list, or a form.

mod drawing;
mod form;
mod list;

use chrono::{DateTime, FixedOffset};

use super::pen::Pen;
use super::theme::Theme;
use crate::update::book::filling::Filling;
use crate::update::book::list::List;
use crate::update::scene::Kept;

/// The book, as it is to be drawn.
pub struct RoomScene<'a> {
    /// Its list.
    pub list: &'a List,
    /// The form that is filled in, and whether what was typed is kept.
    pub form: Option<(&'a Filling, Kept)>,
    /// Where the files are.
    pub data: &'a str,
    /// How to keep this machine awake.
    pub keep_awake: &'a str,
    /// The wall's time.
    pub now: DateTime<FixedOffset>,
}

pub(super) fn draw(scene: &RoomScene<'_>, theme: Theme, pen: &mut Pen<'_>) {
    let rule = match &scene.form {
        Some((filling, kept)) => {
            form::draw(filling, kept, theme, pen);
            1
        }
        None => {
            list::draw(scene, theme, pen);
            2
        }
    };
    if let Some((text, due)) = next_edge(scene) {
        let style = if due { theme.due() } else { theme.strong() };
        pen.put(1, rule, &format!(" {text} "), style);
    }
}

/// The soonest edge of the sessions that are open, and whether it has come: the book hides no clock.
fn next_edge(scene: &RoomScene<'_>) -> Option<(String, bool)> {
    let edges = scene.list.edges();
    let (job, at) = edges.into_iter().min_by_key(|(_, at)| *at)?;
    let due = at <= scene.now;
    let clock =
        at.format(if at.date_naive() == scene.now.date_naive() { "%H:%M" } else { "%a %H:%M" });
    let text = match due {
        true => format!("◆ {job} · due since {clock} · SPACE on it in the list goes there"),
        false => format!("{job} · next clock {clock}"),
    };
    Some((text, due))
}

/// Keys and what they do, in one line.
fn draw_keys(theme: Theme, pen: &mut Pen<'_>, y: u16, keys: &[(&str, &str)]) {
    let mut x = 1;
    for (key, does) in keys {
        let wide = super::text::columns(key) + super::text::columns(does) + 1;
        if x + wide > pen.width() {
            return;
        }
        let after = pen.put(x, y, key, theme.strong());
        x = pen.put(after + 1, y, does, theme.plain()) + 2;
    }
}

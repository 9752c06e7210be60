//! What can be done with an entry of the log; what goes with it is named first.

use super::asking::{Lines, asked};
use crate::update::scene::EntryDo;
use crate::view::page::Page;
use crate::view::text::wrap;

/// Most entries of a group that are named one by one.
const MOST_NAMED: usize = 4;

pub(super) fn lines(page: &Page<'_, '_>, n: u64, choices: &[EntryDo], width: u16) -> Lines {
    let title = format!("entry {n} · {}", page.words.entries(&[n]));
    let mut lines = Lines::new();
    for choice in choices {
        lines.extend(with_it(page, n, choice, width));
    }
    let labels: Vec<String> = choices.iter().map(label).collect();
    let labels: Vec<&str> = labels.iter().map(String::as_str).collect();
    let mut all = asked(page, title, &labels, width);
    all.splice(1..1, lines);
    all
}

fn label(choice: &EntryDo) -> String {
    match choice {
        EntryDo::Strike { group } if group.len() > 1 => format!("strike all {}", group.len()),
        EntryDo::Strike { .. } => "strike it".into(),
        EntryDo::Restore { group, .. } if group.len() > 1 => {
            format!("restore all {}", group.len())
        }
        EntryDo::Restore { .. } => "restore it".into(),
        EntryDo::TrueTime => "its true time".into(),
        EntryDo::Note => "a note about it".into(),
    }
}

/// The rest of the group.
fn with_it(page: &Page<'_, '_>, n: u64, choice: &EntryDo, width: u16) -> Lines {
    let (how, group) = match choice {
        EntryDo::Strike { group } => ("struck with it", group),
        EntryDo::Restore { group, .. } => ("restored with it", group),
        EntryDo::TrueTime | EntryDo::Note => return Lines::new(),
    };
    let others: Vec<u64> = group.iter().copied().filter(|other| *other != n).collect();
    if others.is_empty() {
        return Lines::new();
    }
    let named = others.iter().take(MOST_NAMED);
    let mut told: Vec<String> =
        named.map(|other| format!("{other} {}", page.words.entries(&[*other]))).collect();
    if others.len() > MOST_NAMED {
        told.push(format!("and {} more", others.len() - MOST_NAMED));
    }
    let text = format!("{how}: {}", told.join(" · "));
    let lines = wrap(&text, width.saturating_sub(6)).into_iter();
    lines.map(|line| (format!("  {line}"), page.theme.caution())).collect()
}

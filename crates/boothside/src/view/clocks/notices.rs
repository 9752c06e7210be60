//! What is told besides the clocks, newest at the bottom.

use boothside_core::session::time::Span;
use ratatui::style::Style;

use crate::update::scene::Notice;
use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::wrap;
use crate::view::words::notice::{Loud, readings_move};
use crate::view::words::time::Time;

const INDENT: u16 = 2;

type Block = Vec<(String, Style)>;

pub(in crate::view) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    let lines = blocks(page, width).iter().map(Vec::len).sum::<usize>();
    u16::try_from(lines).unwrap_or(u16::MAX)
}

/// Draws the newest that fit whole; the newest of all from its beginning, if need be cut.
pub(in crate::view) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let mut room = usize::from(pen.height());
    let mut shown: Vec<Block> = Vec::new();
    for mut block in blocks(page, pen.width()).into_iter().rev() {
        if shown.is_empty() {
            block.truncate(room);
        }
        let Some(left) = room.checked_sub(block.len()) else { break };
        room = left;
        shown.push(block);
    }
    let lines = shown.into_iter().rev().flatten();
    for (y, (text, style)) in (0..).zip(lines) {
        pen.put(INDENT, y, &text, style);
    }
}

/// Each notice in lines, oldest first; that work is interrupted stays last of all.
fn blocks(page: &Page<'_, '_>, width: u16) -> Vec<Block> {
    let room = width.saturating_sub(INDENT * 2 + 2);
    let moves: Vec<Span> = page.scene.notices.iter().filter_map(moved).collect();
    // many of them would fold the faces away: they are told as one
    let many = moves.len() > 1;
    let single = page.scene.notices.iter().filter(|notice| !many || moved(notice).is_none());
    let told = single.map(|notice| page.words.notice(notice));
    let together = many.then(|| (readings_move(&moves), Loud::Calm));
    let told = together.into_iter().chain(told);
    let block = |(text, loud): (String, Loud)| {
        let (mark, style) = match loud {
            Loud::Calm => ("·", page.theme.plain()),
            Loud::Caution => ("!", page.theme.caution()),
        };
        let line = |(row, line): (usize, &String)| {
            let mark = if row == 0 { mark } else { " " };
            (format!("{mark} {line}"), style)
        };
        wrap(&text, room).iter().enumerate().map(line).collect()
    };
    told.chain(paused(page)).map(block).collect()
}

/// By how much a reading moved a face.
const fn moved(notice: &Notice) -> Option<Span> {
    match notice {
        Notice::ReadingMoves { by, .. } => Some(*by),
        _ => None,
    }
}

fn paused(page: &Page<'_, '_>) -> Option<(String, Loud)> {
    let (since, why) = page.scene.session.state().paused.as_ref()?;
    let since = page.words.clock(*since, Time::Past);
    Some((format!("paused since {since}: {why} · clocks run on · back at work: p"), Loud::Caution))
}

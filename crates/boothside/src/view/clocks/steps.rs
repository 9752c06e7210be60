//! The steps of a stage, and the checks before spraying, one a line.

use boothside_core::board::{Next, Stage, Waited};
use boothside_core::session::standing::{StepNow, StepStanding};
use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::text::{columns, wrap};
use crate::view::words::state::{step_shape, step_word};
use crate::view::words::time::Time;

/// Where the words of the states begin.
const WORD: u16 = 4;

/// One line of the list.
struct Line {
    is_next: bool,
    shape: &'static str,
    word: String,
    style: Style,
    what: String,
    right: String,
}

fn lines(page: &Page<'_, '_>) -> Vec<Line> {
    match page.scene.board.stage {
        Stage::Prep { .. } | Stage::Gap { .. } | Stage::Cure | Stage::Close | Stage::Closed => {
            steps(page)
        }
        Stage::Ready { .. } | Stage::Mix { .. } => checks(page),
        Stage::Coat { .. } | Stage::Flash { .. } => Vec::new(),
    }
}

pub(super) fn height(page: &Page<'_, '_>, width: u16) -> u16 {
    u16::try_from(rows(&lines(page), width).len()).unwrap_or(u16::MAX)
}

/// Rows of the checks that come after the steps, for where there is room for them.
pub(super) fn to_come(page: &Page<'_, '_>, width: u16) -> u16 {
    u16::try_from(rows(&checks_to_come(page), width).len()).unwrap_or(u16::MAX)
}

/// Where what a line is about begins: after the longest word of state, 'passed 14:09'.
fn what_x(lines: &[Line]) -> u16 {
    WORD + lines.iter().map(|line| columns(&line.word)).max().unwrap_or(0).max(9) + 2
}

/// The rows of all lines: the line's number, and its text, which goes on in the next row.
fn rows(lines: &[Line], width: u16) -> Vec<(usize, String)> {
    let room = width.saturating_sub(2 + what_x(lines));
    let each = lines.iter().enumerate().flat_map(|(number, line)| {
        let right = columns(&line.right);
        let text = wrap(&line.what, room.saturating_sub(right + u16::from(right > 0) * 2));
        text.into_iter().map(move |text| (number, text))
    });
    each.collect()
}

/// During preparation it is good to know what will be asked: it can be laid out before.
fn checks_to_come(page: &Page<'_, '_>) -> Vec<Line> {
    match page.scene.board.stage {
        Stage::Prep { .. } => checks(page),
        _ => Vec::new(),
    }
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let mut lines = lines(page);
    let room = usize::from(pen.height());
    if room > rows(&lines, pen.width()).len() {
        lines.extend(checks_to_come(page));
    }
    let rows = rows(&lines, pen.width());
    let is_next = |number: usize| lines.get(number).is_some_and(|line| line.is_next);
    let next = rows.iter().position(|(number, _)| is_next(*number)).unwrap_or(0);
    let from = next.saturating_sub(room / 2).min(rows.len().saturating_sub(room));
    let mut before = None;
    for (y, (number, text)) in (0..pen.height()).zip(rows.iter().skip(from)) {
        let Some(line) = lines.get(*number) else { continue };
        let first = before.replace(*number) != Some(*number);
        draw_row(page, &mut pen.part(0, y, pen.width(), 1), (line, text), (first, what_x(&lines)));
    }
}

fn draw_row(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    (line, text): (&Line, &str),
    (first, what): (bool, u16),
) {
    let theme = page.theme;
    let loud = if line.is_next { theme.strong() } else { theme.plain() };
    pen.put(what, 0, text, loud);
    if !first {
        return;
    }
    if line.is_next {
        pen.put(0, 0, "▸", theme.chosen());
    }
    pen.put(2, 0, line.shape, line.style);
    pen.put(WORD, 0, &line.word, line.style);
    pen.put_right(pen.width().saturating_sub(2), 0, &line.right, theme.plain());
}

fn steps(page: &Page<'_, '_>) -> Vec<Line> {
    page.scene.board.steps.iter().map(|step| step_line(page, step)).collect()
}

fn step_line(page: &Page<'_, '_>, step: &StepStanding) -> Line {
    let theme = page.theme;
    let is_next = match &page.scene.board.next {
        Next::Step { step: next, .. } => *next == step.id,
        Next::Wait { what: Waited::AfterStep { step: next }, .. }
        | Next::Wait { what: Waited::StageBeforeStep { step: next }, .. } => *next == step.id,
        _ => false,
    };
    let style = match step.now {
        StepNow::Done => theme.good(),
        StepNow::ToDo | StepNow::NotYet => theme.plain(),
        StepNow::Waiting => theme.strong(),
    };
    Line {
        is_next,
        shape: step_shape(step.now),
        word: step_word(step.now).into(),
        style,
        what: page.words.step_on(&step.id),
        right: step_time(page, step),
    }
}

fn step_time(page: &Page<'_, '_>, step: &StepStanding) -> String {
    let words = &page.words;
    match step.now {
        StepNow::NotYet => step
            .not_before
            .map_or_else(String::new, |at| format!("from {}", words.clock(at, Time::Wait))),
        StepNow::ToDo if step.again => "to be done again".into(),
        StepNow::ToDo => String::new(),
        StepNow::Waiting => step
            .wait
            .map_or_else(String::new, |wait| format!("until {}", words.due(wait.at, Time::Wait))),
        StepNow::Done => step.done.map_or_else(String::new, |at| words.clock(at, Time::Past)),
    }
}

fn checks(page: &Page<'_, '_>) -> Vec<Line> {
    let checks = page.words.readiness().into_iter();
    let line = checks.map(|check| Line {
        is_next: check.is_next,
        shape: check.now.shape(),
        word: check.word,
        style: check.now.style(page.theme),
        what: check.what,
        right: String::new(),
    });
    line.collect()
}

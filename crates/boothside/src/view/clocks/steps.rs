//! The steps of a stage, and the checks before spraying, one a line.

use boothside_core::board::{Next, Stage, Waited};
use boothside_core::session::standing::{StepNow, StepStanding};
use ratatui::style::Style;

use crate::view::page::Page;
use crate::view::pen::Pen;
use crate::view::words::state::{step_shape, step_word};
use crate::view::words::time::Time;

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

pub(super) fn height(page: &Page<'_, '_>) -> u16 {
    u16::try_from(lines(page).len()).unwrap_or(u16::MAX)
}

/// Rows of the checks that come after the steps, for where there is room for them.
pub(super) fn to_come(page: &Page<'_, '_>) -> u16 {
    u16::try_from(checks_to_come(page).len()).unwrap_or(u16::MAX)
}

/// During preparation it is good to know what will be asked: it can be laid out before.
fn checks_to_come(page: &Page<'_, '_>) -> Vec<Line> {
    match page.scene.board.stage {
        Stage::Prep { .. } => checks(page),
        _ => Vec::new(),
    }
}

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let theme = page.theme;
    let mut lines = lines(page);
    let room = usize::from(pen.height());
    if room > lines.len() {
        lines.extend(checks_to_come(page));
    }
    // 'passed 14:09' and a blank
    let words = lines.iter().map(|line| crate::view::text::columns(&line.word));
    let what = 4 + words.max().unwrap_or(0).max(9) + 2;
    let next = lines.iter().position(|line| line.is_next).unwrap_or(0);
    let from = next.saturating_sub(room / 2).min(lines.len().saturating_sub(room));
    for (y, line) in (0..pen.height()).zip(&lines[from..]) {
        let loud = if line.is_next { theme.strong() } else { theme.plain() };
        if line.is_next {
            pen.put(0, y, "▸", theme.chosen());
        }
        pen.put(2, y, line.shape, line.style);
        pen.put(4, y, &line.word, line.style);
        let end = pen.width().saturating_sub(2);
        let right = crate::view::text::columns(&line.right);
        let room = end.saturating_sub(what + right + u16::from(right > 0) * 2);
        pen.put_within(what, y, room, &line.what, loud);
        pen.put_right(end, y, &line.right, theme.plain());
    }
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

//! Screen 5: the film on every face, against what is wanted.

use boothside_core::board::film::{FaceFilm, FilmBoard, film};
use ratatui::style::Style;

use super::bench;
use super::page::Page;
use super::pen::Pen;
use super::text::{columns, cut_name, wrap};
use super::widgets::bar::Bar;
use super::words::film::{FilmState, film_state};

/// Least rows of the table of faces, its head counted.
const LEAST_TABLE: u16 = 4;
/// Columns of mark, shape and name.
const NAME: u16 = 4;
const NAME_MOST: u16 = 28;
/// Columns of the state's word and of a bar.
const STATE: u16 = 12;
const BAR_LEAST: u16 = 8;
const BAR_MOST: u16 = 60;

const CAUTION: &str = "for the maker's balance check, which this is not";

pub(super) fn draw(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    bench::draw(page, pen, draw_body);
}

fn draw_body(page: &Page<'_, '_>, pen: &mut Pen<'_>) {
    let film = film(page.scene.session);
    let (width, height) = (pen.width(), pen.height());
    let mut y = 0;
    for (text, style) in wanted_lines(page, &film, width) {
        pen.put(1, y, &text, style);
        y += 1;
    }
    let faces = u16::try_from(film.faces.len()).unwrap_or(u16::MAX).saturating_add(1);
    let below = lines(page, &film, width);
    let room = height.saturating_sub(y);
    let table = faces.min(room.saturating_sub(below_rows(&below)).max(LEAST_TABLE)).min(room);
    draw_table(page, &mut pen.part(0, y, width, table), &film);
    y += table;
    // what does not fit is cut at the end, but never the caution
    let left = usize::from(height.saturating_sub(y));
    for ((text, style), y) in cut(below, left).into_iter().zip(y..height) {
        pen.put(1, y, &text, style);
    }
}

type Lines = Vec<(String, Style)>;

fn below_rows(lines: &Lines) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

fn cut(mut lines: Lines, room: usize) -> Lines {
    if lines.len() > room
        && let Some(caution) = lines.pop()
    {
        lines.truncate(room.saturating_sub(1));
        lines.push(caution);
    }
    lines
}

fn wanted_lines(page: &Page<'_, '_>, film: &FilmBoard, width: u16) -> Lines {
    let wrapped = |text: String, style: Style| {
        wrap(&text, width.saturating_sub(2)).into_iter().map(move |line| (line, style))
    };
    let wanted = wrapped(page.words.film_wanted(film), page.theme.strong());
    wanted.chain(wrapped(page.words.film_range(film), page.theme.plain())).collect()
}

/// What stands under the table: gauge, scale, weight.
fn lines(page: &Page<'_, '_>, film: &FilmBoard, width: u16) -> Lines {
    let (theme, words) = (page.theme, &page.words);
    let mut lines: Lines = Vec::new();
    for face in &film.faces {
        let Some(dry) = face.dry else { continue };
        let verdict = dry.verdict.map(|verdict| words.dry_verdict(&verdict));
        let style = match dry.verdict {
            Some(verdict) if !verdict.holds() => theme.caution(),
            _ => theme.plain(),
        };
        let verdict = verdict.map_or_else(String::new, |verdict| format!(" · {verdict}"));
        lines.push((format!("{}{verdict}", words.dry_film(face.face, &dry)), style));
    }
    lines.extend(film.pots.iter().map(|pot| (words.pot_film(pot), theme.plain())));
    lines.extend(film.weights.iter().map(|weights| (words.coat_weights(weights), theme.strong())));
    if !film.added.is_empty() {
        let added = film.added.iter().map(|added| format!("added to {}", words.added(added)));
        lines.extend(added.map(|added| (added, theme.plain())));
        lines.push((CAUTION.to_owned(), theme.caution()));
    }
    let fold = |(text, style): (String, Style)| {
        wrap_hanging(&text, width.saturating_sub(2)).into_iter().map(move |line| (line, style))
    };
    lines.into_iter().flat_map(fold).collect()
}

/// Lines after the first are set in, as the first one is and two more.
fn wrap_hanging(text: &str, width: u16) -> Vec<String> {
    let indent: String = text.chars().take_while(|c| *c == ' ').collect();
    let room = width.saturating_sub(columns(&indent) + 2);
    let set_in = |(number, line): (usize, String)| {
        let more = if number == 0 { "" } else { "  " };
        format!("{indent}{more}{line}")
    };
    wrap(text, room).into_iter().enumerate().map(set_in).collect()
}

/// Where the columns of the table begin.
struct Columns {
    name_width: u16,
    coats: Vec<u16>,
    coat_width: u16,
    sum: u16,
    state: u16,
    bar: u16,
    bar_width: u16,
}

impl Columns {
    fn new(page: &Page<'_, '_>, film: &FilmBoard, width: u16) -> Self {
        let names = film.faces.iter().map(|face| columns(&page.words.face(face.face)));
        let texts = film.faces.iter().flat_map(|face| &face.coats);
        let coat_width = texts.map(|coat| columns(&page.words.coat_film(coat))).max().unwrap_or(0);
        let coat_width = coat_width.max(columns("coat 1")) + 2;
        let sums = film.faces.iter().map(|face| columns(&sum(page, face)));
        let sum_width = sums.max().unwrap_or(0).max(columns("dry film")) + 2;
        let name_width = names.max().unwrap_or(0).clamp(4, NAME_MOST);
        let fixed = NAME + name_width + 2 + sum_width + STATE + BAR_LEAST + 1;
        let all = film.faces.iter().map(|face| face.coats.len()).max().unwrap_or(0);
        // older coats give way where there is no room: the sum has them
        let fitting = usize::from(width.saturating_sub(fixed) / coat_width).min(all);
        let first = NAME + name_width + 2;
        let place = |nth: usize| first + coat_width * u16::try_from(nth).unwrap_or(0);
        let sum = place(fitting);
        let bar = sum + sum_width + STATE;
        Self {
            name_width,
            coats: (0..fitting).map(place).collect(),
            coat_width,
            sum,
            state: sum + sum_width,
            bar,
            bar_width: width.saturating_sub(bar + 1).min(BAR_MOST),
        }
    }

    /// The number of the first coat that is shown, of so many.
    fn first_coat(&self, coats: usize) -> usize {
        coats.saturating_sub(self.coats.len())
    }
}

fn draw_table(page: &Page<'_, '_>, pen: &mut Pen<'_>, film: &FilmBoard) {
    let columns = Columns::new(page, film, pen.width());
    let most = film.faces.iter().map(|face| face.coats.len()).max().unwrap_or(0);
    let from = columns.first_coat(most);
    let (theme, head) = (page.theme, page.theme.title());
    pen.put_within(NAME, 0, columns.name_width, "face", head);
    for (nth, x) in columns.coats.iter().enumerate() {
        pen.put_within(*x, 0, columns.coat_width - 2, &format!("coat {}", from + nth + 1), head);
    }
    pen.put(columns.sum, 0, "dry film", head);
    pen.put(columns.state, 0, "result", head);
    let target = film.layer_um.map_or_else(|| "not set".into(), |um| page.words.film_um(um));
    pen.put(columns.bar, 0, &format!("of {target}"), head);
    let all = usize::from(pen.height().saturating_sub(1));
    // where not all fit, the last row says how many more there are
    let rows = if film.faces.len() > all { all.saturating_sub(1) } else { all };
    let chosen = page.scene.chosen.unwrap_or(0);
    let first = chosen.saturating_sub(rows / 2).min(film.faces.len().saturating_sub(rows));
    for (y, face) in (1..pen.height()).zip(film.faces.iter().skip(first).take(rows)) {
        let mut row = pen.part(0, y, pen.width(), 1);
        draw_row(page, &mut row, face, (&columns, from));
    }
    let hidden = film.faces.len().saturating_sub(rows);
    if hidden > 0 {
        let y = pen.height().saturating_sub(1);
        pen.put(NAME, y, &format!("{hidden} more ↑ ↓"), theme.plain());
    }
}

fn draw_row(
    page: &Page<'_, '_>,
    pen: &mut Pen<'_>,
    face: &FaceFilm,
    (columns, from): (&Columns, usize),
) {
    let theme = page.theme;
    let chosen = page.scene.chosen == Some(face.face);
    if chosen {
        pen.put(0, 0, "▸", theme.chosen());
    }
    let state = film_state(face);
    let style = state_style(page, state);
    pen.put(2, 0, state.shape, style);
    let name = cut_name(&page.words.face(face.face), columns.name_width);
    let loud = if chosen { theme.chosen() } else { theme.plain() };
    pen.put_within(NAME, 0, columns.name_width, &name, loud);
    for (coat, x) in face.coats.iter().skip(from).zip(&columns.coats) {
        let text = page.words.coat_film(coat);
        pen.put_within(*x, 0, columns.coat_width - 1, &text, theme.plain());
    }
    pen.put(columns.sum, 0, &sum(page, face), theme.strong());
    pen.put_within(columns.state, 0, STATE - 1, state.word, style);
    if let Some((thin, _)) = face.share {
        let bar = Bar::new(thin).style(theme.plain());
        pen.draw((columns.bar, 0, columns.bar_width, 1), bar);
    }
}

fn sum(page: &Page<'_, '_>, face: &FaceFilm) -> String {
    face.sum_um.map_or_else(|| "–".into(), |ends| page.words.bare_band(ends))
}

const fn state_style(page: &Page<'_, '_>, state: FilmState) -> Style {
    match state.good {
        Some(true) => page.theme.good(),
        Some(false) => page.theme.caution(),
        None => page.theme.plain(),
    }
}

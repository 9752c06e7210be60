//! What was typed, as quantities and times; or, beside its field, why not.

use boothside_core::board::mixing::layer_on_bench;
use boothside_core::session::event::{Lot, Reading, Way};
use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::session::gun::GunSetting;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Figure, Session, figures};
use boothside_core::units::parse::{parse_duration_s, parse_plain, parse_volume_or};
use boothside_core::work::job::ShopUnits;
use chrono::NaiveTime;

use super::measure::Measure;
use super::say::{by_units, temperatures, unread, volumes};
use super::tenths;
use super::{Field, FieldName, Form, FormKind, MixFilled};

/// Where the wall last showed a time, for 'taken at 10:20'.
pub trait Wall {
    /// When the wall last showed `time`, not after now.
    fn last_at(&self, time: NaiveTime) -> Option<Moment>;
}

/// What a form holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Filled {
    /// A reading, or that none can be taken.
    Reading {
        /// The figures; nothing where none was typed.
        figures: Option<Reading>,
        /// Where it was taken.
        place: Option<String>,
        /// With what.
        with: Option<String>,
    },
    /// Plugs and masks; nothing where nothing was typed.
    Count(Way, Option<u32>),
    /// Hours behind the cartridges; nothing where nothing was typed.
    Cartridges(Option<f64>),
    /// A pot of so many mL, with lots.
    Pot {
        /// How much; nothing where nothing was typed.
        amount_ml: Option<f64>,
        /// Lots.
        lots: Vec<Lot>,
    },
    /// So many mL more.
    TopUp {
        /// How much; nothing where nothing was typed.
        amount_ml: Option<f64>,
    },
    /// A true time, or nothing typed.
    TrueTime,
    /// A note, empty where nothing was typed.
    Note(String),
    /// How the gun is set.
    Gun(GunSetting),
    /// Wet films of the face with this number.
    WetFilm(usize, Vec<WetFilm>),
    /// Dry films of the face with this number, and what lies under them, µm.
    DryFilm(usize, Vec<f64>, Option<f64>),
    /// A pot's weights with the coat weighed; nothing where nothing was typed.
    Weighing(Option<(Weighing, Option<u32>)>),
    /// A face was on, or nothing typed.
    WasOn,
    /// The true time of an entry, or nothing typed.
    TimeOf(u64),
    /// A note about an entry, empty where nothing was typed.
    NoteAbout(u64, String),
    /// A figure mended.
    Figure {
        /// Its name.
        field: String,
        /// Its value.
        new: f64,
        /// Why.
        why: String,
    },
    /// A form of the bench.
    Mix(MixFilled),
}

/// Reads a form: what it holds and the true time told, if any. On the first field that does not
/// parse, its error is set, the focus goes there, and nothing is returned.
pub fn read(
    form: &mut Form,
    session: &Session,
    now: Moment,
    wall: &dyn Wall,
) -> Option<(Filled, Option<Moment>)> {
    let units = session.state().work.shop.units;
    match read_all(form, session, units, now, wall) {
        Ok(filled) => Some(filled),
        Err((at, error)) => {
            form.refuse(at, error);
            None
        }
    }
}

pub(super) type Failed = (usize, String);

fn read_all(
    form: &Form,
    session: &Session,
    units: ShopUnits,
    now: Moment,
    wall: &dyn Wall,
) -> Result<(Filled, Option<Moment>), Failed> {
    let fields = Fields { form, units };
    let filled = match form.kind {
        FormKind::Reading => Filled::Reading {
            figures: fields.reading()?,
            place: fields.some_text(FieldName::Place),
            with: fields.some_text(FieldName::With),
        },
        FormKind::CountIn => Filled::Count(Way::In, fields.number()?),
        FormKind::CountOut => Filled::Count(Way::Out, fields.number()?),
        FormKind::Cartridges => Filled::Cartridges(fields.hours()?),
        FormKind::Pot => Filled::Pot { amount_ml: fields.amount()?, lots: fields.lots(session)? },
        FormKind::TopUp => Filled::TopUp { amount_ml: fields.amount()? },
        FormKind::TrueTime => Filled::TrueTime,
        FormKind::Note => Filled::Note(fields.text(FieldName::Text)),
        FormKind::Figure => fields.figure(session)?,
        FormKind::Gun => Filled::Gun(fields.gun()?),
        FormKind::WetFilm(face) => Filled::WetFilm(face, fields.wet_films()?),
        FormKind::DryFilm(face) => {
            let (spots, under) = fields.dry_films()?;
            Filled::DryFilm(face, spots, under)
        }
        FormKind::Weighing => Filled::Weighing(fields.weighing()?),
        FormKind::WasOn => Filled::WasOn,
        FormKind::TimeOf(n) => Filled::TimeOf(n),
        FormKind::NoteAbout(n) => Filled::NoteAbout(n, fields.text(FieldName::Text)),
        FormKind::Mix(kind) => Filled::Mix(fields.mix(kind, session)?),
    };
    let when = fields.parsed(FieldName::When, |text| parse_when(text, now, wall))?;
    Ok((filled, when))
}

pub(super) struct Fields<'a> {
    form: &'a Form,
    pub(super) units: ShopUnits,
}

impl Fields<'_> {
    pub(super) fn find(&self, name: FieldName) -> Option<(usize, &Field)> {
        self.form.fields.iter().enumerate().find(|(_, field)| field.name == name)
    }

    pub(super) fn text(&self, name: FieldName) -> String {
        self.find(name).map_or_else(String::new, |(_, field)| field.text.trim().to_owned())
    }

    fn some_text(&self, name: FieldName) -> Option<String> {
        Some(self.text(name)).filter(|text| !text.is_empty())
    }

    fn number(&self) -> Result<Option<u32>, Failed> {
        self.parsed(FieldName::Number, |text| {
            let accepted = || format!("'{text}' was given; accepted: a whole number such as 14");
            text.parse().map_err(|_| accepted())
        })
    }

    fn hours(&self) -> Result<Option<f64>, Failed> {
        self.parsed(FieldName::Hours, |text| {
            let plain_number = parse_plain(text);
            let seconds = parse_duration_s(text).map(|seconds| seconds / 3600.0);
            plain_number.or(seconds).map_err(|error| unread(&error, "20, 20h or 6.5h"))
        })
    }

    /// The field's value; nothing where nothing was typed.
    pub(super) fn parsed<T>(
        &self,
        name: FieldName,
        parse: impl Fn(&str) -> Result<T, String>,
    ) -> Result<Option<T>, Failed> {
        let Some((at, field)) = self.find(name) else { return Ok(None) };
        let text = field.text.trim();
        if text.is_empty() {
            return Ok(None);
        }
        parse(text).map(Some).map_err(|error| (at, error))
    }

    /// A figure of a reading: °C, or %.
    fn figure_read(&self, name: FieldName) -> Result<Option<f64>, Failed> {
        let accepted = match name {
            FieldName::Humidity => "58, or 58%",
            _ => temperatures(self.units),
        };
        let read = |text: &str| tenths::parse(name, text, self.units);
        self.parsed(name, |text| read(text).map_err(|error| unread(&error, accepted)))
    }

    fn reading(&self) -> Result<Option<Reading>, Failed> {
        let reading = Reading {
            air_c: self.figure_read(FieldName::Air)?,
            humidity_pct: self.figure_read(FieldName::Humidity)?,
            surface_c: self.figure_read(FieldName::Surface)?,
            surface_warmest_c: self.figure_read(FieldName::SurfaceWarmest)?,
            pot_c: self.figure_read(FieldName::PotTemperature)?,
        };
        Ok(Some(reading).filter(|reading| *reading != Reading::default()))
    }

    fn amount(&self) -> Result<Option<f64>, Failed> {
        let (unit, accepted) = (by_units(self.units, "mL", "floz"), volumes(self.units));
        self.parsed(FieldName::Amount, |text| {
            let volume = parse_volume_or(text, unit).map_err(|error| unread(&error, accepted))?;
            Ok(volume.ml())
        })
    }

    fn lots(&self, session: &Session) -> Result<Vec<Lot>, Failed> {
        let sheet = session.state().sheet(layer_on_bench(session.state()));
        self.lots_of(sheet.map_or(&[][..], |sheet| &sheet.mix.components))
    }

    fn figure(&self, session: &Session) -> Result<Filled, Failed> {
        let known = figures(&session.state().work);
        let typed = self.text(FieldName::Figure);
        let figure =
            find_figure(&known, &typed).map_err(|error| (self.at(FieldName::Figure), error))?;
        let measure = Measure::of(&figure.field);
        let new = self.parsed(FieldName::Value, |text| measure.read(text, self.units))?;
        let now = || (self.at(FieldName::Value), now_is(&figure, self.units));
        let new = new.ok_or_else(now)?;
        let why = self.text(FieldName::Why);
        let why = if why.is_empty() { "mistyped".to_owned() } else { why };
        Ok(Filled::Figure { field: figure.field, new, why })
    }

    pub(super) fn at(&self, name: FieldName) -> usize {
        self.find(name).map_or(0, |(at, _)| at)
    }
}

/// A figure's name as a painter reads it: 'sheets grey primer pot life duration'.
fn called(field: &str) -> String {
    let unit = ["_s", "_um", "_ml", "_pct", "_c", "_m2", "_g"];
    let name = unit.iter().find_map(|unit| field.strip_suffix(unit)).unwrap_or(field);
    name.replace(['.', '_', '-'], " ")
}

fn now_is(figure: &Figure, units: ShopUnits) -> String {
    let show = |value| Measure::of(&figure.field).show(value, units);
    let value = figure.value.map_or("not set".to_owned(), show);
    format!("{}: {value} now; type what it truly is", called(&figure.field))
}

/// The one figure whose name holds every word typed.
fn find_figure(known: &[Figure], typed: &str) -> Result<Figure, String> {
    let plain = |text: &str| text.to_lowercase().replace(['.', '_', '-'], " ");
    let wanted = plain(typed);
    let words: Vec<&str> = wanted.split_whitespace().collect();
    let fits = |figure: &&Figure| {
        let name = plain(&figure.field);
        words.iter().all(|word| name.contains(word))
    };
    let fitting: Vec<&Figure> = known.iter().filter(fits).collect();
    let exact =
        known.iter().find(|figure| figure.field == typed || called(&figure.field) == wanted);
    match (exact, fitting.as_slice()) {
        (Some(figure), _) => Ok(figure.clone()),
        (None, [figure]) => Ok((*figure).clone()),
        (None, []) => Err(format!("'{typed}' was given; accepted: part of a figure's name")),
        (None, several) => {
            let names = several.iter().take(3).map(|figure| called(&figure.field));
            let more = several.len().saturating_sub(3);
            let tail = if more > 0 { format!(" and {more} more") } else { String::new() };
            Err(format!("which: {}{tail}", names.collect::<Vec<_>>().join(", ")))
        }
    }
}

const WHEN: &str = "accepted: 10min ago, 2h ago, or a time such as 10:20";

/// 'now', '10min ago', '10min', or a time of the wall.
fn parse_when(text: &str, now: Moment, wall: &dyn Wall) -> Result<Moment, String> {
    if text.eq_ignore_ascii_case("now") {
        return Ok(now);
    }
    let time = NaiveTime::parse_from_str(text, "%H:%M");
    if let Ok(time) = time.or_else(|_| NaiveTime::parse_from_str(text, "%H:%M:%S")) {
        return wall.last_at(time).ok_or_else(|| format!("{text} was not today: {WHEN}"));
    }
    let span = text.strip_suffix("ago").unwrap_or(text).trim();
    match parse_duration_s(span) {
        Ok(seconds) if seconds >= 0.0 => Ok(now.minus(Span::from_seconds(seconds))),
        _ => Err(format!("'{text}' was given; {WHEN}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct At(i64);

    impl Wall for At {
        fn last_at(&self, time: NaiveTime) -> Option<Moment> {
            (time == NaiveTime::from_hms_opt(10, 20, 0)?).then_some(Moment::from_ms(self.0))
        }
    }

    fn when(text: &str) -> Result<i64, String> {
        parse_when(text, Moment::from_ms(3_600_000), &At(77)).map(Moment::ms)
    }

    #[test]
    fn a_true_time_is_told_by_the_clock_or_by_how_long_ago() {
        assert_eq!(when("now"), Ok(3_600_000));
        assert_eq!(when("10min ago"), Ok(3_000_000));
        assert_eq!(when("10 min"), Ok(3_000_000));
        assert_eq!(when("12h ago"), Ok(3_600_000 - 43_200_000));
        assert_eq!(when("10:20"), Ok(77));
        assert_eq!(when("10:20:00"), Ok(77));
        for wrong in ["10", "yesterday", "25:00", "-5min", "10:2x"] {
            assert!(when(wrong).is_err_and(|error| error.contains("10:20")), "{wrong}");
        }
    }

    #[test]
    fn a_figure_is_found_by_part_of_its_name() {
        let figure = |field: &str| Figure { field: field.into(), value: Some(1.0) };
        let known = [
            figure("sheets.primer.pot_life.duration_s"),
            figure("sheets.primer.pot_life.cleaning_reserve_s"),
            figure("layers.1.coats"),
        ];
        assert_eq!(find_figure(&known, "coats").map(|f| f.field), Ok("layers.1.coats".into()));
        assert_eq!(
            find_figure(&known, "pot_life dur").map(|f| f.field),
            Ok(known[0].field.clone())
        );
        assert!(find_figure(&known, "pot_life").is_err_and(|e| e.starts_with("which: ")));
        assert_eq!(
            find_figure(&known, "pot life duration").map(|f| f.field),
            Ok(known[0].field.clone())
        );
        assert!(find_figure(&known, "xyz").is_err_and(|error| error.contains("'xyz'")));
    }
}

//! `reckon wait`.

use super::answer::{Answer, Refusal, refuse};
use super::list::{Fields, commas};
use boothside_core::physics::air::{MAX_TEMPERATURE, MIN_TEMPERATURE};
use boothside_core::physics::rate::{
    AirPoint, AirTrack, Due, Edge, Law, NeverBecause, Outside, RateClock, Speed, Table, Warmth,
    Water, edge_due,
};
use boothside_core::units::parse::{
    parse_duration_s, parse_energy, parse_humidity, parse_plain, parse_temperature,
    parse_temperature_delta,
};
use boothside_core::units::show::{self, System};
use boothside_core::units::{ActivationEnergy, Humidity, Temperature, TemperatureDelta};
use clap::{Args, ValueEnum};

const EXAMPLE: &str = "\
Example:
  $ boothside reckon wait --duration 180min --law warmth --doubles-per 10C \\
      --reference 20C \
--reading 0,26C --edge max
  due       1 h 59 min
  edge      1 h 59 min (max)
  rate now  1.52
  progress  0.0 %";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct WaitArgs {
    /// The stated duration
    #[arg(long, value_name = "D", allow_hyphen_values = true, value_parser = parse_duration_s)]
    duration: f64,
    /// How its speed follows the air
    #[arg(long, value_enum)]
    law: LawName,
    /// Law warmth: the activation energy, such as 60kJ/mol
    #[arg(long, value_name = "E", conflicts_with = "doubles_per", allow_hyphen_values = true)]
    #[arg(value_parser = parse_energy)]
    energy: Option<ActivationEnergy>,
    /// Law warmth: the difference of temperature that doubles the speed, such as 18F
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    #[arg(value_parser = parse_temperature_delta)]
    doubles_per: Option<TemperatureDelta>,
    /// The temperature below which nothing runs; a maximum runs on
    #[arg(long, value_name = "T", allow_hyphen_values = true, value_parser = parse_temperature)]
    floor: Option<Temperature>,
    /// Law table: a duration at a temperature, twice or more
    #[arg(long, value_name = "T,D", allow_hyphen_values = true, value_parser = commas)]
    at_temperature: Vec<Fields>,
    /// The air at which the duration is stated; humidity for law water only
    #[arg(long, value_name = "T,RH", allow_hyphen_values = true, value_parser = commas)]
    reference: Option<Fields>,
    /// The air read at a time from the start; humidity for law water only
    #[arg(long, value_name = "AT,T,RH", allow_hyphen_values = true, value_parser = commas)]
    reading: Vec<Fields>,
    /// The shop factor on the duration of the bare integral
    #[arg(long, value_name = "F", allow_hyphen_values = true, value_parser = parse_plain)]
    factor: Option<f64>,
    /// What the end is: a prediction, a minimum or a maximum
    #[arg(long, value_enum, default_value_t = EdgeName::Bare)]
    edge: EdgeName,
    /// The time of rate and progress [default: the last reading]
    #[arg(long, value_name = "AT", allow_hyphen_values = true, value_parser = parse_duration_s)]
    at: Option<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum LawName {
    Steady,
    Table,
    Warmth,
    Water,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum EdgeName {
    Bare,
    Min,
    Max,
}

impl WaitArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        self.refuse_what_the_law_does_not_take()?;
        let clock = RateClock::new(self.law()?, self.duration)?.with_floor(self.floor)?;
        let track = self.track()?;
        let factor = self.factor.unwrap_or(1.0);
        if factor <= 0.0 {
            return refuse(format!("--factor {factor} is not above 0; accepted: 1, 0.85, 1.2"));
        }
        let due = edge_due(&clock, &track, 0.0, factor);
        let edge_clock = clock.clone().with_edge(self.edge.edge());
        let edge = edge_due(&edge_clock, &track, 0.0, factor);
        let last_s = track.points().last().map_or(0.0, |point| point.at_s);
        let at_s = self.at.unwrap_or(last_s);
        let mut answer = Answer::default();
        put_due(&mut answer, due, edge, self.edge, system);
        let rate = clock.rate_at(&track, at_s);
        answer.number("rate_now", rate);
        answer.line("rate now", show::number(rate, 2));
        let progress = clock.progress(&track, 0.0, at_s);
        answer.number("progress", progress / factor);
        answer.number("progress_at_factor_1", progress);
        answer.number("at_s", at_s);
        answer.line("progress", format!("{} %", show::number(progress / factor * 100.0, 1)));
        note_table_ends(&mut answer, &edge_clock, &track);
        Ok(answer)
    }

    fn refuse_what_the_law_does_not_take(&self) -> Result<(), Refusal> {
        let given = [
            (self.energy.is_some(), "--energy", LawName::Warmth),
            (self.doubles_per.is_some(), "--doubles-per", LawName::Warmth),
            (!self.at_temperature.is_empty(), "--at-temperature", LawName::Table),
        ];
        for (is_given, option, law) in given {
            if is_given && self.law != law {
                let law = if law == LawName::Table { "table" } else { "warmth" };
                return refuse(format!("{option} belongs to --law {law}"));
            }
        }
        Ok(())
    }

    fn law(&self) -> Result<Law, Refusal> {
        match self.law {
            LawName::Steady => Ok(Law::Steady),
            LawName::Table => {
                let pairs = self.at_temperature.iter().map(table_pair);
                Ok(Law::Table(Table::new(pairs.collect::<Result<_, _>>()?)?))
            }
            LawName::Warmth => {
                let (reference, _) = self.reference("such as --reference 20C")?;
                Ok(Law::Warmth(Warmth::new(self.speed()?, reference)?))
            }
            LawName::Water => {
                let needed = "such as --reference 20C,50%";
                match self.reference(needed)? {
                    (reference, Some(humidity)) => Ok(Law::Water(Water::new(reference, humidity)?)),
                    _ => refuse(format!("--law water needs the reference's humidity, {needed}")),
                }
            }
        }
    }

    fn speed(&self) -> Result<Speed, Refusal> {
        match (self.energy, self.doubles_per) {
            (Some(energy), _) => Ok(Speed::Energy { kj_per_mol: energy.kj_per_mol() }),
            (None, Some(delta)) => Ok(Speed::DoublesPer { kelvin: delta.kelvin() }),
            (None, None) => {
                refuse("--law warmth needs --energy (60kJ/mol) or --doubles-per (10C, 18F)")
            }
        }
    }

    fn reference(&self, accepted: &str) -> Result<(Temperature, Option<Humidity>), Refusal> {
        let Some(fields) = &self.reference else {
            return refuse(format!("this law needs a reference, {accepted}"));
        };
        let list =
            fields.between(1, 2, "T,RH, such as 20C,50%, or 20C where no humidity counts")?;
        air_of(fields, &list)
    }

    fn track(&self) -> Result<AirTrack, Refusal> {
        if self.reading.is_empty() && self.law != LawName::Steady {
            return refuse("this law needs the air, such as --reading 0,18.3C,55%");
        }
        if self.reading.is_empty() && self.floor.is_some() {
            return refuse("--floor needs the air, such as --reading 0,18.3C,55%");
        }
        let points = self.reading.iter().map(|fields| self.point(fields));
        Ok(AirTrack::new(points.collect::<Result<_, _>>()?))
    }

    fn point(&self, fields: &Fields) -> Result<AirPoint, Refusal> {
        let list = fields.between(2, 3, "AT,T,RH, such as 90min,18.3C,55%")?;
        let (at, air) = list.split_first().ok_or_else(|| Refusal("an empty reading".to_owned()))?;
        let (temperature, humidity) = air_of(fields, air)?;
        if self.law == LawName::Water {
            if humidity.is_none() {
                return refuse("--law water needs humidity, such as --reading 90min,18.3C,55%");
            }
            if !(MIN_TEMPERATURE..=MAX_TEMPERATURE).contains(&temperature) {
                let celsius = temperature.celsius();
                return refuse(format!("a reading of {celsius} °C is outside −10 to 60 °C"));
            }
        }
        Ok(AirPoint::new(fields.read(at, parse_duration_s)?, temperature, humidity))
    }
}

/// `T` or `T,RH`.
fn air_of(fields: &Fields, list: &[&str]) -> Result<(Temperature, Option<Humidity>), Refusal> {
    let temperature = fields.read(list.first().unwrap_or(&""), parse_temperature)?;
    let humidity = list.get(1).map(|field| fields.read(field, parse_humidity)).transpose()?;
    Ok((temperature, humidity))
}

fn table_pair(fields: &Fields) -> Result<(Temperature, f64), Refusal> {
    let list = fields.between(2, 2, "T,D, such as 20C,4h")?;
    let field = |index: usize| *list.get(index).unwrap_or(&"");
    Ok((fields.read(field(0), parse_temperature)?, fields.read(field(1), parse_duration_s)?))
}

impl EdgeName {
    const fn edge(self) -> Edge {
        match self {
            Self::Bare => Edge::Bare,
            Self::Min => Edge::Min,
            Self::Max => Edge::Max,
        }
    }
}

fn put_due(answer: &mut Answer, due: Due, edge: Due, name: EdgeName, system: System) {
    answer.maybe("due_s", due.at_s());
    answer.maybe("edge_s", edge.at_s());
    if let Due::Never(why) = due {
        answer.put("never_because", because(why, System::Metric));
    }
    let say = |due: Due| match due {
        Due::At(seconds) => show::duration_s(seconds),
        Due::Never(why) => format!("never: {}", because(why, system)),
    };
    answer.line("due", say(due));
    match name {
        EdgeName::Bare => {}
        EdgeName::Min => answer.line("edge", format!("{} (min)", say(edge))),
        EdgeName::Max => answer.line("edge", format!("{} (max)", say(edge))),
    }
}

fn because(why: NeverBecause, system: System) -> String {
    match why {
        NeverBecause::BelowFloor { floor } => {
            format!("does not run below {}", show::temperature(floor, system))
        }
        NeverBecause::AirSaturated => "nothing dries in saturated air".to_owned(),
        NeverBecause::SurfaceAtDewPoint => "nothing dries on a surface at the dew point".to_owned(),
        NeverBecause::TooSlow => "would take more than a hundred years".to_owned(),
    }
}

/// How readings outside a table are met at the end that was asked for.
fn note_table_ends(answer: &mut Answer, clock: &RateClock, track: &AirTrack) {
    if !matches!(clock.law(), Law::Table(_)) {
        return;
    }
    let is_met = |how: Outside| {
        track.points().iter().any(|point| clock.outside_table(point.temperature) == Some(how))
    };
    let (carried_on, held) = (is_met(Outside::CarriedOn), is_met(Outside::Held));
    answer.put("carried_on", carried_on);
    answer.put("table_end_held", held);
    if carried_on {
        answer.note("A reading lies outside the table: carried on beyond its end.");
    }
    if held {
        answer.note("A reading lies outside the table: its nearer end is held.");
    }
}

//! `boothside reckon`: one calculation a call.
//!
//! Each topic is a file: its options, its worked example (which a test runs) and what it answers.

mod air;
mod answer;
mod coverage;
mod dilution;
mod emission;
mod film;
mod list;
mod mix;
mod stock;
mod ventilation;
mod viscosity;
mod wait;
mod weight;

use answer::{Answer, Refusal};
use boothside_core::units::show::System;
use boothside_store::printable;
use clap::{Args, Subcommand, ValueEnum};
use std::io::Write;

/// The options of `boothside reckon`.
#[derive(Debug, Clone, Args)]
pub struct ReckonArgs {
    /// Prints one JSON object with unit-suffixed keys and full precision
    #[arg(long, global = true, help_heading = "Output")]
    json: bool,
    /// The units of the printed lines [default: the shop's]
    #[arg(long, global = true, help_heading = "Output", value_enum)]
    units: Option<Units>,
    #[command(subcommand)]
    topic: Topic,
}

/// The units of the printed lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Units {
    Metric,
    Us,
}

#[derive(Debug, Clone, Subcommand)]
enum Topic {
    /// Dew point, wet bulb and the margin of a surface
    Air(air::AirArgs),
    /// When a wait is over in the air that there is
    Wait(wait::WaitArgs),
    /// Seconds in a flow cup and kinematic viscosity
    Viscosity(viscosity::ViscosityArgs),
    /// What to pour for a mix, and what to add after an over-pour
    Mix(mix::MixArgs),
    /// A can to which thinned material is returned
    Stock(stock::StockArgs),
    /// Wet film and dry film
    Film(film::FilmArgs),
    /// How far a mix goes, and how much to mix
    Coverage(coverage::CoverageArgs),
    /// Air changes of a booth, and how long a purge takes
    Ventilation(ventilation::VentilationArgs),
    /// Air that thins a solvent's vapour to a quarter of its flammable limit
    Dilution(dilution::DilutionArgs),
    /// Volatile organics of a pot as applied
    Emission(emission::EmissionArgs),
    /// The weight that a dry film adds, and its moment
    Weight(weight::WeightArgs),
}

impl Topic {
    fn answer(&self, system: System) -> Result<Answer, Refusal> {
        match self {
            Self::Air(args) => args.answer(system),
            Self::Wait(args) => args.answer(system),
            Self::Viscosity(args) => args.answer(),
            Self::Mix(args) => args.answer(system),
            Self::Stock(args) => args.answer(system),
            Self::Film(args) => args.answer(system),
            Self::Coverage(args) => args.answer(system),
            Self::Ventilation(args) => args.answer(),
            Self::Dilution(args) => args.answer(system),
            Self::Emission(args) => args.answer(system),
            Self::Weight(args) => args.answer(system),
        }
    }
}

/// Computes and prints in the units asked for, else in those of the `shop`; the exit status is 0, or
/// 2 for input that cannot be used, 1 where the output cannot be written.
pub fn run(args: &ReckonArgs, shop: System, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let system = match args.units {
        Some(Units::Metric) => System::Metric,
        Some(Units::Us) => System::Us,
        None => shop,
    };
    let written = match args.topic.answer(system).and_then(Answer::checked) {
        Ok(answer) if args.json => writeln!(out, "{}", answer.json()).map(|()| 0),
        Ok(answer) => out.write_all(answer.text().as_bytes()).map(|()| 0),
        Err(Refusal(why)) => writeln!(err, "error: {}", printable(&why)).map(|()| 2),
    };
    written.unwrap_or(1)
}

#[cfg(test)]
mod tests;

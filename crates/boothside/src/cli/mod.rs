//! The commands at the shell, one file or folder a command.

pub mod check;
pub mod reckon;
pub mod run;
pub mod sessions;

use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

use boothside_core::units::show::System;
use boothside_store::printable;
use clap::{Parser, Subcommand};

use crate::shell::places::Places;
use crate::shell::shop_units::ShopUnits;

/// A full-screen companion for a person who sprays a finish in coats: what next, when, is all
/// ready, will the pot last; and it keeps the record.
#[derive(Debug, Parser)]
#[command(name = "boothside", version)]
struct Cli {
    /// The folder of sessions and the painter's book, in place of this system's own
    #[arg(long, value_name = "DIR", global = true)]
    data: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Rehearses a job on a simulated clock, logging to a throw-away folder
    Rehearse(run::RehearseArgs),
    /// Reckons one figure of the trade
    Reckon(reckon::ReckonArgs),
    /// Checks files: is it sound, and where not?
    Check(check::CheckArgs),
    /// Lists past and open sessions, newest first
    Sessions(sessions::SessionsArgs),
}

/// Runs the command line. Gives the exit status: 0, 1 for a check that did not hold, 2 for input
/// that cannot be used.
pub fn main(
    args: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(why) => {
            // asked for help or version: an answer, not an error
            let wanted = !why.use_stderr();
            // it names what was typed, which may come from a script, with anything in it
            let told = lines_printable(&why.to_string());
            let _ = if wanted { write!(out, "{told}") } else { write!(err, "{told}") };
            return if wanted { 0 } else { 2 };
        }
    };
    let places = match Places::find(cli.data.as_deref()) {
        Ok(places) => places,
        Err(why) => {
            let _ = writeln!(err, "boothside: {why}");
            return 2;
        }
    };
    match cli.command {
        None => run::run(&places, out, err),
        Some(Command::Rehearse(args)) => run::rehearse(&args, &places, out, err),
        Some(Command::Reckon(args)) => reckon::run(&args, shop_units(&places, err), out, err),
        Some(Command::Check(args)) => check::run(&args, out, err),
        Some(Command::Sessions(args)) => sessions::run(&args, places.data(), out, err),
    }
}

/// The shop's units; where its file is broken, that is told.
fn shop_units(places: &Places, err: &mut dyn Write) -> System {
    let shop = ShopUnits::of(&places.book());
    let counts = shop.units.unwrap_or_default();
    if let Some(why) = shop.warning(counts) {
        let _ = writeln!(err, "boothside reckon: {why}");
    }
    counts
}

/// `text`, its line ends as they are, with nothing in its lines that could steer a terminal.
fn lines_printable(text: &str) -> String {
    text.split('\n').map(printable).collect::<Vec<_>>().join("\n")
}

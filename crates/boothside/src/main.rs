//! The `boothside` command.

use boothside::cli::reckon;
use clap::{Parser, Subcommand};
use std::process::ExitCode;

#[derive(Parser)]
#[command(name = "boothside", version)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// One calculation of the trade
    Reckon(reckon::ReckonArgs),
}

fn main() -> ExitCode {
    let Command::Reckon(args) = Cli::parse().command;
    ExitCode::from(reckon::run(&args, &mut std::io::stdout(), &mut std::io::stderr()))
}

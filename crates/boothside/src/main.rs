//! The `boothside` command.

use std::io::{stderr, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(boothside::cli::main(std::env::args_os(), &mut stdout(), &mut stderr()))
}

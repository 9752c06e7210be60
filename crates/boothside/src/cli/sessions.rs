//! `boothside sessions`: past and open sessions, newest first.

mod row;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::path::Path;

use boothside_store::log::{inspect, logs_in};
use boothside_store::storage::RealDisk;
use boothside_store::{printable_json, printable_path};
use clap::Args;
use serde::Serialize;

use row::Row;

/// The options of `boothside sessions`.
#[derive(Debug, Clone, Args)]
pub struct SessionsArgs {
    /// Prints one JSON object
    #[arg(long)]
    pub json: bool,
}

#[derive(Serialize)]
struct Answer<'a> {
    sessions: &'a [Row],
}

/// Lists the sessions under the data folder `data`. Gives the exit status: 0, or 2 where the
/// folder cannot be read.
pub fn run(args: &SessionsArgs, data: &Path, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let folder = data.join("sessions");
    let logs = match logs_in(&RealDisk, &folder) {
        Ok(logs) => logs,
        Err(why) => {
            let folder = printable_path(&folder);
            let _ = writeln!(err, "boothside sessions: {folder} cannot be read: {why}");
            return 2;
        }
    };
    let mut rows: Vec<Row> = logs.iter().map(|log| Row::of(log, inspect(&RealDisk, log))).collect();
    rows.sort_by(Row::newest_first);
    let shown = match args.json {
        true => {
            printable_json(
                &serde_json::to_string_pretty(&Answer { sessions: &rows }).unwrap_or_default(),
            ) + "\n"
        }
        false => as_text(&rows, &folder),
    };
    // nobody reads on: nothing to tell them
    let _ = out.write_all(shown.as_bytes());
    0
}

fn as_text(rows: &[Row], folder: &Path) -> String {
    if rows.is_empty() {
        return format!("no sessions in {}\n", printable_path(folder));
    }
    let head = ["session", "job", "opened", "last entry", "state"].map(str::to_owned);
    let cells: Vec<[String; 5]> =
        std::iter::once(head).chain(rows.iter().map(Row::cells)).collect();
    let width = |column: usize| cells.iter().map(|row| row[column].chars().count()).max();
    let widths = [0, 1, 2, 3, 4].map(|column| width(column).unwrap_or(0));
    let line = |row: &[String; 5]| {
        let padded = row.iter().zip(widths).map(|(cell, width)| format!("{cell:width$}"));
        padded.collect::<Vec<_>>().join("  ").trim_end().to_owned() + "\n"
    };
    cells.iter().map(line).collect()
}

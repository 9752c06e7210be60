//! `reckon ventilation`.

use super::answer::{Answer, PLANNING, Refusal};
use boothside_core::physics::ventilation::{air_changes_per_h, purge_s};
use boothside_core::units::parse::{parse_flow, parse_plain, parse_room_volume, parse_share};
use boothside_core::units::show;
use boothside_core::units::{Flow, Share, Volume};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon ventilation --volume 60m3 --flow 600m3/h --left 1%
  air changes  10.0 an hour
  purge        27 min 38 s to 1.0 % left
  A figure for planning: the safety data sheet, local codes and licensed practice
  decide what protects.";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct VentilationArgs {
    /// Volume of the booth or room
    #[arg(long, value_name = "V", allow_hyphen_values = true, value_parser = parse_room_volume)]
    volume: Volume,
    /// Flow of air through it
    #[arg(long, value_name = "Q", allow_hyphen_values = true, value_parser = parse_flow)]
    flow: Flow,
    /// Share of the vapour still there after the purge: 1% for 99 % removed
    #[arg(long, value_name = "F", allow_hyphen_values = true, value_parser = parse_share)]
    left: Option<Share>,
    /// Mixing factor of the booth, 1 (perfect) to 10
    #[arg(long, value_name = "K", default_value = "1", allow_hyphen_values = true)]
    #[arg(value_parser = parse_plain)]
    mixing: f64,
}

impl VentilationArgs {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let changes = air_changes_per_h(self.volume, self.flow)?;
        let mut answer = Answer::default();
        answer.number("air_changes_per_h", changes);
        answer.line("air changes", format!("{} an hour", show::significant(changes)));
        // the factor is checked even where nothing is purged
        let purge = purge_s(changes, self.left.unwrap_or(Share::from_fraction(0.5)), self.mixing)?;
        if let Some(left) = self.left {
            answer.number("purge_min", purge / 60.0);
            let (time, left) = (show::duration_s(purge), show::share(left));
            answer.line("purge", format!("{time} to {left} left"));
        }
        PLANNING.iter().for_each(|line| answer.note(*line));
        Ok(answer)
    }
}

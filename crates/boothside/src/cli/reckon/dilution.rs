//! `reckon dilution`.

use super::answer::{Answer, PLANNING, Refusal};
use boothside_core::physics::ventilation::dilution_air;
use boothside_core::units::parse::{parse_percent, parse_vapour_volume};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Share, VapourVolume};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon dilution --lel 1.4% --vapour 30.4ft3/gal --units us
  air  8564 ft³/gal of solvent, to a quarter of the limit
  Take the limit from the sheet: published limits differ by up to 30 %.
  A figure for planning: the safety data sheet, local codes and licensed practice
  decide what protects.";

const FT3_PER_GAL_PER_M3_PER_L: f64 = 1000.0 * 77.0 / 576.0;

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct DilutionArgs {
    /// Lower flammable limit of the solvent's vapour in air, such as 1.4%
    #[arg(long, value_name = "L", allow_hyphen_values = true, value_parser = parse_percent)]
    lel: Share,
    /// Vapour that a volume of the solvent gives
    #[arg(long, value_name = "V", allow_hyphen_values = true, value_parser = parse_vapour_volume)]
    vapour: VapourVolume,
}

impl DilutionArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let air = dilution_air(self.lel, self.vapour)?;
        let mut answer = Answer::default();
        answer.number("air_m3_per_l", air.m3_per_l());
        answer.number("air_ft3_per_gal", air.m3_per_l() * FT3_PER_GAL_PER_M3_PER_L);
        let shown = show::vapour_volume(air, system);
        answer.line("air", format!("{shown} of solvent, to a quarter of the limit"));
        answer.note("Take the limit from the sheet: published limits differ by up to 30 %.");
        PLANNING.iter().for_each(|line| answer.note(*line));
        Ok(answer)
    }
}

//! `reckon coverage`.

use super::answer::{Answer, Refusal};
use boothside_core::physics::film::{Demand, solids_as_mixed, spread_m2_per_l, wet_film};
use boothside_core::units::parse::{
    parse_area, parse_film, parse_proportion, parse_share, parse_solids, parse_volume,
};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Area, Film, Share, Volume};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon coverage --area 1.85m2 --dry 12um --solids 36% \\
      --transfer 60% --coats 2
  to mix    206 mL
  spread    30.0 m²/L
  wet film  33.3 µm a coat
  solids    36 %, as mixed 36 %";

const FT2_PER_GAL_PER_M2_PER_L: f64 = 9779.0 / 240.0;

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct CoverageArgs {
    /// Area of all faces
    #[arg(long, value_name = "A", allow_hyphen_values = true, value_parser = parse_area)]
    area: Area,
    /// Dry film of one coat
    #[arg(long, value_name = "D", allow_hyphen_values = true, value_parser = parse_film)]
    dry: Film,
    /// Volume solids before thinning
    #[arg(long, value_name = "S", allow_hyphen_values = true, value_parser = parse_solids)]
    solids: Share,
    /// Thinner added per volume of paint
    #[arg(long, value_name = "F", default_value = "0", allow_hyphen_values = true)]
    #[arg(value_parser = parse_proportion)]
    thinner: f64,
    /// Share of what is sprayed that lands
    #[arg(long, value_name = "TE", default_value = "100%", allow_hyphen_values = true)]
    #[arg(value_parser = parse_share)]
    transfer: Share,
    /// How many coats
    #[arg(long, value_name = "N", default_value_t = 1, allow_hyphen_values = true)]
    coats: u32,
    /// What stays in gun and pot, once
    #[arg(long, value_name = "V", default_value = "0mL", allow_hyphen_values = true)]
    #[arg(value_parser = parse_volume)]
    loss: Volume,
    /// Spare on paint and loss
    #[arg(long, value_name = "S", default_value = "0", allow_hyphen_values = true)]
    #[arg(value_parser = parse_proportion)]
    spare: f64,
}

impl CoverageArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let as_mixed = solids_as_mixed(self.solids, self.thinner)?;
        let demand = Demand {
            area: self.area,
            dry_per_coat: self.dry,
            coats: self.coats,
            as_mixed,
            transfer: self.transfer,
            loss: self.loss,
            spare: self.spare,
        };
        let (volume, wet) = (demand.to_mix()?, wet_film(self.dry, as_mixed)?);
        let spread = spread_m2_per_l(self.dry, as_mixed)?;
        let mut answer = Answer::default();
        answer.number("volume_ml", volume.ml());
        answer.number("sprayed_ml", demand.sprayed()?.ml());
        answer.number("spread_m2_per_l", spread);
        answer.number("wet_um", wet.um());
        answer.line("to mix", show::volume(volume, system));
        answer.line("spread", spread_text(spread, system));
        answer.line("wet film", format!("{} a coat", show::film(wet, system)));
        let (solids, as_mixed) = (show::share(self.solids), show::share(as_mixed));
        answer.line("solids", format!("{solids}, as mixed {as_mixed}"));
        Ok(answer)
    }
}

fn spread_text(m2_per_l: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} m²/L", show::significant(m2_per_l)),
        System::Us => {
            format!("{} ft²/gal", show::significant(m2_per_l * FT2_PER_GAL_PER_M2_PER_L))
        }
    }
}

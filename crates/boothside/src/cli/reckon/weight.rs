//! `reckon weight`.

use super::answer::{Answer, Refusal};
use boothside_core::physics::weight::{added_mass, moment};
use boothside_core::units::parse::{parse_area, parse_density, parse_film, parse_length};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Area, Density, Film, Length};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon weight --area 1.1m2 --dry 20um --density 1.45g/mL \\
      --arm 14cm
  weight  31.9 g
  moment  447 g·cm
  Check the balance by the maker's manual.";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct WeightArgs {
    /// Area of the film
    #[arg(long, value_name = "A", allow_hyphen_values = true, value_parser = parse_area)]
    area: Area,
    /// Its dry thickness
    #[arg(long, value_name = "D", allow_hyphen_values = true, value_parser = parse_film)]
    dry: Film,
    /// Density of the dry film
    #[arg(long, value_name = "RHO", allow_hyphen_values = true, value_parser = parse_density)]
    density: Density,
    /// Its arm about the hinge, positive aft
    #[arg(long, value_name = "L", allow_hyphen_values = true, value_parser = parse_length)]
    arm: Option<Length>,
}

impl WeightArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let mass = added_mass(self.area, self.dry, self.density)?;
        let mut answer = Answer::default();
        answer.number("mass_g", mass.g());
        answer.line("weight", show::mass(mass, system));
        if let Some(arm) = self.arm {
            let moment = moment(mass, arm);
            answer.number("moment_g_m", moment.g_m());
            answer.line("moment", show::moment(moment, system));
            answer.note("Check the balance by the maker's manual.");
        }
        Ok(answer)
    }
}

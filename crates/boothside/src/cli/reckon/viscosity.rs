//! `reckon viscosity`.

use super::answer::{Answer, Refusal};
use boothside_core::physics::viscosity::{Cup, ViscosityError};
use boothside_core::units::KinematicViscosity;
use boothside_core::units::parse::{UnitError, parse_duration_s, parse_kinematic, parse_plain};
use boothside_core::units::show;
use clap::{ArgGroup, Args};

const EXAMPLE: &str = "\
Example:
  $ boothside reckon viscosity --cup ford-4 --seconds 25
  ford-4               25.0 s (valid 20 to 100 s)
  kinematic viscosity  79.0 mm²/s";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
#[command(group = ArgGroup::new("measured").required(true).args(["seconds", "kinematic"]))]
pub(super) struct ViscosityArgs {
    /// iso-3 … iso-6, ford-1 … ford-5, zahn-1 … zahn-5, din-4
    #[arg(long, value_parser = Cup::named)]
    cup: Cup,
    /// How long the cup takes to run out
    #[arg(long, value_name = "S", allow_hyphen_values = true, value_parser = seconds)]
    seconds: Option<f64>,
    /// Kinematic viscosity, such as 60cSt
    #[arg(long, value_name = "N", allow_hyphen_values = true, value_parser = parse_kinematic)]
    kinematic: Option<KinematicViscosity>,
}

/// Seconds, bare or with their unit.
fn seconds(text: &str) -> Result<f64, UnitError> {
    parse_plain(text).or_else(|_| parse_duration_s(text))
}

impl ViscosityArgs {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let (seconds, kinematic) = self.both()?;
        let (from, to) = self.cup.range_s();
        let mut answer = Answer::default();
        answer.put("cup", self.cup.name());
        answer.number("seconds", seconds);
        answer.number("kinematic_mm2_per_s", kinematic.mm2_per_s());
        answer.put("valid_s", vec![from, to]);
        let seconds = show::number(seconds, 1);
        answer.line(self.cup.name(), format!("{seconds} s (valid {from} to {to} s)"));
        answer.line("kinematic viscosity", show::kinematic(kinematic));
        Ok(answer)
    }

    fn both(&self) -> Result<(f64, KinematicViscosity), ViscosityError> {
        match self.kinematic {
            Some(kinematic) => Ok((self.cup.seconds(kinematic)?, kinematic)),
            None => {
                let seconds = self.seconds.unwrap_or_default();
                Ok((seconds, self.cup.kinematic(seconds)?))
            }
        }
    }
}

//! `reckon film`.

use super::answer::{Answer, Refusal, refuse};
use boothside_core::physics::FigureError;
use boothside_core::physics::film::{dry_film, solids_as_mixed, wet_film};
use boothside_core::units::parse::{parse_film, parse_proportion, parse_solids};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Film, Share};
use clap::{ArgGroup, Args};

const EXAMPLE: &str = "\
Example:
  $ boothside reckon film --dry 30um --solids 52% --thinner 12%
  wet film  64.6 µm
  dry film  30.0 µm
  solids    52 %, as mixed 46 %";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
#[command(group = ArgGroup::new("film").required(true).args(["wet", "dry"]))]
pub(super) struct FilmArgs {
    /// Wet film, such as 100um or 4mil; over 1 mm only with --thick
    #[arg(long, value_name = "W", allow_hyphen_values = true, value_parser = parse_film)]
    wet: Option<Film>,
    /// Dry film
    #[arg(long, value_name = "D", allow_hyphen_values = true, value_parser = parse_film)]
    dry: Option<Film>,
    /// Volume solids before thinning
    #[arg(long, value_name = "S", allow_hyphen_values = true, value_parser = parse_solids)]
    solids: Share,
    /// Thinner added per volume of paint
    #[arg(long, value_name = "F", default_value = "0", allow_hyphen_values = true)]
    #[arg(value_parser = parse_proportion)]
    thinner: f64,
    /// A wet film over 1 mm is meant
    #[arg(long)]
    thick: bool,
}

/// A wet film above this is rather a slip of the unit than a coat.
const THICKEST: Film = Film::from_um(1000.0);

impl FilmArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let as_mixed = solids_as_mixed(self.solids, self.thinner)?;
        let (wet, dry) = self.both(as_mixed)?;
        if wet > THICKEST && !self.thick {
            return refuse(thick(wet, system));
        }
        let mut answer = Answer::default();
        answer.number("wet_um", wet.um());
        answer.number("dry_um", dry.um());
        answer.number("solids_as_mixed", as_mixed.fraction());
        answer.line("wet film", show::film(wet, system));
        answer.line("dry film", show::film(dry, system));
        let (solids, as_mixed) = (show::share(self.solids), show::share(as_mixed));
        answer.line("solids", format!("{solids}, as mixed {as_mixed}"));
        Ok(answer)
    }

    fn both(&self, as_mixed: Share) -> Result<(Film, Film), FigureError> {
        match self.wet {
            Some(wet) => Ok((wet, dry_film(wet, as_mixed)?)),
            None => {
                let dry = self.dry.unwrap_or(Film::from_um(0.0));
                Ok((wet_film(dry, as_mixed)?, dry))
            }
        }
    }
}

/// Asks whether so thick a wet film is meant.
fn thick(wet: Film, system: System) -> String {
    let (wet, most) = (show::film(wet, system), show::film(THICKEST, system));
    format!(
        "{wet} of wet film is no coat: 4mil or 4mm? accepted: up to {most}, and more with --thick"
    )
}

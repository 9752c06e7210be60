//! `reckon stock`.

use super::answer::{Answer, Refusal};
use super::list::{Fields, commas};
use boothside_core::material::stock::{Content, Cycle};
use boothside_core::units::parse::{parse_proportion, parse_share, parse_volume};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Share, Volume};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon stock --volume 1L --can-share 0% --cycle 300mL,10%,200mL
  after cycle 1  830 mL in the can, 1.4 % thinner (9.1 % in the cup)";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct StockArgs {
    /// What the can holds
    #[arg(long, value_name = "V", allow_hyphen_values = true, value_parser = parse_volume)]
    volume: Volume,
    /// The thinner's share of what is in the can
    #[arg(long, value_name = "F", allow_hyphen_values = true, value_parser = parse_share)]
    can_share: Share,
    /// Poured from the can, thinner added per amount poured, used of the mix; the rest goes back
    #[arg(long, value_name = "POURED,RATIO,USED", required = true, allow_hyphen_values = true)]
    #[arg(value_parser = commas)]
    cycle: Vec<Fields>,
}

impl StockArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let mut can = Content::new(self.volume, self.can_share)?;
        let mut answer = Answer::default();
        let mut cycles = Vec::new();
        for (index, fields) in self.cycle.iter().enumerate() {
            let after = can.after(&cycle(fields)?)?;
            can = after.can;
            cycles.push(answer.object(&[
                ("can_ml", can.volume.ml()),
                ("can_share", can.thinner.fraction()),
                ("cup_share", after.cup.fraction()),
                ("returned_ml", after.returned.ml()),
            ]));
            let (left, share) = (show::volume(can.volume, system), show::share(can.thinner));
            let cup = show::share(after.cup);
            answer.line(
                format!("after cycle {}", index + 1),
                format!("{left} in the can, {share} thinner ({cup} in the cup)"),
            );
        }
        answer.put("cycles", cycles);
        Ok(answer)
    }
}

fn cycle(fields: &Fields) -> Result<Cycle, Refusal> {
    let list = fields.between(3, 3, "POURED,RATIO,USED, such as 300mL,10%,200mL")?;
    let field = |index: usize| *list.get(index).unwrap_or(&"");
    Ok(Cycle {
        poured: fields.read(field(0), parse_volume)?,
        thinner_per_poured: fields.read(field(1), parse_proportion)?,
        used: fields.read(field(2), zero_or_volume)?,
    })
}

/// A volume; nothing used may be a bare 0.
fn zero_or_volume(text: &str) -> Result<Volume, boothside_core::units::parse::UnitError> {
    if text.trim() == "0" { Ok(Volume::from_ml(0.0)) } else { parse_volume(text) }
}

//! `reckon emission`.

use super::answer::{Answer, Refusal};
use super::list::{Fields, commas};
use boothside_core::physics::emission::{
    Composition, Emission, Quoted, from_compositions, from_quoted,
};
use boothside_core::units::Density;
use boothside_core::units::parse::{parse_density, parse_share, parse_voc, parse_volume};
use boothside_core::units::show::{self, System};
use clap::{ArgGroup, Args};

const EXAMPLE: &str = "\
Example:
  $ boothside reckon emission --quoted 400mL,480g/L --quoted 100mL,210g/L \\
      --quoted 50mL,860g/L
  as applied         465.5 g/L
  less water         not known from quoted figures without their water
  volatile organics  256.0 g
  A figure for the record: the sheet and local rules decide what may be applied.";

const COMPONENT: &str = "VOLUME,DENSITY,VOLATILE%,WATER%,EXEMPT%,EXEMPT_DENSITY, such as \
1L,1.2g/mL,60%,40%,0%";

/// More than any usual organic solvent weighs, so that a litre of mix cannot give off more.
const DENSEST: Density = Density::from_g_per_ml(1.5);

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
#[command(group = ArgGroup::new("pot").required(true).args(["component", "quoted"]))]
pub(super) struct EmissionArgs {
    /// A component by its composition, percent by weight; VOLATILE% includes water and exempt
    #[arg(long, value_name = "VOLUME,DENSITY,VOLATILE%,WATER%,EXEMPT%,EXEMPT_DENSITY")]
    #[arg(allow_hyphen_values = true, value_parser = commas)]
    component: Vec<Fields>,
    /// A component by its quoted figure per volume as bought; its volume of water and exempt
    /// solvent may follow
    #[arg(long, value_name = "VOLUME,VOC[,WATER]", allow_hyphen_values = true)]
    #[arg(value_parser = commas)]
    quoted: Vec<Fields>,
}

impl EmissionArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let emission = self.emission()?;
        let mut answer = Answer::default();
        answer.number("voc_g_per_l", emission.voc.g_per_ml() * 1000.0);
        let less_water = emission.voc_less_water.map(|voc| voc.g_per_ml() * 1000.0);
        answer.maybe("voc_less_water_g_per_l", less_water);
        answer.number("voc_mass_g", emission.voc_mass.g());
        answer.number("volume_ml", emission.volume.ml());
        answer.maybe("density_g_per_ml", emission.density.map(Density::g_per_ml));
        answer.line("as applied", show::voc(emission.voc, system));
        answer.line("less water", self.less_water_text(&emission, system));
        answer.line("volatile organics", show::mass(emission.voc_mass, system));
        if let Some(density) = emission.density {
            answer.line("density", show::density(density, system));
        }
        let figures = [Some(emission.voc), emission.voc_less_water];
        if figures.into_iter().flatten().any(|voc| voc > DENSEST) {
            let most = show::voc(DENSEST, system);
            let note = format!(
                "No organic solvent is so heavy that a litre holds over {most}: what the percentages \
                 round away makes this figure."
            );
            answer.put("note", note.as_str());
            answer.note(note);
        }
        answer
            .note("A figure for the record: the sheet and local rules decide what may be applied.");
        Ok(answer)
    }

    fn emission(&self) -> Result<Emission, Refusal> {
        if self.quoted.is_empty() {
            let components = self.component.iter().map(composition);
            Ok(from_compositions(&components.collect::<Result<Vec<_>, _>>()?)?)
        } else {
            let components = self.quoted.iter().map(quoted);
            Ok(from_quoted(&components.collect::<Result<Vec<_>, _>>()?)?)
        }
    }

    fn less_water_text(&self, emission: &Emission, system: System) -> String {
        match emission.voc_less_water {
            Some(voc) => show::voc(voc, system),
            None if self.quoted.is_empty() => {
                "there is nothing but water and exempt solvent".to_owned()
            }
            None => "not known from quoted figures without their water".to_owned(),
        }
    }
}

fn composition(fields: &Fields) -> Result<Composition, Refusal> {
    let list = fields.between(5, 6, COMPONENT)?;
    let field = |index: usize| *list.get(index).unwrap_or(&"");
    let exempt_density = match field(5) {
        "" => None,
        density => Some(fields.read(density, parse_density)?),
    };
    Ok(Composition {
        volume: fields.read(field(0), parse_volume)?,
        density: fields.read(field(1), parse_density)?,
        volatile: fields.read(field(2), parse_share)?,
        water: fields.read(field(3), parse_share)?,
        exempt: fields.read(field(4), parse_share)?,
        exempt_density,
    })
}

fn quoted(fields: &Fields) -> Result<Quoted, Refusal> {
    let list = fields.between(2, 3, "VOLUME,VOC, such as 400mL,480g/L")?;
    let field = |index: usize| *list.get(index).unwrap_or(&"");
    Ok(Quoted {
        volume: fields.read(field(0), parse_volume)?,
        voc: fields.read(field(1), parse_voc)?,
        water_and_exempt: list.get(2).map(|text| fields.read(text, parse_volume)).transpose()?,
    })
}

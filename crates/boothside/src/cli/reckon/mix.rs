//! `reckon mix`.

use super::answer::{Answer, Refusal, refuse};
use super::list::{Fields, colons, commas};
use boothside_core::material::recipe::{
    Basis, Component, Plan, Recipe, Rescaled, poured_from_readings,
};
use boothside_core::units::parse::{
    Amount, Problem, UnitError, parse_density, parse_mass, parse_percent, parse_plain,
    parse_volume, parse_volume_or_mass,
};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Mass, Share, Volume};
use clap::{ArgGroup, Args, ValueEnum};

const EXAMPLE: &str = "\
Example:
  $ boothside reckon mix --parts 100:25:10 --by weight \\
      --density 1.3g/mL,1.1g/mL,0.9g/mL \
--mass 540g --poured 412g
  1            400.0 g · 308 mL · scale 400.0 g · mark 308 mL
               poured 412.0 g · now 412.0 g · add 0.0 g
  2            100.0 g · 90.9 mL · scale 500.0 g · mark 399 mL
               poured 0.0 g · now 103.0 g · add 103.0 g
  3            40.0 g · 44.4 mL · scale 540.0 g · mark 443 mL
               poured 0.0 g · now 41.2 g · add 41.2 g
  whole pot    540.0 g · 443 mL · 1.219 g/mL
  after pours  556.2 g · 456 mL · 1.030 times the plan";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
#[command(group = ArgGroup::new("amount").required(true).args(["volume", "mass", "have"]))]
pub(super) struct MixArgs {
    /// Parts of the components in pouring order, such as 4:1:1.5
    #[arg(long, allow_hyphen_values = true, value_parser = colons)]
    parts: Fields,
    /// What the parts count
    #[arg(long, value_enum)]
    by: By,
    /// Density of each component, such as 1.2g/mL,1.05g/mL
    #[arg(long, value_name = "D,D,…", allow_hyphen_values = true, value_parser = commas)]
    density: Fields,
    /// Volume to mix
    #[arg(long, value_name = "V", allow_hyphen_values = true, value_parser = parse_volume)]
    volume: Option<Volume>,
    /// Mass to mix
    #[arg(long, value_name = "M", allow_hyphen_values = true, value_parser = parse_mass)]
    mass: Option<Mass>,
    /// The largest pot from an amount of component I (the first is 1)
    #[arg(long, value_name = "I,V|M", allow_hyphen_values = true, value_parser = commas)]
    have: Option<Fields>,
    /// What was poured of each component; 0 or missing: not yet
    #[arg(long, value_name = "G,G,…", conflicts_with = "scale_readings")]
    #[arg(allow_hyphen_values = true, value_parser = commas)]
    poured: Option<Fields>,
    /// The running totals that a tared scale showed
    #[arg(long, value_name = "G,G,…", allow_hyphen_values = true, value_parser = commas)]
    scale_readings: Option<Fields>,
    /// The scale's step
    #[arg(long, value_name = "G", allow_hyphen_values = true, value_parser = parse_mass)]
    step: Option<Mass>,
    /// The error of a component that may be, such as 2%
    #[arg(long, value_name = "S", requires = "step", allow_hyphen_values = true)]
    #[arg(value_parser = parse_percent)]
    tolerance: Option<Share>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum By {
    Volume,
    Weight,
}

impl MixArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let plan = self.plan(&self.recipe()?)?;
        let pours = self.pours()?.map(|poured| plan.after_pours(&poured)).transpose()?;
        let mut answer = Answer::default();
        put_components(&mut answer, &plan, pours.as_ref(), system);
        put_totals(&mut answer, &plan, pours.as_ref(), system);
        if let Some(step) = self.step {
            self.put_scale(&mut answer, &plan, step, system)?;
        }
        Ok(answer)
    }

    fn recipe(&self) -> Result<Recipe, Refusal> {
        let parts = self.parts.each(parse_plain)?;
        let densities = self.density.each(parse_density)?;
        if parts.len() != densities.len() {
            let (parts, densities) = (parts.len(), densities.len());
            return refuse(format!(
                "{parts} parts and {densities} densities; each component needs one of both"
            ));
        }
        let components = parts.into_iter().zip(densities);
        let components = components.map(|(parts, density)| Component { parts, density }).collect();
        let basis = match self.by {
            By::Volume => Basis::Volume,
            By::Weight => Basis::Weight,
        };
        Ok(Recipe::new(basis, components)?)
    }

    fn plan(&self, recipe: &Recipe) -> Result<Plan, Refusal> {
        if let Some(volume) = self.volume {
            return Ok(recipe.for_volume(volume)?);
        }
        if let Some(mass) = self.mass {
            return Ok(recipe.for_mass(mass)?);
        }
        let Some(have) = &self.have else {
            return refuse("--volume, --mass or --have is missing");
        };
        let list = have.between(2, 2, "I,AMOUNT, such as 2,690g (the first component is 1)")?;
        let field = |index: usize| *list.get(index).unwrap_or(&"");
        let Ok(component) = field(0).parse::<usize>() else {
            let given = field(0);
            return refuse(format!("'{given}' is no component; accepted: 1, 2, 3 …"));
        };
        let amount = field(1);
        if matches!(self.by, By::Volume) && is_bare_ounces(amount) {
            let number = amount.trim_end_matches(|c: char| !c.is_ascii_digit());
            return refuse(format!(
                "'{amount}' in a recipe by volume: {number}floz or {number}oz of weight? accepted: \
                 {number}floz, 45mL; a weight in g, kg or lb"
            ));
        }
        Ok(match have.read(amount, parse_volume_or_mass)? {
            Amount::Volume(volume) => recipe.from_component_volume(component, volume)?,
            Amount::Mass(mass) => recipe.from_component_mass(component, mass)?,
        })
    }

    fn pours(&self) -> Result<Option<Vec<Mass>>, Refusal> {
        if let Some(readings) = &self.scale_readings {
            return Ok(Some(poured_from_readings(&readings.each(parse_mass)?)?));
        }
        Ok(self.poured.as_ref().map(|poured| poured.each(pour)).transpose()?)
    }

    fn put_scale(
        &self,
        answer: &mut Answer,
        plan: &Plan,
        step: Mass,
        system: System,
    ) -> Result<(), Refusal> {
        let error = plan.ratio_error(step)?;
        answer.number("ratio_error", error.fraction());
        let percent = show::number(error.fraction() * 100.0, 2);
        answer.line("ratio error", format!("{percent} % by the scale's step"));
        if let Some(tolerance) = self.tolerance {
            let smallest = plan.smallest_mass(step, tolerance)?;
            answer.number("smallest_mass_g", smallest.g());
            answer.line("smallest pot", show::mass(smallest, system));
        }
        Ok(())
    }
}

/// Whether an amount is told in ounces that may be fluid ones.
fn is_bare_ounces(text: &str) -> bool {
    let unit = parse_volume(text).map_err(|error| error.problem);
    matches!(unit, Err(Problem::UnknownUnit(unit))
        if matches!(unit.to_lowercase().trim_end_matches('.'), "oz" | "ounce" | "ounces"))
}

/// A pour; nothing, or a bare 0, is not poured yet.
fn pour(text: &str) -> Result<Mass, UnitError> {
    if matches!(text.trim(), "" | "0") { Ok(Mass::from_g(0.0)) } else { parse_mass(text) }
}

fn put_components(answer: &mut Answer, plan: &Plan, pours: Option<&Rescaled>, system: System) {
    let mut components = Vec::new();
    // one unit in the whole column
    let most = pours.map_or(plan.total_mass(), |pours| larger(pours.new_mass, plan.total_mass()));
    let mass_of = |mass| show::mass_beside(mass, most, system);
    for (index, line) in plan.lines().iter().enumerate() {
        let mut fields = vec![
            ("parts", line.parts),
            ("volume_ml", line.volume.ml()),
            ("mass_g", line.mass.g()),
            ("scale_total_g", line.scale_total.g()),
            ("mark_ml", line.mark.ml()),
        ];
        let (mass, volume) = (mass_of(line.mass), show::volume(line.volume, system));
        let (total, mark) = (mass_of(line.scale_total), show::volume(line.mark, system));
        answer.line(
            (index + 1).to_string(),
            format!("{mass} · {volume} · scale {total} · mark {mark}"),
        );
        if let Some(poured) = pours.and_then(|pours| pours.lines.get(index)) {
            fields.extend([
                ("poured_g", poured.poured.g()),
                ("new_g", poured.new.g()),
                ("add_g", poured.add.g()),
            ]);
            let [was, now, add] = [poured.poured, poured.new, poured.add].map(mass_of);
            answer.line("", format!("poured {was} · now {now} · add {add}"));
        }
        components.push(answer.object(&fields));
    }
    answer.put("components", components);
}

fn larger(one: Mass, other: Mass) -> Mass {
    if one > other { one } else { other }
}

fn put_totals(answer: &mut Answer, plan: &Plan, pours: Option<&Rescaled>, system: System) {
    let (volume, mass, density) = (plan.total_volume(), plan.total_mass(), plan.density());
    answer.number("total_volume_ml", volume.ml());
    answer.number("total_mass_g", mass.g());
    answer.number("density_g_per_ml", density.g_per_ml());
    let density = show::density(density, system);
    let (mass, volume) = (show::mass(mass, system), show::volume(volume, system));
    answer.line("whole pot", format!("{mass} · {volume} · {density}"));
    if let Some(pours) = pours {
        answer.number("scale_factor", pours.scale_factor);
        answer.number("new_volume_ml", pours.new_volume.ml());
        answer.number("new_mass_g", pours.new_mass.g());
        let (mass, volume) =
            (show::mass(pours.new_mass, system), show::volume(pours.new_volume, system));
        let factor = show::number(pours.scale_factor, 3);
        answer.line("after pours", format!("{mass} · {volume} · {factor} times the plan"));
    }
}

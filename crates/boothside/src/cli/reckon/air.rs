//! `reckon air`.

use super::answer::{Answer, Refusal, refuse};
use boothside_core::physics::air::{self, AirError};
use boothside_core::units::parse::{
    parse_humidity, parse_length, parse_pressure, parse_temperature, parse_temperature_delta,
};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Humidity, Length, Pressure, Temperature, TemperatureDelta};
use clap::Args;

const EXAMPLE: &str = "\
Example:
  $ boothside reckon air --temperature 18C --humidity 62% --surface 15.5C
  saturation pressure  2065 Pa
  vapour pressure      1280 Pa
  dew point            10.6 °C
  wet bulb             13.7 °C
  humidity ratio       7.96 g/kg
  surface margin       4.9 °C, enough (3.0 °C)";

#[derive(Debug, Clone, Args)]
#[command(after_help = EXAMPLE)]
pub(super) struct AirArgs {
    /// Temperature of the air, −10 to 60 °C
    #[arg(long, value_name = "T", allow_hyphen_values = true, value_parser = parse_temperature)]
    temperature: Temperature,
    /// Relative humidity, such as 55%
    #[arg(long, value_name = "RH", allow_hyphen_values = true, value_parser = parse_humidity)]
    humidity: Humidity,
    /// Temperature of the surface
    #[arg(long, value_name = "T", allow_hyphen_values = true, value_parser = parse_temperature)]
    surface: Option<Temperature>,
    /// What the surface must be above the dew point [default: 3.0 °C]
    #[arg(long, value_name = "D", requires = "surface", allow_hyphen_values = true)]
    #[arg(value_parser = parse_temperature_delta)]
    margin: Option<TemperatureDelta>,
    /// Air pressure [default: 1013.25 hPa]
    #[arg(long, value_name = "P", conflicts_with = "height", allow_hyphen_values = true)]
    #[arg(value_parser = parse_pressure)]
    pressure: Option<Pressure>,
    /// Height above the sea, for the pressure of the standard atmosphere
    #[arg(long, value_name = "H", allow_hyphen_values = true, value_parser = parse_length)]
    height: Option<Length>,
}

impl AirArgs {
    pub(super) fn answer(&self, system: System) -> Result<Answer, Refusal> {
        let (air, humidity, pressure) = (self.temperature, self.humidity, self.pressure()?);
        let mut answer = Answer::default();
        let saturation = air::saturation_pressure(air)?.pa();
        answer.number("saturation_pressure_pa", saturation);
        answer.line("saturation pressure", format!("{} Pa", show::number(saturation, 0)));
        let vapour = air::vapour_pressure(air, humidity)?.pa();
        answer.number("vapour_pressure_pa", vapour);
        answer.line("vapour pressure", format!("{} Pa", show::number(vapour, 0)));
        answer.number("pressure_pa", pressure.pa());
        let dew = air::dew_point(air, humidity)?;
        dew_point(&mut answer, dew, system);
        self.wet_bulb(&mut answer, pressure, system)?;
        let ratio = air::humidity_ratio(air, humidity, pressure)?;
        answer.number("humidity_ratio", ratio);
        answer.line("humidity ratio", format!("{} g/kg", show::significant(ratio * 1000.0)));
        if let Some(surface) = self.surface {
            self.margin(&mut answer, surface, dew, system)?;
        }
        Ok(answer)
    }

    fn pressure(&self) -> Result<Pressure, AirError> {
        match (self.pressure, self.height) {
            (Some(pressure), _) => Ok(pressure),
            (None, Some(height)) => air::pressure_at_height(height),
            (None, None) => Ok(air::STANDARD_PRESSURE),
        }
    }

    fn wet_bulb(
        &self,
        answer: &mut Answer,
        pressure: Pressure,
        system: System,
    ) -> Result<(), AirError> {
        match air::wet_bulb(self.temperature, self.humidity, pressure) {
            Ok(wet) => {
                answer.number("wet_bulb_c", wet.celsius());
                answer.line("wet bulb", show::temperature(wet, system));
            }
            Err(error @ AirError::WetBulbBelowRange) => {
                answer.maybe("wet_bulb_c", None);
                answer.put("wet_bulb_note", error.to_string());
                answer.line("wet bulb", format!("below {}", lowest(system)));
            }
            Err(error) => return Err(error),
        }
        Ok(())
    }

    fn margin(
        &self,
        answer: &mut Answer,
        surface: Temperature,
        dew: Option<Temperature>,
        system: System,
    ) -> Result<(), Refusal> {
        let limit = self.margin.unwrap_or(air::USUAL_MARGIN);
        if limit.kelvin() < 0.0 {
            return refuse("--margin cannot be negative; accepted: 3C, 5F");
        }
        // where the dew point is only known to lie below the range, so is the margin
        let above = surface - dew.unwrap_or(air::MIN_TEMPERATURE);
        let enough = above.kelvin() >= limit.kelvin() - 1e-9;
        answer.maybe("surface_margin_c", dew.map(|_| above.kelvin()));
        answer.put("surface_margin_ok", (dew.is_some() || enough).then_some(enough));
        let verdict = match (dew, enough) {
            (_, true) => "enough",
            (Some(_), false) => "too little",
            (None, false) => "not known to be enough",
        };
        let (more, limit) =
            (if dew.is_none() { "over " } else { "" }, show::temperature_delta(limit, system));
        let margin = show::temperature_delta(above, system);
        answer.line("surface margin", format!("{more}{margin}, {verdict} ({limit})"));
        Ok(())
    }
}

fn dew_point(answer: &mut Answer, dew: Option<Temperature>, system: System) {
    answer.maybe("dew_point_c", dew.map(Temperature::celsius));
    let Some(dew) = dew else {
        answer.put(
            "dew_point_note",
            "below −10 °C, outside the formula; over liquid water, as hygrometers report it",
        );
        answer.line("dew point", format!("below {}", lowest(system)));
        return;
    };
    answer.line("dew point", show::temperature(dew, system));
    if dew.celsius() < 0.0 {
        answer.put("dew_point_note", "over liquid water, as hygrometers report it");
    }
}

fn lowest(system: System) -> String {
    show::temperature(air::MIN_TEMPERATURE, system)
}

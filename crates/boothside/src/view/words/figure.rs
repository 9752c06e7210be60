//! Figures in the shop's units.

use boothside_core::physics::rate::NeverBecause;
use boothside_core::session::event::Reading;
use boothside_core::work::job::ShopUnits;

use super::Words;

/// mL in a US fluid ounce: 231 in³ a gallon, 128 of them in it (NIST Handbook 44, appendix C, from
/// memory).
const ML_PER_FL_OZ: f64 = 29.573_529_562_5;

/// g in an avoirdupois ounce, m² in a square foot, µm in a mil: exact by the definitions of pound
/// and inch (NIST Handbook 44, appendix C, from memory).
const G_PER_OZ: f64 = 28.349_523_125;
const M2_PER_FT2: f64 = 0.092_903_04;
const UM_PER_MIL: f64 = 25.4;

/// Writes figures in one shop's units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Figures {
    units: ShopUnits,
}

impl Figures {
    /// Figures in `units`.
    #[must_use]
    pub const fn new(units: ShopUnits) -> Self {
        Self { units }
    }

    /// A temperature: '19.4 °C'.
    #[must_use]
    pub fn temperature(self, celsius: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} °C", tenths(celsius)),
            ShopUnits::Us => format!("{} °F", tenths(celsius * 1.8 + 32.0)),
        }
    }

    /// A temperature of a sheet, without needless tenths: '23 °C'.
    #[must_use]
    pub fn stated_temperature(self, celsius: f64) -> String {
        let text = self.temperature(celsius);
        text.replacen(".0 ", " ", 1)
    }

    /// The same, its unit left out: '23'.
    #[must_use]
    pub fn bare_temperature(self, celsius: f64) -> String {
        let text = self.stated_temperature(celsius);
        text.split(' ').next().unwrap_or_default().to_owned()
    }

    /// The ends of a rule of thumb, in whole degrees: '10 to 32 °C', '50 to 90 °F'.
    #[must_use]
    pub fn about_temperatures(self, (low_c, high_c): (f64, f64)) -> String {
        let (low, high, unit) = match self.units {
            ShopUnits::Metric => (low_c, high_c, "°C"),
            ShopUnits::Us => (low_c * 1.8 + 32.0, high_c * 1.8 + 32.0, "°F"),
        };
        format!("{low:.0} to {high:.0} {unit}")
    }

    /// A difference of temperature, its unit left out: '7.9'.
    #[must_use]
    pub fn difference(self, kelvin: f64) -> String {
        match self.units {
            ShopUnits::Metric => tenths(kelvin),
            ShopUnits::Us => tenths(kelvin * 1.8),
        }
    }

    /// A volume: '239 mL', '8.1 fl oz'.
    #[must_use]
    pub fn volume(self, ml: f64) -> String {
        format!("{} {}", self.bare_volume(ml), self.volume_unit())
    }

    /// A volume without its unit.
    #[must_use]
    pub fn bare_volume(self, ml: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{:.0}", ml + 0.0),
            ShopUnits::Us => format!("{:.1}", ml / ML_PER_FL_OZ + 0.0),
        }
    }

    /// A small volume, with tenths below 100 mL: '12.0 mL', '0.41 fl oz'.
    #[must_use]
    pub fn small_volume(self, ml: f64) -> String {
        match self.units {
            ShopUnits::Metric if ml < 100.0 => format!("{} mL", tenths(ml)),
            ShopUnits::Metric => self.volume(ml),
            ShopUnits::Us => format!("{:.2} fl oz", ml / ML_PER_FL_OZ + 0.0),
        }
    }

    /// A mass: '398.2 g', '14.05 oz'.
    #[must_use]
    pub fn mass(self, g: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} g", tenths(g)),
            ShopUnits::Us => format!("{:.2} oz", g / G_PER_OZ + 0.0),
        }
    }

    /// An area: '1.82 m²', '19.6 ft²'.
    #[must_use]
    pub fn area(self, m2: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} m²", short(m2, 2)),
            ShopUnits::Us => format!("{} ft²", short(m2 / M2_PER_FT2, 1)),
        }
    }

    /// A film: '12 µm', '0.47 mil'.
    #[must_use]
    pub fn film(self, um: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} µm", short(um, 1)),
            ShopUnits::Us => format!("{} mil", short(um / UM_PER_MIL, 2)),
        }
    }

    /// The opening of a strainer, which a US shop calls by microns too: '190 µm', '190 micron'.
    #[must_use]
    pub fn mesh(self, um: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} µm", short(um, 0)),
            ShopUnits::Us => format!("{} micron", short(um, 0)),
        }
    }

    /// A kinematic viscosity, by the names of one and the same unit: '60 mm²/s', '60 cSt'.
    #[must_use]
    pub fn kinematic(self, mm2_per_s: f64) -> String {
        match self.units {
            ShopUnits::Metric => format!("{} mm²/s", short(mm2_per_s, 0)),
            ShopUnits::Us => format!("{} cSt", short(mm2_per_s, 0)),
        }
    }

    /// A flow of material: '180 mL/min', '6.1 fl oz/min'.
    #[must_use]
    pub fn feed(self, ml_per_min: f64) -> String {
        format!("{}/min", self.volume(ml_per_min))
    }

    /// Whether the shop is a metric one.
    #[must_use]
    pub const fn is_metric(self) -> bool {
        matches!(self.units, ShopUnits::Metric)
    }

    /// The unit of temperatures and their differences.
    #[must_use]
    pub const fn temperature_unit(self) -> &'static str {
        match self.units {
            ShopUnits::Metric => "°C",
            ShopUnits::Us => "°F",
        }
    }

    /// The unit of volumes.
    #[must_use]
    pub const fn volume_unit(self) -> &'static str {
        match self.units {
            ShopUnits::Metric => "mL",
            ShopUnits::Us => "fl oz",
        }
    }

    /// A humidity: '58 %'.
    #[must_use]
    pub fn humidity(self, percent: f64) -> String {
        format!("{percent:.0} %")
    }

    /// Air temperature and humidity, as far as they are known: '19.4 °C 58 %'.
    #[must_use]
    pub fn air(self, reading: &Reading) -> String {
        let air = reading.air_c.map(|c| self.temperature(c));
        let humidity = reading.humidity_pct.map(|pct| self.humidity(pct));
        [air, humidity].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    /// Every figure of a reading: 'air 19.4 °C 58 %, surface 18.8 °C'.
    #[must_use]
    pub fn reading(self, reading: &Reading) -> String {
        let air = Some(self.air(reading)).filter(|air| !air.is_empty());
        let named =
            |name: &str, c: Option<f64>| c.map(|c| format!("{name} {}", self.temperature(c)));
        let parts = [
            air.map(|air| format!("air {air}")),
            named("surface", reading.surface_c),
            named("warmest surface", reading.surface_warmest_c),
            named("pot", reading.pot_c),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// A number with one digit after the point; no '-0.0'.
fn tenths(number: f64) -> String {
    let text = format!("{number:.1}");
    if text == "-0.0" { "0.0".into() } else { text }
}

/// A number as short as it is exact to `digits` after the point: '4', '1.5'.
#[must_use]
pub fn short(number: f64, digits: usize) -> String {
    let text = format!("{number:.digits$}");
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

impl Words<'_> {
    /// Why a clock never comes due: 'does not run below 10 °C'.
    #[must_use]
    pub fn never(&self, because: NeverBecause) -> String {
        match because {
            NeverBecause::BelowFloor { floor } => {
                let floor = self.figures().stated_temperature(floor.celsius());
                format!("does not run below {floor}")
            }
            NeverBecause::AirSaturated => "does not run: the air is full of water".into(),
            NeverBecause::SurfaceAtDewPoint => {
                "does not run: the surface is no warmer than the dew point".into()
            }
            NeverBecause::TooSlow => "does not come in this air".into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_in_both_units() {
        let (metric, us) = (Figures::new(ShopUnits::Metric), Figures::new(ShopUnits::Us));
        assert_eq!(metric.temperature(19.44), "19.4 °C");
        assert_eq!(us.temperature(20.0), "68.0 °F");
        assert_eq!(metric.temperature(-0.04), "0.0 °C");
        assert_eq!(metric.stated_temperature(23.0), "23 °C");
        assert_eq!(metric.stated_temperature(20.0), "20 °C");
        assert_eq!(us.difference(5.0), "9.0");
        assert_eq!(metric.volume(238.6), "239 mL");
        assert_eq!(us.volume(239.0), "8.1 fl oz");
        assert_eq!(short(4.0, 2), "4");
        assert_eq!(short(0.80, 2), "0.8");
        assert_eq!(short(100.0, 0), "100");
    }
}

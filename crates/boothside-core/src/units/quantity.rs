//! Quantities as types, each held in one base unit, so that grams cannot meet millilitres.

use serde::{Deserialize, Serialize};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $new:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// The quantity from its base unit, as given.
            #[must_use]
            pub const fn $new(value: f64) -> Self {
                Self(value)
            }

            /// The quantity in its base unit.
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }
    };
}

/// Quantities that add up and scale: everything but a temperature.
macro_rules! additive {
    ($($name:ident),*) => {$(
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                Self(values.map(|value| value.0).sum())
            }
        }
    )*};
}

quantity!(/// A temperature on the Celsius scale, °C.
    Temperature, from_celsius, celsius);
quantity!(/// A difference of two temperatures, kelvin (one K is one °C of difference).
    TemperatureDelta, from_kelvin, kelvin);
quantity!(/// Relative humidity over liquid water, percent, 0 < RH ≤ 100.
    Humidity, from_percent, percent);
quantity!(/// A volume, mL.
    Volume, from_ml, ml);
quantity!(/// A mass, g.
    Mass, from_g, g);
quantity!(/// A density, g/mL.
    Density, from_g_per_ml, g_per_ml);
quantity!(/// A film thickness, µm.
    Film, from_um, um);
quantity!(/// An area, m².
    Area, from_m2, m2);
quantity!(/// A length, m.
    Length, from_m, m);
quantity!(/// A pressure, Pa.
    Pressure, from_pa, pa);
quantity!(/// A flow of air, m³/h.
    Flow, from_m3_per_h, m3_per_h);
quantity!(/// A share of a whole as a plain number, 0 to 1.
    Share, from_fraction, fraction);

quantity!(/// A kinematic viscosity, mm²/s (cSt).
    KinematicViscosity, from_mm2_per_s, mm2_per_s);
quantity!(/// An activation energy, kJ/mol.
    ActivationEnergy, from_kj_per_mol, kj_per_mol);
quantity!(/// The vapour that a volume of solvent gives, m³ of vapour per litre of solvent.
    VapourVolume, from_m3_per_l, m3_per_l);

quantity!(/// A mass at an arm, g·m, positive aft of the hinge.
    Moment, from_g_m, g_m);

additive!(TemperatureDelta, Volume, Mass, Film, Area, Length, Pressure);

impl std::ops::Sub for Temperature {
    type Output = TemperatureDelta;
    fn sub(self, other: Self) -> TemperatureDelta {
        TemperatureDelta(self.0 - other.0)
    }
}

impl std::ops::Add<TemperatureDelta> for Temperature {
    type Output = Self;
    fn add(self, delta: TemperatureDelta) -> Self {
        Self(self.0 + delta.0)
    }
}

impl std::ops::Mul<Density> for Volume {
    type Output = Mass;
    fn mul(self, density: Density) -> Mass {
        Mass(self.0 * density.0)
    }
}

impl std::ops::Div<Density> for Mass {
    type Output = Volume;
    fn div(self, density: Density) -> Volume {
        Volume(self.0 / density.0)
    }
}

//! The gun's card.

use boothside_core::session::gun::{GunResult, GunSetting};
use boothside_core::units::{Pressure, show};
use boothside_core::work::job::ShopUnits;

use super::Words;
use super::figure::short;
use crate::view::text::clean;

impl Words<'_> {
    /// A setting: '1.3 mm, 150 kPa, fan 2.5 turns, fluid 1.5 turns, cap 9: good, even'.
    #[must_use]
    pub fn gun_setting(&self, setting: &GunSetting) -> String {
        let system = match self.session.state().work.shop.units {
            ShopUnits::Metric => show::System::Metric,
            ShopUnits::Us => show::System::Us,
        };
        let inlet = |kpa: f64| show::pressure(Pressure::from_pa(kpa * 1000.0), system);
        let set = [
            setting.nozzle_mm.map(|mm| format!("{} mm", short(mm, 2))),
            setting.inlet_kpa.map(inlet),
            setting.fan_turns.map(|turns| format!("fan {} turns", short(turns, 2))),
            setting.fluid_turns.map(|turns| format!("fluid {} turns", short(turns, 2))),
            setting.cap.as_deref().map(|cap| format!("cap {}", clean(cap))),
        ];
        let set: Vec<String> = set.into_iter().flatten().collect();
        let result = setting.result.map(|result| gun_result(result).to_owned());
        let note = setting.note.as_deref().map(clean);
        let told: Vec<String> = [result, note].into_iter().flatten().collect();
        let parts = [set.join(", "), told.join(", ")];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(": ")
    }
}

/// How a setting sprayed.
#[must_use]
pub const fn gun_result(result: GunResult) -> &'static str {
    match result {
        GunResult::Good => "good",
        GunResult::Bad => "bad",
    }
}

//! The shop's settings.

use boothside_store::book::Kind;

use super::{Item, Spec, field};
use crate::book::takes::{Choice, Takes, choice};

const UNITS: &[Choice] =
    &[choice("metric", "metric: °C, mL, g, µm"), choice("us", "US: °F, fl oz, oz, mil")];
const BELL: &[Choice] = &[choice("true", "rings"), choice("false", "silent")];

/// The form of the shop.
pub(super) static SHOP: Spec = Spec {
    kind: Kind::Shop,
    items: &[
        field(
            "units",
            "units on the screens",
            Takes::Choice(UNITS),
            "m or u; any unit may be typed",
            "",
        )
        .may(),
        field("bell", "bell", Takes::Choice(BELL), "r or s: when something comes due", "").may(),
        Item::Section("Mixing"),
        field(
            "scale_step_g",
            "scale's step",
            Takes::Mass,
            "the last digit that it shows: 0.1g",
            "cannot tell how small a pot can be weighed well",
        )
        .may(),
        field(
            "containers_ml",
            "containers hold",
            Takes::Volumes,
            "each, between commas: 400mL, 1L, 2.5L",
            "cannot tell whether a pot fits",
        )
        .may(),
        field(
            "loss_ml",
            "stays in gun and strainer",
            Takes::Volume,
            "what cannot be sprayed of a pot",
            "nothing is mixed for it",
        )
        .may(),
        field(
            "spare_pct",
            "spare, % on top",
            Takes::Percent,
            "mixed beyond what is needed: 10",
            "nothing is mixed to spare",
        )
        .may(),
        field(
            "transfer_pct",
            "share that lands",
            Takes::Percent,
            "of what leaves the gun; 65 is a usual figure for low-pressure guns",
            "cannot tell how much to mix",
        )
        .may(),
        Item::Section("Booth"),
        field(
            "booth_volume_m3",
            "volume",
            Takes::Room,
            "60m3 or 2000ft3, or length x width x height: 20 x 12 x 9ft",
            "cannot tell air changes",
        )
        .may(),
        field(
            "booth_flow_m3_per_h",
            "air that the fan moves",
            Takes::Flow,
            "from its plate, or velocity × area of the filters",
            "cannot tell air changes, minutes to purge",
        )
        .may(),
        field(
            "mixing_factor",
            "mixing factor",
            Takes::Number,
            "1 where the air mixes perfectly, to 10",
            "1 counts",
        )
        .may(),
        field(
            "dew_margin_c",
            "surface over dew point",
            Takes::Difference,
            "counts where a sheet gives none",
            "3 °C counts",
        )
        .may(),
        field(
            "height_m",
            "height above the sea",
            Takes::Length,
            "for the air's pressure",
            "sea level counts",
        )
        .may(),
        Item::Section("Respirator"),
        field(
            "cartridge_h",
            "cartridges changed after",
            Takes::Hours,
            "8h: your own schedule, from their maker and the safety data sheet",
            "their hours are not watched",
        )
        .may(),
    ],
};

//! A can of stock.

use boothside_store::book::Kind;

use super::{Item, Spec, field};
use crate::book::takes::Takes;

/// The form of a can.
pub(super) static CAN: Spec = Spec {
    kind: Kind::Can,
    items: &[
        field("name", "name", Takes::Name, "what you call it: primer base, big tin", "").must(),
        field(
            "sheet",
            "material",
            Takes::Named(Kind::Sheet),
            "type to find it among your sheets",
            "",
        )
        .must(),
        field("component", "component", Takes::ComponentOfSheet, "which of its components", "")
            .must(),
        field(
            "lot",
            "lot",
            Takes::Words,
            "the maker's number on the can",
            "cannot tell which parts carry it",
        )
        .may(),
        field(
            "until",
            "good until",
            Takes::Date,
            "2027-03 or 2027-03-15, on the can",
            "cannot tell whether it is past its date",
        )
        .may(),
        field("opened", "opened", Takes::Date, "when you opened it: 2026-11-02", "").may(),
        Item::Section("How much"),
        field("holds_ml", "holds, when full", Takes::Volume, "1L, 1gal", "").may(),
        field(
            "left_ml",
            "left in it now, by volume",
            Takes::Volume,
            "as counted now; mixes draw from it",
            "cannot tell whether it lasts",
        )
        .may(),
        field(
            "left_g",
            "or by weight",
            Takes::Mass,
            "without the can",
            "cannot tell whether it lasts",
        )
        .may(),
        field(
            "thinner_pct",
            "thinner returned to it",
            Takes::Percent,
            "its share by volume; empty: none",
            "",
        )
        .may(),
        field("counted", "counted", Takes::Words, "", "").kept(),
    ],
};

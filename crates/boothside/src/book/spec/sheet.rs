//! A material's sheet, in the order in which technical sheets print it.

use boothside_store::book::Kind;

use super::{Field, Item, Spec, field, list};
use crate::book::takes::{Choice, Takes, choice};

const CARRIERS: &[Choice] = &[choice("water", "water"), choice("solvent", "solvent")];
const BASES: &[Choice] = &[choice("volume", "volume"), choice("weight", "weight")];
const ROLES: &[Choice] = &[
    choice("base", "base").also(&["resin", "colour", "color"]),
    choice("activator", "activator").also(&["hardener", "catalyst", "converter", "curing agent"]),
    choice("reducer", "reducer, thinner or water").also(&["solvent"]),
];
const OPENED_BY: &[Choice] = &[
    choice("eye", "eye: when it has dulled"),
    choice("clock", "clock: the stated time"),
    choice("both", "both of them"),
];
const INLET_OR_CAP: &[Choice] = &[choice("inlet", "inlet"), choice("cap", "cap")];
const SOONER: &[Choice] = &[
    choice("as_earliest", "yes: sooner in heat, never later"),
    choice("steady", "no: as stated in any air"),
];
const INSIDE: &[Choice] = &[choice("true", "yes"), choice("false", "no")];

/// The form of a sheet.
pub(super) static SHEET: Spec = Spec {
    kind: Kind::Sheet,
    items: &[
        Item::Section("What it is"),
        field("name", "name", Takes::Name, "what you call the material", "").must(),
        field(
            "carrier",
            "carried by",
            Takes::Choice(CARRIERS),
            "w or s: waterborne or solventborne, in the sheet's first lines",
            "",
        )
        .must(),
        field(
            "source",
            "sheet's title",
            Takes::Words,
            "title and number of the technical sheet",
            "",
        )
        .may(),
        field(
            "issued",
            "sheet's date",
            Takes::Date,
            "issue date, often in its foot: 2025-03",
            "a newer issue of the sheet is not noticed",
        )
        .may(),
        Item::Section("Hazards, from the safety data sheet"),
        hazard("hazards{isocyanate}", "isocyanate"),
        hazard("hazards{flammable}", "flammable vapour"),
        hazard("hazards{chromate}", "chromates"),
        Item::Section("Mixing"),
        field(
            "mix.by",
            "parts by",
            Takes::Choice(BASES),
            "v or w: 'mixing ratio by volume' or 'by weight'",
            "",
        )
        .must(),
        Item::List(list("mix.components", "component", 8, COMPONENT).kept_empty()),
        field(
            "mix.tolerance_pct",
            "ratio may be off by",
            Takes::Percent,
            "sometimes beside the ratio",
            "a ratio that is off is shown, and holds no coat",
        )
        .may(),
        field(
            "mix.solids_pct",
            "volume solids",
            Takes::Percent,
            "'solids by volume', mixed, before thinning; not by weight",
            "cannot tell how much to mix, and the dry film from a wet one",
        )
        .may(),
        field("coverage.m2_per_l", "coverage", Takes::Spread, "'theoretical spreading rate'", "")
            .may(),
        field(
            "coverage.at_um",
            "at dry film",
            Takes::Film,
            "the dry film for which the coverage is stated",
            "",
        )
        .beside("coverage.m2_per_l")
        .must(),
        field(
            "mix.strain_um",
            "strainer",
            Takes::Strainer,
            "'strain through 125 µm'; mesh only where its number is a sieve's: 120 mesh",
            "cannot tell which strainer to lay out",
        )
        .may(),
        Item::Section("Flow cup, as sprayed"),
        field(
            "mix.flow_cup.cup",
            "cup",
            Takes::Cup,
            "'spraying viscosity': which cup",
            "cannot tell whether the mix flows as the sheet wants",
        )
        .may(),
        field("mix.flow_cup.low_s", "seconds, least", Takes::Seconds, "18 of '18–22 s'", "")
            .range_to("mix.flow_cup.high_s")
            .beside("mix.flow_cup.cup")
            .must(),
        field("mix.flow_cup.high_s", "seconds, most", Takes::Seconds, "22 of '18–22 s'", "")
            .beside("mix.flow_cup.cup")
            .must(),
        field(
            "mix.flow_cup.at_c",
            "at",
            Takes::Temperature,
            "the temperature of those seconds",
            "cannot tell whether a cold mix only seems thick",
        )
        .beside("mix.flow_cup.cup")
        .may(),
        field(
            "mix.flow_cup.falls_pct",
            "seconds lost for 1 % more reducer",
            Takes::Percent,
            "rarely printed; from your own trials",
            "cannot tell how much more reducer to add",
        )
        .beside("mix.flow_cup.cup")
        .may(),
        Item::Section("Stand and pot life"),
        field(
            "induction.stand",
            "stand after mixing",
            Takes::Timing,
            "'induction', 'sweat-in'",
            "nothing waits between mixing and spraying",
        )
        .may(),
        field(
            "induction.inside_pot_life",
            "inside pot life",
            Takes::Choice(INSIDE),
            "y or n: whether the stand counts in the pot life",
            "",
        )
        .beside("induction.stand")
        .must(),
        field(
            "pot_life.life",
            "pot life",
            Takes::Timing,
            "'pot life'; how it shortens behind a comma: 4h at 23C, halves every 10C",
            "cannot tell when the pot must be out of the gun",
        )
        .may(),
        field(
            "pot_life.cleaning_reserve_s",
            "time to clean the gun",
            Takes::Span,
            "how long you need to have the gun clean: 20min",
            "",
        )
        .beside("pot_life.life")
        .must(),
        Item::Section("Gun"),
        field("gun.nozzle_low_mm", "nozzle from", Takes::Bore, "'tip size' 1.3–1.4 mm", "")
            .range_to("gun.nozzle_high_mm")
            .may(),
        field("gun.nozzle_high_mm", "nozzle to", Takes::Bore, "its upper end", "").may(),
        field(
            "gun.pressure_low_kpa",
            "air from",
            Takes::Pressure,
            "'air pressure' 2.0–2.5 bar",
            "",
        )
        .range_to("gun.pressure_high_kpa")
        .may(),
        field("gun.pressure_high_kpa", "air to", Takes::Pressure, "its upper end", "").may(),
        field(
            "gun.measured_at",
            "measured at",
            Takes::Choice(INLET_OR_CAP),
            "i or c: at the gun's inlet, or at the cap",
            "",
        )
        .may(),
        Item::Section("Film a coat"),
        field("film.wet_low_um", "wet film from", Takes::Film, "'wet film thickness'", "")
            .range_to("film.wet_high_um")
            .may(),
        field("film.wet_high_um", "wet film to", Takes::Film, "its upper end", "").may(),
        field("film.dry_low_um", "dry film from", Takes::Film, "'dry film thickness'", "")
            .range_to("film.dry_high_um")
            .may(),
        field("film.dry_high_um", "dry film to", Takes::Film, "its upper end", "").may(),
        field(
            "dry_density_g_per_ml",
            "density of the dry film",
            Takes::Density,
            "rarely printed: ask the maker",
            "cannot tell the weight that the film adds",
        )
        .may(),
        Item::Section("Between two coats"),
        gap_earliest("between_coats.earliest", "next coat, earliest").must(),
        gap_by("between_coats.by").must(),
        gap_dulls("between_coats.dulls").may(),
        gap_open("between_coats.open_until").may(),
        gap_sooner(
            "between_coats.open_until.law",
            "between_coats.earliest",
            "between_coats.open_until",
        )
        .may(),
        gap_wipe("between_coats.wipe_until").beside("between_coats.open_until").may(),
        gap_sooner(
            "between_coats.wipe_until.law",
            "between_coats.earliest",
            "between_coats.wipe_until",
        )
        .may(),
        Item::Section("Before the next layer"),
        gap_earliest("to_next_layer.earliest", "next layer, earliest").may(),
        gap_by("to_next_layer.by").beside("to_next_layer.earliest").must(),
        gap_dulls("to_next_layer.dulls").beside("to_next_layer.earliest").may(),
        gap_open("to_next_layer.open_until").beside("to_next_layer.earliest").may(),
        gap_sooner(
            "to_next_layer.open_until.law",
            "to_next_layer.earliest",
            "to_next_layer.open_until",
        )
        .may(),
        gap_wipe("to_next_layer.wipe_until").beside("to_next_layer.open_until").may(),
        gap_sooner(
            "to_next_layer.wipe_until.law",
            "to_next_layer.earliest",
            "to_next_layer.wipe_until",
        )
        .may(),
        Item::Section("The wipe that opens a window again"),
        field(
            "wipe.flash_s",
            "flash of the wipe",
            Takes::Span,
            "how long the wipe must dry",
            "a wipe opens the window at once",
        )
        .may(),
        field("wipe.limit_s", "good for", Takes::Span, "the longest from wipe to coat", "")
            .beside("wipe.flash_s")
            .must(),
        Item::Section("Cure, from the end of the last coat"),
        cure("cure{stage=dust_free}.after", "dust-free"),
        cure("cure{stage=handle}.after", "to handle and turn"),
        cure("cure{stage=mask}.after", "to mask over"),
        cure("cure{stage=sand}.after", "to sand"),
        cure("cure{stage=full}.after", "full cure"),
        Item::Section("Where it may be sprayed"),
        limit("limits.min_c", "air and surface from", Takes::Temperature)
            .range_to("limits.max_c")
            .may(),
        limit("limits.max_c", "air and surface to", Takes::Temperature).may(),
        limit("limits.min_pct", "humidity from", Takes::Percent).range_to("limits.max_pct").may(),
        limit("limits.max_pct", "humidity to", Takes::Percent).may(),
        field(
            "limits.dew_margin_c",
            "surface over dew point",
            Takes::Difference,
            "'at least 3 °C above dew point'",
            "the shop's own margin counts, else 3 °C",
        )
        .may(),
        limit("limits.paint_min_c", "mixed paint from", Takes::Temperature)
            .range_to("limits.paint_max_c")
            .may(),
        limit("limits.paint_max_c", "mixed paint to", Takes::Temperature).may(),
        Item::Section("Vapour, content and shelf"),
        field(
            "vapour.lel_pct",
            "lower flammable limit",
            Takes::Percent,
            "safety data sheet, section 9: % by volume in air",
            "cannot estimate the vapour in the booth",
        )
        .may(),
        field(
            "vapour.m3_per_l",
            "vapour of a litre of solvent",
            Takes::Vapour,
            "from a table of solvents: 0.2 m3/L or 27 ft3/gal",
            "",
        )
        .beside("vapour.lel_pct")
        .must(),
        field(
            "vapour.solvent_pct",
            "solvent as sprayed",
            Takes::Percent,
            "% by volume",
            "all that is not solids counts as solvent",
        )
        .beside("vapour.lel_pct")
        .may(),
        field("vapour.source", "source", Takes::Words, "sources differ by up to 30 %", "")
            .beside("vapour.lel_pct")
            .may(),
        field(
            "voc_g_per_l",
            "volatile content",
            Takes::Content,
            "'VOC' as mixed: 420 g/L or 3.5 lb/gal",
            "cannot tell what goes into the air-quality record",
        )
        .may(),
        field("shelf.sealed_months", "keeps sealed", Takes::Months, "'shelf life': 12 months", "")
            .may(),
        field("shelf.opened_months", "keeps opened", Takes::Months, "where the sheet tells it", "")
            .may(),
    ],
};

const COMPONENT: &[Item] = &[
    field("name", "name", Takes::Name, "what the can says: base, part A, thinner …", "").must(),
    field("role", "it is", Takes::Choice(ROLES), "b, a or r", "").must(),
    field(
        "parts",
        "parts",
        Takes::Parts,
        "its number in the ratio; a reducer also as a share of the rest: 5%, or 10-20%",
        "",
    )
    .range_to("max_parts")
    .must(),
    field(
        "max_parts",
        "most parts",
        Takes::Parts,
        "the upper end of the thinning range",
        "cannot tell how far the mix may be thinned",
    )
    .only_if("role", &["reducer"])
    .may(),
    field(
        "density_g_per_ml",
        "density",
        Takes::Density,
        "'specific gravity', or weight of a gallon: 10.2 lb",
        "cannot tell weights of a ratio by volume, nor marks of one by weight",
    )
    .may(),
];

const fn hazard(key: &'static str, label: &'static str) -> Item {
    field(
        key,
        label,
        Takes::Flag,
        "y where its section 2 or 3 names it",
        "no caution is shown for it",
    )
    .may()
}

const fn gap_earliest(key: &'static str, label: &'static str) -> Field {
    field(
        key,
        label,
        Takes::Timing,
        "'flash-off', 'recoat, minimum': 15min at 23C; with a table 20min at 15C, 15min at 23C",
        "cannot tell when the next layer may go on",
    )
}

const fn gap_by(key: &'static str) -> Field {
    field(
        key,
        "who says so",
        Takes::Choice(OPENED_BY),
        "e, c or b: your eye, the stated time, or both",
        "",
    )
}

const fn gap_dulls(key: &'static str) -> Field {
    field(key, "dulls after", Takes::Timing, "where it is stated apart", "")
}

const fn gap_open(key: &'static str) -> Field {
    field(
        key,
        "window open until",
        Takes::Timing,
        "'recoat, maximum', from the beginning of a face",
        "no window closes",
    )
}

const fn gap_wipe(key: &'static str) -> Field {
    field(
        key,
        "after a wipe or scuff until",
        Takes::Timing,
        "'reactivate', 'scuff after': then it must be sanded",
        "a closed window must be sanded",
    )
}

/// Offered where the earliest has a law and this end has none; it is taken by a key, or left.
const fn gap_sooner(key: &'static str, earliest: &'static str, end: &'static str) -> Field {
    field(
        key,
        "sooner, as the earliest is",
        Takes::Choice(SOONER),
        "y or n: the sheet says how the earliest follows the air and not how this does; y shortens \
         this by the same",
        "in warmer air than stated it counts as stated, with a caution",
    )
    .where_lent(earliest, end)
}

const fn cure(key: &'static str, label: &'static str) -> Item {
    field(key, label, Takes::Timing, "'drying times': 6h at 23C; a table 10h at 15C, 6h at 23C", {
        "this stage has no clock"
    })
    .may()
}

const fn limit(key: &'static str, label: &'static str, takes: Takes) -> Field {
    field(key, label, takes, "'application conditions'", "this limit is not watched")
}

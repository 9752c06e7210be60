//! A system: layers with their preparation, coats and checks.

use boothside_store::book::Kind;

use super::{Item, Spec, field, list};
use crate::book::takes::{Choice, Takes, choice};

const PASSES: &[Choice] =
    &[choice("false", "single"), choice("true", "cross: two passes at right angles")];
const DOES: &[Choice] = &[
    choice("wipe", "wipe with solvent"),
    choice("scuff", "scuff"),
    choice("sand", "sand"),
    choice("mask", "mask: plugs and masks are counted"),
];
const STAGES: &[Choice] = &[
    choice("dust_free", "dust-free"),
    choice("handle", "fit to handle"),
    choice("mask", "fit to mask"),
    choice("sand", "fit to sand"),
    choice("full", "fully cured"),
];
const GROUPS: &[Choice] = &[
    choice("lay_out", "lay out"),
    choice("surface", "surface"),
    choice("air", "air"),
    choice("mix", "mix"),
    choice("gun", "gun"),
    choice("protection", "protection"),
    choice("booth", "booth"),
    choice("plugs_and_masks", "plugs and masks"),
];
const EACH: &[Choice] = &[
    choice("layer", "layer"),
    choice("coat", "coat"),
    choice("pot", "pot"),
    choice("sitting", "sitting"),
];

/// The form of a system.
pub(super) static SYSTEM: Spec = Spec {
    kind: Kind::System,
    items: &[
        field("name", "name", Takes::Name, "what you call the finish", "").must(),
        Item::List(list("layers", "layer", 12, LAYER).kept_empty()),
        Item::Section("After the last coat"),
        Item::List(list("close", "step at the end", 40, STEP).with_ids()),
    ],
};

const LAYER: &[Item] = &[
    field("name", "name", Takes::Name, "primer, colour, clear …", "").must(),
    field("sheet", "material", Takes::Named(Kind::Sheet), "type to find it among your sheets", "")
        .must(),
    field("coats", "coats", Takes::Count, "on every face", "").must(),
    field("cross", "a coat is", Takes::Choice(PASSES), "s or c; empty: single", "").may(),
    field(
        "dry_um",
        "dry film a coat",
        Takes::Film,
        "the target: 25um or 1mil",
        "cannot tell how much to mix, and whether the film builds as intended",
    )
    .may(),
    field("dry_least_um", "layer, at least", Takes::Film, "where a range is specified", "")
        .range_to("dry_most_um")
        .may(),
    field("dry_most_um", "layer, at most", Takes::Film, "where a range is specified", "").may(),
    Item::List(list("prep", "step before it", 40, STEP).with_ids()),
    Item::List(list("ready", "check of your own", 60, CHECK).with_ids()),
];

const STEP: &[Item] = &[
    field("name", "do", Takes::Name, "a short order: sand with 320, blow off, wipe down", "")
        .must(),
    field(
        "does",
        "it is a",
        Takes::Choice(DOES),
        "w, sc, sa or m, where windows or a count must follow it",
        "",
    )
    .may(),
    field("wait", "then wait", Takes::Timing, "what must pass after it: 12h", "").may(),
    field(
        "within_s",
        "good for",
        Takes::Span,
        "the longest from it to the layer; then it is done again",
        "it does not grow old",
    )
    .may(),
    field(
        "after",
        "not before it is",
        Takes::Choice(STAGES),
        "the stage of cure that every face must have reached",
        "",
    )
    .may(),
    field("short", "large", Takes::Name, SHORT, "").may(),
];

const SHORT: &str = "the same in 16 letters at most, as it stands large";

const CHECK: &[Item] = &[
    field("name", "check", Takes::Name, "what must be so: tack cloth at hand", "").must(),
    field("each", "asked each", Takes::Choice(EACH), "l, c, p or s; empty: each layer", "").may(),
    field("group", "belongs to", Takes::Choice(GROUPS), "where it stands on the Ready screen", "")
        .may(),
    field("short", "large", Takes::Name, SHORT, "").may(),
];

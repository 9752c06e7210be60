//! What shows once the film has cured, or does not cure.

use super::FilmFault;

pub(super) const CURED: &[FilmFault] = &[
    FilmFault {
        id: "poor-adhesion",
        name: "poor adhesion, peel",
        looks_like: "tape takes the film",
        causes: &[
            "dirt",
            "no conversion coat",
            "wrong primer",
            "window closed before the coat",
            "wrong mix",
            "blush",
        ],
        now: Some("stop"),
        later: Some("take it off wherever it does not hold"),
    },
    FilmFault {
        id: "soft-cure",
        name: "soft, tacky, slow cure",
        looks_like: "prints after the time that was expected",
        causes: &["off ratio", "cold or damp", "thick film", "old activator"],
        now: Some("check the readings and what was poured"),
        later: Some("warm it gently; else take it off"),
    },
    FilmFault {
        id: "blister",
        name: "blister",
        looks_like: "raised domes",
        causes: &["water or solvent trapped", "salt underneath", "a seam that bleeds"],
        now: None,
        later: Some("strip"),
    },
    FilmFault {
        id: "chalking",
        name: "chalking",
        looks_like: "powder on an old film",
        causes: &["weather and sun", "too little binder", "thinned too far"],
        now: None,
        later: Some("wash, abrade, recoat"),
    },
    FilmFault {
        id: "print-through",
        name: "print-through",
        looks_like: "weave, rivets or tape show",
        causes: &["the undercoat shrinks", "filler not cured"],
        now: Some("wait longer"),
        later: Some("fill, block, recoat"),
    },
    FilmFault {
        id: "tape-track",
        name: "tape track, bleed-under",
        looks_like: "a stain or a torn line at the tape",
        causes: &["tape pulled too early or too late", "tape not burnished"],
        now: Some("pull the tape in time"),
        later: Some("trim and touch in"),
    },
    FilmFault {
        id: "colour-mismatch",
        name: "colour mismatch",
        looks_like: "parts are off-shade to each other",
        causes: &[
            "different lots",
            "different coats or flash",
            "different air pressure",
            "different temperature",
        ],
        now: Some("a test card with each part"),
        later: Some("recoat as a set"),
    },
];

//! Strainers by the number of a sieve.

use boothside_core::units::parse::{Problem, UnitError, parse_film, parse_plain};

/// Sieves that a strainer may be named by, and their openings in µm (ASTM E11, from memory).
const SIEVES: [(f64, f64); 15] = [
    (20.0, 850.0),
    (30.0, 600.0),
    (40.0, 425.0),
    (50.0, 300.0),
    (60.0, 250.0),
    (70.0, 212.0),
    (80.0, 180.0),
    (100.0, 150.0),
    (120.0, 125.0),
    (140.0, 106.0),
    (170.0, 90.0),
    (200.0, 75.0),
    (230.0, 63.0),
    (270.0, 53.0),
    (325.0, 45.0),
];

const ACCEPTED: &str =
    "the opening, such as 125µm or 190 micron, or a sieve's number such as 120 mesh";

/// The opening of a strainer, µm: `125um`, or `120 mesh` where that is a sieve of the standard. Other counts of
/// mesh fix no opening.
pub(super) fn opening_um(text: &str) -> Result<f64, UnitError> {
    let small = text.trim().to_lowercase();
    let Some(number) = small.strip_suffix("mesh") else {
        return parse_film(text)
            .map(|film| film.um())
            .map_err(|error| UnitError { accepted: ACCEPTED, ..error });
    };
    let refuse = |problem| UnitError { given: text.trim().to_owned(), problem, accepted: ACCEPTED };
    let number = parse_plain(number).map_err(|error| refuse(error.problem))?;
    let is_it = |(sieve, _): &&(f64, f64)| (sieve - number).abs() < 1e-9;
    match SIEVES.iter().find(is_it) {
        Some((_, um)) => Ok(*um),
        None => Err(refuse(Problem::NoSieve(nearest(number)))),
    }
}

/// The sieves on both sides of a number, in words.
fn nearest(number: f64) -> String {
    let coarser = SIEVES.iter().rev().find(|(sieve, _)| *sieve < number);
    let finer = SIEVES.iter().find(|(sieve, _)| *sieve > number);
    let near = [coarser, finer].into_iter().flatten();
    let told: Vec<String> = near.map(|(sieve, um)| format!("{sieve} mesh is {um} µm")).collect();
    told.join(", ")
}

//! The example job, embedded: so that the program needs nothing else.

use boothside_core::work::job::FullJob;
use boothside_store::book::{BookError, Kind, load_job};

/// The name of the example's job file.
pub const EXAMPLE: &str = "float-set";

macro_rules! files {
    ($($kind:ident $name:literal $file:literal;)*) => {
        fn text(kind: Kind, name: &str) -> Option<&'static str> {
            match (kind, name) {
                $((Kind::$kind, $name) => {
                    Some(include_str!(concat!("../../../assets/example/", $file)))
                })*
                (Kind::Shop, _) => Some(include_str!("../../../assets/example/shop.json")),
                _ => None,
            }
        }
    };
}

files! {
    Job "float-set" "jobs/float-set.json";
    System "two-layer-float" "systems/two-layer-float.json";
    Sheet "grey-primer" "sheets/grey-primer.json";
    Sheet "example-blue" "sheets/example-blue.json";
    Part "hatch" "parts/hatch.json";
    Part "cuff" "parts/cuff.json";
    Part "door" "parts/door.json";
    Part "rudder" "parts/rudder.json";
}

/// The example job with everything that it names.
///
/// # Errors
/// [`BookError`], which a test rules out for the embedded files.
pub fn example() -> Result<FullJob, BookError> {
    load_job(&|kind: Kind, name: &str| text(kind, name).map(str::to_owned), EXAMPLE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_is_sound_and_as_large_as_promised() {
        let work = example().unwrap();
        assert_eq!(work.check(), []);
        assert!(work.parts.len() >= 3 && work.face_ids().len() >= 8);
        let coats: Vec<_> = work.system.layers.iter().map(|it| (it.coats, it.cross)).collect();
        assert_eq!(coats, [(2, true), (3, false)]);
        let primer = &work.sheets["grey-primer"];
        let gap = primer.to_next_layer.as_ref().unwrap();
        assert!(gap.open_until.is_some() && gap.wipe_until.is_some(), "all four window states");
    }
}

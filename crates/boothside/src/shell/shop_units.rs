//! The shop's units, also where its file does not fit: a US shop must not turn metric for a comma.

use boothside_core::units::show::System;
use boothside_core::work::job::ShopUnits as Units;
use boothside_store::book::{Kind, Shelf, load_shop};
use boothside_store::printable;

/// The shop's units, and what is wrong with its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShopUnits {
    /// The units; nothing where the file is broken and does not even say that much.
    pub units: Option<System>,
    /// What is wrong with the file.
    pub broken: Option<String>,
}

impl ShopUnits {
    /// Reads them off the shelf.
    #[must_use]
    pub fn of(shelf: &impl Shelf) -> Self {
        match load_shop(shelf) {
            Ok(shop) => Self { units: Some(system(shop.units == Units::Us)), broken: None },
            Err(why) => {
                let bytes = shelf.read(Kind::Shop, "shop").ok().flatten().unwrap_or_default();
                let broken = printable(&why.to_string().replace('\n', " · "));
                Self { units: said(&String::from_utf8_lossy(&bytes)), broken: Some(broken) }
            }
        }
    }

    /// What is wrong, and which units count until it is mended.
    #[must_use]
    pub fn warning(&self, counts: System) -> Option<String> {
        let why = self.broken.as_ref()?;
        let counts = match counts {
            System::Us => "US",
            System::Metric => "metric",
        };
        Some(format!("the shop's file cannot be read: {counts} units until it is mended: {why}"))
    }
}

const fn system(us: bool) -> System {
    if us { System::Us } else { System::Metric }
}

/// The units that a text says, whatever else is wrong with it.
fn said(text: &str) -> Option<System> {
    let (_, after) = text.split_once("\"units\"")?;
    let value = after.trim_start().strip_prefix(':')?.trim_start().strip_prefix('"')?;
    match value.split('"').next()? {
        "us" => Some(System::Us),
        "metric" => Some(System::Metric),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &'static str) -> ShopUnits {
        ShopUnits::of(&move |kind: Kind, _: &str| {
            (kind == Kind::Shop && !text.is_empty()).then(|| text.to_owned())
        })
    }

    #[test]
    fn a_broken_file_keeps_the_units_that_it_says() {
        assert_eq!(of(""), ShopUnits { units: Some(System::Metric), broken: None });
        let sound = r#"{"format": 1, "units": "us"}"#;
        assert_eq!(of(sound), ShopUnits { units: Some(System::Us), broken: None });
        let broken = of(r#"{"format": 1, "units" : "us", "spare_pct": }"#);
        assert_eq!(broken.units, Some(System::Us));
        let warning = broken.warning(System::Us).expect("a warning");
        assert!(warning.contains("US units") && warning.contains("shop.json:1"), "{warning}");
        let none = of("{");
        assert_eq!(none.units, None);
        assert!(none.broken.is_some());
    }
}

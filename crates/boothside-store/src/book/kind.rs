//! What lies in the book.

use std::path::PathBuf;

use boothside_core::fault::{Fault, Faults};
use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// A kind of file in the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// A material's sheet.
    Sheet,
    /// A part.
    Part,
    /// A system.
    System,
    /// A job.
    Job,
    /// A can on the shelf.
    Can,
    /// The shop's settings: one file, whatever the name.
    Shop,
}

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 6] =
        [Self::Sheet, Self::Part, Self::System, Self::Job, Self::Can, Self::Shop];

    /// Its name: 'sheet', …
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Part => "part",
            Self::System => "system",
            Self::Job => "job",
            Self::Can => "can",
            Self::Shop => "shop",
        }
    }

    /// The folder of its files; none for the shop.
    #[must_use]
    pub const fn folder(self) -> Option<&'static str> {
        match self {
            Self::Sheet => Some("sheets"),
            Self::Part => Some("parts"),
            Self::System => Some("systems"),
            Self::Job => Some("jobs"),
            Self::Can => Some("cans"),
            Self::Shop => None,
        }
    }

    /// Where the file of that name lies in the book: `sheets/NAME.json`, `shop.json`. `None`
    /// where the name is none (a–z, 0–9 and `-`, 1 to 60): nothing outside the book is reached.
    #[must_use]
    pub fn file(self, name: &str) -> Option<PathBuf> {
        let Some(folder) = self.folder() else {
            return Some(PathBuf::from("shop.json"));
        };
        let mut faults = Faults::default();
        faults.id("name", name);
        let fits = faults.into_found().is_empty();
        fits.then(|| PathBuf::from(folder).join(format!("{name}.json")))
    }
}

/// Something that lies in the book.
pub trait Item: DeserializeOwned + Serialize {
    /// Its kind.
    const KIND: Kind;

    /// Everything in it that does not fit.
    fn faults(&self) -> Vec<Fault>;
}

macro_rules! item {
    ($type:ty, $kind:ident) => {
        impl Item for $type {
            const KIND: Kind = Kind::$kind;

            fn faults(&self) -> Vec<Fault> {
                self.check()
            }
        }
    };
}

item!(Sheet, Sheet);
item!(Part, Part);
item!(System, System);
item!(Job, Job);
item!(Can, Can);
item!(Shop, Shop);

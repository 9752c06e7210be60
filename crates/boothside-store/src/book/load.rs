//! Loading from the book.

use std::collections::{BTreeMap, BTreeSet};

use boothside_core::fault::Fault;
use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;

use std::path::PathBuf;

use super::flaw::{BookError, Flaw};
use super::kind::{Item, Kind};
use super::shelf::Shelf;

/// Loads one thing by its name and checks it alone.
///
/// # Errors
/// [`BookError`]: it is not there, cannot be read, or has flaws.
pub fn load<T: Item>(shelf: &impl Shelf, name: &str) -> Result<T, BookError> {
    load_with_text(shelf, name).map(|(item, _)| item)
}

/// Loads the shop's settings; where there are none, the usual ones.
///
/// # Errors
/// [`BookError`]: they cannot be read, or have flaws.
pub fn load_shop(shelf: &impl Shelf) -> Result<Shop, BookError> {
    match load(shelf, "shop") {
        Err(BookError::Missing { .. }) => Ok(Shop::default()),
        loaded => loaded,
    }
}

/// Loads a job with everything that it names, and checks that it fits together.
///
/// # Errors
/// [`BookError`], with the flaws of all files at once.
pub fn load_job(shelf: &impl Shelf, name: &str) -> Result<FullJob, BookError> {
    let (job, text) = load_with_text::<Job>(shelf, name)?;
    let mut gather = Gather {
        shelf,
        flaws: Vec::new(),
        texts: BTreeMap::from([((Kind::Job, name.to_owned()), text)]),
    };
    let job_file = (Kind::Job, name);
    let system: Option<System> = gather.named(&job.system, job_file, "system")?;
    let mut parts = BTreeMap::new();
    for (row, part) in job.parts.iter().enumerate() {
        let loaded: Option<Part> = gather.named(part, job_file, &format!("parts[{row}]"))?;
        parts.extend(loaded.map(|loaded| (part.clone(), loaded)));
    }
    let sheets = gather.sheets(&job.system, system.as_ref())?;
    let shop = gather.keep(load_shop(shelf))?;
    let (Some(system), Some(shop), true) = (system, shop, gather.flaws.is_empty()) else {
        return Err(BookError::Flawed(gather.flaws));
    };
    let full = FullJob { job, system, parts, sheets, shop };
    let flaws = gather.flaws_together(name, &full);
    if flaws.is_empty() {
        return Ok(full);
    }
    Err(BookError::Flawed(flaws))
}

/// Loads a system, and checks that the sheets of its layers are there and sound.
///
/// # Errors
/// [`BookError`], with the flaws of all files at once.
pub fn load_system(shelf: &impl Shelf, name: &str) -> Result<System, BookError> {
    let (system, text) = load_with_text::<System>(shelf, name)?;
    let texts = BTreeMap::from([((Kind::System, name.to_owned()), text)]);
    let mut gather = Gather { shelf, flaws: Vec::new(), texts };
    gather.sheets(name, Some(&system))?;
    if gather.flaws.is_empty() { Ok(system) } else { Err(BookError::Flawed(gather.flaws)) }
}

/// Checks `bytes` as the content of a file of that kind; `file` is for the messages.
///
/// # Errors
/// [`BookError::Flawed`].
pub fn check_text<T: Item>(file: PathBuf, bytes: &[u8]) -> Result<T, BookError> {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.strip_prefix('\u{feff}').unwrap_or(text),
        Err(why) => {
            let flaw = Flaw::not_text(file, bytes, why.valid_up_to());
            return Err(BookError::Flawed(vec![flaw]));
        }
    };
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let item: T = match serde_path_to_error::deserialize(&mut deserializer) {
        Ok(item) => item,
        Err(why) => {
            let flaw = Flaw::from_parser(file, &why.path().to_string(), why.inner());
            return Err(BookError::Flawed(vec![flaw]));
        }
    };
    if let Err(why) = deserializer.end() {
        return Err(BookError::Flawed(vec![Flaw::from_parser(file, "", &why)]));
    }
    let faults = item.faults();
    if faults.is_empty() {
        return Ok(item);
    }
    let flaws = faults.into_iter();
    Err(BookError::Flawed(flaws.map(|fault| Flaw::from_fault(file.clone(), text, fault)).collect()))
}

pub(super) fn load_with_text<T: Item>(
    shelf: &impl Shelf,
    name: &str,
) -> Result<(T, String), BookError> {
    let file = shelf.label(T::KIND, name);
    let missing =
        || BookError::Missing { kind: T::KIND, name: name.to_owned(), file: file.clone() };
    // whatever the shelf is, a name that is none never reaches it
    T::KIND.file(name).ok_or_else(missing)?;
    let bytes = match shelf.read(T::KIND, name) {
        Ok(bytes) => bytes.ok_or_else(missing)?,
        Err(source) => return Err(BookError::Unreadable { file, source }),
    };
    let item = check_text(file, &bytes)?;
    Ok((item, String::from_utf8_lossy(&bytes).into_owned()))
}

/// Collects flaws from all files of a job.
struct Gather<'a, S> {
    shelf: &'a S,
    flaws: Vec<Flaw>,
    texts: BTreeMap<(Kind, String), String>,
}

impl<S: Shelf> Gather<'_, S> {
    /// Loads what the file `by` names in its field `field`.
    fn named<T: Item>(
        &mut self,
        name: &str,
        by: (Kind, &str),
        field: &str,
    ) -> Result<Option<T>, BookError> {
        let loaded = load_with_text(self.shelf, name);
        if let Err(BookError::Missing { .. }) = loaded {
            let accepted = format!("the name of a {} that is there", T::KIND.name());
            let fault = Fault::new(field, format!("{name:?}"), accepted);
            let flaw = self.flaw(by, fault);
            self.flaws.push(flaw);
            return Ok(None);
        }
        let loaded = self.keep(loaded)?;
        Ok(loaded.map(|(item, text)| {
            self.texts.insert((T::KIND, name.to_owned()), text);
            item
        }))
    }

    fn sheets(
        &mut self,
        name: &str,
        system: Option<&System>,
    ) -> Result<BTreeMap<String, Sheet>, BookError> {
        let mut sheets = BTreeMap::new();
        let mut tried = BTreeSet::new();
        let layers = system.map_or(&[][..], |system| &system.layers);
        for (row, layer) in layers.iter().enumerate() {
            if !tried.insert(&layer.sheet) {
                continue;
            }
            let field = format!("layers[{row}].sheet");
            let loaded = self.named(&layer.sheet, (Kind::System, name), &field)?;
            sheets.extend(loaded.map(|sheet| (layer.sheet.clone(), sheet)));
        }
        Ok(sheets)
    }

    /// Keeps flaws for later; what cannot be read at all ends the loading.
    fn keep<T>(&mut self, loaded: Result<T, BookError>) -> Result<Option<T>, BookError> {
        match loaded {
            Ok(loaded) => Ok(Some(loaded)),
            Err(BookError::Flawed(flaws)) => {
                self.flaws.extend(flaws);
                Ok(None)
            }
            Err(other) => Err(other),
        }
    }

    fn flaw(&self, by: (Kind, &str), fault: Fault) -> Flaw {
        let text = self.texts.get(&(by.0, by.1.to_owned()));
        let text = text.map_or("", |text| text.strip_prefix('\u{feff}').unwrap_or(text));
        Flaw::from_fault(self.shelf.label(by.0, by.1), text, fault)
    }

    /// What only the whole shows, told in the file to which it belongs. (Each file alone is
    /// sound by now.)
    fn flaws_together(&self, job: &str, full: &FullJob) -> Vec<Flaw> {
        let place = |fault: Fault| {
            let of = |file: &str| fault.field.strip_prefix(file).map(str::to_owned);
            let ((kind, name), field) = if let Some(field) = of("system.") {
                ((Kind::System, full.job.system.as_str()), field)
            } else if let Some(field) = of("shop.") {
                ((Kind::Shop, "shop"), field)
            } else {
                ((Kind::Job, job), fault.field.clone())
            };
            self.flaw((kind, name), Fault { field, ..fault })
        };
        full.check().into_iter().map(place).collect()
    }
}

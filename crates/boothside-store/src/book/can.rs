//! A can with the sheet that it names.

use boothside_core::fault::Fault;
use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;

use super::flaw::{BookError, Flaw};
use super::kind::Kind;
use super::load::{load, load_with_text};
use super::shelf::Shelf;

/// Loads a can, and checks that the sheet that it names is there and has its component.
///
/// # Errors
/// [`BookError`]: it is not there, cannot be read, or has flaws, its sheet's included.
pub fn load_can(shelf: &impl Shelf, name: &str) -> Result<Can, BookError> {
    let (can, text) = load_with_text::<Can>(shelf, name)?;
    let fault = match load::<Sheet>(shelf, &can.sheet) {
        Ok(sheet) => unknown_component(&can, &sheet),
        Err(BookError::Missing { .. }) => {
            let given = format!("{:?}", can.sheet);
            Some(Fault::new("sheet", given, "the name of a sheet that is there"))
        }
        Err(other) => return Err(other),
    };
    match fault {
        None => Ok(can),
        Some(fault) => {
            let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
            let flaw = Flaw::from_fault(shelf.label(Kind::Can, name), text, fault);
            Err(BookError::Flawed(vec![flaw]))
        }
    }
}

fn unknown_component(can: &Can, sheet: &Sheet) -> Option<Fault> {
    let names: Vec<&str> = sheet.mix.components.iter().map(|it| it.name.as_str()).collect();
    let known = names.contains(&can.component.as_str());
    let accepted = format!("a component of that sheet: {}", names.join(", "));
    (!known).then(|| Fault::new("component", format!("{:?}", can.component), accepted))
}

//! What is wrong with a field, in the painter's words and units.

use boothside_core::fault::{Bound, Fault};

use super::spec::Field;
use super::takes::Takes;

/// A field that must be filled in is empty.
#[must_use]
pub fn needed(field: &Field) -> String {
    match field.find {
        "" => "this is needed".to_owned(),
        find => format!("this is needed: {find}"),
    }
}

/// A fault that the core found, said in the units of the field.
#[must_use]
pub fn fault(fault: &Fault, takes: Takes, us: bool) -> String {
    let say = |value: f64| amount(value, &fault.field, takes, us);
    let field = fault.field.as_str();
    match &fault.bound {
        Some(Bound::Above(low)) if field.contains("_until") => {
            format!("the window would end before it begins: longer than {} is accepted", say(*low))
        }
        Some(Bound::Above(low)) => format!("more than {} is accepted", say(*low)),
        Some(Bound::AtLeast(low)) => format!("{} or more is accepted", say(*low)),
        Some(Bound::Below(high)) => format!("less than {} is accepted", say(*high)),
        Some(Bound::AtMost(high)) => format!("{} at most is accepted", say(*high)),
        Some(Bound::Between { low, high }) => {
            format!("{} to {} is accepted", say(*low), say(*high))
        }
        None => format!("{} was given; accepted: {}", fault.given, fault.accepted),
    }
}

/// A limit in the unit of what it limits: a field of the form may hold several figures of the file.
fn amount(value: f64, field: &str, takes: Takes, us: bool) -> String {
    let key = field.rsplit('.').next().unwrap_or(field);
    let takes = match takes {
        Takes::Timing if key.ends_with("doubles_per_c") => Takes::Difference,
        Takes::Timing if key.ends_with("_c") => Takes::Temperature,
        Takes::Timing if key.ends_with("_pct") => Takes::Percent,
        Takes::Timing => Takes::Span,
        takes => takes,
    };
    match takes {
        Takes::Span => takes.text_of(&value.into(), us),
        takes => {
            let echo = takes.echo(&value.into(), us);
            if echo.is_empty() { boothside_core::units::show::plain(value) } else { echo }
        }
    }
}

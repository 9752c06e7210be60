//! A file of the book as a filled form.

use std::collections::BTreeMap;

use serde_json::Value;

use super::draft::Draft;
use super::index::Index;
use super::lines::{is_shown, join};
use super::path;
use super::spec::{Field, Item, Shown, Spec};
use super::takes::Around;

/// The form of `spec` as `value`, a sound file, fills it: what was typed where that still says the same, else
/// the file's own numbers.
#[must_use]
pub fn fill(spec: &'static Spec, value: &Value, index: &Index, us: bool) -> Draft {
    let mut draft = Draft::new(spec.kind.name());
    let mut fields = Vec::new();
    items(spec.items, "", value, &mut draft, &mut fields);
    if value.get("retired") == Some(&Value::Bool(true)) {
        draft.set("retired", "true".to_owned());
    }
    let typed = value.get("typed").cloned().unwrap_or_default();
    let typed: BTreeMap<String, String> = serde_json::from_value(typed).unwrap_or_default();
    for (field, at) in fields {
        let Some(text) = typed.get(&path::by_number(value, &at)) else { continue };
        let around = Around { us, index, draft: &draft };
        let read = field.takes.read(text, &at, &around);
        let stands = path::get(value, &at).map(as_typed);
        if read.is_ok_and(|read| stands.is_some_and(|it| same(&read, &it))) {
            draft.set(&at, text.clone());
        }
    }
    draft
}

/// A value as the text of its own field says it: a law that was lent to it is a field beside it.
fn as_typed(mut value: Value) -> Value {
    if let Some(law) = value.get_mut("law").filter(|law| law.as_str() == Some("as_earliest")) {
        *law = "steady".into();
    }
    value
}

/// Whether two values say the same: a number may be written as 4 or 4.0, and what is left out is nothing.
fn same(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => {
            let (one, other) = (one.as_f64(), other.as_f64());
            one.zip(other).is_some_and(|(one, other)| (one - other).abs() <= one.abs() * 1e-9)
        }
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same(one, other))
        }
        (Value::Object(one), Value::Object(other)) => {
            let covers = |one: &serde_json::Map<String, Value>, other: &serde_json::Map<_, _>| {
                one.iter().all(|(key, value)| match other.get(key) {
                    Some(other) => same(value, other),
                    None => value.is_null() || value.as_str() == Some("steady"),
                })
            };
            covers(one, other) && covers(other, one)
        }
        (one, other) => one == other,
    }
}

fn items(
    all: &'static [Item],
    prefix: &str,
    value: &Value,
    draft: &mut Draft,
    fields: &mut Vec<(&'static Field, String)>,
) {
    for item in all {
        match item {
            Item::Section(_) => {}
            Item::Field(field) => {
                let at = join(prefix, field.key);
                let shown = is_shown(field, prefix, draft) || field.shown == Shown::Never;
                let Some(stands) = path::get(value, &at).filter(|it| shown && !it.is_null()) else {
                    continue;
                };
                draft.set(&at, field.takes.text_of(&stands, false));
                fields.push((field, at));
            }
            Item::List(list) => {
                let at = join(prefix, list.key);
                let rows = path::get(value, &at).and_then(|it| it.as_array().map(Vec::len));
                let rows = rows.unwrap_or(0);
                draft.set_rows(&at, rows);
                for row in 0..rows {
                    let row_at = format!("{at}[{row}]");
                    if let Some(Value::String(id)) = path::get(value, &join(&row_at, "id")) {
                        draft.set(&join(&row_at, "id"), id);
                    }
                    items(list.items, &row_at, value, draft, fields);
                }
            }
        }
    }
}

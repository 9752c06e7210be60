//! Places in a file of the book, as faults name them: `mix.components[0].density_g_per_ml`. Two
//! forms of our own reach into lists by what stands there: `cure{stage=handle}.after` is the entry
//! whose `stage` is `handle`, `hazards{isocyanate}` is whether the list has that word.

use serde_json::{Map, Value};

/// One step of a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Piece<'a> {
    Key(&'a str),
    Row(usize),
    Where(&'a str, &'a str),
    Member(&'a str),
}

fn pieces(path: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    for part in path.split('.') {
        let name_ends = part.find(['[', '{']).unwrap_or(part.len());
        let (name, mut rest) = part.split_at(name_ends);
        pieces.push(Piece::Key(name));
        while !rest.is_empty() {
            let Some(end) = rest.find([']', '}']) else { break };
            let (inner, after) = (rest.get(1..end).unwrap_or_default(), &rest[end + 1..]);
            pieces.push(match (rest.starts_with('['), inner.split_once('=')) {
                (true, _) => Piece::Row(inner.parse().unwrap_or(usize::MAX)),
                (false, Some((key, value))) => Piece::Where(key, value),
                (false, None) => Piece::Member(inner),
            });
            rest = after;
        }
    }
    pieces
}

fn row_where(list: &[Value], key: &str, value: &str) -> Option<usize> {
    list.iter().position(|row| row.get(key).and_then(Value::as_str) == Some(value))
}

/// What stands at `path` of `root`; whether a word is in a list comes as `true`.
#[must_use]
pub fn get(root: &Value, path: &str) -> Option<Value> {
    let mut at = root;
    for piece in pieces(path) {
        at = match piece {
            Piece::Key(key) => at.get(key)?,
            Piece::Row(row) => at.get(row)?,
            Piece::Where(key, value) => {
                let list = at.as_array()?;
                &list[row_where(list, key, value)?]
            }
            Piece::Member(word) => {
                let has = at.as_array()?.iter().any(|it| it.as_str() == Some(word));
                return has.then_some(Value::Bool(true));
            }
        };
    }
    Some(at.clone())
}

/// Puts `new` at `path`, making what is missing on the way, and returns the path with every list
/// entry by its number, as a fault would name it.
pub fn set(root: &mut Value, path: &str, new: Value) -> String {
    let mut at = root;
    let mut plain = String::new();
    for piece in pieces(path) {
        match piece {
            Piece::Key(key) => {
                if !plain.is_empty() {
                    plain.push('.');
                }
                plain.push_str(key);
                let Some(map) = object(at) else { return plain };
                at = map.entry(key.to_owned()).or_insert(Value::Null);
            }
            Piece::Row(row) => {
                // a row beyond any list's length would be a slip of the program's own
                let row = row.min(999);
                plain.push_str(&format!("[{row}]"));
                let Some(list) = array(at) else { return plain };
                if list.len() <= row {
                    list.resize(row + 1, Value::Null);
                }
                at = &mut list[row];
            }
            Piece::Where(key, value) => {
                let Some(list) = array(at) else { return plain };
                let row = row_where(list, key, value).unwrap_or_else(|| {
                    list.push(Value::Object(Map::from_iter([(key.to_owned(), value.into())])));
                    list.len() - 1
                });
                plain.push_str(&format!("[{row}]"));
                at = &mut list[row];
            }
            Piece::Member(word) => {
                let Some(list) = array(at) else { return plain };
                list.retain(|it| it.as_str() != Some(word));
                if new == Value::Bool(true) {
                    list.push(word.into());
                }
                return plain;
            }
        }
    }
    *at = new;
    plain
}

/// `path` with every list entry by its number, where `root` has it.
#[must_use]
pub fn by_number(root: &Value, path: &str) -> String {
    let mut at = Some(root);
    let mut plain = String::new();
    for piece in pieces(path) {
        match piece {
            Piece::Key(key) => {
                if !plain.is_empty() {
                    plain.push('.');
                }
                plain.push_str(key);
                at = at.and_then(|at| at.get(key));
            }
            Piece::Row(row) => {
                plain.push_str(&format!("[{row}]"));
                at = at.and_then(|at| at.get(row));
            }
            Piece::Where(key, value) => {
                let list = at.and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
                let row = row_where(list, key, value).unwrap_or(list.len());
                plain.push_str(&format!("[{row}]"));
                at = list.get(row);
            }
            Piece::Member(_) => {}
        }
    }
    plain
}

fn object(at: &mut Value) -> Option<&mut Map<String, Value>> {
    if !at.is_object() {
        *at = Value::Object(Map::new());
    }
    at.as_object_mut()
}

fn array(at: &mut Value) -> Option<&mut Vec<Value>> {
    if !at.is_array() {
        *at = Value::Array(Vec::new());
    }
    at.as_array_mut()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_set_is_found_and_named_by_number() {
        let mut root = Value::Null;
        assert_eq!(set(&mut root, "mix.components[1].parts", json!(2)), "mix.components[1].parts");
        assert_eq!(set(&mut root, "cure{stage=sand}.after.duration_s", json!(9)), {
            "cure[0].after.duration_s"
        });
        assert_eq!(set(&mut root, "cure{stage=full}.after.duration_s", json!(10)), {
            "cure[1].after.duration_s"
        });
        set(&mut root, "hazards{chromate}", json!(true));
        set(&mut root, "hazards{flammable}", json!(true));
        set(&mut root, "hazards{chromate}", json!(false));
        let whole = json!({
            "mix": { "components": [null, { "parts": 2 }] },
            "cure": [
                { "stage": "sand", "after": { "duration_s": 9 } },
                { "stage": "full", "after": { "duration_s": 10 } },
            ],
            "hazards": ["flammable"],
        });
        assert_eq!(root, whole);
        assert_eq!(get(&root, "cure{stage=full}.after.duration_s"), Some(json!(10)));
        assert_eq!(get(&root, "hazards{flammable}"), Some(json!(true)));
        assert_eq!(get(&root, "hazards{chromate}"), None);
        assert_eq!(get(&root, "mix.components[7].parts"), None);
        assert_eq!(by_number(&root, "cure{stage=full}.after"), "cure[1].after");
    }
}

//! The schema of an entry, as its type makes it, walked along with an entry of a log.

use std::collections::{BTreeMap, BTreeSet};

use boothside_core::session::entry::Entry;
use schemars::SchemaGenerator;
use serde_json::Value;

/// What was met on the way: each place is a type and what lies in it, `Event.poured.can`.
#[derive(Default)]
pub(crate) struct Met {
    /// Keys that stand there.
    pub(crate) present: BTreeSet<String>,
    /// Optional keys that do not, though they could.
    pub(crate) missing: BTreeSet<String>,
    /// Of what may be this or that, which it was.
    pub(crate) branches: BTreeSet<String>,
}

/// The schema.
pub(crate) struct Schema {
    defs: BTreeMap<String, Value>,
}

impl Schema {
    pub(crate) fn of_entry() -> Self {
        let mut generator = SchemaGenerator::default();
        let _ = generator.subschema_for::<Entry>();
        let defs = generator.take_definitions(true);
        Self { defs: defs.into_iter().collect() }
    }

    /// The kinds of events: the one key that each must have.
    pub(crate) fn kinds(&self) -> Vec<String> {
        let kinds = self.defs["Event"]["oneOf"].as_array().expect("the kinds");
        let kind = |kind: &Value| match kind["required"].as_array().map(Vec::as_slice) {
            Some([tag]) => tag.as_str().expect("a name").to_owned(),
            _ => panic!("a kind without a name: {kind}"),
        };
        kinds.iter().map(kind).collect()
    }

    /// Every optional key, and everything that may be this or that, of all types.
    pub(crate) fn all(&self) -> (BTreeSet<String>, BTreeSet<String>) {
        let (mut keys, mut branches) = (BTreeSet::new(), BTreeSet::new());
        for (name, schema) in &self.defs {
            list(name, schema, &mut keys, &mut branches);
        }
        (keys, branches)
    }

    /// Walks along an entry.
    pub(crate) fn walk(&self, entry: &Value, met: &mut Met) {
        self.follow("Entry", &self.defs["Entry"], entry, met);
    }

    fn follow(&self, place: &str, schema: &Value, value: &Value, met: &mut Met) {
        if let Some((name, schema)) = self.referred(schema) {
            return self.follow(name, schema, value, met);
        }
        if let Some(branches) = branches(schema) {
            let fits = branches.iter().find(|branch| self.fits(branch, value));
            let branch = fits.unwrap_or_else(|| panic!("{place} is none of its kinds: {value}"));
            met.branches.extend(branch_name(place, branch));
            return self.follow(&branch_place(place, branch), branch, value, met);
        }
        if let (Some(names), Some(text)) = (schema["enum"].as_array(), value.as_str()) {
            assert!(names.contains(value), "{place}: {value}");
            met.branches.insert(format!("{place}: {text}"));
        }
        if let Some(object) = value.as_object() {
            for (key, schema) in properties(schema) {
                let name = format!("{place}.{key}");
                match object.get(key) {
                    Some(value) => {
                        met.present.insert(name.clone());
                        self.follow(&name, schema, value, met);
                    }
                    None => {
                        met.missing.insert(name);
                    }
                }
            }
            let others = &schema["additionalProperties"];
            let named = |key: &String| schema["properties"].get(key).is_some();
            for (_, value) in object.iter().filter(|(key, _)| others.is_object() && !named(key)) {
                self.follow(&format!("{place}{{}}"), others, value, met);
            }
        }
        for value in value.as_array().into_iter().flatten() {
            self.follow(&format!("{place}[]"), &schema["items"], value, met);
        }
    }

    fn referred<'a>(&'a self, schema: &'a Value) -> Option<(&'a str, &'a Value)> {
        let name = schema["$ref"].as_str()?.strip_prefix("#/$defs/").expect("a definition");
        Some((name, &self.defs[name]))
    }

    /// Whether a value is of this shape, as far as keys and names tell.
    fn fits(&self, schema: &Value, value: &Value) -> bool {
        if let Some((_, schema)) = self.referred(schema) {
            return self.fits(schema, value);
        }
        if let Some(branches) = branches(schema) {
            return branches.iter().any(|branch| self.fits(branch, value));
        }
        if let Some(only) = schema.get("const") {
            return only == value;
        }
        if let Some(names) = schema["enum"].as_array() {
            return names.contains(value);
        }
        if schema["type"] == "null" {
            return value.is_null();
        }
        let Some(object) = value.as_object() else { return schema["type"] != "object" };
        let required = schema["required"].as_array().into_iter().flatten();
        let has_all = required.filter_map(Value::as_str).all(|key| object.contains_key(key));
        let known = properties(schema).into_iter();
        let constant = |key: &str, schema: &Value| {
            schema.get("const").is_none_or(|only| object.get(key) == Some(only))
        };
        schema["type"] == "object"
            && has_all
            && known.into_iter().all(|(key, it)| constant(key, it))
    }
}

fn properties(schema: &Value) -> Vec<(&str, &Value)> {
    let properties = schema["properties"].as_object().into_iter().flatten();
    properties.map(|(key, schema)| (key.as_str(), schema)).collect()
}

fn branches(schema: &Value) -> Option<&Vec<Value>> {
    ["oneOf", "anyOf"].into_iter().find_map(|key| schema[key].as_array())
}

/// What tells a branch from its neighbours: a name, a constant kind, or the one key that it has.
fn branch_tag(branch: &Value) -> Option<String> {
    let constant = |schema: &Value| schema["const"].as_str().map(str::to_owned);
    let kind = properties(branch).into_iter().find_map(|(_, schema)| constant(schema));
    let only = || match properties(branch)[..] {
        [(key, _)] => Some(key.to_owned()),
        _ => None,
    };
    constant(branch).or(kind).or_else(only)
}

fn branch_name(place: &str, branch: &Value) -> Option<String> {
    Some(format!("{place}: {}", branch_tag(branch)?))
}

/// Where the keys of a branch lie: those of one that is told by its only key lie at the whole.
fn branch_place(place: &str, branch: &Value) -> String {
    match branch_tag(branch).filter(|_| properties(branch).len() > 1) {
        Some(tag) => format!("{place}: {tag}"),
        None => place.to_owned(),
    }
}

fn list(place: &str, schema: &Value, keys: &mut BTreeSet<String>, of: &mut BTreeSet<String>) {
    for branch in branches(schema).into_iter().flatten() {
        of.extend(branch_name(place, branch));
        list(&branch_place(place, branch), branch, keys, of);
    }
    let names = schema["enum"].as_array().into_iter().flatten().filter_map(Value::as_str);
    of.extend(names.map(|name| format!("{place}: {name}")));
    let required: Vec<&str> =
        schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    for (key, schema) in properties(schema) {
        let name = format!("{place}.{key}");
        if !required.contains(&key) {
            keys.insert(name.clone());
        }
        list(&name, schema, keys, of);
    }
    for (part, key) in [("[]", "items"), ("{}", "additionalProperties")] {
        if schema[key].is_object() {
            list(&format!("{place}{part}"), &schema[key], keys, of);
        }
    }
}

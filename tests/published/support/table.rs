//! Comma-separated tables whose first lines may be `#` comments.

use std::path::Path;

/// One row of a table, fields by name.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    fields: Vec<(String, String)>,
}

impl Row {
    /// The text of a field.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.fields
            .iter()
            .find(|(field, _)| field == name)
            .map(|(_, value)| value.as_str())
            .unwrap_or_else(|| panic!("no column {name}"))
    }

    /// The number in a field.
    pub(crate) fn number(&self, name: &str) -> f64 {
        self.maybe(name).unwrap_or_else(|| panic!("no number in {name}: {self:?}"))
    }

    /// The number in a field, `None` where it is empty.
    pub(crate) fn maybe(&self, name: &str) -> Option<f64> {
        let text = self.text(name).trim();
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{name}: {text}")))
    }
}

/// The rows of `tests/published/data/NAME`.
pub(crate) fn table(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/published/data").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path:?}: {error}"));
    let mut lines = text.lines().filter(|line| !line.starts_with('#')).map(split);
    let header = lines.next().expect("a header");
    let rows: Vec<Row> = lines
        .map(|fields| {
            assert_eq!(fields.len(), header.len(), "{name}: {fields:?}");
            Row { fields: header.iter().cloned().zip(fields).collect() }
        })
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// The fields of a line; a field in double quotes may hold commas.
fn split(line: &str) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            other => fields.last_mut().expect("a field").push(other),
        }
    }
    fields
}

//! Finding a field in the text of a file, so that a message can name its line.

/// Line and column (both from 1, columns in characters) of the value of the field at the dotted
/// `path` (`mix.components[2].parts`), or of the innermost object of that path that is there.
/// `None` where `text` is not JSON at all.
pub(crate) fn field(text: &str, path: &str) -> Option<(usize, usize)> {
    let mut walker = Walker { bytes: text.as_bytes(), at: 0 };
    walker.space();
    for step in steps(path) {
        let start = walker.at;
        if walker.enter(&step).is_none() {
            walker.at = start;
            break;
        }
    }
    (walker.at < text.len()).then(|| place(text, walker.at))
}

/// Line and column of the byte `at`.
pub(crate) fn place(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let line = before.matches('\n').count() + 1;
    (line, before[line_start..].chars().count() + 1)
}

#[derive(Debug, PartialEq)]
enum Step {
    Key(String),
    Row(usize),
}

fn steps(path: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    for piece in path.split('.').filter(|piece| !piece.is_empty()) {
        let mut parts = piece.split('[');
        steps.extend(parts.next().filter(|key| !key.is_empty()).map(|key| Step::Key(key.into())));
        let rows = parts.filter_map(|row| row.strip_suffix(']')?.parse().ok());
        steps.extend(rows.map(Step::Row));
    }
    steps
}

/// Walks through JSON that is known to be well formed; where it is not, every step ends in `None`.
struct Walker<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Walker<'_> {
    fn enter(&mut self, step: &Step) -> Option<()> {
        match step {
            Step::Key(key) => self.enter_key(key),
            Step::Row(row) => self.enter_row(*row),
        }
    }

    fn enter_key(&mut self, wanted: &str) -> Option<()> {
        self.token(b'{')?;
        loop {
            let start = self.at;
            self.string()?;
            let key: String = serde_json::from_slice(&self.bytes[start..self.at]).ok()?;
            self.space();
            self.token(b':')?;
            if key == wanted {
                return Some(());
            }
            self.value()?;
            self.token(b',')?;
        }
    }

    fn enter_row(&mut self, row: usize) -> Option<()> {
        self.token(b'[')?;
        for _ in 0..row {
            self.value()?;
            self.token(b',')?;
        }
        (*self.bytes.get(self.at)? != b']').then_some(())
    }

    /// Goes past one token and the space after it.
    fn token(&mut self, token: u8) -> Option<()> {
        (*self.bytes.get(self.at)? == token).then_some(())?;
        self.at += 1;
        self.space();
        Some(())
    }

    fn space(&mut self) {
        let rest = self.bytes.get(self.at..).unwrap_or_default();
        self.at += rest.iter().take_while(|byte| byte.is_ascii_whitespace()).count();
    }

    /// Goes past one value and the space after it.
    fn value(&mut self) -> Option<()> {
        let mut depth = 0_usize;
        loop {
            match self.bytes.get(self.at)? {
                b'"' => self.string()?,
                b'{' | b'[' => {
                    depth += 1;
                    self.at += 1;
                }
                b'}' | b']' if depth == 0 => return Some(()),
                b'}' | b']' => {
                    depth -= 1;
                    self.at += 1;
                }
                b',' if depth == 0 => return Some(()),
                _ => self.at += 1,
            }
        }
    }

    fn string(&mut self) -> Option<()> {
        (*self.bytes.get(self.at)? == b'"').then_some(())?;
        self.at += 1;
        loop {
            match self.bytes.get(self.at)? {
                b'"' => break,
                b'\\' => self.at += 2,
                _ => self.at += 1,
            }
        }
        self.at += 1;
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "{\n  \"é \\\" {\": [1, \"}]\"],\n  \"mix\": { \"components\": [\n    { \"parts\": 4 },\n    { \"parts\": -1 }\n  ] },\n  \"x\": 2\n}\n";

    #[test]
    fn a_field_is_found_behind_strings_that_look_like_json() {
        assert_eq!(field(TEXT, "mix.components[1].parts"), Some((5, 16)));
        assert_eq!(field(TEXT, "x"), Some((7, 8)));
        assert_eq!(field(TEXT, "mix"), Some((3, 10)));
    }

    #[test]
    fn a_missing_field_points_to_what_should_hold_it() {
        assert_eq!(field(TEXT, "mix.components[0].name"), Some((4, 5)));
        assert_eq!(field(TEXT, "mix.components[2]"), Some((3, 26)));
        assert_eq!(field(TEXT, ""), Some((1, 1)));
    }

    #[test]
    fn text_that_is_no_json_does_no_harm() {
        for text in ["", "{", "{\"a", "{\"a\\", "[1,", "{\"a\":}"] {
            for path in ["", "a", "a.b", "[3]", "a[9]"] {
                let _ = field(text, path);
            }
        }
    }
}

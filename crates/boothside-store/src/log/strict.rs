//! JSON in which no object has a key twice: `serde` lets a later one win in a map, silently.

use std::collections::HashSet;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

/// Checks that `text` is one JSON value and nothing else, and that no key stands twice in it.
pub(crate) fn no_key_twice(text: &[u8]) -> Result<(), serde_json::Error> {
    let mut deserializer = serde_json::Deserializer::from_slice(text);
    AnyValue.deserialize(&mut deserializer)?;
    deserializer.end()
}

#[derive(Clone, Copy)]
struct AnyValue;

impl<'de> DeserializeSeed<'de> for AnyValue {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for AnyValue {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_bool<E>(self, _: bool) -> Result<(), E> {
        Ok(())
    }

    fn visit_i64<E>(self, _: i64) -> Result<(), E> {
        Ok(())
    }

    fn visit_u64<E>(self, _: u64) -> Result<(), E> {
        Ok(())
    }

    fn visit_f64<E>(self, _: f64) -> Result<(), E> {
        Ok(())
    }

    fn visit_str<E>(self, _: &str) -> Result<(), E> {
        Ok(())
    }

    fn visit_unit<E>(self) -> Result<(), E> {
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<(), A::Error> {
        while seq.next_element_seed(self)?.is_some() {}
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let mut keys = HashSet::new();
        while let Some(key) = map.next_key::<String>()? {
            if keys.contains(&key) {
                return Err(A::Error::custom(format!("the key {key:?} stands twice")));
            }
            keys.insert(key);
            map.next_value_seed(self)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_twice_is_found_at_any_depth() {
        assert!(no_key_twice(br#"{"a":{"b":1},"c":[{"b":1,"d":null}]}"#).is_ok());
        let why = no_key_twice(br#"[{"a":[{"b":1,"b":1}]}]"#).unwrap_err();
        assert!(why.to_string().contains("\"b\" stands twice"), "{why}");
        // the same key written in another way
        assert!(no_key_twice(br#"{"a":1,"\u0061":2}"#).is_err());
    }

    #[test]
    fn depth_is_bounded() {
        assert!(no_key_twice("[".repeat(100_000).as_bytes()).is_err());
    }
}

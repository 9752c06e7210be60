use super::*;
use paste::{GAP, LASTS, LONGEST};
use proptest::prelude::*;

const fn ms(ms: u64) -> Duration {
    Duration::from_millis(ms)
}

fn code(code: KeyCode) -> Typed {
    Typed::Key(KeyEvent::new(code, KeyModifiers::NONE))
}

fn pasted(text: &str) -> Typed {
    Typed::Pasted(text.to_owned())
}

/// Everything that comes of bytes that come at once.
fn typed(bytes: &[u8]) -> Vec<Typed> {
    let mut keys = Keys::default();
    let mut out = keys.take(bytes, ms(1_000));
    out.extend(keys.waited(ms(60_000)));
    out
}

#[test]
fn keys_are_read_as_terminals_write_them() {
    let known: &[(&[u8], KeyCode)] = &[
        (b"d", KeyCode::Char('d')),
        (b" ", KeyCode::Char(' ')),
        ("µ".as_bytes(), KeyCode::Char('µ')),
        ("€".as_bytes(), KeyCode::Char('€')),
        (b"\r", KeyCode::Enter),
        (b"\t", KeyCode::Tab),
        (b"\x1b[Z", KeyCode::BackTab),
        (b"\x7f", KeyCode::Backspace),
        (b"\x08", KeyCode::Backspace),
        (b"\x1b", KeyCode::Esc),
        (b"\x1b[A", KeyCode::Up),
        (b"\x1bOA", KeyCode::Up),
        (b"\x1b[B", KeyCode::Down),
        (b"\x1b[1;2D", KeyCode::Left),
        (b"\x1b[C", KeyCode::Right),
        (b"\x1b[H", KeyCode::Home),
        (b"\x1b[1~", KeyCode::Home),
        (b"\x1bOF", KeyCode::End),
        (b"\x1b[4~", KeyCode::End),
        (b"\x1b[3~", KeyCode::Delete),
        (b"\x1b[5~", KeyCode::PageUp),
        (b"\x1b[6~", KeyCode::PageDown),
        (b"\x1bd", KeyCode::Char('d')),
    ];
    for (bytes, key) in known {
        assert_eq!(typed(bytes), [code(*key)], "{bytes:?}");
    }
    let interrupt = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
    assert_eq!(typed(b"\x03"), [Typed::Key(interrupt)]);
}

#[test]
fn what_is_no_key_here_is_nothing_and_leaves_nothing_behind() {
    let others: [&[u8]; 8] = [
        b"\x1b[11~",
        b"\x1b[[A",
        b"\x1bOP",
        b"\x1b[1;5A",
        b"\x1b[<0;10;5M",
        b"\x1b[M abc"[..6].as_ref(),
        b"\x1b[I",
        b"\xff",
    ];
    for bytes in others {
        let all = [bytes, b"d"].concat();
        assert_eq!(typed(&all), [code(KeyCode::Char('d'))], "{bytes:?}");
    }
}

#[test]
fn a_sequence_in_pieces_is_one_key_and_a_lone_esc_is_esc() {
    let mut keys = Keys::default();
    assert_eq!(keys.take(b"\x1b", ms(0)), []);
    assert_eq!(keys.take(b"[", ms(3)), []);
    assert_eq!(keys.take(b"A", ms(60)), [code(KeyCode::Up)]);
    assert_eq!(keys.take(b"\x1b", ms(100)), []);
    assert_eq!(keys.until(), Some(ms(104)));
    assert_eq!(keys.waited(ms(103)), []);
    assert_eq!(keys.waited(ms(104)), [code(KeyCode::Esc)]);
    assert_eq!(keys.until(), None);
    // half a sequence is forgotten, and what comes after it is a key
    assert_eq!(keys.take(b"\x1b[1;", ms(200)), []);
    assert_eq!(keys.take(b"d", ms(300)), [code(KeyCode::Char('d'))]);
}

#[test]
fn a_paste_is_one_piece_whatever_stands_in_it() {
    let text = "19.4\r\nq q\u{3}\u{1b}[A µ";
    let all = format!("\u{1b}[200~{text}\u{1b}[201~d");
    assert_eq!(typed(all.as_bytes()), [pasted(text), code(KeyCode::Char('d'))]);
    let mut keys = Keys::default();
    let mut out = Vec::new();
    for (at, byte) in all.bytes().enumerate() {
        out.extend(keys.take(&[byte], ms(at as u64)));
    }
    assert_eq!(out, [pasted(text), code(KeyCode::Char('d'))], "byte by byte");
    assert_eq!(typed(b"\x1b[200~\x1b[201~d"), [code(KeyCode::Char('d'))]);
}

#[test]
fn a_paste_without_its_end_is_over_after_a_second() {
    let mut keys = Keys::default();
    assert_eq!(keys.take(b"\x1b[200~ab", ms(0)), []);
    assert_eq!(keys.take(b"q", ms(500)), []);
    assert_eq!(keys.until(), Some(LASTS));
    assert_eq!(keys.take(b"\x03", LASTS).len(), 2, "the text, and the key after it");
    // what streams in is still text
    keys.take(b"\x1b[200~", ms(10_000));
    let mut at = ms(10_000);
    while at < ms(12_000) {
        at += GAP - ms(1);
        assert_eq!(keys.take(b"d", at), [], "at {at:?}");
    }
    assert_eq!(keys.waited(at + GAP).len(), 1);
}

#[test]
fn a_paste_is_kept_to_64_kb_and_its_rest_is_no_key() {
    let long = vec![b'd'; LONGEST + 5_000];
    let all = [b"\x1b[200~".as_slice(), &long, b"\x1b[201~e"].concat();
    let out = typed(&all);
    assert_eq!(out, [pasted(&"d".repeat(LONGEST)), code(KeyCode::Char('e'))]);
    let mut keys = Keys::default();
    keys.take(&[b"\x1b[200~".as_slice(), &long].concat(), ms(0));
    assert_eq!(keys.until(), Some(GAP), "without its end it is over with the stream");
    assert_eq!(keys.take(b"e", GAP).len(), 2);
}

proptest! {
    /// Whatever came before: a second later a key is a key again.
    #[test]
    fn nothing_swallows_keys_for_ever(
        pieces in prop::collection::vec((prop::sample::select(vec![
            &b"\x1b"[..], b"\x1b[", b"\x1b[200~", b"\x1b[20", b"\x1b[201~", b"\x1bO", b"\xe2", b"\x1b[M", b"q",
            b"\xff", b"\r", b"1;",
        ]), 0_u64..80), 0..40),
    ) {
        let mut keys = Keys::default();
        let mut at = ms(0);
        for (bytes, after) in pieces {
            keys.take(bytes, at);
            at += ms(after);
        }
        at += LASTS;
        keys.waited(at);
        prop_assert_eq!(keys.take(b"d", at), [code(KeyCode::Char('d'))]);
    }
}

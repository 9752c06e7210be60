use std::collections::HashMap;

use ratatui::style::Modifier;

use super::*;

const ALL: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ·-/:;.,+×()'!?&#%°";

fn shown(text: &BigText, width: u16, height: u16) -> Vec<String> {
    let mut buf = Buffer::empty(Rect::new(0, 0, width, height));
    text.render(buf.area, &mut buf);
    let row = |y| (0..width).map(|x| buf[(x, y)].symbol().to_owned()).collect();
    (0..height).map(row).map(|line: String| line.trim_end().to_owned()).collect()
}

#[test]
fn every_glyph_is_seven_rows_of_one_width() {
    for c in ALL.chars() {
        let glyph = glyph(c).unwrap();
        let rows: Vec<&str> = glyph.split('/').collect();
        assert_eq!(rows.len(), usize::from(HEIGHT), "{c}");
        assert!(rows.iter().all(|row| row.len() == rows[0].len()), "{c}");
        assert!(glyph.chars().all(|pixel| "#./".contains(pixel)), "{c}");
        assert!(!c.is_ascii_digit() || width(glyph) == 4, "{c} trembles");
    }
}

#[test]
fn every_narrow_letter_is_narrower_and_its_own() {
    let narrow = |c: char| narrow(c).or_else(|| letter(c)).unwrap();
    let mut seen = HashMap::new();
    for c in ('A'..='Z').chain([' ']) {
        let glyph = if c == ' ' { super::narrow(c).unwrap() } else { narrow(c) };
        let rows: Vec<&str> = glyph.split('/').collect();
        assert_eq!(rows.len(), usize::from(HEIGHT), "{c}");
        assert!(rows.iter().all(|row| row.len() == rows[0].len()), "{c}");
        assert!("MWQI".contains(c) || width(glyph) < width(super::glyph(c).unwrap()), "{c}");
        assert_eq!(seen.insert(glyph, c), None, "{c}");
    }
    // what the hand might take one for another differs by two pixels at least
    for a in 'A'..='Z' {
        for b in ('A'..='Z').filter(|b| *b != a) {
            let differ = narrow(a).bytes().zip(narrow(b).bytes()).filter(|(x, y)| x != y).count();
            assert!(differ > 1 || width(narrow(a)) != width(narrow(b)), "{a} and {b}");
        }
    }
}

#[test]
fn a_nought_has_a_stroke_and_an_o_has_none() {
    let inside =
        |c| glyph(c).unwrap().split('/').any(|row| row.trim_matches('#').len() + 2 < row.len());
    assert!(inside('0') && !inside('O'));
}

#[test]
fn every_glyph_is_its_own() {
    let mut seen = HashMap::new();
    for c in ALL.chars() {
        let other = seen.insert(glyph(c).unwrap(), c);
        assert_eq!(other, None, "as {c}");
    }
}

#[test]
fn letters_and_digits_differ_by_more_than_one_pixel() {
    let letters = || ALL.chars().filter(char::is_ascii_alphanumeric);
    for a in letters() {
        for b in letters().filter(|b| *b != a) {
            let (one, two) = (glyph(a).unwrap(), glyph(b).unwrap());
            let differ = one.bytes().zip(two.bytes()).filter(|(x, y)| x != y).count();
            assert!(differ > 1 || width(one) != width(two), "{a} and {b}");
        }
    }
}

#[test]
fn a_time_at_the_smallest_scale() {
    let lines = shown(&BigText::new("6:44"), 20, 4);
    assert_eq!(
        lines,
        [
            "▄▀▀    █  █ █  █", // six, colon, four, four
            "█▄▄  ▀ █▄▄█ █▄▄█",
            "█  █ ▀    █    █",
            " ▀▀       ▀    ▀",
        ]
    );
}

#[test]
fn twice_as_large_is_twice_as_wide() {
    let text = BigText::new("L");
    assert_eq!(text.size(Scale::ONE), Size::new(4, 4));
    assert_eq!(text.size(Scale::even(2)), Size::new(8, 7));
    let lines = shown(&text, 8, 7);
    assert_eq!(lines, ["██", "██", "██", "██", "██", "██", "████████"]);
}

#[test]
fn a_line_too_long_to_grow_both_ways_grows_tall() {
    let lines = shown(&BigText::new("L"), 7, 7);
    assert_eq!(lines, ["█", "█", "█", "█", "█", "█", "████"]);
}

#[test]
fn the_best_scale_is_the_largest_that_fits() {
    let text = BigText::new("12:14");
    let fits = |across, down, area: Size| {
        let size = text.size(Scale { across, down });
        size.width <= area.width && size.height <= area.height
    };
    for (width, height) in [(0, 0), (22, 4), (20, 9), (80, 9), (80, 24), (50, 60), (200, 60)] {
        let area = Size::new(width, height);
        let Some(Scale { across, down }) = text.best_scale(width, height) else {
            assert!(!fits(1, 1, area), "{area}");
            continue;
        };
        assert!(fits(across, down, area) && across <= down && down <= 2 * across, "{area}");
        assert!(across == down || !fits(across + 1, down, area), "{area}");
        assert!(down == 2 * across || !fits(across, down + 1, area), "{area}");
    }
    assert!(text.best_scale(u16::MAX, u16::MAX).is_some());
}

#[test]
fn a_reversed_text_is_a_whole_field_and_nothing_beside_it() {
    let due = Style::new().add_modifier(Modifier::REVERSED);
    let text = BigText::new("LOOK").style(due).scale(Scale::ONE).alignment(Alignment::Center);
    let size = text.size(Scale::ONE);
    let area = Rect::new(0, 0, size.width + 6, 8);
    let mut buf = Buffer::empty(area);
    (&text).render(area, &mut buf);
    let field = Rect::new(3, 0, size.width, size.height);
    for position in area.positions() {
        let reversed = buf[position].modifier.contains(Modifier::REVERSED);
        assert_eq!(reversed, field.contains(position), "{position}");
    }
}

#[test]
fn what_does_not_fit_or_has_no_glyph_is_ordinary_text() {
    assert_eq!(shown(&BigText::new("Fin · left"), 12, 3), ["Fin · left", "", ""]);
    assert_eq!(shown(&BigText::new("Киль"), 60, 7)[0], "Киль");
    assert_eq!(shown(&BigText::new("Fin · left"), 5, 1), ["Fin ·"]);
    assert!(!covers("Киль") && covers("Fin · left") && covers(""));
}

#[test]
fn accents_are_left_out() {
    let large = |text| shown(&BigText::new(text), 100, 4);
    assert_eq!(large("flügel außen"), large("FLUGEL AUSSEN"));
    assert_eq!(large("de\u{301}rive"), large("DERIVE"));
    assert_eq!(large("kø–æ"), large("KO-AE"));
}

#[test]
fn any_area_of_any_size_is_drawn_without_a_panic() {
    for text in ["", "6:44", "Rudder · left", "Киль"] {
        for (width, height) in [(0, 0), (1, 1), (3, 40), (200, 1), (200, 60)] {
            let mut buf = Buffer::empty(Rect::new(0, 0, width, height));
            BigText::new(text).render(Rect::new(1, 1, 300, 300), &mut buf);
            BigText::new(text).scale(Scale::even(9)).render(buf.area, &mut buf);
        }
    }
}

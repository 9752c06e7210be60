use ratatui::style::Modifier;

use super::*;

fn drawn(text: &str, (width, rows): (u16, u16), band: bool) -> (Poster, Buffer) {
    let poster = Settings::of(text).fit(width - 4, rows, band).unwrap();
    let mut buf = Buffer::empty(Rect::new(0, 0, width, rows));
    let style = if band { Style::new().add_modifier(Modifier::REVERSED) } else { Style::new() };
    poster.styled(style, 2).render(buf.area, &mut buf);
    (poster, buf)
}

/// The cells that hold ink, as a box.
fn inked(buf: &Buffer) -> Rect {
    let inked: Vec<_> =
        buf.area.positions().filter(|at| !buf[*at].symbol().trim().is_empty()).collect();
    let (left, right) =
        (inked.iter().map(|at| at.x).min().unwrap(), inked.iter().map(|at| at.x).max().unwrap());
    let (top, bottom) =
        (inked.iter().map(|at| at.y).min().unwrap(), inked.iter().map(|at| at.y).max().unwrap());
    Rect::new(left, top, right - left + 1, bottom - top + 1)
}

#[test]
fn what_stands_in_a_band_has_ground_on_every_side() {
    for text in ["LOOK HATCH TOP", "STOP AND CLEAN POT A", "WATER CONDENSES"] {
        for size in [(80, 6), (80, 19), (100, 12), (120, 22), (200, 40)] {
            let (poster, buf) = drawn(text, size, true);
            let letters = inked(&buf);
            let reversed = |x, y| buf[(x, y)].modifier.contains(Modifier::REVERSED);
            for y in 0..poster.rows() {
                assert!((0..size.0).all(|x| reversed(x, y)), "{text} {size:?} row {y}");
            }
            assert!(letters.x >= 1 && letters.right() < size.0, "{text} {size:?}");
            // half a row at least above the first stroke: the upper half of its cells is ground
            let touches =
                |y: u16, full: &[&str]| (0..size.0).any(|x| full.contains(&buf[(x, y)].symbol()));
            assert!(!touches(0, &["█", "▀"]), "{text} {size:?}");
            assert!(!touches(poster.rows() - 1, &["█", "▄"]), "{text} {size:?}");
        }
    }
}

#[test]
fn a_text_breaks_where_that_makes_it_larger_and_never_loses_a_word() {
    let of = |text: &str, width, rows| {
        let poster = Settings::of(text).fit(width, rows, false).unwrap();
        (poster.lines.len(), poster.across, poster.down)
    };
    // one line in a low room, two where they are larger
    assert_eq!(of("SPRAY HATCH UNDER", 76, 4), (1, 1, 1));
    assert!(of("SPRAY HATCH UNDER", 150, 30).0 > 1);
    let all = Settings::of("MIX POT B NOW");
    for setting in &all.all {
        let glyphs: usize = setting.lines.iter().map(Vec::len).sum();
        assert_eq!(glyphs + setting.lines.len() - 1, "MIX POT B NOW".len());
    }
}

#[test]
fn words_tied_by_a_no_break_space_stay_together() {
    let tied = Settings::of("2\u{a0}H\u{a0}27 NIBS OFF");
    let most = tied.all.iter().map(|setting| setting.lines.len()).max();
    assert_eq!(most, Some(3));
    assert!(tied.all.iter().all(|setting| setting.lines[0].len() >= "2 H 27".len()));
}

#[test]
fn it_fits_wherever_it_says_so_and_grows_with_its_room() {
    for text in ["9:40 HATCH TOP", "STOP AND CLEAN POT A", "COUNT MASKS", "AIR"] {
        let settings = Settings::of(text);
        for band in [false, true] {
            let mut before = 0;
            for rows in 0..60 {
                let Some(poster) = settings.fit(80, rows, band) else { continue };
                let columns = poster.pixels * poster.across;
                assert!(poster.rows() <= rows && columns <= 80, "{text} {rows}");
                let worth = 2 * poster.down + 3 * poster.across;
                assert!(worth >= before, "{text} {rows}");
                before = worth;
            }
            let least = settings.least_rows(80, band).unwrap();
            assert!(settings.fit(80, least, band).is_some());
            assert!(settings.fit(80, least - 1, band).is_none());
        }
    }
}

#[test]
fn what_has_no_glyph_or_no_room_is_no_poster() {
    assert!(Settings::of("Киль").fit(200, 60, false).is_none());
    assert!(Settings::of("").fit(200, 60, true).is_none());
    assert!(Settings::of("UNBREAKABLEUNBREAKABLEUNBREAKABLE").fit(80, 60, false).is_none());
}

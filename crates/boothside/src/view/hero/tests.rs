use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::*;

fn hero(band: bool, large: &str, second: &str) -> HeroText {
    let small = vec!["in this air the flash takes 28 min, not 20".to_owned()];
    HeroText { band, large: large.into(), second: second.into(), small }
}

fn drawn(text: &HeroText, width: u16, height: u16) -> Buffer {
    let area = Rect::new(0, 0, width, height);
    let mut buf = Buffer::empty(area);
    text.draw(Theme::new(true), &mut Pen::new(&mut buf, area));
    buf
}

fn row(buf: &Buffer, y: u16) -> String {
    (0..buf.area.width).map(|x| buf[(x, y)].symbol()).collect()
}

fn is_reversed(buf: &Buffer, y: u16) -> bool {
    (0..buf.area.width).all(|x| buf[(x, y)].modifier.contains(Modifier::REVERSED))
}

/// Sizes of the room that a terminal of 80×24, 100×30, 120×40, 200×60 gives it, and of the glance.
const ROOMS: [(u16, u16); 8] =
    [(80, 6), (80, 17), (100, 9), (100, 24), (120, 18), (120, 34), (200, 32), (200, 52)];

#[test]
fn every_ask_is_large_in_every_room_with_its_second_text_whole() {
    let asks = [
        (true, "LOOK HATCH UNDER", "2 more"),
        (true, "STOP AND CLEAN POT A", "dead since 16:18"),
        (true, "WATER CONDENSES", "warm the part or dry the air"),
        (false, "SPRAY HATCH UNDER", "look at Hatch top 14:33"),
        (false, "13\u{a0}MIN HATCH TOP", "look 20:20"),
        (false, "208.7\u{a0}G ACTIVATOR", "pot A, 1 of 3"),
        (false, "RESPIRATOR?", "9 to check"),
        (false, "WHO KNOWS?", "this screen cannot call for help"),
    ];
    for (band, large, second) in asks {
        for (width, height) in ROOMS {
            let text = hero(band, large, second);
            let what = format!("{large} {width}×{height}");
            assert!(text.least_rows(width) <= height, "{what}");
            let plan = Plan::of(&text, width, height);
            assert!(matches!(plan.large, Block::Large(_)), "{what}");
            assert!(plan.rows() <= height, "{what}");
            let buf = drawn(&text, width, height);
            if let Block::Ordinary { .. } = plan.second {
                assert!((0..height).any(|y| row(&buf, y).contains(second)), "{what}");
            }
            let reversed = (0..height).filter(|y| is_reversed(&buf, *y)).count();
            assert_eq!(reversed, if band { plan.large.rows().into() } else { 0 }, "{what}");
        }
    }
}

#[test]
fn what_is_urgent_is_as_large_as_what_is_calm() {
    for (width, height) in ROOMS {
        let of =
            |band, large| Plan::of(&hero(band, large, "look 20:20"), width, height).large.rows();
        let (calm, due) = (of(false, "13\u{a0}MIN HATCH TOP"), of(true, "LOOK HATCH TOP"));
        assert!(due >= calm, "{width}×{height}: {due} under {calm}");
    }
}

#[test]
fn the_second_text_is_large_where_there_is_room() {
    let of = |width, height| Plan::of(&hero(false, "SPRAY HATCH TOP", "look 14:33"), width, height);
    assert!(matches!(of(80, 6).second, Block::Ordinary { .. }));
    for (width, height) in [(80, 17), (120, 18), (200, 32)] {
        let plan = of(width, height);
        let Block::Large(second) = &plan.second else { panic!("{width}×{height}: {plan:?}") };
        assert!(second.rows() >= 4 && second.rows() <= plan.large.rows());
    }
}

#[test]
fn a_name_without_glyphs_or_longer_than_any_letters_is_written_whole() {
    let long = "LOOK HORIZONTALSTABILISERTRAILINGEDGE UNDERNEATH OUTBOARD";
    for large in ["LOOK Киль левая", long] {
        let buf = drawn(&hero(true, large, "2 more"), 80, 8);
        let all: String = (0..8).map(|y| row(&buf, y)).collect();
        for word in large.to_uppercase().split(' ') {
            assert!(all.contains(word), "{word}");
        }
        assert!(all.contains("2 more"));
    }
}

#[test]
fn what_explains_goes_before_a_blank_row() {
    // two lines of letters, one of the second text, one that explains: ten rows and none to spare
    let text = hero(false, "SEEN: FISHEYE, CRATER AND PINHOLES", "SPACE begin coat 1: Hatch · top");
    let plan = Plan::of(&text, 80, text.least_rows(80) + 1);
    assert_eq!((plan.above, plan.small.len()), (0, 1), "{plan:?}");
}

#[test]
fn no_room_is_too_small_to_draw_in() {
    for width in 0..30 {
        for height in 0..10 {
            drawn(&hero(true, "LOOK HATCH TOP", "2 more"), width, height);
            drawn(&hero(false, "", ""), width, height);
        }
    }
}

//! Figures that the Book has otherwise, offered beside the clocks of an open session.

use std::fs;
use std::path::Path;

use boothside::example::example;
use boothside::shell::at_hand::at_hand;
use boothside::update::at_hand::AtHand;
use boothside::update::desk::Pressed;
use boothside_core::session::event::Event;
use boothside_core::session::{BOOK_CHANGED, offered_figures, set_figure};
use boothside_core::work::job::{FullJob, ShopUnits};
use boothside_store::book::FolderShelf;
use boothside_store::storage::RealDisk;

use crate::faults::faces_on;
use crate::play::{compare, screen};
use crate::rig::Rig;

const LIFE: &str = "sheets.grey-primer.pot_life.duration_s";

/// The Book with other figures of the same names.
fn book(figures: &[(&str, f64)]) -> AtHand {
    let mut work = example().expect("the example");
    for (field, value) in figures {
        set_figure(&mut work, field, *value).expect("it fits");
    }
    AtHand { parts: Vec::new(), work: Some(work) }
}

fn offered(figures: &[(&str, f64)]) -> Rig {
    let mut rig = faces_on(2);
    rig.desk.lay_at_hand(book(figures), rig.hand_ms);
    rig.pass(2.0);
    rig
}

fn changed() -> Rig {
    offered(&[(LIFE, 10_800.0), ("layers.1.dry_um", 14.0), ("shop.loss_ml", 25.0)])
}

/// Puts the example into a folder as a painter's own book, with one sheet changed.
fn book_on_disk(folder: &Path, change: impl FnOnce(&mut FullJob)) {
    let mut work = example().expect("the example");
    change(&mut work);
    let write = |kind: &str, name: &str, text: String| {
        fs::create_dir_all(folder.join(kind)).expect("a folder");
        fs::write(folder.join(kind).join(format!("{name}.json")), text).expect("a file");
    };
    for (name, sheet) in &work.sheets {
        write("sheets", name, serde_json::to_string(sheet).expect("text"));
    }
    for (name, part) in &work.parts {
        write("parts", name, serde_json::to_string(part).expect("text"));
    }
    write("systems", &work.job.system, serde_json::to_string(&work.system).expect("text"));
    write("", "shop", serde_json::to_string(&work.shop).expect("text"));
}

#[test]
fn the_book_is_read_as_it_is_when_the_sitting_begins() {
    let folder = tempfile::tempdir().expect("a folder");
    let shelf = FolderShelf::new(RealDisk, folder.path());
    let rig = faces_on(1);
    let session = rig.desk.session();
    assert_eq!(at_hand(&shelf, session), AtHand::default(), "the example is in no book");
    book_on_disk(folder.path(), |work| {
        set_figure(work, LIFE, 10_800.0).expect("it fits");
        let mut retired = work.parts["hatch"].clone();
        retired.retired = true;
        work.parts.insert("old".into(), retired);
    });
    let found = at_hand(&shelf, session);
    let names: Vec<&str> = found.parts.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["cuff", "door", "hatch", "rudder"], "a retired part joins nothing");
    let offered = offered_figures(session, &found.work.expect("its system is there"));
    assert_eq!(offered.len(), 1);
    assert_eq!((offered[0].field.as_str(), offered[0].book), (LIFE, 10_800.0));
}

#[test]
fn nothing_is_asked_where_the_book_is_as_it_was() {
    assert!(offered(&[]).scene().offer.is_empty());
}

#[test]
fn the_figures_are_named_in_words_with_both_values_and_nothing_changes_of_itself() {
    let mut rig = changed();
    let before = (rig.written.len(), rig.desk.session().state().clone());
    compare(&rig, "offer_01_asked");
    rig.pass(30.0);
    assert_eq!((rig.written.len(), rig.desk.session().state().clone()), before);
    // the work goes on past the question
    rig.space();
    assert!(matches!(rig.last_events(), [Event::FaceBegun { .. }]));
    assert_eq!(rig.scene().offer.len(), 3);
}

#[test]
fn one_takes_them_all_in_one_entry() {
    let mut rig = changed();
    let before = rig.written.len();
    rig.key('1');
    assert_eq!(rig.written.len(), before + 1);
    let taken =
        |event: &&Event| matches!(event, Event::FigureChanged { why, .. } if why == BOOK_CHANGED);
    assert_eq!(rig.last_events().iter().filter(taken).count(), 3);
    assert!(rig.scene().offer.is_empty());
    assert_eq!(rig.desk.session().state().work.shop.loss_ml, Some(25.0));
    // taken back by one key, it is asked again at the next opening
    rig.key('u');
    rig.desk.lay_at_hand(book(&[("shop.loss_ml", 25.0)]), rig.hand_ms);
    assert_eq!(rig.pass(2.0).scene().offer.len(), 1);
}

#[test]
fn two_lets_them_be_until_the_book_changes_again() {
    let mut rig = changed();
    rig.key('2');
    assert!(matches!(rig.last_events(), [Event::FiguresKept { fields }] if fields.len() == 3));
    compare(&rig, "offer_02_kept");
    let again = |rig: &mut Rig, ml: f64| {
        let figures = [(LIFE, 10_800.0), ("layers.1.dry_um", 14.0), ("shop.loss_ml", ml)];
        rig.desk.lay_at_hand(book(&figures), rig.hand_ms);
        rig.pass(2.0).scene().offer.len()
    };
    assert_eq!(again(&mut rig, 25.0), 0);
    assert_eq!(again(&mut rig, 26.0), 1);
}

#[test]
fn esc_puts_it_off_until_the_next_opening() {
    let mut rig = changed();
    let before = rig.written.len();
    rig.press(Pressed::Esc);
    assert!(rig.scene().offer.is_empty());
    assert_eq!(rig.written.len(), before);
    rig.desk.lay_at_hand(book(&[(LIFE, 10_800.0)]), rig.hand_ms);
    assert_eq!(rig.pass(2.0).scene().offer.len(), 1);
}

#[test]
fn a_digit_meant_for_what_stood_there_before_is_no_answer() {
    let mut rig = faces_on(2);
    let before = rig.written.len();
    rig.desk.lay_at_hand(book(&[(LIFE, 10_800.0)]), rig.hand_ms);
    rig.key('2');
    assert_eq!(rig.written.len(), before, "2 shows the bench");
    // nor one that wakes the screen from across the room
    rig.key('1').pass(70.0);
    assert!(rig.scene().glance);
    rig.key('1');
    assert_eq!(rig.written.len(), before);
    assert_eq!(rig.scene().offer.len(), 1);
}

#[test]
fn a_shop_in_us_units_sees_its_own() {
    let mut rig = Rig::with(|work| work.shop.units = ShopUnits::Us);
    let mut at_hand = book(&[("layers.1.dry_um", 25.4), ("sheets.grey-primer.limits.min_c", 20.0)]);
    if let Some(work) = &mut at_hand.work {
        work.shop.units = ShopUnits::Us;
    }
    rig.desk.lay_at_hand(at_hand, rig.hand_ms);
    let seen = screen(rig.pass(2.0), (100, 30));
    assert!(seen.contains("→ 68 °F") && seen.contains("→ 1 mil"), "{seen}");
}

//! A session that another program writes: what can be looked at is offered, and nothing else.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Notice, Saved, Screen};
use boothside::update::table::TABLE;

use crate::play::{compare, screen};
use crate::rig::Rig;

#[test]
fn only_keys_that_look_are_offered() {
    let mut rig = Rig::read_along();
    rig.pass(1.0);
    let offered: Vec<&str> = rig.scene().keys.iter().map(|row| row.shown).collect();
    assert_eq!(offered, ["↑", "↓", "s", "1", "2", "3", "5", "6", "7", "?", "8", "q"]);
    compare(&rig, "along_01_clocks");
    rig.key('7');
    assert_eq!(rig.scene().screen, Screen::Log);
    assert!(!screen(&rig, (80, 24)).contains("Enter"));
    rig.key('?');
    compare(&rig, "along_02_keys");
}

#[test]
fn a_key_that_would_write_says_so_and_opens_nothing() {
    for row in TABLE.iter().filter(|row| !row.does.only_looks()) {
        let mut rig = Rig::read_along();
        rig.pass(1.0);
        let key = match row.key {
            boothside::update::table::Key::Char(c) => Pressed::Char(c),
            boothside::update::table::Key::Enter => Pressed::Enter,
            other => panic!("{other:?} only looks"),
        };
        rig.press(key);
        let told = rig.scene().notices.iter().any(|notice| match notice {
            Notice::Text(text) => text.contains("read only here"),
            _ => false,
        });
        assert!(told, "{}", row.shown);
        let scene = rig.scene();
        assert!(scene.form.is_none() && scene.asking.is_none() && scene.picker.is_none());
        assert_eq!(rig.written, Vec::new());
    }
}

#[test]
fn that_the_writer_is_gone_and_there_again_is_said() {
    let mut rig = Rig::read_along();
    rig.desk.written_by(None);
    assert!(
        screen(rig.pass(1.0), (80, 24)).contains("its writer is gone: leave, and open it anew")
    );
    rig.desk.written_by(Some("another boothside (process 9)"));
    let Saved::ReadOnly { why } = rig.scene().saved else { panic!("it reads only") };
    assert_eq!(why, "another boothside (process 9) has it open");
}

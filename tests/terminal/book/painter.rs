//! A painter at the book: real keys, real files in a folder of their own, a fixed wall.

use std::path::Path;

use boothside::shell::places::Places;
use boothside::shell::room::{Hand, Room, Went};
use boothside::update::desk::Pressed;
use boothside::view;
use boothside::view::book::RoomScene;
use boothside::view::theme::Theme;
use chrono::DateTime;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use tempfile::TempDir;

/// What goes into a field.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Put {
    /// Text, which is not counted.
    Text(&'static str),
    /// Letters that pick one of several: each is counted.
    Pick(&'static str),
    /// Nothing.
    Skip,
}

pub(crate) struct Painter {
    pub(crate) room: Room,
    pub(crate) folder: TempDir,
    ms: i64,
    /// Keys pressed beyond the text itself.
    pub(crate) presses: u32,
    pub(crate) went: Went,
}

const AT: &str = "2026-05-12T09:30:00.000-05:00";

impl Painter {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let room = Room::new(&places(folder.path()), Vec::new(), || {});
        Self { room, folder, ms: 0, presses: 0, went: Went::Stays }
    }

    /// A painter at a book that has the example's files.
    pub(crate) fn with_example() -> Self {
        let painter = Self::new();
        let example = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../assets/example"));
        for kind in ["sheets", "parts", "systems", "jobs"] {
            let to = painter.folder.path().join(kind);
            std::fs::create_dir_all(&to).expect("a folder");
            for file in std::fs::read_dir(example.join(kind)).expect("the example") {
                let file = file.expect("a file").path();
                std::fs::copy(&file, to.join(file.file_name().expect("a name"))).expect("copied");
            }
        }
        painter.anew()
    }

    /// The same folder after the program was ended and started again.
    pub(crate) fn anew(self) -> Self {
        let Self { room, folder, ms, presses, .. } = self;
        drop(room);
        let room = Room::new(&places(folder.path()), Vec::new(), || {});
        Self { room, folder, ms, presses, went: Went::Stays }
    }

    pub(crate) fn places(&self) -> Places {
        places(self.folder.path())
    }

    fn press(&mut self, key: Pressed) {
        self.ms += 1_200;
        self.went = self.room.press(key, &Hand { ms: self.ms, at: AT });
    }

    /// A key that counts.
    pub(crate) fn key(&mut self, key: Pressed) -> &mut Self {
        self.presses += 1;
        self.press(key);
        self
    }

    pub(crate) fn keys(&mut self, keys: &str) -> &mut Self {
        for c in keys.chars() {
            self.key(Pressed::Char(c));
        }
        self
    }

    /// Text, which does not count.
    pub(crate) fn text(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            self.press(Pressed::Char(c));
        }
        self
    }

    pub(crate) fn enter(&mut self) -> &mut Self {
        self.key(Pressed::Enter)
    }

    /// The label of the line on which the painter stands.
    pub(crate) fn label(&self) -> String {
        let (form, _) = self.room.form().expect("a form");
        form.line().expect("a line").label.clone()
    }

    /// Fills fields one after the other; each must be the one that the script expects.
    pub(crate) fn fill(&mut self, fields: &[(&str, Put)]) -> &mut Self {
        for (label, put) in fields {
            assert_eq!(self.label(), *label);
            match put {
                Put::Text(text) => self.text(text),
                Put::Pick(letters) => self.keys(letters),
                Put::Skip => self,
            };
            self.enter();
            assert_ne!(self.label(), *label, "it went on: {:?}", self.faults());
        }
        self
    }

    /// Goes on by sections until the line of this label.
    pub(crate) fn section(&mut self, label: &str) -> &mut Self {
        for _ in 0..30 {
            if self.label() == label {
                return self;
            }
            self.key(Pressed::Esc).key(Pressed::PageDown).key(Pressed::Enter);
        }
        panic!("no section begins with {label}");
    }

    /// Goes to the first line of this label, from the top.
    pub(crate) fn go_to(&mut self, label: &str) -> &mut Self {
        for _ in 0..300 {
            self.key(Pressed::Up);
        }
        for _ in 0..300 {
            if self.label() == label {
                return self;
            }
            self.key(Pressed::Down);
        }
        panic!("no line {label}");
    }

    pub(crate) fn faults(&self) -> Vec<String> {
        let (form, _) = self.room.form().expect("a form");
        form.faults().iter().map(|(at, told)| format!("{at}: {told}")).collect()
    }

    /// What was told last, beside the list or in the form.
    pub(crate) fn told(&self) -> String {
        match self.room.form() {
            Some((form, _)) => form.told().unwrap_or_default().to_owned(),
            None => format!("{:?}", self.room.list().notices()),
        }
    }

    /// Saves the form by its letter, and is back in the book.
    pub(crate) fn save(&mut self) -> &mut Self {
        if self.room.form().is_some_and(|(form, _)| form.is_typing()) {
            self.key(Pressed::Esc);
        }
        self.keys("s");
        assert!(self.room.form().is_none(), "{} {:?}", self.told(), self.faults());
        self
    }

    pub(crate) fn has(&self, file: &str) -> bool {
        self.folder.path().join(file).exists()
    }

    pub(crate) fn json(&self, file: &str) -> serde_json::Value {
        let text = std::fs::read_to_string(self.folder.path().join(file)).expect("a file");
        serde_json::from_str(&text).expect("JSON")
    }

    pub(crate) fn screen(&self, (columns, rows): (u16, u16)) -> String {
        self.room.flush();
        let mut page = Terminal::new(TestBackend::new(columns, rows)).expect("a page");
        let scene = RoomScene {
            list: self.room.list(),
            form: self.room.form(),
            data: "/home/painter/.local/share/boothside",
            keep_awake: "keep this laptop awake",
            now: DateTime::parse_from_rfc3339(AT).expect("a time"),
        };
        let theme = Theme::new(true);
        page.draw(|frame| view::draw_book(frame, &scene, &theme)).expect("drawn");
        let buffer = page.backend().buffer().clone();
        let line = |y| -> String {
            let cells = (0..columns).map(|x| buffer[(x, y)].symbol().to_owned());
            cells.collect::<String>().trim_end().to_owned()
        };
        let folder = self.folder.path().to_string_lossy().into_owned();
        let screen = (0..rows).map(line).collect::<Vec<_>>().join("\n");
        screen.replace(&folder, "DATA")
    }

    pub(crate) fn compare(&self, moment: &str) {
        for size in [(80, 24), (100, 30)] {
            let name = format!("book_{moment}_{}x{}", size.0, size.1);
            insta::assert_snapshot!(name, self.screen(size));
        }
    }
}

fn places(folder: &Path) -> Places {
    Places::find(Some(folder)).expect("places")
}

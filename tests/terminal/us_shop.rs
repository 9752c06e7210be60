//! A job in a US shop from prep to close: no metric unit stands in any cell of any screen, but where the painter
//! typed one.

use boothside::forms::FormKind;
use boothside::update::desk::Pressed;
use boothside::update::scene::Screen;
use boothside_core::board::mixing::{OnBench, Shows};
use boothside_core::board::{Next, Stage};
use boothside_core::material::sheet::Basis;
use boothside_core::session::event::Event;
use boothside_core::work::job::{FullJob, ShopUnits};

use crate::play::screen;
use crate::rig::Rig;

const PLAIN: (u16, u16) = (80, 24);
const G_PER_OZ: f64 = 28.349_523_125;

/// Signs that no US shop reads; after a number also these letters.
const METRIC: [&str; 9] = ["mL", "°C", "µm", "mm²", "m²", "m³", "kPa", "g/mL", "g/cm"];
const AFTER_A_NUMBER: [&str; 7] = ["g", "L", "kg", "um", "mm2/s", "m2", "ml"];

fn us(work: &mut FullJob) {
    work.shop.units = ShopUnits::Us;
    for sheet in work.sheets.values_mut() {
        sheet.mix.by = Basis::Volume;
    }
}

/// The shop, and the metric units found on its screens.
struct Shop {
    rig: Rig,
    found: Vec<String>,
    screens: usize,
}

impl Shop {
    fn new() -> Self {
        Self { rig: Rig::with(us), found: Vec::new(), screens: 0 }
    }

    fn look(&mut self) {
        self.screens += 1;
        let shown = screen(&self.rig, PLAIN);
        let words: Vec<&str> = shown.split_whitespace().collect();
        let numbered = words.windows(2).filter(|pair| {
            let number = pair[0].trim_start_matches(['+', '-', '~', '(', '=']);
            let unit = pair[1].trim_end_matches([',', ';', ':', '.', ')']);
            number.replace(',', "").parse::<f64>().is_ok() && AFTER_A_NUMBER.contains(&unit)
        });
        let mut told: Vec<String> = numbered.map(|pair| pair.join(" ")).collect();
        told.extend(METRIC.iter().filter(|sign| shown.contains(**sign)).map(|it| (*it).into()));
        for sign in told {
            let line = shown.lines().find(|line| line.contains(&sign)).unwrap_or(&shown);
            let line = format!("{sign}: {}", line.trim());
            if !self.found.contains(&line) {
                self.found.push(line);
            }
        }
    }

    fn press(&mut self, key: Pressed) -> &mut Self {
        self.rig.press(key);
        self.look();
        self
    }

    /// A second passes, so that the first key is no repeat.
    fn keys(&mut self, keys: &str) -> &mut Self {
        self.rig.pass(1.1);
        for key in keys.chars() {
            self.press(Pressed::Char(key));
        }
        self
    }

    /// Answers fields, one after the other.
    fn fill(&mut self, fields: &[&str]) -> &mut Self {
        for text in fields {
            assert!(self.rig.scene().form.is_some(), "no form for '{text}'");
            for c in text.chars() {
                self.rig.press_only(Pressed::Char(c));
            }
            self.look();
            self.press(Pressed::Enter);
        }
        self
    }

    /// Goes on with Enter until the form is kept.
    fn keep(&mut self) -> &mut Self {
        for _ in 0..60 {
            if self.rig.scene().form.is_none() {
                return self;
            }
            self.press(Pressed::Enter);
        }
        panic!("the form stays: {:?}", self.rig.scene().form);
    }

    /// Leaves a form or question that was only looked at.
    fn leave(&mut self) -> &mut Self {
        self.press(Pressed::Esc).press(Pressed::Esc)
    }

    /// Every screen, and the glance.
    fn look_round(&mut self) -> &mut Self {
        for key in "235".chars() {
            self.keys(&key.to_string());
            for _ in 0..8 {
                self.press(Pressed::Down);
            }
        }
        self.keys("6").keys("7").press(Pressed::Down).keys("?").keys("1");
        self.rig.pass(61.0);
        self.look();
        self.press(Pressed::Esc)
    }

    /// Does the next thing.
    fn step(&mut self) {
        let form = self.rig.scene().form.map(|form| form.kind);
        if matches!(form, Some(FormKind::CountIn | FormKind::CountOut)) {
            self.fill(&["14"]).keep();
            return;
        }
        if form.is_some() {
            self.read_air(["672", "58", "658"]);
            return;
        }
        if self.rig.scene().asking.is_some() {
            self.press(Pressed::Char('1'));
            return;
        }
        match self.rig.desk.board().next.clone() {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                self.rig.leap_to(until.unwrap_or_else(|| panic!("{what:?} never comes")));
                self.look();
            }
            Next::CoatOn { .. } => {
                self.rig.pass(120.0);
                self.look();
                self.keys(" ");
            }
            _ => {
                self.keys(" ");
            }
        }
    }

    fn read_air(&mut self, figures: [&str; 3]) {
        self.fill(&figures).keep();
    }

    fn on_until(&mut self, what: &str, stop: impl Fn(&Rig) -> bool) -> &mut Self {
        for _ in 0..900 {
            if stop(&self.rig) {
                self.rig.pass(2.0);
                return self;
            }
            self.step();
        }
        panic!("never came: {what}, but {:?}", self.rig.desk.board().next);
    }

    /// What the scale shows after the next pour, oz.
    fn planned_oz(&self) -> f64 {
        let mixing = self.rig.desk.board().mixing.as_ref().expect("a bench");
        match mixing.next_pour() {
            Some((_, Shows::Scale(g))) => g / G_PER_OZ,
            other => panic!("no pour by the scale: {other:?}"),
        }
    }
}

fn air_is_read(rig: &Rig) -> bool {
    !rig.desk.session().state().readings.is_empty()
        && !matches!(rig.desk.board().next, Next::Reading { .. })
}

/// What is refused is said in the shop's units too.
fn refused_readings(shop: &mut Shop) {
    shop.keys("a").fill(&["200F"]).fill(&["warm"]).fill(&["672", "580000"]).fill(&["58", "900"]);
    shop.leave();
    shop.keys("v").fill(&["pot life"]).leave();
    shop.keys("v").fill(&["solids"]).leave();
    shop.keys("v").fill(&["primer flow"]).leave();
}

fn pours(shop: &mut Shop) {
    shop.keys("2").press(Pressed::Enter).fill(&["much"]);
    let over = format!("{:.2}", shop.planned_oz() * 1.06);
    shop.fill(&[&over]);
    assert!(matches!(shop.rig.last_events(), [Event::Poured { .. }]));
    shop.look_round().keys("2").keys("v").keys("v").keys("e").leave();
    shop.keys("l").leave().keys("2").keys("m").fill(&["wide", "999gal"]).leave();
    for _ in 0..8 {
        if shop.rig.desk.board().mixing.as_ref().is_some_and(|it| it.stands == OnBench::Mixed) {
            break;
        }
        shop.keys("2").press(Pressed::Enter).keep();
    }
    // reducer after the stir, the flow cup, what is left, what went back
    shop.keys("2").keys("o3").fill(&["0.2"]).keep().look_round();
    shop.keys("2").keys("y").fill(&["46"]).keep();
    shop.keys("2").keys("o4").fill(&["6lb"]).leave();
    shop.keys("2").keys("o5").fill(&["1"]).leave();
    shop.keys("2").keys("o2").fill(&["lots"]).leave();
}

/// Air that is not fit, and what holds then.
fn a_hold(shop: &mut Shop) {
    shop.keys("a").read_air(["50", "90", "49"]);
    shop.look_round().keys("3").press(Pressed::Enter).leave();
    shop.keys("1").press(Pressed::Down).press(Pressed::Enter);
    assert!(shop.rig.scene().asking.is_some(), "the cold holds the coat");
    shop.leave().keys("a").read_air(["672", "58", "658"]);
}

fn film_and_fault(shop: &mut Shop) {
    shop.keys("f").fill(&["thick", "3-4 3"]).keep();
    shop.keys("5")
        .press(Pressed::Enter)
        .keys("2")
        .fill(&["0.5 0.6 9999"])
        .fill(&["0.5 0.6"])
        .keep();
    shop.keys("5").press(Pressed::Enter).keys("3").fill(&["20", "5", "30"]).leave();
    shop.keys("5").press(Pressed::Enter).keys("3").fill(&["11.3"]).keep();
    assert_eq!(shop.rig.scene().screen, Screen::Film);
    shop.look_round().keys("1").keys("x").press(Pressed::Enter);
    for c in "sag".chars() {
        shop.press(Pressed::Char(c));
    }
    shop.press(Pressed::Enter);
    assert!(matches!(shop.rig.last_events(), [Event::FaultSeen { .. }]), "a fault");
    shop.keys("g").fill(&["13", "1.3", "900", "22"]).keep().keys("g").leave();
}

#[test]
fn no_metric_unit_stands_on_any_screen_of_a_us_shop() {
    let mut shop = Shop::new();
    shop.look();
    shop.look_round().keys("a").leave();
    shop.on_until("a reading", air_is_read).look_round();
    refused_readings(&mut shop);
    pours(&mut shop);
    shop.on_until("a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    a_hold(&mut shop);
    shop.on_until("a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    shop.keys(" ");
    shop.on_until("one face", |rig| rig.desk.session().state().faces[0].coats_on(1) == 1);
    film_and_fault(&mut shop);
    shop.on_until("the colour", |rig| {
        matches!(rig.desk.board().stage, Stage::Coat { layer: 2, .. })
    });
    shop.look_round();
    shop.on_until("the end", |rig| rig.desk.board().next == Next::Over).look_round();
    let state = shop.rig.desk.session().state();
    assert!(state.faces.iter().all(|face| (face.coats_on(1), face.coats_on(2)) == (2, 3)));
    assert!(shop.screens > 600, "{}", shop.screens);
    assert_eq!(shop.found, Vec::<String>::new(), "{}", shop.found.join("\n"));
}

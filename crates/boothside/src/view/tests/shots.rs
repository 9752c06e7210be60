//! The states that are drawn: each played to, none made up.

use std::cell::OnceCell;
use std::rc::Rc;

use boothside_core::board::{Board, Next, Stage, news};
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::standing::{Hold, Standing, holds_on_begin};
use boothside_core::session::time::Span;
use boothside_core::session::watch::Watch;

use super::bench::Bench;
use super::log_shots;
use crate::forms;
use crate::update::picker::Picker;
use crate::update::scene::{Asking, EntryDo, Intention, Notice, Rehearsal, Saved, Screen};

/// A session and what is on the screen beside it.
#[derive(Clone)]
pub(super) struct Shot {
    pub(super) name: &'static str,
    pub(super) bench: Bench,
    pub(super) board: OnceCell<Rc<Board>>,
    pub(super) saved: Saved,
    pub(super) screen: Screen,
    pub(super) glance: bool,
    pub(super) chosen: Option<usize>,
    pub(super) show_said: bool,
    pub(super) notices: Vec<Notice>,
    pub(super) asking: Option<Asking>,
    pub(super) form: Option<forms::Form>,
    pub(super) picker: Option<Picker>,
    pub(super) forgotten: bool,
    pub(super) log_chosen: u64,
    pub(super) rehearsal: Option<Rehearsal>,
    pub(super) leaving: bool,
}

impl Shot {
    pub(super) fn of(name: &'static str, bench: &Bench) -> Self {
        Self {
            name,
            bench: bench.clone(),
            board: OnceCell::new(),
            saved: Saved::Saved,
            screen: Screen::Clocks,
            glance: false,
            chosen: None,
            show_said: false,
            notices: Vec::new(),
            asking: None,
            form: None,
            picker: None,
            forgotten: false,
            log_chosen: 0,
            rehearsal: None,
            leaving: false,
        }
    }

    /// The board of the bench, reckoned once for all sizes and screens.
    pub(super) fn board(&self) -> Rc<Board> {
        Rc::clone(self.board.get_or_init(|| Rc::new(self.bench.board())))
    }
}

fn begins(coat_wanted: u32) -> impl Fn(&Next) -> bool {
    move |next| matches!(next, Next::BeginCoat { coat, .. } if *coat == coat_wanted)
}

fn holds_of(bench: &Bench, face: usize) -> Vec<Hold> {
    let watch = Watch::at(bench.now);
    let standing = Standing::of(&bench.session, &watch);
    holds_on_begin(&bench.session, &standing, face, &watch)
}

/// Before spraying.
fn early() -> Vec<Shot> {
    let mut bench = Bench::example();
    let opened = Shot::of("opened", &bench);
    bench.play_to(|next| matches!(next, Next::Step { .. }));
    bench.pass(1.0).space();
    bench.pass(62.0);
    let prep_wait = Shot::of("prep_wait", &bench);
    bench.play_to(|next| matches!(next, Next::Check { check, .. } if check == "laid-out"));
    let ready = Shot::of("ready_check", &bench);
    bench.play_to(|next| matches!(next, Next::MixPot { .. } | Next::Pour { .. }));
    let mix = Shot::of("mix", &bench);
    bench.play_to(|next| matches!(next, Next::Wait { .. }));
    bench.pass(4.0);
    let stands = Shot::of("pot_stands", &bench);
    vec![opened, prep_wait, ready, mix, stands]
}

/// Spraying the first layer.
fn spraying() -> Vec<Shot> {
    let mut bench = Bench::example();
    bench.play_to(begins(1));
    let begin = Shot::of("begin", &bench);
    bench.pass(0.3).space();
    bench.pass(2.2);
    let on_the_gun = Shot::of("on_the_gun", &bench);
    bench.pass(1.0).space();
    bench.pass(0.05);
    let said = Shot { show_said: true, ..Shot::of("said", &bench) };
    bench.pass(1.0).space();
    bench.pass(3.0).space();
    bench.pass(1.3);
    let flashing = Shot { chosen: Some(1), ..Shot::of("flashing", &bench) };
    let paced = Some(Rehearsal { pace: 60.0 });
    let rehearsal = Shot { rehearsal: paced, ..Shot::of("rehearsal", &bench) };
    let glance = Shot { glance: true, ..Shot::of("glance", &bench) };
    let keys = Shot { screen: Screen::Keys, ..Shot::of("keys", &bench) };
    let waiting = Saved::NotSaved { waiting: 3, why: "no space left on device".into() };
    let not_saved = Shot { saved: waiting.clone(), ..Shot::of("not_saved", &bench) };
    let not_saved_glance =
        Shot { saved: waiting, glance: true, ..Shot::of("glance_not_saved", &bench) };
    let intention = Intention::Begin { face: bench.session.plan().faces()[0].id.clone() };
    let asking = Some(Asking::Holds { intention, holds: holds_of(&bench, 0) });
    let holds = Shot { asking, chosen: Some(0), ..Shot::of("holds", &bench) };
    let mut form = forms::reading(&bench.session);
    for (field, text) in form.fields.iter_mut().zip(["19.8", "580", "18.9"]) {
        field.text = text.into();
    }
    form.fields[1].error = Some("above 0 and up to 100 %".into());
    form.focus = 1;
    let form = Shot { form: Some(form), ..Shot::of("reading_form", &bench) };
    let leaving = Shot { leaving: true, ..Shot::of("leaving", &bench) };
    let facts = Some(Asking::OtherFacts { face: 1 });
    let facts = Shot { asking: facts, chosen: Some(1), ..Shot::of("other_facts", &bench) };
    vec![
        begin,
        on_the_gun,
        said,
        flashing,
        rehearsal,
        glance,
        keys,
        not_saved,
        not_saved_glance,
        holds,
        form,
        leaving,
        facts,
    ]
}

/// Clocks that are due or lapse.
fn due() -> Vec<Shot> {
    let mut bench = Bench::example();
    bench.play_to(|next| matches!(next, Next::Dulled { .. }));
    bench.pass(1.2);
    let look = Shot::of("look_due", &bench);
    let glance = Shot { glance: true, ..Shot::of("glance_due", &bench) };
    let mut said = bench.clone();
    let first = said.session.plan().faces()[0].id.clone();
    said.tell(&Command::StillWet { face: first });
    let said = Shot { show_said: true, ..Shot::of("said_still_wet", &said) };
    let mut form = forms::note();
    form.fields[0].text = "ran out of cloths; took the lint-free ones from the cabinet".into();
    let look_form = Shot { form: Some(form), ..Shot::of("look_due_in_a_form", &bench) };
    bench.play_to(begins(2));
    let before = bench.board();
    bench.pass(47.0);
    let slept = Notice::Slept { span: Span::from_minutes(47), news: news(&before, &bench.board()) };
    let slept = Shot { notices: vec![slept], ..Shot::of("slept", &bench) };
    bench.pass(116.0);
    let clean = Shot::of("stop_and_clean", &bench);
    bench.pass(19.0);
    let closing = Shot::of("dead_and_closing", &bench);
    bench.pass(60.0);
    let mut cleaned = bench.clone();
    cleaned.tell(&Command::CleanGun);
    cleaned.read(18.0, 90.0, 12.2);
    let wipe = Shot::of("wipe_and_wet", &cleaned);
    cleaned.pass(60.0 * 9.0);
    let sand = Shot::of("sand", &cleaned);
    vec![look, glance, said, look_form, slept, clean, closing, wipe, sand]
}

/// The second layer, cure, end.
fn late() -> Vec<Shot> {
    let mut bench = Bench::example();
    bench.play_to(|next| matches!(next, Next::CleanGun { .. }));
    bench.space();
    bench.play_to(|next| matches!(next, Next::Wait { .. }));
    bench.pass(30.0);
    let gap = Shot::of("gap", &bench);
    let mut cold = bench.clone();
    cold.read(8.4, 50.0, 8.0);
    cold.tell(&Command::CleanGun);
    let cold = Shot::of("gap_too_cold", &cold);
    bench.play_to(|next| matches!(next, Next::Check { layer: 2, .. }));
    let ready = Shot::of("ready_second_layer", &bench);
    bench.play_to(begins(3));
    let third = Shot::of("third_coat", &bench);
    for _ in 0..2_000 {
        if matches!(bench.board().stage, Stage::Cure) && !bench.board().next.is_action() {
            break;
        }
        let next = bench.board().next;
        bench.play_to(|other| *other != next || matches!(other, Next::Wait { .. }));
        bench.space();
    }
    bench.pass(5.0);
    let cure = Shot::of("cure", &bench);
    bench.play_to(|next| matches!(next, Next::Close));
    let close = Shot::of("close", &bench);
    bench.space();
    let closed = Shot::of("closed", &bench);
    vec![gap, cold, ready, third, cure, close, closed]
}

/// A job whose names are long, wide or sly, with many faces and coats, in US units.
fn sly() -> Vec<Shot> {
    let mut work = crate::example::example().unwrap();
    work.job.name = "翼\u{202e} set of a name longer than most lines are".into();
    work.shop.units = boothside_core::work::job::ShopUnits::Us;
    work.system.layers[0].coats = 7;
    work.system.layers[0].name = "Primer\u{200b}first".into();
    let hatch = work.parts.get_mut("hatch").unwrap();
    hatch.name = "Horizontal stabiliser 左翼\u{fe0f}".into();
    let face = hatch.faces[0].clone();
    for number in 0..24 {
        let id = format!("more-{number}");
        hatch.faces.push(boothside_core::work::part::Face { id, ..face.clone() });
    }
    assert_eq!(work.check(), Vec::new());
    let mut bench = Bench::new(work);
    bench.play_to(|next| matches!(next, Next::BeginCoat { coat: 4, .. }));
    bench.pass(0.2).space();
    let text = "a text\u{1b}]0;with what must not reach the terminal\u{7}".to_owned();
    let notices = vec![Notice::Palm, Notice::Text(text)];
    let played = Shot { notices, show_said: true, ..Shot::of("sly_names", &bench) };
    let first = bench.session.plan().faces()[20].id.clone();
    bench.tell(&Command::CoatOn { face: first });
    bench.tell(&Command::Pause { why: "called\u{1b} away".into() });
    let broken = Shot { show_said: false, chosen: Some(30), ..Shot::of("sly_paused", &bench) };
    let mix = Shot { screen: Screen::Mix, ..Shot::of("sly_bench", &bench) };
    vec![played, broken, mix]
}

/// The bench: a pot to mix, one being poured, over what it rests on.
fn bench() -> Vec<Shot> {
    let mut bench = Bench::example();
    bench.play_to(|next| matches!(next, Next::MixPot { .. } | Next::Pour { .. }));
    let on_bench = |name, bench: &Bench| Shot { screen: Screen::Mix, ..Shot::of(name, bench) };
    let to_mix = on_bench("bench_to_mix", &bench);
    let mut poured = bench.clone();
    let amount = Poured::ScaleShows(330.0);
    poured.tell(&Command::Pour { pot: None, layer: 1, component: 0, amount });
    poured.pass(0.05);
    let over = Shot { show_said: true, ..on_bench("bench_over_poured", &poured) };
    let mix = poured.board().mixing.unwrap();
    let form = Some(forms::pour(&poured.session, &mix, 1, "397.4g"));
    let typing = Shot { form, show_said: false, ..over.clone() };
    let typing = Shot { name: "bench_typing", ..typing };
    bench.play_to(|next| matches!(next, Next::Dulled { .. }));
    bench.pass(1.2);
    let look = Shot { asking: Some(Asking::Pot), ..on_bench("bench_look_due", &bench) };
    vec![to_mix, over, typing, look]
}

/// Every state.
pub(super) fn all() -> Vec<Shot> {
    [early(), spraying(), due(), late(), sly(), bench(), log_shots::all()].concat()
}

/// Every question, and every form, over a clock that is due.
pub(super) fn over_a_due_clock() -> Vec<Shot> {
    let mut bench = Bench::example();
    bench.play_to(|next| matches!(next, Next::Dulled { .. }));
    let shot = Shot::of("", &bench);
    let begin = Intention::Begin { face: bench.session.plan().faces()[0].id.clone() };
    let old = bench.session.entries().last().unwrap();
    let (events, when) = (old.events.clone(), old.told_ms());
    let asked = [
        Asking::Holds { intention: begin, holds: holds_of(&bench, 0) },
        Asking::Holds { intention: Intention::GoOn, holds: holds_of(&bench, 1) },
        Asking::Holds { intention: Intention::Close, holds: vec![Hold::CoatsLeft] },
        Asking::OtherFacts { face: 2 },
        Asking::TakeBackOld { n: old.n, events, when },
        Asking::PauseWhy,
        Asking::Pot,
        Asking::Entry { n: 3, choices: vec![EntryDo::TrueTime, EntryDo::Note] },
    ];
    let forms = [
        forms::reading(&bench.session),
        forms::pot(&bench.session, None, 1, Some(239.0)),
        forms::top_up("A", boothside_core::work::job::ShopUnits::Metric),
        forms::true_time(),
        forms::note(),
        forms::gun(&bench.session),
        forms::time_of(3),
    ];
    let asked = asked.map(|asking| Shot { asking: Some(asking), ..shot.clone() });
    let forms = forms.map(|form| Shot { form: Some(form), ..shot.clone() });
    asked.into_iter().chain(forms).collect()
}

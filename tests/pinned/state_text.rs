//! What a log comes to, as a painter would tell it: each face, each pot, readings, steps, checks,
//! cans, holds gone past, and how every entry stands.

use boothside::view::words::Words;
use boothside::view::words::event::reason_words;
use boothside_core::board::{LogRow, Stands, board, log_rows};
use boothside_core::material::recipe::Told;
use boothside_core::session::event::Lot;
use boothside_core::session::gun::GunResult;
use boothside_core::session::mixing::Mixing;
use boothside_core::session::stock::{SeenCan, level_of};
use boothside_core::session::time::Moment;
use boothside_core::session::{CoatOn, FaceHistory, Pot, Preparing, Session, State, figures};

use crate::rig::Wall;
use crate::texts::{at, figure, flag, join, num, told, utc};

pub(crate) fn state_text(session: &Session) -> String {
    let state = session.state();
    let mut lines = head(session);
    for (planned, history) in session.plan().faces().iter().zip(&state.faces) {
        lines.extend(face(&planned.id, history));
    }
    lines.extend(state.pots.iter().map(pot));
    lines.extend(state.mixings.iter().flat_map(mixing));
    lines.extend(work(state));
    lines.extend(air(state));
    lines.extend(bench(state));
    lines.extend(record(session, state));
    lines.extend(mended(session, state));
    lines.extend(entries(session));
    lines.join("\n") + "\n"
}

fn head(session: &Session) -> Vec<String> {
    let state = session.state();
    let sitting = state.sitting.map(|it| format!("{} to {}", utc(it.began), utc(it.ends)));
    let paused = state.paused.as_ref().map(|(since, why)| format!("{} for: {why}", utc(*since)));
    let head = [
        Some(format!("job {}", state.work.job.name)),
        Some(format!("rules {}", state.rules.number())),
        flag("rehearsal", session.opening().rehearsal),
        at("closed", state.closed),
        told("sitting", sitting),
        told("paused since", paused),
        told("in the gun", state.gun.clone()),
        told("spent", state.spent.clone()),
        at("gun free", state.gun_free),
    ];
    let mut lines = vec![join(head)];
    let factors = state.factors.iter();
    lines.extend(factors.map(|(sheet, factor)| format!("factor {sheet}: {}", figure(*factor))));
    lines.extend(state.joined.iter().map(|(part, n)| format!("joined {part}: entry {n}")));
    lines
}

fn face(id: &str, it: &FaceHistory) -> Vec<String> {
    let extra = it.extra.iter().map(|(layer, coats)| format!("{coats} in layer {layer}"));
    let extra: Vec<String> = extra.collect();
    let came_off = it.came_off.map(|(when, coat)| format!("coat {coat} {}", utc(when)));
    let head = [
        Some(format!("face {id}: {} coats", it.coats.len())),
        flag("away", it.place.away),
        flag("left out", it.place.left),
        at("came", it.place.came),
        at("turned", it.turned),
        told("came off", came_off),
        told("extra coats", (!extra.is_empty()).then(|| extra.join(", "))),
    ];
    let mut lines = vec![join(head)];
    lines.extend(it.coats.iter().map(|on| format!("  coat {}", coat(on))));
    lines.extend(it.wiped_off.iter().map(|on| format!("  wiped off {}", coat(on))));
    lines.extend(it.prepared.iter().map(|prepared| {
        let how = match prepared.how {
            Preparing::Wiped => "wiped",
            Preparing::Scuffed => "scuffed",
            Preparing::Sanded => "sanded",
        };
        format!("  {how} {}", utc(prepared.at))
    }));
    lines.extend(it.touched_up.iter().map(|when| format!("  touched up {}", utc(*when))));
    lines.extend(it.dry.iter().map(|dry| {
        let spots = numbers(dry.spots_um.iter().copied());
        let of = format!("  dry film {} in layer {}: {spots} µm", utc(dry.at), dry.layer);
        join([Some(of), num("under it µm", dry.under_um)])
    }));
    lines.extend(it.steps.iter().map(|(step, done)| {
        format!("  step {step} {} by entry {}, known {}", utc(done.at), done.n, utc(done.known))
    }));
    lines
}

fn coat(it: &CoatOn) -> String {
    let wet = it.wet.iter().map(|wet| {
        let dry = wet.dry_tooth_um.map(|um| format!("-{}", figure(um)));
        format!("{}{}", figure(wet.wet_um), dry.unwrap_or_default())
    });
    let wet: Vec<String> = wet.collect();
    let entries = format!("{}; {}", all(it.made_by.iter()), all(it.told_by.iter()));
    join([
        Some(format!("in layer {}, begun {}", it.layer, utc(it.begun))),
        flag("beginning assumed", it.assumed),
        at("on", it.finished),
        flag("end assumed", it.end_assumed),
        told("pot", it.pot.clone()),
        at("dulled", it.dulled),
        told("still wet", times(&it.still_wet)),
        told("still spraying", times(&it.still_spraying)),
        told("wet film µm", (!wet.is_empty()).then(|| wet.join(" "))),
        flag("left out", it.skipped),
        flag("stopped part-way", it.part_way),
        at("known", Some(it.known)),
        told("by entries", Some(entries)),
    ])
}

fn pot(it: &Pot) -> String {
    let stirred = it.stirred.map(|done| format!("{} by entry {}", utc(done.at), done.n));
    let weighed = it.weighed.map(|(when, ml)| format!("{} {}", figure(ml), utc(when)));
    join([
        Some(format!("pot {}: layer {}, born {}", it.id, it.layer, utc(it.mixed))),
        at("known", Some(it.known)),
        num("mL", it.amount_ml),
        told("lots", lots(&it.lots)),
        told("stirred", stirred),
        told("weighed mL", weighed),
        at("emptied", it.emptied),
        at("put aside", it.aside),
        told("by entries", Some(format!("{}; {}", it.made_by, all(it.told_by.iter())))),
    ])
}

fn mixing(it: &Mixing) -> Vec<String> {
    let head = [
        Some(format!("mixing {}: layer {}", it.pot, it.layer)),
        told("wanted", amount(it.wanted)),
        told("asked", amount(it.asked)),
        told("short of", it.limited_by.clone()),
        num("container mL", it.container_ml),
        told("lots", lots(&it.lots)),
        told("past their date", (!it.expired.is_empty()).then(|| it.expired.join(", "))),
        at("stirred", it.stirred),
        at("emptied", it.emptied),
    ];
    let mut lines = vec![join(head)];
    lines.extend(it.pours.iter().map(|pour| {
        let of = format!("  {} {} by entry {}", pour.component, utc(pour.at), pour.n);
        let thinner = Some(pour.thinner * 100.0).filter(|pct| *pct > 0.0);
        let can = told("can", pour.can.clone());
        join([Some(of), amount(pour.amount), can, num("thinner in it %", thinner)])
    }));
    lines.extend(it.fresh.iter().map(|fresh| {
        let cans: Vec<&str> = fresh.cans.iter().map(|from| from.can.as_str()).collect();
        let cans = (!cans.is_empty()).then(|| cans.join(", "));
        let of = format!("  by the recipe {}", utc(fresh.at));
        join([Some(of), num("mL", fresh.ml), told("from", cans)])
    }));
    lines.extend(it.flows.iter().map(|flow| {
        let of = format!("{} s in {}, {} pours in", figure(flow.seconds), flow.cup, flow.pours);
        format!("  flow {} {of}", utc(flow.at))
    }));
    lines.extend(it.returned.iter().map(|back| {
        join([
            Some(format!("  back {}: {} mL", utc(back.at), figure(back.ml))),
            num("g", back.g),
            num("thinner %", back.thinner.map(|share| share * 100.0)),
            told("to", back.can.clone()),
            num("can held mL", back.can_ml),
            num("more than was left mL", back.more_ml),
        ])
    }));
    lines
}

/// Steps, checks, masks, interruptions, who knows.
fn work(state: &State) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(state.steps.iter().map(|(step, done)| {
        format!("step {step} {} by entry {}, known {}", utc(done.at), done.n, utc(done.known))
    }));
    for ((layer, coat, check), passed) in &state.checks {
        let passed = passed.iter().map(|it| join([Some(utc(it.at)), told("pot", it.pot.clone())]));
        let passed: Vec<String> = passed.collect();
        lines.push(format!("check {layer}.{coat} {check}: {}", passed.join("; ")));
    }
    let counted = |count: Option<(u32, Moment)>| {
        count.map(|(number, when)| format!("{number} {}", utc(when)))
    };
    let masks = &state.masks;
    lines.push(join([
        Some("masks".to_owned()),
        told("in", counted(masks.on)),
        told("out", counted(masks.off)),
        Some(format!("not counted {} in, {} out", masks.uncounted_in, masks.uncounted_out)),
    ]));
    lines.extend(
        state.pauses.iter().map(|pause| {
            join([Some(format!("pause {}", utc(pause.from))), at("until", pause.until)])
        }),
    );
    lines.push(join([
        Some("booth".to_owned()),
        at("fan off since", state.fan_off),
        at("fan last went off", state.fan_went_off),
        at("someone knows", state.someone_knows),
        told(
            "cartridges h",
            state.cartridges.map(|(h, when)| format!("{} {}", figure(h), utc(when))),
        ),
    ]));
    lines
}

fn air(state: &State) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(state.readings.iter().map(|taken| {
        let it = &taken.reading;
        join([
            Some(format!("reading {}", utc(taken.at))),
            num("air °C", it.air_c),
            num("humidity %", it.humidity_pct),
            num("surface °C", it.surface_c),
            num("warmest °C", it.surface_warmest_c),
            num("pot °C", it.pot_c),
            at("known", Some(taken.known)),
        ])
    }));
    lines.extend(state.read_by.iter().map(|by| {
        let of = format!("read {}", utc(by.at));
        join([Some(of), told("at", by.place.clone()), told("with", by.with.clone())])
    }));
    lines.extend(at("no reading can be taken", state.reading_skipped));
    lines
}

/// The gun, the cans, what was weighed.
fn bench(state: &State) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(state.gun_cards.iter().map(|card| {
        let it = &card.setting;
        let result = it.result.map(|result| match result {
            GunResult::Good => "sprayed well",
            GunResult::Bad => "did not spray well",
        });
        join([
            Some(format!("gun {} by entry {}", utc(card.at), card.n)),
            told("layer", card.layer.map(|layer| layer.to_string())),
            num("nozzle mm", it.nozzle_mm),
            num("inlet kPa", it.inlet_kpa),
            num("fan turns", it.fan_turns),
            num("fluid turns", it.fluid_turns),
            told("cap", it.cap.clone()),
            result.map(str::to_owned),
            told("note", it.note.clone()),
        ])
    }));
    lines.extend(state.stock.cans.values().map(|seen| can(state, seen)));
    lines.push(format!("on the shelf: {}", state.stock.shelf.join(", ")));
    lines.extend(state.stock.picked.iter().map(|((sheet, component), picked)| {
        let can = picked.can.as_deref().unwrap_or("none of the shelf");
        format!("picked {sheet} {component}: {can} {}", utc(picked.at))
    }));
    lines.extend(state.accounted.iter().map(|it| {
        let of = &it.weighing;
        let weights = numbers([of.gross_g, of.tare_g, of.left_g, of.wash_g]);
        let coat = told("coat", it.coat.map(|coat| coat.to_string()));
        let weights = format!("gross, tare, left, wash {weights} g");
        join([Some(format!("weighed pot {} {}", it.pot, utc(it.at))), coat, Some(weights)])
    }));
    lines
}

fn can(state: &State, it: &SeenCan) -> String {
    let level = level_of(state, it);
    join([
        Some(format!("can {} ({}): {} {}", it.can, it.name, it.sheet, it.component)),
        told("lot", it.lot.clone()),
        told("until", it.until.clone()),
        at("that is", it.until_ms),
        told("opened", it.opened.clone()),
        num("counted mL", it.left_ml),
        num("counted g", it.left_g),
        at("counted", it.counted_ms),
        num("thinner %", Some(it.thinner_pct).filter(|pct| *pct > 0.0)),
        told("left now", amount(level.left)),
        num("thinner now %", level.thinner.map(|share| share.fraction() * 100.0)),
    ])
}

/// Holds gone past, faults.
fn record(session: &Session, state: &State) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(
        state
            .overridden
            .iter()
            .map(|it| format!("gone past {} {}: {}", it.hold, utc(it.at), reason_words(it.reason))),
    );
    lines.extend(state.faults.iter().map(|it| {
        let face = &session.plan().faces()[it.face].id;
        let of =
            format!("fault {} on {face} {}, coat {}.{}", it.fault, utc(it.at), it.layer, it.coat);
        join([Some(of), told("pot", it.pot.clone()), Some(format!("entry {}", it.n))])
    }));
    lines
}

/// The figures of line 0 that are otherwise now, and what the Book was seen to have.
fn mended(session: &Session, state: &State) -> Vec<String> {
    let before = figures(&session.opening().work);
    let value = |value: Option<f64>| value.map_or("not set".to_owned(), figure);
    let mut lines: Vec<String> = Vec::new();
    for now in figures(&state.work) {
        let was = before.iter().find(|was| was.field == now.field).and_then(|was| was.value);
        if was != now.value {
            lines.push(format!("figure {}: {}, was {}", now.field, value(now.value), value(was)));
        }
    }
    let seen = state.book_seen.iter();
    lines.extend(seen.map(|(field, book)| format!("the Book had {field}: {}", figure(*book))));
    lines
}

/// Every entry: when it truly was, what it told, what it broke, how it stands.
fn entries(session: &Session) -> Vec<String> {
    let last = session.entries().last().map_or(Moment::OPENING, |entry| entry.t_ms);
    let board = board(session, last);
    let words = Words::new(session, &board, &Wall);
    let row = |row: LogRow<'_>| {
        let struck = match row.stands {
            Stands::InForce => None,
            Stands::Struck { by } => Some(format!("struck by {by}")),
        };
        let broke: Vec<String> = row.entry.breaks.iter().map(|it| words.broken(it)).collect();
        join([
            Some(format!("entry {} {}", row.entry.n, utc(row.when))),
            Some(words.entry_told(row.entry)),
            told("broke", (!broke.is_empty()).then(|| broke.join("; "))),
            struck,
            told("re-timed by", row.retimed_by.map(|by| by.to_string())),
            flag("may be struck", row.can_strike),
            flag("may be re-timed", row.can_retime),
        ])
    };
    log_rows(session).into_iter().rev().map(row).collect()
}

fn amount(told: Told) -> Option<String> {
    let text = join([
        told.ml.map(|ml| format!("{} mL", figure(ml))),
        told.g.map(|g| format!("{} g", figure(g))),
    ]);
    (!text.is_empty()).then_some(text)
}

fn lots(lots: &[Lot]) -> Option<String> {
    let lot = |lot: &Lot| {
        let until = lot.until.as_ref().map(|until| format!(" until {until}"));
        format!("{} {}{}", lot.component, lot.lot, until.unwrap_or_default())
    };
    (!lots.is_empty()).then(|| lots.iter().map(lot).collect::<Vec<_>>().join(", "))
}

fn times(moments: &[Moment]) -> Option<String> {
    let texts = moments.iter().map(|moment| utc(*moment)).collect::<Vec<_>>();
    (!texts.is_empty()).then(|| texts.join(", "))
}

fn numbers(values: impl IntoIterator<Item = f64>) -> String {
    values.into_iter().map(figure).collect::<Vec<_>>().join(" ")
}

fn all<T: ToString>(values: impl Iterator<Item = T>) -> String {
    values.map(|value| value.to_string()).collect::<Vec<_>>().join(" ")
}

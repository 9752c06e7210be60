//! The fold: one entry more. Total: any event of any sequence is taken, and what cannot be meant
//! (a face that the job does not have) changes nothing.

mod films;
mod hanging;
mod pots;

use super::changed::BOOK_CHANGED;
use super::demand::{left_ml, ml_per_m2_of_pot};
use super::event::{Event, Way};
use super::figures::set_figure;
use super::gun::{GunCard, GunSetting};
use super::mixing::NEAR_ML;
use super::order::Placed;
use super::plan::Plan;
use super::sitting::Sitting;
use super::state::{
    CoatOn, FaultSeen, Masks, Overridden, Passed, Pause, Pot, Prepared, Preparing, ReadBy, State,
    Taken,
};
use super::time::Moment;

/// Folds the events of an entry in force into `state`.
pub(super) fn fold(state: &mut State, plan: &mut Plan, placed: &Placed<'_>) {
    let Placed { when, known, entry } = *placed;
    // whoever begins a face has left the one before: when, nobody tapped
    let begins = entry.events.iter().any(|event| matches!(event, Event::FaceBegun { .. }));
    let (n, entered, at) = (entry.n, entry.t_ms, &entry.at);
    state.sitting = Sitting::after(state.sitting, entry);
    let mut fold = Fold { state, plan, when, n, known, entered, end_assumed: begins, at };
    for event in &entry.events {
        fold.event(event);
    }
    state.spent = spent(state, plan);
}

/// The pot in the gun that does not finish the next face, where another is mixed.
fn spent(state: &State, plan: &Plan) -> Option<String> {
    let pot = state.gun.as_ref().and_then(|pot| state.pot(pot))?;
    let layer = pot.layer;
    let fits = |other: &&Pot| {
        let kept = other.emptied.is_none() && other.aside.is_none();
        other.layer == layer && other.id != pot.id && other.stirred.is_some() && kept
    };
    state.pots.iter().find(fits)?;
    let next = (0..state.faces.len()).filter(|face| state.takes_part(*face));
    let next = next.filter(|face| state.faces[*face].on_the_gun().is_none());
    let coat = |face: &usize| state.next_coat(*face).filter(|(of, _)| *of == layer);
    let face = next.filter_map(|face| Some((coat(&face)?, face))).min()?.1;
    let per_m2 = ml_per_m2_of_pot(state, plan, pot).ok()?;
    let area = |face: usize| plan.area_m2(&state.work, face);
    // what is on the gun comes out of it before
    let on_the_gun = (0..state.faces.len()).filter(|face| {
        let on = state.faces[*face].on_the_gun();
        on.is_some_and(|on| on.pot.as_ref() == Some(&pot.id))
    });
    let need_ml = (area(face) + on_the_gun.map(area).sum::<f64>()) * per_m2;
    let left = left_ml(state, plan, pot)?;
    (left + NEAR_ML < need_ml).then(|| pot.id.clone())
}

struct Fold<'a> {
    state: &'a mut State,
    plan: &'a mut Plan,
    when: Moment,
    n: u64,
    /// Since when its true time is known.
    known: Moment,
    /// Whether the end of a face that this entry tells was not tapped for itself.
    end_assumed: bool,
    /// When it was entered.
    entered: Moment,
    /// The wall's time, for the dates of lots.
    at: &'a str,
}

impl Fold<'_> {
    fn event(&mut self, event: &Event) {
        match event {
            Event::StepDone { step } => self.step_done(step),
            Event::CheckPassed { layer, coat, check } => {
                let pot = self.state.pot_in_use(*layer).map(|pot| pot.id.clone());
                let passed = Passed { at: self.when, pot };
                let key = (*layer, *coat, check.clone());
                if self.is_of_the_fan(*layer, check) {
                    self.state.fan_off = None;
                }
                self.state.checks.entry(key).or_default().push(passed);
            }
            Event::Reading(reading) => self.reading(*reading),
            Event::ReadingSkipped {} => self.state.reading_skipped = Some(self.when),
            Event::ReadingBy { place, with } => self.state.read_by.push(ReadBy {
                at: self.when,
                place: place.clone(),
                with: with.clone(),
            }),
            Event::MasksCounted { way, number } => self.masks(*way, Some(*number)),
            Event::MasksNotCounted { way } => self.masks(*way, None),
            Event::FanSet { on } => self.fan_set(*on),
            Event::SomeoneKnows {} => self.state.someone_knows = Some(self.when),
            Event::CartridgesRead { used_h } => {
                self.state.cartridges = Some((*used_h, self.when));
            }
            Event::HoldOverridden { hold, reason } => self.state.overridden.push(Overridden {
                hold: hold.clone(),
                reason: *reason,
                at: self.when,
            }),
            Event::FigureChanged { field, new, why, .. } => {
                // a figure that this job does not have changes nothing: the fold is total
                let _ = set_figure(&mut self.state.work, field, *new);
                if why == BOOK_CHANGED {
                    self.state.book_seen.insert(field.clone(), *new);
                }
            }
            Event::FiguresKept { fields } => {
                let seen = fields.iter().map(|kept| (kept.field.clone(), kept.book));
                self.state.book_seen.extend(seen);
            }
            Event::Paused { why } => self.paused(why),
            Event::Resumed {} => self.resumed(),
            Event::GunSet(setting) => self.gun_set(setting),
            Event::Closed {} => self.state.closed = Some(self.when),
            _ => {
                self.hanging_event(event);
                self.pot_event(event);
                self.spray_event(event);
                self.surface_event(event);
                self.film_event(event);
            }
        }
    }

    /// Plugs and masks were counted, or asked for and left uncounted: on the parts all begins anew.
    fn masks(&mut self, way: Way, number: Option<u32>) {
        let (when, masks) = (self.when, &mut self.state.masks);
        let counted = number.map(|number| (number, when));
        match (way, counted) {
            (Way::In, Some(_)) => *masks = Masks { on: counted, ..Masks::default() },
            (Way::In, None) => {
                let times = masks.uncounted_in.saturating_add(1);
                *masks = Masks { uncounted_in: times, ..Masks::default() };
            }
            (Way::Out, Some(_)) => (masks.off, masks.uncounted_out) = (counted, 0),
            (Way::Out, None) => masks.uncounted_out = masks.uncounted_out.saturating_add(1),
        }
    }

    fn fan_set(&mut self, on: bool) {
        self.state.fan_off = if on { None } else { self.state.fan_off.or(Some(self.when)) };
        if !on {
            self.state.fan_went_off = Some(self.when);
        }
    }

    fn is_of_the_fan(&self, layer: u32, check: &str) -> bool {
        let checks = self.state.layer(layer).map_or(&[][..], |layer| &layer.ready);
        checks.iter().any(|it| it.id == check && it.is_of_the_fan())
    }

    fn spray_event(&mut self, event: &Event) {
        match event {
            Event::FaceBegun { face, layer, pot, .. } => self.begun(face, *layer, pot.as_ref()),
            Event::FaceFinished { face, layer, pot, .. } => {
                let begun = self.assumed_begin(face, pot.as_ref());
                self.finished(face, *layer, pot.as_ref(), begun);
                self.state.gun_free = Some(self.when);
            }
            Event::FaceStopped { face, layer, pot, .. } => {
                let begun = self.assumed_begin(face, pot.as_ref());
                self.finished(face, *layer, pot.as_ref(), begun);
                self.change_face(face, |history| {
                    if let Some(on) = history.coats.last_mut() {
                        on.part_way = true;
                    }
                });
                self.state.gun_free = Some(self.when);
            }
            Event::RestFinished { faces, layer, coat, pot } => {
                self.end_assumed = faces.len() > 1;
                for face in faces {
                    let begun = match self.coat_began(*layer, *coat, self.came(face)) {
                        // never before the face's own last coat was on
                        Some(began) => self.own_last(face).map_or(began, |own| began.max(own)),
                        None => self.assumed_begin(face, pot.as_ref()),
                    };
                    self.finished(face, *layer, pot.as_ref(), begun);
                }
                self.state.gun_free = Some(self.when);
            }
            Event::CoatSkipped { face, layer } => {
                let mut coat = self.new_coat(*layer, None, self.when);
                coat.finished = Some(self.when);
                coat.skipped = true;
                self.change_face(face, |history| history.leave_out(coat));
            }
            Event::CoatWipedOff { face } => {
                let (n, when) = (self.n, self.when);
                self.change_face(face, |history| {
                    let nth = history.last_sprayed().map(|(_, nth)| nth);
                    if let Some(mut coat) = history.take_off() {
                        history.came_off = nth.map(|nth| (when, nth));
                        coat.told_by.push(n);
                        history.wiped_off.push(coat);
                    }
                });
            }
            Event::ExtraCoat { face, layer } => self.change_face(face, |history| {
                let extra = history.extra.entry(*layer).or_insert(0);
                *extra = extra.saturating_add(1);
            }),
            _ => {}
        }
    }

    fn begun(&mut self, face: &str, layer: u32, pot: Option<&String>) {
        let coat = self.new_coat(layer, pot, self.when);
        self.change_face(face, |history| {
            if history.on_the_gun().is_none() {
                history.coats.push(coat);
            } else if let Some(on_the_gun) = history.coats.last_mut() {
                // begun twice: the earlier beginning stands, as the safe one for every maximum
                on_the_gun.made_by.extend(coat.made_by);
            }
        });
        self.load_gun(pot);
    }

    fn finished(&mut self, face: &str, layer: u32, pot: Option<&String>, begun: Moment) {
        let mut coat = self.new_coat(layer, pot, begun);
        coat.assumed = true;
        let (when, known, end_assumed) = (self.when, self.known, self.end_assumed);
        self.change_face(face, |history| {
            if history.on_the_gun().is_none() {
                history.coats.push(coat);
            } else if let Some(on_the_gun) = history.coats.last_mut() {
                on_the_gun.made_by.extend(coat.made_by);
                on_the_gun.pot = on_the_gun.pot.take().or(coat.pot);
            }
            if let Some(on) = history.coats.last_mut() {
                on.finished = Some(when);
                on.end_assumed = end_assumed;
                on.known = on.known.max(known);
            }
        });
        self.load_gun(pot);
    }

    fn new_coat(&self, layer: u32, pot: Option<&String>, begun: Moment) -> CoatOn {
        CoatOn {
            layer,
            begun,
            assumed: false,
            finished: None,
            end_assumed: false,
            pot: pot.cloned(),
            dulled: None,
            still_wet: Vec::new(),
            still_spraying: Vec::new(),
            wet: Vec::new(),
            skipped: false,
            part_way: false,
            known: self.known,
            made_by: vec![self.n],
            told_by: Vec::new(),
        }
    }

    fn load_gun(&mut self, pot: Option<&String>) {
        if let Some(pot) = pot {
            self.state.gun = Some(pot.clone());
            self.used(pot);
        }
    }

    /// A beginning that nobody tapped: when the gun was last free, but not before the pot was mixed,
    /// the face came or its own last coat was on. Too early rather than too late: maxima count from it.
    fn assumed_begin(&self, face: &str, pot: Option<&String>) -> Moment {
        let candidates = [
            self.state.gun_free,
            pot.and_then(|pot| self.state.pot(pot)).map(|pot| pot.mixed),
            self.own_last(face),
            self.came(face),
        ];
        candidates.into_iter().flatten().max().unwrap_or(Moment::OPENING).min(self.when)
    }

    /// When a coat began: the earliest beginning among all faces, of those at or after `since`: a
    /// face that came late was not there before.
    fn coat_began(&self, layer: u32, coat: u32, since: Option<Moment>) -> Option<Moment> {
        let nth = |history: &super::state::FaceHistory| {
            // coats left out have their number too
            let mut of_layer = history.coats.iter().filter(|coat| coat.is_nth_of(layer));
            let nth = of_layer.nth((coat as usize).checked_sub(1)?)?;
            (!nth.skipped && Some(nth.begun) >= since).then_some(nth.begun)
        };
        Some(self.state.faces.iter().filter_map(nth).min()?.min(self.when))
    }

    /// When a face came, where that was after the opening.
    fn came(&self, face: &str) -> Option<Moment> {
        self.state.faces.get(self.plan.index(face)?)?.place.came
    }

    /// When the last coat of a face was on.
    fn own_last(&self, face: &str) -> Option<Moment> {
        self.state.faces.get(self.plan.index(face)?)?.last_on()?.finished
    }

    fn surface_event(&mut self, event: &Event) {
        match event {
            Event::Dulled { face } => self.looked(face, |coat, when| coat.dulled = Some(when)),
            Event::StillWet { face } => self.looked(face, |coat, when| coat.still_wet.push(when)),
            Event::Wiped { faces } => self.prepared(faces, Preparing::Wiped),
            Event::Scuffed { faces } => self.prepared(faces, Preparing::Scuffed),
            Event::Sanded { faces } => self.prepared(faces, Preparing::Sanded),
            Event::Turned { face } => {
                let when = self.when;
                self.change_face(face, |history| history.turned = Some(when));
                self.state.gun_free = Some(when);
            }
            Event::StillSpraying { face } => self.still_spraying(face),
            Event::FaultSeen { face, layer, coat, fault, pot } => {
                self.fault_seen(face, (*layer, *coat), fault, pot.as_ref());
            }
            Event::TouchedUp { face } => {
                let when = self.when;
                self.change_face(face, |history| history.touched_up.push(when));
            }
            _ => {}
        }
    }

    fn looked(&mut self, face: &str, tell: impl FnOnce(&mut CoatOn, Moment)) {
        let (n, when) = (self.n, self.when);
        self.change_face(face, |history| {
            // a coat left out has no film to look at
            let film = |coat: &&mut CoatOn| coat.finished.is_some() && !coat.skipped;
            if let Some(coat) = history.coats.iter_mut().rev().find(film) {
                coat.told_by.push(n);
                tell(coat, when);
            }
        });
    }

    fn still_spraying(&mut self, face: &str) {
        let (n, when) = (self.n, self.when);
        self.change_face(face, |history| {
            if let Some(coat) = history.coats.last_mut().filter(|coat| coat.finished.is_none()) {
                coat.told_by.push(n);
                coat.still_spraying.push(when);
            }
        });
    }

    fn fault_seen(
        &mut self,
        id: &str,
        (layer, coat): (u32, u32),
        fault: &str,
        pot: Option<&String>,
    ) {
        let Some(face) = self.plan.index(id) else { return };
        let (n, at) = (self.n, self.when);
        self.state.faults.push(FaultSeen {
            at,
            n,
            face,
            layer,
            coat,
            fault: fault.to_owned(),
            pot: pot.cloned(),
        });
        self.change_face(id, |history| {
            if let Some(on) = history.coats.iter_mut().rev().find(|coat| !coat.skipped) {
                on.told_by.push(n);
            }
        });
    }

    fn gun_set(&mut self, setting: &GunSetting) {
        let (at, n, layer) = (self.when, self.n, self.state.layer_in_work());
        self.state.gun_cards.push(GunCard { at, n, layer, setting: setting.clone() });
    }

    fn paused(&mut self, why: &str) {
        // a second reason without going on between is the same interruption
        if self.state.paused.is_none() {
            self.state.pauses.push(Pause { from: self.when, until: None });
        }
        self.state.paused = Some((self.when, why.to_owned()));
    }

    fn resumed(&mut self) {
        self.state.paused = None;
        let last = self.state.pauses.last_mut().filter(|pause| pause.until.is_none());
        if let Some(pause) = last {
            pause.until = Some(self.when);
        }
    }

    fn prepared(&mut self, faces: &[String], how: Preparing) {
        let at = self.when;
        for face in faces {
            self.change_face(face, |history| history.prepared.push(Prepared { how, at }));
        }
    }

    fn change_face(&mut self, id: &str, change: impl FnOnce(&mut super::state::FaceHistory)) {
        if let Some(history) = self.plan.index(id).and_then(|face| self.state.faces.get_mut(face)) {
            change(history);
        }
    }

    fn reading(&mut self, reading: super::event::Reading) {
        // one re-timed to later than it was entered was not known before it was taken
        let known = self.entered.max(self.when);
        self.state.readings.add(Taken { at: self.when, known, reading });
    }
}

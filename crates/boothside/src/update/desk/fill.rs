//! Forms: opening, typing, keeping what was typed.

use boothside_core::session::Refusal;
use boothside_core::session::command::Command;
use boothside_core::session::demand::pot_to_mix_ml;
use boothside_core::session::event::Way;
use boothside_core::session::gun::GunSetting;
use boothside_core::session::mixing::planned_ml;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::Moment;
use chrono::NaiveTime;

use super::{Desk, Effect, Now, Pressed};
use crate::forms::{self, FieldName, Filled, Form, FormKind, MixField, Wall};
use crate::update::scene::Notice;

/// The wall as a form asks for it.
struct WallAt<'a, 'b> {
    now: &'b Now<'a>,
}

impl Wall for WallAt<'_, '_> {
    fn last_at(&self, time: NaiveTime) -> Option<Moment> {
        self.now.times.last_at(time, self.now.t)
    }
}

impl Desk {
    pub(super) fn open_form(&mut self, kind: FormKind, now: &Now<'_>) -> Vec<Effect> {
        let built = match kind {
            FormKind::Reading => forms::reading(&self.session),
            FormKind::Pot => {
                let layer = self.layer_to_mix();
                let mix = self.board.mixing.as_ref();
                forms::pot(&self.session, mix, layer, self.amount_to_mix(layer))
            }
            FormKind::TopUp => match self.pot_in_use() {
                Some(pot) => forms::top_up(&pot, self.session.state().work.shop.units),
                None => return self.say("no pot is mixed", now),
            },
            FormKind::TrueTime => match boothside_core::session::last_fact(&self.session) {
                Some(_) => forms::true_time(),
                None => return self.say("no key yet whose time could be told", now),
            },
            FormKind::Note => forms::note(),
            FormKind::Figure => forms::correction(),
            FormKind::Gun => forms::gun(&self.session),
            FormKind::WetFilm(face) => forms::wet_film(&self.session, face),
            FormKind::DryFilm(face) => forms::dry_film(&self.session, face),
            FormKind::Weighing => match self.pot_to_weigh() {
                Some(pot) => forms::weighing(pot, self.session.state().work.shop.units),
                None => return self.say("no pot was mixed", now),
            },
            FormKind::WasOn => match self.on_the_gun() {
                Some(face) => forms::was_on(&self.session.plan().faces()[face]),
                None => return self.say("no face is on the gun", now),
            },
            FormKind::TimeOf(n) => forms::time_of(n),
            FormKind::NoteAbout(n) => forms::note_about(n),
            FormKind::CountIn => forms::count(&self.session, Way::In),
            FormKind::CountOut => forms::count(&self.session, Way::Out),
            FormKind::Cartridges => forms::cartridges(),
            FormKind::Mix(kind) => match self.mix_form(kind) {
                Some(form) => form,
                None => return self.say("every coat is on", now),
            },
        };
        self.asking = None;
        self.said = None;
        let draft = self.drafts.remove(&kind);
        self.form = Some(draft.map_or(built.clone(), |draft| built.with_typed(&draft)));
        self.understand();
        Vec::new()
    }

    /// The number of the face on the gun.
    fn on_the_gun(&self) -> Option<usize> {
        self.board.faces.iter().position(|face| face.at.now == FaceNow::OnTheGun)
    }

    /// As the pot is planned, else what the coats to come need.
    fn amount_to_mix(&self, layer: u32) -> Option<f64> {
        let (state, plan) = (self.session.state(), self.session.plan());
        let needed = || pot_to_mix_ml(state, plan, layer).ok().map(f64::ceil);
        planned_ml(state, layer).or_else(needed)
    }

    /// A key while a form is open: every printable key types, but for SPACE where there is nothing to
    /// type a blank in.
    pub(super) fn type_key(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        let Some(form) = &mut self.form else { return Vec::new() };
        match key {
            Pressed::Enter | Pressed::PageDown => return self.go_on_in_form(now),
            Pressed::Char(' ') if form.space_goes_on() => return self.go_on_in_form(now),
            Pressed::Char(c) => form.type_char(c),
            Pressed::Backspace => form.backspace(),
            Pressed::Delete => form.clear(),
            Pressed::Left | Pressed::Right | Pressed::Home | Pressed::End => form.mend(),
            Pressed::Up | Pressed::PageUp => form.move_focus(-1),
            Pressed::Down => form.move_focus(1),
            Pressed::Esc => self.leave_form(),
        }
        self.understand();
        Vec::new()
    }

    /// A text was pasted: into the field in focus alone.
    pub(super) fn paste_into_form(&mut self, text: &str) {
        if let Some(form) = &mut self.form {
            form.paste(text);
        }
        self.understand();
    }

    fn understand(&mut self) {
        let units = self.session.state().work.shop.units;
        if let Some(form) = &mut self.form {
            form.understand(units);
        }
    }

    /// On to the next field; from the last one, the form is kept.
    fn go_on_in_form(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some(form) = &mut self.form else { return Vec::new() };
        if let Some(last) = form.spread() {
            form.go_to(last);
        }
        let effects = match form.on_last() {
            true => self.keep_form(now),
            false => {
                self.next_field(now);
                Vec::new()
            }
        };
        self.understand();
        effects
    }

    /// On to the next field, unless what was typed so far cannot be: then it is said beside its field.
    fn next_field(&mut self, now: &Now<'_>) {
        let Some(form) = &self.form else { return };
        let (focus, wrong) = (form.focus, self.wrong_so_far(form, now));
        let Some(form) = &mut self.form else { return };
        match wrong {
            Some((at, why)) if at <= focus => form.refuse(at, why),
            _ => form.move_focus(1),
        }
    }

    /// The first field up to the one in focus that cannot be, and why: it does not parse, or lies outside
    /// its range.
    fn wrong_so_far(&self, form: &Form, now: &Now<'_>) -> Option<(usize, String)> {
        let mut so_far = form.clone();
        for later in so_far.fields.iter_mut().skip(form.focus + 1) {
            later.text.clear();
        }
        let Some((filled, when)) = forms::read(&mut so_far, &self.session, now.t, &WallAt { now })
        else {
            let at = so_far.focus;
            return Some((at, so_far.fields.get(at)?.error.clone()?));
        };
        let refusal = self.decide(&self.command_of(filled, when)?, None, now).err()?;
        let of_a_figure = matches!(
            refusal,
            Refusal::Outside { .. } | Refusal::NotMore { .. } | Refusal::Figure { .. }
        );
        let at = field_of(&refusal, &so_far);
        let typed = so_far.fields.get(at).filter(|field| !field.text.trim().is_empty())?;
        of_a_figure.then(|| (at, self.refused(&refusal, &typed.text, now)))
    }

    /// Why the core refused what was typed, in the shop's units.
    fn refused(&self, refusal: &Refusal, typed: &str, now: &Now<'_>) -> String {
        let units = self.session.state().work.shop.units;
        let clock = |at| now.times.wall(at).format("%H:%M:%S").to_string();
        forms::refused(refusal, typed, units, clock)
    }

    /// Leaves the form; what was typed is there again when it is opened anew.
    fn leave_form(&mut self) {
        if let Some(form) = self.form.take().filter(|form| !form.is_empty()) {
            self.drafts.insert(form.kind, form);
        }
    }

    fn keep_form(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some(mut form) = self.form.take() else { return Vec::new() };
        let Some((filled, when)) = forms::read(&mut form, &self.session, now.t, &WallAt { now })
        else {
            self.form = Some(form);
            return Vec::new();
        };
        let Some(command) = self.command_of(filled, when) else { return Vec::new() };
        let told = if matches!(command, Command::Retime { .. }) { None } else { when };
        let effects = self.tell(&command, told, now);
        if effects.is_empty() {
            self.back_to(form, now);
        }
        effects
    }

    /// A refusal of what a form told: the form is there again, the refusal beside its field.
    fn back_to(&mut self, mut form: Form, now: &Now<'_>) {
        let refused = self.notices.iter().rev().find_map(|notice| match &notice.it {
            Notice::Refused(refusal) => Some(refusal.clone()),
            _ => None,
        });
        if let Some(refusal) = refused {
            let at = field_of(&refusal, &form);
            let typed = form.fields.get(at).map_or("", |field| field.text.as_str());
            let why = self.refused(&refusal, typed, now);
            form.refuse(at, why);
            self.notices.retain(|notice| notice.it != Notice::Refused(refusal.clone()));
            self.show_notices();
        }
        self.form = Some(form);
    }

    fn command_of(&self, filled: Filled, when: Option<Moment>) -> Option<Command> {
        Some(match filled {
            Filled::Reading { figures: None, .. } => return None,
            Filled::Reading { figures: Some(reading), place: None, with: None } => {
                Command::Read(reading)
            }
            Filled::Reading { figures: Some(reading), place, with } => {
                Command::ReadBy { reading, place, with }
            }
            Filled::Count(way, Some(number)) => Command::CountMasks { way, number },
            Filled::Count(way, None) => Command::LeaveMasksUncounted { way },
            Filled::Cartridges(used_h) => Command::ReadCartridges { used_h: used_h? },
            Filled::Pot { amount_ml, lots } => {
                let layer = self.layer_to_mix();
                let amount_ml = amount_ml.or_else(|| self.amount_to_mix(layer));
                Command::MixPot { layer, amount_ml, lots }
            }
            Filled::TopUp { amount_ml } => Command::TopUpPot { pot: self.pot_in_use()?, amount_ml },
            Filled::TrueTime => Command::Retime {
                n: boothside_core::session::last_fact(&self.session)?,
                when: when?,
            },
            Filled::Note(text) if text.is_empty() => return None,
            Filled::Note(text) => Command::Note { text },
            Filled::Gun(setting) if setting == GunSetting::default() => return None,
            Filled::Gun(setting) => Command::SetGun(setting),
            Filled::WetFilm(_, wet) if wet.is_empty() => return None,
            Filled::WetFilm(face, wet) => Command::ReadWetFilm { face: self.face_id(face), wet },
            Filled::DryFilm(_, spots_um, _) if spots_um.is_empty() => return None,
            Filled::DryFilm(face, spots_um, under_um) => {
                Command::ReadDryFilm { face: self.face_id(face), spots_um, under_um }
            }
            Filled::Weighing(told) => {
                let (weighing, coat) = told?;
                Command::AccountForPot { pot: self.pot_to_weigh()?.id.clone(), coat, weighing }
            }
            Filled::WasOn => {
                when?;
                Command::CoatOn { face: self.face_id(self.on_the_gun()?) }
            }
            Filled::TimeOf(n) => Command::Retime { n, when: when? },
            Filled::NoteAbout(_, text) if text.is_empty() => return None,
            Filled::NoteAbout(n, text) => Command::NoteAbout { n, text },
            Filled::Figure { field, new, why } => Command::ChangeFigure { field, new, why },
            Filled::Mix(filled) => self.mix_command(filled)?,
        })
    }
}

/// The field that a refusal speaks of.
fn field_of(refusal: &Refusal, form: &Form) -> usize {
    let wanted = match refusal {
        Refusal::Future { .. } | Refusal::OutOfOrder { .. } => FieldName::When,
        Refusal::Figure { .. }
        | Refusal::Outside { .. }
        | Refusal::NotMore { .. }
        | Refusal::Unfit(_)
            if matches!(form.kind, FormKind::Mix(_)) =>
        {
            return mix_field_of(refusal, form);
        }
        Refusal::Figure { field, .. }
        | Refusal::Outside { field, .. }
        | Refusal::NotMore { field, .. } => match *field {
            "humidity" => FieldName::Humidity,
            "surface" => FieldName::Surface,
            "warmest surface" => FieldName::SurfaceWarmest,
            "pot" => FieldName::PotTemperature,
            "amount" => FieldName::Amount,
            "nozzle" => FieldName::Nozzle,
            "inlet pressure" => FieldName::Inlet,
            "fan turns" => FieldName::FanTurns,
            "fluid turns" => FieldName::FluidTurns,
            "cap" => FieldName::Cap,
            "film" => FieldName::Films,
            "under" => FieldName::Under,
            "gross" => FieldName::Gross,
            "tare" => FieldName::Tare,
            "left" => FieldName::Left,
            "wash" => FieldName::Wash,
            "count" => FieldName::Number,
            "hours" => FieldName::Hours,
            _ => FieldName::Air,
        },
        Refusal::Unfit(_) => FieldName::Value,
        _ => return form.focus,
    };
    form.fields.iter().position(|field| field.name == wanted).unwrap_or(form.focus)
}

fn mix_field_of(refusal: &Refusal, form: &Form) -> usize {
    let wanted = match refusal {
        Refusal::Figure { field: "until", given, .. } => {
            let at = form.fields.iter().position(|field| field.text.contains(given.as_str()));
            return at.unwrap_or(form.focus);
        }
        Refusal::Figure { field, .. } | Refusal::Outside { field, .. } => match *field {
            "container" => MixField::Container,
            "can" => MixField::Can,
            "amount" => MixField::Wanted,
            _ => return form.focus,
        },
        _ => return form.focus,
    };
    let at = form.fields.iter().position(|field| field.name == FieldName::Mix(wanted));
    at.unwrap_or(form.focus)
}

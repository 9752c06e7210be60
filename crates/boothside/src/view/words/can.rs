//! Cans in words: what is in them, how they stand, what their thinner changes.

use boothside_core::board::mixing::{MixBoard, OnBench};
use boothside_core::material::recipe::Told;
use boothside_core::session::mixing::MixNow;
use boothside_core::session::stock::{CanAhead, CanNow, Level, SeenCan, level_of};

use super::Words;
use super::figure::short;
use super::mix::{Level as Loud, Line};
use crate::view::text::clean;

impl Words<'_> {
    /// What is written on a can, by its file.
    #[must_use]
    pub fn can(&self, file: &str) -> String {
        let seen = self.session.state().stock.can(file);
        clean(seen.map_or(file, |seen| &seen.name))
    }

    /// Until when its maker vouches for it; may be empty.
    fn can_until(&self, file: &str) -> String {
        let seen = self.session.state().stock.can(file);
        seen.and_then(|seen| seen.until.as_deref()).map(clean).unwrap_or_default()
    }

    /// What is left: 'about 820 mL', or that it is not known.
    fn left(&self, level: &Level) -> String {
        match level.left {
            Told { ml: None, g: None } => "what is left is not known".into(),
            left => format!("{} left", self.amount(left)),
        }
    }

    fn amount(&self, told: Told) -> String {
        match told {
            Told { ml: Some(ml), .. } => self.figures().volume(ml),
            Told { g: Some(g), .. } => self.figures().mass(g),
            Told { .. } => "not known".into(),
        }
    }

    /// 'can of Base', and how it stands: 'short: 120 of 240 mL needed'.
    pub(super) fn can_ahead(&self, ahead: &CanAhead) -> (String, String) {
        let layer = self.board.mixing.as_ref().map_or(0, |mix| mix.layer);
        let what = format!("can of {}", self.component(layer, ahead.component));
        (what, self.can_stands(ahead))
    }

    fn can_stands(&self, ahead: &CanAhead) -> String {
        let name = self.can(&ahead.can);
        let needed = ahead.need.map(|need| format!("{} needed", self.amount(need)));
        match ahead.now {
            CanNow::Past if ahead.short => format!(
                "past its date {} and short, {}: {name}",
                self.can_until(&ahead.can),
                self.of_needed(ahead)
            ),
            CanNow::Past => format!("past its date {}: {name}", self.can_until(&ahead.can)),
            CanNow::Short => {
                let in_all = match ahead.others {
                    0 => name,
                    others => format!("{name} and {others} more"),
                };
                format!("short: {}, {in_all}", self.of_needed(ahead))
            }
            CanNow::Enough | CanNow::NotKnown => {
                let needed = needed.unwrap_or_else(|| "how much is needed is not known".into());
                let more = match ahead.others {
                    0 => String::new(),
                    1 => "; one more after it".into(),
                    others => format!("; {others} more after it"),
                };
                format!("{name}: {}, {needed}{more}", self.left(&ahead.level))
            }
        }
    }

    /// '120 of 240 mL needed', in one unit.
    fn of_needed(&self, ahead: &CanAhead) -> String {
        let (figures, need) = (self.figures(), ahead.need.unwrap_or_default());
        match (ahead.all_left.ml.zip(need.ml), ahead.all_left.g.zip(need.g)) {
            (Some((left, need)), _) => {
                format!("{} of {} needed", figures.bare_volume(left), figures.volume(need))
            }
            (None, Some((left, need))) => {
                format!("{} of {} needed", figures.mass(left), figures.mass(need))
            }
            (None, None) => "not known".into(),
        }
    }

    /// 'Base: Grey primer base, big tin, lot 24-117 (until 2027-03)', of the pours still to come.
    #[must_use]
    pub fn cans(&self, mix: &MixBoard) -> Vec<String> {
        let line = |ahead: &CanAhead| {
            let component = self.component(mix.layer, ahead.component);
            format!("{component} from {}", self.can_with_lot(&ahead.can))
        };
        mix.cans.iter().map(line).collect()
    }

    /// 'from Grey primer base, big tin, lot 24-117': of the component (from 0) that is poured next.
    #[must_use]
    pub fn poured_from(&self, mix: &MixBoard, component: usize) -> Option<String> {
        let ahead = mix.cans.iter().find(|ahead| ahead.component == component)?;
        Some(format!("from {}", self.can_with_lot(&ahead.can)))
    }

    /// 'Grey primer base, big tin, lot 24-117 (until 2027-03)'.
    #[must_use]
    pub fn can_with_lot(&self, file: &str) -> String {
        let lot = self.session.state().stock.can(file).and_then(SeenCan::lot);
        let lot = lot.map(|lot| {
            let until = lot.until.map(|until| format!(" (until {until})"));
            clean(&format!(", lot {}{}", lot.lot, until.unwrap_or_default()))
        });
        format!("{}{}", self.can(file), lot.unwrap_or_default())
    }

    /// What the cans ask to be minded of a pot that is still to be poured.
    pub(super) fn of_cans(&self, mix: &MixBoard) -> Vec<Line> {
        let mut lines = Vec::new();
        if mix.stands != OnBench::Mixed {
            for ahead in &mix.cans {
                let loud = match ahead.now {
                    CanNow::Past => Loud::Hold,
                    CanNow::Short => Loud::Caution,
                    CanNow::Enough | CanNow::NotKnown => continue,
                };
                let (what, figure) = self.can_ahead(ahead);
                lines.push((loud, format!("{what}: {figure}")));
            }
        }
        lines.extend(mix.overdrawn.iter().map(|can| {
            let text = format!("more was poured from {} than was in it: count it", self.can(can));
            (Loud::Caution, text)
        }));
        if let Ok(now) = &mix.now {
            lines.extend(self.of_thinner(mix, now));
        }
        lines
    }

    fn of_thinner(&self, mix: &MixBoard, now: &MixNow) -> Vec<Line> {
        let mut lines = Vec::new();
        let sheet = self.session.state().sheet(mix.layer);
        let components = sheet.map_or(&[][..], |sheet| &sheet.mix.components);
        let is_reducer = |it: &boothside_core::material::sheet::Component| {
            it.role == boothside_core::material::sheet::Role::Reducer
        };
        let reducer = components.iter().position(is_reducer);
        let reducer = reducer.map_or_else(|| "reducer".into(), |at| self.component(mix.layer, at));
        let open = mix.stands != OnBench::Mixed;
        if let Some(spared) = now.pot.spared.filter(|_| open) {
            let amount = self.small(spared);
            let text = format!("thinner in the can counts: {amount} less {reducer} to add");
            lines.push((Loud::Calm, text));
        }
        if let Some(more) = now.pot.too_thin {
            let amount = self.small(more);
            let text = format!(
                "too thin: the can's own thinner is {amount} more {reducer} than the sheet allows; \
                 a fresher can, or part of it from one"
            );
            lines.push((Loud::Caution, text));
        }
        lines.extend(now.unreckoned.iter().filter(|_| open).map(|at| {
            let pct = now.thinner.get(*at).map_or(0.0, |share| share * 100.0);
            let name = self.component(mix.layer, *at);
            let text = format!(
                "the can of {name} has {} % thinner in it: how much less to add cannot be told \
                 without densities and a reducer",
                short(pct, 1)
            );
            (Loud::Caution, text)
        }));
        lines
    }

    fn small(&self, told: Told) -> String {
        match told {
            Told { ml: Some(ml), .. } => self.figures().small_volume(ml),
            told => self.figures().poured(told),
        }
    }

    /// A can beside the list it is taken from: heading and text of each figure.
    #[must_use]
    pub fn about_can(&self, seen: &SeenCan) -> Vec<(&'static str, String)> {
        let level = level_of(self.session.state(), seen);
        let mut about = vec![("left", self.left(&level))];
        let thinner = level.thinner.map(|share| share.fraction() * 100.0);
        match thinner {
            Some(pct) if pct > 0.0 => about.push(("thinner", format!("{} % of it", short(pct, 1)))),
            Some(_) => {}
            None => about.push(("thinner", "how much of it is not known".into())),
        }
        let told = [("lot", &seen.lot), ("until", &seen.until), ("opened", &seen.opened)];
        about.extend(
            told.into_iter().filter_map(|(what, text)| Some((what, clean(text.as_ref()?)))),
        );
        let past = seen.until_ms.is_some_and(|until| until <= self.now());
        if past {
            about.push(("past", "its date: the maker no longer vouches for it".into()));
        }
        if level.overdrawn {
            about.push(("count it", "more was poured from it than was in it".into()));
        }
        about
    }
}

//! What stands large while nothing can be done: how long, and what happens then.

use boothside_core::board::Waited;
use boothside_core::session::clocks::DueAt;
use boothside_core::session::standing::StepNow;
use boothside_core::work::system::{Does, Step};

use super::{Large, large};
use crate::view::words::Words;
use crate::view::words::hero::time_of;
use crate::view::words::next::dries;
use crate::view::words::stage::layer_of;
use crate::view::words::time::Time;

impl Words<'_> {
    pub(super) fn large_wait(&self, what: &Waited, until: Option<DueAt>) -> Large {
        match (what, until) {
            (Waited::ToHang { .. } | Waited::Away { .. }, _) => {
                large("hang a part", "coats still to spray")
            }
            (_, Some(DueAt::At(at))) => {
                let time = time_of(what);
                let (object, second) = self.wait_object(what, &self.clock(at, time));
                let left = self.large_until(at, time).replace("min", "MIN");
                (format!("{left} {}", object.to_uppercase()), second)
            }
            (_, Some(DueAt::Never(because))) => {
                large(self.wait_object(what, "").0, self.never(because))
            }
            (_, None) => large("waiting", self.waited(what, "")),
        }
    }

    fn wait_object(&self, what: &Waited, at: &str) -> Large {
        let second = |text: String| text.trim_end().to_owned();
        match what {
            Waited::Look { face } => (self.bare_face(*face), second(format!("look {at}"))),
            Waited::Opens { face } => {
                (self.bare_face(*face), second(format!("{} from {at}", self.coat_to_come(*face))))
            }
            Waited::WipeDry { face } => ("wipe dries".into(), self.bare_face(*face)),
            Waited::Turn { face } => {
                (format!("turn {}", self.bare_face(*face)), second(format!("from {at}")))
            }
            Waited::Stand { pot } => {
                (format!("{} stands", self.pot(pot)), self.stands_till(pot, at))
            }
            Waited::PotTime { layer } => {
                (format!("mix {}", self.next_pot()), self.layer_from(*layer))
            }
            Waited::WipeTime { layer } => ("wipe".into(), self.layer_from(*layer)),
            Waited::AfterStep { step } => {
                let dries = self.find_step(step).is_some_and(dries);
                let object = match (self.is_wipe(step), dries) {
                    (true, _) => "wipe dries".to_owned(),
                    (_, true) => "drying".to_owned(),
                    _ => self.step_short(step),
                };
                (object, second(self.step_after(step, at)))
            }
            Waited::StageBeforeStep { step } => {
                let masks = self.find_step(step).is_some_and(Step::counts_masks);
                let then = match (masks, layer_of(self.board.stage)) {
                    (true, _) => "when the film no longer strings".into(),
                    (_, Some(layer)) => self.layer_from(layer),
                    _ => second(format!("from {at}")),
                };
                (self.step_short(step), then)
            }
            Waited::Cure { stage } => (cure_object(*stage).into(), at.to_owned()),
            Waited::Closes { face } => (self.bare_face(*face), second(format!("closes {at}"))),
            Waited::LastTrigger { pot } => (self.pot(pot), second(format!("last trigger {at}"))),
            Waited::OnTheGun { face } | Waited::Away { face } => {
                (self.bare_face(*face), String::new())
            }
            Waited::Condensing | Waited::FanOff | Waited::Back | Waited::ToHang { .. } => {
                (String::new(), String::new())
            }
        }
    }

    /// 'last trigger 18:27', or, where the stand is outside its life, 'life begins 15:08'.
    fn stands_till(&self, pot: &str, at: &str) -> String {
        let row = self.board.pots.iter().find(|row| row.at.id == pot);
        let sheet = row.and_then(|row| self.session.state().sheet(row.at.layer));
        let outside = sheet.and_then(|sheet| sheet.induction.as_ref());
        if outside.is_some_and(|induction| !induction.inside_pot_life) {
            return format!("life begins {at}");
        }
        match row.and_then(|row| row.at.last_trigger) {
            Some(last) => format!("last trigger {}", self.clock(last, Time::Limit)),
            None => format!("until {at}"),
        }
    }

    /// 'Colour from 19:42': when the first face may take the layer.
    fn layer_from(&self, layer: u32) -> String {
        let rows =
            self.board.faces.iter().filter(|row| row.at.next.is_some_and(|it| it.0 == layer));
        let opens = rows.filter_map(|row| row.at.until?.moment());
        let name = self.layer(layer);
        match opens.min() {
            Some(at) => format!("{name} from {}", self.clock(at, Time::Wait)),
            None => name,
        }
    }

    /// What comes after a step's wait: 'mask from 07:10'.
    fn step_after(&self, step: &str, at: &str) -> String {
        let mut steps = self.board.steps.iter().skip_while(|it| it.id != step).skip(1);
        let next = steps.find(|it| it.now != StepNow::Done).map(|it| self.step_order(&it.id));
        match next {
            Some(next) => format!("{next} from {at}"),
            None => format!("until {at}"),
        }
    }

    fn step_order(&self, step: &str) -> String {
        match self.find_step(step).and_then(|step| step.does) {
            Some(Does::Mask) => "mask".into(),
            Some(Does::Wipe) => "wipe".into(),
            _ => self.step_short(step),
        }
    }
}

const fn cure_object(stage: boothside_core::material::sheet::CureStage) -> &'static str {
    use boothside_core::material::sheet::CureStage;
    match stage {
        CureStage::DustFree => "dust-free",
        CureStage::Handle => "handle",
        CureStage::Mask => "mask",
        CureStage::Sand => "sand",
        CureStage::Full => "cured",
    }
}

//! A face that may have been forgotten on the gun.

use boothside_core::session::pace::Forgotten;

use super::Words;
use super::time::{Time, spoken};

/// The question and its answers by their digits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ForgottenWords {
    /// The question.
    pub question: String,
    /// The answers.
    pub answers: [String; 3],
}

impl Words<'_> {
    /// 'Rudder · left has been on the gun 14 min, usually 4 min: is it on?'; before this hand has a
    /// pace of its own 'by its area 5 min'.
    #[must_use]
    pub fn forgotten(&self, forgotten: &Forgotten) -> ForgottenWords {
        let face = self.face(forgotten.face);
        let since = spoken(self.now().since(forgotten.begun), Time::Past);
        let usual = spoken(forgotten.usual.time, Time::Past);
        let by = if forgotten.usual.own { "usually" } else { "by its area" };
        let ago = spoken(self.now().since(forgotten.likely), Time::Past);
        let at = self.clock(forgotten.likely, Time::Past);
        ForgottenWords {
            question: format!("{face} has been on the gun {since}, {by} {usual}: is it on?"),
            answers: [
                format!("it was on {ago} ago, at {at}"),
                "still spraying".into(),
                "it was on at another time".into(),
            ],
        }
    }
}

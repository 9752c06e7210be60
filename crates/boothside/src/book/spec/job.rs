//! A job: parts × system.

use boothside_store::book::Kind;

use super::{Item, Spec, field, list};
use crate::book::takes::Takes;

/// The form of a job.
pub(super) static JOB: Spec = Spec {
    kind: Kind::Job,
    items: &[
        field("name", "name", Takes::Name, "what you call the job", "").must(),
        field("system", "system", Takes::Named(Kind::System), "type to find it among yours", "")
            .must(),
        Item::Section("Parts, in spraying order"),
        Item::List(list("parts", "part", 40, PARTS).kept_empty()),
        Item::Section("Parts that do not hang in the booth yet"),
        Item::List(list("away", "away", 40, AWAY)),
        Item::Section("Faces in another order than the parts' own; then all of them"),
        Item::List(list("order", "face", 400, ORDER)),
    ],
};

const PARTS: &[Item] =
    &[field("", "part", Takes::Named(Kind::Part), "type to find it among your parts", "").may()];
const AWAY: &[Item] = &[field(
    "",
    "part",
    Takes::PartOfJob,
    "h hangs it once the session is open",
    "all parts hang in the booth",
)
.may()];
const ORDER: &[Item] =
    &[field("", "face", Takes::FaceOfJob, "every face once", "the parts' own order counts").may()];

//! Small forms: fields of text, checked on the spot. What was typed stays until it is right or
//! the form is left, and is there again when the form is opened anew.

mod build;
mod edit;
mod film;
mod gun;
mod measure;
mod mix;
mod read;
mod say;
mod sheet;
mod tenths;
mod understood;

pub use build::{
    cartridges, correction, count, note, note_about, pot, reading, time_of, top_up, true_time,
    was_on,
};
pub use film::{dry_film, weighing, wet_film};
pub use gun::gun;
pub use measure::shown as figure_shown;
pub use mix::{
    MixField, MixFilled, MixForm, amount, as_typed, flow_cup, lots, pour, reducer, rests_on,
    returned, weighed,
};
pub use read::{Filled, Wall, read};
pub use say::{figure as figure_told, refused};

/// Which form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FormKind {
    /// A reading of air and surface.
    Reading,
    /// A pot was mixed.
    Pot,
    /// A pot was topped up.
    TopUp,
    /// The true time of the last key.
    TrueTime,
    /// A note.
    Note,
    /// A figure to mend.
    Figure,
    /// A form of the bench.
    Mix(MixForm),
    /// How the gun is set.
    Gun,
    /// The wet film on the face with this number.
    WetFilm(usize),
    /// The dry film on the face with this number.
    DryFilm(usize),
    /// A pot by weight.
    Weighing,
    /// When a face was on that stayed on the gun.
    WasOn,
    /// The true time of the entry with this number.
    TimeOf(u64),
    /// A note about the entry with this number.
    NoteAbout(u64),
    /// Plugs and masks counted in.
    CountIn,
    /// Plugs and masks counted out.
    CountOut,
    /// Hours behind the cartridges.
    Cartridges,
}

/// Which field of a form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldName {
    /// Air temperature.
    Air,
    /// Humidity.
    Humidity,
    /// Coldest surface.
    Surface,
    /// Warmest surface.
    SurfaceWarmest,
    /// The mixed pot.
    PotTemperature,
    /// When it was.
    When,
    /// How much.
    Amount,
    /// Lot of the component with this number.
    Lot(usize),
    /// Free text.
    Text,
    /// Which figure.
    Figure,
    /// Its new value.
    Value,
    /// Why.
    Why,
    /// A field of the bench.
    Mix(MixField),
    /// Readings of a film.
    Films,
    /// What lies under a layer.
    Under,
    /// A coat's number.
    Coat,
    /// Pot and mix.
    Gross,
    /// The empty pot.
    Tare,
    /// What was left.
    Left,
    /// What went with cleaning.
    Wash,
    /// The gun's nozzle.
    Nozzle,
    /// Pressure at the gun's inlet.
    Inlet,
    /// Fan control.
    FanTurns,
    /// Fluid control.
    FluidTurns,
    /// Air cap.
    Cap,
    /// How it sprays.
    Result,
    /// Where a reading was taken.
    Place,
    /// With what it was taken.
    With,
    /// A count.
    Number,
    /// Hours.
    Hours,
}

impl FieldName {
    /// Whether it holds sentences: typing goes on behind them, and does not replace them.
    #[must_use]
    pub const fn is_prose(self) -> bool {
        matches!(self, Self::Text)
    }
}

/// One field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Which.
    pub name: FieldName,
    /// What stands before it.
    pub label: String,
    /// What was typed.
    pub text: String,
    /// What is accepted, as an example.
    pub hint: String,
    /// What is wrong with it.
    pub error: Option<String>,
    /// How the program understands what was typed, where that is to be seen before it is kept.
    pub understood: Option<String>,
    /// Whether it stands below the last field, for who goes there: Enter before it keeps the form.
    pub aside: bool,
    /// Whether its hint stands there while another field is typed in: it says what the figure is, or
    /// was.
    pub stands: bool,
}

/// A form being filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Form {
    /// Which.
    pub kind: FormKind,
    /// What stands above it.
    pub title: String,
    /// Its fields.
    pub fields: Vec<Field>,
    /// The number of the field that is typed in.
    pub focus: usize,
    /// Whether the field in focus is at rest: nothing was typed in it since the painter came to it, so
    /// that SPACE goes on and the next character replaces what stands there.
    pub at_rest: bool,
}

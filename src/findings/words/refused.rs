//! What the science refuses, in words: its errors are values with their numbers, and nothing of them is a sentence before here.

use super::wording::{Wording, duration};
use quantity::plain;
use science::input::{In, InputError};
use science::mix::{MOST_COMPONENTS, MixError};
use science::routes::Input;

/// Why a number cannot be worked with.
pub(crate) fn input_error_said(error: &InputError, wording: &Wording) -> String {
    match *error {
        InputError::NotFinite(what) => format!("The {what} is not a number."),
        InputError::NotPositive(what) => format!("The {what} must be more than zero."),
        InputError::Negative(what) => format!("The {what} cannot be less than zero."),
        InputError::Outside { what, low, high, unit } => {
            let said = |bound| bound_said(bound, unit, wording);
            format!("The {what} must lie between {} and {}.", said(low), said(high))
        }
        InputError::TooFew { what, least: 1 } => format!("There are no {what} yet."),
        InputError::TooFew { what, least } => format!("At least {least} {what} are needed."),
        InputError::Unpaired(what) => format!("There must be equally many {what}."),
        InputError::Extreme => "These numbers are too large or too small to give an answer.".into(),
    }
}

fn bound_said(bound: f64, unit: In, wording: &Wording) -> String {
    match unit {
        In::Numbers => plain(bound),
        In::Shares => format!("{} %", plain(100.0 * bound)),
        In::Percent => format!("{} %", plain(bound)),
        In::Celsius => wording.temperature(bound),
        In::Micrometres => wording.tooth(bound),
        In::Minutes => duration(bound / 60.0),
    }
}

/// Why a mix cannot be worked out, where no component is to blame.
pub(crate) fn mix_error_said(error: &MixError, wording: &Wording) -> String {
    match error {
        MixError::NoComponents => "Enter the components of the mix first.".into(),
        MixError::TooMany(_) => format!("A mix has at most {MOST_COMPONENTS} components here."),
        MixError::NoSuchComponent(i) => format!("The mix has no component {}.", i + 1),
        MixError::NothingToMix => "A one-pack primer without reducer has nothing to mix: pour it as it is.".into(),
        MixError::NoParts(i) => format!("Component {} needs parts of more than zero.", i + 1),
        MixError::DensityUnknown(i) => format!("Give the density of component {}.", i + 1),
        MixError::Input(error) => input_error_said(error, wording),
    }
}

/// What goes into the final build, as part of a sentence.
pub(crate) fn route_input_name(input: Input) -> &'static str {
    match input {
        Input::CombReadings => "comb reading",
        Input::Comb => "comb itself",
        Input::WetMass => "wet weight",
        Input::FinalMass => "final weight",
        Input::BareMass => "bare weight",
        Input::Area => "coated area",
        Input::SolventDensity => "density of the solvent",
        Input::VolumeSolids => "solids by volume",
        Input::Thinning => "amount of reducer",
        Input::DryDensity => "density of the dry film",
        Input::MixDensity => "density of the mix",
        Input::WeightSolids => "solids by weight",
        Input::Gauge => "dry-film reading",
    }
}

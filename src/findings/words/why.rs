//! Reasons in words.

use super::comb::comb_said;
use super::refused::{input_error_said, route_input_name};
use super::verdict::no_forecast;
use super::wording::Wording;
use crate::told::Why;
use crate::work::Reason;
use science::mix::Basis;
use science::routes::{NoAnswer, RouteError};

impl Why {
    /// Takes an answer apart: the number, or nothing and its reason noted under `name`.
    pub(crate) fn note<T>(&mut self, name: &'static str, answer: Result<T, Reason>, wording: &Wording) -> Option<T> {
        match answer {
            Ok(value) => Some(value),
            Err(reason) => {
                self.0.insert(name, reason.said(wording));
                None
            }
        }
    }
}

impl Reason {
    /// In one sentence, in the units chosen; where several panels have each their own, in a sentence for each reason.
    pub fn said(&self, wording: &Wording) -> String {
        let sentence = match self {
            Self::NoBareWeight => "The panel was not weighed bare, so shares of its coat cannot be told.",
            Self::NoCoatMass => {
                "The panel was not weighed bare, and comb readings, area and density that could stand in are not all there."
            }
            Self::NoWetWeight => "There is no weight after the last coat yet.",
            Self::NoLaterWeight => "Nothing was weighed after the wet weight yet.",
            Self::NoCoat => "The wet weight is not above the bare weight: one of them is wrong.",
            Self::NoArea => "The coated area is missing: give the panel's sides, or its area, in Plan.",
            Self::NoDabs => "There is no comb reading of the last coat.",
            Self::NoForecast => "It needs the drying curve, which is not there yet.",
            Self::NoCoatTime => "The time of the last coat is not noted.",
            Self::FirstWeightsLate => {
                "It takes a first weight within half an hour of the last coat, and a second within two hours of it."
            }
            Self::NoPanel => "No panel carries it yet.",
            Self::NoCandidate => "The candidate is gone.",
            Self::NoValue => "There is no value yet.",
            Self::NoWantedBuild => "Set the wanted build.",
            Self::NoCoatFilm => "Give the wet film of a coat on the sheet, or dab a panel.",
            Self::NoMixDensity => "Give the density of the mix: on the sheet, or by a cup of it weighed.",
            Self::LeftUncertain => "What is left of the film is not known closely enough.",
            Self::NoSheetSolids(Basis::Volume) => "The data sheet's solids by volume is not filled in.",
            Self::NoSheetSolids(Basis::Weight) => "The data sheet's solids by weight is not filled in.",
            Self::SheetOfBase => {
                "The data sheet is stated for the base alone, and nobody says what solids the hardener brings: look for the sheet of the mix."
            }
            Self::NoSuchFilm => "No film is like that: look at the weights, the area and the densities behind it.",
            Self::Build(NoAnswer::NoRoute) => "No route to the final build has all its numbers yet.",
            Self::Build(NoAnswer::Disagree) => "The routes differ by more than chance, so they are not combined.",
            Self::Route(RouteError::NoFilmLeft) => {
                "These numbers leave no film at all: check the comb reading and the weights."
            }
            Self::Route(RouteError::Missing(input)) => return format!("There is no {} yet.", route_input_name(*input)),
            Self::Route(RouteError::Input(error)) | Self::Build(NoAnswer::Input(error)) | Self::Input(error) => {
                return input_error_said(error, wording);
            }
            Self::Comb(trouble) => return comb_said(trouble, wording),
            Self::Drying(trouble) => return no_forecast(*trouble),
            Self::Mix(wants) => return wants.said(wording),
            Self::OfPanels(several) => {
                let each =
                    |(reason, labels): &(Self, Vec<String>)| [&labels.join(", "), ": ", &reason.said(wording)].concat();
                return several.iter().map(each).collect::<Vec<_>>().join(" ");
            }
        };
        sentence.to_owned()
    }
}

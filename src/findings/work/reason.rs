//! Why something cannot be told: every number that is missing from the findings has its reason beside it.

use super::recipe::MixWants;
use science::comb::CombError;
use science::drying::NoForecast;
use science::input::InputError;
use science::mix::Basis;
use science::routes::{NoAnswer, RouteError};

/// Why a number cannot be had. `words` makes one sentence of it, in the units chosen: `Reason::said`.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// The panel was not weighed bare.
    NoBareWeight,
    /// Neither a bare weight, nor comb readings with area and density that would stand in for it.
    NoCoatMass,
    /// No weight after the last coat.
    NoWetWeight,
    /// Nothing was weighed after the wet weight.
    NoLaterWeight,
    /// The panel is not heavier wet than bare.
    NoCoat,
    /// The coated area is not known.
    NoArea,
    /// No comb reading of the last coat.
    NoDabs,
    /// The forecast is not there.
    NoForecast,
    /// Nobody noted when the last coat was sprayed.
    NoCoatTime,
    /// The first weights came too late to tell what had left before them.
    FirstWeightsLate,
    /// No panel carries the candidate.
    NoPanel,
    /// There is no such candidate.
    NoCandidate,
    /// No value yet.
    NoValue,
    /// Nobody says what dry build is wanted.
    NoWantedBuild,
    /// Neither sheet nor comb says how much wet film a coat leaves.
    NoCoatFilm,
    /// The density of the mix is not known.
    NoMixDensity,
    /// The share of the film that is left may be nothing at all.
    LeftUncertain,
    /// The data sheet leaves its solids by volume or by weight out.
    NoSheetSolids(Basis),
    /// The data sheet is stated for the base alone, and the mix has a hardener.
    SheetOfBase,
    /// What comes out is no film that anybody could have.
    NoSuchFilm,
    /// The comb and its readings do not fit.
    Comb(CombError),
    /// The weights make no drying curve.
    Drying(NoForecast),
    /// Something of the mix is wanting.
    Mix(MixWants),
    /// A route to the final build gives none.
    Route(RouteError),
    /// No route gives a final build, or they contradict each other.
    Build(NoAnswer),
    /// A number cannot be worked with.
    Input(InputError),
    /// Several, each with the labels of the panels that it holds for.
    OfPanels(Vec<(Self, Vec<String>)>),
}

impl Reason {
    /// Why none of these panels, by their labels, has a value: one reason where it is the same for all, else whose it is.
    pub(crate) fn of_panels<'a, T>(panels: impl Iterator<Item = (&'a str, Result<T, Self>)>) -> Self {
        let mut known: Vec<(Self, Vec<String>)> = Vec::new();
        for (label, value) in panels {
            let Some(reason) = value.err() else { continue };
            match known.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, labels)) => labels.push(label.to_owned()),
                None => known.push((reason, vec![label.to_owned()])),
            }
        }
        match &known[..] {
            [] => Self::NoPanel,
            [(reason, _)] => reason.clone(),
            _ => Self::OfPanels(known),
        }
    }
}

impl From<InputError> for Reason {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

impl From<MixWants> for Reason {
    fn from(wants: MixWants) -> Self {
        Self::Mix(wants)
    }
}

//! Reasons in words.

use std::fmt;

use super::comb::comb_said;
use super::tongue::Tongue;
use super::verdict::no_forecast;
use crate::work::Reason;
use quantity::Manner;

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoBareWeight => f.write_str("The panel was not weighed bare, so shares of its coat cannot be told."),
            Self::NoCoatMass => f.write_str(
                "The panel was not weighed bare, and comb readings, area and density that could stand in are not all there.",
            ),
            Self::NoWetWeight => f.write_str("There is no weight after the last coat yet."),
            Self::NoLaterWeight => f.write_str("Nothing was weighed after the wet weight yet."),
            Self::NoCoat => f.write_str("The wet weight is not above the bare weight: one of them is wrong."),
            Self::NoArea => f.write_str("The coated area is missing: give the panel's sides, or its area, in Plan."),
            Self::NoDabs => f.write_str("There is no comb reading of the last coat."),
            Self::NoForecast => f.write_str("It needs the drying curve, which is not there yet."),
            Self::NotOnSheet(what) => write!(f, "The data sheet's {what} is not filled in."),
            Self::SheetOfBase => f.write_str(
                "The data sheet is stated for the base alone, and nobody says what solids the hardener brings: look for the sheet of the mix.",
            ),
            Self::NoSuchFilm => {
                f.write_str("No film is like that: look at the weights, the area and the densities behind it.")
            }
            // A reason is kept while the person goes over to other units.
            Self::Comb(trouble) => {
                let tongue = Tongue { units: Manner::in_use().units, division_g: None };
                f.write_str(&comb_said(trouble, &tongue))
            }
            Self::Drying(trouble) => f.write_str(&no_forecast(*trouble)),
            Self::Said(sentence) => f.write_str(sentence),
        }
    }
}

//! What a data sheet, a dish and a density cup say of a mix, brought to the mix as it is sprayed.
//!
//! A sheet states its numbers for all that is in the cup, for the mix before the reducer, or for the base alone. Solids go
//! to the science as stated, with the volume of reducer beside them; where the statement leaves the hardener out, nobody
//! can tell the solids of the mix, and the reason is kept.

use super::reason::Reason;
use super::recipe::{MixCard, MixWants, stated_for};
use crate::facts::step_or_usual_g;
use quantity::{Fraction, GramsPerMillilitre, Quantity};
use record::{Candidate, MeasuredMix, Mixed, SprayTest, StatedFor};
use science::Measured;
use science::drying::{SHEET_SD, dish_sd};
use science::mix::Basis;
use science::solids::{Dish, cup_density, dish_solids, weight_solids_reduced};
use science::weigh::reading_u;

/// Uncertainty of a sheet's figures as shares of 1: solids, and of a density, g/mL (design choices).
const SHEET_SOLIDS_U: f64 = 0.02;

const SHEET_DENSITY_U: f64 = 0.02;

/// Uncertainty of what a density cup holds, as a share of 1 (design choice).
const CUP_VOLUME_U: f64 = 0.001;

/// What a sheet says, with uncertainties.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetCard {
    /// Solids by weight, before the reducer that `thinning` counts.
    pub solids_by_weight: Option<Measured>,
    /// Solids by volume, before the reducer that `thinning` counts.
    pub solids_by_volume: Option<Measured>,
    /// Density, g/mL, before the reducer that `thinning` counts.
    pub density: Option<Measured>,
    /// Density as sprayed, g/mL.
    pub density_sprayed: Option<Measured>,
    /// Density of the dry film, g/mL.
    pub dry_density: Option<Measured>,
    /// Density, g/mL, and solids by weight of the mix as sprayed, where both were measured.
    pub measured: Option<(Measured, Measured)>,
    /// Solids by weight of the mix as sprayed, as a share of 1, with their sd for the forecast: by a dish, else by the sheet.
    pub sprayed_solids: Option<(f64, f64)>,
    /// The painter has left the sheet's solids out of the forecast, and no dish stands in for them.
    pub left_out: bool,
    /// Volume of reducer for a volume of paint before it.
    pub thinning: f64,
    /// Why the sheet's solids cannot be brought to the mix as sprayed, if so.
    pub why: Option<Reason>,
}

impl SheetCard {
    /// Whether the solids that go into the forecast are those of the data sheet, and of no dish.
    pub fn narrows(&self) -> bool {
        self.sprayed_solids.is_some_and(|(_, sd)| sd == SHEET_SD)
    }
}

/// What is known of a candidate's mix; `cup` is the one it was sprayed from, where that is known.
pub(crate) fn sheet_of(test: &SprayTest, candidate: &Candidate, cup: Option<&Mixed>) -> SheetCard {
    let sheet = &candidate.sheet;
    let solids = |share: Option<Fraction>| share.map(|share| Measured::new(share.get(), SHEET_SOLIDS_U));
    let density = |rho: Option<GramsPerMillilitre>| rho.map(|rho| Measured::new(rho.get(), SHEET_DENSITY_U));
    let mix = MixCard::of(candidate).map(|mix| cup.and_then(|cup| mix.as_poured(cup)).unwrap_or(mix));
    let dish = measured(test, &candidate.measured);
    let stated = SheetCard {
        solids_by_weight: solids(sheet.solids_by_weight),
        solids_by_volume: solids(sheet.solids_by_volume),
        density: density(sheet.density_g_per_ml),
        dry_density: density(sheet.dry_density_g_per_ml),
        measured: dish.0.zip(dish.1),
        left_out: sheet.left_out && sheet.solids_by_weight.is_some() && dish.1.is_none(),
        ..SheetCard::default()
    };
    let thinning = thinning(candidate, &mix);
    let by_dish = dish.1.map(|solids| (solids.value, dish_sd(solids.u)));
    let by_sheet = || {
        (!sheet.left_out).then_some(())?;
        let reducer = match stated_for(candidate) {
            StatedFor::Mix => 0.0,
            _ => mix.as_ref().map_or(Some(0.0), |mix| mix.thinning(Basis::Weight).ok())?,
        };
        let solids = weight_solids_reduced(sheet.solids_by_weight?.get(), reducer).ok()?;
        Some((solids, SHEET_SD))
    };
    let stated = SheetCard { sprayed_solids: by_dish, ..stated };
    let sprayed = || sprayed_density(stated.density, mix.as_ref().ok(), stated_for(candidate));
    let density_sprayed = dish.0.or_else(sprayed);
    match thinning {
        Ok(thinning) => {
            let sprayed_solids = by_dish.or_else(by_sheet).filter(|solids| solids.0 > 0.0 && solids.0 < 1.0);
            SheetCard { thinning, density_sprayed, sprayed_solids, ..stated }
        }
        // The statement cannot be brought to the mix: its solids would be wrong by what is not known.
        Err(reason) => SheetCard {
            solids_by_weight: None,
            solids_by_volume: None,
            density: None,
            density_sprayed,
            why: Some(reason),
            ..stated
        },
    }
}

/// Volume of reducer for a volume of what the sheet is stated for.
fn thinning(candidate: &Candidate, mix: &Result<MixCard, MixWants>) -> Result<f64, Reason> {
    let stated = stated_for(candidate);
    if stated == StatedFor::Mix {
        return Ok(0.0);
    }
    let mix = match mix {
        Ok(mix) => mix,
        // Nothing is said of the mix: it is taken as the sheet has it.
        Err(MixWants::Components) => return Ok(0.0),
        Err(wants) => return Err(wants.clone().into()),
    };
    if stated == StatedFor::Base && mix.hardened() {
        return Err(Reason::SheetOfBase);
    }
    Ok(mix.thinning(Basis::Volume)?)
}

/// Density of the mix as sprayed from what is stated, else from its components.
fn sprayed_density(stated: Option<Measured>, mix: Option<&MixCard>, stated_for: StatedFor) -> Option<Measured> {
    let Some(mix) = mix else { return stated };
    let of_parts = || mix.recipe.density().ok().map(|density| Measured::new(density, SHEET_DENSITY_U));
    if stated_for == StatedFor::Mix || !(mix.reduced() || mix.hardened()) {
        return stated.or_else(of_parts);
    }
    let of_sheet = || {
        let (stated, thinning) = (stated?, mix.thinning(Basis::Volume).ok()?);
        // A sheet of the base alone says nothing of a hardener.
        (stated_for == StatedFor::MixUnreduced).then_some(())?;
        if thinning == 0.0 {
            return Some(stated);
        }
        let whole = (stated.value + thinning * mix.reducer_density()?) / (1.0 + thinning);
        Some(Measured::new(whole, SHEET_DENSITY_U))
    };
    of_sheet().or_else(of_parts).or(stated)
}

/// Density of the mix by the cup, g/mL, and its solids by weight by the dish.
fn measured(test: &SprayTest, of: &MeasuredMix) -> (Option<Measured>, Option<Measured>) {
    let division = step_or_usual_g(test);
    let u_g = reading_u(division, 0.0).unwrap_or(division);
    let density = || {
        let (empty, full, holds) = (of.cup_empty_g?.get(), of.cup_full_g?.get(), of.cup_ml?.get());
        cup_density(empty, full, u_g, Measured::new(holds, CUP_VOLUME_U * holds)).ok()
    };
    let solids = || {
        let (empty_g, wet_g) = (of.dish_empty_g?.get(), of.dish_wet_g?.get());
        dish_solids(&[Dish { empty_g, wet_g, dry_g: of.dish_dry_g?.get() }], u_g).ok()
    };
    (density(), solids())
}

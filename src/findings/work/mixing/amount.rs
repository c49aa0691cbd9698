//! How much to mix: as typed, or worked out from the panels.

use crate::facts::{first_coat, stays};
use crate::work::recipe::{MixCard, MixWants};
use crate::work::sheet::sheet_of;
use quantity::Quantity;
use record::{Basis, Candidate, Panel, SprayTest};
use science::mix::{amount_to_mix, area_to_spray};
use science::solids::wet_for_dry;

/// What stands in where the plan leaves something out. Design choices, each said where it is used.
pub(crate) const TRANSFER_EFFICIENCY: f64 = 0.5;

pub(crate) const OVERSPRAY_MM: f64 = 50.0;

pub(crate) const LEFT_IN_GUN_ML: f64 = 50.0;

const COATS: f64 = 2.0;

pub(crate) const WET_FILM_UM: f64 = 150.0;

pub(crate) const DENSITY: f64 = 1.3;

/// Something the plan leaves out, and what was taken instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Assumed {
    /// Share of what is sprayed that lands.
    TransferEfficiency,
    /// Sprayed over each edge.
    Overspray,
    /// Left in cup, gun and hose.
    LeftInGun,
    /// Number of coats.
    Coats,
    /// Wet film of a coat.
    WetFilm,
    /// Density of the mix: sets the size of the batch alone, never its ratio.
    Density,
}

/// How much to mix.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// mL.
    pub ml: f64,
    /// g.
    pub grams: f64,
    /// Typed by the person, not worked out.
    pub typed: bool,
    /// What was taken where the plan leaves something out.
    pub assumed: Vec<Assumed>,
}

/// Why there is no amount.
#[derive(Clone, Debug, PartialEq)]
pub enum NoAmount {
    /// Nobody says how large the panels are.
    Panels,
    /// Something of the mix is wanting.
    Mix(MixWants),
}

impl From<MixWants> for NoAmount {
    fn from(wants: MixWants) -> Self {
        Self::Mix(wants)
    }
}

/// How much of a candidate to mix: what was typed, else what its panels take.
///
/// # Errors
/// [`NoAmount`].
pub fn amount_of(test: &SprayTest, candidate: &Candidate, mix: &MixCard) -> Result<Amount, NoAmount> {
    let mut assumed = Vec::new();
    let typed = candidate.mix.amount_ml.map(Quantity::get).filter(|ml| *ml > 0.0);
    let ml = match typed {
        Some(ml) => ml,
        None => worked_out(test, candidate, &mut assumed)?,
    };
    let density = match mix.recipe.density() {
        Ok(density) => density,
        Err(error) if candidate.mix.basis != Some(Basis::Weight) => return Err(NoAmount::Mix(mix.wants(error))),
        Err(_) => sheet_of(test, candidate, None).density_sprayed.map_or_else(
            || {
                assumed.push(Assumed::Density);
                DENSITY
            },
            |density| density.value,
        ),
    };
    Ok(Amount { ml, grams: ml * density, typed: typed.is_some(), assumed })
}

fn worked_out(test: &SprayTest, candidate: &Candidate, assumed: &mut Vec<Assumed>) -> Result<f64, NoAmount> {
    let wanted = &test.wanted;
    let mut or = |value: Option<f64>, stand_in: f64, what: Assumed| {
        value.filter(|value| *value > 0.0).unwrap_or_else(|| {
            assumed.push(what);
            stand_in
        })
    };
    let film = wet_film(test, candidate);
    // Nothing over the edges, and nothing left in the gun, are things a person may say.
    let overspray_mm = match wanted.overspray_mm {
        Some(mm) => mm.get(),
        None => or(None, OVERSPRAY_MM, Assumed::Overspray),
    };
    let coats = or(candidate.sheet.coats.map(Quantity::get), COATS, Assumed::Coats);
    let film_um = or(film, WET_FILM_UM, Assumed::WetFilm);
    let lands = or(wanted.transfer_efficiency.map(Quantity::get), TRANSFER_EFFICIENCY, Assumed::TransferEfficiency);
    let left_ml = match wanted.left_in_gun_ml {
        Some(ml) => ml.get(),
        None => or(None, LEFT_IN_GUN_ML, Assumed::LeftInGun),
    };
    let sprayed = |panel: &&Panel| stays(&panel.left) || first_coat(panel).is_some();
    let own = test.panels.kept().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)).filter(sprayed);
    let sides: Option<Vec<(f64, f64)>> = own.map(sides_mm).collect();
    let sides = sides.filter(|sides| !sides.is_empty()).ok_or(NoAmount::Panels)?;
    area_to_spray(&sides, overspray_mm)
        .and_then(|cm2| amount_to_mix(cm2, film_um, coats.round().max(1.0) as usize, lands, left_ml))
        .map_err(|error| NoAmount::Mix(MixWants::Unusable(error.into())))
}

/// Wet film of a coat, µm: the sheet's; else what gives the sheet's dry film, or the wanted build in the sheet's coats.
fn wet_film(test: &SprayTest, candidate: &Candidate) -> Option<f64> {
    let sheet = &candidate.sheet;
    let from_dry = || {
        let card = sheet_of(test, candidate, None);
        let wanted = || {
            let taken_off = test.wanted.sanding_loss_um.map_or(0.0, Quantity::get);
            let coats = sheet.coats.map_or(COATS, Quantity::get).max(1.0);
            Some((test.wanted.dry_build_um?.get() + taken_off) / coats)
        };
        let dry_um = sheet.dry_film_um.map(Quantity::get).or_else(wanted)?;
        wet_for_dry(dry_um, card.solids_by_volume?.value, card.thinning).ok()
    };
    sheet.wet_film_um.map(Quantity::get).or_else(from_dry)
}

/// The sides of a panel, mm; of one whose area alone is known, as if it were square.
fn sides_mm(panel: &Panel) -> Option<(f64, f64)> {
    let square = || {
        let side = (100.0 * panel.coated_cm2?.get()).sqrt();
        Some((side, side))
    };
    panel.width_mm.zip(panel.length_mm).map(|(width, length)| (width.get(), length.get())).or_else(square)
}

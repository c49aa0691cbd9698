//! How far a mix goes and what it costs. Volumes in L, areas in m², films in µm, money in any one currency.

use super::estimate::{Estimate, Measured, Z95};
use super::input::{In, InputError, answer, not_negative, positive, share, within};
use super::solids::wet_for_dry;
use serde::Serialize;

/// Theoretical coverage in m²/L for a dry film in µm: `1000·VS·TE/D`. Solids by volume VS of what is counted in litres (the
/// reduced mix for litres of mix), transfer efficiency TE, both as shares of 1; TE 1 for the theoretical figure.
///
/// ```
/// use comb_scale_science::spread::coverage;
/// assert!((coverage(0.71, 1.0, 125.0)? - 5.68).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn coverage(solids: f64, transfer_efficiency: f64, dry_um: f64) -> Result<f64, InputError> {
    let solids = share("solids by volume", solids)?;
    let efficiency = share("transfer efficiency", transfer_efficiency)?;
    answer(1000.0 * solids * efficiency / positive("dry film", dry_um)?)
}

/// An answer that divides by what is uncertain, with relative standard uncertainty `relative`: `value/(1 ± 1.96 u)`, so that the
/// limit on the far side is the farther one. Refused where nothing bounds it.
fn divided(value: f64, relative: f64) -> Result<Estimate, InputError> {
    let reach = Z95 * relative;
    let low = answer(value / (1.0 + reach))?;
    let least = positive("lower limit of solids by volume and transfer efficiency", 1.0 - reach)?;
    Ok(Estimate { low, mid: answer(value)?, high: answer(value / least)? })
}

/// Wet film to spray, µm, for a dry build of `wanted_um` left after sanding off `sanding_um`: `(wanted + sanding)·(1 + th)/VS`
/// with the uncertainties of solids by volume (a share of 1) and reducer (volume per volume of paint), relative variances
/// adding (GUM, JCGM 100:2008, eq. (10)).
///
/// ```
/// use comb_scale_science::{Measured, spread::wet_to_spray};
/// let wet = wet_to_spray(80.0, 20.0, Measured::new(0.50, 0.02), Measured::exact(0.1))?;
/// assert!((wet.mid - 220.0).abs() < 1e-9 && (wet.low - 204.0).abs() < 0.1 && (wet.high - 238.7).abs() < 0.1);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn wet_to_spray(
    wanted_um: f64,
    sanding_um: f64,
    solids: Measured,
    thinning: Measured,
) -> Result<Estimate, InputError> {
    let dry = positive("wanted dry film", wanted_um)? + not_negative("film sanded off", sanding_um)?;
    solids.checked("solids by volume")?;
    thinning.checked("amount of reducer")?;
    let wet = wet_for_dry(dry, solids.value, thinning.value)?;
    divided(wet, solids.relative().hypot(thinning.u / (1.0 + thinning.value)))
}

/// Wet film to spray, µm, as the panels of the test have it: dry build over the share of the wet film that they kept, a share
/// of 1 with its interval. Refused while that interval reaches down to nothing kept.
///
/// ```
/// use comb_scale_science::{Estimate, spread::wet_as_kept};
/// let kept = Estimate { low: 0.40, mid: 0.50, high: 0.625 };
/// let wet = wet_as_kept(80.0, 20.0, &kept)?;
/// assert!((wet.low - 160.0).abs() < 1e-9 && (wet.mid - 200.0).abs() < 1e-9 && (wet.high - 250.0).abs() < 1e-9);
/// assert!(wet_as_kept(80.0, 20.0, &Estimate { low: -0.1, ..kept }).is_err());
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn wet_as_kept(wanted_um: f64, sanding_um: f64, kept: &Estimate) -> Result<Estimate, InputError> {
    let dry = positive("wanted dry film", wanted_um)? + not_negative("film sanded off", sanding_um)?;
    let wet = |share: f64| answer(dry / positive("share of the wet film that is surely kept", share)?);
    within("share of the wet film that is kept", kept.mid, kept.low, kept.high, In::Shares)?;
    Ok(Estimate { low: wet(kept.high)?, mid: wet(kept.mid)?, high: wet(kept.low)? })
}

/// Coats for a wanted dry build.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Coats {
    /// How many coats.
    pub coats: u32,
    /// Wet film that all of them must add up to, µm.
    pub wet_um: f64,
    /// Wet film of each, if they are sprayed alike, µm.
    pub wet_each_um: f64,
}

/// Coats needed for a dry build of `wanted_um` left after sanding off `sanding_um`, at `wet_um` per coat: wet film for all is
/// `(wanted + sanding)·(1 + th)/VS`. Films in µm; solids and reducer as in [`wet_for_dry`].
///
/// ```
/// use comb_scale_science::spread::coats_needed;
/// let coats = coats_needed(100.0, 20.0, 0.5, 0.1, 120.0)?;
/// assert!(coats.coats == 3 && (coats.wet_um - 264.0).abs() < 1e-9 && (coats.wet_each_um - 88.0).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn coats_needed(
    wanted_um: f64,
    sanding_um: f64,
    solids: f64,
    thinning: f64,
    wet_um: f64,
) -> Result<Coats, InputError> {
    let dry = positive("wanted dry film", wanted_um)? + not_negative("film sanded off", sanding_um)?;
    let total = wet_for_dry(dry, solids, thinning)?;
    // A hair above a whole number of coats is rounding, not another coat.
    let coats = (total / positive("wet film of one coat", wet_um)? - 1e-9).ceil().max(1.0);
    within("number of coats", coats, 1.0, 1000.0, In::Numbers)?;
    Ok(Coats { coats: coats as u32, wet_um: total, wet_each_um: total / coats })
}

/// One component as it is bought.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pack {
    /// Its share of the mix by volume, of 1.
    pub share: f64,
    /// What is in a pack, L.
    pub litres: f64,
    /// What a pack costs, in any currency.
    pub price: f64,
}

/// What a litre of mix costs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MixPrice {
    /// Price of what is in a litre of mix.
    pub per_litre: f64,
    /// The same if what one pack of each leaves over is thrown away.
    pub per_litre_left_thrown_away: f64,
    /// Mix from one pack of each, L.
    pub mix_l: f64,
    /// What then stays in each pack, L.
    pub left_l: Vec<f64>,
}

impl MixPrice {}

/// Price of a litre of mix from packs, and which component is left over. Shares by volume must add up to 1.
///
/// ```
/// use comb_scale_science::spread::{Pack, mix_price};
/// let pack = |share, litres, price| Pack { share, litres, price };
/// let mix = mix_price(&[pack(0.8, 4.0, 120.0), pack(0.2, 2.0, 60.0)])?;
/// assert!((mix.per_litre - 30.0).abs() < 1e-12 && (mix.mix_l - 5.0).abs() < 1e-12);
/// assert!((mix.left_l[1] - 1.0).abs() < 1e-12, "a litre of the second is left over");
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn mix_price(packs: &[Pack]) -> Result<MixPrice, InputError> {
    if packs.is_empty() {
        return Err(InputError::TooFew { what: "packs", least: 1 });
    }
    let (mut shares, mut per_litre, mut paid) = (0.0, 0.0, 0.0);
    let mut mix_l = f64::INFINITY;
    for pack in packs {
        shares += share("share of the mix", pack.share)?;
        let litres = positive("content of the pack", pack.litres)?;
        per_litre += pack.share * not_negative("price of the pack", pack.price)? / litres;
        paid += pack.price;
        mix_l = mix_l.min(litres / pack.share);
    }
    within("sum of the shares of the mix", shares, 1.0 - 1e-6, 1.0 + 1e-6, In::Numbers)?;
    let left_l = packs.iter().map(|pack| (pack.litres - mix_l * pack.share).max(0.0)).collect();
    let all_paid = answer(paid / answer(mix_l)?)?;
    Ok(MixPrice { per_litre: answer(per_litre)?, per_litre_left_thrown_away: all_paid, mix_l, left_l })
}

/// Price per area: price per volume over area per volume.
///
/// ```
/// use comb_scale_science::spread::price_per_area;
/// assert!((price_per_area(38.0, 3.0)? - 12.666_667).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn price_per_area(price_per_volume: f64, coverage: f64) -> Result<f64, InputError> {
    answer(not_negative("price", price_per_volume)? / positive("coverage", coverage)?)
}

/// Price per m² at a dry build of `wanted_um` left after sanding off `sanding_um`: `price·D/(1000·VS·TE)`, from the price of a
/// litre of mix, its solids by volume and the transfer efficiency (shares of 1), relative variances adding (GUM, JCGM 100:2008,
/// eq. (10)). The efficiency is a guess on most guns, and then leads the interval.
///
/// ```
/// use comb_scale_science::{Measured, spread::price_at_build};
/// let price = price_at_build(38.0, 75.0, 0.0, Measured::new(0.45, 0.02), Measured::new(0.5, 0.1))?;
/// assert!((price.mid - 12.666_667).abs() < 1e-6 && price.low < 9.1 && price.high > 21.0);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn price_at_build(
    price_per_litre: f64,
    wanted_um: f64,
    sanding_um: f64,
    solids: Measured,
    transfer_efficiency: Measured,
) -> Result<Estimate, InputError> {
    let dry = positive("wanted dry film", wanted_um)? + not_negative("film sanded off", sanding_um)?;
    solids.checked("solids by volume")?;
    transfer_efficiency.checked("transfer efficiency")?;
    let area = coverage(solids.value, transfer_efficiency.value, dry)?;
    divided(price_per_area(price_per_litre, area)?, solids.relative().hypot(transfer_efficiency.relative()))
}

//! One panel's card put to the science: the part of its answers that takes time.

use std::sync::OnceLock;

use super::card::PanelCard;
use super::reading::{Reading, Role};
use super::reason::Reason;
use record::Id;
use science::comb::{CombPrior, WetFilm, another_reading, wet_film};
use science::drying::steady::{Beginnings, forecast_knowing};
use science::drying::{FilmScale, Forecast, GainsMass, Outlook, Settings};
use science::film::{base_metal, dry_film};
use science::routes::{DryDensity, FinalBuild, Known, Wet, final_build};
use science::{Distribution, Estimate, Measured, drying};

/// The heavy part of a panel's answers: everything that follows from its card alone.
#[derive(Clone, Debug)]
pub struct PanelWork {
    /// What it was worked out from.
    pub card: PanelCard,
    /// The drying curve.
    pub forecast: Result<Forecast, Reason>,
    /// The weigh-ins of the card, in its order, as the curve has them.
    pub readings: Vec<Reading>,
    /// The wet film.
    pub wet_film: Result<WetFilm, Reason>,
    /// The final build by every route.
    pub build: FinalBuild,
    /// The dry film by the gauge.
    pub gauge_um: Option<Measured>,
    /// Whether it had settled by its earlier weigh-ins: kept for when the next one comes.
    beginnings: Beginnings,
    /// Worked out when it is first asked for: it takes longer than all the rest of the comb's answers.
    dab_share: OnceLock<f64>,
    /// As [`PanelWork::outlooks`], once asked for.
    outlooks: OnceLock<Vec<Outlook>>,
}

/// How soon after the first weight the second must follow for the fall at the first to be seen, h (design choice).
const SECOND_WITHIN_H: f64 = 2.0;

/// What a primer that gains weight as it cures may gain between two weights, as a share of its wet coat (design choice).
const GAINED_SHARE: f64 = 0.05;

/// An older panel of the same candidate and how much earlier it was sprayed, h.
pub(crate) type Elder<'a> = (f64, &'a PanelWork);

impl PanelWork {
    /// Works a panel out; `older` panels of the same candidate inform its curve. `former` is the same panel as it stood
    /// before, informed by the same older ones: what still holds of it is not worked out again.
    pub fn of(card: PanelCard, older: &[Elder<'_>], former: Option<&Self>) -> Self {
        let wet_film = wet_film_of(&card);
        let mut beginnings = former.map_or(Beginnings::new(), |former| former.still_holding(&card));
        let forecast = forecast_of(&card, &wet_film, older, &mut beginnings);
        let gauge_um = gauge(&card);
        let readings = Reading::all_of(&card, forecast.as_ref().ok());
        let build = final_build(&known(&card, &wet_film, &forecast, gauge_um));
        let (dab_share, outlooks) = (OnceLock::new(), OnceLock::new());
        Self { card, forecast, readings, wet_film, build, gauge_um, beginnings, dab_share, outlooks }
    }

    /// What is known of the beginnings that `card` shares with this panel's.
    fn still_holding(&self, card: &PanelCard) -> Beginnings {
        let without_weigh_ins = |card: &PanelCard| PanelCard { weigh_ins: Vec::new(), ..card.clone() };
        if without_weigh_ins(&self.card) != without_weigh_ins(card) {
            return Beginnings::new();
        }
        let pairs = self.card.weigh_ins.iter().zip(&card.weigh_ins);
        let shared = pairs.take_while(|(before, now)| before.1 == now.1).count();
        self.beginnings.iter().copied().filter(|(count, _)| *count <= shared).collect()
    }

    /// The weight that the curve of the weigh-ins before one expected of it, as the scale showed weights at the one before;
    /// quickly, with the coarser of the two settings. It is kept: the screen asks for it more than once.
    pub(crate) fn expected_of(&self, weigh_in: &Id) -> Option<drying::Estimate> {
        let reading = self.reading(weigh_in)?;
        *reading.expected.get_or_init(|| self.expected(reading))
    }

    fn expected(&self, reading: &Reading) -> Option<drying::Estimate> {
        let t_h = reading.weighing.t_h;
        let mut card = self.card.clone();
        card.weigh_ins = card.weigh_ins.into_iter().take_while(|(id, _)| *id != reading.id).collect();
        card.repeats.retain(|repeat| repeat.t_h < t_h);
        let ask = |panel: &drying::Panel<'_>| drying::forecast(panel, &Settings::instant());
        let forecast = on_panel(&card, &self.wet_film, &[], ask).ok()?.ok()?;
        let before = card.weigh_ins.iter().rfind(|(_, weighing)| weighing.say != drying::Say::SetAside)?.1;
        Some(forecast.reading_at(t_h).moved(forecast.drift_at_g(before.balance, before.t_h)))
    }

    /// All that the routes to the final build are worked out from.
    pub(crate) fn known(&self) -> Known {
        known(&self.card, &self.wet_film, &self.forecast, self.gauge_um)
    }

    /// To what share one more dab would narrow the wet film; 1 where there is none.
    pub(crate) fn dab_share(&self) -> f64 {
        *self.dab_share.get_or_init(|| {
            let dabs: Vec<_> = self.card.dabs.iter().filter_map(|dab| dab.ok()).collect();
            another_reading(&dabs, &CombPrior::default()).unwrap_or(1.0)
        })
    }

    /// How likely each way to weigh on is to tell whether the weight is steady, one weighing a day first, and alone where the very
    /// next is likely to; empty where it is known. It takes about as long as a forecast.
    pub(crate) fn outlooks(&self) -> &[Outlook] {
        self.outlooks.get_or_init(|| {
            let Ok(forecast) = &self.forecast else { return Vec::new() };
            let [once, others @ ..] = forecast.usual_ways();
            let mut told = forecast.what_would_tell(&[once]);
            if told.iter().any(|once| once.even_days != Some(1.0)) {
                told.extend(forecast.what_would_tell(&others));
            }
            told
        })
    }

    /// Works them out unless they are; says whether it did.
    pub(crate) fn look_ahead(&self) -> bool {
        let waited = self.outlooks.get().is_none();
        self.outlooks();
        waited
    }

    /// The readings that count, as the forecast sees them where there is one.
    pub fn kept(&self) -> impl DoubleEndedIterator<Item = &Reading> {
        self.readings.iter().filter(|reading| reading.counts())
    }

    /// The newest of them.
    pub fn newest(&self) -> Option<&Reading> {
        self.kept().next_back()
    }

    /// What is known of a weigh-in.
    pub fn reading(&self, weigh_in: &Id) -> Option<&Reading> {
        self.readings.iter().find(|reading| reading.id == *weigh_in)
    }

    /// The wet weight.
    pub fn wet(&self) -> Result<&Reading, Reason> {
        self.readings.iter().find(|reading| reading.role == Role::Wet).ok_or(Reason::NoWetWeight)
    }

    /// Grams gone since the wet weight, the scale's drift removed.
    pub fn lost_g(&self) -> Result<f64, Reason> {
        let wet = self.wet()?;
        let last = self.newest().filter(|last| last.role == Role::Later).ok_or(Reason::NoLaterWeight)?;
        Ok(match &self.forecast {
            Ok(forecast) => forecast.lost_g,
            Err(_) => wet.weighing.gross_g - last.weighing.gross_g,
        })
    }

    /// Mass of the wet coat, g, and whether it is only estimated.
    pub fn wet_coat_g(&self) -> Result<(f64, bool), Reason> {
        let wet_g = self.wet()?.weighing.gross_g;
        match (self.card.bare_g, estimated_coat(&self.card, &self.wet_film)) {
            (Some(bare_g), _) if wet_g > bare_g => Ok((wet_g - bare_g, false)),
            (Some(_), _) => Err(Reason::NoCoat),
            (None, Some(coat_g)) => Ok((coat_g, true)),
            (None, None) => Err(Reason::NoCoatMass),
        }
    }

    /// What had left between the last coat and the first weighing, g, and how long that was, h.
    pub(crate) fn lost_before_g(&self) -> Result<(Estimate, f64), Reason> {
        let forecast = self.forecast.as_ref().map_err(Clone::clone)?;
        let before_h = forecast.wet_t_h - self.card.last_coat_h.unwrap_or(forecast.wet_t_h);
        if before_h == 0.0 {
            return Err(Reason::NoCoatTime);
        }
        let mut later_h = self.kept().map(|reading| reading.weighing.t_h - forecast.wet_t_h);
        let soon = later_h.find(|later_h| *later_h > 0.0).is_some_and(|second_h| second_h <= SECOND_WITHIN_H);
        match forecast.lost_before_g(before_h).filter(|_| soon) {
            Some(before) => Ok((estimate(before), before_h)),
            None => Err(Reason::FirstWeightsLate),
        }
    }

    /// How much heavier a panel may become by itself from one weight to the next, g: nothing, unless its primer is said to
    /// gain weight as it cures.
    pub(crate) fn may_gain_g(&self) -> f64 {
        let coat_g = || self.wet_coat_g().map_or(0.0, |(coat_g, _)| coat_g).max(self.lost_g().unwrap_or(0.0));
        if self.card.gains_mass == GainsMass::Yes { GAINED_SHARE * coat_g() } else { 0.0 }
    }

    /// Area and solvent density as the drying science takes them.
    pub fn film_scale(&self) -> Result<FilmScale, Reason> {
        film_scale(&self.card).ok_or(Reason::NoArea)
    }

    /// Film still to go after `day_h` hours from the last coat, µm.
    pub fn film_still_to_go(&self, day_h: f64) -> Result<Estimate, Reason> {
        let forecast = self.forecast.as_ref().map_err(Clone::clone)?;
        let scale = self.film_scale()?;
        let t_h = self.card.last_coat_h.unwrap_or(forecast.wet_t_h) + day_h;
        let still = forecast.shrinkage_to_come(t_h, &scale).map_err(|_| Reason::NoArea)?;
        possible(estimate(still))
    }

    /// Grams still to go after `day_h` hours from the last coat, as the forecast believes.
    pub fn still_to_go_g(&self, day_h: f64) -> Result<Distribution, Reason> {
        let forecast = self.forecast.as_ref().map_err(Clone::clone)?;
        let t_h = self.card.last_coat_h.unwrap_or(forecast.wet_t_h) + day_h;
        let (points, beside_sd) = forecast.still_to_lose_points_g(t_h);
        Ok(Distribution::new(points, beside_sd)?)
    }

    /// Grams lost from the wet weight to the end, as the forecast believes.
    pub fn final_loss_g(&self) -> Result<Distribution, Reason> {
        let forecast = self.forecast.as_ref().map_err(Clone::clone)?;
        let points = forecast.final_gross_points_g().into_iter();
        let lost = points.map(|(gross_g, weight)| (forecast.wet_gross_g - gross_g, weight)).collect();
        let drift = forecast.noise.drift_sd_g;
        Ok(Distribution::new(lost, drift)?)
    }

    /// Age of the newest kept weighing, h after the last coat.
    pub fn age_h(&self) -> Option<f64> {
        Some(self.newest()?.weighing.t_h - self.card.last_coat_h?)
    }
}

/// The thickest film there is, µm: that of a field.
const THICKEST_UM: f64 = <quantity::Micrometres as quantity::Quantity>::HIGH;

/// A film that somebody could have; where it is none, the numbers behind it cannot be right.
pub(crate) fn possible(film: Estimate) -> Result<Estimate, Reason> {
    let all = [film.low, film.mid, film.high];
    if all.iter().all(|um| um.abs() <= THICKEST_UM) { Ok(film) } else { Err(Reason::NoSuchFilm) }
}

/// The drying science's estimate with its mean in the middle.
pub(crate) fn estimate(of: drying::Estimate) -> Estimate {
    Estimate { low: of.low, mid: of.mean, high: of.high }
}

fn wet_film_of(card: &PanelCard) -> Result<WetFilm, Reason> {
    if card.dabs.is_empty() {
        return Err(Reason::NoDabs);
    }
    let readable: Vec<_> = card.dabs.iter().filter_map(|dab| dab.ok()).collect();
    match card.dabs.iter().find_map(|dab| dab.as_ref().err()) {
        // One dab that contradicts its comb does not take the others with it.
        Some(trouble) if readable.is_empty() => Err(Reason::Comb(*trouble)),
        _ => wet_film(&readable, &CombPrior::default()).map_err(Reason::Comb),
    }
}

fn film_scale(card: &PanelCard) -> Option<FilmScale> {
    let (area, density) = (card.area_cm2?, card.solvent_density);
    Some(FilmScale {
        area_cm2: area.value,
        u_area_cm2: area.u,
        solvent_density: density.value,
        u_solvent_density: density.u,
    })
}

/// Coat mass by comb and density, g: what stands in for a bare weight that nobody took.
fn estimated_coat(card: &PanelCard, wet_film: &Result<WetFilm, Reason>) -> Option<f64> {
    let (film, area, density) = (wet_film.as_ref().ok()?, card.area_cm2?, card.sheet.density_sprayed?);
    Some(film.mean_um * area.value * density.value / 1e4)
}

fn forecast_of(
    card: &PanelCard,
    wet_film: &Result<WetFilm, Reason>,
    older: &[Elder<'_>],
    beginnings: &mut Beginnings,
) -> Result<Forecast, Reason> {
    let older: Vec<_> = older
        .iter()
        .filter_map(|(by_h, work)| Some(drying::Older { by_h: *by_h, forecast: work.forecast.as_ref().ok()? }))
        .collect();
    let ask = |panel: &drying::Panel<'_>| forecast_knowing(panel, &Settings::shown(), &Settings::instant(), beginnings);
    let forecast = on_panel(card, wet_film, &older, ask)?;
    forecast.map_err(Reason::Drying)
}

/// Asks the drying science about the panel of a card.
fn on_panel<T>(
    card: &PanelCard,
    wet_film: &Result<WetFilm, Reason>,
    older: &[drying::Older<'_>],
    ask: impl FnOnce(&drying::Panel<'_>) -> T,
) -> Result<T, Reason> {
    let balance = card.balance()?;
    let weighings = card.weighings();
    let solids = card.sheet.sprayed_solids.filter(|_| card.bare_g.is_some());
    let panel = drying::Panel {
        moves: &card.moves,
        coats: card.coats,
        film: film_scale(card),
        estimated_coat_g: estimated_coat(card, wet_film),
        // Without a bare weight solids say nothing of the weight.
        sheet_solids: solids.map(|solids| solids.0),
        solids_sd: solids.map_or(drying::SHEET_SD, |solids| solids.1),
        gains_mass: card.gains_mass,
        certainty: card.certainty,
        older,
        ..drying::Panel::new(&balance, card.bare_g, &weighings)
    };
    Ok(ask(&panel))
}

fn gauge(card: &PanelCard) -> Option<Measured> {
    let base = base_metal(&card.base_metal_um).ok();
    Some(dry_film(&card.spots_um, card.gauge_u_um, base.as_ref()).ok()?.film_um)
}

fn known(
    card: &PanelCard,
    wet_film: &Result<WetFilm, Reason>,
    forecast: &Result<Forecast, Reason>,
    gauge_um: Option<Measured>,
) -> Known {
    // Masses mean nothing for a film without the area they lie on: without it the routes that need them are left out,
    // and the stand-in is never looked at.
    let area = card.area_cm2;
    let forecast = forecast.as_ref().ok().filter(|_| area.is_some());
    let sheet = &card.sheet;
    let by_sheet = || {
        let (density, weight_solids) = (sheet.density?, sheet.solids_by_weight?);
        sheet.solids_by_volume.map(|_| DryDensity::Sheet { density, weight_solids })
    };
    let by_dish = || sheet.measured.map(|(density, weight_solids)| DryDensity::Balance { density, weight_solids });
    let dry_density = sheet.dry_density.map(DryDensity::Known).or_else(by_dish).or_else(by_sheet);
    let reading_u = forecast.map_or(0.0, |forecast| forecast.noise.reading_sd_g);
    Known {
        wet: wet_film.as_ref().ok().map(Wet::from),
        wet_mass_g: forecast.map(|forecast| Measured::new(forecast.wet_gross_g, reading_u)),
        final_mass_g: forecast.and_then(|forecast| {
            let points = forecast.final_gross_points_g();
            Distribution::new(points, forecast.noise.drift_sd_g).ok()
        }),
        bare_mass_g: card.bare_g.filter(|_| area.is_some()).map(|bare_g| Measured::new(bare_g, reading_u)),
        area_cm2: area.unwrap_or(Measured::exact(1.0)),
        solvent_density: card.solvent_density,
        volume_solids: sheet.solids_by_volume,
        thinning: Measured::exact(sheet.thinning),
        dry_density,
        gauge_um,
        sheet_is_lower_bound: card.coats > 1,
    }
}

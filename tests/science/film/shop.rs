//! A simulated spray shop: panels with a known truth, seen through comb, scale and data sheet. Invented; only the errors
//! that the science claims to know are in it, each drawn from the distribution that is stated for it.

use comb_scale::science::comb::{CombPrior, CombReading, Interval, Teeth, wet_film};
use comb_scale::science::routes::{DryDensity, Known, SOLVENT_DENSITY, Wet};
use comb_scale::science::{Distribution, Measured};

/// SplitMix64, so that the same seed gives the same shop everywhere.
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Uniform on (0, 1).
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64 + 0.5 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Standard normal (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (2.0 * std::f64::consts::PI * self.uniform()).cos()
    }
}

/// The comb of the shop, with the one error that all its readings share.
pub struct Comb {
    teeth: Teeth,
    um: Vec<f64>,
    reads: f64,
}

impl Comb {
    pub fn draw(chance: &mut Chance) -> Self {
        let fine = (1..=12).map(|i| 25.0 * f64::from(i));
        let coarse = (1..=12).map(|i| 300.0 + 50.0 * f64::from(i));
        let um: Vec<f64> = fine.chain(coarse).collect();
        let teeth = Teeth::new(um.clone()).expect("teeth rise");
        Self { teeth, um, reads: 1.0 + CombPrior::default().bias * chance.normal() }
    }

    /// What a dab says where the film is so thick.
    pub fn dab(&self, film_um: f64) -> Interval {
        let wetted_um = self.um.iter().copied().filter(|tooth| *tooth < film_um * self.reads).fold(0.0, f64::max);
        self.teeth.interval(&CombReading { wetted_um, touched_um: None, dry_um: None }).expect("a tooth of the comb")
    }
}

/// A candidate: what is true of it, and what its sheet says.
pub struct Candidate {
    solvent_density: f64,
    dry_density: f64,
    /// Solids by volume of what leaves the gun.
    solids: f64,
    sheet_solids: Measured,
    stated_dry_density: Measured,
    coats: usize,
    /// Share of the solvent that leaves between one coat and the next.
    flash: f64,
    /// Wet film of a coat that the painter aims at, µm.
    coat_um: f64,
    /// How the forecast of this candidate errs, in its own standard deviations: shared by all its panels.
    forecast_error: f64,
}

impl Candidate {
    pub fn draw(chance: &mut Chance, coats: usize) -> Self {
        let solids = chance.between(0.35, 0.6);
        let dry_density = chance.between(1.6, 2.2);
        Self {
            solvent_density: SOLVENT_DENSITY.value + SOLVENT_DENSITY.u * chance.normal(),
            dry_density,
            solids,
            sheet_solids: Measured::new(solids + 0.02 * chance.normal(), 0.02),
            stated_dry_density: Measured::new(dry_density + 0.06 * chance.normal(), 0.06),
            coats,
            flash: chance.between(0.05, 0.4),
            coat_um: chance.between(120.0, 240.0) / coats as f64 * (1.0 + 0.3 * (coats as f64 - 1.0)),
            forecast_error: chance.normal(),
        }
    }

    /// Final build of the average panel, µm.
    pub fn build_um(&self) -> f64 {
        self.coat_um * self.coats as f64 * self.solids
    }
}

/// A panel as the worksheet knows it, and the dry film it will really have, µm.
pub struct Panel {
    /// Once for each forecast asked for.
    pub known: Vec<Known>,
    pub build_um: f64,
}

/// Sprays one panel: coat on coat, solvent leaving between them; then dabs, wet weight and forecasts of the final weight,
/// log-normal in what is still to go, one for each spread in `unsettled`.
pub fn spray(chance: &mut Chance, candidate: &Candidate, comb: &Comb, unsettled: &[f64]) -> Panel {
    const AREA: f64 = 600.0;
    const SCALE_U: f64 = 0.03;
    let area = AREA * (1.0 + 0.01 * chance.normal());
    // Solids and solvent standing on the panel, as µm.
    let (mut solids_um, mut solvent_um) = (0.0, 0.0);
    let hand = 1.0 + 0.04 * chance.normal();
    for _ in 0..candidate.coats {
        solvent_um *= 1.0 - candidate.flash;
        solids_um += candidate.coat_um * hand * candidate.solids;
        solvent_um += candidate.coat_um * hand * (1.0 - candidate.solids);
    }
    let film_um = solids_um + solvent_um;
    let spread = 0.06 * (0.5 * chance.normal()).exp();
    let dabs = 3 + (3.0 * chance.uniform()) as usize;
    let intervals: Vec<_> = (0..dabs).map(|_| comb.dab(film_um * (1.0 + spread * chance.normal()))).collect();
    let wet = wet_film(&intervals, &CombPrior::default()).expect("the comb is long enough");

    let bare_g = 400.0;
    let solids_g = 1e-4 * solids_um * candidate.dry_density * area;
    let solvent_g = 1e-4 * solvent_um * candidate.solvent_density * area;
    // What is still to go when the forecast is made; the forecast is off by its own spread times the candidate's error.
    let still_g = solvent_g * 0.1;
    let weighed_now = bare_g + solids_g + still_g + SCALE_U * chance.normal();
    let forecast = |spread: f64| {
        let median = still_g * (-spread * candidate.forecast_error).exp();
        let nodes = (-40..=40).map(|i| {
            let z = 0.1 * f64::from(i);
            (weighed_now - median * (spread * z).exp(), (-0.5 * z * z).exp())
        });
        Distribution::new(nodes.collect(), SCALE_U).expect("nodes")
    };
    let reading = |g: f64, chance: &mut Chance| Measured::new(g + SCALE_U * chance.normal(), SCALE_U);
    let known = Known {
        wet: Some(Wet::from(&wet)),
        wet_mass_g: Some(reading(bare_g + solids_g + solvent_g, chance)),
        final_mass_g: None,
        bare_mass_g: Some(reading(bare_g, chance)),
        area_cm2: Measured::new(AREA, 0.01 * AREA),
        solvent_density: SOLVENT_DENSITY,
        volume_solids: Some(candidate.sheet_solids),
        thinning: Measured::exact(0.0),
        dry_density: Some(DryDensity::Known(candidate.stated_dry_density)),
        gauge_um: None,
        sheet_is_lower_bound: candidate.coats > 1,
    };
    let with = |spread: &f64| Known { final_mass_g: Some(forecast(*spread)), ..known.clone() };
    Panel { known: unsettled.iter().map(with).collect(), build_um: solids_um }
}

//! A cup against its recipe.
//!
//! Nothing is taken out of a cup. The component that is furthest ahead sets the size of the mix, and the others follow: those
//! still to come get new totals, and one that is already in is topped up once it falls short by more than [`NEAR`].

use super::amount::{NoAmount, amount_of};
use crate::facts::{cup_in_progress, step_or_usual_g};
use crate::work::recipe::MixCard;
use quantity::Quantity;
use record::{Candidate, SprayTest};
use science::mix;
use science::mix::MixError;

/// A component is in once it is this near its target, as a share of it, or within a step of the scale (design choice).
pub(crate) const NEAR: f64 = 0.01;

/// Fewer steps of the scale than this are not poured by hand: what is wanting is not asked for (design choice) …
const STEPS: f64 = 4.0;

/// … unless it is this share of its component, which a ratio has to be mended for however coarse the scale (design choice).
const MENDED: f64 = 0.02;

/// A cup against its recipe, g.
pub(crate) struct Batch {
    pub(crate) mix: MixCard,
    pub(crate) shares: Vec<f64>,
    pub(crate) division_g: f64,
    pub(crate) aim_g: f64,
    pub(crate) poured_g: Vec<f64>,
    /// How many components have a reading.
    pub(crate) entered: usize,
    /// The whole mix, grown by what went over.
    pub(crate) total_g: f64,
    /// What is still to be added: of which component, how much.
    pub(crate) wanting: Vec<(usize, f64)>,
}

impl Batch {
    pub(crate) fn of(test: &SprayTest, candidate: &Candidate) -> Result<Self, NoAmount> {
        let mix = MixCard::of(candidate)?;
        let shares = mix.shares(mix::Basis::Weight)?;
        let cup = cup_in_progress(test, &candidate.id);
        let aim = cup.and_then(|cup| cup.aim_g).map(Quantity::get).filter(|grams| *grams > 0.0);
        let by_plan = || amount_of(test, candidate, &mix).map(|amount| amount.grams);
        let aim_g = aim.map_or_else(by_plan, Ok)?;
        let mut poured_g: Vec<f64> = cup.map(|cup| cup.poured_g.iter().map(|g| g.get()).collect()).unwrap_or_default();
        poured_g.truncate(shares.len());
        let entered = poured_g.len();
        poured_g.resize(shares.len(), 0.0);
        let division_g = step_or_usual_g(test);
        let cup = Self { mix, shares, division_g, aim_g, poured_g, entered, total_g: 0.0, wanting: Vec::new() };
        let total_g = cup.total_with(&cup.poured_g).map_err(|error| cup.mix.wants(error))?;
        let needs = cup.mix.recipe.pour(mix::Amount::Grams(total_g));
        let needs = needs.map_err(|error| cup.mix.wants(error))?;
        let wanting = (needs.grams.iter().zip(&cup.poured_g).enumerate())
            .map(|(i, (need, poured))| (i, need - poured, cup.near(*need)))
            .filter(|(i, short, near)| *i >= entered && *short > 0.0 || *short > *near)
            .map(|(i, short, _)| (i, short))
            .collect();
        Ok(Self { total_g, wanting, ..cup })
    }

    /// How far a component may be off what it should be, g.
    fn near(&self, grams: f64) -> f64 {
        let by_hand = (STEPS * self.division_g).min(MENDED * grams);
        (NEAR * grams).max(self.division_g).max(by_hand)
    }

    /// The whole mix that so much of each component asks for, g. Once what is in is in proportion and near what was aimed
    /// at, the rest follows what is in, not the aim.
    fn total_with(&self, poured_g: &[f64]) -> Result<f64, MixError> {
        let whole_g = self.mix.recipe.corrected(poured_g, 0.0)?.total_g;
        let near = |share: f64, poured: f64| whole_g * share - poured <= self.near(whole_g * share);
        let mut entered = self.shares.iter().zip(poured_g).filter(|(_, poured)| **poured > 0.0).peekable();
        let begun = entered.peek().is_some();
        let in_proportion = entered.all(|(share, poured)| near(*share, *poured));
        let reached = (self.aim_g - whole_g) * self.shares[0] <= self.near(self.aim_g * self.shares[0]);
        Ok(if begun && in_proportion && reached { whole_g } else { self.aim_g.max(whole_g) })
    }

    pub(crate) fn on_scale_g(&self) -> f64 {
        self.poured_g.iter().sum()
    }

    /// What will be in the cup in the end.
    pub(crate) fn whole_g(&self) -> f64 {
        self.on_scale_g() + self.wanting.iter().map(|(_, short)| short).sum::<f64>()
    }

    /// The component that is furthest ahead, and by how much it is over what was asked of it beside the others, g.
    pub(crate) fn over(&self) -> Option<(usize, f64)> {
        let ahead = |i: &usize| self.poured_g[*i] / self.shares[*i];
        let worst = (0..self.poured_g.len()).max_by(|a, b| ahead(a).total_cmp(&ahead(b)))?;
        let mut others_g = self.poured_g.clone();
        others_g[worst] = 0.0;
        let asked = self.total_with(&others_g).ok()? * self.shares[worst];
        // As it stood on the screen: to a step of the scale.
        let before: f64 = others_g.iter().sum();
        let shown = ((before + asked) / self.division_g).round() * self.division_g - before;
        let over = self.poured_g[worst] - shown;
        (over > self.near(asked) * (1.0 + 1e-9)).then_some((worst, over))
    }

    pub(crate) fn label(&self, component: usize) -> &str {
        &self.mix.parts[component].label
    }
}

//! The pour on the scale: what it is to show after each component, and how a slip is mended.
//!
//! Nothing is taken out of a cup. The component that is furthest ahead sets the size of the mix, and the others follow: those
//! still to come get new totals, and one that is already in is topped up once it falls short by more than [`NEAR`].

use super::amount::{NoAmount, amount_of, volume};
use super::recipe::MixCard;
use crate::tongue::{Tongue, plain};
use quantity::{Grams, Instant, Quantity, Unit, decimals_for, figure};
use record::{Action, Candidate, Id, Mixed, Row, Slot, SprayTest};
use science::mix::{self, MixError, Pour};

/// A component is in once it is this near its target, as a share of it, or within a step of the scale (design choice).
const NEAR: f64 = 0.01;

/// Fewer steps of the scale than this are not poured by hand: what is wanting is not asked for (design choice) …
const STEPS: f64 = 4.0;

/// … unless it is this share of its component, which a ratio has to be mended for however coarse the scale (design choice).
const MENDED: f64 = 0.02;

/// Division taken where no scale is noted, g.
const DIVISION_G: f64 = 0.1;

/// A reading above so many times the whole mix is a slip, or a cup that was not tared.
const SLIP: f64 = 2.0;

/// One addition to the cup.
#[derive(Clone, Debug, PartialEq)]
pub struct PourStep {
    /// Of what.
    pub label: String,
    /// How much of it is to be added, with its unit.
    pub add: String,
    /// What the scale shows then, without the unit.
    pub total: String,
    /// The unit of both.
    pub unit: &'static str,
    /// What one step of the scale means for it.
    pub step: String,
}

/// A cup as it stands: what is in, and what is still to be poured.
#[derive(Clone, Debug, PartialEq)]
pub struct Pouring {
    /// What comes next, in a sentence.
    pub said: String,
    /// Whether the sentence tells of an over-pour.
    pub over: bool,
    /// What is still to be poured, in order.
    pub steps: Vec<PourStep>,
    /// What is in, one line a component.
    pub poured: Vec<String>,
    /// The mix when all is in.
    pub whole: String,
    /// What to know of the scale.
    pub notes: Vec<String>,
    /// Whether a cup was begun, and whether all is in it.
    pub begun: bool,
    /// All is in.
    pub done: bool,
}

/// The newest cup of a candidate that is still being poured.
pub fn cup_in_progress<'a>(test: &'a SprayTest, candidate: &Id) -> Option<&'a Mixed> {
    let own = test.mixes.kept().filter(|cup| cup.candidate.as_ref() == Some(candidate) && cup.at.is_none());
    own.max_by(|a, b| a.stamp.cmp(&b.stamp))
}

/// A cup against its recipe, g.
struct Batch {
    mix: MixCard,
    shares: Vec<f64>,
    division_g: f64,
    aim_g: f64,
    poured_g: Vec<f64>,
    /// How many components have a reading.
    entered: usize,
    /// The whole mix, grown by what went over.
    total_g: f64,
    /// What is still to be added: of which component, how much.
    wanting: Vec<(usize, f64)>,
}

impl Batch {
    fn of(test: &SprayTest, candidate: &Candidate) -> Result<Self, String> {
        let mix = MixCard::of(candidate).map_err(|wants| wants.to_string())?;
        let shares = mix.shares(mix::Basis::Weight).map_err(|wants| wants.to_string())?;
        let cup = cup_in_progress(test, &candidate.id);
        let aim = cup.and_then(|cup| cup.aim_g).map(Quantity::get).filter(|grams| *grams > 0.0);
        let by_plan = || amount_of(test, candidate, &mix).map(|amount| amount.grams);
        let aim_g = aim.map_or_else(by_plan, Ok).map_err(|trouble: NoAmount| trouble.to_string())?;
        let mut poured_g: Vec<f64> = cup.map(|cup| cup.poured_g.iter().map(|g| g.get()).collect()).unwrap_or_default();
        poured_g.truncate(shares.len());
        let entered = poured_g.len();
        poured_g.resize(shares.len(), 0.0);
        let division = test.balances.kept().find_map(|balance| balance.division_g).map(Quantity::get);
        let division_g = division.unwrap_or(DIVISION_G);
        let cup = Self { mix, shares, division_g, aim_g, poured_g, entered, total_g: 0.0, wanting: Vec::new() };
        let total_g = cup.total_with(&cup.poured_g).map_err(|error| cup.mix.wants(error).to_string())?;
        let needs = cup.mix.recipe.pour(mix::Amount::Grams(total_g));
        let needs = needs.map_err(|error| cup.mix.wants(error).to_string())?;
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

    fn on_scale_g(&self) -> f64 {
        self.poured_g.iter().sum()
    }

    /// What will be in the cup in the end.
    fn whole_g(&self) -> f64 {
        self.on_scale_g() + self.wanting.iter().map(|(_, short)| short).sum::<f64>()
    }

    /// The component that is furthest ahead, and by how much it is over what was asked of it beside the others, g.
    fn over(&self) -> Option<(usize, f64)> {
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

    fn label(&self, component: usize) -> &str {
        &self.mix.parts[component].label
    }

    fn steps(&self, tongue: &Tongue) -> (Vec<PourStep>, bool) {
        let grams: Vec<f64> = self.wanting.iter().map(|(_, short)| *short).collect();
        let mut total = self.on_scale_g();
        let cumulative_g = grams.iter().map(|add| {
            total += add;
            total
        });
        let pour = Pour { cumulative_g: cumulative_g.collect(), grams, millilitres: None, total_g: self.total_g };
        let Ok(targets) = pour.on_scale(self.division_g) else { return (Vec::new(), false) };
        let unit = tongue.units.mass.symbol();
        let step = |(&(i, short), total): (&(usize, f64), &f64)| PourStep {
            label: self.label(i).to_owned(),
            add: tongue.weight(short, self.division_g),
            total: tongue.bare_weight(*total, self.division_g),
            unit,
            // Of all of the component, what is in the cup already with it.
            step: format!("one step is {} %", percent(self.division_g / (self.poured_g[i] + short))),
        };
        let steps = self.wanting.iter().zip(&targets.cumulative_g).map(step).collect();
        (steps, targets.too_coarse)
    }
}

fn percent(share: f64) -> String {
    figure(100.0 * share, decimals_for(100.0 * share).min(2))
}

/// The pour of a candidate: from its recipe, or from the cup that is being poured.
///
/// # Errors
/// The sentence that says what is wanting.
pub fn pouring(test: &SprayTest, candidate: &Id, tongue: &Tongue) -> Result<Pouring, String> {
    let candidate = test.candidates.find(candidate).ok_or("That candidate is no longer there.")?;
    let batch = Batch::of(test, candidate)?;
    let (steps, too_coarse) = batch.steps(tongue);
    let weight = |grams: f64| tongue.weight(grams, batch.division_g);
    let begun = cup_in_progress(test, &candidate.id).is_some();
    let over = batch.over();
    let next = batch.wanting.first().map(|&(i, _)| batch.label(i));
    let said = match (over, next) {
        (Some((i, by)), Some(next)) => {
            let more: Vec<String> =
                batch.wanting.iter().map(|(i, g)| format!("{} {}", weight(*g), batch.label(*i))).collect();
            format!(
                "{} went {} over. Add {}, and the ratio is right again: next {next}.",
                batch.label(i),
                weight(by),
                more.join(", then ")
            )
        }
        (_, Some(next)) if batch.wanting[0].0 < batch.entered => format!("More {next} is wanting."),
        (_, Some(next)) if begun => format!("Next {next}."),
        (_, Some(next)) => format!("Tare the empty cup and leave it on: {next} first."),
        (_, None) => "All is in. Stir it well.".into(),
    };
    let whole_g = batch.whole_g();
    let whole = match batch.mix.recipe.density() {
        Err(_) => weight(whole_g),
        Ok(density) => format!("{}, {}", weight(whole_g), volume(whole_g / density, tongue)),
    };
    let planned = if (whole_g - batch.aim_g).abs() > NEAR * batch.aim_g {
        format!(" instead of {}", weight(batch.aim_g))
    } else {
        String::new()
    };
    let mut notes = Vec::new();
    if too_coarse && !begun {
        let smallest = batch
            .wanting
            .iter()
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map_or("the smallest pour", |(i, _)| batch.label(*i));
        notes.push(format!(
            "Half a step of this scale is more than {} % of {smallest}: mix more, or use a finer scale.",
            plain(100.0 * mix::COARSE)
        ));
    }
    if test.balances.kept().all(|balance| balance.division_g.is_none()) {
        notes.push(format!("No scale is noted: taken as one with steps of {}.", weight(DIVISION_G)));
    }
    let poured = (0..batch.entered).map(|i| format!("{} {}", batch.label(i), weight(batch.poured_g[i]))).collect();
    let done = batch.wanting.is_empty();
    Ok(Pouring { said, over: over.is_some() && !done, steps, poured, whole: whole + &planned, notes, begun, done })
}

/// What the recipe still wants in a cup that is being poured: `Still to go in: 52.5 g Hardener, 43.5 g Reducer.` Nothing
/// where all is in, or the cup is not poured by weight.
pub fn still_to_pour_said(test: &SprayTest, candidate: &Id, tongue: &Tongue) -> Option<String> {
    cup_in_progress(test, candidate)?;
    let batch = Batch::of(test, test.candidates.find(candidate)?).ok()?;
    let part = |(i, grams): &(usize, f64)| format!("{} {}", tongue.weight(*grams, batch.division_g), batch.label(*i));
    let parts: Vec<String> = batch.wanting.iter().map(part).collect();
    (!parts.is_empty()).then(|| format!("Still to go in: {}.", parts.join(", ")))
}

/// What to do when the scale shows `reading_g`, all that is in the tared cup: begins the cup where none is begun; `fresh` is
/// its id then.
///
/// # Errors
/// The sentence to show beside the field; nothing is to be done then.
pub fn take_reading(test: &SprayTest, candidate: &Id, reading_g: f64, fresh: Id) -> Result<Action, String> {
    let of = test.candidates.find(candidate).ok_or("That candidate is no longer there.")?;
    let batch = Batch::of(test, of)?;
    let &(component, _) = batch.wanting.first().ok_or("All is in already. Begin another cup for more.")?;
    let before = batch.on_scale_g();
    if reading_g <= before {
        return Err(if before > 0.0 {
            "The scale shows no more than before: type what is in the cup in all, and do not tare in between.".into()
        } else {
            "That is nothing: type what the scale shows.".into()
        });
    }
    if reading_g > SLIP * batch.total_g {
        return Err("That is more than twice the whole mix: look at the scale again. Was the empty cup tared?".into());
    }
    let mut poured_g = batch.poured_g.clone();
    // Differences of typed decimals, brought back to decimals.
    poured_g[component] = ((poured_g[component] + reading_g - before) * 1e6).round() / 1e6;
    poured_g.truncate(batch.entered.max(component + 1));
    if let Some(cup) = cup_in_progress(test, candidate) {
        return Ok(Action::List(Row::Poured(cup.id.clone()), poured_g));
    }
    let grams = |g: f64| Grams::new(g).map_err(|trouble| format!("The mix {trouble}."));
    let (aim_g, poured_g) = (Some(grams(batch.aim_g)?), poured_g.into_iter().map(grams).collect::<Result<_, _>>()?);
    Ok(Action::Pour { cup: fresh, candidate: candidate.clone(), aim_g, poured_g })
}

/// Where the first component came out short because there is no more of it: makes the mix as small as that. `None` where
/// that would not help.
pub fn smaller_cup(test: &SprayTest, candidate: &Id) -> Option<Action> {
    let cup = cup_in_progress(test, candidate)?;
    let batch = Batch::of(test, test.candidates.find(candidate)?).ok()?;
    let short = batch.entered == 1 && batch.wanting.first()?.0 == 0;
    short.then(|| Action::Fill(Slot::Aim(cup.id.clone()), Some(batch.poured_g[0] / batch.shares[0])))
}

/// The cups of a candidate that came together, each in a line with how far off the recipe it is.
pub fn cups_said(test: &SprayTest, candidate: &Id, tongue: &Tongue) -> Vec<String> {
    let mix = test.candidates.find(candidate).and_then(|candidate| MixCard::of(candidate).ok());
    let own = test.mixes.kept().filter(|cup| cup.candidate.as_ref() == Some(candidate));
    let cups = own.filter_map(|cup| Some((cup.at?, cup)));
    let division_g = tongue.division_g.unwrap_or(DIVISION_G);
    let said = |(at, cup): (Instant, &Mixed)| {
        let grams: Vec<f64> = cup.poured_g.iter().map(|g| g.get()).collect();
        if grams.is_empty() {
            return format!("Mixed {}, not weighed", at.said());
        }
        let off = mix.as_ref().and_then(|mix| Some((mix, mix.recipe.off(&grams).ok()?)));
        let worst = off.and_then(|(mix, off)| {
            let (i, off) = off.into_iter().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
            (off.abs() > NEAR).then(|| {
                let way = if off > 0.0 { "over" } else { "short" };
                format!(", {} {} % {way}", mix.parts[i].label, percent(off.abs()))
            })
        });
        let whole = tongue.weight(grams.iter().sum(), division_g);
        format!("Mixed {}: {whole}{}", at.said(), worst.unwrap_or_else(|| ", as the recipe says".into()))
    };
    cups.map(said).collect()
}

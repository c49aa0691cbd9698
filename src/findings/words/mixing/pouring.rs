//! The pour on the scale: what it is to show after each component, and how a slip is mended.
//!
//! Nothing is taken out of a cup. The component that is furthest ahead sets the size of the mix, and the others follow: those
//! still to come get new totals, and one that is already in is topped up once it falls short by more than [`NEAR`].

use super::amount::volume;
use crate::facts::{USUAL_STEP_G, cup_in_progress, step_g, step_or_usual_g};
use crate::words::wording::Wording;
use crate::work::{Batch, MixCard, NEAR};
use quantity::{Grams, Instant, Quantity, Unit, decimals_for, figure, plain};
use record::{Action, Id, Mixed, Row, Slot, SprayTest};
use science::mix;
use science::mix::Pour;

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

impl Batch {
    fn steps(&self, wording: &Wording) -> (Vec<PourStep>, bool) {
        let grams: Vec<f64> = self.wanting.iter().map(|(_, short)| *short).collect();
        let mut total = self.on_scale_g();
        let cumulative_g = grams.iter().map(|add| {
            total += add;
            total
        });
        let pour = Pour { cumulative_g: cumulative_g.collect(), grams, millilitres: None, total_g: self.total_g };
        let Ok(targets) = pour.on_scale(self.division_g) else { return (Vec::new(), false) };
        let unit = wording.units.mass.symbol();
        let step = |(&(i, short), total): (&(usize, f64), &f64)| PourStep {
            label: self.label(i).to_owned(),
            add: wording.weight(short, self.division_g),
            total: wording.bare_weight(*total, self.division_g),
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
pub fn pouring(test: &SprayTest, candidate: &Id, wording: &Wording) -> Result<Pouring, String> {
    let candidate = test.candidates.find(candidate).ok_or("That candidate is no longer there.")?;
    let batch = Batch::of(test, candidate).map_err(|trouble| trouble.said(wording))?;
    let (steps, too_coarse) = batch.steps(wording);
    let weight = |grams: f64| wording.weight(grams, batch.division_g);
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
        Ok(density) => format!("{}, {}", weight(whole_g), volume(whole_g / density, wording)),
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
    if step_g(test).is_none() {
        notes.push(format!("No scale is noted: taken as one with steps of {}.", weight(USUAL_STEP_G)));
    }
    let poured = (0..batch.entered).map(|i| format!("{} {}", batch.label(i), weight(batch.poured_g[i]))).collect();
    let done = batch.wanting.is_empty();
    Ok(Pouring { said, over: over.is_some() && !done, steps, poured, whole: whole + &planned, notes, begun, done })
}

/// What the recipe still wants in a cup that is being poured: `Still to go in: 52.5 g Hardener, 43.5 g Reducer.` Nothing
/// where all is in, or the cup is not poured by weight.
pub fn still_to_pour_said(test: &SprayTest, candidate: &Id, wording: &Wording) -> Option<String> {
    cup_in_progress(test, candidate)?;
    let batch = Batch::of(test, test.candidates.find(candidate)?).ok()?;
    let part = |(i, grams): &(usize, f64)| format!("{} {}", wording.weight(*grams, batch.division_g), batch.label(*i));
    let parts: Vec<String> = batch.wanting.iter().map(part).collect();
    (!parts.is_empty()).then(|| format!("Still to go in: {}.", parts.join(", ")))
}

/// What to do when the scale shows `reading_g`, all that is in the tared cup: begins the cup where none is begun; `fresh` is
/// its id then.
///
/// # Errors
/// The sentence to show beside the field; nothing is to be done then.
pub fn take_reading(
    test: &SprayTest,
    candidate: &Id,
    reading_g: f64,
    fresh: Id,
    wording: &Wording,
) -> Result<Action, String> {
    let of = test.candidates.find(candidate).ok_or("That candidate is no longer there.")?;
    let batch = Batch::of(test, of).map_err(|trouble| trouble.said(wording))?;
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
pub fn cups_said(test: &SprayTest, candidate: &Id, wording: &Wording) -> Vec<String> {
    let mix = test.candidates.find(candidate).and_then(|candidate| MixCard::of(candidate).ok());
    let own = test.mixes.kept().filter(|cup| cup.candidate.as_ref() == Some(candidate));
    let cups = own.filter_map(|cup| Some((cup.at?, cup)));
    let division_g = step_or_usual_g(test);
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
        let whole = wording.weight(grams.iter().sum(), division_g);
        format!("Mixed {}: {whole}{}", at.said(), worst.unwrap_or_else(|| ", as the recipe says".into()))
    };
    cups.map(said).collect()
}

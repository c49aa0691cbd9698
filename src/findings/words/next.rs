//! What to do next: the one thing that narrows the answer most, then what is missing.
//!
//! All is compared by one measure: to what share of itself the 95 % interval of a candidate's mean final build is expected to
//! narrow; of its shrinkage to come after sanding where no build can be told yet.

use super::telling::blank_first_said;
use super::wording::Wording;
use crate::facts::{blanks_in_test, clock_h, open_dues};
use crate::told::{BlankFirst, CandidateFindings, FlagKind, PanelFindings, Settled};
use crate::work::{By, MeansOfAll, shared_as, value};
use quantity::Instant;
use record::{Id, SprayTest};
use science::compare::PanelValue;
use science::gain;
use science::gain::{Action, Gain, NoGain, Offer, of_builds};
use science::routes::{Input, Known};

/// How far ahead the next weigh-in is taken to be where the schedule has none, h.
const AHEAD_H: f64 = 48.0;

/// A dry density worth giving is known to this share of itself (design choice).
const DENSITY_U: f64 = 0.03;

/// A film is hard enough for a probe when its weight is steady, or after so long, h (design choice; the thumbnail decides).
const HARD_H: f64 = 168.0;

/// What to do next, the most useful first.
pub(crate) fn what_next(
    test: &SprayTest,
    candidates: &[CandidateFindings],
    panels: &[PanelFindings],
    kept: &mut MeansOfAll,
    now: Instant,
    wording: &Wording,
) -> Vec<String> {
    let mut next: Vec<String> = most_useful(test, candidates, panels, kept, now, wording).into_iter().collect();
    next.extend(BlankFirst::of(panels).map(|blank| blank_first_said(&blank, wording)));
    next.extend(missing(test, candidates, panels));
    next
}

/// An action for one candidate, with what it would do.
struct Step<'a> {
    gain: Gain,
    of: &'a CandidateFindings,
    by: By,
}

impl Step<'_> {
    fn share(&self) -> f64 {
        self.gain.then / self.gain.now
    }
}

/// The action that narrows a candidate's answer most.
fn most_useful(
    test: &SprayTest,
    candidates: &[CandidateFindings],
    panels: &[PanelFindings],
    kept: &mut MeansOfAll,
    now: Instant,
    wording: &Wording,
) -> Option<String> {
    let at = weigh_at(test, now);
    let mut best: Option<Step<'_>> = None;
    for of in candidates {
        let own: Vec<&PanelFindings> = panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&of.id)).collect();
        let by = if of.mean(By::FinalBuild).mean.is_some() { By::FinalBuild } else { By::FilmStillToGo };
        // An answer that cannot be has no width to narrow.
        if of.mean(by).mean.is_none() {
            continue;
        }
        let at_h = clock_h(at);
        let known = kept.get(&of.id).and_then(|known| known.gains.clone()).filter(|known| known.0 == at_h);
        let told = known.map_or_else(|| gains(by, &of.id, &own, at_h), |known| known.1);
        if let Some(known) = kept.get_mut(&of.id) {
            known.gains = Some((at_h, told.clone()));
        }
        for gain in told {
            let step = Step { gain, of, by };
            if best.as_ref().is_none_or(|known| step.share() < known.share()) {
                best = Some(step);
            }
        }
    }
    let step = best?;
    let own: Vec<&PanelFindings> = panels.iter().filter(|p| p.candidate.as_ref() == Some(&step.of.id)).collect();
    Some(in_words(&step, &own, at, wording))
}

/// When the panels are next weighed: when the schedule says, else in two days.
fn weigh_at(test: &SprayTest, now: Instant) -> Instant {
    // To the full hour: what is worked out for it can then be kept while the minutes pass.
    let in_two_days = || now.plus_hours(AHEAD_H - clock_h(now).rem_euclid(1.0));
    open_dues(test).into_iter().find(|at| *at > now).unwrap_or_else(in_two_days)
}

/// What each action would do for one candidate.
fn gains(by: By, candidate: &Id, own: &[&PanelFindings], t_h: f64) -> Vec<Gain> {
    let weigh: Vec<f64> = own.iter().map(|panel| weigh_share(panel, t_h)).collect();
    let weighing_helps = weigh.iter().any(|share| *share < 1.0);
    if by == By::FilmStillToGo {
        let values: Vec<Option<PanelValue>> = own.iter().map(|p| value(by, candidate, &p.work).ok()).collect();
        let shares: Vec<f64> = values.iter().zip(&weigh).filter(|(v, _)| v.is_some()).map(|(_, w)| *w).collect();
        let values: Vec<PanelValue> = values.into_iter().flatten().collect();
        let told = [gain::weigh_in(&values, &shares), gain::another_panel(&values)];
        return told.into_iter().filter_map(Result::ok).collect();
    }
    let known: Vec<Known> = own.iter().map(|panel| panel.work.known()).collect();
    let mut offers = vec![Offer::Panel];
    if weighing_helps {
        offers.push(Offer::WeighIn(weigh));
    }
    offers.push(Offer::CombReading(own.iter().map(|panel| panel.work.dab_share()).collect()));
    if own.iter().all(|panel| panel.work.card.sheet.dry_density.is_none()) {
        offers.push(Offer::DryDensity { relative_u: DENSITY_U });
    }
    // Told of all panels or of none.
    if own.iter().all(|panel| !panel.left && hard(panel)) {
        let u_um = own.iter().map(|panel| panel.work.card.gauge_u_um).fold(1.0, f64::max);
        offers.push(Offer::Gauge { u_um });
    }
    let source = |place: usize, input: Input| shared_as(input, candidate, &own[place].work);
    let told: Result<Vec<Result<Gain, NoGain>>, NoGain> = of_builds(&known, &offers, source);
    told.into_iter().flatten().flatten().collect()
}

/// To what share one more weighing narrows what a panel will finally weigh; 1 where it is steady or left the test.
fn weigh_share(panel: &PanelFindings, t_h: f64) -> f64 {
    match &panel.work.forecast {
        Ok(forecast) if !panel.left && Settled::of(&forecast.verdict) != Settled::Yes => {
            forecast.next_weigh_in([t_h]).first().map_or(1.0, |gain| gain.share.clamp(0.0, 1.0))
        }
        _ => 1.0,
    }
}

fn hard(panel: &PanelFindings) -> bool {
    let settled = panel.forecast.as_ref().is_some_and(|forecast| forecast.settled == Settled::Yes);
    settled || panel.work.age_h().is_some_and(|age| age >= HARD_H)
}

fn in_words(step: &Step<'_>, own: &[&PanelFindings], at: Instant, wording: &Wording) -> String {
    let name = step.of.name();
    let what = match step.gain.action {
        Action::WeighIn => {
            let most = own.iter().map(|p| (weigh_share(p, clock_h(at)), p.label.as_str()));
            let label = most.reduce(|a, b| if b.0 < a.0 { b } else { a }).map_or("", |most| most.1);
            let label = if label.is_empty() { String::new() } else { format!(", {label} above all") };
            format!("Weigh {name} again on {}{label}", at.said())
        }
        Action::CombReading => format!("Next time, make one more comb reading on each panel of {name}"),
        Action::Panel => format!("Spray one more panel of {name}"),
        Action::DryDensity => format!("Give the density of the dry film of {name}, from its sheet or measured"),
        Action::Gauge => format!("Read the dry film of {name} with a gauge once a thumbnail leaves no mark"),
    };
    let of = match step.by {
        By::FinalBuild => "final build",
        _ => "shrinkage to come after sanding",
    };
    let (before, after) = (wording.film_width(step.gain.now), wording.film_width(step.gain.then));
    format!("{what}: that narrows its {of} from a range of {before} to about {after}.")
}

/// What is missing or amiss.
fn missing(test: &SprayTest, candidates: &[CandidateFindings], panels: &[PanelFindings]) -> Vec<String> {
    let mut next = Vec::new();
    let list = |panels: Vec<&str>| panels.join(", ");
    let those = |wants: &dyn Fn(&PanelFindings) -> bool| -> Vec<&str> {
        panels.iter().filter(|panel| wants(panel)).map(|panel| named(&panel.label)).collect()
    };
    // One that left the test is nobody's to weigh.
    let at_hand = |wants: &dyn Fn(&PanelFindings) -> bool| those(&|panel| !panel.left && wants(panel));
    let unweighed = at_hand(&|panel| panel.bare_g.is_none() && panel.wet_gross_g.is_none());
    if !unweighed.is_empty() {
        next.push(format!("Weigh bare, before any paint: {}.", list(unweighed)));
    }
    let rescue = at_hand(&|panel| panel.bare_g.is_none() && panel.wet_gross_g.is_some());
    if !rescue.is_empty() {
        next.push(format!(
            "No bare weight: {}. At the end strip one chemically and weigh the clean steel, to tell shares of the coat.",
            list(rescue)
        ));
    }
    let flagged: Vec<&str> = panels
        .iter()
        .filter(|panel| !panel.left)
        .flat_map(|panel| {
            panel.flags.iter().filter(|flag| flag.kind != FlagKind::SetAside).map(|_| named(&panel.label))
        })
        .collect();
    if !flagged.is_empty() {
        next.push(format!("Look at the weights that are off the curve or look swapped: {}.", list(flagged)));
    }
    let no_area = those(&|panel| panel.area_cm2.is_none());
    if !no_area.is_empty() && no_area.len() < panels.len() {
        next.push(format!("Give the coated area in Plan: {}.", list(no_area)));
    } else if !no_area.is_empty() {
        next.push("Give the panels' sides in Plan: without the area no film can be told.".into());
    }
    let no_dabs = those(&|panel| panel.wet_gross_g.is_some() && panel.wet_film_um.is_none());
    if !no_dabs.is_empty() {
        next.push(format!("No comb reading, so no build from comb and scale: {}.", list(no_dabs)));
    }
    let alone: Vec<&str> = candidates.iter().filter(|c| c.panels == 1).map(CandidateFindings::name).collect();
    if candidates.len() > 1 && !alone.is_empty() {
        next.push(format!("Spray more than one panel, so that a difference can be told from chance: {}.", list(alone)));
    }
    if blanks_in_test(test).next().is_none() && panels.iter().any(|panel| !panel.left) {
        next.push("Weigh a bare panel, the blank, with the others: it shows when the scale drifts.".into());
    }
    next
}

fn named(label: &str) -> &str {
    if label.trim().is_empty() { "the panel without a number" } else { label }
}

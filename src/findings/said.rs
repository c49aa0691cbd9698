//! What a painter would say out loud, and what to do next.

use super::candidate::{By, CandidateFindings, PairFindings};
use super::panel::PanelFindings;
use super::tongue::{Tongue, day};
use super::verdict::{Settled, days_to_go};
use crate::quantity::Instant;
use crate::record::{Id, SprayTest};
use crate::science::Estimate;
use crate::science::compare::Claim;

/// What no weighing can show; said beside every ranking.
pub const NOT_SHOWN: &str = "These weights say nothing about adhesion, corrosion protection, sanding or filling.";

/// Two to six sentences, the film still to go after the day of sanding first.
pub(super) fn said(
    test: &SprayTest,
    candidates: &[CandidateFindings],
    pairs: &[PairFindings],
    panels: &[PanelFindings],
    tongue: &Tongue,
) -> Vec<String> {
    let mut said: Vec<String> = still_to_go(candidates, tongue).into_iter().collect();
    said.extend(
        pairs.iter().filter(|pair| pair.by == By::FilmStillToGo).map(|pair| compared(pair, candidates, tongue)),
    );
    said.extend(candidates.iter().filter_map(|candidate| settled(test, candidate, panels, tongue)));
    if !said.is_empty() {
        said.push(NOT_SHOWN.into());
    }
    said
}

fn still_to_go(candidates: &[CandidateFindings], tongue: &Tongue) -> Option<String> {
    let part = |candidate: &CandidateFindings| {
        let still = candidate.mean(By::FilmStillToGo).mean?;
        let day = day(candidate.day_h?);
        Some((day, format!("{} {}", candidate.label, tongue.film_range(&still))))
    };
    let parts: Vec<(String, String)> = candidates.iter().filter_map(part).collect();
    let (first_day, _) = parts.first()?;
    let same_day = parts.iter().all(|(day, _)| day == first_day);
    let text: Vec<String> =
        parts.iter().map(|(day, film)| if same_day { film.clone() } else { format!("{film} after {day}") }).collect();
    let when = if same_day { format!("after {first_day}") } else { "after sanding".into() };
    Some(format!("Film still to go {when}: {}.", text.join(", ")))
}

fn compared(pair: &PairFindings, candidates: &[CandidateFindings], tongue: &Tongue) -> String {
    let name = |id: &Id| candidates.iter().find(|c| c.id == *id).map_or("?", |c| c.label.as_str());
    let (first, second) = (name(&pair.first), name(&pair.second));
    let (less, more, gap) = if pair.difference.mid <= 0.0 {
        (first, second, Estimate { low: -pair.difference.high, mid: -pair.difference.mid, high: -pair.difference.low })
    } else {
        (second, first, pair.difference)
    };
    match pair.claim {
        Claim::ThisMix => {
            format!(
                "This mix of {less} has {} less to go than this mix of {more}, more than chance.",
                tongue.film_range(&gap)
            )
        }
        Claim::Primer => format!("{less} has {} less to go than {more}, more than chance.", tongue.film_range(&gap)),
        Claim::WithinChance => format!("{first} and {second} cannot be told apart by it with these panels."),
        Claim::OnePanel => format!(
            "{less} has less to go than {more} here ({}), but one panel cannot show whether that would repeat: spray more.",
            tongue.film(&gap)
        ),
    }
}

fn settled(
    test: &SprayTest,
    candidate: &CandidateFindings,
    panels: &[PanelFindings],
    tongue: &Tongue,
) -> Option<String> {
    let own = || panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id));
    let forecasts: Vec<_> = own().filter_map(|panel| panel.forecast.as_ref()).collect();
    if forecasts.is_empty() {
        return None;
    }
    let label = &candidate.label;
    if forecasts.iter().all(|forecast| forecast.settled == Settled::Yes) {
        let place = own().find_map(|panel| place_of(test, &panel.id));
        let place = place.map_or("where it is now".into(), |place| format!("in the {place}"));
        return Some(format!("{label} has settled {place}."));
    }
    if forecasts.iter().any(|forecast| forecast.settled == Settled::TooEarly) {
        return Some(format!("It is too early to say when {label} will have settled; later weigh-ins tell."));
    }
    let low = forecasts.iter().map(|f| f.still_to_lose_g.low).fold(f64::INFINITY, f64::min);
    let high = forecasts.iter().map(|f| f.still_to_lose_g.high).fold(0.0, f64::max);
    let range = tongue.mass_range(&Estimate { low, mid: low, high });
    let longest = own()
        .filter_map(|panel| panel.work.forecast.as_ref().ok())
        .max_by(|a, b| a.still_to_lose_g.estimate.mean.total_cmp(&b.still_to_lose_g.estimate.mean));
    let when = longest.and_then(days_to_go).map_or(String::new(), |time| format!(", {time} more"));
    Some(format!("{label} has {range} a panel still to lose{when}."))
}

/// Where a panel is now: the place of its last move, in small letters as part of a sentence.
fn place_of(test: &SprayTest, panel: &Id) -> Option<String> {
    let moves = test.moves.kept().filter(|m| m.panels.is_empty() || m.panels.contains(panel));
    let last = moves.filter(|m| m.at.is_some()).reduce(|a, b| if b.at > a.at { b } else { a });
    let name = last.map(|m| m.to.trim()).filter(|to| !to.is_empty());
    Some(name.unwrap_or("shop").to_lowercase())
}

/// The one thing that would help most, first.
pub(super) fn next(test: &SprayTest, panels: &[PanelFindings], now: Instant, tongue: &Tongue) -> Vec<String> {
    let mut next = Vec::new();
    let list = |panels: Vec<&str>| panels.join(", ");
    let missing = |wants: &dyn Fn(&PanelFindings) -> bool| -> Vec<&str> {
        panels.iter().filter(|panel| wants(panel)).map(|panel| panel.label.as_str()).collect()
    };
    let unweighed = missing(&|panel| panel.bare_g.is_none() && panel.wet_gross_g.is_none());
    if !unweighed.is_empty() {
        next.push(format!("Weigh bare, before any paint: {}.", list(unweighed)));
    }
    let flagged: Vec<String> = panels
        .iter()
        .flat_map(|panel| panel.flags.iter().filter(|flag| flag.kind != "set_aside").map(|_| panel.label.clone()))
        .collect();
    if !flagged.is_empty() {
        next.push(format!("Look at the weights that are off the curve or look swapped: {}.", flagged.join(", ")));
    }
    let no_area = missing(&|panel| panel.area_cm2.is_none());
    if !no_area.is_empty() && no_area.len() < panels.len() {
        next.push(format!("Give the coated area in Plan: {}.", list(no_area)));
    } else if !no_area.is_empty() {
        next.push("Give the panels' sides in Plan: without the area no film can be told.".into());
    }
    let no_dabs = missing(&|panel| panel.wet_gross_g.is_some() && panel.wet_film_um.is_none());
    if !no_dabs.is_empty() {
        next.push(format!("No comb reading, so no build from comb and scale: {}.", list(no_dabs)));
    }
    next.extend(best_weigh_in(panels, now, tongue));
    if test.blanks.kept().next().is_none() && !panels.is_empty() {
        next.push("Weigh a bare panel, the blank, with the others: it shows when the scale drifts.".into());
    }
    next
}

/// Which panel a weigh-in would help most, two days from now.
fn best_weigh_in(panels: &[PanelFindings], now: Instant, tongue: &Tongue) -> Option<String> {
    const AHEAD_H: f64 = 48.0;
    let then = super::card::clock_h(now) + AHEAD_H;
    let open =
        panels.iter().filter(|panel| panel.forecast.as_ref().is_some_and(|forecast| forecast.settled != Settled::Yes));
    let gain = |panel: &PanelFindings| {
        let forecast = panel.work.forecast.as_ref().ok()?;
        let gain = forecast.next_weigh_in([then]).first()?.share;
        let width = forecast.final_gross_g.width();
        Some((width * (1.0 - gain), width, gain, panel.label.clone()))
    };
    let (_, width, share, label) = open.filter_map(gain).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let after = tongue.weight(width * share, width * share / 10.0);
    let before = tongue.weight(width, width / 10.0);
    Some(format!(
        "Weigh again in two days: that narrows what {label} will finally weigh from a range of {before} to about {after}."
    ))
}

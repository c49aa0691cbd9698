//! What is amiss with a candidate's spray day. None of it blocks: it is said, so that it can be corrected or remembered.

use super::day::SprayDay;
use crate::facts::{DABS, comb_readings, wet_on_spray_day};
use crate::words::{Wording, duration, input_error_said};
use quantity::{Instant, Quantity};
use science::pot::{Cup, cup};

/// Minutes after the last coat beyond which a wet weight has missed some of what left.
const LATE_MIN: f64 = 10.0;

pub(crate) fn amiss(facts: &SprayDay<'_>, spraying: bool, now: Instant) -> Vec<String> {
    let mut amiss = Vec::new();
    in_the_cup(facts, spraying, now, &mut amiss);
    between_coats(facts, &mut amiss);
    late_weights(facts, &mut amiss);
    amiss
}

fn minutes_from(earlier: Instant, later: Instant) -> f64 {
    later.hours_since(earlier) * 60.0
}

/// The coats against the standing time and the pot life of the cup they came from.
fn in_the_cup(facts: &SprayDay<'_>, spraying: bool, now: Instant, amiss: &mut Vec<String>) {
    let sheet = &facts.candidate.sheet;
    let standing = sheet.standing_min.map_or(0.0, Quantity::get);
    let pot_life = sheet.pot_life_min.map(Quantity::get).filter(|minutes| *minutes > 0.0);
    for (i, sprayed) in facts.coats.iter().enumerate() {
        let coat = i + 1;
        let (Some(began_with), Some(ended_with)) = (facts.cup_at(sprayed.first()), facts.cup_at(sprayed.last())) else {
            if !facts.cups.is_empty() {
                amiss.push(format!("Coat {coat} stands before the mix was made: correct one of the two times."));
            }
            continue;
        };
        // Once one coat has come early, the mix has not stood; the next ones need not say it again.
        let first = i == 0 || facts.coats[i - 1].first() < began_with;
        let standing = if first { standing } else { 0.0 };
        // The first panel of a coat meets the standing time, the last one the pot life.
        let begun = cup(minutes_from(began_with, sprayed.first()), standing, pot_life);
        let ended = cup(minutes_from(ended_with, sprayed.last()), 0.0, pot_life);
        match (begun, ended) {
            (Ok(Cup::Standing { left_min }), _) => {
                amiss.push(format!("Coat {coat} came {} before the standing time was over.", duration(left_min / 60.0)))
            }
            (_, Ok(Cup::Past { since_min })) => {
                amiss.push(format!("Coat {coat} came {} after the end of the pot life.", duration(since_min / 60.0)));
            }
            // Minutes are minutes, whatever units are chosen.
            (Err(trouble), _) => return amiss.push(input_error_said(&trouble, &Wording::default())),
            _ => {}
        }
    }
    let mixed = facts.cups.last().map(|cup| cup.1).filter(|_| spraying);
    if let Some(Ok(Cup::Past { since_min })) =
        mixed.map(|mixed| cup(minutes_from(mixed, now).max(0.0), standing, pot_life))
    {
        amiss.push(format!("The pot life of the mix ended {:.0} min ago: do not spray it.", since_min.floor()));
    }
}

/// The coats against the flash-off between them.
fn between_coats(facts: &SprayDay<'_>, amiss: &mut Vec<String>) {
    let Some(least) = facts.candidate.sheet.flash_min.map(Quantity::get) else { return };
    for (i, pair) in facts.coats.windows(2).enumerate() {
        let Some(waited) = pair[1].waited_min(&pair[0]).filter(|waited| *waited < least) else { continue };
        amiss.push(format!(
            "Coat {} came {} after coat {}; the sheet asks for {}.",
            i + 2,
            duration(waited / 60.0),
            i + 1,
            duration(least / 60.0)
        ));
    }
}

/// Wet weights taken so late that solvent had left by then.
fn late_weights(facts: &SprayDay<'_>, amiss: &mut Vec<String>) {
    let late: Vec<&str> = (facts.coated())
        .filter(|(panel, last)| {
            wet_on_spray_day(facts.test, panel).is_some_and(|(_, at)| minutes_from(*last, at) > LATE_MIN)
        })
        .map(|(panel, _)| panel.label.as_str())
        .collect();
    if !late.is_empty() {
        amiss.push(format!(
            "{} weighed more than {LATE_MIN} min after the last coat: what left before is not in the wet weight.",
            late.join(", ")
        ));
    }
    let few: Vec<&str> = (facts.coated())
        .filter(|(panel, _)| wet_on_spray_day(facts.test, panel).is_some() && comb_readings(panel).count() < DABS)
        .map(|(panel, _)| panel.label.as_str())
        .collect();
    if !few.is_empty() {
        amiss.push(format!("{}: fewer than {} dabs, so the wet film is less certain.", few.join(", "), DABS));
    }
}

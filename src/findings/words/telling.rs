//! The next weighing that would tell, in words.

use super::wording::Wording;
use crate::told::{BlankFirst, Settled, Telling};
use quantity::plain;
use science::drying::Way;
use science::estimate::Z95;

/// What to do, in few words: `weigh to day 9`, `weigh to day 7, 3 times a round`.
pub(crate) fn until(telling: &Telling, wording: &Wording) -> String {
    match (telling.sooner, telling.daily) {
        (Some((Way::LargerPanel(times), _)), _) => larger(times),
        (Some((way, day)), _) => format!("weigh to day {day}{}", by(way, wording)),
        (None, Some(day)) => format!("weigh to day {day}"),
        (None, None) => "two weeks may not tell".into(),
    }
}

fn by(way: Way, wording: &Wording) -> String {
    match way {
        Way::OneWeighing | Way::LargerPanel(_) => String::new(),
        Way::ThreeWeighings => ", 3 times a round".into(),
        Way::FinerScale(step_g) => format!(" on a scale of {}", wording.weight(step_g, step_g)),
    }
}

fn larger(times: f64) -> String {
    format!("next time, spray a panel {} times as large", plain(times))
}

/// The same of one panel in sentences: what daily weighing does, and what does it sooner.
pub(crate) fn telling_said(telling: &Telling, settled: Settled, wording: &Wording) -> String {
    let told = if settled == Settled::TooEarly { "known" } else { "steady" };
    let daily = match telling.daily {
        Some(day) => format!("Weigh daily: likely {told} by day {day}."),
        None => "Two weeks of daily weighing may not tell.".into(),
    };
    let sooner = telling.sooner.map(|(way, day)| match way {
        Way::LargerPanel(times) => format!(" {}.", capital(&larger(times))),
        way => format!(" By day {day}{}.", by(way, wording)),
    });
    daily + &sooner.unwrap_or_default()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// What the blank has to do with the newest weights: `Weigh the blank 3 times a round: …`.
pub(crate) fn blank_first_said(blank: &BlankFirst, wording: &Wording) -> String {
    let gain_g = Z95 * (blank.sd_g - blank.thrice_sd_g);
    let step_g = 10f64.powf(gain_g.max(1e-9).log10().floor());
    let (now, then) = (wording.weight(Z95 * blank.sd_g, step_g), wording.weight(Z95 * blank.thrice_sd_g, step_g));
    format!(
        "Weigh the blank 3 times a round: most of what is unsure in {} newest weights is the scale's drift. All narrow from ±{now} to ±{then}.",
        blank.panels
    )
}

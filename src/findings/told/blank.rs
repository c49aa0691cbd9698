//! Whether the blank is what the newest weights are unsure by.

use super::panel::PanelFindings;
use super::verdict::Settled;
use crate::work::PanelWork;

/// The blank's part of the variance of a newest weight from which it is the blank that wants weighing again (design choice).
const MOST_OF_IT: f64 = 0.5;

/// Three weighings of the blank are asked for where they take at least this share off what is unsure (design choice).
const WORTH_IT: f64 = 0.05;

/// Several panels of a round whose newest weights are unsure for the most part by one and the same thing: the scale's drift, as
/// far as one weighing of the blank leaves it open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BlankFirst {
    /// How many panels.
    pub panels: usize,
    /// sd of such a weight, g: of the surest of them.
    pub sd_g: f64,
    /// The same had the blank been weighed three times.
    pub thrice_sd_g: f64,
}

impl BlankFirst {
    /// Looks at the newest round of panels whose weight is not steady; `None` where fewer than two are so.
    pub fn of(panels: &[PanelFindings]) -> Option<Self> {
        let open = |panel: &&PanelFindings| panel.forecast.as_ref().is_some_and(|told| told.settled != Settled::Yes);
        let works = || panels.iter().filter(open).map(|panel| &*panel.work);
        let when = |work: &PanelWork| work.newest().map_or(f64::NEG_INFINITY, |newest| newest.weighing.t_h);
        let newest = works().reduce(|a, b| if when(b) > when(a) { b } else { a })?;
        let round = newest.newest()?.weighing.round?;
        let in_round = |work: &&PanelWork| work.newest().is_some_and(|newest| newest.weighing.round == Some(round));
        let mut found: Option<Self> = None;
        for work in works().filter(in_round) {
            let Some((sd_g, thrice_sd_g)) = by_the_blank(work) else { continue };
            found = Some(match found {
                None => Self { panels: 1, sd_g, thrice_sd_g },
                Some(known) if known.sd_g <= sd_g => Self { panels: known.panels + 1, ..known },
                Some(known) => Self { panels: known.panels + 1, sd_g, thrice_sd_g },
            });
        }
        found.filter(|found| found.panels > 1)
    }
}

/// sd of a panel's newest weight as it is and with the blank weighed three times, g, where most of it is the blank's.
fn by_the_blank(work: &PanelWork) -> Option<(f64, f64)> {
    let newest = work.forecast.as_ref().ok()?.newest_weight();
    // Without any weight of a blank the drift is assumed, and a first one is asked for as what is missing.
    let weighed = work.card.scales.as_ref().is_ok_and(|scales| scales.iter().any(|scale| !scale.blank.is_empty()));
    let helps = newest.blank_thrice_sd_g < (1.0 - WORTH_IT) * newest.sd_g;
    (weighed && helps && newest.blank_share >= MOST_OF_IT).then_some((newest.sd_g, newest.blank_thrice_sd_g))
}

//! Weighing a panel again in one round: what it brings, and where it is worth the press.

use crate::told::PanelFindings;
use crate::words::Wording;
use quantity::{Quantity, Unit};
use record::WeighIn;
use science::drying::Way;

/// The most weights of a panel in one round.
const MOST: usize = 3;

/// From this chance on a way to weigh is taken to decide (design choice: as likely as not).
const DECIDES: f64 = 0.5;

/// Whether it is worth to weigh a panel again in a round: where three weighings in one round would tell by the next day whether
/// its weight is steady, and one would not.
pub fn worth_weighing_again(panel: &PanelFindings, weigh_in: &WeighIn) -> bool {
    let Ok(forecast) = &panel.work.forecast else { return false };
    if weigh_in.repeats_g.len() + 1 >= MOST {
        return false;
    }
    let told = forecast.what_would_tell(&[Way::OneWeighing, Way::ThreeWeighings]);
    matches!(&told[..], [one, three] if one.next_day < DECIDES && three.next_day >= DECIDES)
}

/// What a panel showed when it was weighed again: `Weighed again: 431.4, 431.5 g. The mean counts.`
pub fn weighed_again_said(weigh_in: &WeighIn, wording: &Wording) -> Option<String> {
    let again: Vec<String> = weigh_in.repeats_g.iter().map(|g| wording.typed_weight(g.get())).collect();
    let unit = wording.units.mass.symbol();
    (!again.is_empty()).then(|| ["Weighed again: ", &again.join(", "), " ", unit, ". The mean counts."].concat())
}

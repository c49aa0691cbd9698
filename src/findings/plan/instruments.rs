//! Blanks for every scale and place, and the spread of a scale from one panel weighed again and again.

use crate::facts::{USUAL_STEP_G, blanks_in_test, same_place};
use crate::words::Wording;
use crate::work::PanelCard;
use quantity::{Quantity, decimals_for, figure};
use record::{Id, SprayTest};
use science::film::summary;
use science::weigh::{reading_u, repeatability};

/// What counts as the gauge's calibration where nobody noted its paper.
pub fn gauge_taken(wording: &Wording) -> String {
    wording.film_width(PanelCard::GAUGE_U_UM)
}

/// Weighings that show a scale's spread well enough (customary).
const REPEATS: usize = 5;

/// A blank that the plan has not.
#[derive(Clone, Debug, PartialEq)]
pub struct BlankWanted {
    /// A name for it.
    pub label: String,
    /// The scale it is for; none where one scale serves all.
    pub balance: Option<Id>,
    /// Where it is to stand; empty for where the panels begin.
    pub place: String,
    /// Why.
    pub said: String,
}

/// Blanks to add: one for every scale, and one for every place to which panels are carried.
pub fn blanks_wanted(test: &SprayTest) -> Vec<BlankWanted> {
    let mut wanted = Vec::new();
    let several = test.balances.kept().count() > 1;
    for balance in test.balances.kept() {
        let serves = |of: &Option<Id>| of.is_none() || of.as_ref() == Some(&balance.id);
        if !blanks_in_test(test).any(|blank| serves(&blank.balance)) {
            let on = if several { format!(" on {}", balance.label) } else { String::new() };
            wanted.push(BlankWanted {
                label: if several { format!("Blank, {}", balance.label) } else { "Blank".into() },
                balance: several.then(|| balance.id.clone()),
                place: String::new(),
                said: format!("No blank is weighed{on}: a bare panel weighed along shows when the scale drifts."),
            });
        }
    }
    for place in places(test) {
        let stands = |at: &str| same_place(at, &place);
        if !blanks_in_test(test).any(|blank| stands(&blank.place)) {
            wanted.push(BlankWanted {
                label: format!("Blank, {}", place.to_lowercase()),
                balance: None,
                said: format!(
                    "Panels go to the {}, and no blank stands there: dust and damp settle on it as on them.",
                    place.to_lowercase()
                ),
                place,
            });
        }
    }
    wanted
}

/// Places that panels are carried to, each once. Where they begin is served by a blank without a place.
fn places(test: &SprayTest) -> Vec<String> {
    let mut places: Vec<String> = Vec::new();
    for carried in test.moves.kept() {
        let place = carried.to.trim();
        let known = places.iter().any(|known| same_place(known, place));
        if !place.is_empty() && !known {
            places.push(place.into());
        }
    }
    places
}

/// What one panel weighed again and again says of a scale.
pub fn repeats_said(test: &SprayTest, balance: &Id, wording: &Wording) -> String {
    let Some(balance) = test.balances.find(balance) else { return String::new() };
    let division = balance.division_g.map_or(USUAL_STEP_G, Quantity::get);
    let readings: Vec<f64> = balance.repeats_g.iter().map(|g| g.get()).collect();
    if readings.len() < 2 {
        return "Weigh one panel five times, off and on again each time: the page works out the spread.".into();
    }
    let (Ok(spread), Ok(all)) = (repeatability(&readings), summary("repeated weighings", &readings)) else {
        return String::new();
    };
    let more = match REPEATS.saturating_sub(readings.len()) {
        0 => String::new(),
        1 => " One more weighing makes it surer.".into(),
        few => format!(" {few} more weighings make it surer."),
    };
    let between = format!(
        "{} weighings between {} and {}",
        readings.len(),
        wording.bare_weight(all.lowest, division),
        wording.weight(all.highest, division)
    );
    let unit = quantity::Unit::symbol(wording.units.mass);
    let shown = |grams: f64| {
        let shown = quantity::Unit::shown(wording.units.mass, grams);
        format!("{} {unit}", figure(shown, decimals_for(shown)))
    };
    let spread_said = if spread == 0.0 {
        "no spread beyond the step of the scale".into()
    } else {
        format!("spread {} (standard deviation)", shown(spread))
    };
    let one = reading_u(division, spread)
        .map_or(String::new(), |u| format!(" One reading is good to about {} either way.", shown(2.0 * u)));
    format!("{between}: {spread_said}.{one}{more}")
}

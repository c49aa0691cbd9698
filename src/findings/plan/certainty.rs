//! How sure a panel is to be before its weight is called steady, and what each choice costs.

use quantity::figure;
use record::{Certainty, Pick};

use crate::work::certainty_of;

/// The choices, as they are named.
const CHOICES: [(&str, Certainty); 3] =
    [("Cautious", Certainty::Cautious), ("Usual", Certainty::Usual), ("Quick", Certainty::Quick)];

/// Where the choice of who has not chosen stands among them.
pub const USUAL: usize = 1;

/// The choices with their names.
pub fn certainties() -> Vec<(String, Pick)> {
    CHOICES.map(|(name, certainty)| (name.to_owned(), Pick::Certainty(certainty))).to_vec()
}

/// How sure the weight of a panel of this test is to be steady, in words: `Usual: 90 % sure`.
pub fn certainty_said(chosen: Option<Certainty>) -> String {
    let (name, certainty) = CHOICES.into_iter().find(|of| Some(of.1) == chosen).unwrap_or(CHOICES[USUAL]);
    [name, ": ", &percent(certainty_of(Some(certainty)).least()), " % sure"].concat()
}

/// What each choice costs, a line each.
pub fn certainty_costs() -> Vec<String> {
    CHOICES
        .map(|(_, certainty)| {
            let calls = certainty_of(Some(certainty)).calls();
            let [of_dry, falsely] = [calls.of_dry, calls.falsely].map(percent);
            [
                &certainty_said(Some(certainty)),
                ". Calls ",
                &of_dry,
                " of 100 dry panels within three weeks, and ",
                &falsely,
                " of 100 too early.",
            ]
            .concat()
        })
        .to_vec()
}

/// A share as a number of a hundred, to a tenth where it is no whole one.
fn percent(share: f64) -> String {
    let hundredths = share * 100.0;
    figure(hundredths, usize::from((hundredths - hundredths.round()).abs() > 0.05))
}

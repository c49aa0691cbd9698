//! One number, one interval, wherever it is shown.

use super::{Story, Told, quiet_days};
use crate::{Attacks, holds, same};
use comb_scale::findings::{CurveChoice, Tongue, curve_text};

#[test]
fn a_chart_speaks_of_the_panels_that_it_draws() {
    let mut attacks = Attacks::on("answers, what a chart speaks of");
    let told = Told::of(&Story::of(3, quiet_days(9)));
    for alone in 0..3 {
        attacks.attempt(format!("A{alone} alone"), || {
            let panel = Some(told.findings.panels[alone].id.clone());
            let text = curve_text(&told.findings, &CurveChoice { panel, ..CurveChoice::default() }, &Tongue::default());
            for p in 0..3 {
                same(&format!("A{p} is spoken of"), text.contains(&format!("A{p} ")), p == alone)?;
            }
            holds(text.starts_with("Chart of mass lost"), text)
        });
    }
    attacks.close();
}

//! What had left before the first weighing, against the simulated panels with their first weights taken away.

use crate::simulated::{CUTS_H, Simulated, bank, parallel, scenarios};
use comb_scale::science::drying::{Balance, Panel, Scale, Settings, forecast};
use statrs::distribution::{Binomial, DiscreteCDF};

/// The true loss over the first half hour lies in the interval for 95 % of 500 panels, at every cut of the evidence, and the
/// estimate is as often too high as too low within a factor.
#[test]
fn the_loss_before_the_first_weighing_is_covered() {
    let panels: Vec<Simulated> = bank().into_iter().chain(scenarios()).collect();
    let told = parallel(&panels, |p| {
        CUTS_H.map(|cut_h| {
            let n = p.cut(cut_h).readings.len();
            let balance = Balance::new(Scale::new(p.division_g), &p.blank[1..n]);
            let before_h = p.readings[1].t_h - p.readings[0].t_h;
            let answer = forecast(&Panel::new(&balance, Some(p.bare_g), &p.readings[1..n]), &Settings::instant());
            let before = answer.ok()?.lost_before_g(before_h)?;
            let lost_g = p.readings[0].gross_g - p.readings[1].gross_g;
            // Both weights scatter, which is no fault of the estimate.
            let slack_g = 2.0 * 0.0851 * std::f64::consts::SQRT_2 * p.division_g / 0.1;
            Some((before.low - slack_g <= lost_g && lost_g <= before.high + slack_g, lost_g / before.mean))
        })
    });
    for (cut, cut_h) in CUTS_H.iter().enumerate() {
        let at: Vec<(bool, f64)> = told.iter().filter_map(|told| told[cut]).collect();
        let covered = at.iter().filter(|told| told.0).count() as u64;
        let n = at.len() as u64;
        println!("{cut_h} h: {covered} of {n} covered");
        assert!(n > 480, "{n} told");
        let least = Binomial::new(0.95, n).unwrap().inverse_cdf(0.005);
        assert!(covered >= least, "{covered} of {n} covered at {cut_h} h, at least {least} expected");
        let over = at.iter().filter(|told| told.1 > 1.0).count() as f64 / n as f64;
        assert!((0.3..0.7).contains(&over), "{over} above the estimate");
    }
}

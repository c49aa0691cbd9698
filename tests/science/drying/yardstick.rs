//! Against a general-purpose reference library: scipy's least squares on a double exponential for the same data, with its
//! textbook 95 % interval. The numbers in `scipy/double_exponential.json` were made by the script beside them.

use crate::simulated::{CUTS_H, parallel, quantile, scenarios};
use comb_scale::science::drying::{Settings, forecast};
use serde::Deserialize;

#[derive(Deserialize)]
struct Fits {
    scipy: String,
    rows: Vec<Fit>,
}

#[derive(Deserialize)]
struct Fit {
    id: String,
    cut_h: f64,
    n: usize,
    plateau_g: f64,
    half_width_g: Option<f64>,
}

/// On the same readings the bare fit's interval misses the truth far more often than it says; the forecast's does not.
#[test]
fn intervals_against_a_double_exponential() {
    let fits: Fits = serde_json::from_str(include_str!("scipy/double_exponential.json")).unwrap();
    let panels = scenarios();
    let ours = parallel(&panels, |p| {
        CUTS_H.map(|c| {
            let last = forecast(&p.cut(c).panel(false), &Settings::shown()).unwrap().final_coat_g.unwrap();
            ((last.low..=last.high).contains(&p.final_coat_g), (last.mean - p.final_coat_g).abs(), last.width())
        })
    });
    println!("scipy {}: covered / median error g / median width g, then ours", fits.scipy);
    let (mut theirs_covered, mut ours_covered, mut compared) = (0, 0, 0);
    for (c, cut_h) in CUTS_H.into_iter().enumerate() {
        let rows: Vec<&Fit> = fits.rows.iter().filter(|r| r.cut_h == cut_h).collect();
        assert_eq!(rows.len(), panels.len());
        let (mut hits, mut errors, mut widths) = (0, Vec::new(), Vec::new());
        for (p, r) in panels.iter().zip(&rows) {
            assert_eq!((p.id.as_str(), p.cut(cut_h).readings.len()), (r.id.as_str(), r.n));
            let error = (r.plateau_g - p.final_coat_g).abs();
            hits += usize::from(r.half_width_g.is_some_and(|h| error <= h));
            errors.push(error);
            widths.extend(r.half_width_g.map(|h| 2.0 * h));
        }
        let mine: Vec<_> = ours.iter().map(|o| o[c]).collect();
        let my_hits = mine.iter().filter(|m| m.0).count();
        println!(
            "   {cut_h:>3} h: {hits:>2} / {:.2} / {:.2}; {my_hits:>2} / {:.2} / {:.2}  of {}",
            quantile(errors, 0.5),
            quantile(widths, 0.5),
            quantile(mine.iter().map(|m| m.1).collect(), 0.5),
            quantile(mine.iter().map(|m| m.2).collect(), 0.5),
            rows.len()
        );
        theirs_covered += hits;
        ours_covered += my_hits;
        compared += rows.len();
    }
    // 95 % of 120 are 114; under 107 is beyond chance, were they independent.
    assert!(ours_covered >= 107, "{ours_covered} of {compared}");
    assert!(theirs_covered < 95, "{theirs_covered} of {compared}");
}

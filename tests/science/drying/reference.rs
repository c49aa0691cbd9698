//! Agreement with the reference implementation's converged answers (`data/public_reference.json`).

use crate::simulated::{CUTS_H, parallel, quantile, scenarios};
use comb_scale::science::drying::{Forecast, Settings, Standing, forecast};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    panels: Vec<ReferencePanel>,
}

#[derive(Deserialize)]
struct ReferencePanel {
    id: String,
    cuts: Vec<ReferenceCut>,
}

#[derive(Deserialize)]
struct ReferenceCut {
    cut_h: f64,
    n: usize,
    flagged: Vec<usize>,
    s_noise_g: f64,
    drift_sd_g: f64,
    no_sheet: Answer,
    sheet: Answer,
}

#[derive(Deserialize, Clone)]
struct Answer {
    low: f64,
    median: f64,
    high: f64,
    mean: f64,
    s2: f64,
    settle_limit: f64,
    settled: bool,
    still_to_lose_q90: f64,
    too_early: bool,
}

fn reference() -> Vec<ReferencePanel> {
    serde_json::from_str::<Reference>(include_str!("data/public_reference.json")).unwrap().panels
}

struct Case {
    name: String,
    want: Answer,
    got: Forecast,
    cut: (usize, Vec<usize>, f64, f64),
}

fn cases(settings: Settings) -> Vec<Case> {
    let panels: Vec<_> = scenarios().into_iter().zip(reference()).collect();
    parallel(&panels, |(panel, reference)| {
        assert_eq!(panel.id, reference.id);
        let mut cases = Vec::new();
        for (cut_h, want) in CUTS_H.into_iter().zip(&reference.cuts) {
            assert_eq!(cut_h, want.cut_h);
            let cut = panel.cut(cut_h);
            for (sheet, answer) in [(false, &want.no_sheet), (true, &want.sheet)] {
                cases.push(Case {
                    name: format!("{} {cut_h} h sheet {sheet}", panel.id),
                    want: answer.clone(),
                    got: forecast(&cut.panel(sheet), &settings).unwrap(),
                    cut: (want.n, want.flagged.clone(), want.s_noise_g, want.drift_sd_g),
                });
            }
        }
        cases
    })
    .into_iter()
    .flatten()
    .collect()
}

#[test]
fn look() {
    for (name, s) in [("conv", Settings::converged()), ("shown", Settings::shown()), ("instant", Settings::instant())] {
        let now = std::time::Instant::now();
        let cases = cases(s);
        let took = now.elapsed().as_secs_f64() / 240.0 * 2e3;
        let mut d: Vec<Vec<f64>> = vec![vec![]; 7];
        let (mut se, mut te, mut fl, mut steps) = (0, 0, 0, 0);
        for c in &cases {
            let e = c.got.final_coat_g.unwrap();
            let w = c.want.high - c.want.low;
            let v = [
                (e.mean - c.want.mean) / w,
                (e.median - c.want.median) / w,
                (e.low - c.want.low) / w,
                (e.high - c.want.high) / w,
                (c.got.still_to_lose_g.q90 - c.want.still_to_lose_q90) / w,
                c.got.noise.ratio - c.want.s2,
                c.got.settle_limit_g - c.want.settle_limit,
            ];
            for (d, v) in d.iter_mut().zip(v) {
                d.push(v.abs());
            }
            se += usize::from(c.got.settled() != c.want.settled);
            te += usize::from(c.got.too_early() != c.want.too_early);
            let f: Vec<usize> = c
                .got
                .readings
                .iter()
                .enumerate()
                .filter(|(_, s)| matches!(s, Standing::Slip { .. }))
                .map(|(i, _)| i)
                .collect();
            fl += usize::from(f != c.cut.1);
            steps += c.got.steps;
            if name == "conv" {
                if f != c.cut.1 {
                    println!("{} flags {:?} want {:?}", c.name, f, c.cut.1);
                }
                if (c.got.noise.model_sd_g - c.cut.2).abs() > 6e-5 || (c.got.noise.drift_sd_g - c.cut.3).abs() > 6e-5 {
                    println!(
                        "{} noise {} {} drift {} {}",
                        c.name, c.got.noise.model_sd_g, c.cut.2, c.got.noise.drift_sd_g, c.cut.3
                    );
                }
                if v[..5].iter().any(|v| v.abs() > 0.002) {
                    println!("{} {v:.4?} w {w} {:?}", c.name, c.got.stopped);
                }
                if c.got.settled() != c.want.settled || c.got.too_early() != c.want.too_early {
                    println!("{} {:?} {} {}", c.name, c.got.verdict, c.want.settled, c.want.too_early);
                }
            }
        }
        println!(
            "{name}: settled differ {se} early {te} flags {fl} steps {} ms {took:.3}",
            steps as f64 / cases.len() as f64
        );
        for (n, d) in ["mean", "median", "low", "high", "q90", "s2", "limit"].iter().zip(d) {
            println!("  {n}: {:.6} {:.6} {:.6}", quantile(d.clone(), 0.5), quantile(d.clone(), 0.9), quantile(d, 1.0));
        }
    }
}

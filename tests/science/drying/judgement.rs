//! Settled, slips and swaps on the public bank.

use crate::simulated::{Simulated, bank, parallel, quantile};
use comb_scale::science::drying::{InRound, Settings, Standing, Weighing, forecast, swaps};

#[test]
fn slips() {
    let bank = bank();
    let found = parallel(&bank, |p| {
        let cut = p.cut(2000.0);
        let f = forecast(&cut.panel(false), &Settings::instant()).unwrap();
        let flagged: Vec<usize> =
            (0..f.readings.len()).filter(|&i| matches!(f.readings[i], Standing::Slip { .. })).collect();
        let caught = p.slips.iter().filter(|s| flagged.contains(s)).count();
        let falsely: Vec<f64> = flagged.iter().filter(|f| !p.slips.contains(f)).map(|&i| p.readings[i].t_h).collect();
        (p.slips.len(), caught, falsely, f.readings.len())
    });
    let sum = |f: fn(&(usize, usize, Vec<f64>, usize)) -> usize| found.iter().map(f).sum::<usize>();
    let falsely: Vec<f64> = found.iter().flat_map(|f| f.2.clone()).collect();
    println!(
        "slips {} caught {} false {} in {} latest {:?}",
        sum(|f| f.0),
        sum(|f| f.1),
        falsely.len(),
        sum(|f| f.3),
        falsely.iter().copied().fold(0.0, f64::max)
    );
}

fn remaining(p: &Simulated, t_h: f64) -> f64 {
    let course: Vec<(f64, f64)> = p.coat_g_at_h.iter().map(|(h, g)| (f64::from(*h), *g)).collect();
    let i = course.partition_point(|c| c.0 < t_h).clamp(1, course.len() - 1);
    let ((t0, g0), (t1, g1)) = (course[i - 1], course[i]);
    let share = if t0 > 0.0 { (t_h / t0).ln() / (t1 / t0).ln() } else { t_h / t1 };
    g0 + (g1 - g0) * share - p.final_coat_g
}

#[test]
fn settled() {
    let bank = bank();
    let panels: Vec<&Simulated> = bank.iter().filter(|p| p.kind != "stay").collect();
    let runs = parallel(&panels, |p| {
        let limit = 0.2f64;
        let truth = (0..2160).map(f64::from).find(|&t| remaining(p, t) < limit).unwrap_or(2160.0);
        let call = (5..=p.readings.len()).find_map(|n| {
            let t = p.readings[n - 1].t_h;
            let cut = p.cut((t - 0.1) / 1.04 + 1e-6);
            let f = forecast(&cut.panel(false), &Settings::shown()).unwrap();
            f.settled().then_some((t, f.settle_limit_g, remaining(p, t)))
        });
        (truth, call)
    });
    let called: Vec<_> = runs.iter().filter_map(|r| r.1.map(|c| (r.0, c))).collect();
    let falsely = called.iter().filter(|(_, c)| c.2 > c.1).count();
    let delays: Vec<f64> = called.iter().map(|(t, c)| (c.0 - t) / 24.0).collect();
    println!(
        "settled: {} of {} called, false {falsely} ({:.1} %), median delay {:.1} d",
        called.len(),
        runs.len(),
        100.0 * falsely as f64 / runs.len() as f64,
        quantile(delays, 0.5)
    );
}

#[test]
fn swapped() {
    let bank = bank();
    // Panels of the same round numbers, taken in neighbouring pairs.
    let mut bins = vec![(0usize, 0usize, 0usize); 5];
    let edges = [0.3, 0.6, 1.0, 4.0, f64::INFINITY];
    let (mut falsely, mut rounds) = (0, 0);
    for pair in bank.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        for n in 3..a.readings.len().min(b.readings.len()) {
            if a.slips.iter().any(|&s| s <= n) || b.slips.iter().any(|&s| s <= n) {
                continue;
            }
            // A round is one time: pairs in which the times are near each other.
            if (a.readings[n].t_h - b.readings[n].t_h).abs() > 6.0 {
                continue;
            }
            // Make the difference small by moving b's frame, to whole divisions.
            for want in [0.2, 0.4, 0.8, 2.0, 8.0] {
                let shift = ((a.readings[n].gross_g - b.readings[n].gross_g + want) * 10.0).round() / 10.0;
                let (ca, cb) = (a.cut(5000.0), b.cut(5000.0));
                let ra: Vec<Weighing> = ca.readings[..=n].to_vec();
                let rb: Vec<Weighing> =
                    cb.readings[..=n].iter().map(|w| Weighing { gross_g: w.gross_g + shift, ..*w }).collect();
                let (mut sa, mut sb) = (ra.clone(), rb.clone());
                sa[n].gross_g = rb[n].gross_g;
                sb[n].gross_g = ra[n].gross_g;
                let look = |ra: &[Weighing], rb: &[Weighing]| {
                    let mut pa = ca.panel(false);
                    let mut pb = cb.panel(false);
                    pa.weighings = ra;
                    pb.weighings = rb;
                    pb.bare_g = pb.bare_g.map(|g| g + shift);
                    swaps(&[InRound { panel: &pa, weighing: n }, InRound { panel: &pb, weighing: n }]).len()
                };
                falsely += look(&ra, &rb);
                rounds += 1;
                let d = (ra[n].gross_g - rb[n].gross_g).abs();
                let bin = edges.iter().position(|&e| d <= e).unwrap();
                bins[bin].0 += look(&sa, &sb);
                bins[bin].1 += 1;
            }
        }
    }
    println!("swaps false {falsely} of {rounds}; caught {bins:?}");
}

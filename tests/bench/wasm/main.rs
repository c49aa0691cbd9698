//! Times the functions of `lib.rs` natively, for the ratio: one line of JSON a case.

use forecast_bench::{age_h, coat_g, prepare, run};
use std::time::Instant;

fn main() {
    for (weigh_ins, moved) in [(20, 0), (20, 1)] {
        for instant in [0, 1] {
            let n = prepare(weigh_ins, moved, 0);
            let mass = run(20, instant);
            let best = (0..60)
                .map(|_| {
                    let start = Instant::now();
                    run(5, instant);
                    start.elapsed().as_secs_f64() * 200.0
                })
                .fold(f64::INFINITY, f64::min);
            let ages: Vec<f64> = (0..n).map(|i| age_h(i)).collect();
            let coat: Vec<f64> = (0..n).map(|i| coat_g(i)).collect();
            println!(
                "{{\"moved\":{moved},\"instant\":{instant},\"ms\":{best},\"mass\":{mass},\"t\":{ages:?},\"y\":{coat:?}}}"
            );
        }
    }
}

//! The public bank: coverage, width and error of the final mass per cut.

use crate::simulated::{CUTS_H, Simulated, bank, parallel, quantile};
use comb_scale::science::drying::{Forecast, Older, OlderUse, Settings, forecast};

/// Covered?, width g, |error| g of one forecast.
type Hit = (bool, f64, f64);

fn hit(panel: &Simulated, f: &Forecast) -> Hit {
    let last = f.final_coat_g.expect("bare weight is known");
    let truth = panel.final_coat_g;
    (last.low <= truth && truth <= last.high, last.width(), (last.mean - truth).abs())
}

/// Coverage %, median width g, median error g per cut.
fn table(name: &str, hits: &[Vec<Hit>]) -> Vec<(f64, f64, f64)> {
    let rows: Vec<(f64, f64, f64)> = (0..CUTS_H.len())
        .map(|c| {
            let at: Vec<Hit> = hits.iter().map(|h| h[c]).collect();
            let covered = at.iter().filter(|h| h.0).count() as f64 / at.len() as f64;
            let median = |v: fn(&Hit) -> f64| quantile(at.iter().map(v).collect(), 0.5);
            (100.0 * covered, median(|h| h.1), median(|h| h.2))
        })
        .collect();
    let cells: Vec<String> = rows.iter().map(|(c, w, e)| format!("{c:4.0} / {w:4.2} / {e:4.2}")).collect();
    println!("{name:<34} n {:3} | {}", hits.len(), cells.join(" | "));
    rows
}

#[test]
fn coverage() {
    let bank = bank();
    println!("{:<34}       | {}", "coverage % / width g / error g", CUTS_H.map(|c| format!("{c:>15.0} h")).join(" | "));
    for kind in ["single", "stay", "replicate"] {
        let panels: Vec<&Simulated> = bank.iter().filter(|p| p.kind == kind).collect();
        for sheet in [false, true] {
            let hits = parallel(&panels, |p| {
                CUTS_H.map(|c| hit(p, &forecast(&p.cut(c).panel(sheet), &Settings::shown()).unwrap())).to_vec()
            });
            table(&format!("{kind}, {}", if sheet { "sheet solids" } else { "no sheet" }), &hits);
        }
    }
    let replicates: Vec<&Simulated> = bank.iter().filter(|p| p.kind == "replicate").collect();
    for by in [96.0, 168.0] {
        let hits = parallel(&replicates, |p| CUTS_H.map(|c| pooled(p, &replicates, c, by)).to_vec());
        let used: usize = hits.iter().flatten().map(|h| h.1).sum();
        let hits: Vec<Vec<Hit>> = hits.into_iter().map(|h| h.into_iter().map(|h| h.0).collect()).collect();
        table(&format!("replicates with others {} d older", by / 24.0), &hits);
        println!("   used {used}");
    }
}

fn pooled(p: &Simulated, all: &[&Simulated], cut_h: f64, by_h: f64) -> (Hit, usize) {
    let older: Vec<Forecast> = all
        .iter()
        .filter(|o| o.coating == p.coating && o.id != p.id)
        .map(|o| forecast(&o.cut(cut_h + by_h).panel(false), &Settings::shown()).unwrap())
        .collect();
    let older: Vec<Older> = older.iter().map(|forecast| Older { by_h, forecast }).collect();
    let cut = p.cut(cut_h);
    let mut panel = cut.panel(false);
    panel.older = &older;
    let f = forecast(&panel, &Settings::shown()).unwrap();
    (hit(p, &f), f.older.iter().filter(|o| matches!(o, OlderUse::Used { .. })).count())
}

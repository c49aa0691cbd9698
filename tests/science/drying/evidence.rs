//! What the forecast is worth, as tables: coverage, width and error of the final mass, and the settled verdict, of every kind
//! of panel there is, with and without stated solids. All of it by hand:
//! `cargo test --release --no-default-features --test drying evidence::all -- --ignored --nocapture`.

use crate::fresh::{Kind, panels};
use crate::simulated::{CUTS_H, Simulated, bank, parallel, quantile, thin_bank};
use comb_scale::science::drying::{
    Certainty, FilmScale, Forecast, Panel, SHEET_SD, Settings, Weighing, dish_sd, forecast,
};

/// What is stated of a panel's solids beside its weights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stated {
    Nothing,
    /// The sheet as the bank has it (sd 0.02), so much off.
    Sheet(f64),
    /// A dish that is so much off the truth.
    Dish(f64),
    NoBareWeight,
}

/// What a bank's forecasts were worth at one cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// Share of the panels whose final mass lies in its interval.
    pub covered: f64,
    /// Median width and median error, g.
    pub width_g: f64,
    pub error_g: f64,
    /// Panels that were answered.
    pub answered: usize,
}

pub fn film(p: &Simulated) -> FilmScale {
    FilmScale {
        area_cm2: p.area_cm2,
        u_area_cm2: 0.01 * p.area_cm2,
        solvent_density: p.solvent_density,
        u_solvent_density: 0.02,
    }
}

/// The panel's forecast at a cut.
pub fn told(p: &Simulated, cut_h: f64, stated: Stated) -> Option<Forecast> {
    let cut = p.cut(cut_h);
    let mut panel = Panel { film: Some(film(p)), ..cut.panel(false) };
    match stated {
        Stated::Nothing => {}
        Stated::NoBareWeight => panel.bare_g = None,
        Stated::Sheet(off) => {
            panel.sheet_solids = Some((p.sheet_solids + off).clamp(0.01, 0.99));
            panel.solids_sd = SHEET_SD;
        }
        Stated::Dish(off) => {
            panel.sheet_solids = Some((p.true_solids() + off).clamp(0.01, 0.99));
            panel.solids_sd = dish_sd(0.01);
        }
    }
    forecast(&panel, &Settings::shown()).ok()
}

pub fn worth(panels: &[&Simulated], stated: Stated) -> Vec<Worth> {
    let hits = parallel(panels, |p| {
        CUTS_H.map(|cut_h| {
            let f = told(p, cut_h, stated)?;
            let (last, truth) = (f.final_gross_g, p.bare_g + p.final_coat_g);
            Some(((last.low..=last.high).contains(&truth), last.width(), (last.mean - truth).abs()))
        })
    });
    (0..CUTS_H.len())
        .map(|c| {
            let at: Vec<(bool, f64, f64)> = hits.iter().filter_map(|h| h[c]).collect();
            if at.is_empty() {
                return Worth { covered: f64::NAN, width_g: f64::NAN, error_g: f64::NAN, answered: 0 };
            }
            Worth {
                covered: at.iter().filter(|h| h.0).count() as f64 / at.len() as f64,
                width_g: quantile(at.iter().map(|h| h.1).collect(), 0.5),
                error_g: quantile(at.iter().map(|h| h.2).collect(), 0.5),
                answered: at.len(),
            }
        })
        .collect()
}

pub fn print_worth(name: &str, panels: &[&Simulated], stated: Stated) -> Vec<Worth> {
    let rows = worth(panels, stated);
    let cells: Vec<String> = rows
        .iter()
        .map(|w| {
            let few = if w.answered < panels.len() { format!(" ({})", w.answered) } else { String::new() };
            format!("{:3.0}/{:.2}/{:.2}{few}", 100.0 * w.covered, w.width_g, w.error_g)
        })
        .collect();
    let mean = 100.0 * rows.iter().map(|w| w.covered).sum::<f64>() / rows.len() as f64;
    println!("{name:<34} n {:3} | {} | mean {mean:.1} %", panels.len(), cells.join(" | "));
    rows
}

/// How the settled verdict did on a bank.
#[derive(Debug, Clone, Default)]
pub struct Calls {
    pub panels: usize,
    /// Panels that were truly dry by their last reading, and how many of these were called.
    pub dry: usize,
    pub dry_called: usize,
    pub called: usize,
    pub falsely: usize,
    /// Ids of the false ones.
    pub false_ids: Vec<String>,
    /// Days from the truth to the call.
    pub delays_d: Vec<f64>,
}

/// The first yes of a watcher who asks at every reading. A yes is false when more than its limit is still to lose.
pub fn calls(panels: &[&Simulated], certainty: Certainty, sheet: bool, repeats: usize) -> Calls {
    let found = parallel(panels, |p| {
        (5..=p.readings.len()).find_map(|n| {
            let cut = p.first(n);
            let weighings: Vec<Weighing> = p.weighings(n, repeats);
            let panel = Panel { film: Some(film(p)), certainty, weighings: &weighings, ..cut.panel(sheet) };
            let f = forecast(&panel, &Settings::shown()).ok()?;
            f.steady().then_some((p.readings[n - 1].t_h, f.steady_limit_g))
        })
    });
    let mut calls = Calls { panels: panels.len(), ..Calls::default() };
    for (p, call) in panels.iter().zip(found) {
        let loss = p.remaining_g(0.0);
        let limit = (2.0 * p.division_g).max(0.01 * loss).min(3.0 / film(p).um_per_g());
        let last = p.readings[p.readings.len() - 1].t_h;
        let dry_h = (0..=2160).map(f64::from).find(|&t| p.remaining_g(t) <= limit).unwrap_or(2160.0);
        let dry = dry_h <= last;
        calls.dry += usize::from(dry);
        if let Some((t, limit)) = call {
            calls.called += 1;
            calls.dry_called += usize::from(dry);
            calls.delays_d.push((t - dry_h) / 24.0);
            if p.remaining_g(t) > limit {
                calls.falsely += 1;
                calls.false_ids.push(p.id.clone());
            }
        }
    }
    calls
}

pub fn print_calls(name: &str, panels: &[&Simulated], certainty: Certainty, sheet: bool, repeats: usize) -> Calls {
    let c = calls(panels, certainty, sheet, repeats);
    let share = |k: usize, n: usize| 100.0 * k as f64 / n.max(1) as f64;
    let delay = if c.delays_d.is_empty() { f64::NAN } else { quantile(c.delays_d.clone(), 0.5) };
    println!(
        "{name:<34} {certainty:?}: {} of {} dry called ({:.0} %), {} false of {} ({:.1} %), median delay {delay:.1} d {}",
        c.dry_called,
        c.dry,
        share(c.dry_called, c.dry),
        c.falsely,
        c.panels,
        share(c.falsely, c.panels),
        c.false_ids.join(" ")
    );
    c
}

fn of_kind<'a>(panels: &'a [Simulated], kind: &str) -> Vec<&'a Simulated> {
    panels.iter().filter(|p| p.kind == kind).collect()
}

/// Shares covered at the cuts, on average, %.
fn mean_covered(rows: &[Worth]) -> f64 {
    100.0 * rows.iter().map(|w| w.covered).sum::<f64>() / rows.len() as f64
}

/// Thin coats and sudden ends are answered at every cut, and hold.
#[test]
fn thin_and_abrupt_coats() {
    let bank = thin_bank();
    let least = [("thin", 95.0, 95.0), ("abrupt", 92.0, 95.0)];
    for (kind, alone, with_sheet) in least {
        let panels = of_kind(&bank, kind);
        for (stated, least) in [(Stated::Nothing, alone), (Stated::Sheet(0.0), with_sheet)] {
            let rows = print_worth(&format!("{kind}, {stated:?}"), &panels, stated);
            assert!(rows.iter().all(|w| w.answered == panels.len()), "all are answered");
            assert!(mean_covered(&rows) >= least, "{kind} {stated:?}");
        }
    }
}

/// A sheet that is 0.04 off, and a dish, leave intervals that hold.
#[test]
fn sheets_that_are_off() {
    let bank = bank();
    let panels: Vec<&Simulated> = of_kind(&bank, "single").into_iter().step_by(3).collect();
    let stated =
        [Stated::Sheet(0.04), Stated::Sheet(-0.04), Stated::Dish(0.0), Stated::Dish(0.01), Stated::Dish(-0.01)];
    for stated in stated {
        let rows = print_worth(&format!("single, {stated:?}"), &panels, stated);
        assert!(mean_covered(&rows) >= 93.0, "{stated:?}");
    }
}

/// Of what is told as a number, on fresh panels and without a bare weight too, hardly any lies farther off than its interval is
/// wide: a loss that runs straight on does not say where it ends, and is not told.
#[test]
fn no_number_is_far_off() {
    for kind in [Kind::Single, Kind::Stay, Kind::Thin, Kind::Abrupt] {
        let panels = panels(kind, 25, 20_270_707);
        for stated in [Stated::Nothing, Stated::Sheet(0.0), Stated::NoBareWeight] {
            let off = parallel(&panels, |p| {
                let told =
                    [8.0, 24.0, 48.0, 96.0, 168.0].map(|cut_h| told(p, cut_h, stated).filter(|f| !f.too_early()));
                let widths_off = told.into_iter().flatten().map(|f| {
                    let (last, truth) = (f.final_gross_g, p.bare_g + p.final_coat_g);
                    (last.low - truth).max(truth - last.high) / last.width()
                });
                widths_off.collect::<Vec<f64>>()
            })
            .concat();
            let far = off.iter().filter(|off| **off > 1.0).count();
            let missed = off.iter().filter(|off| **off > 0.0).count();
            println!(
                "{kind:?}, {stated:?}: {} told as numbers, {missed} miss, {far} by more than their width",
                off.len()
            );
            assert!(100 * far <= off.len(), "{kind:?} {stated:?}");
        }
    }
}

/// Steady is called of thin coats seldom before its time.
#[test]
fn thin_coats_called_steady() {
    let bank = thin_bank();
    let thin = of_kind(&bank, "thin");
    let c = print_calls("thin", &thin, Certainty::Usual, false, 1);
    assert!(c.falsely * 100 <= 4 * c.panels && c.dry_called * 100 >= 80 * c.dry);
    let fresh = panels(Kind::Thin, 30, 20_271);
    let c = print_calls(
        "thin, fresh, every second of other physics",
        &fresh.iter().collect::<Vec<_>>(),
        Certainty::Usual,
        false,
        1,
    );
    assert!(c.falsely <= 2);
}

/// All tables, on the public banks and on fresh panels.
#[test]
#[ignore = "minutes; by hand"]
fn all() {
    let public = [bank(), thin_bank()].concat();
    let kinds = [(Kind::Single, 300), (Kind::Stay, 60), (Kind::Thin, 100), (Kind::Abrupt, 60)];
    let fresh: Vec<Simulated> = kinds.into_iter().flat_map(|(kind, n)| panels(kind, n, 20_270_202)).collect();
    let certainties = [Certainty::Cautious, Certainty::Usual, Certainty::Quick];
    // Dry, called, all, falsely.
    let mut of_all = [[0; 4]; 3];
    for (name, bank) in [("public", public), ("fresh", fresh)] {
        for kind in ["single", "stay", "thin", "abrupt"] {
            let panels = of_kind(&bank, kind);
            let stated = [0.0, 0.04, -0.04].map(Stated::Sheet);
            let dishes = [0.0, 0.01, -0.01].map(Stated::Dish);
            for stated in [Stated::Nothing, Stated::NoBareWeight].into_iter().chain(stated).chain(dishes) {
                print_worth(&format!("{name} {kind}, {stated:?}"), &panels, stated);
            }
            for (certainty, of_all) in certainties.into_iter().zip(&mut of_all) {
                let c = print_calls(&format!("{name} {kind}"), &panels, certainty, false, 1);
                for (all, one) in of_all.iter_mut().zip([c.dry, c.dry_called, c.panels, c.falsely]) {
                    *all += one;
                }
                if name == "fresh" {
                    print_calls(&format!("{name} {kind}, three a round"), &panels, certainty, false, 3);
                }
            }
        }
    }
    for (certainty, [dry, called, all, falsely]) in certainties.into_iter().zip(of_all) {
        println!("{certainty:?}: {called} of {dry} dry called, {falsely} false of {all}");
        let calls = certainty.calls();
        assert!((called as f64 / dry as f64 - calls.of_dry).abs() < 0.006, "{certainty:?}");
        assert!((falsely as f64 / all as f64 - calls.falsely).abs() < 0.001, "{certainty:?}");
    }
}

//! What would tell, held against what told: of panels that are not called steady, the chance foretold and the share that were.

use crate::evidence::film;
use crate::fresh::{Kind, panels};
use crate::simulated::{Simulated, parallel};
use comb_scale::science::drying::{
    Balance, Forecast, NotYet, Panel, Scale, Settings, Verdict, Way, Weighing, forecast,
};

/// The forecast of the first `n` rounds, each weighed so many times.
fn told(p: &Simulated, n: usize, repeats: usize) -> Option<Forecast> {
    let cut = p.first(n);
    let weighings = p.weighings(n, repeats);
    let panel = Panel { film: Some(film(p)), weighings: &weighings, ..cut.panel(false) };
    forecast(&panel, &Settings::shown()).ok()
}

/// A chance foretold, and whether it came so.
type Foretold = (f64, bool);

/// At each reading of a day or later that is not steady: the chance of the next day and of the next week, and what came.
fn foretold(p: &Simulated) -> (Vec<Foretold>, Vec<Foretold>) {
    let ages: Vec<f64> = p.readings.iter().map(|w| w.t_h).collect();
    let all: Vec<Option<Forecast>> = (1..=ages.len()).map(|n| told(p, n, 1)).collect();
    let (mut next_day, mut in_time) = (Vec::new(), Vec::new());
    for (i, now) in all.iter().enumerate() {
        let Some(now) = now.as_ref().filter(|now| now.newest_age_h >= 20.0 && !now.steady()) else { continue };
        // A move ahead is not foreseen, and the first readings after it are no guide.
        let moves_ahead = p.move_h.is_some_and(|m| m > now.newest_age_h - 20.0 && m < now.newest_age_h + 200.0);
        if moves_ahead {
            continue;
        }
        let [outlook] = now.what_would_tell(&[Way::OneWeighing])[..] else { panic!("one way, one outlook") };
        let tells = |f: &Option<Forecast>| {
            f.as_ref().is_some_and(|f| if now.too_early() { !f.too_early() } else { f.steady() })
        };
        if let Some(next) = all.get(i + 1)
            && (18.0..30.0).contains(&(ages[i + 1] - ages[i]))
        {
            next_day.push((outlook.next_day, tells(next)));
        }
        if ages[ages.len() - 1] >= ages[i] + 320.0 {
            let until = ages.iter().take_while(|t| **t <= ages[i] + 345.0).count();
            in_time.push((outlook.by_then, all[i + 1..until].iter().any(tells)));
        }
    }
    (next_day, in_time)
}

fn table(name: &str, all: &[Foretold]) -> (f64, f64) {
    let mean = |of: &[Foretold]| {
        let n = of.len().max(1) as f64;
        (of.iter().map(|f| f.0).sum::<f64>() / n, of.iter().filter(|f| f.1).count() as f64 / n)
    };
    let bins = [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.01];
    let cells = bins.windows(2).map(|edges| {
        let of: Vec<Foretold> = all.iter().copied().filter(|f| (edges[0]..edges[1]).contains(&f.0)).collect();
        let (foretold, came) = mean(&of);
        format!("{:.0}→{:.0} ({})", 100.0 * foretold, 100.0 * came, of.len())
    });
    let (foretold, came) = mean(all);
    println!(
        "{name:<28} {} | all {:.1} → {:.1} %",
        cells.collect::<Vec<_>>().join("  "),
        100.0 * foretold,
        100.0 * came
    );
    (foretold, came)
}

/// On fresh panels the chance foretold of the next day and of two weeks is the share that came, give or take a tenth (a fifth); of the
/// single panels, which rise fast after their move into the sun, the two weeks are mostly over before they are asked about.
#[test]
fn what_was_foretold_came() {
    for (kind, n) in [(Kind::Stay, 30), (Kind::Thin, 30), (Kind::Single, 20), (Kind::Abrupt, 20)] {
        let panels = panels(kind, n, 20_270_404);
        let all = parallel(&panels, foretold);
        let next_day: Vec<Foretold> = all.iter().flat_map(|a| a.0.clone()).collect();
        let in_time: Vec<Foretold> = all.iter().flat_map(|a| a.1.clone()).collect();
        let (foretold, came) = table(&format!("{kind:?}, next day"), &next_day);
        assert!((foretold - came).abs() < 0.12, "{kind:?}: {foretold} {came}");
        let (foretold, came) = table(&format!("{kind:?}, within 14 d"), &in_time);
        assert!((foretold - came).abs() < 0.2 || in_time.len() < 10, "{kind:?}: {foretold} {came}");
    }
}

/// The ways stand to each other as they must: later is likelier, three weighings are no worse than one, and a scale that cannot
/// see the rest is helped by one that can, or by a panel as many times as large.
#[test]
fn ways_stand_to_each_other() {
    let all = panels(Kind::Stay, 12, 20_270_405);
    let mut blind = 0;
    for p in &all {
        for n in [9, 12, 16, p.readings.len()] {
            let Some(f) = told(p, n, 1) else { continue };
            let ways = f.usual_ways();
            let told = f.what_would_tell(&ways);
            if f.steady() {
                assert!(told.is_empty());
                continue;
            }
            assert_eq!(told.len(), 4);
            for outlook in &told {
                assert!(0.0 <= outlook.next_day && outlook.next_day <= outlook.by_then && outlook.by_then <= 1.0);
                assert_eq!(outlook.even_days.is_some(), outlook.by_then >= 0.5);
            }
            assert!(told[1].by_then >= told[0].by_then - 0.1, "three weighings a round: {told:?}");
            assert_eq!(f.what_would_tell(&ways), told, "the same forecast says the same");
            // The same panel on a scale of half a gram.
            let half = |g: f64| 0.5 * (2.0 * g).round();
            let coarse: Vec<Weighing> =
                p.weighings(n, 1).iter().map(|w| Weighing::new(w.t_h, half(w.gross_g))).collect();
            let balance = Balance::new(Scale::new(0.5), &[]);
            let panel = Panel { film: Some(film(p)), ..Panel::new(&balance, Some(p.bare_g), &coarse) };
            let Ok(coarse) = forecast(&panel, &Settings::shown()) else { continue };
            if let Verdict::NotYet(NotYet::ScaleCannotSee { .. }) = coarse.verdict {
                let [one, _, finer, larger] = coarse.what_would_tell(&coarse.usual_ways())[..] else {
                    panic!("four ways")
                };
                assert_eq!(one.by_then, 0.0, "this scale will never tell");
                blind += usize::from(finer.by_then > 0.0 && larger.by_then > 0.0);
            }
        }
    }
    assert!(blind > 0);
}

//! Dated forecasts, time until, film after a day, the next weigh-in and panels without a bare weight, on the bank.

use crate::simulated::{Simulated, bank, parallel, quantile};
use comb_scale::science::drying::{CoatMass, FilmScale, Forecast, Panel, Settings, forecast};
use statrs::distribution::{Binomial, DiscreteCDF};

fn shown(panel: &Panel) -> Forecast {
    forecast(panel, &Settings::shown()).unwrap()
}

#[test]
fn look() {
    let bank = bank();
    let stay: Vec<&Simulated> = bank.iter().filter(|p| p.kind == "stay").collect();
    for (cut, t) in [(24.0, 96u32), (48.0, 168), (96.0, 240), (168.0, 336), (336.0, 720)] {
        let hits = parallel(&stay, |p| {
            let c = p.cut(cut);
            let f = shown(&c.panel(false));
            let e = f.at(f64::from(t));
            let truth = p.coat_g_at_h[&t] + p.bare_g;
            let rest = f.still_to_lose_at(f64::from(t));
            let truth_rest = (p.coat_g_at_h[&t] - p.final_coat_g).max(0.0);
            let film = FilmScale { area_cm2: p.area_cm2, u_area_cm2: 0.01 * p.area_cm2, solvent_density: p.solvent_density, u_solvent_density: 0.02 };
            let um = f.film_still_to_go(f64::from(t), &film).unwrap();
            let truth_um = truth_rest * film.um_per_g();
            (e.low <= truth && truth <= e.high, e.width(), rest.low <= truth_rest && truth_rest <= rest.high, um.low <= truth_um && truth_um <= um.high, um.width())
        });
        let miss = parallel(&stay, |p| { let c = p.cut(cut); let f = shown(&c.panel(false)); let r = f.still_to_lose_at(f64::from(t)); let truth = (p.coat_g_at_h[&t] - p.final_coat_g).max(0.0);
            let now = f.still_to_lose_g.estimate; let tn = (p.coat_g_at_h.get(&(cut as u32)).unwrap() - p.final_coat_g).max(0.0);
            (truth < r.low, truth > r.high, tn < now.low, tn > now.high, truth, r.low, r.high) });
        println!("   rest low {} high {}; now low {} high {} med truth {:.3} low {:.3} high {:.3}", miss.iter().filter(|m| m.0).count(), miss.iter().filter(|m| m.1).count(), miss.iter().filter(|m| m.2).count(), miss.iter().filter(|m| m.3).count(), quantile(miss.iter().map(|m| m.4).collect(), 0.5), quantile(miss.iter().map(|m| m.5).collect(), 0.5), quantile(miss.iter().map(|m| m.6).collect(), 0.5));
        let n = hits.len();
        println!("{cut} -> {t}: mass {}/{n} w {:.2} rest {} film {} w {:.1}", hits.iter().filter(|h| h.0).count(), quantile(hits.iter().map(|h| h.1).collect(), 0.5), hits.iter().filter(|h| h.2).count(), hits.iter().filter(|h| h.3).count(), quantile(hits.iter().map(|h| h.4).collect(), 0.5));
    }
    // Next weigh-in
    let single: Vec<&Simulated> = bank.iter().filter(|p| p.kind == "single").take(100).collect();
    for (cut, adds) in [(24.0, [24.0, 48.0, 72.0]), (48.0, [24.0, 48.0, 72.0]), (96.0, [24.0, 48.0, 72.0]), (144.0, [24.0, 48.0, 96.0])] {
        let shares = parallel(&single, |p| {
            let c = p.cut(cut);
            let f = shown(&c.panel(false));
            f.next_weigh_in(adds.map(|a| cut + a)).iter().map(|g| g.share).collect::<Vec<_>>()
        });
        let actual = parallel(&single, |p| {
            let whole = p.cut(1000.0);
            let n = p.readings.iter().filter(|w| w.t_h <= 1.04 * cut + 0.1).count();
            let before = shown(&p.first(n).panel(false)).final_gross_g.width();
            adds.map(|a| {
                let next = p.readings.iter().filter(|w| (w.t_h - cut - a).abs() < 14.0).min_by(|x, y| (x.t_h - cut - a).abs().total_cmp(&(y.t_h - cut - a).abs()));
                let Some(next) = next else { return 0.8 };
                let mut w = whole.readings[..n].to_vec();
                w.push(*next);
                let mut panel = whole.panel(false);
                panel.weighings = &w;
                shown(&panel).final_gross_g.width() / before
            }).to_vec()
        });
        println!("actual {cut}: {:?}", (0..3).map(|k| quantile(actual.iter().map(|s| s[k]).collect(), 0.5)).collect::<Vec<_>>());
        println!("after {cut}: {:?}", (0..3).map(|k| quantile(shares.iter().map(|s| s[k]).collect(), 0.5)).collect::<Vec<_>>());
    }
    for cut in [24.0, 48.0, 96.0, 168.0, 336.0, 504.0] {
        let hits = parallel(&single, |p| {
            let c = p.cut(cut);
            let mut panel = c.panel(false);
            panel.bare_g = None;
            let f = shown(&panel);
            assert_eq!(f.coat, CoatMass::NotAvailable);
            let truth = p.bare_g + p.final_coat_g;
            (f.final_gross_g.low <= truth && truth <= f.final_gross_g.high, f.final_gross_g.width())
        });
        println!("no bare {cut}: {} w {:.2}", hits.iter().filter(|h| h.0).count(), quantile(hits.iter().map(|h| h.1).collect(), 0.5));
    }
    for (cut, t) in [(24.0, 96u32), (48.0, 168), (96.0, 240), (168.0, 336), (336.0, 720)] {
        let hits = parallel(&stay, |p| {
            let f = shown(&p.cut(cut).panel(false));
            // The truth's remaining loss at t: when is it reached?
            let rest = p.coat_g_at_h[&t] - p.final_coat_g;
            let h = f.hours_until(rest);
            let truth = f64::from(t) - f.newest_age_h;
            (rest <= 0.0 || h.low <= truth + 0.3 && truth <= h.high + 0.3 || h.high >= 2160.0, h.median / truth)
        });
        println!("until {cut}: {} ratio {:.2}", hits.iter().filter(|h| h.0).count(), quantile(hits.iter().map(|h| h.1).collect(), 0.5));
    }
    let _ = Binomial::new(0.5, 1).unwrap().inverse_cdf(0.5);
}

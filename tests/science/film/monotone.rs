//! What must rise or fall with what, whatever the numbers. Each subject's own tests have some more of it.

use comb_scale::science::comb::{CombPrior, Interval, wet_film};
use comb_scale::science::compare::{PanelValue, candidate, days_at_build};
use comb_scale::science::mix::amount_to_mix;
use comb_scale::science::routes::{DryDensity, Known, Route, Wet, final_build};
use comb_scale::science::solids::{film, reduced_solids, volume_solids, wet_for_dry};
use comb_scale::science::spread::{coats_needed, coverage};
use comb_scale::science::stats::{holm, least_shown, panels_needed, power};
use comb_scale::science::weigh::reading_u;
use comb_scale::science::{Measured, air};
use proptest::prelude::*;

fn exact(value: f64) -> Measured {
    Measured::exact(value)
}

/// Mean build of a panel by one route.
fn build_by(route: Route, wet_um: f64, final_g: f64, solids: f64, thinning: f64, dry_density: f64) -> Option<f64> {
    let known = Known {
        wet: Some(Wet { readings: Measured::new(wet_um, 5.0).into(), bias_um: 4.0 }),
        wet_mass_g: Some(Measured::new(582.0, 0.05)),
        final_mass_g: Some(Measured::new(final_g, 0.05).into()),
        bare_mass_g: Some(Measured::new(560.0, 0.05)),
        area_cm2: Measured::new(900.0, 9.0),
        solvent_density: Measured::new(0.87, 0.03),
        volume_solids: Some(Measured::new(solids, 0.02)),
        thinning: exact(thinning),
        dry_density: Some(DryDensity::Known(Measured::new(dry_density, 0.05))),
        gauge_um: None,
        sheet_is_lower_bound: false,
    };
    let build = final_build(&known);
    build.routes.iter().find(|one| one.route == route)?.build.as_ref().ok().map(|build| build.mean_um)
}

proptest! {
    #[test]
    fn films_and_masses(mass in 0.5..60.0_f64, rho in 0.8..3.0_f64, area in 50.0..2000.0_f64, by in 1.01..2.0_f64) {
        let um = |mass, rho, area| film(exact(mass), exact(rho), exact(area)).map(|film| film.value);
        let at = um(mass, rho, area)?;
        prop_assert!(um(mass * by, rho, area)? > at && um(mass, rho * by, area)? < at && um(mass, rho, area * by)? < at);
    }

    #[test]
    fn solids(nv in 0.5..0.9_f64, rho in 1.0..1.6_f64, rho_s in 0.8..1.0_f64, th in 0.0..0.5_f64, by in 1.001..1.1_f64) {
        let vs = |nv: f64, rho: f64, rho_s: f64| volume_solids(exact(nv), exact(rho), exact(rho_s)).map(|v| v.solids.value);
        if let Ok(at) = vs(nv, rho, rho_s) {
            prop_assert!(vs(nv * by, rho, rho_s)? > at);
            prop_assert!(vs(nv, rho, rho_s * by)? > at);
            // A heavier paint with the same solids by weight has less room for them: it may have none left.
            prop_assert!(vs(nv, rho * by, rho_s).is_ok_and(|v| v < at) || vs(nv, rho * by, rho_s).is_err());
        }
        prop_assert!(reduced_solids(nv, th * by + 1e-6)? < reduced_solids(nv, th)?);
        prop_assert!(wet_for_dry(80.0 * by, nv, th)? > wet_for_dry(80.0, nv, th)?);
        prop_assert!(wet_for_dry(80.0, nv * by, th)? < wet_for_dry(80.0, nv, th)?);
    }

    #[test]
    fn routes(wet in 140.0..220.0_f64, final_g in 572.0..579.0_f64, solids in 0.3..0.7_f64, rho in 1.5..2.3_f64, more in 0.1..2.0_f64) {
        let at = |route, wet, final_g, solids, th, rho| build_by(route, wet, final_g, solids, th, rho);
        for (route, wet_counts, mass_counts) in
            [(Route::CombAndScale, true, true), (Route::Sheet, true, false), (Route::ScaleAndDensity, false, true)]
        {
            let Some(now) = at(route, wet, final_g, solids, 0.1, rho) else { continue };
            let thicker = at(route, wet + more, final_g, solids, 0.1, rho).expect("a thicker film is a film");
            let heavier = at(route, wet, final_g + 0.1 * more, solids, 0.1, rho).expect("a heavier film is a film");
            prop_assert_eq!(thicker > now, wet_counts, "{:?} {}", route, thicker - now);
            prop_assert_eq!(heavier > now, mass_counts, "{:?} {}", route, heavier - now);
        }
        let sheet = |solids, th| at(Route::Sheet, wet, final_g, solids, th, rho);
        prop_assert!(sheet(solids + 0.05, 0.1) > sheet(solids, 0.1) && sheet(solids, 0.2) < sheet(solids, 0.1));
        let dense = |rho| at(Route::ScaleAndDensity, wet, final_g, solids, 0.1, rho);
        prop_assert!(dense(rho + 0.1) < dense(rho));
    }

    /// The whole comb reading one tooth higher is a thicker film; a wider gap is a less certain one.
    #[test]
    fn dabs(low in 50.0..300.0_f64, step in 5.0..40.0_f64, count in 1..5_usize) {
        let read = |low: f64, step: f64| {
            let dab = Interval { low_um: Some(low), high_um: Some(low + step), touched_um: None };
            wet_film(&vec![dab; count], &CombPrior::default()).expect("a film")
        };
        prop_assert!(read(low + step, step).mean_um > read(low, step).mean_um);
        prop_assert!(read(low - 0.5 * step, 2.0 * step).sd_um > read(low, step).sd_um);
    }

    #[test]
    fn plans(area in 100.0..9000.0_f64, um in 50.0..300.0_f64, te in 0.2..0.9_f64, dead in 0.0..100.0_f64, by in 1.01..1.1_f64) {
        let ml = |area, um, coats, te, dead| amount_to_mix(area, um, coats, te, dead);
        let at = ml(area, um, 2, te, dead)?;
        prop_assert!(ml(area * by, um, 2, te, dead)? > at && ml(area, um * by, 2, te, dead)? > at);
        prop_assert!(ml(area, um, 3, te, dead)? > at && ml(area, um, 2, te * by, dead)? < at);
        prop_assert!(ml(area, um, 2, te, dead + by)? > at);
        prop_assert!(coverage(te, 0.5, um)? < coverage(te * by, 0.5, um)? && coverage(te, 0.5 * by, um)? > coverage(te, 0.5, um)?);
        let coats = |wanted, sanding| coats_needed(wanted, sanding, te, 0.1, 120.0);
        prop_assert!(coats(um * by, 10.0)?.coats >= coats(um, 10.0)?.coats && coats(um, 30.0)?.wet_um > coats(um, 10.0)?.wet_um);
    }

    #[test]
    fn air_and_scale(t in -5.0..40.0_f64, rh in 5.0..95.0_f64, panel in -5.0..40.0_f64, more in 0.01..2.0_f64, u in 0.0..3.0_f64) {
        let dew = |t, rh| air::dew_point(Measured::new(t, 0.5), Measured::new(rh, u));
        let margin = |panel| air::dew_margin(exact(panel), dew(t, rh)?);
        prop_assert!(margin(panel + more)?.margin_k.value > margin(panel)?.margin_k.value);
        prop_assert!(margin(panel)?.keeps_5f || !margin(panel)?.keeps_3c, "the rule in °C asks for more");
        prop_assert!(margin(panel + more)?.keeps_3c || !margin(panel)?.keeps_3c);
        let surer = air::dew_point(Measured::new(t, 0.5), Measured::new(rh, 0.5 * u))?;
        prop_assert!(surer.u <= dew(t, rh)?.u);
        prop_assert!(reading_u(0.1 * more, u)? < reading_u(0.1 * more + 0.01, u)? && reading_u(0.1, u)? < reading_u(0.1, u + 0.01)?);
    }

    #[test]
    fn evidence(
        effect in 0.3..3.0_f64, more in 0.01..0.5_f64, n in 2..20_usize, p in prop::collection::vec(0.0..1.0_f64, 1..6),
        days in 0.5..30.0_f64, um in 30.0..150.0_f64, values in prop::collection::vec(60.0..90.0_f64, 2..6),
    ) {
        prop_assert!(power(effect + more, n, 0.05)? >= power(effect, n, 0.05)?);
        prop_assert!(power(effect, n, 0.05)? <= power(effect, n, 0.06)?);
        let needed = |effect, comparisons| panels_needed(effect, comparisons, 0.8).map(|n| n.unwrap_or(usize::MAX));
        prop_assert!(needed(effect + more, 1)? <= needed(effect, 1)? && needed(effect, 3)? >= needed(effect, 1)?);
        let least = |n| least_shown(n, 0.05, 0.8).map(Option::unwrap);
        prop_assert!(least(n + 1)? < least(n)?);
        for (raw, adjusted) in p.iter().zip(holm(&p)?) {
            prop_assert!(adjusted >= *raw && adjusted <= 1.0);
        }
        let (least, most) = days_at_build(days, um, um + 10.0)?;
        prop_assert!(days < least && least <= most);
        let of = |u: f64| {
            let panel = |value: &f64| PanelValue { forecast: Measured::new(0.0, u).into(), ..PanelValue::new(*value, 1.0) };
            candidate(&values.iter().map(panel).collect::<Vec<_>>()).map(|mean| mean.interval.width())
        };
        // Two panels alone are so unsure of their scatter that any known error beside it makes the whole look surer.
        if values.len() > 3 {
            prop_assert!(of(10.0 + more)? > of(10.0)?);
        }
    }
}

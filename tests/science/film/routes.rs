//! Final build by every route.

use crate::rows::{Row, rows};
use comb_scale::science::input::InputError;
use comb_scale::science::routes::{
    Agreement, DryDensity, FinalBuild, Input, Known, NoAnswer, Route, RouteError, Wet, dry_per_wet, final_build,
    normalised_error,
};
use comb_scale::science::{Distribution, Measured};
use proptest::prelude::*;

/// A panel from a row of the table; the comb's own error is in the row's `u_W`.
fn known(row: &Row) -> Known {
    let m = |name: &str| Measured::new(row.num(name), row.num("u_m"));
    Known {
        wet: Some(Wet { readings: Measured::new(row.num("W"), row.num("u_W")).into(), bias_um: 0.0 }),
        wet_mass_g: Some(m("m_wet")),
        final_mass_g: Some(m("m_final").into()),
        bare_mass_g: Some(m("m_tare")),
        area_cm2: Measured::new(row.num("A"), row.num("u_A")),
        solvent_density: Measured::new(row.num("rho_s"), row.num("u_rho_s")),
        volume_solids: Some(Measured::new(row.num("vs"), row.num("u_vs"))),
        thinning: Measured::exact(row.num("th")),
        dry_density: Some(DryDensity::Known(Measured::new(row.num("rho_dry"), row.num("u_rho_dry")))),
        gauge_um: row.maybe("M").map(|film| Measured::new(film, row.num("u_M"))),
        sheet_is_lower_bound: false,
    }
}

fn route(build: &FinalBuild, route: Route) -> &comb_scale::science::routes::Build {
    let one = build.routes.iter().find(|one| one.route == route).expect("every route is listed");
    one.build.as_ref().expect("the route has its numbers")
}

/// Covariance of two routes from what each input brings to them.
fn covariance(build: &FinalBuild, a: Route, b: Route) -> f64 {
    let um = |one: Route, input: Input| {
        route(build, one).contributions.iter().find(|c| c.input == input).map_or(0.0, |c| c.um)
    };
    route(build, a).contributions.iter().map(|c| c.um * um(b, c.input)).sum()
}

/// GUM eqs (10), (13), computed with the Python package `uncertainties`.
#[test]
fn three_routes_with_gum_covariance() {
    use Route::{CombAndScale as A, ScaleAndDensity as C, Sheet as B};
    for row in rows("routes/three", 3) {
        let build = final_build(&known(&row));
        for (name, one) in [("A", A), ("B", B), ("C", C)] {
            row.check(&format!("D_{name}"), route(&build, one).mean_um);
            row.check(&format!("u_{name}"), route(&build, one).u_um);
        }
        row.check("cov_AB", covariance(&build, A, B));
        row.check("cov_AC", covariance(&build, A, C));
        row.check("cov_BC", covariance(&build, B, C));
    }
}

/// Generalised least squares, computed with `uncertainties` and numpy. The third row is beyond χ²(0.95; 2) = 5.991.
#[test]
fn routes_combined_by_generalised_least_squares() {
    for row in rows("routes/combine", 3) {
        let build = final_build(&known(&row));
        match &build.agreement {
            Agreement::Agree { chi2, degrees: 2 } => {
                row.check("chi2", *chi2);
                row.check_yes("consistent", true);
                let answer = build.answer.as_ref().expect("a combined answer");
                row.check("D", answer.mean_um);
                row.check("u_D", answer.u_um);
                for (name, (_, weight)) in ["w_A", "w_B", "w_C"].iter().zip(&build.weights) {
                    row.check(name, *weight);
                }
            }
            Agreement::Disagree { chi2, degrees: 2, causes } => {
                row.check("chi2", *chi2);
                row.check_yes("consistent", false);
                assert_eq!(build.answer, Err(NoAnswer::Disagree));
                assert_eq!(
                    causes[0].input,
                    Input::CombReadings,
                    "a comb reading far too high is the cause: {causes:?}"
                );
                assert!(causes[0].off_by < -50.0);
            }
            other => panic!("unexpected {other:?}"),
        }
    }
}

/// E_n with coverage factor 2, computed with `uncertainties`.
#[test]
fn each_route_against_the_gauge() {
    for row in rows("routes/en_each", 3) {
        let build = final_build(&known(&row));
        for (name, one) in [("E_A", Route::CombAndScale), ("E_B", Route::Sheet), ("E_C", Route::ScaleAndDensity)] {
            row.check(name, build.routes.iter().find(|r| r.route == one).and_then(|r| r.against_gauge));
        }
    }
}

/// Inverse-variance update, computed with numpy: a panel whose routes and gauge agree is one.
#[test]
fn gauge_and_routes_are_weighed_by_their_variances() {
    for (row, update) in rows("routes/en_each", 3).iter().zip(rows("routes/update", 2)) {
        let predicted = Measured::new(update.num("D"), update.num("u_D"));
        let measured = Measured::new(update.num("M"), update.num("u_M"));
        update.check("E_n", normalised_error(measured, predicted).ok());
        let build = final_build(&known(row)).answer.expect("gauge and routes agree");
        update.check("post", build.mean_um);
        update.check("u_post", build.u_um);
    }
}

/// Ratio that a gauged panel implies, computed with `uncertainties`.
#[test]
fn gauged_panel_implies_its_ratio() {
    for row in rows("routes/implied", 3) {
        let m = Measured::new(row.num("M"), row.num("u_M"));
        let wet = Measured::new(row.num("W"), row.num("u_W"));
        let ratio = dry_per_wet(m, wet, Measured::exact(row.num("th"))).expect("numbers");
        row.check("ratio_vs", ratio.value);
        row.check("u_ratio_vs", ratio.u);
    }
}

/// When the routes disagree and a gauge was read, the gauge stands alone.
#[test]
fn gauge_stands_alone_when_routes_disagree() {
    let row = &rows("routes/en_each", 3)[2];
    let build = final_build(&known(row));
    assert!(matches!(build.agreement, Agreement::Disagree { .. }));
    assert_eq!(build.weights, vec![(Route::Gauge, 1.0)]);
    let answer = build.answer.expect("the gauge");
    assert!((answer.mean_um - row.num("M")).abs() < 1e-12 && (answer.u_um - row.num("u_M")).abs() < 1e-12);
}

/// Plain sampling with numpy, no linearisation (scripts/route_sampling.py): a skewed forecast carried through.
#[test]
fn skewed_forecast_agrees_with_sampling() {
    let table: serde_json::Value = serde_json::from_str(include_str!("data/route_sampling.json")).expect("JSON");
    for case in table.as_array().expect("a list") {
        let n = |name: &str| case[name].as_f64().expect("a number");
        // Nodes of the log-normal amount still to lose, at equal steps of its normal score.
        let nodes = (-160..=160).map(|i| {
            let z = 0.04 * f64::from(i);
            (n("top") - (n("ln_median") + n("ln_sd") * z).exp(), (-0.5 * z * z).exp())
        });
        let known = Known {
            wet: Some(Wet { readings: Measured::new(n("film"), n("u")).into(), bias_um: n("bias") }),
            wet_mass_g: Some(Measured::new(n("wet"), n("u_wet"))),
            final_mass_g: Some(Distribution::new(nodes.collect(), 0.0).expect("nodes")),
            bare_mass_g: None,
            area_cm2: Measured::new(n("area"), n("u_area")),
            solvent_density: Measured::new(0.87, 0.03),
            volume_solids: None,
            thinning: Measured::exact(0.0),
            dry_density: None,
            gauge_um: None,
            sheet_is_lower_bound: false,
        };
        let build = final_build(&known);
        let got = route(&build, Route::CombAndScale);
        let tolerance = 0.01 * n("sd");
        for (name, got) in [("mean", got.mean_um), ("low", got.build_um.low), ("high", got.build_um.high)] {
            assert!((got - n(name)).abs() < 2.0 * tolerance, "{name}: got {got}, sampled {}", n(name));
        }
        assert!((got.u_um - n("sd")).abs() < tolerance);
    }
}

fn panel() -> Known {
    Known {
        wet: Some(Wet { readings: Measured::new(160.0, 7.0).into(), bias_um: 4.0 }),
        wet_mass_g: Some(Measured::new(582.31, 0.03)),
        final_mass_g: Some(Distribution::from(Measured::new(575.42, 0.05))),
        bare_mass_g: Some(Measured::new(561.84, 0.03)),
        area_cm2: Measured::new(900.0, 9.0),
        solvent_density: Measured::new(0.87, 0.03),
        volume_solids: Some(Measured::new(0.45, 0.02)),
        thinning: Measured::new(0.0, 0.01),
        dry_density: Some(DryDensity::Known(Measured::new(2.05, 0.06))),
        gauge_um: None,
        sheet_is_lower_bound: false,
    }
}

/// The sheet route on more than one coat: a lower bound, out of the combination and of χ².
#[test]
fn sheet_route_is_only_a_lower_bound_on_more_than_one_coat() {
    // Solids far too low for the other routes: with one coat that is a contradiction, with two it is none.
    let one_coat = Known { volume_solids: Some(Measured::new(0.30, 0.005)), ..panel() };
    assert!(matches!(final_build(&one_coat).agreement, Agreement::Disagree { .. }));
    let two_coats = Known { sheet_is_lower_bound: true, ..one_coat };
    let build = final_build(&two_coats);
    assert!(matches!(build.agreement, Agreement::Agree { degrees: 1, .. }));
    assert!(build.weights.iter().all(|(route, _)| *route != Route::Sheet));
    assert!(!build.below_sheet_bound);
    let too_rich = Known { volume_solids: Some(Measured::new(0.60, 0.005)), ..two_coats };
    assert!(final_build(&too_rich).below_sheet_bound);
}

#[test]
fn missing_numbers_name_themselves() {
    let bare = Known { bare_mass_g: None, wet_mass_g: None, volume_solids: None, ..panel() };
    let build = final_build(&bare);
    let error = |route| build.routes.iter().find(|r| r.route == route).and_then(|r| r.build.as_ref().err()).copied();
    assert_eq!(error(Route::CombAndScale), Some(RouteError::Missing(Input::WetMass)));
    assert_eq!(error(Route::Sheet), Some(RouteError::Missing(Input::VolumeSolids)));
    assert_eq!(error(Route::ScaleAndDensity), Some(RouteError::Missing(Input::BareMass)));
    assert_eq!(error(Route::Gauge), Some(RouteError::Missing(Input::Gauge)));
    assert_eq!(build.answer, Err(NoAnswer::NoRoute));
    let no_area = Known { area_cm2: Measured::new(0.0, 0.0), ..panel() };
    assert_eq!(final_build(&no_area).answer, Err(NoAnswer::Input(InputError::NotPositive("coated area"))));
}

/// A shared error is counted once: with the comb the only error, comb-and-scale and sheet are as uncertain together as the
/// comb makes them, not √2 better.
#[test]
fn comb_error_is_not_averaged_between_its_two_routes() {
    let only_comb = Known {
        wet_mass_g: Some(Measured::exact(582.31)),
        final_mass_g: Some(Measured::exact(575.42).into()),
        bare_mass_g: None,
        area_cm2: Measured::exact(900.0),
        solvent_density: Measured::exact(0.87),
        volume_solids: Some(Measured::new(0.45, 1e-6)),
        thinning: Measured::exact(0.0),
        ..panel()
    };
    let build = final_build(&only_comb);
    let sum: f64 = build.weights.iter().map(|one| one.1).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    assert!(build.weights.iter().any(|one| one.1 < 0.0), "{:?}", build.weights);
}

/// The likeliest cause, planted: one input moved far from its truth while all else is made from one truth.
#[test]
fn planted_error_is_named_first() {
    let truth = |solids: f64, density: f64, film: f64| Known {
        wet: Some(Wet { readings: Measured::new(film, 4.0).into(), bias_um: 3.0 }),
        volume_solids: Some(Measured::new(solids, 0.02)),
        dry_density: Some(DryDensity::Known(Measured::new(density, 0.05))),
        gauge_um: Some(Measured::new(79.7, 1.5)),
        ..panel()
    };
    // 13.58 g on 900 cm² at 1.893 g/cm³ are 79.7 µm; 6.89 g of solvent at 0.87 are 88.0 µm; 167.7 µm wet at 47.5 % as well.
    let first = |known: &Known| match final_build(known).agreement {
        Agreement::Disagree { causes, .. } => Some(causes[0].input),
        _ => None,
    };
    assert_eq!(first(&truth(0.475, 1.893, 167.7)), None);
    assert_eq!(first(&truth(0.75, 1.893, 167.7)), Some(Input::VolumeSolids));
    assert_eq!(first(&truth(0.475, 2.6, 167.7)), Some(Input::DryDensity));
    assert!(matches!(first(&truth(0.475, 1.893, 225.0)), Some(Input::CombReadings)));
}

fn any_density() -> impl Strategy<Value = u8> {
    0..3_u8
}

proptest! {
    /// Data made from one truth: every route returns it.
    #[test]
    fn routes_agree_on_one_truth(
        solids in 0.3..0.8_f64, weight_solids in 0.4..0.85_f64, film in 40.0..300.0_f64, area in 100.0..2000.0_f64,
        solvent in 0.8..1.0_f64, thinning in 0.0..0.3_f64, kind in any_density(),
    ) {
        let mix_solids = solids / (1.0 + thinning);
        let dry = film * mix_solids;
        let lost = (film - dry) * solvent * area * 1e-4;
        // The density that makes weights and volumes one story.
        let density = (1.0 - solids) * solvent / (1.0 - weight_solids);
        let dry_density = density * weight_solids / solids;
        let coat = dry * dry_density * area * 1e-4;
        let exactly = |value: f64| Measured::new(value, 1e-3 * value);
        let known = Known {
            wet: Some(Wet { readings: exactly(film).into(), bias_um: 0.01 * film }),
            wet_mass_g: Some(Measured::new(500.0 + coat + lost, 0.01)),
            final_mass_g: Some(Measured::new(500.0 + coat, 0.01).into()),
            bare_mass_g: Some(Measured::new(500.0, 0.01)),
            area_cm2: exactly(area),
            solvent_density: exactly(solvent),
            volume_solids: Some(exactly(solids)),
            thinning: Measured::new(thinning, 0.001),
            dry_density: Some(match kind {
                0 => DryDensity::Known(exactly(dry_density)),
                1 => DryDensity::Sheet { density: exactly(density), weight_solids: exactly(weight_solids) },
                _ => DryDensity::Balance { density: exactly(density), weight_solids: exactly(weight_solids) },
            }),
            gauge_um: Some(exactly(dry)),
            sheet_is_lower_bound: false,
        };
        let build = final_build(&known);
        for one in &build.routes {
            let got = one.build.as_ref().map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
            prop_assert!((got.mean_um - dry).abs() < 1e-6 * dry, "{:?} {} {dry}", one.route, got.mean_um);
            let shares: f64 = got.contributions.iter().map(|c| c.share).sum();
            prop_assert!((shares - 1.0).abs() < 1e-9);
        }
        let agreed = matches!(build.agreement, Agreement::Agree { degrees: 3, .. });
        prop_assert!(agreed);
        let answer = build.answer.map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
        prop_assert!((answer.mean_um - dry).abs() < 1e-6 * dry);
        prop_assert!(answer.build_um.low < dry && dry < answer.build_um.high);
    }

    /// What an input is said to bring is what the answer moves by when that input moves by its uncertainty.
    #[test]
    fn contributions_are_the_slopes(kind in any_density()) {
        let h = 1e-4;
        let at = |input: Input, sign: f64| {
            let mut k = panel();
            let density = Measured::new(1.3, 0.02);
            let weight_solids = Measured::new(0.65, 0.01);
            let step = |m: Measured, own: Input| {
                if own == input { Measured::new(m.value + sign * h * m.u, m.u) } else { m }
            };
            k.solvent_density = step(k.solvent_density, Input::SolventDensity);
            k.volume_solids = k.volume_solids.map(|m| step(m, Input::VolumeSolids));
            k.thinning = step(Measured::new(0.1, 0.01), Input::Thinning);
            k.area_cm2 = step(k.area_cm2, Input::Area);
            k.wet_mass_g = k.wet_mass_g.map(|m| step(m, Input::WetMass));
            k.bare_mass_g = k.bare_mass_g.map(|m| step(m, Input::BareMass));
            let (density, weight_solids) = (step(density, Input::MixDensity), step(weight_solids, Input::WeightSolids));
            k.dry_density = Some(match kind {
                0 => DryDensity::Known(step(Measured::new(2.05, 0.06), Input::DryDensity)),
                1 => DryDensity::Sheet { density, weight_solids },
                _ => DryDensity::Balance { density, weight_solids },
            });
            final_build(&k)
        };
        let plain = at(Input::Gauge, 0.0);
        for one in [Route::CombAndScale, Route::Sheet, Route::ScaleAndDensity] {
            for c in &route(&plain, one).contributions {
                if matches!(c.input, Input::CombReadings | Input::Comb | Input::FinalMass) {
                    continue;
                }
                let up = route(&at(c.input, 1.0), one).mean_um;
                let down = route(&at(c.input, -1.0), one).mean_um;
                let slope = (up - down) / (2.0 * h);
                prop_assert!((slope - c.um).abs() < 1e-5 * c.um.abs().max(1e-3), "{one:?} {:?}: {slope} {}", c.input, c.um);
            }
        }
    }

    /// Whatever finite numbers come in, no NaN comes out.
    #[test]
    fn no_finite_input_yields_a_nan(n in crate::awkward::numbers(18)) {
        let m = |i: usize| crate::awkward::measured(&n, i);
        let awkward = crate::awkward::known(&n);
        for dry_density in [
            DryDensity::Known(m(15)),
            DryDensity::Sheet { density: m(0), weight_solids: m(15) },
            DryDensity::Balance { density: m(0), weight_solids: m(15) },
        ] {
            let known = Known { dry_density: Some(dry_density), ..awkward.clone() };
            prop_assert!(known.dry_density_g_per_ml().map_or(true, f64::is_finite));
        }
        let known = Known { dry_density: Some(DryDensity::Known(m(15))), gauge_um: Some(m(16)), ..awkward };
        prop_assert!(normalised_error(m(0), m(2)).map_or(true, f64::is_finite));
        let build = final_build(&known);
        for build in build.routes.iter().filter_map(|one| one.build.as_ref().ok()).chain(build.answer.as_ref().ok()) {
            prop_assert!(build.build_um.low.is_finite() && build.build_um.high.is_finite() && build.u_um.is_finite());
        }
    }
}

//! Film over time, and the curve's further choices, against hand calculations.

use super::beside::{candidate, panel, test_with};
use super::{drying, found, test_of};
use comb_scale::chart::Look;
use comb_scale::findings::results::{
    CurveChoice, CurveOf, Zoom, curve_heads, curve_table, film_chart, film_spot_said, film_table, film_text,
    loss_chart, zoomed,
};
use comb_scale::findings::{Findings, Wording};
use comb_scale::quantity::{FilmUnit, Instant, Units};
use comb_scale::record::{Id, SprayTest};
use expect_test::expect;
use serde_json::json;

use super::reads;

/// One panel with a spot while it was soft, an hour after the wet weight, one when it was dry, and one without a time.
fn gauged() -> SprayTest {
    let read = panel("a1", "a", 0.0).with(
        "/spots",
        json!([
            { "at": "2026-03-02T11:00:00Z", "place": "top", "readings_um": [160, 160, 160] },
            { "at": "2026-03-20T10:00:00Z", "place": "top", "readings_um": [122, 123, 121], "shim_um": 0 },
            { "readings_um": [130] },
        ]),
    );
    test_with(r#""sanding_h": 72"#, &[candidate("a")], &[read])
}

fn now() -> Instant {
    "2026-03-20T12:00:00Z".parse().unwrap()
}

fn alone() -> CurveChoice {
    CurveChoice { panel: Some(Id("a1".into())), ..CurveChoice::default() }
}

#[test]
fn the_chart_has_a_place_for_every_spot_with_a_time() {
    let test = gauged();
    let findings = found(&test);
    let scene = film_chart(&test, &findings, &alone(), now(), &Wording::default()).scene(&Look::new(328.0, 260.0));
    let spots: Vec<usize> = scene.readings().iter().map(|hit| hit.reading).collect();
    assert_eq!(spots, [0, 1], "the third has no time");
    assert!(scene.readings()[0].x < scene.readings()[1].x);
}

/// By hand: three days after the coat, e^(−72/40) of the last 4 g are left, 0.66 g, which is 10⁴ · 0.66/(0.87 · 900) = 8.4 µm
/// above the final build.
#[test]
fn the_projected_film_runs_down_to_the_final_build() {
    let test = test_with(r#""sanding_h": 72"#, &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let findings = found(&test);
    let lines = film_table(&test, &findings, &alone(), &Wording::default());
    let film = |what: &str| {
        let line = lines.iter().find(|line| line.what == what).unwrap_or_else(|| panic!("no {what} in {lines:?}"));
        line.film.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    let to_go = findings.panels[0].after_day[0].film_still_to_go_um.unwrap();
    assert!(to_go.low < 8.4 && 8.4 < to_go.high);
    assert!((film("projected") - film("final build") - to_go.mid).abs() <= 1.0, "{lines:?} {to_go:?}");
    // W is 224.8 µm: the posterior published with the comb's method.
    assert!((film("wet, comb") - 224.8).abs() < 1.0, "{lines:?}");
}

#[test]
fn a_tapped_spot_is_said_with_what_is_projected_and_whether_it_was_soft() {
    let test = gauged();
    let findings = found(&test);
    let said = |spot: usize| film_spot_said(&test, &findings, &alone(), 0, spot, &Wording::default());
    let (soft, hard) = (said(0).unwrap(), said(1).unwrap());
    assert!(
        soft.starts_with("a1, top, Mon 2 Mar 11:00, 65 min: 160.0 µm (") && soft.ends_with("may still have been soft."),
        "{soft}"
    );
    assert!(
        hard.starts_with("a1, top, Fri 20 Mar 10:00, 18 d: 122.0 µm (") && hard.contains("Projected: 12"),
        "{hard}"
    );
    assert!(!hard.contains("soft"));
    assert_eq!((said(2), said(9)), (None, None), "no time, no spot");
    let lines = film_table(&test, &findings, &alone(), &Wording::default());
    let gauge: Vec<(bool, &str)> =
        lines.iter().filter(|l| l.what.starts_with("gauge")).map(|l| (l.left_out, l.when.as_str())).collect();
    assert_eq!(gauge, [(true, "2 Mar 11:00"), (false, "20 Mar 10:00"), (false, "no time")]);
}

#[test]
fn the_text_alternative_says_the_finding() {
    let test = gauged();
    let text = film_text(&test, &found(&test), &alone(), &Wording::default());
    assert!(
        text.starts_with("Chart of film over time. a1: ") && text.contains("wet by the comb; final build "),
        "{text}"
    );
    let nothing = test_of(r#""panels": [ { "label": "A1" } ]"#);
    let said = film_text(&nothing, &found(&nothing), &CurveChoice::default(), &Wording::default());
    reads(said, expect!["Chart of film over time: nothing to draw yet."]);
}

/// 8.0 g: 30.8 % of 26 g, 88.9 g/m² on 900 cm², 102.2 µm at 0.87 g/mL, 4.02 mil.
#[test]
fn the_table_of_the_curve_has_each_choice_in_its_unit() {
    let test = test_with("", &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let findings = found(&test);
    let mil = Wording { units: Units { film: FilmUnit::Mil, ..Units::default() }, division_g: None };
    for (of, wording, expected, unit) in [
        (CurveOf::Lost, Wording::default(), 8.0, "g"),
        (CurveOf::Share, Wording::default(), 800.0 / 26.0, "%"),
        (CurveOf::PerArea, Wording::default(), 80_000.0 / 900.0, "g/m²"),
        (CurveOf::Film, Wording::default(), 80_000.0 / (0.87 * 900.0), "µm"),
        (CurveOf::Film, mil, 80_000.0 / (0.87 * 900.0) / 25.4, "mil"),
    ] {
        let lines = curve_table(&test, &findings, &CurveChoice { of, ..alone() }, &wording);
        assert_eq!(lines.len(), drying(400.0).len());
        let (first, last) = (&lines[0], &lines[lines.len() - 1]);
        let heads = curve_heads(of, &wording);
        let (number, shown) = (&last.value, heads[3].strip_prefix("Lost, ").unwrap());
        assert!((number.parse::<f64>().unwrap() - expected).abs() <= 0.006 * expected && shown == unit, "{last:?}");
        assert!(number.parse::<f64>().unwrap() > 0.0 && first.value.starts_with('0'), "{first:?}");
        assert_eq!((first.age.as_str(), last.age.as_str(), last.when.as_str()), ("0 min", "14 d", "16 Mar 10:00"));
    }
}

#[test]
fn a_choice_that_a_panel_cannot_have_says_why() {
    let bare = panel("a1", "a", 0.0).without("/bare_g").without("/coated_cm2");
    let test = test_with("", &[candidate("a")], &[bare]);
    let findings = found(&test);
    for (of, part) in [(CurveOf::Share, "not weighed bare"), (CurveOf::PerArea, "area"), (CurveOf::Film, "area")] {
        let choice = CurveChoice { of, ..alone() };
        let lines = curve_table(&test, &findings, &choice, &Wording::default());
        assert!(lines.len() == 1 && lines[0].value.contains(part), "{of:?}: {lines:?}");
        let scene = loss_chart(&test, &findings, &choice, now(), &Wording::default()).scene(&Look::new(328.0, 260.0));
        assert!(scene.readings().is_empty());
    }
}

/// The newest weight is 336 h old, and the fan reaches 0.4 of that beyond: 470.4 h in all.
#[test]
fn the_window_is_halved_and_doubled_about_the_finger() {
    let test = test_with("", &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let findings: Findings = found(&test);
    let at = |window: Option<(f64, f64)>, zoom: Zoom| zoomed(&findings, &CurveChoice { window, ..alone() }, zoom);
    let near = |got: Option<(f64, f64)>, from: f64, to: f64| {
        let got = got.expect("a window");
        assert!((got.0 - from).abs() < 1e-9 && (got.1 - to).abs() < 1e-9, "{got:?}");
    };
    // The age under the finger keeps its place: half-way along stays half-way along.
    near(at(None, Zoom::In(235.2)), 117.6, 352.8);
    near(at(Some((117.6, 352.8)), Zoom::In(117.6)), 117.6, 235.2);
    near(at(Some((400.0, 470.4)), Zoom::Out(470.4)), 470.4 - 140.8, 470.4);
    near(at(None, Zoom::Late), 235.2, 470.4);
    assert_eq!(at(Some((117.6, 352.8)), Zoom::Out(235.2)), None, "all of it again");
    assert_eq!(at(Some((1.0, 2.0)), Zoom::All), None);
    assert_eq!(at(Some((1.0, 2.0)), Zoom::In(f64::NAN)), Some((1.0, 2.0)));
    // What is tapped in the window is what is drawn there.
    let window = at(None, Zoom::Late);
    let scene = loss_chart(&test, &findings, &CurveChoice { window, ..alone() }, now(), &Wording::default())
        .scene(&Look::new(328.0, 260.0));
    assert_eq!(scene.readings().len(), 3, "240, 288 and 336 h");
    assert!((scene.age_at(0.0).unwrap() - 235.2).abs() < 1e-6 && (scene.age_at(1000.0).unwrap() - 470.4).abs() < 1e-6);
}

#[test]
fn a_candidate_shows_its_panels_alone() {
    let test = test_with(
        "",
        &["a", "b"].map(candidate),
        &[panel("a1", "a", 0.0), panel("a2", "a", 0.0), panel("b1", "b", 0.0)],
    );
    let findings = found(&test);
    let choice = CurveChoice { candidate: Some(Id("b".into())), ..CurveChoice::default() };
    let lines = film_table(&test, &findings, &choice, &Wording::default());
    assert!(!lines.is_empty() && lines.iter().all(|line| line.panel == "b1"), "{lines:?}");
    assert!(curve_table(&test, &findings, &choice, &Wording::default()).iter().all(|line| line.panel == "b1"));
}

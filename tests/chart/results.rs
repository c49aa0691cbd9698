//! Golden pictures of what the findings of the worked example draw: every choice of the curve, every time axis, the late days,
//! and film over time. Its numbers are invented, and the dry-film readings are added here.

use crate::golden::{check, desk, phone};
use comb_scale::chart::TimeAxis;
use comb_scale::findings::results::{CurveChoice, CurveOf, Zoom, film_chart, loss_chart, zoomed};
use comb_scale::findings::{Findings, Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::{EXAMPLE, Id, SprayTest, open};

fn now() -> Instant {
    "2026-03-16T10:00:00+01:00".parse().unwrap()
}

/// The worked example with a spot on its first panel while it was soft, and one when it was dry.
fn gauged() -> (SprayTest, Findings) {
    let mut record: serde_json::Value = serde_json::from_str(EXAMPLE).unwrap();
    let first = record["panels"].as_array().unwrap().iter().position(|panel| panel["label"] == "G1").unwrap();
    record["panels"][first]["spots"] = serde_json::json!([
        { "id": "s1", "at": "2026-03-02T15:00:00+01:00", "readings_um": [150, 151, 149] },
        { "id": "s2", "at": "2026-03-15T10:00:00+01:00", "readings_um": [112, 114, 113] }
    ]);
    let test = open(&record.to_string()).unwrap().test;
    let findings = of(&test, now());
    (test, findings)
}

#[test]
fn every_choice_of_the_curve() {
    let (test, findings) = gauged();
    let draw = |choice: &CurveChoice| loss_chart(&test, &findings, choice, now(), &Wording::default()).scene(&phone());
    let axis = TimeAxis::SquareRoot;
    for (name, of) in ["grams", "share", "per_area", "film"].into_iter().zip(CurveOf::ALL) {
        check(&format!("example_lost_{name}_phone"), &draw(&CurveChoice { of, axis, ..CurveChoice::default() }));
    }
    for (name, axis) in [("linear", TimeAxis::Linear), ("log", TimeAxis::Log)] {
        let panel = Some(Id(findings.panels[0].id.0.clone()));
        check(&format!("example_lost_{name}_phone"), &draw(&CurveChoice { panel, axis, ..CurveChoice::default() }));
    }
    let window = zoomed(&findings, &CurveChoice::default(), Zoom::Late);
    check("example_lost_late_phone", &draw(&CurveChoice { window, ..CurveChoice::default() }));
}

#[test]
fn film_over_time() {
    let (test, findings) = gauged();
    let axis = TimeAxis::SquareRoot;
    let chart = |choice: &CurveChoice| film_chart(&test, &findings, choice, now(), &Wording::default());
    let panel = findings.panels.iter().find(|panel| panel.label == "G1").map(|panel| panel.id.clone());
    let one = CurveChoice { panel, axis, ..CurveChoice::default() };
    check("example_film_one_phone", &chart(&one).scene(&phone()));
    check("example_film_one_desk", &chart(&one).scene(&desk()));
    let candidate = findings.candidates.first().map(|candidate| candidate.id.clone());
    check(
        "example_film_candidate_phone",
        &chart(&CurveChoice { candidate, axis, ..CurveChoice::default() }).scene(&phone()),
    );
    check("example_film_all_phone", &chart(&CurveChoice { axis, ..CurveChoice::default() }).scene(&phone()));
    let late = CurveChoice { window: zoomed(&findings, &one, Zoom::Late), axis: TimeAxis::Linear, ..one };
    check("example_film_late_phone", &chart(&late).scene(&phone()));
}

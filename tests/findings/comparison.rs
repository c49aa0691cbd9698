//! What reaches the comparison of two candidates.

use super::beside::{candidate, panel, test_with};
use super::{drying, found, test_of, weigh_ins};
use comb_scale::findings::{By, Findings, Memory, Wording};

/// Two candidates with two panels each; the second candidate's dabs are read with `comb`, all panels weighed as in `readings`.
fn two_candidates(comb: &str, readings: &[(f64, f64)]) -> Findings {
    let panel = |id: &str, candidate: &str, comb: &str, more: f64| {
        let readings: Vec<(f64, f64)> = readings.iter().map(|&(t, g)| (t, g + more)).collect();
        let dab = format!(r#"{{ "comb": "{comb}", "wetted_um": 200, "dry_um": 250 }}"#);
        format!(
            r#"{{ "id": "{id}", "label": "{id}", "candidate": "{candidate}", "bare_g": 400, "coated_cm2": 900,
            "dabs": [ {dab}, {dab}, {dab} ], "weigh_ins": [ {} ] }}"#,
            weigh_ins(&readings)
        )
    };
    let panels = [panel("a1", "a", "one", 0.0), panel("a2", "a", "one", 0.4), panel("b1", "b", comb, 0.2)];
    let teeth = r#""edges": [ { "teeth_um": [100, 150, 200, 250, 300] } ]"#;
    found(&test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "combs": [ {{ "id": "one", {teeth} }}, {{ "id": "two", {teeth} }} ],
        "candidates": [ {{ "id": "a", "label": "A" }}, {{ "id": "b", "label": "B" }} ],
        "panels": [ {}, {} ]"#,
        panels.join(", "),
        panel("b2", "b", comb, 0.5)
    )))
}

fn width(findings: &Findings, by: By) -> f64 {
    findings.pairs.iter().find(|pair| pair.by == by).expect("a pair").difference.width()
}

#[test]
fn the_error_of_one_comb_cancels_and_that_of_two_does_not() {
    let (same, other) = (two_candidates("one", &drying(400.0)), two_candidates("two", &drying(400.0)));
    for by in [By::FinalBuild, By::BuildKept] {
        assert!(width(&other, by) > 1.02 * width(&same, by), "{by:?}: {} {}", width(&other, by), width(&same, by));
    }
    assert_eq!(width(&other, By::FilmLost), width(&same, By::FilmLost), "no comb in it");
}

/// Early on a panel may still lose much more, and hardly less: the interval of a candidate's mean is as lopsided.
#[test]
fn a_skewed_forecast_stays_skewed() {
    let early: Vec<(f64, f64)> = drying(400.0).into_iter().filter(|(t, _)| *t <= 48.0).collect();
    let findings = two_candidates("one", &early);
    for (candidate, panel) in [(0, 0), (1, 2)] {
        let mean = findings.candidates[candidate].mean(By::FilmStillToGo).mean.expect("a mean");
        let of_panel = findings.panels[panel].after_day[0].film_still_to_go_um.expect("a film");
        assert!(mean.high - mean.mid > 1.3 * (mean.mid - mean.low), "{mean:?}");
        assert!((mean.mid / of_panel.mid - 1.0).abs() < 0.3, "{mean:?} {of_panel:?}");
    }
}

/// What is kept of candidates, pairs and gains is what would be worked out anew: after another number, with a panel carried over
/// to another candidate, and with a candidate gone.
#[test]
fn what_is_kept_is_what_would_be_worked_out_anew() {
    let names = ["a", "b", "c"];
    let with = |names: &[&str], more: f64, third: &str| {
        let mut panels = vec![panel("x1", "a", more), panel("x2", "a", 0.1), panel("x3", third, 0.2)];
        panels.extend([panel("y1", "b", 1.0), panel("y2", "b", 1.1), panel("z1", "c", 3.0), panel("z2", "c", 3.1)]);
        let candidates: Vec<_> = names.iter().map(|name| candidate(name)).collect();
        test_with(r#""sanding_h": 72"#, &candidates, &panels)
    };
    let tests = [
        with(&names, 0.0, "a"),
        with(&names, 0.3, "a"),
        with(&names, 0.3, "b"),
        with(&names[..2], 0.3, "b"),
        with(&names, 0.0, "a"),
    ];
    let now = "2027-03-01T12:00:00Z".parse().unwrap();
    let mut memory = Memory::default();
    let mut seen = Vec::new();
    for test in &tests {
        let kept = serde_json::to_string(&memory.of(test, now, &Wording::default())).unwrap();
        assert_eq!(kept, serde_json::to_string(&found(test)).unwrap());
        seen.push(kept);
    }
    assert!(seen[0] == seen[4] && seen[0] != seen[1] && seen[1] != seen[2] && seen[2] != seen[3]);
}

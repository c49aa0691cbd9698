use super::{drying, found, piece, test_of, weigh_ins, weighed};
use comb_scale::findings::FlagKind;
use expect_test::expect;

use super::reads;

const SCALE: &str = r#""balance": { "id": "s", "division_g": 0.1 }"#;

fn one_panel(extra: &str, readings: &[(f64, f64)]) -> comb_scale::findings::Findings {
    let inside = format!(
        r#"{SCALE}, "panels": [ {{ "id": "p", "label": "A1", {extra} "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(readings)
    );
    found(&test_of(&inside))
}

#[test]
fn grams_and_share_lost_are_those_of_the_scale() {
    let findings = one_panel(r#""bare_g": 400, "#, &drying(400.0));
    let panel = &findings.panels[0];
    // By hand: wet 426.0, last 418.0 (8 − 4e⁻¹⁶⁸ − 4e⁻⁸·⁴ = 8.0 to 0.1 g).
    assert!((panel.lost_g.unwrap() - 8.0).abs() < 1e-9);
    assert!((panel.lost_pct.unwrap() - 100.0 * 8.0 / 26.0).abs() < 1e-9);
    assert_eq!(panel.wet_coat_g, Some(26.0));
    assert!(!panel.wet_coat_estimated);
}

#[test]
fn the_drift_that_a_blank_shows_is_taken_off() {
    let still = drying(400.0);
    let drifted: Vec<(f64, f64)> = still.iter().map(|&(t, g)| (t, g + 0.4 * t / 336.0)).collect();
    let blank: Vec<(f64, f64)> = still.iter().map(|&(t, _)| (t, 500.0 + 0.4 * t / 336.0)).collect();
    let inside = format!(
        r#"{SCALE}, "blank": {{ "weigh_ins": [ {} ] }},
        "panels": [ {{ "label": "A1", "bare_g": 400, "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(&blank),
        weigh_ins(&drifted)
    );
    let panel = &found(&test_of(&inside)).panels[0];
    // The scale shows 7.6 g less after two weeks; of its 0.4 g of drift the smoother takes all but what may be scatter.
    assert!((panel.lost_g.unwrap() - 8.0).abs() < 0.15, "{:?}", panel.lost_g);
}

#[test]
fn without_a_bare_weight_the_grams_survive_and_the_shares_have_a_reason() {
    let findings = one_panel("", &drying(400.0));
    let panel = &findings.panels[0];
    assert!((panel.lost_g.unwrap() - 8.0).abs() < 1e-9);
    assert!(panel.forecast.is_some(), "still to lose and settled need no bare weight");
    for missing in ["lost_pct", "wet_coat_g", "bare_g"] {
        assert!(panel.why.of(missing).is_some(), "{missing}");
    }
    assert!(panel.lost_pct.is_none() && panel.wet_coat_g.is_none());
}

#[test]
fn comb_and_density_stand_in_for_a_bare_weight_and_are_marked() {
    let inside = format!(
        r#"{SCALE}, "candidates": [ {{ "id": "c", "sheet": {{ "density_g_per_ml": 1.3 }} }} ], "panels": [ {{ "label": "A1",
        "candidate": "c", "coated_cm2": 900, "dabs": [ {{ "wetted_um": 200, "dry_um": 250 }}, {{ "wetted_um": 200, "dry_um": 250 }},
        {{ "wetted_um": 200, "dry_um": 250 }} ], "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(&drying(400.0))
    );
    let panel = &found(&test_of(&inside)).panels[0];
    assert!(panel.wet_coat_estimated);
    // By hand: 224.8 µm (the posterior mean published with the method) × 900 cm² × 1.3 g/mL.
    assert!((panel.wet_coat_g.unwrap() - 224.8 * 900.0 * 1.3 / 1e4).abs() < 0.05);
}

#[test]
fn the_wet_weight_is_the_first_kept_after_the_last_coat() {
    let inside = format!(
        r#"{SCALE}, "panels": [ {{ "label": "A1", "bare_g": 400, "coats": [ {{ "at": "2026-03-02T09:00:00Z" }}, {{ "at": "2026-03-02T09:55:00Z" }} ],
        "weigh_ins": [ {{ "at": "2026-03-02T09:10:00Z", "gross_g": 415 }},
        {{ "at": "2026-03-02T09:57:00Z", "gross_g": 449, "set_aside": {{ "by": "person", "why": "hand on the scale" }} }}, {} ] }} ]"#,
        weigh_ins(&drying(400.0))
    );
    let panel = &found(&test_of(&inside)).panels[0];
    assert_eq!(panel.wet_gross_g, Some(426.0));
    assert!(panel.flags.iter().any(|flag| flag.kind == FlagKind::SetAside));
}

#[test]
fn the_days_are_the_persons_else_the_sheets_else_one_three_and_seven() {
    let days = |extra: &str| {
        let inside = format!(
            r#"{extra} "candidates": [ {{ "id": "c", "sheet": {{ "sanding_h": 36 }} }}, {{ "id": "d" }} ],
            "panels": [ {{ "label": "A1", "candidate": "c" }}, {{ "label": "B1", "candidate": "d" }} ]"#
        );
        let findings = found(&test_of(&inside));
        let of = |label: &str| {
            let panel = findings.panels.iter().find(|panel| panel.label == label).unwrap();
            panel.after_day.iter().map(|day| day.day_h).collect::<Vec<_>>()
        };
        (of("A1"), of("B1"))
    };
    assert_eq!(days(""), (vec![36.0], vec![24.0, 72.0, 168.0]));
    assert_eq!(days(r#""wanted": { "sanding_h": 48 }, "#), (vec![48.0], vec![48.0]));
}

#[test]
fn a_route_that_cannot_be_had_says_why() {
    let findings = one_panel(r#""bare_g": 400, "#, &drying(400.0));
    let panel = &findings.panels[0];
    let why =
        |name: &str| panel.routes.iter().find(|route| route.name() == name).unwrap().why.of("final_build_um").unwrap();
    reads(why("comb and scale"), expect!["The coated area is missing: give the panel's sides, or its area, in Plan."]);
    reads(why("data sheet"), expect!["There is no comb reading yet."]);
    assert!(panel.final_build_um.is_none() && panel.why.of("final_build_um").is_some());
}

/// A panel read on two scales, the second of which shows 0.7 g more; `blanks` as the record lists them.
fn on_two_scales(blanks: &str) -> comb_scale::findings::Findings {
    let all = drying(400.0);
    let (early, late) = all.split_at(8);
    let late: Vec<(f64, f64)> = late.iter().map(|&(t, g)| (t, g + 0.7)).collect();
    let inside = format!(
        r#""balances": [ {{ "id": "s", "division_g": 0.1 }}, {{ "id": "t", "division_g": 0.1 }} ], {blanks}
        "panels": [ {{ "label": "A1", "bare_g": 400, "weigh_ins": [ {}, {} ] }} ]"#,
        on(early, "s"),
        on(&late, "t")
    );
    found(&test_of(&inside))
}

fn on(list: &[(f64, f64)], balance: &str) -> String {
    let list = weighed(list);
    let on_it =
        list.as_array().unwrap().iter().map(|entry| piece(&entry.to_string()).with("/balance", balance).to_string());
    on_it.collect::<Vec<_>>().join(", ")
}

#[test]
fn two_scales_without_a_shared_blank_are_refused_with_the_reason() {
    for blanks in ["".to_owned(), two_blanks(&[(0.0, 500.0), (24.0, 500.0)], &[(240.0, 510.7), (336.0, 510.7)])] {
        let panel = &on_two_scales(&blanks).panels[0];
        assert!(panel.forecast.is_none());
        assert!(panel.why.of("forecast").unwrap().contains("two scales"), "{:?}", panel.why);
    }
}

/// Two blanks, each weighed on one scale only.
fn two_blanks(first: &[(f64, f64)], second: &[(f64, f64)]) -> String {
    let (first, second) = (on(first, "s"), on(second, "t"));
    format!(r#""blanks": [ {{ "id": "x", "weigh_ins": [ {first} ] }}, {{ "id": "y", "weigh_ins": [ {second} ] }} ],"#)
}

#[test]
fn a_blank_weighed_on_both_scales_ties_them() {
    let (first, second) =
        ([(0.0, 500.0), (24.0, 500.0), (96.0, 500.0)], [(192.0, 500.7), (240.0, 500.7), (336.0, 500.7)]);
    let blanks =
        format!(r#""blanks": [ {{ "id": "x", "weigh_ins": [ {}, {} ] }} ],"#, on(&first, "s"), on(&second, "t"));
    let panel = &on_two_scales(&blanks).panels[0];
    assert!((panel.lost_g.unwrap() - 8.0).abs() < 0.1, "the 0.7 g are the scale's: {:?} {:?}", panel.lost_g, panel.why);
}

#[test]
fn two_blanks_on_one_scale_are_no_drift() {
    let still: Vec<(f64, f64)> = drying(400.0).iter().map(|&(t, _)| (t, 500.0)).collect();
    let other: Vec<(f64, f64)> = still.iter().map(|&(t, _)| (t + 0.05, 510.0)).take(4).collect();
    let inside = format!(
        r#"{SCALE}, "blanks": [ {{ "id": "x", "weigh_ins": [ {} ] }}, {{ "id": "y", "weigh_ins": [ {} ] }} ],
        "panels": [ {{ "label": "A1", "bare_g": 400, "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(&still),
        weigh_ins(&other),
        weigh_ins(&drying(400.0))
    );
    let panel = &found(&test_of(&inside)).panels[0];
    assert!((panel.lost_g.unwrap() - 8.0).abs() < 0.02, "{:?}", panel.lost_g);
}

#[test]
fn the_findings_have_the_agreed_shape() {
    let findings = one_panel(r#""bare_g": 400, "width_mm": 300, "length_mm": 300, "#, &drying(400.0));
    let json = serde_json::to_value(&findings).unwrap();
    let panel = &json["panels"][0];
    for key in [
        "id",
        "label",
        "candidate",
        "lost_g",
        "wet_coat_g",
        "wet_film_um",
        "forecast",
        "after_day",
        "flags",
        "final_build_um",
        "routes",
    ] {
        assert!(panel.get(key).is_some(), "{key} in {panel}");
    }
    for key in ["final_gross_g", "still_to_lose_g"] {
        for part in ["low", "mid", "high"] {
            assert!(panel["forecast"][key][part].is_number(), "{key}.{part}");
        }
    }
    assert!(["yes", "not_yet", "too_early"].contains(&panel["forecast"]["settled"].as_str().unwrap()));
    assert!(panel["wet_film_um"].is_null());
    reads(panel["why"]["wet_film_um"].as_str().unwrap(), expect!["There is no comb reading of the last coat."]);
    assert_eq!(panel["after_day"][1]["day_h"], 72.0);
    for key in ["candidates", "pairs", "next"] {
        assert!(json[key].is_array(), "{key}");
    }
}

#[test]
fn a_panel_that_stays_the_same_keeps_its_work() {
    use comb_scale::findings::{Memory, Wording};
    use std::sync::Arc;
    let inside = |grams: f64| {
        let a = weigh_ins(&drying(400.0));
        let mut b = drying(380.0);
        b[9].1 = grams;
        format!(
            r#"{SCALE}, "panels": [ {{ "id": "a", "label": "A1", "bare_g": 400, "weigh_ins": [ {a} ] }},
            {{ "id": "b", "label": "B1", "bare_g": 380, "weigh_ins": [ {} ] }} ]"#,
            weigh_ins(&b)
        )
    };
    let now = "2027-03-01T12:00:00Z".parse().unwrap();
    let mut memory = Memory::default();
    let before = memory.of(&test_of(&inside(398.1)), now, &Wording::default());
    let after = memory.of(&test_of(&inside(398.3)), now, &Wording::default());
    assert!(Arc::ptr_eq(&before.panels[0].work, &after.panels[0].work), "nothing changed for A1");
    assert!(!Arc::ptr_eq(&before.panels[1].work, &after.panels[1].work), "B1 was refitted");
    let fresh = found(&test_of(&inside(398.3)));
    assert_eq!(serde_json::to_string(&fresh).unwrap(), serde_json::to_string(&after).unwrap());
}

#[test]
fn the_rack_is_walked_by_its_places_and_panels_without_one_come_last() {
    let test = test_of(
        r#""panels": [ { "label": "A1", "rack": "10" }, { "label": "A2" }, { "label": "B1", "rack": " 2 " }, { "label": "B2", "rack": "1" } ]"#,
    );
    let labels = |panels: Vec<&comb_scale::record::Panel>| panels.iter().map(|p| p.label.clone()).collect::<Vec<_>>();
    assert_eq!(labels(comb_scale::findings::facts::in_rack(&test)), ["B2", "B1", "A1", "A2"]);
    assert_eq!(labels(comb_scale::findings::facts::in_order(&test)), ["A1", "A2", "B1", "B2"]);
}

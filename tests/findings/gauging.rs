//! The gauge, reading by reading, against numbers worked out by hand.

use comb_scale::findings::Wording;
use comb_scale::findings::gauge::{
    GaugeReading, base_metal_readings, base_metal_said, gauge_due, gauge_said, series_said, spot_said, too_soft,
    verification_said, verify_first,
};
use comb_scale::findings::results::{CurveChoice, film_table};
use comb_scale::quantity::Instant;
use comb_scale::record::{Id, SprayTest};

use super::{found, panels_of, test_of};
use expect_test::expect;

use super::reads;

fn at(text: &str) -> Instant {
    text.parse().unwrap()
}

const NOW: &str = "2026-03-10T14:00:00Z";

/// Panels A1 and A2 sprayed on 2 March at 8; A1 has these spots.
fn read(spots: &str) -> SprayTest {
    test_of(&format!(
        r#""candidates": [ {{ "id": "c", "label": "A" }} ], "panels": [
            {{ "id": "p", "label": "A1", "candidate": "c", "coats": [ {{ "at": "2026-03-02T08:00:00Z" }} ], "spots": [ {spots} ] }},
            {{ "id": "q", "label": "A2", "candidate": "c", "coats": [ {{ "at": "2026-03-02T08:00:00Z" }} ] }} ]"#
    ))
}

fn spot(place: &str, when: &str, readings: &str) -> String {
    format!(r#"{{ "at": "{when}", "place": "{place}", "readings_um": [ {readings} ] }}"#)
}

#[test]
fn readings_are_due_one_by_one_place_by_place_panel_by_panel() {
    let due = |spots: &str, reading, turned: Option<&str>| {
        let turned = turned.map(Id::from);
        gauge_due(&read(spots), reading, turned.as_ref(), at(NOW), "me").map(|stop| stop.said)
    };
    let (spots, form) = (GaugeReading::Spots, GaugeReading::Form);
    assert_eq!(due("", spots, None).as_deref(), Some("A1, top: reading 1 of 3"));
    assert_eq!(due("", spots, Some("q")).as_deref(), Some("A2, top: reading 1 of 3"));
    let top = spot("top", NOW, "118, 121");
    assert_eq!(due(&top, spots, None).as_deref(), Some("A1, top: reading 3 of 3"));
    let all = ["top", "middle", "bottom"].map(|place| spot(place, NOW, "118, 121, 120")).join(", ");
    assert_eq!(due(&all, spots, None).as_deref(), Some("A2, top: reading 1 of 3"));
    let earlier = spot("top", "2026-03-09T14:00:00Z", "118, 121, 120");
    assert_eq!(due(&earlier, spots, None).as_deref(), Some("A1, top: reading 1 of 3"), "another visit");
    // The panel form: two in each third.
    let said = |count: usize| due(&spot("panel form", NOW, &vec!["74"; count].join(", ")), form, None).unwrap();
    assert_eq!(
        [0, 1, 2, 5].map(said),
        [
            "A1, top: reading 1 of 6",
            "A1, top: reading 2 of 6",
            "A1, middle: reading 3 of 6",
            "A1, bottom: reading 6 of 6"
        ]
    );
    reads(said(6), expect!["A2, top: reading 1 of 6"]);
}

#[test]
fn a_spot_is_gone_on_with_by_whoever_began_it() {
    let begun = format!(r#"{{ "id": "me-7", "at": "{NOW}", "place": "top", "readings_um": [ 118 ] }}"#);
    let due = |writer| gauge_due(&read(&begun), GaugeReading::Spots, None, at(NOW), writer).unwrap();
    assert_eq!((due("me").spot, due("me").said.as_str()), (Some(Id::from("me-7")), "A1, top: reading 2 of 3"));
    assert_eq!((due("m").spot, due("other").spot), (None, None), "theirs is another spot at the same place");
    reads(due("other").said, expect!["A1, top: reading 2 of 3"]);
}

#[test]
fn the_newest_visit_counts_and_a_shim_is_subtracted() {
    let two_visits = [
        spot("top", "2026-03-06T14:00:00Z", "130, 131, 129"),
        format!(r#"{{ "at": "{NOW}", "place": "top", "readings_um": [ 195, 196, 194 ], "shim_um": 75 }}"#),
        spot("middle", NOW, "118, 121, 121"),
    ]
    .join(", ");
    let test = read(&two_visits);
    // 195 − 75 = 120 and 120: their mean, not that of the first visit.
    let found = found(&test);
    assert!((found.panels[0].work.gauge_um.unwrap().value - 120.0).abs() < 1e-9);
    let panel = test.panels.find(&"p".into()).unwrap();
    assert_eq!(series_said(&test, panel, &Wording::default()), ["top: 130 → 120 µm, −10 µm in 4 d"]);
    assert!(gauge_said(&panels_of(&test), &"p".into(), &Wording::default()).unwrap().contains("no projection"));
}

#[test]
fn two_who_read_one_place_make_one_spot_of_it() {
    // 118 and 121 of one painter, 124 of the other: a spot of 121, beside the middle's 115.
    let spots = [spot("top", NOW, "118, 121"), spot("top", NOW, "124"), spot("middle", NOW, "115")].join(", ");
    let film = found(&read(&spots)).panels[0].work.gauge_um.unwrap();
    assert!((film.value - 118.0).abs() < 1e-9, "{film:?}");
}

#[test]
fn the_panel_form_counts_reading_by_reading() {
    // dft-04 of the check values: mean 73.9 µm, standard uncertainty of the mean 0.9626 µm (SSPC-PA 2, Appendix 4, body from
    // memory; computed with numpy 2.4.6); the gauge's own 2 µm beside it: √(0.9626² + 2²) = 2.2196.
    let test = read(&spot("panel form", NOW, "72.1, 75.4, 70.8, 74.9, 77.2, 73"));
    let film = found(&test).panels[0].work.gauge_um.unwrap();
    assert!((film.value - 73.9).abs() < 1e-6 && (film.u - 2.2196).abs() < 1e-3, "{film:?}");
}

#[test]
fn a_spot_says_what_to_mind() {
    let said = |spots: &str| {
        let test = read(spots);
        let panel = test.panels.find(&"p".into()).unwrap();
        spot_said(&test, panel, panel.spots.kept().next().unwrap(), &Wording::default())
    };
    assert_eq!(
        said(&spot("top", NOW, "118, 121, 121")),
        "top: 120 µm from 118, 121, 121 · Tue 10 Mar 14:00, 8 d after the last coat"
    );
    let near = format!(r#"{{ "at": "{NOW}", "place": "top", "readings_um": [ 118 ], "edge_mm": 20 }}"#);
    assert!(said(&near).ends_with("Too near an edge, where a film is not like the rest"));
    assert!(said(&spot("panel form", NOW, "74, 75")).ends_with("The form takes 6 readings; 4 are still to come"));
    assert_eq!(said(r#"{ "place": "top" }"#), "no readings");
}

#[test]
fn a_young_film_is_called_soft() {
    let test = read("");
    let soft = |now: &str| too_soft(&test, &"p".into(), at(now));
    assert!(soft("2026-03-03T07:00:00Z").unwrap().starts_with("A1 is 23 h old, and its sheet does not say"));
    assert_eq!(soft("2026-03-03T09:00:00Z"), None);
    let sheet = test_of(
        r#""candidates": [ { "id": "c", "label": "A", "sheet": { "sanding_h": 72 } } ], "panels": [
            { "id": "p", "label": "A1", "candidate": "c", "coats": [ { "at": "2026-03-02T08:00:00Z" } ] } ]"#,
    );
    let said = too_soft(&sheet, &"p".into(), at("2026-03-04T08:00:00Z")).unwrap();
    assert!(said.contains("sanded after 3 d") && said.contains("plastic shim"), "{said}");
}

#[test]
fn a_mistyped_reading_of_a_spot_is_asked_about() {
    let said = |readings: &str| {
        let test = read(&spot("middle", NOW, readings));
        let panel = test.panels.find(&"p".into()).unwrap();
        spot_said(&test, panel, panel.spots.kept().next().unwrap(), &Wording::default())
    };
    let asked = |readings: &str| said(readings).ends_with("These lie far apart for one spot: was one mistyped?");
    assert!(asked("9, 98, 94") && asked("95, 950") && asked("0, 90"), "{}", said("9, 98, 94"));
    // A fifth apart, as readings close together commonly are; and a few micrometres, whatever share that is.
    assert!(!asked("92, 110, 98") && !asked("4, 7, 8") && !asked("92"));
}

#[test]
fn no_film_is_told_that_is_thinner_than_none() {
    let spots = ["top", "middle"].map(|place| spot(place, NOW, if place == "top" { "93" } else { "361" })).join(", ");
    let test = read(&spots);
    let said = gauge_said(&panels_of(&test), &"p".into(), &Wording::default()).unwrap();
    assert!(said.contains("(0 to"), "{said}");
}

#[test]
fn a_gauge_is_believed_after_a_shim() {
    let with = |reading: f64| {
        test_of(&format!(
            r#""dry_gauge": {{ "calibration_um": 1.25 }}, "verifications": [ {{ "id": "v", "at": "{NOW}", "shim_um": 75, "reading_um": {reading} }} ]"#
        ))
    };
    let said = |reading: f64| {
        let test = with(reading);
        verification_said(&test, test.verifications.find(&"v".into()).unwrap(), &Wording::default())
    };
    // dft-07 of the check values: √(1.5² + 2.5²) = 2.9155 µm (root-sum-square, common practice; computed with mpmath).
    reads(said(77.8), expect!["Tue 10 Mar 14:00 · shim 75 µm: read 77.8, +2.8 µm off, allowed 2.9: passes"]);
    assert!(said(78.0).contains("+3.0 µm off, allowed 2.9: out"));
    assert_eq!(verify_first(&with(77.8), at(NOW)), None);
    assert!(
        verify_first(&with(77.8), at("2026-03-11T14:00:00Z")).unwrap().starts_with("Try the gauge on a shim first")
    );
    assert!(verify_first(&with(78.0), at(NOW)).unwrap().contains("cannot be believed until it passes"));
}

#[test]
fn bare_metal_is_subtracted_and_ten_readings_are_asked_for() {
    let said = |readings: &str| {
        let test = test_of(&format!(r#""dry_gauge": {{ "base_metal_um": [ {readings} ] }}"#));
        base_metal_said(&test, &Wording::default())
    };
    // dft-06 of the check values: ten readings, mean 7.16 µm (computed with uncertainties 3.2.3).
    let ten = said("6.2, 7.8, 5.9, 8.4, 7.1, 6.6, 7.5, 8, 6.9, 7.2");
    assert!(ten.starts_with("7.2 µm from 10 readings, subtracted") && !ten.contains("Ten tell"), "{ten}");
    assert!(said("6").starts_with("6.0 µm from 1 reading") && said("6").ends_with("Ten tell it better."));
    assert!(said("").starts_with("About ten readings"));
}

/// A gauge that shows tenths shows them in every reading: what was read as 7.0 is stored as the number 7.
#[test]
fn readings_keep_the_places_of_their_gauge() {
    let said = |readings: &str| {
        let test = read(&spot("top", NOW, readings));
        let panel = test.panels.kept().next().unwrap();
        spot_said(&test, panel, panel.spots.kept().next().unwrap(), &Wording::default())
    };
    assert!(said("6.9, 6.9, 7").contains("from 6.9, 6.9, 7.0"), "{}", said("6.9, 6.9, 7"));
    assert!(said("118, 121, 120").contains("from 118, 121, 120"), "{}", said("118, 121, 120"));
    // Another spot tells as well.
    let test = read(&[spot("top", NOW, "7, 7, 8"), spot("foot", NOW, "7.2, 7.1, 7")].join(", "));
    let panel = test.panels.kept().next().unwrap();
    let top = panel.spots.kept().find(|spot| spot.place == "top").unwrap();
    let said = spot_said(&test, panel, top, &Wording::default());
    assert!(said.contains("from 7.0, 7.0, 8.0"), "{said}");
    let base = test_of(r#""dry_gauge": { "base_metal_um": [ 6.9, 7, 7.2 ] }"#);
    assert_eq!(base_metal_readings(&base, &Wording::default()), "6.9 7.0 7.2 µm");
}

/// What the gauge counts as film on bare metal is taken off on the Gauge screen as it is in the charts and the final film.
#[test]
fn a_spot_is_the_same_film_wherever_it_is_told() {
    let spots = [
        spot("top", "2026-03-06T14:00:00Z", "130, 131, 129"),
        format!(r#"{{ "at": "{NOW}", "place": "top", "readings_um": [ 195, 196, 194 ], "shim_um": 75 }}"#),
    ];
    let inside = format!(
        r#""dry_gauge": {{ "base_metal_um": [ 7, 7.5, 6.5 ] }}, "panels": [ {{ "id": "p", "label": "A1", "spots": [ {} ] }} ]"#,
        spots.join(", ")
    );
    let test = test_of(&inside);
    let (panel, findings) = (test.panels.kept().next().unwrap(), found(&test));
    let newest = panel.spots.kept().find(|spot| spot.shim_um.is_some()).unwrap();
    let said = spot_said(&test, panel, newest, &Wording::default());
    assert!(
        said.starts_with("top: 113 µm from 195, 196, 194, less the shim of 75 µm and 7.0 µm read on bare metal"),
        "{said}"
    );
    assert_eq!(series_said(&test, panel, &Wording::default()), ["top: 123 → 113 µm, −10 µm in 4 d"]);
    assert!((findings.panels[0].work.gauge_um.unwrap().value - 113.0).abs() < 1e-9);
    let lines = film_table(&test, &findings, &CurveChoice::default(), &Wording::default());
    assert!(lines.iter().any(|line| line.film.starts_with("113")), "{lines:?}");
}

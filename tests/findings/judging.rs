//! Weights judged as they are entered, against numbers chosen by hand.

use comb_scale::findings::Wording;
use comb_scale::findings::facts::next_due;
use comb_scale::findings::weigh::{Judged, judged};
use comb_scale::findings::words::due_said;
use comb_scale::quantity::Instant;
use comb_scale::record::{Action, History, Id, Owner, SprayTest};

use super::{drying, panels_of, piece, test_of, weigh_ins, weighed};
use expect_test::expect;

use super::reads;

/// A panel that loses 8 g, weighed up to a day, and one more weight in round `r` at 30 h.
fn with_newest(gross_g: f64) -> SprayTest {
    let readings: Vec<(f64, f64)> = drying(412.0).into_iter().filter(|(t, _)| *t <= 24.0).collect();
    let at = "2026-03-03T16:00:00Z";
    test_of(&format!(
        r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "{at}" }} ],
        "panels": [ {{ "id": "p", "label": "A1", "bare_g": 412.0, "weigh_ins": [ {},
            {{ "id": "w", "at": "{at}", "round": "r", "gross_g": {gross_g} }} ] }} ]"#,
        weigh_ins(&readings)
    ))
}

fn hint(test: &SprayTest) -> Judged {
    let at: Instant = "2026-03-03T16:00:00Z".parse().unwrap();
    let panels = panels_of(test);
    judged(test, &panels, &Owner::Panel(panels.told[0].id.clone()), &Id::from("r"), at, &Wording::default())
}

#[test]
fn a_weight_as_expected_is_left_in_peace() {
    // 24 h: 432.2 g; the invented curve says 431.9 g at 30 h.
    assert_eq!(
        hint(&with_newest(431.9)),
        Judged { said: "−0.3 g since the last, as the curve has it.".into(), odd: false }
    );
}

#[test]
fn a_heavier_weight_is_said_at_once() {
    let Judged { said, odd } = hint(&with_newest(432.9));
    assert!(odd && (said.contains("heavier than before") || said.contains("off what the other weights say")), "{said}");
}

#[test]
fn a_weight_heavier_by_what_the_blank_drifted_is_left_in_peace() {
    // 431.9 g was to be expected; the scale shows 0.6 g too much, of the blank as well.
    let mut history = History::new(with_newest(432.5), "phone");
    history.act(Action::AddBlank { label: "Blank".into() }).unwrap();
    let blank = history.test().blanks.kept().next().unwrap().id.clone();
    let grams = |g| comb_scale::quantity::Quantity::new(g).unwrap();
    let weighed = |day: u8, hour: u8| format!("2026-03-0{day}T{hour:02}:00:00Z").parse().unwrap();
    for (at, round, gross) in [
        (weighed(2, 10), None, 500.0),
        (weighed(2, 18), None, 500.0),
        (weighed(3, 10), None, 500.0),
        (weighed(3, 16), Some(Id::from("r")), 500.6),
    ] {
        history.act(Action::Weigh { owner: Owner::Blank(blank.clone()), round, at, gross_g: grams(gross) }).unwrap();
    }
    let Judged { said, odd } = hint(history.test());
    assert!(!odd && said.contains("with the scale's drift taken off"), "{said}");
    assert!(said.starts_with("+0.3 g since the last, −0."), "{said}");
}

#[test]
fn another_panel_or_a_lost_chip_is_asked_about_however_few_the_weights() {
    // Wet, 4 h and 24 h are all that there is, so the curve bends to whatever comes next; 0.3 g was to go.
    let with = |gross_g: f64| {
        let readings: Vec<(f64, f64)> =
            drying(412.0).into_iter().filter(|(t, _)| [0.0, 4.0, 24.0].contains(t)).collect();
        assert!(readings.len() >= 2, "the bank has these ages");
        let at = "2026-03-03T16:00:00Z";
        hint(&test_of(&format!(
            r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "{at}" }} ],
            "panels": [ {{ "id": "p", "label": "A1", "bare_g": 412.0, "weigh_ins": [ {},
                {{ "id": "w", "at": "{at}", "round": "r", "gross_g": {gross_g} }} ] }} ]"#,
            weigh_ins(&readings)
        )))
    };
    let Judged { said, odd } = with(424.0);
    assert!(odd && said.contains("less than the curve expected: is it this panel"), "{said}");
    assert!(!with(431.9).odd, "{}", with(431.9).said);
}

#[test]
fn a_decimal_point_in_the_wrong_place_is_off_the_curve() {
    let Judged { said, odd } = hint(&with_newest(4319.0));
    assert!(odd && (said.contains("off what the other weights say") || said.contains("heavier than before")), "{said}");
}

#[test]
fn no_change_where_much_was_expected_is_asked_about() {
    // The third day's weight again on the sixth: half a gram was to go meanwhile.
    let mut readings: Vec<(f64, f64)> = drying(412.0).into_iter().filter(|(t, _)| *t <= 72.0).collect();
    let last = readings.last().unwrap().1;
    readings.push((144.0, last));
    let at = "2026-03-08T10:00:00Z";
    let newest = format!("/weigh_ins/{}", readings.len() - 1);
    let panel = piece(r#"{ "id": "p", "label": "A1", "bare_g": 412.0 }"#)
        .with("/weigh_ins", weighed(&readings))
        .with(&format!("{newest}/id"), "w")
        .with(&format!("{newest}/round"), "r");
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "{at}" }} ],
        "panels": [ {panel} ]"#,
    ));
    assert!(hint_of(&test, at).contains("No change, although the curve expected"), "{}", hint_of(&test, at));
}

fn hint_of(test: &SprayTest, at: &str) -> String {
    let panels = panels_of(test);
    judged(
        test,
        &panels,
        &Owner::Panel(panels.told[0].id.clone()),
        &Id::from("r"),
        at.parse().unwrap(),
        &Wording::default(),
    )
    .said
}

fn with_blank(gross_g: f64) -> SprayTest {
    test_of(&format!(
        r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "2026-03-03T16:00:00Z" }} ],
        "blanks": [ {{ "id": "b", "label": "Blank", "weigh_ins": [ {{ "at": "2026-03-02T10:00:00Z", "gross_g": 561.4 }},
            {{ "round": "r", "gross_g": {gross_g} }} ] }} ]"#
    ))
}

/// What stands beside the blank's weight in its round.
fn blank_said(test: &SprayTest) -> String {
    let now: Instant = "2026-03-03T16:05:00Z".parse().unwrap();
    judged(test, &panels_of(test), &Owner::Blank("b".into()), &Id::from("r"), now, &Wording::default()).said
}

#[test]
fn a_blank_that_moved_tells_of_the_scale() {
    let said = |gross_g| blank_said(&with_blank(gross_g));
    assert_eq!(said(561.5), "+0.1 g since the last: the scale holds.");
    assert!(said(560.9).starts_with("−0.5 g since the last: nothing left the blank"));
    let drifted = said(561.9);
    assert!(drifted.starts_with("+0.5 g since the last") && drifted.ends_with("Zero it and weigh the blank again."));
}

#[test]
fn a_blank_on_another_scale_is_no_drift_and_a_measured_spread_counts() {
    let with = |balances: &str, before: &str, newest: &str| {
        let test = test_of(&format!(
            r#""balances": [ {balances} ], "rounds": [ {{ "id": "r", "at": "2026-03-03T16:00:00Z" }} ],
            "blanks": [ {{ "id": "b", "label": "Blank", "weigh_ins": [
                {{ "at": "2026-03-02T10:00:00Z", "gross_g": 561.4, "balance": "{before}" }},
                {{ "round": "r", "gross_g": 561.9, "balance": "{newest}" }} ] }} ]"#
        ));
        blank_said(&test)
    };
    let two = r#"{ "id": "s", "division_g": 0.1 }, { "id": "t", "division_g": 0.1 }"#;
    assert_eq!(with(two, "s", "t"), "");
    assert!(with(two, "t", "t").contains("the scale has drifted"));
    let unsaid = r#"{ "id": "t" }"#;
    assert!(with(unsaid, "t", "t").contains("the scale has drifted"), "steps of 0.1 g are read off the weights");
    // Five weighings of one panel that scatter by 0.4 g: half a gram is nothing on such a scale.
    let rough = r#"{ "id": "t", "division_g": 0.1, "repeats_g": [ 412.0, 412.8, 411.9, 412.6, 412.2 ] }"#;
    assert_eq!(with(rough, "t", "t"), "+0.5 g since the last: the scale holds.");
}

#[test]
fn exchanged_weights_change_places_and_come_back_with_one_undo() {
    let test = test_of(
        r#""panels": [ { "id": "p", "label": "A1", "weigh_ins": [ { "id": "v", "at": "2026-03-02T10:00:00Z", "gross_g": 440 } ] },
            { "id": "q", "label": "A2", "weigh_ins": [ { "id": "w", "at": "2026-03-02T10:00:00Z", "gross_g": 450 } ] } ]"#,
    );
    let weights = |test: &SprayTest| -> Vec<f64> {
        use comb_scale::quantity::Quantity;
        let mut of = Vec::new();
        for (panel, weigh_in) in [("p", "v"), ("q", "w")] {
            let panel = test.panels.find(&Id::from(panel)).unwrap();
            of.push(panel.weigh_ins.find(&Id::from(weigh_in)).unwrap().gross_g.unwrap().get());
        }
        of
    };
    let mut history = History::new(test, "phone");
    let pair = |panel: &str, weigh_in: &str| (Owner::Panel(Id::from(panel)), Id::from(weigh_in));
    history.act(Action::Exchange(pair("p", "v"), pair("q", "w"))).unwrap();
    assert_eq!(weights(history.test()), [450.0, 440.0]);
    history.undo();
    assert_eq!(weights(history.test()), [440.0, 450.0]);
}

#[test]
fn what_is_due_next_is_the_first_time_after_the_newest_weight() {
    let planned_by = |schedule: &str| {
        test_of(&format!(
            r#""schedule": [ {schedule} ], "panels": [ {{ "label": "A1", "coats": [ {{ "at": "2026-03-02T10:00:00Z" }} ],
                "weigh_ins": [ {{ "at": "2026-03-02T10:05:00Z", "gross_g": 440 }}, {{ "at": "2026-03-03T11:00:00Z", "gross_g": 436 }} ] }} ]"#
        ))
    };
    let due = |schedule: &str| next_due(&planned_by(schedule)).map(|at| at.to_string());
    let planned = r#"{ "due_h": 48 }, { "due_h": 4 }, { "due_h": 24 }"#;
    assert_eq!(due(planned).as_deref(), Some("2026-03-04T10:00:00Z"));
    assert_eq!(due(r#"{ "due_h": 4 }"#), None, "nothing is due any more");
    let said = |now: &str| due_said(&planned_by(planned), now.parse().unwrap()).unwrap_or_default();
    reads(said("2026-03-04T09:59:00Z"), expect!["Due next: Wed 4 Mar 10:00."]);
    reads(said("2026-03-04T10:01:00Z"), expect!["Due since Wed 4 Mar 10:00."]);
}

#[test]
fn a_weighing_counts_for_the_due_time_that_it_comes_a_little_early_for() {
    let due = |weighed: &str| {
        let test = test_of(&format!(
            r#""schedule": [ {{ "due_h": 0 }}, {{ "due_h": 4 }}, {{ "due_h": 24 }}, {{ "due_h": 48 }} ],
               "panels": [ {{ "label": "A1", "coats": [ {{ "at": "2026-03-02T10:00:00Z" }} ],
                "weigh_ins": [ {{ "at": "2026-03-02T10:05:00Z", "gross_g": 440 }}, {{ "at": "{weighed}", "gross_g": 436 }} ] }} ]"#
        ));
        next_due(&test).map(|at| at.to_string()).unwrap_or_default()
    };
    // From 4 h to 24 h the gap is 20 h, a third of it 6 h 40 min; from 24 h to 48 h it is 8 h.
    for (weighed, next) in [
        ("2026-03-03T08:48:00Z", "2026-03-04T10:00:00Z"),
        ("2026-03-03T03:21:00Z", "2026-03-04T10:00:00Z"),
        ("2026-03-03T03:19:00Z", "2026-03-03T10:00:00Z"),
        ("2026-03-03T11:12:00Z", "2026-03-04T10:00:00Z"),
        ("2026-03-04T01:59:00Z", "2026-03-04T10:00:00Z"),
        ("2026-03-04T02:00:00Z", ""),
        ("2026-03-02T12:39:00Z", "2026-03-02T14:00:00Z"),
        ("2026-03-02T12:40:00Z", "2026-03-03T10:00:00Z"),
        ("2026-03-02T10:06:00Z", "2026-03-02T14:00:00Z"),
    ] {
        assert_eq!(due(weighed), next, "weighed {weighed}");
    }
}

//! What to do next: the action that narrows the answer most leads, by one measure for all.

use super::beside::{candidate, panel, test_with};
use super::{Piece, drying, found, test_of, weighed};
use comb_scale::findings::of;
use comb_scale::science::comb::{CombPrior, Interval, another_reading};
use expect_test::expect;
use serde_json::json;

use super::reads;

fn early(id: &str) -> Piece {
    let curve: Vec<(f64, f64)> = drying(400.0).into_iter().filter(|(t, _)| *t <= 24.0).collect();
    panel(id, "a", 0.0).without("/bare_g").with("/weigh_ins", weighed(&curve))
}

/// A candidate whose sheet says no solids, so that comb and scale are the only way to its build.
fn without_solids() -> Piece {
    candidate("a").without("/sheet/solids_by_weight").without("/sheet/solids_by_volume")
}

/// The range of the first sentence: from and to, µm.
fn range(sentence: &str) -> (f64, f64) {
    let number = |text: &str| text.split(' ').next().and_then(|n| n.parse::<f64>().ok()).expect("a number");
    let (_, after) = sentence.split_once("from a range of ").expect("a range");
    let (before, then) = after.split_once(" to about ").expect("two ends");
    (number(before), number(then))
}

/// One panel a day old, without a bare weight, so that no dry density helps: its loss may still be grams, which weighs more than the comb. By hand: the range is that of its final
/// build, and the promise lies below it.
#[test]
fn a_day_old_panel_is_weighed_again_and_the_date_is_said() {
    let test = test_with("", &[without_solids()], &[early("a1")]);
    let now = "2026-03-03T12:00:00Z".parse().unwrap();
    let findings = of(&test, now);
    let first = &findings.next[0];
    assert!(
        first.starts_with("Weigh A again on Thu 5 Mar 12:00, a1 above all: that narrows its final build from"),
        "{first}"
    );
    let build = findings.panels[0].work.build.answer.as_ref().unwrap();
    let (before, after) = range(first);
    assert!((before - 2.0 * 1.96 * build.u_um).abs() < 0.15 * before, "{before} against u {}", build.u_um);
    assert!(after < before);
}

/// Without a comb reading there is no build: the shrinkage to come is what is narrowed.
#[test]
fn without_a_build_the_film_still_to_go_is_narrowed() {
    let no_dabs = |id: &str| early(id).without("/dabs");
    let test = test_with("", &[without_solids()], &[no_dabs("a1"), no_dabs("a2")]);
    let findings = of(&test, "2026-03-03T12:00:00Z".parse().unwrap());
    let first = &findings.next[0];
    assert!(
        first.starts_with("Weigh A again on Thu 5 Mar 12:00") && first.contains("its shrinkage to come after sanding"),
        "{first}"
    );
    let (before, after) = range(first);
    // Two panels alike: the forecast that they share is all of the range, whose low end may be cut off at nothing.
    let mean = findings.candidates[0].mean(comb_scale::findings::By::FilmStillToGo).mean.unwrap();
    assert!(before >= 0.97 * mean.width() && after < before, "{first} {mean:?}");
    assert!(findings.next.iter().any(|n| n.starts_with("No comb reading")), "{:?}", findings.next);
}

/// Three panels of 8.0, 9.0 and 7.0 g: their scatter leads. By hand: s²/n on two degrees becomes s²/(n + 1) on three, so the
/// panels' part of the range falls to 3.182/4.303 · √(3/4) = 0.64 of itself, the shared part stays.
#[test]
fn panels_that_differ_ask_for_another_panel() {
    let test =
        test_with("", &[without_solids()], &[panel("a1", "a", 0.0), panel("a2", "a", 1.5), panel("a3", "a", -1.5)]);
    let first = &found(&test).next[0];
    assert!(first.starts_with("Spray one more panel of A"), "{first}");
    let (before, after) = range(first);
    assert!(after / before > 0.64 && after / before < 0.85, "{first}");
}

/// Two weeks on the scale knows the end, and three dabs of 50 µm steps do not know the beginning: a gauge on the dry film helps
/// most. By hand: a gauge of 2 µm beside a route of u µm leaves 2u/√(4 + u²), so about 2 µm, a range of about 8.
#[test]
fn a_dry_panel_that_the_comb_leads_is_read_with_a_gauge() {
    let test = test_with("", &[without_solids()], &[panel("a1", "a", 0.0)]);
    let findings = found(&test);
    let first = &findings.next[0];
    assert!(first.starts_with("Read the dry film of A with a gauge"), "{first}");
    let u = findings.panels[0].work.build.answer.as_ref().unwrap().u_um;
    let (before, after) = range(first);
    assert!((before / (2.0 * 1.96 * u) - 1.0).abs() < 0.1, "{before} against {u}");
    let by_hand = 2.0 * 1.96 * 2.0 * u / (4.0 + u * u).sqrt();
    assert!((after / by_hand - 1.0).abs() < 0.1, "{after} against {by_hand}");
}

/// A gauge has been read and its error leads: what is left is as good as known, and another dab of the comb promises less than
/// its own share of the comb's part.
#[test]
fn what_has_been_done_is_not_asked_for_again() {
    let read =
        panel("a1", "a", 0.0).with("/spots", json!([{ "at": "2026-03-20T10:00:00Z", "readings_um": [122, 123, 121] }]));
    let test = test_with("", &[candidate("a")], &[read]);
    let next = found(&test).next;
    assert!(!next[0].contains("gauge"), "{next:?}");
    let dab = Interval { low_um: Some(200.0), high_um: Some(250.0), touched_um: None };
    assert!(another_reading(&[dab; 3], &CombPrior::default()).unwrap() < 1.0);
}

#[test]
fn one_panel_beside_others_is_pointed_out_and_a_missing_bare_weight_has_its_rescue() {
    let bare = panel("b1", "b", 0.0).without("/bare_g");
    let test = test_with("", &["a", "b"].map(candidate), &[panel("a1", "a", 0.0), panel("a2", "a", 0.0), bare]);
    let next = found(&test).next;
    assert!(
        next.iter().any(|n| n == "Spray more than one panel, so that a difference can be told from chance: B."),
        "{next:?}"
    );
    assert!(next.iter().any(|n| n.starts_with("No bare weight: b1.")), "{next:?}");
}

#[test]
fn an_empty_test_asks_for_nothing_and_a_new_one_for_bare_weights() {
    assert!(found(&test_of(r#""title": "nothing""#)).next.is_empty());
    let next = found(&test_of(r#""panels": [ { "label": "A1" }, { } ]"#)).next;
    reads(&next[0], expect!["Weigh bare, before any paint: the panel without a number, A1."]);
}

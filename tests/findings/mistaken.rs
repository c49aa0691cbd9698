//! A weight that is another's: the page asks whether that one is on the scale, before it speaks of jumps or lost chips.

use comb_scale::findings::Wording;
use comb_scale::findings::weigh::{Judged, judged};
use comb_scale::quantity::Instant;
use comb_scale::record::{Id, Owner, SprayTest};

use super::{drying, panels_of, test_of};
use expect_test::expect;

use super::reads;

const AT: &str = "2026-03-16T16:00:00Z";
/// Beside A1, whose curve ends at 430.0 g, and the blank of 500.0 g.
const OTHER_BARE_G: f64 = 480.0;

/// Two panels weighed for a fortnight with the blank, and one more weight each in round `r`, as far as given.
fn with_newest(a1_g: Option<f64>, blank_g: Option<f64>) -> SprayTest {
    let start: Instant = "2026-03-02T10:00:00Z".parse().unwrap();
    let weigh_in =
        |(hours, grams): &(f64, f64)| format!(r#"{{ "at": "{}", "gross_g": {grams} }}"#, start.plus_hours(*hours));
    let newest = |grams: Option<f64>| grams.map(|g| format!(r#"{{ "at": "{AT}", "round": "r", "gross_g": {g} }}"#));
    let list = |readings: Vec<(f64, f64)>, last: Option<f64>| {
        readings.iter().map(weigh_in).chain(newest(last)).collect::<Vec<_>>().join(", ")
    };
    let blank = drying(0.0).into_iter().map(|(hours, _)| (hours, 500.0)).collect();
    test_of(&format!(
        r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "{AT}" }} ],
        "blanks": [ {{ "id": "k", "label": "Blank", "weigh_ins": [ {} ] }} ],
        "panels": [ {{ "id": "p", "label": "A1", "bare_g": 412.0, "weigh_ins": [ {} ] }},
            {{ "id": "q", "label": "B1", "bare_g": {OTHER_BARE_G}, "weigh_ins": [ {} ] }} ]"#,
        list(blank, blank_g),
        list(drying(412.0), a1_g),
        list(drying(OTHER_BARE_G), None),
    ))
}

fn hint(test: &SprayTest, owner: Owner) -> Judged {
    judged(test, &panels_of(test), &owner, &Id::from("r"), AT.parse().unwrap(), &Wording::default())
}

#[test]
fn a_panel_under_the_blank_is_no_jump_of_the_scale() {
    let Judged { said, odd } = hint(&with_newest(None, Some(430.0)), Owner::Blank("k".into()));
    assert!(odd);
    reads(said, expect!["That is what A1 should weigh: is A1 on the scale?"]);
}

#[test]
fn the_blank_under_a_panel_is_named() {
    let Judged { said, odd } = hint(&with_newest(Some(500.0), Some(500.0)), Owner::Panel("p".into()));
    assert!(odd);
    reads(said, expect!["That is what Blank should weigh: is Blank on the scale?"]);
}

#[test]
fn another_panel_is_named_before_it_has_its_own_turn() {
    let Judged { said, odd } = hint(&with_newest(Some(498.0), Some(500.0)), Owner::Panel("p".into()));
    assert!(odd);
    reads(said, expect!["That is what B1 should weigh: is B1 on the scale?"]);
}

#[test]
fn a_weight_that_is_nobodys_names_nobody() {
    for (a1_g, blank_g, owner) in
        [(None, Some(455.0), Owner::Blank("k".into())), (Some(445.0), None, Owner::Panel("p".into()))]
    {
        let Judged { said, odd } = hint(&with_newest(a1_g, blank_g), owner);
        assert!(odd && !said.contains("on the scale?"), "{said}");
    }
}

#[test]
fn a_weight_as_expected_is_nobody_elses() {
    let Judged { said, odd } = hint(&with_newest(Some(430.0), Some(500.0)), Owner::Panel("p".into()));
    assert!(!odd, "{said}");
}

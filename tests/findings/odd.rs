use comb_scale::findings::{CurveChoice, CurveOf, Tongue, loss_chart, panel_figures, readings, side_by_side};
use comb_scale::record::{EXAMPLE, open};
use proptest::prelude::*;
use serde_json::Value;

use super::{found, test_of};

/// Everything a screen asks of a record; no number in any of it may be a NaN.
fn ask_everything(test: &comb_scale::record::SprayTest) -> String {
    let findings = found(test);
    let tongue = Tongue::default();
    let now = "2027-03-01T12:00:00Z".parse().unwrap();
    let mut said = format!("{:?} {:?} {:?}", findings.said, findings.next, side_by_side(test, &findings, &tongue));
    for panel in &findings.panels {
        said += &format!("{:?} {:?}", panel_figures(panel, &tongue), readings(test, panel, &tongue));
    }
    for of in [CurveOf::Lost, CurveOf::Share] {
        loss_chart(test, &findings, &CurveChoice { of, ..CurveChoice::default() }, now, &tongue);
    }
    said + &serde_json::to_string(&findings).unwrap()
}

#[test]
fn empty_and_half_empty_tests_say_what_is_missing() {
    for inside in [
        r#""title": "nothing""#,
        r#""panels": [ { } ]"#,
        r#""candidates": [ { "label": "A" } ]"#,
        r#""panels": [ { "label": "A1", "weigh_ins": [ { "at": "2026-03-02T10:00:00Z", "gross_g": 440 } ] } ]"#,
        r#""panels": [ { "label": "A1", "weigh_ins": [ { "gross_g": 440 }, { "at": "2026-03-02T10:00:00Z" } ] } ]"#,
        r#""panels": [ { "label": "A1", "bare_g": 450, "weigh_ins": [ { "at": "2026-03-02T10:00:00Z", "gross_g": 440 } ] } ]"#,
        r#""comb": { "teeth_um": [ 200, 100 ] }, "panels": [ { "label": "A1", "dabs": [ { "wetted_um": 100, "dry_um": 50 } ] } ]"#,
        r#""moves": [ { "to": "Sun" }, { "at": "2026-03-02T10:00:00Z", "to": "Sun", "warmer": true }, { "at": "2026-03-02T10:00:00Z", "to": "Shop" } ], "panels": [ { } ]"#,
    ] {
        let said = ask_everything(&test_of(inside));
        assert!(!said.contains("NaN") && !said.contains("inf"), "{inside}: {said}");
    }
}

/// Puts `value` where the path leads, each step taken round the list or the object it meets.
fn replace(spot: &mut Value, path: &[usize], value: Value) {
    let Some((step, rest)) = path.split_first() else {
        *spot = value;
        return;
    };
    match spot {
        Value::Array(list) if !list.is_empty() => {
            let place = step % list.len();
            replace(&mut list[place], rest, value);
        }
        Value::Object(map) if !map.is_empty() => {
            let place = step % map.len();
            if let Some((_, inner)) = map.iter_mut().nth(place) {
                replace(inner, rest, value);
            }
        }
        leaf => *leaf = value,
    }
}

/// The example with one value somewhere replaced by an absurd one.
fn damaged(path: &[usize], value: Value) -> Value {
    let mut record: Value = serde_json::from_str(EXAMPLE).unwrap();
    replace(&mut record, path, value);
    record["format"] = "spray-test".into();
    record["version"] = 1.into();
    record
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    #[test]
    fn no_damage_to_a_record_makes_a_nan_or_a_panic(
        path in proptest::collection::vec(0_usize..64, 1..5),
        value in prop_oneof![
            Just(Value::Null), Just(Value::from(0)), Just(Value::from(-7.5)), Just(Value::from(1e300)), Just(Value::from(1e-300)),
            Just(Value::from("many")), Just(Value::from("2026-03-02T10:00:00+01:00")), Just(Value::from("<b>=1+1</b>")),
            Just(Value::Array(vec![])), Just(serde_json::json!({})), Just(Value::Bool(true)),
        ],
    ) {
        let text = damaged(&path, value).to_string();
        let test = open(&text).expect("one damaged value does not stop a record from opening").test;
        let said = ask_everything(&test);
        prop_assert!(!said.contains("NaN") && !said.contains("inf "), "a number that is none, somewhere in what is said");
    }
}

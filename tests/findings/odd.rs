use super::beside::{candidate, panel, test_with};
use super::{all_worked, drying, piece, weighed, weighed_from};
use comb_scale::chart::{Look, TimeAxis};
use comb_scale::findings::results::{
    CurveChoice, CurveOf, RowKey, Sorting, Zoom, curve_table, curve_text, film_chart, film_spot_said, film_table,
    film_text, loss_chart, panel_figures, side_by_side, worked_beside, zoomed,
};
use comb_scale::findings::words::readings;
use comb_scale::findings::{By, Wording};
use comb_scale::record::{EXAMPLE, SprayTest, open, write};
use proptest::prelude::*;
use serde_json::{Value, json};

use super::{found, test_of};

/// Everything a screen asks of a record. Wherever a value or a reason should stand there is one.
fn ask_everything(test: &SprayTest) -> String {
    let findings = found(test);
    let wording = Wording::default();
    let now = "2027-03-01T12:00:00Z".parse().unwrap();
    let look = Look::new(328.0, 260.0);
    let mut said: Vec<String> = findings.said.iter().chain(&findings.next).cloned().collect();
    assert!((1..=6).contains(&findings.said.len()), "{:?}", findings.said);
    let table = side_by_side(test, &findings, &wording);
    for row in &table.rows {
        said.push(row.name.clone());
        assert_eq!(row.cells.len(), table.columns.len());
        for cell in &row.cells {
            said.extend([cell.value.clone(), cell.below.clone()]);
            assert_eq!(cell.sort.is_none(), cell.value == "–", "{}: {cell:?}", row.name);
            assert!(cell.sort.is_none_or(f64::is_finite), "{}: {cell:?}", row.name);
        }
        let mut order = table.order(Some(row.key), Sorting::Falling);
        order.sort();
        assert!(order.into_iter().eq(0..table.columns.len()));
    }
    let panels = findings.panels.iter().flat_map(|panel| all_worked(test, panel, &wording));
    for one in panels.chain(
        RowKey::ALL
            .iter()
            .flat_map(|row| worked_beside(test, &findings, *row, &wording).into_iter().map(|(_, one)| one)),
    ) {
        said.extend([one.name, one.value, one.formula.into(), one.source.into()]);
        said.extend(one.inputs.into_iter().flat_map(|(name, value)| [name, value]));
        said.extend(one.shares.into_iter().flat_map(|share| [share.input, share.by, share.share]));
    }
    let mut choices: Vec<CurveChoice> =
        CurveOf::ALL.iter().map(|&of| CurveChoice { of, ..CurveChoice::default() }).collect();
    let window = zoomed(&findings, &choices[0], Zoom::Late);
    choices.push(CurveChoice { window, axis: TimeAxis::Log, ..CurveChoice::default() });
    for choice in &choices {
        loss_chart(test, &findings, choice, now, &wording).scene(&look);
        for line in curve_table(test, &findings, choice, &wording) {
            said.extend([line.when, line.age, line.value]);
        }
        said.push(curve_text(&findings, choice, &wording));
    }
    let scene = film_chart(test, &findings, &choices[0], now, &wording).scene(&look);
    for hit in scene.readings() {
        said.push(film_spot_said(test, &findings, &choices[0], hit.trace, hit.reading, &wording).expect("it is drawn"));
    }
    said.push(film_text(test, &findings, &choices[0], &wording));
    for line in film_table(test, &findings, &choices[0], &wording) {
        said.extend([line.what, line.when, line.film]);
    }
    for panel in &findings.panels {
        for figure in panel_figures(panel, &wording) {
            said.extend([figure.name, figure.value.unwrap_or(figure.note)]);
        }
        said.push(format!("{:?}", readings(test, panel, &wording)));
    }
    assert!(said.iter().all(|text| !text.trim().is_empty()), "an empty text among {said:#?}");
    said.join("\n") + &serde_json::to_string(&findings).unwrap()
}

/// Whether a number that is none shows anywhere.
fn shows_no_number(said: &str) -> bool {
    let mut words = said.split(|c: char| !c.is_alphanumeric());
    said.contains("NaN") || words.any(|word| word == "inf")
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
        assert!(!shows_no_number(&said), "{inside}: {said}");
    }
}

const WANTED: &str = r#""sanding_h": 72, "dry_build_um": 80"#;

fn cell(test: &SprayTest, key: RowKey, place: usize) -> String {
    let table = side_by_side(test, &found(test), &Wording::default());
    let row = table.rows.iter().find(|row| row.key == key).expect("a row");
    format!("{} {}", row.cells[place].value, row.cells[place].below)
}

fn sound(test: &SprayTest) -> String {
    let said = ask_everything(test);
    assert!(!shows_no_number(&said), "{said}");
    said
}

#[test]
fn one_reading_a_panel_says_that_a_curve_needs_more() {
    let wet = weighed(&drying(400.0)[..1]);
    let one = panel("a1", "a", 0.0).with("/weigh_ins", wet);
    let test = test_with(WANTED, &[candidate("a")], &[one]);
    sound(&test);
    assert!(found(&test).said[0].starts_with("Nothing can be said yet"), "{:?}", found(&test).said);
    assert!(
        cell(&test, RowKey::Mean(By::FilmStillToGo), 0).contains("A drying curve needs"),
        "{}",
        cell(&test, RowKey::Mean(By::FilmStillToGo), 0)
    );
    // The sheet still says what to spray.
    assert!(cell(&test, RowKey::WetToSpray, 0).starts_with("145 "), "{}", cell(&test, RowKey::WetToSpray, 0));
}

#[test]
fn without_any_bare_weight_grams_and_film_survive() {
    let bare = |id: &str| panel(id, "a", 0.0).without("/bare_g");
    let no_density = candidate("a").without("/sheet/density_g_per_ml").without("/mix/components/0/density_g_per_ml");
    let test = test_with(WANTED, &[no_density], &[bare("a1"), bare("a2")]);
    sound(&test);
    for key in [
        RowKey::Mean(By::FilmStillToGo),
        RowKey::Mean(By::LossPerArea),
        RowKey::Mean(By::FilmLost),
        RowKey::Mean(By::BuildKept),
        RowKey::DaysToSettle,
    ] {
        assert!(!cell(&test, key, 0).starts_with('–'), "{key:?}: {}", cell(&test, key, 0));
    }
    for key in [RowKey::Mean(By::LossShare), RowKey::SolidsByWeight, RowKey::SolidsByVolume] {
        assert!(
            cell(&test, key, 0).starts_with("– The panel was not weighed bare"),
            "{key:?}: {}",
            cell(&test, key, 0)
        );
    }
}

#[test]
fn one_panel_each_shows_values_and_claims_nothing() {
    let test = test_with(WANTED, &["a", "b"].map(candidate), &[panel("a1", "a", 0.0), panel("b1", "b", 4.0)]);
    sound(&test);
    let said = found(&test).said.join(" ");
    assert!(said.contains("cannot be told apart by one panel each") && !said.contains("more than chance"), "{said}");
}

#[test]
fn a_candidate_without_a_sheet_has_what_its_panels_say() {
    let test = test_with(WANTED, &[piece(r#"{ "id": "a" }"#)], &[panel("a1", "a", 0.0), panel("a2", "a", 0.1)]);
    let said = sound(&test);
    assert!(!cell(&test, RowKey::WetToSpray, 0).starts_with('–') && cell(&test, RowKey::Price, 0).starts_with("– "));
    assert!(said.contains("not on the sheet") || cell(&test, RowKey::SolidsByVolume, 0).contains("density of the mix"));
    assert!(found(&test).said[0].contains("the candidate without a name"), "{:?}", found(&test).said);
}

#[test]
fn thirty_panels_of_five_candidates_are_six_sentences() {
    let names = ["a", "b", "c", "d", "e"];
    let mut panels = Vec::new();
    for (i, name) in names.iter().enumerate() {
        panels.extend((0..6).map(|n| panel(&format!("{name}{n}"), name, 0.5 * i as f64 + 0.1 * f64::from(n))));
    }
    let test = test_with(WANTED, &names.map(candidate), &panels);
    let findings = found(&test);
    assert_eq!(findings.panels.len(), 30);
    assert!((2..=6).contains(&findings.said.len()), "{:#?}", findings.said);
    sound(&test);
}

#[test]
fn readings_in_the_future_and_moves_that_contradict_each_other_are_survived() {
    let future = panel("a1", "a", 0.0)
        .with("/coats/0/at", "2031-03-02T09:55:00Z")
        .with("/weigh_ins", weighed_from("2031-03-02T10:00:00Z", &drying(400.0)));
    sound(&test_with(WANTED, &[candidate("a")], &[future]));
    let moves = json!([
        { "at": "2026-03-04T10:00:00Z", "to": "Sun", "warmer": true },
        { "at": "2026-03-04T10:00:00Z", "to": "Shop" },
        { "at": "2026-03-04T10:00:00Z", "to": "Oven", "warmer": true },
        { "at": "2026-03-01T10:00:00Z", "to": "", "warmer": true },
    ]);
    let plain = test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let moved = piece(&write(&plain)).with("/moves", moves).opened();
    assert_eq!(moved.moves.kept().count(), 4);
    sound(&moved);
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
        prop_assert!(!shows_no_number(&said), "a number that is none, somewhere in what is said");
    }
}

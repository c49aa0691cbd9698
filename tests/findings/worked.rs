//! How numbers were worked out: what is shown gives the number that is shown.

use super::beside::{candidate, panel, test_with};
use super::{all_worked, found, test_of};
use comb_scale::findings::results::{
    FigureKey, RowKey, Worked, panel_figures, side_by_side, worked_beside, worked_figure,
};
use comb_scale::findings::{By, Findings, Wording};
use comb_scale::record::{EXAMPLE, SprayTest, open};
use comb_scale::science::routes::Route;
use serde_json::json;

const WANTED: &str = r#""sanding_h": 72, "dry_build_um": 80, "sanding_loss_um": 20"#;

fn one() -> SprayTest {
    let read =
        panel("a1", "a", 0.0).with("/spots", json!([{ "at": "2026-03-20T10:00:00Z", "readings_um": [122, 123, 121] }]));
    test_with(WANTED, &[candidate("a")], &[read, panel("a2", "a", 0.1)])
}

/// How that figure of the panel at that place was worked out.
fn of(test: &SprayTest, findings: &Findings, place: usize, key: FigureKey) -> Worked {
    worked_figure(test, &findings.panels[place], key, &Wording::default())
}

/// The first number of a text.
fn number(text: &str) -> f64 {
    let start = text.find(|c: char| c.is_ascii_digit()).expect(text);
    text[start..]
        .split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .next()
        .unwrap()
        .trim_end_matches('.')
        .parse()
        .unwrap()
}

fn input(one: &Worked, name: &str) -> f64 {
    let found = one.inputs.iter().find(|input| input.0 == name).unwrap_or_else(|| panic!("no {name} in {one:?}"));
    number(&found.1)
}

#[test]
fn every_figure_and_every_row_opens_to_its_formula_inputs_and_source() {
    for test in [
        one(),
        open(EXAMPLE).unwrap().test,
        test_of(r#""candidates": [ { "id": "c" } ], "panels": [ { "id": "p", "candidate": "c" } ]"#),
    ] {
        let (findings, wording) = (found(&test), Wording::default());
        for panel in &findings.panels {
            let all = all_worked(&test, panel, &wording);
            let figures = panel_figures(panel, &wording);
            assert_eq!(
                all.iter().map(|one| &one.name).collect::<Vec<_>>(),
                figures.iter().map(|f| &f.name).collect::<Vec<_>>()
            );
            all.iter().for_each(assert_whole);
        }
        for row in side_by_side(&test, &findings, &wording).rows {
            let all = worked_beside(&test, &findings, row.key, &wording);
            assert!(all.iter().map(|(id, _)| id).eq(findings.candidates.iter().map(|candidate| &candidate.id)));
            for (_, one) in all {
                assert_eq!(one.name, row.name);
                assert_whole(&one);
            }
        }
    }
}

fn assert_whole(one: &Worked) {
    for text in [&one.name[..], &one.value[..], one.formula, one.source] {
        assert!(!text.trim().is_empty() && !text.contains("NaN") && !text.contains("inf"), "{one:?}");
    }
    assert!(
        one.inputs.iter().all(|(name, value)| !name.is_empty() && !value.is_empty() && !value.contains("NaN")),
        "{one:?}"
    );
    assert!(!one.assumptions.is_empty(), "{one:?}");
    // An interval is told by its ends.
    assert!(one.inputs.iter().all(|(_, value)| !value.contains(" ± ")), "{one:?}");
}

/// The formulas worked out again here from nothing but the inputs that are shown.
#[test]
fn the_inputs_shown_give_the_number_shown() {
    let test = one();
    let findings = found(&test);
    let figure = |key| of(&test, &findings, 0, key);
    let comb = &figure(FigureKey::BuildBy(Route::CombAndScale));
    let per_gram = 1e4 / (input(comb, "Solvent density") * input(comb, "Coated area"));
    let by_hand =
        input(comb, "Wet film W, comb") - per_gram * (input(comb, "Wet weight") - input(comb, "Final weight"));
    assert!((by_hand - number(&comb.value)).abs() < 2.0, "{by_hand} against {comb:?}");
    let sheet = &figure(FigureKey::BuildBy(Route::Sheet));
    let by_hand = input(sheet, "Wet film W, comb") * input(sheet, "Solids by volume VS, sheet") / 100.0;
    assert!((by_hand - number(&sheet.value)).abs() < 2.0, "{by_hand} against {sheet:?}");
    let density = &figure(FigureKey::BuildBy(Route::ScaleAndDensity));
    let by_hand = 1e4 * (input(density, "Final weight") - input(density, "Bare weight"))
        / (input(density, "Density of the dry film") * input(density, "Coated area"));
    assert!((by_hand - number(&density.value)).abs() < 2.0, "{by_hand} against {density:?}");
    let lost = &figure(FigureKey::Lost);
    assert!((input(lost, "Wet weight") - input(lost, "Newest weight") - number(&lost.value)).abs() < 0.11, "{lost:?}");
    let row = |key| worked_beside(&test, &findings, key, &Wording::default()).remove(0).1;
    let price = &row(RowKey::Price);
    let by_hand = input(price, "Price of the mix") * (input(price, "Wanted build") + input(price, "Sanded off"))
        / (1000.0 * input(price, "Share of the wet film kept") / 100.0 * input(price, "Share that lands") / 100.0);
    assert!((by_hand / number(&price.value) - 1.0).abs() < 0.05, "{by_hand} against {price:?}");
    let mean = &row(RowKey::Mean(By::LossPerArea));
    let by_hand = 0.5 * (input(mean, "a1") + input(mean, "a2"));
    assert!((by_hand - number(&mean.value)).abs() < 0.2, "{by_hand} against {mean:?}");
}

/// Without a day of sanding a panel is told of days 1, 3 and 7.
#[test]
fn each_day_is_worked_out_for_itself() {
    let test = test_with("", &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let findings = found(&test);
    let day = |place| input(&of(&test, &findings, 0, FigureKey::FilmStillToGo(place)), "Day of sanding");
    assert_eq!([0, 1, 2].map(day), [1.0, 3.0, 7.0]);
}

#[test]
fn what_each_input_brings_to_a_build_adds_up() {
    let test = one();
    let findings = found(&test);
    let one = |key| of(&test, &findings, 1, key);
    let by = |route| one(FigureKey::BuildBy(route));
    for one in [one(FigureKey::FinalBuild), by(Route::CombAndScale), by(Route::Sheet), by(Route::ScaleAndDensity)] {
        let shares: f64 = one.shares.iter().filter(|s| !s.share.starts_with("under")).map(|s| number(&s.share)).sum();
        assert!((95.0..=103.0).contains(&shares), "{}: {:?}", one.name, one.shares);
    }
    assert_eq!(by(Route::CombAndScale).shares[0].input, "comb reading", "the comb leads");
    assert!(one(FigureKey::Lost).shares.is_empty() && by(Route::Gauge).shares.is_empty());
}

//! The side-by-side table, against hand calculations.

use super::{Piece, drying, found, list, piece, test_of, weigh_ins, weighed};
use comb_scale::findings::facts::candidates_in_order;
use comb_scale::findings::results::{Cell, Row, RowKey, Sorting, Table, notes_said, side_by_side};
use comb_scale::findings::{By, Wording};
use comb_scale::record::{Action, Phrase, SprayTest};
use comb_scale::science::compare::Claim;
use expect_test::expect;

use super::reads;

/// A panel of 900 cm² with three dabs of 200 to 250 µm; `more` is lost on top of the 8 g, spread over the whole curve.
pub fn panel(id: &str, candidate: &str, more: f64) -> Piece {
    let dab = r#"{ "wetted_um": 200, "dry_um": 250 }"#;
    let curve: Vec<(f64, f64)> = drying(400.0)
        .iter()
        .map(|&(t, g)| (t, ((426.0 - (426.0 - g) * (1.0 + more / 8.0)) * 10.0).round() / 10.0))
        .collect();
    piece(&format!(
        r#"{{ "id": "{id}", "label": "{id}", "candidate": "{candidate}", "bare_g": 400, "coated_cm2": 900,
        "dabs": [ {dab}, {dab}, {dab} ], "coats": [ {{ "at": "2026-03-02T09:55:00Z" }} ], "weigh_ins": [ {} ] }}"#,
        weigh_ins(&curve)
    ))
}

/// A candidate with a full sheet, no reducer and one pack of 4 L for 100.
pub fn candidate(id: &str) -> Piece {
    piece(&format!(
        r#"{{ "id": "{id}", "label": "{}", "sheet": {{ "stated_for": "mix", "solids_by_weight": 0.70, "solids_by_volume": 0.55,
        "density_g_per_ml": 1.3, "wet_film_um": 100 }},
        "mix": {{ "basis": "volume", "components": [ {{ "label": "Paint", "role": "base", "parts": 1, "density_g_per_ml": 1.3,
        "pack_l": 4, "pack_price": 100 }} ] }} }}"#,
        id.to_uppercase()
    ))
}

pub fn test_with(wanted: &str, candidates: &[Piece], panels: &[Piece]) -> SprayTest {
    test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "comb": {{ "teeth_um": [100, 150, 200, 250, 300] }}, "currency": "EUR",
        "wanted": {{ {wanted} }}, "candidates": {}, "panels": {}"#,
        list(candidates.iter().cloned()),
        list(panels.iter().cloned())
    ))
}

const WANTED: &str = r#""sanding_h": 72, "dry_build_um": 80, "sanding_loss_um": 20, "transfer_efficiency": 0.5"#;

fn table(test: &SprayTest) -> Table {
    side_by_side(test, &found(test), &Wording::default())
}

fn row(table: &Table, key: RowKey) -> &Row {
    table.rows.iter().find(|row| row.key == key).unwrap_or_else(|| panic!("no row {key:?}"))
}

fn cell(table: &Table, key: RowKey, place: usize) -> &Cell {
    &row(table, key).cells[place]
}

/// Two panels alike, so the mean is that of the one curve: 8.0 g of 26.0 g, which is all there is to lose (its last stage has
/// e⁻⁸ left at two weeks).
#[test]
fn every_row_is_what_a_hand_calculation_gives() {
    let test = test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0), panel("a2", "a", 0.0)]);
    let table = table(&test);
    let keys: Vec<RowKey> = table.rows.iter().map(|row| row.key).collect();
    assert_eq!(keys, RowKey::ALL);
    let kept = 1.0 - 1e4 * 8.0 / (0.87 * 900.0) / 224.8;
    // By hand; the comb posterior of 224.8 µm is the one published with its method.
    let by_hand = [
        (RowKey::Mean(By::LossPerArea), 1e4 * 8.0 / 900.0, 0.015),
        (RowKey::Mean(By::LossShare), 100.0 * 8.0 / 26.0, 0.015),
        (RowKey::Mean(By::FilmLost), 1e4 * 8.0 / (0.87 * 900.0), 0.015),
        (RowKey::Mean(By::BuildKept), 100.0 * kept, 0.015),
        (RowKey::SolidsByWeight, 100.0 * 18.0 / 26.0, 0.01),
        (RowKey::SolidsByVolume, 100.0 * (1.0 - 8.0 / 26.0 * 1.3 / 0.87), 0.015),
        (RowKey::WetToSpray, 100.0 / kept, 0.015),
        (RowKey::Coats, 2.0, 0.0),
        (RowKey::Price, 25.0 * 100.0 / kept / 1000.0 / 0.5, 0.015),
        (RowKey::SolventOff, 0.87 * 100.0 * (1.0 - kept) / kept, 0.03),
    ];
    for (key, expected, relative) in by_hand {
        let cell = cell(&table, key, 0);
        let got = cell.sort.unwrap_or_else(|| panic!("{key:?}: {cell:?}"));
        assert!((got - expected).abs() <= relative * expected, "{key:?}: {got} against {expected}");
        assert!(!cell.value.is_empty() && !cell.below.is_empty(), "{key:?}: {cell:?}");
        assert_eq!(cell.panels, 2, "{key:?}");
    }
    // A forecast: the truth must lie in its interval. The wet weight is 5 min after the last coat.
    let truth = 1e4 * 4.0 * (-(72.0_f64 - 5.0 / 60.0) / 40.0).exp() / (0.87 * 900.0);
    let range = &cell(&table, RowKey::Mean(By::FilmStillToGo), 0).below;
    let (low, high) = range.split_once(" to ").expect("a range");
    assert!(low.parse::<f64>().unwrap() <= truth && truth <= high.parse().unwrap(), "{range} and {truth}");
    assert_eq!(row(&table, RowKey::Price).unit, "EUR/m²");
    reads(&row(&table, RowKey::WetToSpray).name, expect!["Wet film for 80 µm dry"]);
    assert_eq!(cell(&table, RowKey::SolidsByWeight, 0).note, "sheet 70 %: agrees");
    assert_eq!(cell(&table, RowKey::SolidsByVolume, 0).note, "sheet 55 %: agrees");
    // 100 µm over 0.55 by the sheet.
    assert!(
        cell(&table, RowKey::WetToSpray, 0).note.starts_with("by the sheet 182 "),
        "{:?}",
        cell(&table, RowKey::WetToSpray, 0)
    );
    assert_eq!(cell(&table, RowKey::Coats, 0).value, "2");
}

#[test]
fn a_sheet_that_the_scale_contradicts_differs() {
    let stated = candidate("a").with("/sheet/solids_by_weight", 0.80);
    let test = test_with(WANTED, &[stated], &[panel("a1", "a", 0.0), panel("a2", "a", 0.1)]);
    assert_eq!(cell(&table(&test), RowKey::SolidsByWeight, 0).note, "sheet 80 %: differs");
}

#[test]
fn reducer_is_counted_in_what_the_sheet_says_of_the_mix() {
    let reducer = piece(r#"{ "label": "Reducer", "role": "reducer", "parts": 0.1, "density_g_per_ml": 0.87 }"#);
    let reduced = candidate("a").with("/sheet/stated_for", "mix_unreduced").adding("/mix/components", reducer);
    let test = test_with(WANTED, &[reduced], &[]);
    let table = table(&test);
    // Nothing measured: 100 µm × 1.1 / 0.55 by the sheet alone.
    assert!((cell(&table, RowKey::WetToSpray, 0).sort.unwrap() - 200.0).abs() < 1e-9);
    assert_eq!(cell(&table, RowKey::WetToSpray, 0).note, "by the data sheet");
    reads(&cell(&table, RowKey::Price, 0).below, expect!["Give the size of the pack of Reducer."]);
}

#[test]
fn what_cannot_be_had_has_its_reason() {
    let test = test_with("", &[candidate("a")], &[panel("a1", "a", 0.0)]);
    let table = table(&test);
    for key in [RowKey::WetToSpray, RowKey::Coats, RowKey::Price, RowKey::SolventOff] {
        let cell = cell(&table, key, 0);
        assert_eq!(
            (cell.value.as_str(), cell.below.as_str(), cell.sort),
            ("–", "Set the wanted build.", None),
            "{key:?}"
        );
    }
    let bare = panel("a1", "a", 0.0).without("/bare_g");
    let test = test_with(WANTED, &[candidate("a")], &[bare]);
    let table = side_by_side(&test, &found(&test), &Wording::default());
    assert!(cell(&table, RowKey::SolidsByWeight, 0).below.contains("not weighed bare"));
    assert!(
        cell(&table, RowKey::Mean(By::LossShare), 0).sort.is_some(),
        "comb and density stand in for the coat's mass"
    );
}

#[test]
fn pairs_that_differ_and_pairs_that_do_not_are_told_apart() {
    let candidates = ["a", "b", "c"].map(candidate);
    let panels = [
        panel("a1", "a", 0.0),
        panel("a2", "a", 0.1),
        panel("a3", "a", 0.05),
        panel("b1", "b", 0.0),
        panel("b2", "b", 0.1),
        panel("b3", "b", 0.2),
        panel("c1", "c", 4.0),
        panel("c2", "c", 4.1),
        panel("c3", "c", 4.2),
    ];
    let table = table(&test_with(WANTED, &candidates, &panels));
    for key in [RowKey::Mean(By::LossPerArea), RowKey::Mean(By::LossShare)] {
        let row = row(&table, key);
        let claim = |a: usize, b: usize| row.pairs.iter().find(|p| (p.first, p.second) == (a, b)).unwrap().claim;
        assert_eq!(
            [claim(0, 1), claim(0, 2), claim(1, 2)],
            [Claim::WithinChance, Claim::ThisMix, Claim::ThisMix],
            "{key:?}"
        );
        assert_eq!(
            row.verdict,
            "A, B | C: these mixes differ, more than chance; those named together cannot be told apart"
        );
    }
    assert!(row(&table, RowKey::Price).pairs.is_empty() && row(&table, RowKey::Price).verdict.is_empty());
}

#[test]
fn columns_are_ordered_by_a_row_with_the_empty_ones_last() {
    let candidates = ["a", "b", "c", "d"].map(candidate);
    let panels = [panel("a1", "a", 1.0), panel("b1", "b", 0.0), panel("d1", "d", 1.0)];
    let table = table(&test_with(WANTED, &candidates, &panels));
    // C, which has no panel, stands last in the list. A and D have the same curve: they keep the order of the list.
    assert_eq!(table.order(Some(RowKey::Mean(By::LossPerArea)), Sorting::Rising), [1, 0, 2, 3]);
    assert_eq!(table.order(Some(RowKey::Mean(By::LossPerArea)), Sorting::Falling), [0, 2, 1, 3]);
    assert_eq!(table.order(None, Sorting::Falling), [0, 1, 2, 3]);
}

/// Two panels weighed until an age, h.
fn weighed_until(hours: f64) -> Table {
    let young = |id: &str| {
        // After two weeks it shows 418.0 g every day.
        let later = (1..).map(|day| (336.0 + 24.0 * f64::from(day), 418.0));
        let curve = drying(400.0).into_iter().chain(later).take_while(|(t, _)| *t <= hours).collect::<Vec<_>>();
        panel(id, "a", 0.0).with("/weigh_ins", weighed(&curve))
    };
    table(&test_with(WANTED, &[candidate("a")], &[young("a1"), young("a2")]))
}

/// The method's own guard: too early to say means the range and not the point.
#[test]
fn while_it_is_too_early_ranges_stand_in_place_of_numbers() {
    let table = weighed_until(24.0);
    for key in [RowKey::Mean(By::FilmStillToGo), RowKey::DaysToSettle] {
        let cell = cell(&table, key, 0);
        assert!(cell.value.contains(" to ") && cell.below.starts_with("too early: weigh to day "), "{key:?}: {cell:?}");
        assert!(cell.sort.is_some() && cell.note.is_empty(), "{key:?}: {cell:?}");
    }
    // By weight the truth is 18/26; what is still open lies on the side of less, and by volume as well.
    let (low, high) = cell(&table, RowKey::SolidsByVolume, 0).below.split_once(" to ").expect("a range");
    let truth = 100.0 * (1.0 - 8.0 / 26.0 * 1.3 / 0.87);
    let mid = cell(&table, RowKey::SolidsByVolume, 0).sort.unwrap();
    let (low, high): (f64, f64) = (low.parse().unwrap(), high.parse().unwrap());
    assert!(low <= truth && truth <= high && mid - low > 1.2 * (high - mid), "{low} {mid} {high}");
}

/// The coat is settled when 1 % of 8 g, or two divisions, are left: 0.2 g. The curve has 4 e^(−t/40) g left: t = 40 ln 20 h,
/// which is 5.0 d after the wet weight, 5 min after the coat. Before that day, after it, and once it has settled, the true day
/// lies in what is told.
#[test]
fn days_to_settle_hold_the_true_day_and_scale_with_the_build() {
    let true_day = 40.0 * 20.0_f64.ln() / 24.0;
    for (hours, settled) in [(96.0, false), (192.0, false), (600.0, true)] {
        let table = weighed_until(hours);
        let cell = cell(&table, RowKey::DaysToSettle, 0);
        let range = if cell.below.contains("early") { &cell.value } else { cell.below.trim_start_matches("by day ") };
        let (low, high) = range.split_once(" to ").expect("a range");
        let high = if high.starts_with("over") { f64::INFINITY } else { high.parse().unwrap() };
        assert!(low.parse::<f64>().unwrap() <= true_day.ceil() && true_day.floor() <= high, "{hours} h: {cell:?}");
        assert_eq!(cell.value == "steady", settled, "{hours} h: {cell:?}");
        assert!(cell.below.contains("early") || cell.note.starts_with("at 80 µm: about "), "{cell:?}");
    }
}

#[test]
fn a_candidate_keeps_its_place_and_mark_whatever_it_is_called() {
    let mut history = comb_scale::record::start("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap(), "phone");
    let ids = |test: &SprayTest| -> Vec<_> {
        candidates_in_order(test).iter().map(|candidate| candidate.id.clone()).collect()
    };
    let before = ids(history.test());
    for name in ["Z", "", "A1"] {
        history.act(Action::Write(Phrase::Candidate(before[0].clone()), name.into())).unwrap();
        assert_eq!(ids(history.test()), before, "{name}");
    }
}

#[test]
fn what_no_weight_can_say_is_told_of_whom_it_was_noted() {
    let test = test_of(
        r#""candidates": [ { "id": "a", "label": "Grey", "notes": " Sands dry. " }, { "id": "b", "label": "Buff", "notes": "  " } ]"#,
    );
    assert_eq!(notes_said(&test), ["Grey: Sands dry."]);
}

/// A word beside a row's name must leave the name its line on a phone.
#[test]
fn a_row_says_in_a_word_what_its_pairs_allow() {
    let of = |panels: &[(&str, &str, f64)]| {
        let panels: Vec<_> = panels.iter().map(|(id, whose, more)| panel(id, whose, *more)).collect();
        let table = table(&test_with(WANTED, &[candidate("a"), candidate("b")], &panels));
        [RowKey::Mean(By::LossShare), RowKey::Price]
            .map(|key| table.rows.iter().find(|row| row.key == key).unwrap().verdict_word())
    };
    assert_eq!(of(&[("a1", "a", 0.0), ("b1", "b", 1.0)]), ["one panel each", ""]);
    let alike = [("a1", "a", 0.0), ("a2", "a", 0.2), ("b1", "b", 0.0), ("b2", "b", 0.2)];
    assert_eq!(of(&alike), ["can't tell", ""]);
    let apart =
        [("a1", "a", 0.0), ("a2", "a", 0.0), ("a3", "a", 0.1), ("b1", "b", 6.0), ("b2", "b", 6.0), ("b3", "b", 6.1)];
    assert_eq!(of(&apart), ["real difference", ""]);
}

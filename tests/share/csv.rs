//! Tables for spreadsheets, read back by a library that others wrote.

use comb_scale::findings;
use comb_scale::findings::facts::invented_said;
use comb_scale::quantity::Instant;
use comb_scale::record::{Action, EXAMPLE, History, SheetLine, Slot, SprayTest, again, open, plain_characters};
use comb_scale::share::{CsvCell, DecimalMark, csv, csv_number, csv_text, readings_csv, results_csv};
use proptest::prelude::*;
use serde_json::Value;

const MARKS: [(DecimalMark, u8); 2] = [(DecimalMark::Point, b','), (DecimalMark::Comma, b';')];

/// Rows file-06 to file-10; each names its source.
fn rows(topic: &str) -> Vec<Value> {
    let all: Vec<Value> = serde_json::from_str(include_str!("check_values.json")).unwrap();
    all.into_iter().filter(|row| row["topic"] == topic).collect()
}

/// The lines of a table, as the other library reads them; every one must have as many cells as the head.
fn read(text: &str, separator: u8) -> Vec<Vec<String>> {
    let bare = text.strip_prefix('\u{feff}').expect("a byte-order mark");
    let mut reader = csv_reader(separator).from_reader(bare.as_bytes());
    reader.records().map(|line| line.expect("a line").iter().map(str::to_owned).collect()).collect()
}

fn csv_reader(separator: u8) -> ::csv::ReaderBuilder {
    let mut reader = ::csv::ReaderBuilder::new();
    reader.has_headers(false).delimiter(separator);
    reader
}

/// The browser's share is in `tests/browser/scenarios/engines.test.mjs`: each engine's page gives this file, to the last digit.
#[test]
fn the_results_of_the_worked_example_are_these_to_the_last_digit() {
    let test = open(EXAMPLE).unwrap().test;
    let table = results_csv(&test, &findings::of(&test, now()), DecimalMark::Point);
    expect_test::expect_file!["example-results.csv"].assert_eq(&table.trim_start_matches('\u{feff}').replace('\r', ""));
}

#[test]
fn cells_are_written_as_the_published_rows_say() {
    let rows = [rows("file/csv_safe"), rows("file/csv_quote")].concat();
    assert_eq!(rows.len(), 4);
    for row in rows {
        let cell = row["inputs"]["cell"]["value"].as_str().unwrap();
        assert_eq!(csv_text(cell), row["expected"]["field"]["value"].as_str().unwrap(), "{}", row["id"]);
    }
    for row in rows_of_numbers() {
        let cell = row["inputs"]["cell"]["value"].as_f64().unwrap();
        let field = row["expected"]["field"]["value"].as_str().unwrap();
        assert_eq!(csv_number(cell, DecimalMark::Point), field, "{}", row["id"]);
    }
}

fn rows_of_numbers() -> Vec<Value> {
    let rows = rows("file/csv_number");
    assert_eq!(rows.len(), 1);
    rows
}

proptest! {
    #[test]
    fn any_text_and_any_number_come_back_from_an_independent_reader(
        texts in proptest::collection::vec(any::<String>(), 1..6),
        numbers in proptest::collection::vec(proptest::num::f64::NORMAL, 1..4),
    ) {
        for (mark, separator) in MARKS {
            let mut row: Vec<CsvCell> = texts.iter().cloned().map(CsvCell::Text).collect();
            row.extend(numbers.iter().map(|number| CsvCell::Number(Some(*number))));
            // A table whose only line is one empty cell reads as no line at all; the head stands before it.
            row.push(CsvCell::Text("end".into()));
            let heads = vec!["head"; row.len()];
            let back = read(&csv(&heads, &[row], mark), separator);
            prop_assert_eq!(back.len(), 2);
            for (text, cell) in texts.iter().zip(&back[1]) {
                let text = &plain_characters(text).collect::<String>();
                // What was set before a formula is taken off again.
                prop_assert!(cell == text || cell.strip_prefix('\'') == Some(text), "{:?} as {:?}", text, cell);
                prop_assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']), "{:?}", cell);
            }
            for (number, cell) in numbers.iter().zip(&back[1][texts.len()..]) {
                prop_assert_eq!(cell.replace(',', ".").parse::<f64>().ok(), Some(*number));
            }
        }
    }
}

fn now() -> Instant {
    "2026-03-20T12:00:00+01:00".parse().unwrap()
}

fn tables(test: &SprayTest, mark: DecimalMark, separator: u8) -> (Vec<Vec<String>>, Vec<Vec<String>>) {
    let findings = findings::of(test, now());
    (read(&readings_csv(test, &findings, mark), separator), read(&results_csv(test, &findings, mark), separator))
}

/// The place of a column.
fn column(table: &[Vec<String>], head: &str) -> usize {
    table[0].iter().position(|name| name == head).unwrap_or_else(|| panic!("{head} in {:?}", table[0]))
}

#[test]
fn every_reading_of_the_example_is_in_the_table() {
    let test = open(EXAMPLE).unwrap().test;
    for (mark, separator) in MARKS {
        let (readings, _) = tables(&test, mark, separator);
        let number =
            |line: &Vec<String>, head: &str| line[column(&readings, head)].replace(',', ".").parse::<f64>().ok();
        for panel in test.panels.kept() {
            let own: Vec<_> = readings.iter().filter(|line| line[column(&readings, "panel")] == panel.label).collect();
            let count = |kinds: &[&str]| own.iter().filter(|line| kinds.contains(&line[0].as_str())).count();
            assert_eq!(count(&["bare weight"]), panel.bare.kept().count());
            assert_eq!(count(&["weight", "wet weight"]), panel.weigh_ins.kept().count());
            assert_eq!(count(&["wet weight"]), 1);
            assert_eq!(count(&["comb reading"]), panel.dabs.kept().count());
            for weigh_in in panel.weigh_ins.kept() {
                let grams = weigh_in.gross_g.map(f64::from);
                assert!(own.iter().any(|line| number(line, "weight (g)") == grams));
            }
        }
        let blanks: usize = test.blanks.kept().map(|blank| blank.weigh_ins.kept().count()).sum();
        assert_eq!(readings.iter().filter(|line| line[0] == "blank").count(), blanks);
    }
}

#[test]
fn results_are_numbers_with_their_units_or_a_reason() {
    let test = open(EXAMPLE).unwrap().test;
    let findings = findings::of(&test, now());
    let (_, results) = tables(&test, DecimalMark::Point, b',');
    let [middle, note] = ["middle", "what to know"].map(|head| column(&results, head));
    for line in &results[1..] {
        assert!(line[middle].parse::<f64>().is_ok_and(f64::is_finite) || !line[note].is_empty(), "{line:?}");
    }
    let panel = &findings.panels[0];
    let find = |of: &str, quantity: &str| results.iter().find(|line| line[0] == of && line[2] == quantity).unwrap();
    let built = panel.final_build_um.unwrap();
    let told: Vec<f64> = find(&panel.label, "final build")[4..7].iter().map(|cell| cell.parse().unwrap()).collect();
    for (told, known) in told.iter().zip([built.low, built.mid, built.high]) {
        assert!((told - known).abs() <= 1e-5 * known, "{told} {known}");
    }
    let lost: f64 = find(&panel.label, "lost so far")[middle].parse().unwrap();
    assert!((lost - panel.lost_g.unwrap()).abs() < 1e-5);
}

#[test]
fn no_name_is_a_formula_and_nothing_missing_breaks_a_table() {
    let hostile = r#""@SUM(A1:A9);x,\"y\"\r\n=2""#;
    for inside in [
        String::new(),
        r#", "panels": [ { } ]"#.into(),
        format!(
            r#", "candidates": [ {{ "id": "c", "label": {hostile} }} ], "rounds": [ {{ "id": "r", "place": {hostile} }} ],
            "panels": [ {{ "label": {hostile}, "candidate": "c", "bare_g": 400, "dabs": [ {{ "wetted_um": 100, "place": {hostile} }} ],
            "spots": [ {{ "readings_um": [ 1, 2, 3, 4 ] }}, {{ }} ],
            "weigh_ins": [ {{ "round": "r", "gross_g": 440, "set_aside": {{ "by": "person", "why": {hostile} }} }}, {{ "at": "2026-03-02T10:00:00+05:30" }} ] }} ]"#
        ),
    ] {
        let test = open(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t" {inside} }}"#)).unwrap().test;
        for (mark, separator) in MARKS {
            let (readings, results) = tables(&test, mark, separator);
            for cell in readings.iter().chain(&results).flatten() {
                let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
                assert!(!formula || cell.replace(',', ".").parse::<f64>().is_ok(), "{cell}");
                assert!(!cell.contains("NaN") && cell != "inf");
            }
        }
    }
}

#[test]
fn each_line_of_what_is_invented_says_so_until_it_is_replaced() {
    let example = open(EXAMPLE).unwrap().test;
    let mut history = History::new(again(&example, "t2".into(), now()), "phone");
    let all_say = |test: &SprayTest, what: &str| {
        let (readings, results) = tables(test, DecimalMark::Point, b',');
        for table in [readings, results] {
            let last = column(&table, "invented");
            assert!(table[1..].iter().all(|line| line[last].contains(what)), "{table:?}");
        }
    };
    all_say(&example, "everything in it is invented");
    all_say(history.test(), "Buff undercoat, Grey undercoat, White undercoat");
    for (place, candidate) in example.candidates.kept().enumerate() {
        for (line, value) in
            [(SheetLine::SolidsByWeight, 0.71), (SheetLine::SolidsByVolume, 0.5), (SheetLine::Density, 1.4)]
        {
            history.act(Action::Fill(Slot::Sheet(candidate.id.clone(), line), Some(value))).unwrap();
        }
        all_say(history.test(), "White undercoat");
        for line in
            [SheetLine::SolventDensity, SheetLine::DryDensity, SheetLine::Voc, SheetLine::WetFilm, SheetLine::DryFilm]
        {
            history.act(Action::Fill(Slot::Sheet(candidate.id.clone(), line), None)).unwrap();
        }
        let said = invented_said(history.test()).unwrap_or_default();
        assert!(!said.contains(&candidate.label) && said.is_empty() == (place == 2), "{said}");
    }
    let (readings, results) = tables(history.test(), DecimalMark::Point, b',');
    assert!([readings, results].iter().all(|table| !table[0].contains(&"invented".to_owned())));
}

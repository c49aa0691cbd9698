//! Names that mean harm to the sentences, tables and files they are put into: none turns its neighbors around, none becomes a
//! formula, and the record keeps each as it was typed.

use comb_scale::findings::results::{
    CurveChoice, curve_table, curve_text, film_table, film_text, panel_figures, panel_in_short, side_by_side,
    worked_beside,
};
use comb_scale::findings::shelf::about;
use comb_scale::findings::words::panels_said;
use comb_scale::findings::{Findings, Memory, Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::{EXAMPLE, SprayTest, file_name, legible, open, write};
use comb_scale::share::{DecimalMark, csv_text, readings_csv, report, results_csv, schedule_calendar};
use serde_json::Value;

use super::{Attacks, holds, same};

/// Names, and what each does where nothing is done about it.
const NAMES: [(&str, &str); 14] = [
    ("an override", "Grey\u{202e}"),
    ("an override of digits", "\u{202e}Grey 22"),
    ("an override to the right", "\u{202d}Grey"),
    ("an embedding", "Grey\u{202b}"),
    ("an isolate that is not closed", "Grey\u{2067}"),
    ("an isolate closed too often", "Grey\u{2069}\u{2069}"),
    ("an end without a beginning", "Grey\u{202c}"),
    ("a mark from right to left", "Grey\u{200f}"),
    ("an Arabic letter mark", "Grey\u{61c}"),
    ("Hebrew", "אפור"),
    ("Arabic with digits", "رمادي 22"),
    ("Hebrew that ends its isolate", "אפור\u{2069}ב"),
    ("a line separator", "Grey\u{2028}22 to 175"),
    ("controls", "Grey\u{0}\u{8}\u{1b}[31m"),
];

fn now() -> Instant {
    "2026-03-20T12:00:00+01:00".parse().unwrap()
}

/// The example with a name wherever one stands.
fn named(name: &str) -> SprayTest {
    let mut record: Value = serde_json::from_str(EXAMPLE).unwrap();
    fn rename(value: &mut Value, name: &str) {
        match value {
            Value::Object(map) => {
                for (key, value) in map.iter_mut() {
                    match value {
                        Value::String(text)
                            if matches!(
                                key.as_str(),
                                "label" | "title" | "place" | "notes" | "text" | "to" | "grade"
                            ) =>
                        {
                            *text = [text.as_str(), " ", name].concat();
                        }
                        other => rename(other, name),
                    }
                }
            }
            Value::Array(list) => list.iter_mut().for_each(|value| rename(value, name)),
            _ => {}
        }
    }
    rename(&mut record, name);
    record["schedule"] = serde_json::json!([ { "due_h": 24 } ]);
    open(&record.to_string()).expect("it opens").test
}

/// Whether nothing in a text turns what stands outside of it around: no character that turns but whole isolates, letters that
/// run from right to left only inside of one, and no line ended in the middle.
fn stays(text: &str) -> Result<(), String> {
    let mut depth = 0;
    for c in text.chars() {
        match c {
            '\u{2068}' => depth += 1,
            '\u{2069}' => depth -= 1,
            '\u{61c}'
            | '\u{200e}'
            | '\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2066}'..='\u{2067}'
            | '\u{2028}'
            | '\u{2029}' => {
                return Err(format!("{:?} in {text:?}", c));
            }
            '\u{590}'..='\u{8ff}' if depth != 1 => return Err(format!("not by itself: {text:?}")),
            c if c.is_control() && !matches!(c, '\n' | '\r' | '\t') => return Err(format!("{c:?} in {text:?}")),
            _ => {}
        }
        if !(0..=1).contains(&depth) {
            return Err(format!("isolates do not pair: {text:?}"));
        }
    }
    holds(depth == 0, format!("an isolate stays open: {text:?}"))
}

fn all_stay(texts: impl IntoIterator<Item = String>) -> Result<(), String> {
    let mut count = 0;
    for text in texts {
        stays(&text)?;
        count += 1;
    }
    holds(count > 0, "there was no text")
}

/// Everything that is said of a test, by where it is said.
fn by_place(test: &SprayTest, found: &Findings, place: &str) -> Result<(), String> {
    let (told, wording) = (legible(test), Wording::default());
    let choice = CurveChoice::default();
    match place {
        "sentences" => all_stay(found.said.iter().chain(&found.next).cloned()),
        "panels" => all_stay(found.panels.iter().flat_map(|panel| {
            let figures = panel_figures(panel, &wording).into_iter().map(|figure| figure.value.unwrap_or(figure.note));
            let flags = panel.flags.iter().map(|flag| flag.says.clone());
            let remarks = panel.remarks.iter().cloned();
            figures
                .chain(flags)
                .chain(remarks)
                .chain([panel_in_short(panel, &wording), panels_said(3)])
                .collect::<Vec<_>>()
        })),
        "side by side" => {
            let table = side_by_side(test, found, &wording);
            let rows = table.rows.iter().flat_map(|row| {
                let cells =
                    row.cells.iter().flat_map(|cell| [cell.value.clone(), cell.below.clone(), cell.note.clone()]);
                let worked = worked_beside(&told, found, row.key, &wording).into_iter();
                let worked = worked.flat_map(|(_, one)| one.inputs.into_iter().flat_map(|(a, b)| [a, b]));
                cells.chain(worked).chain([row.verdict.clone()]).collect::<Vec<_>>()
            });
            all_stay(rows.chain(table.columns.iter().map(|column| column.1.clone())))
        }
        "curves" => {
            let loss = curve_table(&told, found, &choice, &wording).into_iter().map(|line| line.value);
            let film = film_table(&told, found, &choice, &wording).into_iter().map(|line| line.what);
            let texts = [
                curve_text(found, &comb_scale::findings::results::CurveChoice::default(), &wording),
                film_text(&told, found, &choice, &wording),
            ];
            all_stay(loss.chain(film).chain(texts))
        }
        "what is waiting" => {
            let mut memory = Memory::default();
            memory.look(test);
            all_stay(memory.panels(test, &wording).waiting_said().into_iter().chain([about(&told)]))
        }
        "the report" => {
            let report = report(test, found, now(), &wording);
            let (told, carried) = report.split_once("<pre id=\"record\"").expect("the record is inside");
            all_stay(told.split(['<', '>']).map(str::to_owned))?;
            same("the record inside", open_inside(carried), test.clone())
        }
        "the calendar" => {
            let early = "2026-03-02T12:00:00+01:00".parse().unwrap();
            let text = schedule_calendar(test, early).expect("something is due");
            all_stay(text.replace("\r\n ", "").lines().map(str::to_owned))
        }
        "the tables" => {
            let readings = readings_csv(test, found, DecimalMark::Point);
            all_stay([plain(&readings), plain(&results_csv(test, found, DecimalMark::Comma))])
        }
        "the file's name" => holds(
            file_name(&test.title).chars().all(|c| c.is_alphanumeric() || " -.".contains(c)),
            file_name(&test.title),
        ),
        other => unreachable!("{other}"),
    }
}

/// A table's text; in its cells letters may run as they do.
fn plain(table: &str) -> String {
    table
        .trim_start_matches('\u{feff}')
        .chars()
        .map(|c| if matches!(c, '\u{590}'..='\u{8ff}') { 'x' } else { c })
        .collect()
}

fn open_inside(carried: &str) -> SprayTest {
    comb_scale::record::open_any(format!("<pre id=\"record\"{carried}").as_bytes()).expect("it opens").test
}

const PLACES: [&str; 9] = [
    "sentences",
    "panels",
    "side by side",
    "curves",
    "what is waiting",
    "the report",
    "the calendar",
    "the tables",
    "the file's name",
];

#[test]
fn names_that_turn_their_neighbors_around() {
    let mut attacks = Attacks::on("names in sentences");
    for (what, name) in NAMES {
        let test = named(name);
        let found = of(&test, now());
        for place in PLACES {
            attacks.attempt(format!("{what}, {place}"), || by_place(&test, &found, place));
        }
        attacks.attempt(format!("{what}, in the record"), || {
            same("as it was typed", open(&write(&test)).unwrap().test, test.clone())?;
            holds(test.title.ends_with(name), format!("{:?}", test.title))
        });
    }
    attacks.close();
}

/// What spreadsheets take for nothing before a formula.
const BEFORE: [(&str, &str); 22] = [
    ("nothing", ""),
    ("a space", " "),
    ("a no-break space", "\u{a0}"),
    ("a narrow no-break space", "\u{202f}"),
    ("an ideographic space", "\u{3000}"),
    ("a zero-width space", "\u{200b}"),
    ("a zero-width joiner", "\u{200d}"),
    ("a word joiner", "\u{2060}"),
    ("a byte-order mark", "\u{feff}"),
    ("a soft hyphen", "\u{ad}"),
    ("NUL", "\0"),
    ("a bell", "\u{7}"),
    ("a vertical tab", "\u{b}"),
    ("a form feed", "\u{c}"),
    ("a tab", "\t"),
    ("a carriage return", "\r"),
    ("a line end", "\n"),
    ("a next line", "\u{85}"),
    ("a line separator", "\u{2028}"),
    ("an override", "\u{202e}"),
    ("a Hangul filler", "\u{3164}"),
    ("several", " \u{a0}\u{200b}\t\u{3000}"),
];

#[test]
fn cells_that_would_be_formulas() {
    let mut attacks = Attacks::on("cells");
    for (what, before) in BEFORE {
        for begin in ["=", "+", "-", "@", "＝", "＋", "－", "＠"] {
            attacks.attempt(format!("{what} before {begin}"), || {
                let cell = csv_text(&[before, begin, "1+\"2\""].concat());
                holds(cell.starts_with("\"'") && cell.ends_with('"') && cell.contains("\"\"2\"\""), cell)
            });
        }
        attacks.attempt(format!("{what} before a plain name"), || {
            let cell = csv_text(&[before, "Grey"].concat());
            holds(cell.trim_matches('"').trim_start_matches('\'').ends_with("Grey"), cell)
        });
    }
    for (text, wanted) in
        [("Grey, matt", "\"Grey, matt\""), ("6\" plate", "\"6\"\" plate\""), ("a;b", "\"a;b\""), ("1-2", "1-2")]
    {
        attacks.attempt(text, || same("the cell", csv_text(text).as_str(), wanted));
    }
    attacks.close();
}

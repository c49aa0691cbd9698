//! Tables for spreadsheets: RFC 4180 text, written by hand, since a library for it costs more than all of this.

mod readings;
mod results;

use findings::facts::invented_said;
use record::{SprayTest, file_name};

pub use readings::readings_csv;
pub use results::results_csv;

/// The media type of a table.
pub const CSV_TYPE: &str = "text/csv;charset=utf-8";

/// How a table is written: a spreadsheet reads the numbers of its own place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DecimalMark {
    /// `412.3`, cells apart by a comma.
    #[default]
    Point,
    /// `412,3`, cells apart by a semicolon.
    Comma,
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum CsvCell {
    /// Text of whatever origin.
    Text(String),
    /// A number; empty where it is none.
    Number(Option<f64>),
}

impl DecimalMark {
    fn separator(self) -> char {
        match self {
            Self::Point => ',',
            Self::Comma => ';',
        }
    }
}

/// A text cell as it is written: no spreadsheet takes it for a formula, whatever it begins with (OWASP, "CSV Injection"), and
/// what parts cells or lines is quoted (RFC 4180, 2). Both separators are, since not every reader asks which one is meant.
///
/// ```
/// use comb_scale::share::csv_text;
/// assert_eq!(csv_text("=1+2"), "\"'=1+2\"");
/// assert_eq!(csv_text("Panel 3, grey"), "\"Panel 3, grey\"");
/// assert_eq!(csv_text("Grey"), "Grey");
/// ```
pub fn csv_text(text: &str) -> String {
    // A spreadsheet knows no direction of a name.
    let mut shown = String::new();
    record::plain_characters(text).for_each(|c| shown.push(c));
    // Spreadsheets that trim see through blanks of every kind and what has no form, and some read the wide and small forms of
    // East Asian type.
    let first = shown.trim_start_matches(|c: char| c.is_whitespace() || has_no_form(c)).chars().next();
    let formula = first.is_some_and(|c| "=+-@＝＋－＠﹢﹣﹦﹫".contains(c)) || shown.starts_with(['\t', '\r', '\n']);
    if !formula && !shown.contains([',', ';', '"', '\r', '\n', '\t']) {
        return shown;
    }
    ["\"", if formula { "'" } else { "" }, &shown.replace('"', "\"\""), "\""].concat()
}

/// Nothing is drawn for it: joiners, fillers, marks of the order of bytes, tags.
fn has_no_form(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200d}'
        | '\u{2060}'..='\u{2064}' | '\u{206a}'..='\u{206f}' | '\u{2800}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// A number as it is written: as many digits as it has, a plain minus sign, and nothing for what is not finite.
///
/// ```
/// use comb_scale::share::{DecimalMark, csv_number};
/// assert_eq!(csv_number(-0.03, DecimalMark::Point), "-0.03");
/// assert_eq!(csv_number(412.3, DecimalMark::Comma), "412,3");
/// ```
pub fn csv_number(value: f64, mark: DecimalMark) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let text = value.to_string();
    match mark {
        DecimalMark::Point => text,
        DecimalMark::Comma => text.replace('.', ","),
    }
}

/// A table with a head, as a spreadsheet opens it: a byte-order mark so that it is read as UTF-8, lines ended by CR LF.
pub fn csv(heads: &[&str], rows: &[Vec<CsvCell>], mark: DecimalMark) -> String {
    let mut out = String::from("\u{feff}");
    let mut line = |cells: &mut dyn Iterator<Item = String>| {
        for (place, cell) in cells.enumerate() {
            if place > 0 {
                out.push(mark.separator());
            }
            out.push_str(&cell);
        }
        out.push_str("\r\n");
    };
    line(&mut heads.iter().map(|head| csv_text(head)));
    for row in rows {
        line(&mut row.iter().map(|cell| match cell {
            CsvCell::Text(text) => csv_text(text),
            CsvCell::Number(number) => number.map_or(String::new(), |number| csv_number(number, mark)),
        }));
    }
    out
}

/// A table of a test. Where something in that is invented every line says so, for a line is soon copied elsewhere.
fn csv_of(test: &SprayTest, heads: &[&str], mut rows: Vec<Vec<CsvCell>>, mark: DecimalMark) -> String {
    let Some(said) = invented_said(test) else { return csv(heads, &rows, mark) };
    let heads: Vec<&str> = heads.iter().copied().chain(["invented"]).collect();
    rows.iter_mut().for_each(|row| row.push(CsvCell::Text(said.clone())));
    csv(&heads, &rows, mark)
}

/// The names of a test's tables.
///
/// ```
/// use comb_scale::share::{readings_csv_name, results_csv_name};
/// assert_eq!(readings_csv_name("Gate / undercoats"), "Gate undercoats readings.csv");
/// assert_eq!(results_csv_name(""), "spray test results.csv");
/// ```
pub fn readings_csv_name(title: &str) -> String {
    named(title, " readings.csv")
}

/// As [`readings_csv_name`], of the results.
pub fn results_csv_name(title: &str) -> String {
    named(title, " results.csv")
}

fn named(title: &str, ending: &str) -> String {
    let name = file_name(title);
    [name.strip_suffix(".spraytest.txt").unwrap_or(&name), ending].concat()
}

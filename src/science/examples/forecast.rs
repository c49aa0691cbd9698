//! Reads a table of one panel's weights and prints where it will end:
//!
//! ```text
//! cargo run -p comb-scale-science --example forecast -- src/science/examples/weights.csv
//! cargo run -p comb-scale-science --example forecast -- weights.csv --bare_g 412.6 --area_cm2 600 --solids_percent 58
//! ```
//!
//! The first line names the columns, in any order; cells are parted by commas, semicolons or tabs (with the last two a decimal
//! comma is understood). Empty lines and lines that begin with `#` are skipped.
//!
//! | column | what stands in it |
//! |---|---|
//! | `day` or `h` | days or hours on any one clock; the first weighing is the wet weight |
//! | `gross_g` | panel and coat, g; an empty cell is a weighing that was left out |
//! | `blank_g` | the unpainted panel that checks the scale, weighed in that round, g |
//! | `moved` | `warmer`: before this weighing the panel was carried to a warmer place; `back`: out of it again |
//!
//! Figures that hold for the whole panel are columns too, filled on any line, or options of the same name:
//!
//! | figure | unit | without it |
//! |---|---|---|
//! | `bare_g` | weight of the bare panel, g | the forecast is in grams lost, and wider |
//! | `area_cm2` | coated area, cm² | nothing is said in µm |
//! | `solids_percent` | solids by weight of the mix as sprayed, % | the weights alone tell |
//! | `solvent_density` | of what leaves, g/mL | 0.87 |
//! | `step_g` | smallest step of the scale, g | 0.1 |

use comb_scale_science::drying::{
    Balance, Estimate, FilmScale, Forecast, HORIZON_H, Move, NoForecast, Panel, Scale, Settings, Standing, Verdict,
    Weighing, forecast,
};
use std::fmt::Write as _;

fn main() -> std::process::ExitCode {
    let mut arguments = std::env::args().skip(1);
    let Some(path) = arguments.next() else {
        eprintln!("Name a table of weights: forecast weights.csv [--bare_g 412.6] [--area_cm2 600] …");
        return 2.into();
    };
    let options: Vec<String> = arguments.collect();
    let told = std::fs::read_to_string(&path)
        .map_err(|error| error.to_string())
        .and_then(|table| told(&table, &options).map_err(|trouble| trouble.to_string()));
    match told {
        Ok(told) => {
            print!("{told}");
            0.into()
        }
        Err(trouble) => {
            eprintln!("{path}: {trouble}");
            1.into()
        }
    }
}

/// What a table and options of the kind `--bare_g 412.6` come to, in sentences.
pub fn told(table: &str, options: &[String]) -> Result<String, Trouble> {
    let mut read = Table::read(table)?;
    for pair in options.chunks(2) {
        read.option(pair)?;
    }
    let [bare_g, area_cm2, solids, density, step_g] = read.figures.each_ref().map(|figure| figure.map(|(g, _)| g));
    let balance = Balance::new(Scale::new(step_g.unwrap_or(0.1)), &read.blank);
    let film = area_cm2.map(|area_cm2| FilmScale {
        area_cm2,
        u_area_cm2: 0.01 * area_cm2,
        solvent_density: density.unwrap_or(0.87),
        u_solvent_density: 0.03,
    });
    let panel = Panel {
        moves: &read.moves,
        sheet_solids: solids.map(|percent| percent / 100.0),
        film,
        ..Panel::new(&balance, bare_g, &read.weighings)
    };
    let forecast = forecast(&panel, &Settings::shown()).map_err(Trouble::NoForecast)?;
    Ok(in_sentences(&forecast, &panel))
}

fn in_sentences(f: &Forecast, panel: &Panel) -> String {
    let mut said = String::new();
    let mut say = |line: String| writeln!(said, "{line}").expect("a string takes all that is written");
    let range = |e: &Estimate, unit: &str| format!("{:.2} {unit} (95 %: {:.2} to {:.2} {unit})", e.mean, e.low, e.high);
    let now_h = f.wet_t_h + f.newest_age_h;
    say(format!(
        "{} weighings, {} of them in the fit, {:.1} days.",
        panel.weighings.len(),
        f.kept,
        f.newest_age_h / 24.0
    ));
    for (w, standing) in panel.weighings.iter().zip(&f.readings).filter(|(_, standing)| **standing != Standing::Kept) {
        say(format!("Left out: {:.1} g at {:.2} d, {standing:?}.", w.gross_g, (w.t_h - f.wet_t_h) / 24.0));
    }
    say(format!("Lost so far: {:.2} g.", f.lost_g));
    say(format!("Still to lose: {}.", range(&f.still_to_lose_g.estimate, "g")));
    if let Some(to_come) = panel.film.and_then(|film| f.shrinkage_to_come(now_h, &film).ok()) {
        say(format!("Shrinkage still to come: {}.", range(&to_come, "µm")));
    }
    say(format!("Final weight of panel and coat: {}.", range(&f.final_gross_g, "g")));
    if let Some(sheet) = f.narrowed {
        let (from, apart) = (range(&sheet.from, "g"), sheet.apart_sds);
        say(format!("Without the data sheet's solids: {from}; they lie {apart:.1} sd apart."));
    }
    say(match f.verdict {
        Verdict::Yes(_) => "Weight steady.".into(),
        Verdict::NotYet(why) => format!("Not called steady yet: {why:?}."),
        Verdict::TooEarly(why) => format!("Too early to say: {why:?}."),
    });
    say(format!(
        "{:.0} % sure that no more than {:.2} g is still to come; steady is called from {:.0} %.",
        100.0 * f.steady_probability,
        f.steady_limit_g,
        100.0 * panel.certainty.least()
    ));
    let until = f.hours_until(f.steady_limit_g);
    let days = |h: f64| if h < HORIZON_H { format!("{:.1}", h / 24.0) } else { "over 90".into() };
    say(format!(
        "No more than that will be left in {} days, as things are (95 %: {} to {}).",
        days(until.median),
        days(until.low),
        days(until.high)
    ));
    say("What narrows it:".into());
    for gain in f.next_weigh_in([24.0, 72.0].map(|h| now_h + h)) {
        let after = (gain.t_h - now_h) / 24.0;
        say(format!("- one more weighing in {after:.0} d: the interval to {:.0} % of its width", 100.0 * gain.share));
    }
    if panel.bare_g.is_none() {
        say("- the bare weight of the panel (bare_g)".into());
    }
    if panel.sheet_solids.is_none() && panel.bare_g.is_some() {
        say("- the solids by weight of the mix as sprayed (solids_percent)".into());
    }
    for warning in &f.warnings {
        say(format!("Note: {warning:?}."));
    }
    said
}

/// Why a table gives no forecast.
#[derive(Debug, PartialEq)]
pub enum Trouble {
    /// Something on a line, counted from 1.
    Line(usize, String),
    /// An option.
    Option(String),
    /// No weighing on any line.
    Empty,
    /// The weights are in order and yet say nothing.
    NoForecast(NoForecast),
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Line(line, what) => write!(f, "line {line}: {what}"),
            Self::Option(what) => f.write_str(what),
            Self::Empty => f.write_str("no line has a weight"),
            Self::NoForecast(NoForecast::FewReadings { kept, needed }) => {
                write!(f, "{kept} weighings; a forecast needs at least {needed}")
            }
            Self::NoForecast(NoForecast::NoCoat { coat_g }) => {
                write!(f, "the wet weight is {coat_g:.2} g above the bare weight: there is no coat to dry")
            }
            Self::NoForecast(NoForecast::NothingLost { .. } | NoForecast::AllEqual) => {
                f.write_str("the weights do not fall by more than the scale scatters: nothing to forecast from")
            }
            Self::NoForecast(why) => write!(f, "no forecast: {why:?}"),
        }
    }
}

/// Figures of the whole panel, and what each may be.
const FIGURES: [(&str, std::ops::RangeInclusive<f64>); 5] = [
    ("bare_g", 0.0..=1e6),
    ("area_cm2", 0.1..=1e6),
    ("solids_percent", 0.1..=99.9),
    ("solvent_density", 0.3..=3.0),
    ("step_g", 1e-6..=100.0),
];

/// A table as read.
#[derive(Default)]
struct Table {
    weighings: Vec<Weighing>,
    blank: Vec<Weighing>,
    moves: Vec<Move>,
    /// In the order of [`FIGURES`], each with the line that it stands on; an option stands on none.
    figures: [Option<(f64, usize)>; FIGURES.len()],
}

impl Table {
    fn read(text: &str) -> Result<Self, Trouble> {
        let mut lines = (1..).zip(text.trim_start_matches('\u{feff}').lines());
        let mut lines = lines.by_ref().filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
        let (first, head) = lines.next().ok_or(Trouble::Empty)?;
        let separator = [';', '\t', ','].into_iter().find(|s| head.contains(*s)).unwrap_or(',');
        let columns: Vec<String> = cells(head, separator).map(str::to_lowercase).collect();
        let known = |name: &&str| ["day", "h", "gross_g", "blank_g", "moved"].contains(name) || figure(name).is_some();
        if let Some(other) = columns.iter().find(|name| !known(&name.as_str())) {
            return Err(Trouble::Line(first, format!("no column is called \"{other}\"")));
        }
        for (wanted, names) in [("day (or h)", &["day", "h"][..]), ("gross_g", &["gross_g"])] {
            let count = columns.iter().filter(|name| names.contains(&name.as_str())).count();
            if count != 1 {
                return Err(Trouble::Line(first, format!("the table needs one column {wanted}, and has {count}")));
            }
        }
        let mut table = Self::default();
        for (line, row) in lines {
            let row: Vec<&str> = cells(row, separator).collect();
            if row.len() != columns.len() {
                let (n, head) = (row.len(), columns.len());
                return Err(Trouble::Line(line, format!("{n} cells, where the first line names {head} columns")));
            }
            let row = Row { line, columns: &columns, cells: row, comma: separator != ',' };
            table.take(&row)?;
        }
        if table.weighings.is_empty() { Err(Trouble::Empty) } else { Ok(table) }
    }

    fn take(&mut self, row: &Row) -> Result<(), Trouble> {
        for (i, (name, _)) in FIGURES.iter().enumerate() {
            let Some(value) = row.number(name)? else { continue };
            if let Some((before, line)) = self.figures[i].filter(|(before, _)| *before != value) {
                return row.trouble(format!("{name} is {value} here and {before} on line {line}"));
            }
            self.figures[i] = Some((in_range(i, value).or_else(|what| row.trouble(what))?, row.line));
        }
        let hours = match row.number("day")? {
            Some(days) => Some(24.0 * days),
            None => row.number("h")?,
        };
        let moved = row.cell("moved").unwrap_or("").to_lowercase();
        let readings = [row.number("gross_g")?, row.number("blank_g")?];
        let Some(t_h) = hours else {
            let empty = moved.is_empty() && readings == [None, None];
            return if empty { Ok(()) } else { row.trouble("a weight without a time".into()) };
        };
        for (g, list) in readings.into_iter().zip([&mut self.weighings, &mut self.blank]) {
            list.extend(g.map(|g| Weighing::new(t_h, g)));
        }
        // Carried just before this weighing.
        let carried = |warmer| Move { t_h: t_h - 0.01, warmer };
        match moved.as_str() {
            "" => {}
            "warmer" => self.moves.push(carried(true)),
            "back" => self.moves.push(carried(false)),
            other => return row.trouble(format!("moved is \"{other}\"; it can be warmer, back or nothing")),
        }
        Ok(())
    }

    fn option(&mut self, pair: &[String]) -> Result<(), Trouble> {
        let name = &pair[0];
        let Some(i) = name.strip_prefix("--").and_then(figure) else {
            let names = FIGURES.map(|(name, _)| format!("--{name}")).join(", ");
            return Err(Trouble::Option(format!("there is no option \"{name}\"; there are {names}")));
        };
        let value = pair.get(1).and_then(|value| value.parse().ok());
        let value = value.ok_or_else(|| Trouble::Option(format!("{name} wants a number after it")))?;
        self.figures[i] = Some((in_range(i, value).map_err(Trouble::Option)?, 0));
        Ok(())
    }
}

fn figure(name: &str) -> Option<usize> {
    FIGURES.iter().position(|(known, _)| *known == name)
}

fn in_range(i: usize, value: f64) -> Result<f64, String> {
    let (name, range) = &FIGURES[i];
    let outside = || format!("{name} is {value}; it must lie between {} and {}", range.start(), range.end());
    if range.contains(&value) { Ok(value) } else { Err(outside()) }
}

fn cells(line: &str, separator: char) -> impl Iterator<Item = &str> {
    line.split(separator).map(|cell| cell.trim().trim_matches('"').trim())
}

struct Row<'a> {
    line: usize,
    columns: &'a [String],
    cells: Vec<&'a str>,
    /// A comma is a decimal mark.
    comma: bool,
}

impl Row<'_> {
    fn cell(&self, name: &str) -> Option<&str> {
        let at = self.columns.iter().position(|column| column == name)?;
        Some(self.cells[at]).filter(|cell| !cell.is_empty())
    }

    fn number(&self, name: &str) -> Result<Option<f64>, Trouble> {
        let Some(cell) = self.cell(name) else { return Ok(None) };
        let number = if self.comma { cell.replace(',', ".") } else { cell.to_owned() };
        match number.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Some(number)),
            _ => self.trouble(format!("\"{cell}\" in the column {name} is no number")),
        }
    }

    fn trouble<T>(&self, what: String) -> Result<T, Trouble> {
        Err(Trouble::Line(self.line, what))
    }
}

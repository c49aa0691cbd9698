//! How each number was worked out: its formula, what went in, where the formula is from, and what is taken for granted.

mod inputs;
mod texts;

use crate::results::beside::{Line, lines};
use crate::told::{CandidateFindings, Findings, PanelFindings};
use crate::words::{Tongue, day, panel_figures, route_input_name};
use inputs::Inputs;
use quantity::{Unit, decimals_for, figure};
use record::{Id, SprayTest};
use science::routes::{Build, Route};
use texts::{Text, text_of};

/// Whose numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Whose<'a> {
    /// One panel's: those of [`panel_figures`].
    Panel(&'a Id),
    /// One candidate's: its column of [`side_by_side`](crate::results::side_by_side).
    Candidate(&'a Id),
}

/// How one number was worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// The key of the figure or row.
    pub key: &'static str,
    /// What the number is.
    pub name: String,
    /// The number with its unit and interval, or why it is missing.
    pub value: String,
    /// The formula in words and symbols.
    pub formula: &'static str,
    /// What went in: name, and value with its unit or why it is missing.
    pub inputs: Vec<(String, String)>,
    /// Where the formula is from.
    pub source: &'static str,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
    /// For a build: what each input brings to its uncertainty, the largest first; empty for the others.
    pub shares: Vec<Share>,
}

/// What one input brings to the uncertainty of a build.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// Which input.
    pub input: String,
    /// What one standard uncertainty of it does, with the unit of film: `6.1 µm`.
    pub by: String,
    /// Its share of the variance: `82 %`.
    pub share: String,
}

/// How every number of a panel or of a candidate was worked out, in the order they are shown. Nothing where there is no such
/// panel or candidate.
pub fn worked(test: &SprayTest, findings: &Findings, whose: Whose<'_>, tongue: &Tongue) -> Vec<Worked> {
    match whose {
        Whose::Panel(id) => findings.panel(id).map_or(Vec::new(), |panel| of_panel(test, panel, tongue)),
        Whose::Candidate(id) => {
            let place = findings.candidates.iter().position(|candidate| candidate.id == *id);
            place.map_or(Vec::new(), |place| of_candidate(test, findings, place, tongue))
        }
    }
}

fn of_panel(test: &SprayTest, panel: &PanelFindings, tongue: &Tongue) -> Vec<Worked> {
    let inputs = Inputs::of_panel(test, panel, tongue);
    let mut worked = Vec::new();
    let mut days = panel.after_day.iter();
    for told in panel_figures(panel, tongue) {
        let value = told.value.unwrap_or(told.note);
        let mut one = put_together(text_of(told.key), told.name, value, &inputs);
        one.shares = build_of(panel, told.key).map_or(Vec::new(), |build| shares(build, tongue));
        one.inputs.extend(against_gauge(panel, told.key));
        // Without a day of its own a panel is told of several: each has its own.
        if told.key == "film_still_to_go" {
            one.inputs.extend(days.next().map(|after| ("Day of sanding".into(), day(after.day_h))));
        }
        worked.push(one);
    }
    worked
}

fn of_candidate(test: &SprayTest, findings: &Findings, place: usize, tongue: &Tongue) -> Vec<Worked> {
    let inputs = Inputs::of_candidate(test, findings, place, tongue);
    lines(test, findings, tongue).into_iter().map(|line| of_line(&line, &inputs)).collect()
}

/// How one row of [`side_by_side`](crate::results::side_by_side) was worked out, candidate by candidate as they stand in the findings. Nothing where
/// there is no such row.
pub fn worked_beside(test: &SprayTest, findings: &Findings, key: &str, tongue: &Tongue) -> Vec<(Id, Worked)> {
    let Some(line) = lines(test, findings, tongue).into_iter().find(|line| line.key == key) else { return Vec::new() };
    let of = |(place, candidate): (usize, &CandidateFindings)| {
        (candidate.id.clone(), of_line(&line, &Inputs::of_candidate(test, findings, place, tongue)))
    };
    findings.candidates.iter().enumerate().map(of).collect()
}

fn of_line<'a>(line: &Line<'a>, inputs: &Inputs<'a>) -> Worked {
    let cell = inputs.cell(line);
    let unit = if line.unit.is_empty() { String::new() } else { [" ", &line.unit].concat() };
    let value = match cell.sort {
        Some(_) => format!("{}{unit} ({})", cell.value, cell.below),
        None => cell.below,
    };
    let mut one = put_together(text_of(of_row(line.key)), line.name.clone(), value, inputs);
    one.key = line.key;
    // What a mean is the mean of comes first.
    let mut panels = inputs.values_of(line.key);
    panels.append(&mut one.inputs);
    one.inputs = panels;
    one
}

/// The text of a row: a panel's figure of the same key is worked out from the panel, a row's from the panels.
fn of_row(key: &'static str) -> &'static str {
    match key {
        "film_still_to_go" => "mean_still_to_go",
        "final_build" => "mean_build",
        key => key,
    }
}

fn put_together(text: &'static Text, name: String, value: String, inputs: &Inputs<'_>) -> Worked {
    Worked {
        key: text.key,
        name,
        value,
        formula: text.formula,
        inputs: text.inputs.iter().map(|input| inputs.told(input)).collect(),
        source: text.source,
        assumptions: text.assumes.iter().map(|assumed| inputs.assumed(assumed)).collect(),
        shares: Vec::new(),
    }
}

/// A route held against the gauge, where both are there.
fn against_gauge(panel: &PanelFindings, key: &str) -> Option<(String, String)> {
    let e_n = panel.work.build.routes.iter().find(|known| Some(known.route) == route_of(key))?.against_gauge?;
    let verdict = if e_n.abs() <= 1.0 { "agrees" } else { "this route failed" };
    Some(("Held against the gauge".into(), format!("E_n {}: {verdict}", figure(e_n, 1))))
}

fn route_of(key: &str) -> Option<Route> {
    Some(match key {
        "build_comb" => Route::CombAndScale,
        "build_sheet" => Route::Sheet,
        "build_density" => Route::ScaleAndDensity,
        "build_gauge" => Route::Gauge,
        _ => return None,
    })
}

/// The build behind a figure, where it is one.
fn build_of<'a>(panel: &'a PanelFindings, key: &str) -> Option<&'a Build> {
    if key == "final_build" {
        return panel.work.build.answer.as_ref().ok();
    }
    let route = route_of(key)?;
    panel.work.build.routes.iter().find(|known| known.route == route)?.build.as_ref().ok()
}

fn shares(build: &Build, tongue: &Tongue) -> Vec<Share> {
    let film = tongue.units.film;
    let share = |one: &science::routes::Contribution| {
        let by = film.shown(one.um.abs());
        let percent = 100.0 * one.share;
        Share {
            input: route_input_name(one.input).into(),
            by: format!("{} {}", figure(by, decimals_for(by).min(2)), film.symbol()),
            share: if percent < 1.0 { "under 1 %".into() } else { format!("{} %", figure(percent, 0)) },
        }
    };
    build.contributions.iter().map(share).collect()
}

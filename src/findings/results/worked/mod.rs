//! How each number was worked out: its formula, what went in, where the formula is from, and what is taken for granted.

mod inputs;
mod texts;

use crate::results::beside::{Column, RowKey};
use crate::results::figures::{FigureKey, panel_figure};
use crate::told::{CandidateFindings, Findings, PanelFindings};
use crate::words::{Wording, day, route_input_name};
use inputs::Inputs;
use quantity::{Unit, decimals_for, figure};
use record::{Id, SprayTest};
use science::routes::{Build, RouteBuild};
use texts::{Text, of_figure, of_row};

/// How one number was worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
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
    /// The unit of film that they are in.
    pub film: &'static str,
}

/// What one input brings to the uncertainty of a build.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// Which input.
    pub input: String,
    /// What one standard uncertainty of it does, in the unit of film.
    pub by: String,
    /// Its share of the variance, %.
    pub share: String,
}

/// How one figure of a panel was worked out: that one alone.
pub fn worked_figure(test: &SprayTest, panel: &PanelFindings, key: FigureKey, wording: &Wording) -> Worked {
    let told = panel_figure(panel, key, wording);
    let value = told.value.unwrap_or(told.note);
    let mut one = put_together(of_figure(key), told.name, value, &Inputs::of_panel(test, panel, wording));
    match key {
        FigureKey::FinalBuild => one.shares = shares(panel.work.build.answer.as_ref().ok(), wording),
        FigureKey::BuildBy(route) => {
            let found = panel.work.build.routes.iter().find(|known| known.route == route);
            one.shares = shares(found.and_then(|route| route.build.as_ref().ok()), wording);
            one.inputs.extend(found.and_then(against_gauge));
        }
        // Without a day of its own a panel is told of several: each has its own.
        FigureKey::FilmStillToGo(place) => {
            let after = panel.after_day.get(place);
            one.inputs.extend(after.map(|after| ("Day of sanding".into(), day(after.day_h))));
        }
        _ => {}
    }
    one
}

/// How one row of [`side_by_side`](crate::results::side_by_side) was worked out, candidate by candidate as they stand in the findings.
pub fn worked_beside(test: &SprayTest, findings: &Findings, key: RowKey, wording: &Wording) -> Vec<(Id, Worked)> {
    let (name, unit) = key.heading(test, findings, wording);
    let unit = if unit.is_empty() { unit } else { [" ", &unit].concat() };
    let of = |(place, candidate): (usize, &CandidateFindings)| {
        let column = Column::of(test, findings, place, wording);
        let cell = key.cell(&column);
        let value = match cell.sort {
            Some(_) => format!("{}{unit} ({})", cell.value, cell.below),
            None => cell.below,
        };
        let inputs = Inputs::of_candidate(test, column, wording);
        // What a mean is the mean of comes first.
        let mut panels = inputs.values_of(key);
        let mut one = put_together(of_row(key), name.clone(), value, &inputs);
        panels.append(&mut one.inputs);
        (candidate.id.clone(), Worked { inputs: panels, ..one })
    };
    findings.candidates.iter().enumerate().map(of).collect()
}

fn put_together(text: &'static Text, name: String, value: String, inputs: &Inputs<'_>) -> Worked {
    Worked {
        name,
        value,
        formula: text.formula,
        inputs: text.inputs.iter().map(|input| inputs.told(*input)).collect(),
        source: text.source,
        assumptions: text.assumes.iter().map(|assumed| inputs.assumed(assumed)).collect(),
        shares: Vec::new(),
        film: inputs.film_symbol(),
    }
}

/// A route held against the gauge, where both are there.
fn against_gauge(route: &RouteBuild) -> Option<(String, String)> {
    let e_n = route.against_gauge?;
    let verdict = if e_n.abs() <= 1.0 { "agrees" } else { "this route failed" };
    Some(("Held against the gauge".into(), format!("E_n {}: {verdict}", figure(e_n, 1))))
}

/// What each input brings to a build.
fn shares(build: Option<&Build>, wording: &Wording) -> Vec<Share> {
    let film = wording.units.film;
    let share = |one: &science::routes::Contribution| {
        let by = film.shown(one.um.abs());
        let percent = 100.0 * one.share;
        Share {
            input: route_input_name(one.input).into(),
            by: figure(by, decimals_for(by).min(2)),
            share: if percent < 1.0 { "under 1".into() } else { figure(percent, 0) },
        }
    };
    build.map_or(Vec::new(), |build| build.contributions.iter().map(share).collect())
}

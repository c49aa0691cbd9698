//! Findings as lines and tables to read, in the person's units. Everything a screen prints comes from here.

use super::Findings;
use super::candidate::By;
use super::panel::PanelFindings;
use super::tongue::{Tongue, day, duration};
use super::verdict::Flag;
use crate::quantity::{Instant, Unit, decimals_for, figure};
use crate::record::{Id, SprayTest};
use crate::science::Estimate;

/// A number with its name, or why it is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// With unit and interval; `None` where it cannot be had.
    pub value: Option<String>,
    /// Why it is missing, or what to know about it.
    pub note: String,
}

impl Figure {
    fn new(name: impl Into<String>, value: Option<String>, why: Option<&str>) -> Self {
        Self { name: name.into(), value, note: why.unwrap_or_default().into() }
    }
}

/// What is told of one panel, line by line.
pub fn panel_figures(panel: &PanelFindings, tongue: &Tongue) -> Vec<Figure> {
    let why = |name: &str| panel.why.of(name);
    let division = panel.work.card.division_g();
    let weight = |g: f64| tongue.weight(g, division);
    let estimated = if panel.wet_coat_estimated { "Estimated by comb and density: no bare weight." } else { "" };
    let coat =
        panel.wet_coat_g.map(|g| if panel.wet_coat_estimated { format!("{} estimated", weight(g)) } else { weight(g) });
    let mut figures = vec![
        Figure::new("Lost so far", panel.lost_g.map(weight), why("lost_g")),
        Figure::new(
            "Lost, of the wet coat",
            panel.lost_pct.map(|pct| format!("{} %", figure(pct, 1))),
            why("lost_pct"),
        ),
        Figure::new("Wet coat", coat, why("wet_coat_g").or(Some(estimated))),
        Figure::new("Wet film, comb", panel.wet_film_um.map(|film| tongue.film(&film)), why("wet_film_um")),
    ];
    match &panel.forecast {
        Some(forecast) => {
            let too_early = forecast.settled == super::Settled::TooEarly;
            let still = if too_early {
                // Too early: the range, not the point.
                tongue.mass_range(&forecast.still_to_lose_g)
            } else {
                tongue.mass(&forecast.still_to_lose_g)
            };
            figures.push(Figure::new("Still to lose", Some(still), None));
            figures.push(Figure::new("Settled?", Some(forecast.settled.word().into()), Some(&forecast.reason)));
        }
        None => figures.push(Figure::new("Still to lose", None, why("forecast"))),
    }
    for after in &panel.after_day {
        let film = after.film_still_to_go_um.map(|film| tongue.film(&film));
        let name = format!("Film still to go after {}", day(after.day_h));
        figures.push(Figure::new(name, film, after.why.of("film_still_to_go_um")));
    }
    let built = panel.final_build_um.map(|film| tongue.film(&film));
    figures.push(Figure::new("Final build", built, why("final_build_um")));
    for route in &panel.routes {
        let bound = if route.lower_bound { "At least this: solvent had left before the comb was read." } else { "" };
        let film = route.final_build_um.map(|film| tongue.film(&film));
        let note = route.why.of("final_build_um").or(Some(bound));
        figures.push(Figure::new(format!("Final build by {}", route.name), film, note));
    }
    figures
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The value, or an en dash.
    pub value: String,
    /// Its interval, or why it is missing.
    pub below: String,
}

/// A row of the side-by-side table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What is compared.
    pub name: String,
    /// The unit of every cell in it.
    pub unit: &'static str,
    /// A cell a candidate.
    pub cells: Vec<Cell>,
    /// What may be said of the difference.
    pub verdict: String,
}

/// Candidates side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The candidates, with how many panels each.
    pub columns: Vec<(Id, String, usize)>,
    /// What is compared.
    pub rows: Vec<Row>,
}

/// Candidates side by side, film still to go first.
pub fn side_by_side(findings: &Findings, tongue: &Tongue) -> Table {
    let columns = findings.candidates.iter().map(|c| (c.id.clone(), c.label.clone(), c.panels)).collect();
    let film = tongue.units.film;
    let in_film =
        |of: Estimate| Estimate { low: film.shown(of.low), mid: film.shown(of.mid), high: film.shown(of.high) };
    let row = |by: By| {
        let (name, unit) = match by {
            By::FilmStillToGo => (still_to_go(findings), film.symbol()),
            By::FilmLost => ("Film lost in all".into(), film.symbol()),
            By::LossShare => ("Lost in all, of the wet coat".into(), "%"),
            By::BuildKept => ("Dry build kept, of the wet film".into(), "%"),
            By::FinalBuild => ("Final build".into(), film.symbol()),
        };
        let cells = findings.candidates.iter().map(|candidate| {
            let told = candidate.mean(by);
            match told.mean {
                Some(mean) if unit == "%" => cell(&mean.scaled(100.0)),
                Some(mean) => cell(&in_film(mean)),
                None => Cell { value: "–".into(), below: told.why.of("mean").unwrap_or_default().into() },
            }
        });
        Row { name, unit, cells: cells.collect(), verdict: verdict(findings, by) }
    };
    Table { columns, rows: By::ALL.map(row).into() }
}

fn still_to_go(findings: &Findings) -> String {
    let mut days = findings.candidates.iter().filter_map(|candidate| candidate.day_h);
    match days.next() {
        Some(first) if days.all(|other| other == first) => format!("Film still to go after {}", day(first)),
        _ => "Film still to go after sanding".into(),
    }
}

fn cell(of: &Estimate) -> Cell {
    let decimals = decimals_for(of.width());
    Cell {
        value: figure(of.mid, decimals),
        below: format!("{} to {}", figure(of.low, decimals), figure(of.high, decimals)),
    }
}

fn verdict(findings: &Findings, by: By) -> String {
    let name = |id: &Id| findings.candidates.iter().find(|c| c.id == *id).map_or("?", |c| c.label.as_str());
    let said = findings.pairs.iter().filter(|pair| pair.by == by).map(|pair| {
        use crate::science::compare::Claim;
        let claim = match pair.claim {
            Claim::OnePanel => "one panel cannot show a difference",
            Claim::WithinChance => "cannot be told apart",
            Claim::ThisMix => "these mixes differ, more than chance",
            Claim::Primer => "differ, more than chance",
        };
        // With two candidates there is no question which two are meant.
        if findings.candidates.len() == 2 {
            return claim.to_owned();
        }
        format!("{} and {}: {claim}", name(&pair.first), name(&pair.second))
    });
    said.collect::<Vec<_>>().join("; ")
}

/// One weigh-in of a panel, as a line to read.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Which one.
    pub id: Id,
    /// When.
    pub at: Instant,
    /// How long after the last coat.
    pub age: String,
    /// What the scale showed.
    pub weight: String,
    /// Since the one before.
    pub change: String,
    /// What is the matter with it.
    pub flag: Option<Flag>,
    /// Whether it is the wet weight.
    pub wet: bool,
    /// Whether it is left out of the curve.
    pub left_out: bool,
}

/// So many panels.
pub fn panels_said(count: usize) -> String {
    if count == 1 { "1 panel".into() } else { format!("{count} panels") }
}

/// A panel's weigh-ins in time order: the table behind its curve.
pub fn readings(test: &SprayTest, panel: &PanelFindings, tongue: &Tongue) -> Vec<Reading> {
    let card = &panel.work.card;
    let division = card.division_g();
    let weigh_ins = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
    let wet_h = panel.work.wet().ok().map(|wet| wet.t_h);
    let mut before: Option<f64> = None;
    let mut lines = Vec::new();
    for (id, weighing) in &card.weigh_ins {
        let Some(at) = weigh_ins.and_then(|list| list.find(id)).and_then(|w| super::moment(test, w)) else { continue };
        let change = before.map_or(String::new(), |g| tongue.change(weighing.gross_g - g, division));
        before = Some(weighing.gross_g);
        lines.push(Reading {
            id: id.clone(),
            at,
            age: card.last_coat_h.map_or(String::new(), |coat| duration(weighing.t_h - coat)),
            weight: tongue.weight(weighing.gross_g, division),
            change,
            left_out: panel.flags.iter().any(|flag| flag.weigh_in == *id && flag.left_out),
            flag: panel.flags.iter().find(|flag| flag.weigh_in == *id).cloned(),
            wet: Some(weighing.t_h) == wet_h,
        });
    }
    lines
}

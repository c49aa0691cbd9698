//! Findings as a chart: loss over time, panel by panel.

use super::Findings;
use super::panel::{PanelFindings, PanelWork};
use super::tongue::{Tongue, day};
use crate::chart::{LossChart, Mark, TimeAxis, TimeFrame, Trace};
use crate::quantity::{Instant, Unit};
use crate::record::{Id, SprayTest};
use crate::science::drying::{Forecast, Say, Standing};

/// What is drawn upwards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurveOf {
    /// Mass lost, in the person's unit.
    #[default]
    Lost,
    /// Mass lost, % of the wet coat.
    Share,
}

/// What is drawn, and how.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveChoice {
    /// What is drawn upwards.
    pub of: CurveOf,
    /// How time runs.
    pub axis: TimeAxis,
    /// One panel alone, or all.
    pub panel: Option<Id>,
}

/// How far the fan reaches beyond the newest reading, as a share of the age then.
const AHEAD: f64 = 0.4;
const LEAST_AHEAD_H: f64 = 48.0;
/// Points of a fitted line, evenly along √t, which puts them where it bends.
const LINE_POINTS: usize = 64;
const FAN_POINTS: usize = 12;

/// The chart of mass lost over time, with each panel's fitted curve and its 95 % fan beyond the last reading.
pub fn loss_chart(
    test: &SprayTest,
    findings: &Findings,
    choice: &CurveChoice,
    now: Instant,
    tongue: &Tongue,
) -> LossChart {
    let drawn: Vec<&PanelFindings> = drawn(findings, choice).collect();
    let caption = match choice.of {
        CurveOf::Lost => format!("Lost, {}", tongue.units.mass.symbol()),
        CurveOf::Share => "Lost, % of wet coat".into(),
    };
    let mut frame = TimeFrame::new(choice.axis);
    if let Some(first) = drawn.iter().find_map(|panel| Some((panel, start_h(&panel.work)?))) {
        frame = marked(frame, test, first.0, first.1, now);
    }
    drawn
        .into_iter()
        .fold(LossChart::new(&caption, frame), |chart, panel| chart.panel(trace(findings, panel, choice.of, tongue)))
}

/// Where a panel's time starts: its wet weight, h on the clock.
fn start_h(work: &PanelWork) -> Option<f64> {
    work.wet().ok().map(|wet| wet.t_h)
}

fn marked(mut frame: TimeFrame, test: &SprayTest, panel: &PanelFindings, start: f64, now: Instant) -> TimeFrame {
    let moves = test.moves.kept().filter(|m| m.panels.is_empty() || m.panels.contains(&panel.id));
    for (at, to) in moves.filter_map(|m| Some((m.at?, &m.to))) {
        frame = frame.moved(super::card::clock_h(at) - start, &format!("→ {to}"));
    }
    let newest = panel.work.kept().next_back().map_or(0.0, |last| last.t_h - start);
    let today = super::card::clock_h(now) - start;
    // Long after the last weigh-in, today lies beyond what the chart is about.
    if today <= newest + ahead(newest) {
        frame = frame.now(today, "now");
    }
    if let [sanding] = panel.work.card.days_h[..] {
        let coat = panel.work.card.last_coat_h.unwrap_or(start);
        frame = frame.sanding(coat + sanding - start, &format!("sand, {}", day(sanding)));
    }
    frame
}

fn ahead(newest_h: f64) -> f64 {
    (AHEAD * newest_h).max(LEAST_AHEAD_H)
}

fn trace(findings: &Findings, panel: &PanelFindings, of: CurveOf, tongue: &Tongue) -> Trace {
    let work = &panel.work;
    let place = findings.candidates.iter().position(|candidate| Some(&candidate.id) == panel.candidate.as_ref());
    let candidate = place.map_or("", |place| findings.candidates[place].label.as_str());
    let mut trace = Trace::new(&panel.label, candidate, Mark::of(place.unwrap_or(0)));
    let (Ok(wet), Some(start)) = (work.wet(), start_h(work)) else { return trace };
    let scale = match (of, panel.wet_coat_g) {
        (CurveOf::Lost, _) => tongue.units.mass.shown(1.0),
        (CurveOf::Share, Some(coat_g)) => 100.0 / coat_g,
        // Without the coat's mass there is no share of it to draw.
        (CurveOf::Share, None) => return trace,
    };
    let wet_g = work.forecast.as_ref().map_or(wet.gross_g, |forecast| forecast.wet_gross_g);
    let u = work.forecast.as_ref().map_or(0.0, |forecast| forecast.noise.reading_sd_g);
    for (i, (_, weighing)) in work.card.weigh_ins.iter().enumerate() {
        let hollow = match &work.forecast {
            Ok(forecast) => forecast.readings.get(i).is_some_and(|standing| *standing != Standing::Kept),
            Err(_) => weighing.say == Say::SetAside,
        };
        let drift = work.forecast.as_ref().map_or(0.0, |forecast| forecast.drift_g[i]);
        let gross_g = weighing.gross_g - drift;
        trace = trace.reading(weighing.t_h - start, (wet_g - gross_g) * scale, u * scale, hollow);
    }
    match &work.forecast {
        Ok(forecast) => fitted(trace, forecast, wet_g, scale),
        Err(_) => trace,
    }
}

fn fitted(trace: Trace, forecast: &Forecast, wet_g: f64, scale: f64) -> Trace {
    let (start, newest) = (forecast.wet_t_h, forecast.newest_age_h);
    let end = newest + ahead(newest);
    let lost = |gross_g: f64| (wet_g - gross_g) * scale;
    let line = (0..=LINE_POINTS).map(|i| {
        let age = end * (i as f64 / LINE_POINTS as f64).powi(2);
        (age, lost(forecast.curve_gross_g(start + age)))
    });
    let times = (0..=FAN_POINTS).map(|i| start + newest + (end - newest) * i as f64 / FAN_POINTS as f64);
    // A loss is high where the mass is low.
    let fan = forecast.band(times).into_iter().map(|(t, mass)| (t - start, lost(mass.high), lost(mass.low)));
    let last = forecast.final_gross_g;
    trace.line(line).fan(fan).level(lost(last.high), lost(last.mean), lost(last.low))
}

/// The finding of the chart in words, for those who do not see it.
pub fn curve_text(findings: &Findings, tongue: &Tongue) -> String {
    let panel = |panel: &PanelFindings| {
        let lost = panel.lost_g.map(|g| tongue.weight(g, panel.work.card.division_g()))?;
        let still = panel.forecast.as_ref().map(|forecast| tongue.mass_range(&forecast.still_to_lose_g));
        let still = still.map_or(String::new(), |still| format!(", {still} still to lose"));
        Some(format!("{} has lost {lost}{still}", panel.label))
    };
    let said: Vec<String> = findings.panels.iter().filter_map(panel).collect();
    if said.is_empty() {
        "Chart of mass lost over time: nothing to draw yet.".into()
    } else {
        format!("Chart of mass lost over time. {}.", said.join("; "))
    }
}

/// A tapped reading in words.
pub fn reading_said(
    test: &SprayTest,
    findings: &Findings,
    choice: &CurveChoice,
    trace: usize,
    reading: usize,
    tongue: &Tongue,
) -> Option<String> {
    let panel = drawn(findings, choice).nth(trace)?;
    let lines = super::readings(test, panel, tongue);
    let line = lines.get(reading)?;
    let flag = line.flag.as_ref().map_or(String::new(), |flag| format!(" {}", flag.says));
    Some(format!("{}, {}, {} after the last coat: {}.{flag}", panel.label, line.at.said(), line.age, line.weight))
}

/// The panels that are drawn, in order.
fn drawn<'a>(findings: &'a Findings, choice: &'a CurveChoice) -> impl Iterator<Item = &'a PanelFindings> {
    findings.panels.iter().filter(|panel| choice.panel.as_ref().is_none_or(|id| *id == panel.id))
}

//! Findings as a chart: loss over time, panel by panel.

use crate::facts::{clock_h, concerns, moment};
use crate::told::{Findings, PanelFindings};
use crate::words::{Wording, day, duration, readings};
use crate::work::{PanelWork, Reading, Reason};
use chart::{LossChart, Mark, TimeAxis, TimeFrame, Trace};
use quantity::{Instant, Unit, decimals_for, figure};
use record::{Id, Owner, SprayTest};
use science::drying::Forecast;

/// What is drawn upwards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurveOf {
    /// Mass lost, in the person's unit.
    #[default]
    Lost,
    /// Mass lost, % of the wet coat.
    Share,
    /// Mass lost on an area, in the person's unit.
    PerArea,
    /// Film lost, in the person's unit.
    Film,
}

impl CurveOf {
    /// All, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Lost, Self::Share, Self::PerArea, Self::Film];

    /// What it is called among the choices.
    pub fn word(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::Share => "% of coat",
            Self::PerArea => "per area",
            Self::Film => "film",
        }
    }

    /// The unit of its numbers.
    fn unit(self, wording: &Wording) -> &'static str {
        match self {
            Self::Lost => wording.units.mass.symbol(),
            Self::Share => "%",
            Self::PerArea => wording.units.mass_per_area().symbol,
            Self::Film => wording.units.film.symbol(),
        }
    }

    /// What a gram is in that unit on a panel, or why it is nothing there.
    fn per_gram(self, panel: &PanelFindings, wording: &Wording) -> Result<f64, Reason> {
        let area = || panel.area_cm2.ok_or(Reason::NoArea);
        Ok(match self {
            Self::Lost => wording.units.mass.shown(1.0),
            Self::Share => 100.0 / panel.wet_coat_g.ok_or(Reason::NoCoatMass)?,
            Self::PerArea => wording.units.mass_per_area().shown(1e4 / area()?),
            Self::Film => wording.units.film.shown(1e4 / (panel.work.card.solvent_density.value * area()?)),
        })
    }
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
    /// One candidate's panels alone, where no panel is named.
    pub candidate: Option<Id>,
    /// From this age to that, h, where less than all is looked at.
    pub window: Option<(f64, f64)>,
}

/// How far the fan reaches beyond the newest reading, as a share of the age then.
const AHEAD: f64 = 0.4;

const LEAST_AHEAD_H: f64 = 48.0;

/// Points of a fitted line, evenly along √t, which puts them where it bends.
const LINE_POINTS: usize = 120;

const FAN_POINTS: usize = 12;

/// The chart of mass lost over time, with each panel's fitted curve and its 95 % fan beyond the last reading.
pub fn loss_chart(
    test: &SprayTest,
    findings: &Findings,
    choice: &CurveChoice,
    now: Instant,
    wording: &Wording,
) -> LossChart {
    let drawn: Vec<&PanelFindings> = drawn(findings, choice).collect();
    let caption = match choice.of {
        CurveOf::Lost => format!("Lost, {}", wording.units.mass.symbol()),
        CurveOf::Share => "Lost, % of wet coat".into(),
        CurveOf::PerArea => format!("Lost, {}", wording.units.mass_per_area().symbol),
        CurveOf::Film => format!("Film lost, {}", wording.units.film.symbol()),
    };
    let frame = frame(test, &drawn, choice, now);
    drawn
        .into_iter()
        .fold(LossChart::new(&caption, frame), |chart, panel| chart.panel(trace(findings, panel, choice.of, wording)))
}

/// The time axis with what stands on it, as the first panel that was weighed has it.
pub(crate) fn frame(test: &SprayTest, drawn: &[&PanelFindings], choice: &CurveChoice, now: Instant) -> TimeFrame {
    let mut frame = TimeFrame::new(choice.axis);
    if let Some(first) = drawn.iter().find_map(|panel| Some((panel, start_h(&panel.work)?))) {
        frame = marked(frame, test, first.0, first.1, now);
    }
    match choice.window {
        Some((from_h, to_h)) => frame.zoom(from_h, to_h),
        None => frame,
    }
}

/// Where a panel's time starts: its wet weight, h on the clock.
pub(crate) fn start_h(work: &PanelWork) -> Option<f64> {
    work.wet().ok().map(|wet| wet.weighing.t_h)
}

fn marked(mut frame: TimeFrame, test: &SprayTest, panel: &PanelFindings, start: f64, now: Instant) -> TimeFrame {
    let moves = test.moves.kept().filter(|m| concerns(m, &panel.id));
    for (at, to) in moves.filter_map(|m| Some((m.at?, &m.to))) {
        frame = frame.moved(clock_h(at) - start, &format!("→ {to}"));
    }
    let newest = panel.work.newest().map_or(0.0, |last| last.weighing.t_h - start);
    let today = clock_h(now) - start;
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

pub(crate) fn ahead(newest_h: f64) -> f64 {
    (AHEAD * newest_h).max(LEAST_AHEAD_H)
}

/// A panel's label, its candidate's, and the candidate's mark. A candidate's only panel goes by the candidate's name: that is
/// what is compared.
pub(crate) fn labelled<'a>(findings: &'a Findings, panel: &'a PanelFindings) -> (&'a str, &'a str, Mark) {
    let place = findings.candidates.iter().position(|candidate| Some(&candidate.id) == panel.candidate.as_ref());
    let candidate = place.map_or("", |place| findings.candidates[place].label.as_str());
    let alone = place.is_some_and(|place| findings.candidates[place].panels == 1 && !candidate.trim().is_empty());
    (if alone { candidate } else { &panel.label }, candidate, Mark::of(place.unwrap_or(0)))
}

/// A reading as it is drawn and as it stands in the table: age, what was lost since the wet weight in the chosen unit, and its
/// standard uncertainty.
struct Point<'a> {
    reading: &'a Reading,
    age_h: f64,
    lost: f64,
    u: f64,
}

/// Every reading of a panel, in the order of its weigh-ins.
fn points<'a>(panel: &'a PanelFindings, of: CurveOf, wording: &Wording) -> Result<Vec<Point<'a>>, Reason> {
    let work = &panel.work;
    let (wet, scale) = (work.wet()?, of.per_gram(panel, wording)?);
    let wet_g = work.forecast.as_ref().map_or(wet.weighing.gross_g, |forecast| forecast.wet_gross_g);
    let u = work.forecast.as_ref().map_or(0.0, |forecast| forecast.noise.reading_sd_g);
    let mut points = Vec::new();
    for reading in &work.readings {
        let lost = (wet_g - (reading.weighing.gross_g - reading.drift_g)) * scale;
        points.push(Point { reading, age_h: reading.weighing.t_h - wet.weighing.t_h, lost, u: u * scale });
    }
    Ok(points)
}

fn trace(findings: &Findings, panel: &PanelFindings, of: CurveOf, wording: &Wording) -> Trace {
    let (label, candidate, mark) = labelled(findings, panel);
    let mut trace = Trace::new(label, candidate, mark);
    // Without the coat's mass there is no share of it to draw, without the area no film.
    let (Ok(points), Ok(scale)) = (points(panel, of, wording), of.per_gram(panel, wording)) else { return trace };
    for point in points {
        trace = trace.reading(point.age_h, point.lost, point.u, !point.reading.counts());
    }
    match &panel.work.forecast {
        Ok(forecast) => fitted(trace, forecast, forecast.wet_gross_g, scale),
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
pub fn curve_text(findings: &Findings, choice: &CurveChoice, wording: &Wording) -> String {
    let panel = |panel: &PanelFindings| {
        let lost = panel.lost_g.map(|g| wording.weight(g, panel.work.card.division_g()))?;
        let still = panel.forecast.as_ref().map(|forecast| wording.mass_range(&forecast.still_to_lose_g));
        let still = still.map_or(String::new(), |still| format!(", {still} still to lose"));
        Some(format!("{} has lost {lost}{still}", panel.label))
    };
    let said: Vec<String> = drawn(findings, choice).filter_map(panel).collect();
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
    wording: &Wording,
) -> Option<String> {
    let panel = drawn(findings, choice).nth(trace)?;
    let lines = readings(test, panel, wording);
    let line = lines.get(reading)?;
    let flag = line.flag.as_ref().map_or(String::new(), |flag| format!(" {}", flag.says));
    let crate::words::ReadingLine { at, age, weight, unit, .. } = line;
    let at = at.said();
    Some(format!("{}, {at}, {age} after the last coat: {weight} {unit}.{flag}", panel.label))
}

/// The weigh-in behind a tapped reading, and the panel it is of.
pub fn reading_of(findings: &Findings, choice: &CurveChoice, trace: usize, reading: usize) -> Option<(Owner, Id)> {
    let panel = drawn(findings, choice).nth(trace)?;
    let reading = panel.work.readings.get(reading)?;
    Some((Owner::Panel(panel.id.clone()), reading.id.clone()))
}

/// One reading of the curve as a line to read.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveLine {
    /// The panel's number.
    pub panel: String,
    /// Which weigh-in.
    pub weigh_in: Option<Id>,
    /// When.
    pub when: String,
    /// How long after the wet weight.
    pub age: String,
    /// What was lost since, in the unit that the head has; why there is none.
    pub value: String,
    /// Whether it is left out of the curve.
    pub left_out: bool,
}

/// What stands over the lines of [`curve_table`].
pub fn curve_heads(of: CurveOf, wording: &Wording) -> Vec<String> {
    vec!["Panel".into(), "When".into(), "Age".into(), ["Lost, ", of.unit(wording)].concat()]
}

/// The numbers of the chart as lines: each panel's readings in time order. A panel without any says why in one line.
pub fn curve_table(test: &SprayTest, findings: &Findings, choice: &CurveChoice, wording: &Wording) -> Vec<CurveLine> {
    let mut lines = Vec::new();
    for panel in drawn(findings, choice) {
        let division = panel.work.card.division_g();
        let scale = choice.of.per_gram(panel, wording).unwrap_or(1.0);
        let points = match points(panel, choice.of, wording) {
            Ok(points) => points,
            Err(why) => {
                let none = || "–".to_owned();
                let (panel, value) = (panel.label.clone(), why.said(wording));
                lines.push(CurveLine { panel, weigh_in: None, when: none(), age: none(), value, left_out: true });
                continue;
            }
        };
        let entries = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
        for point in points {
            let id = &point.reading.id;
            let at = entries.and_then(|list| list.find(id)).and_then(|weigh_in| moment(test, weigh_in));
            let value = match choice.of {
                CurveOf::Lost => wording.bare_weight(point.lost / scale, division),
                _ => figure(point.lost, decimals_for(2.0 * point.u.max(division * scale))),
            };
            lines.push(CurveLine {
                panel: panel.label.clone(),
                weigh_in: Some(id.clone()),
                when: at.map_or("–".into(), Instant::said_short),
                age: duration(point.age_h),
                value,
                left_out: !point.reading.counts(),
            });
        }
    }
    lines
}

/// How the time axis is looked at closer or from farther off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Zoom {
    /// Closer about an age, h: half as long.
    In(f64),
    /// From farther off about an age, h: twice as long.
    Out(f64),
    /// The late days, where the question is: the last half of what is drawn.
    Late,
    /// All of it.
    All,
}

/// The whole stretch of time that is drawn, h; nothing while nothing is.
fn whole(findings: &Findings, choice: &CurveChoice) -> Option<f64> {
    let newest =
        drawn(findings, choice).filter_map(|panel| Some(panel.work.newest()?.weighing.t_h - start_h(&panel.work)?));
    newest.reduce(f64::max).map(|newest| newest + ahead(newest))
}

/// The age in the middle of what is looked at, h.
pub fn middle_age(findings: &Findings, choice: &CurveChoice) -> f64 {
    let (from, to) = choice.window.unwrap_or((0.0, whole(findings, choice).unwrap_or(0.0)));
    (from + to) / 2.0
}

/// The stretch of time looked at, where it is not all: `From 5 d to 10 d after the wet weight.`
pub fn window_said(findings: &Findings, choice: &CurveChoice) -> Option<String> {
    whole(findings, choice)?;
    let (from, to) = choice.window?;
    Some(format!("From {} to {} after the wet weight.", duration(from), duration(to)))
}

/// The window after such a zoom; `None` where all is looked at.
pub fn zoomed(findings: &Findings, choice: &CurveChoice, zoom: Zoom) -> Option<(f64, f64)> {
    let whole = whole(findings, choice)?;
    let (from, to) = choice.window.unwrap_or((0.0, whole));
    let about = |at: f64, factor: f64| {
        let share = if to > from { ((at - from) / (to - from)).clamp(0.0, 1.0) } else { 0.5 };
        let long = ((to - from) * factor).min(whole);
        // The age under the finger stays where it is, as far as the ends allow.
        let start = (at - share * long).clamp(0.0, whole - long);
        (long < whole).then_some((start, start + long))
    };
    match zoom {
        Zoom::In(at) if at.is_finite() => about(at, 0.5),
        Zoom::Out(at) if at.is_finite() => about(at, 2.0),
        Zoom::In(_) | Zoom::Out(_) => choice.window,
        Zoom::Late => Some((0.5 * whole, whole)),
        Zoom::All => None,
    }
}

/// The panels that are drawn, in order.
pub(crate) fn drawn<'a>(findings: &'a Findings, choice: &'a CurveChoice) -> impl Iterator<Item = &'a PanelFindings> {
    findings.panels.iter().filter(|panel| match (&choice.panel, &choice.candidate) {
        (Some(id), _) => *id == panel.id,
        (None, Some(id)) => panel.candidate.as_ref() == Some(id),
        (None, None) => true,
    })
}

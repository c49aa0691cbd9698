//! Film over time: from the comb, along the projected path, past the gauge's spots to the final build.
//!
//! The path ends at the final build that is told, and runs back from it by the film that the forecast says was still to go:
//! `D + 10⁴ (m(t) − m_f)/(ρ_s A)`. What the final weight does not bring to the build's uncertainty (comb, densities, area)
//! moves the whole path and is added to the forecast's own, in quadrature.

use super::curve::{CurveChoice, ahead, drawn, frame, labelled, start_h};
use crate::facts::clock_h;
use crate::told::{Findings, PanelFindings};
use crate::words::{Wording, day, duration};
use crate::work::{PanelWork, film_of};
use chart::{FilmChart, FilmTrace};
use quantity::{Instant, Unit};
use record::SprayTest;
use science::estimate::Z95;
use science::routes::{Build, Input, Route};
use science::{Estimate, Measured};

/// Panels up to which each is drawn with its fan.
const FANS: usize = 3;

/// Points of a path, evenly along √t, which puts them where it bends.
const PATH_POINTS: usize = 64;

/// A film of which more than this share is still to go may dent under a probe (design choice).
const SOFT_SHARE: f64 = 0.05;

/// The film projected for a panel `day_h` hours after its last coat, µm.
pub(super) fn on_day(panel: &PanelFindings, day_h: f64) -> Option<Estimate> {
    let forecast = panel.work.forecast.as_ref().ok()?;
    Path::of(&panel.work)?.at(panel.work.card.last_coat_h.unwrap_or(forecast.wet_t_h) + day_h)
}

/// The film projected for one panel.
struct Path<'a> {
    work: &'a PanelWork,
    mean_um: f64,
    /// Standard uncertainty that moves the whole path, µm.
    offset_u_um: f64,
    um_per_g: f64,
}

impl<'a> Path<'a> {
    fn of(work: &'a PanelWork) -> Option<Self> {
        let build = told_build(work)?;
        let area = work.card.area_cm2?.value;
        let by_weight = build.contributions.iter().find(|one| one.input == Input::FinalMass).map_or(0.0, |one| one.um);
        Some(Self {
            work,
            mean_um: build.mean_um,
            offset_u_um: (build.u_um.powi(2) - by_weight.powi(2)).max(0.0).sqrt(),
            um_per_g: 1e4 / (work.card.solvent_density.value * area),
        })
        .filter(|path| path.um_per_g.is_finite() && path.work.forecast.is_ok())
    }

    /// The film at a time on the clock, h.
    fn at(&self, t_h: f64) -> Option<Estimate> {
        let forecast = self.work.forecast.as_ref().ok()?;
        let mass = forecast.at(t_h);
        let mid = self.mean_um + self.um_per_g * (mass.mean - forecast.final_gross_g.mean);
        let (below, above) = (self.um_per_g * (mass.mean - mass.low), self.um_per_g * (mass.high - mass.mean));
        let moved = Z95 * self.offset_u_um;
        Some(Estimate { low: mid - moved.hypot(below), mid, high: mid + moved.hypot(above) })
    }

    /// Film still to go at a time on the clock, µm.
    fn still_to_go(&self, t_h: f64) -> Option<f64> {
        let forecast = self.work.forecast.as_ref().ok()?;
        Some(self.um_per_g * forecast.still_to_lose_at(t_h).mean)
    }
}

/// The build that is told, else that by comb and scale, which the path needs least.
fn told_build(work: &PanelWork) -> Option<&Build> {
    let comb = || work.build.routes.iter().find(|route| route.route == Route::CombAndScale)?.build.as_ref().ok();
    work.build.answer.as_ref().ok().or_else(comb)
}

/// One spot of the gauge.
struct Spot {
    at: Option<Instant>,
    t_h: Option<f64>,
    film: Measured,
    place: String,
    soft: bool,
}

/// A panel's spots in time order, those without a time last; those without a reading are left out.
fn spots(test: &SprayTest, panel: &PanelFindings) -> Vec<Spot> {
    let card = &panel.work.card;
    let path = Path::of(&panel.work);
    let kept = test.panels.find(&panel.id).map(|panel| panel.spots.kept().collect::<Vec<_>>()).unwrap_or_default();
    let mut spots = Vec::new();
    for entry in kept {
        let Some(film) = film_of(test, entry) else { continue };
        let t_h = entry.at.map(clock_h);
        let to_go = t_h.and_then(|t_h| path.as_ref()?.still_to_go(t_h));
        spots.push(Spot {
            at: entry.at,
            t_h,
            film: Measured::new(film.value, film.u.hypot(card.gauge_u_um)),
            place: entry.place.trim().to_owned(),
            soft: to_go.is_some_and(|um| um > SOFT_SHARE * film.value.abs()),
        });
    }
    let when = |spot: &Spot| spot.t_h.unwrap_or(f64::INFINITY);
    order::sort_by(&mut spots, |a, b| when(a).total_cmp(&when(b)));
    spots
}

/// Where a panel's film begins in time: its wet weight, else its last coat.
fn begins_h(panel: &PanelFindings) -> Option<f64> {
    start_h(&panel.work).or(panel.work.card.last_coat_h)
}

/// The chart of film over time, of one panel, of a candidate's panels or of all. What is drawn upwards is the film, whatever
/// the choice says of the loss.
pub fn film_chart(
    test: &SprayTest,
    findings: &Findings,
    choice: &CurveChoice,
    now: Instant,
    wording: &Wording,
) -> FilmChart {
    let panels: Vec<&PanelFindings> = drawn(findings, choice).collect();
    let caption = format!("Film, {}", wording.units.film.symbol());
    let chart = FilmChart::new(&caption, frame(test, &panels, choice, now));
    // Many fans one over the other hide the paths; the intervals of the final builds at the right say as much.
    let fans = panels.len() <= FANS;
    panels.into_iter().fold(chart, |chart, panel| {
        let (trace, fan) = trace(test, findings, panel, wording);
        chart.film(if fans { trace.fan(fan) } else { trace })
    })
}

/// The 95 % fan of a path: age in h, low, high.
type Fan = Vec<(f64, f64, f64)>;

fn trace(test: &SprayTest, findings: &Findings, panel: &PanelFindings, wording: &Wording) -> (FilmTrace, Fan) {
    let film = |um: f64| wording.units.film.shown(um);
    let (label, candidate, mark) = labelled(findings, panel);
    let mut trace = FilmTrace::new(label, candidate, mark);
    if let Some(comb) = panel.wet_film_um {
        trace = trace.comb(film(comb.low), film(comb.mid), film(comb.high));
    }
    if let Some(build) = panel.final_build_um {
        trace = trace.final_build(film(build.low), film(build.mid), film(build.high));
    }
    let Some(start) = begins_h(panel) else { return (trace, Fan::new()) };
    let spots = spots(test, panel);
    let mut last_spot = 0.0_f64;
    for spot in &spots {
        // A spot without a time has its place in the list all the same, so that a tap finds the right one.
        let age = spot.t_h.map_or(f64::NAN, |t_h| t_h - start);
        last_spot = if age.is_finite() { last_spot.max(age) } else { last_spot };
        trace = trace.spot(age, film(spot.film.value), film(spot.film.u), spot.soft);
    }
    let newest = panel.work.newest().map_or(0.0, |last| last.weighing.t_h - start);
    let end = (newest + ahead(newest)).max(last_spot);
    let Some(path) = Path::of(&panel.work) else { return (trace, Fan::new()) };
    let ages = (0..=PATH_POINTS).map(|i| end * (i as f64 / PATH_POINTS as f64).powi(2));
    let along: Vec<(f64, Estimate)> = ages.filter_map(|age| Some((age, path.at(start + age)?))).collect();
    let fan = along.iter().map(|(age, of)| (*age, film(of.low), film(of.high))).collect();
    (trace.path(along.iter().map(|(age, of)| (*age, film(of.mid)))), fan)
}

/// One line of the numbers behind the film chart.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmLine {
    /// The panel's number.
    pub panel: String,
    /// What the film is: comb, projected, gauge, final build.
    pub what: String,
    /// When, or how long after the last coat.
    pub when: String,
    /// The film with its interval, in the unit that the head has, or why there is none.
    pub film: String,
    /// Whether it is a spot that is drawn hollow.
    pub left_out: bool,
}

/// What stands over the lines of [`film_table`].
pub fn film_heads(wording: &Wording) -> Vec<String> {
    vec!["Panel".into(), "What".into(), "When".into(), ["Film, ", wording.units.film.symbol()].concat()]
}

/// The numbers of the film chart as lines.
pub fn film_table(test: &SprayTest, findings: &Findings, choice: &CurveChoice, wording: &Wording) -> Vec<FilmLine> {
    let mut lines = Vec::new();
    for panel in drawn(findings, choice) {
        let mut add = |what: &str, when: String, film: String, left_out: bool| {
            lines.push(FilmLine { panel: panel.label.clone(), what: what.into(), when, film, left_out });
        };
        let why = |name: &str| panel.why.of(name).unwrap_or("It is not known yet.").to_owned();
        let of = |film: Option<Estimate>, name: &str| film.map_or_else(|| why(name), |film| wording.bare_film(&film));
        add("wet, comb", "at the wet weight".into(), of(panel.wet_film_um, "wet_film_um"), false);
        let coat = panel.work.card.last_coat_h;
        if let (Some(path), Some(coat)) = (Path::of(&panel.work), coat) {
            for after in &panel.after_day {
                let film = path.at(coat + after.day_h).map(|film| wording.bare_film(&film));
                add("projected", day(after.day_h), film.unwrap_or_else(|| why("forecast")), false);
            }
        }
        for spot in spots(test, panel) {
            let when = spot.at.map_or("no time".into(), Instant::said_short);
            let soft = if spot.soft { ", perhaps still soft" } else { "" };
            add(&format!("gauge{soft}"), when, wording.bare_film(&spot.film.estimate()), spot.soft);
        }
        add("final build", "day 90".into(), of(panel.final_build_um, "final_build_um"), false);
    }
    lines
}

/// The finding of the film chart in words, for those who do not see it.
pub fn film_text(test: &SprayTest, findings: &Findings, choice: &CurveChoice, wording: &Wording) -> String {
    let mut said = Vec::new();
    for panel in drawn(findings, choice) {
        let mut parts = Vec::new();
        if let Some(comb) = panel.wet_film_um {
            parts.push(format!("{} wet by the comb", wording.film_range(&comb)));
        }
        if let Some(build) = panel.final_build_um {
            parts.push(format!("final build {}", wording.film(&build)));
        }
        if let Some(newest) = spots(test, panel).last() {
            let film = wording.film_width(newest.film.value);
            let beside = against(panel, newest).map_or(String::new(), |words| format!(", {words}"));
            parts.push(format!("newest gauge spot {film}{beside}"));
        }
        if !parts.is_empty() {
            said.push(format!("{}: {}", panel.label, parts.join("; ")));
        }
    }
    if said.is_empty() {
        "Chart of film over time: nothing to draw yet.".into()
    } else {
        format!("Chart of film over time. {}.", said.join(". "))
    }
}

/// What the marks of the film chart are, of those that are drawn and do not name themselves.
pub fn film_marks_said(test: &SprayTest, findings: &Findings, choice: &CurveChoice) -> String {
    let panels: Vec<&PanelFindings> = drawn(findings, choice).collect();
    let spots: Vec<Spot> = panels.iter().flat_map(|panel| spots(test, panel)).collect();
    let mut said = String::new();
    let mut say = |there: bool, words: &str| said.push_str(if there { words } else { "" });
    say(!spots.is_empty(), "Points: the gauge; tap one to read it. ");
    say(spots.iter().any(|spot| spot.soft), "Hollow: the film may have been soft. ");
    say(panels.len() > FANS, "Up to three panels have a band: how sure the curve is.");
    said.trim_end().to_owned()
}

/// How a spot stands to the film projected for its time.
fn against(panel: &PanelFindings, spot: &Spot) -> Option<&'static str> {
    let projected = Path::of(&panel.work)?.at(spot.t_h?)?;
    let spread = Z95 * spot.film.u;
    Some(if spot.film.value - spread > projected.high {
        "above what is projected for then"
    } else if spot.film.value + spread < projected.low {
        "below what is projected for then"
    } else {
        "as projected"
    })
}

/// A tapped spot in words: trace and spot as a hit on the chart gives them.
pub fn film_spot_said(
    test: &SprayTest,
    findings: &Findings,
    choice: &CurveChoice,
    trace: usize,
    spot: usize,
    wording: &Wording,
) -> Option<String> {
    let panel = drawn(findings, choice).nth(trace)?;
    let all = spots(test, panel);
    let spot = all.get(spot)?;
    let (at, t_h) = (spot.at?, spot.t_h?);
    let age = panel.work.card.last_coat_h.map_or(String::new(), |coat| format!(", {}", duration(t_h - coat)));
    let place = if spot.place.is_empty() { String::new() } else { format!(", {}", spot.place) };
    let projected = Path::of(&panel.work).and_then(|path| path.at(t_h));
    let projected = projected.map_or(String::new(), |film| format!(" Projected: {}.", wording.film(&film)));
    let soft = if spot.soft { " The film may still have been soft." } else { "" };
    let film = wording.film(&spot.film.estimate());
    Some(format!("{}{place}, {}{age}: {film} by the gauge.{projected}{soft}", panel.label, at.said()))
}

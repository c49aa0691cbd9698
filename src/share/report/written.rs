//! All that was read, panel by panel; rounds, moves, steps left out, notes.

use std::collections::BTreeMap;

use super::made_of::{pair, shown};
use super::paper::{Line, Paper};
use super::results::named;
use findings::facts::rounds_newest_first;
use findings::gauge::{series_said, spot_said};
use findings::spray::leaving_out;
use findings::weigh::{hours_said, move_said, rounds_said};
use findings::words::dab_in_words;
use findings::{self, Findings, PanelFindings, Tongue};
use order::sort_by;
use quantity::{Grams, Instant, Quantity};
use record::{Id, Measure, Owner, Panel, SetAside, Skipped, SprayTest, Step, WeighIn};

const HEADS: [&str; 4] = ["When", "Weight", "Change", "What to know"];

pub fn write(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, tongue: &Tongue) {
    paper.element("h2", "All readings");
    for panel in findings::facts::in_order(test) {
        paper.element("h3", &named(&panel.label, panel.candidate.as_ref(), findings));
        of_panel(paper, test, panel, findings.panel(&panel.id), tongue);
    }
    for blank in test.blanks.kept() {
        paper.element("h3", &blank.label);
        let mut weighed: Vec<Weighed<'_>> = Vec::new();
        for weigh_in in blank.weigh_ins.kept() {
            let mut reading = Weighed::of(test, weigh_in);
            reading.vouched(weigh_in);
            weighed.push(reading);
        }
        weights(paper, &["Weights of ", &blank.label].concat(), weighed, tongue);
    }
    if test.panels.kept().next().is_none() {
        paper.element("p", "There is no panel yet.");
    }
    rounds(paper, test, now);
}

/// A weighing of whatever kind.
struct Weighed<'a> {
    at: Option<Instant>,
    gross_g: Option<Grams>,
    set_aside: Option<&'a SetAside>,
    /// It counts for nothing.
    left_out: bool,
    /// The change once the scale's drift or jump is taken off, where it moved.
    without_drift: Option<String>,
    said: String,
}

impl<'a> Weighed<'a> {
    fn of(test: &'a SprayTest, weigh_in: &'a WeighIn) -> Self {
        let round = weigh_in.round.as_ref().and_then(|id| test.rounds.find(id));
        Self {
            at: findings::facts::moment(test, weigh_in),
            gross_g: weigh_in.gross_g,
            set_aside: weigh_in.set_aside.as_ref(),
            left_out: weigh_in.set_aside.is_some(),
            without_drift: None,
            said: round.map(|round| round.place.trim()).unwrap_or_default().into(),
        }
    }

    /// Says so where the painter vouched for it.
    fn vouched(&mut self, weigh_in: &WeighIn) {
        if weigh_in.vouched {
            self.said += "\nVouched for by the painter.";
        }
    }
}

fn of_panel(paper: &mut Paper, test: &SprayTest, panel: &Panel, told: Option<&PanelFindings>, tongue: &Tongue) {
    let mut weighed: Vec<Weighed<'_>> = Vec::new();
    for bare in panel.bare.kept() {
        let (at, gross_g, set_aside) = (bare.at, bare.gross_g, bare.set_aside.as_ref());
        weighed.push(Weighed {
            at,
            gross_g,
            set_aside,
            left_out: set_aside.is_some(),
            without_drift: None,
            said: "bare".into(),
        });
    }
    let mut lines = BTreeMap::new();
    for line in told.map(|told| findings::words::readings(test, told, tongue)).unwrap_or_default() {
        lines.insert(line.id.clone(), line);
    }
    for weigh_in in panel.weigh_ins.kept() {
        let mut reading = Weighed::of(test, weigh_in);
        let line = lines.get(&weigh_in.id);
        match line {
            Some(line) if line.wet => reading.said = "the wet weight".into(),
            Some(line) if !line.age.is_empty() => {
                let place = std::mem::take(&mut reading.said);
                let place = if place.is_empty() { place } else { [", ", &place].concat() };
                reading.said = [&line.age, " after the last coat", place.as_str()].concat();
            }
            Some(_) => {}
            None => reading.said = "between coats, or without a weight or time".into(),
        }
        // A flag of the page's own; what the painter set aside says so itself.
        let flag = line.and_then(|line| line.flag.as_ref());
        if let Some(flag) = flag.filter(|_| weigh_in.set_aside.is_none()) {
            reading.left_out |= flag.left_out;
            reading.said = [&reading.said, "\n", &flag.says].concat();
        }
        reading.vouched(weigh_in);
        if let Some(other) = weigh_in.exchanged_with.as_ref().and_then(|id| test.panels.find(id)) {
            reading.said +=
                &["\nExchanged with the weight of ", &other.label, ": they were swapped on the scale."].concat();
        }
        reading.without_drift = line.and_then(|line| line.without_drift.clone());
        weighed.push(reading);
    }
    weights(paper, &["Weights of ", &panel.label].concat(), weighed, tongue);
    let at_place = |at: Option<Instant>, place: &str| {
        let when = at.map_or("no time".into(), Instant::said);
        if place.trim().is_empty() { when } else { [&when, "\n", place.trim()].concat() }
    };
    let dabs: Vec<Line> =
        panel.dabs.kept().map(|dab| pair(&at_place(dab.at, &dab.place), dab_in_words(test, dab, tongue))).collect();
    paper.table(&["Comb readings on ", &panel.label].concat(), &["When and where", "Wet film"], &dabs);
    let spots =
        panel.spots.kept().map(|spot| pair(&at_place(spot.at, &spot.place), spot_said(test, panel, spot, tongue)));
    let spots: Vec<Line> = spots.collect();
    paper.table(&["Dry-film spots on ", &panel.label].concat(), &["When and where", "Dry film"], &spots);
    paper.list(&series_said(test, panel, tongue));
}

/// Weighings in time order, those without a time last.
fn weights(paper: &mut Paper, caption: &str, mut weighed: Vec<Weighed<'_>>, tongue: &Tongue) {
    sort_by(&mut weighed, |a, b| {
        let (a, b) = (a.at.map(hours), b.at.map(hours));
        a.is_none().cmp(&b.is_none()).then(a.unwrap_or_default().total_cmp(&b.unwrap_or_default()))
    });
    let division = tongue.step_g();
    let mut before: Option<f64> = None;
    let mut lines: Vec<Line> = Vec::new();
    for reading in &weighed {
        let weight = reading.gross_g.map(Quantity::get);
        let change = before.zip(weight).map_or(String::new(), |(before, now)| tongue.change(now - before, division));
        let change = match &reading.without_drift {
            Some(without) => [&change, "\n", without].concat(),
            None => change,
        };
        let why = reading.set_aside.map_or(String::new(), |aside| {
            let by = if aside.by == "page" { "Set aside by the page" } else { "Set aside by the painter" };
            let why = aside.why.trim();
            if why.is_empty() { ["\n", by, "."].concat() } else { ["\n", by, ": ", why].concat() }
        });
        if !reading.left_out {
            before = weight.or(before);
        }
        lines.push(Line {
            cells: vec![
                reading.at.map_or("no time".into(), Instant::said),
                weight.map_or("–".into(), |g| shown(Measure::Mass, g, tongue)),
                change,
                [&reading.said, why.as_str()].concat(),
            ],
            left_out: reading.left_out,
        });
    }
    paper.table(caption, &HEADS, &lines);
}

fn hours(at: Instant) -> f64 {
    at.hours_since(Instant::EPOCH)
}

fn rounds(paper: &mut Paper, test: &SprayTest, now: Instant) {
    let said = rounds_said(test);
    let mut rounds: Vec<String> = rounds_newest_first(test).iter().map(|id| said[id].clone()).collect();
    rounds.reverse();
    if !rounds.is_empty() {
        paper.element("h2", "Visits to the scale");
        paper.list(&rounds);
    }
    let mut moved: Vec<_> = test.moves.kept().collect();
    sort_by(&mut moved, |a, b| a.at.partial_cmp(&b.at).unwrap_or(std::cmp::Ordering::Equal));
    let moves: Vec<Line> = moved
        .into_iter()
        .map(|moved| pair(&moved.at.map_or("no time".into(), Instant::said), move_said(test, &moved.id)))
        .collect();
    if !moves.is_empty() {
        paper.element("h2", "Moves");
        paper.table("Panels carried elsewhere", &["When", "What went where"], &moves);
        paper.list(&hours_said(test, now));
    }
    let skipped: Vec<Line> = test
        .skipped
        .kept()
        .filter_map(|skipped| {
            let step = skipped.step?;
            let whose = skipped.of.as_ref().map_or(String::new(), |id| ["\n", label_of(test, skipped, id)].concat());
            let cost = leaving_out(test, step, skipped.of.as_ref()).cost;
            Some(pair(&[step_said(step), whose.as_str()].concat(), cost.into()))
        })
        .collect();
    if !skipped.is_empty() {
        paper.element("h2", "Left out on spray day");
        paper.table("Steps left out", &["Step", "What that costs"], &skipped);
    }
    let notes: Vec<Line> = test
        .notes
        .kept()
        .map(|note| pair(&note.at.map_or("no time".into(), Instant::said), note.text.clone()))
        .collect();
    if !notes.is_empty() {
        paper.element("h2", "Notes");
        paper.table("Notes of the painter", &["When", "What"], &notes);
    }
}

/// Of what a step was left out: mixing and coats are a candidate's, all else a panel's or a blank's.
fn label_of<'a>(test: &'a SprayTest, skipped: &Skipped, id: &Id) -> &'a str {
    if matches!(skipped.step, Some(Step::Mix | Step::Coats)) {
        return test.candidates.find(id).map_or("", |candidate| &candidate.label);
    }
    let owners = [Owner::Panel(id.clone()), Owner::Blank(id.clone())];
    owners.iter().find(|owner| skipped.is_of(test, &owner.address())).map_or("", |owner| owner.label(test))
}

fn step_said(step: Step) -> &'static str {
    match step {
        Step::Air => "Reading the air",
        Step::Bare => "Weighing bare",
        Step::Mix => "Pouring the mix by weight",
        Step::Coats => "The coats still planned",
        Step::Comb => "Reading the comb",
        Step::Wet => "Weighing wet",
    }
}

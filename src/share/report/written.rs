//! All that was read, panel by panel; rounds, moves, steps left out, notes.

use std::collections::BTreeMap;

use super::made_of::pair;
use super::paper::{Line, Paper};
use super::results::named;
use findings::facts::rounds_newest_first;
use findings::gauge::{series_said, spot_said};
use findings::spray::leaving_out;
use findings::weigh::{hours_said, move_said, rounds_said};
use findings::words::{dab_in_words, show_in, unit_of};
use findings::{self, Findings, PanelFindings, Wording};
use order::sort_by;
use quantity::{Grams, Instant, Quantity};
use record::{Blank, Dab, Id, Measure, Owner, Panel, SetAside, Skipped, SprayTest, Step, WeighIn};

/// Panels and blanks whose weights a phone shows beside each other.
const BESIDE: usize = 4;

pub fn write(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) {
    paper.element("h2", "All readings");
    let panels = findings::facts::in_order(test);
    let mut owners: Vec<Column> =
        panels.iter().map(|panel| Column::of_panel(test, panel, findings.panel(&panel.id), wording)).collect();
    owners.extend(test.blanks.kept().map(|blank| Column::of_blank(test, blank)));
    for few in owners.chunks(BESIDE) {
        weights(paper, test, few, wording);
    }
    if panels.is_empty() {
        paper.element("p", "There is no panel yet.");
    }
    films(paper, test, &panels, findings, wording);
    rounds(paper, test, now);
}

/// Which row of the table of weights a weighing stands in.
#[derive(Clone, PartialEq)]
enum Visit {
    Bare,
    BetweenCoats,
    Wet,
    Round(Id),
    Alone,
}

/// A weighing of whatever kind.
struct Weighed {
    visit: Visit,
    at: Option<Instant>,
    gross_g: Option<Grams>,
    /// It counts for nothing.
    left_out: bool,
    /// What to know of it, a sentence each.
    notes: Vec<String>,
}

impl Weighed {
    fn of(test: &SprayTest, weigh_in: &WeighIn) -> Self {
        let round = weigh_in.round.as_ref().filter(|id| test.rounds.find(id).is_some());
        let mut notes: Vec<String> = weigh_in.set_aside.iter().map(set_aside_said).collect();
        if weigh_in.vouched {
            notes.push("Confirmed by the painter.".into());
        }
        Self {
            visit: round.map_or(Visit::Alone, |id| Visit::Round(id.clone())),
            at: findings::facts::moment(test, weigh_in),
            gross_g: weigh_in.gross_g,
            left_out: weigh_in.set_aside.is_some(),
            notes,
        }
    }
}

fn set_aside_said(aside: &SetAside) -> String {
    let by = if aside.by == "page" { "Left out by the page" } else { "Left out by the painter" };
    let why = aside.why.trim();
    if why.is_empty() { [by, "."].concat() } else { [by, ": ", why].concat() }
}

/// The weights of a panel or a blank.
struct Column {
    label: String,
    weighed: Vec<Weighed>,
}

impl Column {
    fn of_blank(test: &SprayTest, blank: &Blank) -> Self {
        let weighed = |weigh_in| {
            let mut weighed = Weighed::of(test, weigh_in);
            if findings::facts::weighed_after_leaving(test, &blank.left, weigh_in) && !weighed.left_out {
                weighed.left_out = true;
                weighed.notes.push("Weighed after it left the test.".into());
            }
            weighed
        };
        let weighed = blank.weigh_ins.kept().map(weighed).collect();
        Self { label: blank.label.clone(), weighed }
    }

    fn of_panel(test: &SprayTest, panel: &Panel, told: Option<&PanelFindings>, wording: &Wording) -> Self {
        let mut weighed: Vec<Weighed> = Vec::new();
        for bare in panel.bare.kept() {
            weighed.push(Weighed {
                visit: Visit::Bare,
                at: bare.at,
                gross_g: bare.gross_g,
                left_out: bare.set_aside.is_some(),
                notes: bare.set_aside.iter().map(set_aside_said).collect(),
            });
        }
        let mut lines = BTreeMap::new();
        for line in told.map(|told| findings::words::readings(test, told, wording)).unwrap_or_default() {
            lines.insert(line.id.clone(), line);
        }
        for weigh_in in panel.weigh_ins.kept() {
            let mut reading = Weighed::of(test, weigh_in);
            let line = lines.get(&weigh_in.id);
            match line {
                Some(line) if line.wet => reading.visit = Visit::Wet,
                None if reading.visit == Visit::Alone => reading.visit = Visit::BetweenCoats,
                _ => {}
            }
            // A flag of the page's own; what the painter left out says so itself.
            let flag = line.and_then(|line| line.flag.as_ref());
            if let Some(flag) = flag.filter(|_| weigh_in.set_aside.is_none()) {
                reading.left_out |= flag.left_out;
                reading.notes.push(flag.says.clone());
            }
            reading.notes.extend(findings::weigh::weighed_again_said(weigh_in, wording));
            if let Some(other) = weigh_in.exchanged_with.find(&test.panels) {
                let exchanged = ["Exchanged with the weight of ", &other.label, ": they were swapped on the scale."];
                reading.notes.push(exchanged.concat());
            }
            if let Some(without) = line.and_then(|line| line.without_drift.as_ref()) {
                reading.notes.push(["Since the weight before: ", without, "."].concat());
            }
            weighed.push(reading);
        }
        Self { label: panel.label.clone(), weighed }
    }
}

/// A row of the table of weights: when, and a weight for each column.
struct Row {
    visit: Visit,
    at: Option<Instant>,
    cells: Vec<String>,
}

/// The weights of a few panels beside each other, a row a visit, in time order; those without a time last. What to know of
/// them stands below.
fn weights(paper: &mut Paper, test: &SprayTest, of: &[Column], wording: &Wording) {
    let mut rows: Vec<Row> = Vec::new();
    let mut notes: Vec<(bool, String)> = Vec::new();
    for (place, column) in of.iter().enumerate() {
        for reading in &column.weighed {
            let shared = reading.visit != Visit::Alone;
            let known = rows.iter().position(|row| shared && row.visit == reading.visit && row.cells[place].is_empty());
            let at = known.unwrap_or_else(|| {
                rows.push(Row { visit: reading.visit.clone(), at: reading.at, cells: vec![String::new(); of.len()] });
                rows.len() - 1
            });
            let row = &mut rows[at];
            row.at = row.at.or(reading.at);
            let weight = reading.gross_g.map_or("–".into(), |g| show_in(Measure::Mass, g.get(), wording));
            row.cells[place] = if reading.left_out { [&weight, "*"].concat() } else { weight };
            let when = reading.at.map_or("no time".into(), Instant::said);
            if !reading.notes.is_empty() {
                notes.push((reading.left_out, [&column.label, ", ", &when, ": ", &reading.notes.join(" ")].concat()));
            }
        }
    }
    sort_by(&mut rows, |a, b| {
        let (a, b) = (a.at.map(hours), b.at.map(hours));
        a.is_none().cmp(&b.is_none()).then(a.unwrap_or_default().total_cmp(&b.unwrap_or_default()))
    });
    let lines: Vec<Line> = rows.into_iter().map(|row| row.line(test)).collect();
    let labels: Vec<&str> = of.iter().map(|column| column.label.as_str()).collect();
    let heads: Vec<&str> = std::iter::once("When").chain(labels.iter().copied()).collect();
    let caption = ["Weights of ", &labels.join(", "), ", ", unit_of(Measure::Mass, wording)].concat();
    paper.table(&caption, &heads, &lines);
    paper.notes(&notes);
}

impl Row {
    fn line(self, test: &SprayTest) -> Line {
        let when = self.at.map_or("no time".into(), Instant::said_short);
        let what = match &self.visit {
            Visit::Bare => "bare",
            Visit::BetweenCoats => "between coats, or without a weight or time",
            Visit::Wet => "the wet weight",
            Visit::Round(id) => test.rounds.find(id).map_or("", |round| round.place.trim()),
            Visit::Alone => "",
        };
        Line::new(std::iter::once([&when, "\n", what].concat()).chain(self.cells).collect())
    }
}

fn hours(at: Instant) -> f64 {
    at.hours_since(Instant::EPOCH)
}

/// Comb and gauge, a row a panel.
fn films(paper: &mut Paper, test: &SprayTest, panels: &[&Panel], findings: &Findings, wording: &Wording) {
    let mut combed: Vec<Line> = Vec::new();
    let mut gauged: Vec<Line> = Vec::new();
    for panel in panels {
        let name = named(&panel.label, panel.candidate.as_ref(), findings);
        let dab = |dab: &Dab| [dab.place.trim(), " ", &dab_in_words(test, dab, wording)].concat().trim().to_owned();
        let dabs: Vec<String> = panel.dabs.kept().map(dab).collect();
        let when = panel.dabs.kept().find_map(|dab| dab.at).map_or(String::new(), Instant::said_short);
        if !dabs.is_empty() {
            combed.push(pair(&[&name, "\n", &when].concat(), dabs.join("; ")));
        }
        let spots: Vec<String> = panel.spots.kept().map(|spot| spot_said(test, panel, spot, wording)).collect();
        if !spots.is_empty() {
            let series = series_said(test, panel, wording).join("; ");
            gauged.push(pair(&name, [&series, "\n", &spots.join("; ")].concat().trim().to_owned()));
        }
    }
    paper.table("Comb readings", &["Panel", "Wet film"], &combed);
    paper.table("Dry-film readings", &["Panel", "Dry film"], &gauged);
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
        .map(|moved| pair(&moved.at.map_or("no time".into(), Instant::said_short), move_said(test, &moved.id)))
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
        .map(|note| pair(&note.at.map_or("no time".into(), Instant::said_short), note.text.clone()))
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

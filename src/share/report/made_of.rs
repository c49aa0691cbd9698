//! How the test was done: method, air, instruments, and the candidates with their sheets and mixes.

use super::paper::{Line, Paper};
use chart::Mark;
use findings::facts::{candidates_in_order, newest_air};
use findings::gauge::verification_said;
use findings::mixing::{component_said, components_in_order, cups_said, mix_said, worth_of};
use findings::plan::repeats_said;
use findings::spray::air_said;
use findings::words::{Figure, show_in, show_row, unit_of};
use findings::{self, Wording};
use quantity::{Instant, Quantity};
use record::{
    Candidate, Component, GunLine, Id, Measure, MeasuredLine, Panel, PanelLine, Slot, SprayTest, StatedFor, WantedLine,
};

/// How every answer was come by, in the order of the work.
const METHOD: &[&str] = &[
    "A comb reading is an interval: above the last wetted tooth, up to the first dry one.",
    "A drying curve is fitted to the weights of each panel. What it expects beyond the last weighing carries a 95 % interval, and final means 90 days on, wherever the panel then is.",
    "The final build is told by up to four routes: comb and scale, data sheet, scale and dry density, gauge. Those that can be had are put together by how sure each is, with what they share counted once.",
    "Candidates are compared by the means of their panels. A difference is claimed only where it is more than chance from panel to panel explains; with one cup each it is a claim about these mixes.",
    "A reading that is left out stays in the appendix with its reason, and counts for nothing.",
];

const MEASURED: &[(&str, MeasuredLine)] = &[
    ("Empty dish", MeasuredLine::DishEmpty),
    ("Dish with mixed primer", MeasuredLine::DishWet),
    ("Dish, dried", MeasuredLine::DishDry),
    ("Empty density cup", MeasuredLine::CupEmpty),
    ("Density cup, full", MeasuredLine::CupFull),
    ("What the cup holds", MeasuredLine::CupVolume),
];

const GUN: &[(&str, GunLine)] =
    &[("Tip", GunLine::Tip), ("Pressure", GunLine::Pressure), ("Passes for a coat", GunLine::Passes)];

const WANTED: &[(&str, WantedLine)] = &[
    ("Dry build wanted", WantedLine::DryBuild),
    ("Sanded or topcoated after", WantedLine::Sanding),
    ("Taken off by sanding", WantedLine::SandingLoss),
];

pub fn write(paper: &mut Paper, test: &SprayTest, wording: &Wording) {
    paper.element("h2", "How it was done");
    let weighed = weighed(test);
    let mut method = vec![weighed.as_str()];
    method.extend(METHOD);
    paper.bullets(&method);
    let mut lines: Vec<Line> = Vec::new();
    lines.extend(test.created.map(|at| pair("Begun", at.said_with_year())));
    if let Some((first, last)) = findings::facts::first_and_last_coat(test) {
        lines.extend([pair("First coat", first.said_with_year()), pair("Last coat", last.said_with_year())]);
    }
    if !test.order.candidates.is_empty() {
        let seed = ["\ndrawn by lot from ", &test.order.seed].concat();
        let seed = if test.order.seed.is_empty() { "" } else { &seed };
        lines.push(pair("Order of spraying", [&findings::plan::order_said(test), seed].concat()));
    }
    let mut wanted = WANTED.iter().map(|(name, line)| (*name, line.measure(), Slot::Wanted(*line)));
    lines.extend(told(test, wording, &mut wanted));
    lines.push(pair("Called steady", findings::plan::certainty_said(test.wanted.certainty)));
    paper.table("The plan", &["What", "Value"], &lines);
    let candidates = candidates_in_order(test);
    if !candidates.is_empty() {
        paper.element("h2", "Mixes and data sheets");
    }
    for (place, of) in candidates.iter().enumerate() {
        paper.element("h3", &[Mark::of(place).sign(), " ", &of.label].concat());
        mix(paper, test, of, wording);
    }
    for (place, few) in candidates.chunks(BESIDE).enumerate() {
        sheets(paper, test, few, place * BESIDE, wording);
    }
}

/// For the appendix: panels, air and instruments.
pub fn set_up(paper: &mut Paper, test: &SprayTest, wording: &Wording) {
    panels(paper, test, wording);
    air(paper, test, wording);
    instruments(paper, test, wording);
}

/// Candidates that a phone shows beside each other.
const BESIDE: usize = 3;

/// How the panels were weighed, and which of them not bare.
fn weighed(test: &SprayTest) -> String {
    let bare = |panel: &&Panel| findings::facts::bare_weight(test, panel).is_some();
    let panels = || findings::facts::in_order(test).into_iter();
    let without: Vec<&str> = panels().filter(|panel| !bare(panel)).map(|panel| panel.label.as_str()).collect();
    let how = match without.len() {
        0 => "bare, right after".into(),
        n if n == panels().count() => "right after".to_owned(),
        _ => ["bare (not ", &without.join(", "), "), right after"].concat(),
    };
    ["Panels were weighed ", &how, WEIGHED].concat()
}

const WEIGHED: &str = " the last coat (the wet weight) and again while they dried. What has left a panel is its wet weight less the later one; where a blank was weighed along, the drift and the jumps of the scale that it shows are taken off.";

pub fn pair(name: &str, value: String) -> Line {
    Line::new(vec![name.into(), value])
}

/// A number of a measure with its unit.
pub fn shown(measure: Measure, value: f64, wording: &Wording) -> String {
    [&show_in(measure, value, wording), " ", unit_of(measure, wording)].concat().trim_end().to_owned()
}

/// Numbers of a measure with their unit.
pub fn row(measure: Measure, values: &[f64], wording: &Wording) -> String {
    [&show_row(measure, values, wording), " ", unit_of(measure, wording)].concat()
}

pub fn plain<Q: Quantity>(of: &[Q]) -> Vec<f64> {
    of.iter().map(|quantity| Quantity::get(*quantity)).collect()
}

/// The numbers that were filled in, a line each.
fn told(test: &SprayTest, wording: &Wording, slots: &mut dyn Iterator<Item = Asked>) -> Vec<Line> {
    let mut lines = Vec::new();
    for (name, measure, slot) in slots {
        lines.extend(slot.read(test).map(|value| pair(name, shown(measure, value, wording))));
    }
    lines
}

/// A number to tell: its name, what kind it is, and where it stands.
type Asked = (&'static str, Measure, Slot);

fn panels(paper: &mut Paper, test: &SprayTest, wording: &Wording) {
    let line = |panel: &record::Panel| {
        let value = |line: PanelLine| Slot::Panel(panel.id.clone(), line).read(test);
        let side = |line: PanelLine| value(line).map(|mm| show_in(Measure::Length, mm, wording));
        let sides: Vec<String> =
            [PanelLine::Width, PanelLine::Length, PanelLine::Thickness].into_iter().filter_map(side).collect();
        let mut size = sides.join(" × ");
        if let Some(area) = value(PanelLine::Coated) {
            size = [&size, "\ncoated ", &shown(Measure::Area, area, wording)].concat();
        }
        let coats: Vec<String> = panel.coats.kept().filter_map(|coat| coat.at).map(Instant::said_short).collect();
        let rack = if panel.rack.trim().is_empty() { String::new() } else { ["\nrack ", panel.rack.trim()].concat() };
        let left = findings::words::left_said(&panel.left).map_or(String::new(), |said| ["\n", &said].concat());
        Line::new(vec![[&panel.label, rack.as_str(), &left].concat(), size, coats.join("; ")])
    };
    let lines: Vec<Line> = findings::facts::in_order(test).into_iter().map(line).collect();
    let size = ["Size, ", unit_of(Measure::Length, wording)].concat();
    paper.table("Panels", &["Panel", &size, "Coats"], &lines);
}

fn air(paper: &mut Paper, test: &SprayTest, wording: &Wording) {
    let line = |air: &record::Air| {
        let or_dash = |text: Option<String>| text.unwrap_or_else(|| "–".into());
        Line::new(vec![
            air.at.map_or("–".into(), Instant::said_short),
            or_dash(air.air_c.map(|c| show_in(Measure::Temperature, c.get(), wording))),
            or_dash(air.humidity_pct.map(|pct| show_in(Measure::Humidity, pct.get(), wording))),
            or_dash(air.panel_c.map(|c| show_in(Measure::Temperature, c.get(), wording))),
        ])
    };
    let lines: Vec<Line> = test.air.kept().map(line).collect();
    paper.element("h2", "The air");
    if lines.is_empty() {
        paper.element("p", "The air was not read.");
    }
    let temperature = unit_of(Measure::Temperature, wording);
    let heads = [["Air, ", temperature].concat(), ["Panels, ", temperature].concat()];
    paper.table("The air as read", &["When", &heads[0], "Humidity, %", &heads[1]], &lines);
    // What the newest reading meant at its own time.
    if let Some(at) = newest_air(test).and_then(|air| air.at) {
        let said = air_said(test, at, wording);
        paper.element("p", &["The newest reading: ", &said.line, "."].concat());
        paper.list(&said.amiss);
    }
}

fn instruments(paper: &mut Paper, test: &SprayTest, wording: &Wording) {
    let mut lines: Vec<Line> = Vec::new();
    for balance in test.balances.kept() {
        let mut parts: Vec<String> = Vec::new();
        parts.extend(balance.division_g.map(|g| ["division ", &shown(Measure::Mass, g.get(), wording)].concat()));
        parts.extend(
            balance
                .repeatability_g
                .map(|g| ["repeatability ", &shown(Measure::Mass, g.get(), wording), " (standard deviation)"].concat()),
        );
        let repeats = if balance.repeats_g.is_empty() {
            String::new()
        } else {
            ["\n", &repeats_said(test, &balance.id, wording)].concat()
        };
        lines.push(pair(&["Scale: ", &balance.label].concat(), [&parts.join(", "), repeats.as_str()].concat()));
    }
    for comb in test.combs.kept() {
        let edges: Vec<String> =
            comb.edges.kept().map(|edge| row(Measure::Film, &plain(&edge.teeth_um), wording)).collect();
        lines.push(pair(&["Comb: ", &comb.label].concat(), edges.join("; ")));
    }
    let gauge = &test.dry_gauge;
    lines.extend(gauge.calibration_um.map(|um| {
        pair(
            "Dry-film gauge",
            [&shown(Measure::Film, um.get(), wording), " calibration, standard uncertainty"].concat(),
        )
    }));
    if !gauge.base_metal_um.is_empty() {
        lines.push(pair("Gauge on the bare metal", findings::gauge::base_metal_readings(test, wording)));
    }
    for shim in test.verifications.kept() {
        let said = verification_said(test, shim, wording);
        lines.push(pair("Gauge tried", said));
    }
    for blank in test.blanks.kept() {
        let place = blank.place.trim();
        let stands = if place.is_empty() { "weighed along".into() } else { ["stands in ", place].concat() };
        let left = findings::words::left_said(&blank.left).map_or(String::new(), |said| ["\n", &said].concat());
        lines.push(pair(&["Blank: ", &blank.label].concat(), [stands, left].concat()));
    }
    paper.element("h2", "Instruments");
    if lines.is_empty() {
        paper.element("p", "None was written down.");
    }
    paper.table("Scales, combs, gauges and blanks", &["Instrument", "What is known of it"], &lines);
}

fn mix(paper: &mut Paper, test: &SprayTest, of: &Candidate, wording: &Wording) {
    let part = |component: &Component| {
        let batch = component.batch.trim();
        let said = component_said(component, wording);
        if batch.is_empty() { said } else { [&said, ", batch ", batch].concat() }
    };
    let parts: Vec<String> = components_in_order(of).into_iter().map(part).collect();
    let cups = cups_said(test, &of.id, wording);
    paper.element("p", &[&mix_said(of), ". ", &parts.join("; "), ". ", &cups.join(". ")].concat());
    if of.gains_mass {
        paper.element("p", "Painter's note: it gains weight as it cures.");
    }
    if !of.notes.trim().is_empty() {
        paper.element("p", &["Notes: ", of.notes.trim()].concat());
    }
}

/// The numbers of a few candidates beside each other: data sheet, measured on the mix, gun, cost and VOC.
fn sheets(paper: &mut Paper, test: &SprayTest, of: &[&Candidate], first: usize, wording: &Wording) {
    let mut lines: Vec<Line> = Vec::new();
    let mut add = |name: &str, told: Vec<Option<String>>| {
        if told.iter().any(Option::is_some) {
            let cells = told.into_iter().map(|told| told.unwrap_or_else(|| "–".into()));
            lines.push(Line::new(std::iter::once(name.to_owned()).chain(cells).collect()));
        }
    };
    let each = |told: &dyn Fn(&Candidate) -> Option<String>| of.iter().map(|candidate| told(candidate)).collect();
    add("Sheet's figures are for", each(&|of| of.sheet.stated_for.map(|stated| stated_for(stated).into())));
    let number =
        |add: &mut dyn FnMut(&str, Vec<Option<String>>), name: &str, measure: Measure, slot: &dyn Fn(Id) -> Slot| {
            let unit = unit_of(measure, wording);
            let name = if unit.is_empty() { name.to_owned() } else { [name, ", ", unit].concat() };
            add(&name, each(&|of| slot(of.id.clone()).read(test).map(|value| show_in(measure, value, wording))));
        };
    for (name, line) in findings::plan::SHEET_LINES {
        number(&mut add, name, line.measure(), &|id| Slot::Sheet(id, line));
    }
    let air = |of: &Candidate| {
        (!of.sheet.air_c.is_empty()).then(|| show_row(Measure::Temperature, &plain(&of.sheet.air_c), wording))
    };
    add(&["Use between, ", unit_of(Measure::Temperature, wording)].concat(), each(&air));
    for (name, line) in MEASURED {
        number(&mut add, name, line.measure(), &|id| Slot::Measured(id, *line));
    }
    for (name, line) in GUN {
        number(&mut add, name, line.measure(), &|id| Slot::Gun(id, *line));
    }
    let note = |of: &Candidate| Some(of.gun.note.trim().to_owned()).filter(|note| !note.is_empty());
    add("Fan, fluid, distance", each(&note));
    let worth: Vec<Vec<Figure>> = of.iter().map(|candidate| worth_of(test, candidate, wording)).collect();
    let mut names: Vec<&str> = Vec::new();
    for figure in worth.iter().flatten() {
        if !names.contains(&&*figure.name) {
            names.push(&figure.name);
        }
    }
    for name in names {
        let told = |worth: &Vec<Figure>| {
            let figure = worth.iter().find(|figure| figure.name == name)?;
            Some(figure.value.clone().unwrap_or_else(|| ["–\n", &figure.note].concat()))
        };
        add(name, worth.iter().map(told).collect());
    }
    let labels: Vec<String> = of
        .iter()
        .enumerate()
        .map(|(place, candidate)| [Mark::of(first + place).sign(), " ", &candidate.label].concat())
        .collect();
    let heads: Vec<&str> = std::iter::once("What").chain(labels.iter().map(String::as_str)).collect();
    paper.table("Data sheets, gun and cost", &heads, &lines);
}

fn stated_for(stated: StatedFor) -> &'static str {
    match stated {
        StatedFor::Mix => "all that is in the cup",
        StatedFor::MixUnreduced => "the mix before reducer",
        StatedFor::Base => "the base alone",
    }
}

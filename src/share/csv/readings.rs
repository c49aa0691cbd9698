//! The table of all readings.

use std::collections::BTreeMap;

use super::{CsvCell, DecimalMark, csv_of};
use findings::facts::{balance_of, comb_of, sole_balance};
use findings::{Findings, Role};
use quantity::{Grams, Instant, Manner, Quantity};
use record::{Entries, Id, Leaving, SetAside, SprayTest, WeighIn};

const READINGS: [&str; 22] = [
    "kind",
    "panel",
    "candidate",
    "time",
    "UTC offset (min)",
    "age after last coat (h)",
    "round",
    "scale",
    "weight (g)",
    "left out",
    "why left out",
    "comb",
    "last wetted tooth (µm)",
    "touched tooth (µm)",
    "first dry tooth (µm)",
    "place",
    "dry film 1 (µm)",
    "dry film 2 (µm)",
    "dry film 3 (µm)",
    "shim (µm)",
    "drift of the scale taken off (g)",
    "exchanged with",
];

/// A line of the table of readings, empty but for what is set.
#[derive(Default)]
struct Read {
    kind: &'static str,
    panel: String,
    candidate: String,
    at: Option<Instant>,
    age_h: Option<f64>,
    round: String,
    scale: String,
    gross_g: Option<f64>,
    left_out: String,
    why: String,
    comb: String,
    teeth_um: [Option<f64>; 3],
    place: String,
    film_um: [Option<f64>; 4],
    drift_g: Option<f64>,
    exchanged_with: String,
}

impl Read {
    fn cells(self) -> Vec<CsvCell> {
        use CsvCell::{Number, Text};
        // As a spreadsheet knows a moment: the clock on the wall, the offset in a column of its own.
        let time =
            self.at.map_or(String::new(), |at| at.to_string().chars().take(19).collect::<String>().replace('T', " "));
        let mut cells = vec![
            Text(self.kind.into()),
            Text(self.panel),
            Text(self.candidate),
            Text(time),
            Number(self.at.map(|at| f64::from(at.offset_min()))),
            Number(self.age_h.map(thousandths)),
            Text(self.round),
            Text(self.scale),
            Number(self.gross_g),
            Text(self.left_out),
            Text(self.why),
            Text(self.comb),
        ];
        cells.extend(self.teeth_um.map(Number));
        cells.push(Text(self.place));
        cells.extend(self.film_um.map(Number));
        cells.extend([Number(self.drift_g.map(thousandths)), Text(self.exchanged_with)]);
        cells
    }

    fn set_aside(&mut self, aside: Option<&SetAside>) {
        if let Some(aside) = aside {
            self.left_out = if aside.by == "page" { "by the page" } else { "by the painter" }.into();
            self.why.clone_from(&aside.why);
        }
    }
}

/// To the thousandth: what lies beyond is the noise of adding.
fn thousandths(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// Every reading of a test, a line each, in the record's own units: bare weights, weights after each coat and while drying,
/// those of the blanks, comb readings and dry-film spots.
pub fn readings_csv(test: &SprayTest, findings: &Findings, mark: DecimalMark) -> String {
    // A spreadsheet is told everything as it is stored.
    csv_of(test, &READINGS, Manner::PLAIN.during(|| rows_of(test, findings)), mark)
}

fn rows_of(test: &SprayTest, findings: &Findings) -> Vec<Vec<CsvCell>> {
    let rounds = findings::weigh::rounds_said(test);
    let mut rows: Vec<Vec<CsvCell>> = Vec::new();
    for panel in findings::facts::in_order(test) {
        let candidate = panel.candidate.find(&test.candidates);
        let told = findings.panel(&panel.id);
        let of = |kind| Read {
            kind,
            panel: panel.label.clone(),
            candidate: candidate.map(|candidate| candidate.label.clone()).unwrap_or_default(),
            ..Read::default()
        };
        for bare in panel.bare.kept() {
            let scale = name(test, bare.balance.as_ref());
            let mut read = Read { at: bare.at, gross_g: bare.gross_g.map(Quantity::get), scale, ..of("bare weight") };
            read.set_aside(bare.set_aside.as_ref());
            rows.push(read.cells());
        }
        let coat = told.and_then(|told| told.work.card.last_coat_h);
        for weigh_in in panel.weigh_ins.kept() {
            let mut read = weighed(test, weigh_in, &panel.left, &rounds, of("weight"));
            let reading = told.and_then(|told| told.work.reading(&weigh_in.id));
            if reading.is_some_and(|reading| reading.role == Role::Wet) {
                read.kind = "wet weight";
            }
            let hours = read.at.map(|at| at.hours_since(Instant::EPOCH));
            read.age_h = hours.zip(coat).map(|(hours, coat)| hours - coat);
            let flag = told.and_then(|told| told.flags.iter().find(|flag| flag.weigh_in == weigh_in.id));
            if let Some(flag) = flag.filter(|flag| flag.left_out && read.left_out.is_empty()) {
                read.left_out = "by the curve".into();
                read.why.clone_from(&flag.says);
            }
            let curve = told.is_some_and(|told| told.work.forecast.is_ok());
            read.drift_g = reading.filter(|_| curve).map(|reading| reading.drift_g);
            let other = weigh_in.exchanged_with.find(&test.panels);
            read.exchanged_with = other.map_or(String::new(), |other| other.label.clone());
            rows.push(read.cells());
            rows.extend(weighed_again(test, weigh_in, &panel.left, &rounds, &|| of("weighed again")));
        }
        rows.extend(findings::facts::leaving(&panel.left).map(|leaving| left(leaving, of(LEFT))));
        for dab in panel.dabs.kept() {
            let comb = comb_of(test, dab).map(|comb| comb.label.clone()).unwrap_or_default();
            let teeth_um = [dab.wetted_um, dab.touched_um, dab.dry_um].map(|um| um.map(Quantity::get));
            rows.push(Read { at: dab.at, comb, teeth_um, place: dab.place.clone(), ..of("comb reading") }.cells());
        }
        for spot in panel.spots.kept() {
            // Spots are of three readings; those of more take another line.
            for readings in spot.readings_um.chunks(3) {
                let um = |place: usize| readings.get(place).map(|um| um.get());
                let film_um = [um(0), um(1), um(2), spot.shim_um.map(Quantity::get)];
                rows.push(Read { at: spot.at, place: spot.place.clone(), film_um, ..of("dry-film spot") }.cells());
            }
        }
    }
    for blank in test.blanks.kept() {
        let of = |kind| Read { kind, panel: blank.label.clone(), ..Read::default() };
        for weigh_in in blank.weigh_ins.kept() {
            rows.push(weighed(test, weigh_in, &blank.left, &rounds, of("blank")).cells());
            rows.extend(weighed_again(test, weigh_in, &blank.left, &rounds, &|| of("blank again")));
        }
        rows.extend(findings::facts::leaving(&blank.left).map(|leaving| left(leaving, of(LEFT))));
    }
    rows
}

fn weighed(
    test: &SprayTest,
    weigh_in: &WeighIn,
    left: &Entries<Leaving>,
    rounds: &BTreeMap<&Id, String>,
    of: Read,
) -> Read {
    let round = weigh_in.round.find(&test.rounds);
    let said = round.and_then(|round| rounds.get(&round.id)).cloned().unwrap_or_default();
    let scale = name(test, balance_of(test, weigh_in));
    let place = round.map(|round| round.place.clone()).unwrap_or_default();
    let gross_g = weigh_in.gross_g.map(Quantity::get);
    let mut read = Read { at: findings::facts::moment(test, weigh_in), gross_g, round: said, scale, place, ..of };
    if findings::facts::weighed_after_leaving(test, left, weigh_in) {
        (read.left_out, read.why) = ("by the painter".into(), "weighed after it left the test".into());
    }
    read.set_aside(weigh_in.set_aside.as_ref());
    read
}

/// A line for each time that it was weighed again in its round.
fn weighed_again(
    test: &SprayTest,
    weigh_in: &WeighIn,
    left: &Entries<Leaving>,
    rounds: &BTreeMap<&Id, String>,
    of: &dyn Fn() -> Read,
) -> Vec<Vec<CsvCell>> {
    let again = |g: &Grams| Read { gross_g: Some(g.get()), ..weighed(test, weigh_in, left, rounds, of()) }.cells();
    weigh_in.repeats_g.iter().map(again).collect()
}

/// The kind of line that says that a panel or a blank left the test.
const LEFT: &str = "left the test";

fn left(leaving: &Leaving, of: Read) -> Vec<CsvCell> {
    Read { at: leaving.at, why: leaving.why.clone(), ..of }.cells()
}

fn name(test: &SprayTest, balance: Option<&Id>) -> String {
    // One scale needs no naming.
    let balance = balance.or_else(|| sole_balance(test)).and_then(|id| test.balances.find(id));
    balance.map(|balance| balance.label.clone()).unwrap_or_default()
}

//! The table of all that is found.

use super::{CsvCell, DecimalMark, csv_of};
use findings::{By, Findings};
use record::{Id, SprayTest};

const RESULTS: [&str; 8] =
    ["of", "candidate", "quantity", "unit", "low (95 %)", "middle", "high (95 %)", "what to know"];

/// What is found, a line a number, in the record's own units: of each panel, of each candidate's mean, of each pair.
pub fn results_csv(test: &SprayTest, findings: &Findings, mark: DecimalMark) -> String {
    let mut rows = Results { rows: Vec::new(), of: String::new(), candidate: String::new() };
    let label = |id: Option<&Id>| {
        let known = findings.candidates.iter().find(|candidate| Some(&candidate.id) == id);
        known.map(|candidate| candidate.label.clone()).unwrap_or_default()
    };
    for panel in &findings.panels {
        rows.of.clone_from(&panel.label);
        rows.candidate = label(panel.candidate.as_ref());
        let why = |field: &str| panel.why.of(field).unwrap_or_default();
        rows.number("bare weight", "g", panel.bare_g, why("bare_g"));
        rows.number("wet weight", "g", panel.wet_gross_g, why("wet_gross_g"));
        let estimated = if panel.wet_coat_estimated { "estimated by comb and density" } else { why("wet_coat_g") };
        rows.number("wet coat", "g", panel.wet_coat_g, estimated);
        rows.number("coated area", "cm²", panel.area_cm2, why("area_cm2"));
        rows.number("lost so far", "g", panel.lost_g, why("lost_g"));
        rows.number("lost, of the wet coat", "%", panel.lost_pct, why("lost_pct"));
        rows.interval(
            "wet film, comb",
            "µm",
            panel.wet_film_um.map(|um| [um.low, um.mid, um.high]),
            why("wet_film_um"),
        );
        let forecast = panel.forecast.as_ref();
        let settled = forecast.map_or(why("forecast"), |forecast| forecast.settled.word());
        rows.interval(
            "final weight",
            "g",
            forecast.map(|told| &told.final_gross_g).map(|g| [g.low, g.mid, g.high]),
            why("forecast"),
        );
        rows.interval(
            "still to lose",
            "g",
            forecast.map(|told| &told.still_to_lose_g).map(|g| [g.low, g.mid, g.high]),
            settled,
        );
        for after in &panel.after_day {
            let name = ["shrinkage to come after ", &findings::words::day(after.day_h)].concat();
            let why = after.why.of("film_still_to_go_um").unwrap_or_default();
            rows.interval(&name, "µm", after.film_still_to_go_um.map(|um| [um.low, um.mid, um.high]), why);
        }
        rows.interval(
            "final build",
            "µm",
            panel.final_build_um.map(|um| [um.low, um.mid, um.high]),
            why("final_build_um"),
        );
        for route in &panel.routes {
            let bound = if route.lower_bound { "at least this" } else { "" };
            let why = route.why.of("final_build_um").unwrap_or(bound);
            rows.interval(
                &["final build by ", route.name()].concat(),
                "µm",
                route.final_build_um.map(|um| [um.low, um.mid, um.high]),
                why,
            );
        }
    }
    for candidate in &findings.candidates {
        rows.of = ["mean of ", &findings::words::panels_said(candidate.panels)].concat();
        rows.candidate.clone_from(&candidate.label);
        for told in &candidate.means {
            let why = told.why.of("mean").unwrap_or_default();
            rows.compared(told.by, told.mean.map(|mean| [mean.low, mean.mid, mean.high]), why);
        }
    }
    for pair in &findings.pairs {
        rows.of = "difference".into();
        rows.candidate = [&label(Some(&pair.first)), " less ", &label(Some(&pair.second))].concat();
        let gap = pair.difference;
        rows.compared(pair.by, Some([gap.low, gap.mid, gap.high]), pair.claim_said());
    }
    csv_of(test, &RESULTS, rows.rows, mark)
}

/// What candidates are compared by: its name, its unit, and the record's unit in that unit.
const COMPARED: [(By, &str, &str, f64); 6] = [
    (By::FilmStillToGo, "shrinkage to come after sanding", "µm", 1.0),
    (By::LossPerArea, "lost since the first weighing", "g/m²", 1.0),
    (By::FilmLost, "film lost since the first weighing", "µm", 1.0),
    (By::LossShare, "lost since the first weighing, of the wet coat", "%", 100.0),
    (By::BuildKept, "dry build kept, of the wet film", "%", 100.0),
    (By::FinalBuild, "final build", "µm", 1.0),
];

/// The table of results as it grows.
struct Results {
    rows: Vec<Vec<CsvCell>>,
    of: String,
    candidate: String,
}

impl Results {
    fn number(&mut self, name: &str, unit: &str, value: Option<f64>, note: &str) {
        self.row(name, unit, [None, value, None], note);
    }

    fn interval(&mut self, name: &str, unit: &str, bounds: Option<[f64; 3]>, note: &str) {
        self.row(name, unit, bounds.map_or([None; 3], |bounds| bounds.map(Some)), note);
    }

    fn compared(&mut self, by: By, bounds: Option<[f64; 3]>, note: &str) {
        if let Some((_, name, unit, scale)) = COMPARED.iter().find(|known| known.0 == by) {
            self.interval(name, unit, bounds.map(|bounds| bounds.map(|bound| bound * scale)), note);
        }
    }

    fn row(&mut self, name: &str, unit: &str, bounds: [Option<f64>; 3], note: &str) {
        use CsvCell::{Number, Text};
        let mut cells: Vec<CsvCell> =
            [self.of.as_str(), &self.candidate, name, unit].into_iter().map(|text| Text(text.into())).collect();
        cells.extend(bounds.map(|bound| Number(bound.map(rounded))));
        cells.push(Text(note.into()));
        self.rows.push(cells);
    }
}

/// To six figures: no scale and no gauge shows more.
fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let digits = 5 - value.abs().log10().floor() as i32;
    let scale = 10_f64.powi(digits.clamp(0, 12));
    (value * scale).round() / scale
}

//! One number, one interval: a quantity of a panel is told alike in the row, in how it was worked out and on the panel's card.

use super::beside::{candidate, panel, test_with};
use super::found;
use comb_scale::findings::results::{
    CurveChoice, FigureKey, Row, RowKey, Worked, answer, figure_keys, film_table, panel_figure, panel_in_short,
    side_by_side, worked_beside, worked_figure,
};
use comb_scale::findings::{By, CandidateFindings, Findings, PanelFindings, Wording};
use comb_scale::quantity::{FilmUnit, MassUnit, Units};
use comb_scale::record::{EXAMPLE, SprayTest, open};
use records::piece;
use serde_json::Value;

const WANTED: &str = r#""sanding_h": 72, "dry_build_um": 80"#;

/// The worked example after so many weighings of each panel.
fn example_after(weighings: usize) -> SprayTest {
    let mut record: Value = serde_json::from_str(EXAMPLE).unwrap();
    for panel in record["panels"].as_array_mut().unwrap() {
        panel["weigh_ins"].as_array_mut().unwrap().truncate(weighings);
    }
    open(&record.to_string()).unwrap().test
}

/// The tests that are walked through: what is known of them differs.
fn tests() -> Vec<(&'static str, SprayTest)> {
    let short = |id: &str, weights: usize| {
        let mut panel: Value = panel(id, "a", 0.0).into();
        panel["weigh_ins"].as_array_mut().unwrap().truncate(weights);
        piece(&panel.to_string())
    };
    let early = short("a1", 4);
    let several = [panel("a1", "a", 0.0), panel("a2", "a", 0.3)];
    vec![
        ("the worked example", example_after(usize::MAX)),
        ("the worked example, early", example_after(4)),
        ("the worked example, earlier", example_after(2)),
        ("one panel", test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0)])),
        ("one panel, early", test_with(WANTED, &[candidate("a")], std::slice::from_ref(&early))),
        ("two panels, one early", test_with(WANTED, &[candidate("a")], &[early, panel("a2", "a", 0.3)])),
        ("no day of sanding", test_with("", &[candidate("a")], &several)),
        ("no comb", test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0).without("/dabs")])),
        (
            "one not weighed bare",
            test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0), several[1].clone().without("/bare_g")]),
        ),
        ("no area", test_with(WANTED, &[candidate("a")], &[panel("a1", "a", 0.0).without("/coated_cm2")])),
        (
            "a build of meters",
            test_with(
                WANTED,
                &[candidate("a")],
                &[panel("a1", "a", 0.0).without("/coated_cm2").with("/coated_cm2", 1)],
            ),
        ),
    ]
}

/// The numbers of a text, units aside; `up to 9` begins at nothing. No number: why it is missing.
#[derive(Debug, PartialEq)]
enum Said {
    Numbers(Vec<f64>),
    Nothing,
}

fn said(text: &str) -> Said {
    let text = text.replace("up to", "0 to").replace("cm²", "").replace("m²", "").replace('−', "-");
    let of = |word: &str| word.trim_matches(|c: char| !c.is_ascii_digit() && c != '-').parse().ok();
    let numbers: Vec<f64> = text.split(|c: char| c.is_whitespace() || c == '(').filter_map(of).collect();
    if numbers.is_empty() || text.ends_with('.') { Said::Nothing } else { Said::Numbers(numbers) }
}

/// A number without why it has no middle, which names a day.
fn before_why(told: &str) -> &str {
    told.split_once(" (too early").map_or(told, |(number, _)| number)
}

fn input<'a>(of: &'a Worked, name: &str) -> &'a str {
    &of.inputs.iter().find(|input| input.0 == name).unwrap_or_else(|| panic!("no {name} in {of:?}")).1
}

struct Walk<'a> {
    name: String,
    test: &'a SprayTest,
    found: &'a Findings,
    wording: Wording,
    compared: usize,
    differ: Vec<String>,
}

impl Walk<'_> {
    fn same(&mut self, what: &str, one: &str, other: &str) {
        self.compared += 1;
        if said(one) != said(other) {
            self.differ.push(format!("{}, {what}: '{one}' and '{other}'", self.name));
        }
    }

    fn row(&self, key: RowKey) -> Row {
        side_by_side(self.test, self.found, &self.wording).rows.into_iter().find(|row| row.key == key).unwrap()
    }

    fn figure(&self, panel: &PanelFindings, key: FigureKey) -> Option<String> {
        panel_figure(panel, key, &self.wording).value
    }

    /// The card, its summary, its folds, and the table of the film chart.
    fn panel(&mut self, panel: &PanelFindings) {
        let fold = |walk: &Self, key| worked_figure(walk.test, panel, key, &walk.wording);
        for key in figure_keys(panel) {
            if let Some(shown) = self.figure(panel, key) {
                let fold = fold(self, key);
                self.same(&format!("{} {}", panel.label, fold.name), &shown, &fold.value);
            }
        }
        if let Some(still) = self.figure(panel, FigureKey::StillToLose) {
            let settled = fold(self, FigureKey::Settled);
            self.same(&format!("{} still to lose", panel.label), &still, input(&settled, "Still to lose"));
        }
        let Some(built) = self.figure(panel, FigureKey::FinalBuild) else { return };
        let short = panel_in_short(panel, &self.wording);
        let film = short.split("dry film ").nth(1).unwrap();
        self.same(&format!("{} in short", panel.label), &built, film);
        let lines = film_table(self.test, self.found, &CurveChoice::default(), &self.wording);
        let line = lines.iter().find(|line| line.panel == panel.label && line.what == "final build").unwrap();
        self.same(&format!("{} in the chart's table", panel.label), &built, &line.film);
        let whole = fold(self, FigureKey::FinalBuild);
        let known = panel.routes.iter().filter(|route| route.final_build_um.is_some());
        let told: Vec<&str> = input(&whole, "Routes").split("; ").collect();
        for (route, told) in known.zip(told) {
            let shown = self.figure(panel, FigureKey::BuildBy(route.route)).unwrap();
            self.same(&format!("{} by {:?}", panel.label, route.route), &shown, told);
        }
    }

    /// A panel's own number in the fold of a row, and of a candidate with one panel the row itself and the answer.
    fn candidate(&mut self, place: usize, of: &CandidateFindings) {
        let panels: Vec<&PanelFindings> =
            self.found.panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&of.id)).collect();
        for key in By::ALL.map(RowKey::Mean).into_iter().chain([RowKey::SolidsByWeight]) {
            let row = self.row(key);
            let fold = worked_beside(self.test, self.found, key, &self.wording);
            let fold = &fold.iter().find(|(id, _)| *id == of.id).unwrap().1;
            let cell = &row.cells[place];
            let told = format!("{} ({})", cell.value, cell.below);
            if cell.sort.is_some() {
                self.same(&format!("{} of {}, fold", row.name, of.label), before_why(&told), before_why(&fold.value));
            }
            let known = panels.iter().filter(|panel| said(input(fold, &panel.label)) != Said::Nothing).count();
            if known != cell.panels {
                self.differ.push(format!(
                    "{}, {}: {known} panels in its fold, {} in the row",
                    self.name, row.name, cell.panels
                ));
            }
            for panel in &panels {
                let own = input(fold, &panel.label).to_owned();
                let on_card = match key {
                    RowKey::Mean(By::FilmStillToGo) => Some(FigureKey::FilmStillToGo(0)),
                    RowKey::Mean(By::FinalBuild) => Some(FigureKey::FinalBuild),
                    _ => None,
                };
                if let Some(on_card) = on_card {
                    let card = self.figure(panel, on_card).unwrap_or(".".into());
                    self.same(&format!("{} of {}, card and row's fold", row.name, panel.label), &card, &own);
                }
                if cell.panels == 1 && said(&own) != Said::Nothing {
                    self.same(&format!("{} of {}, row and its fold", row.name, panel.label), before_why(&told), &own);
                }
            }
        }
        let glance = answer(self.found, &self.wording).told(&self.wording);
        let row = self.row(RowKey::Mean(By::FinalBuild));
        let cell = &row.cells[place];
        if cell.sort.is_some() {
            let own = glance.split(&format!(" {}: ", of.label)).nth(1).unwrap().split(" dry").next().unwrap();
            let own = own.rsplit(", ").next().unwrap();
            self.same("final film on the card", &format!("{} ({})", cell.value, cell.below), own);
        }
    }
}

#[test]
fn a_number_is_told_alike_wherever_it_is_told() {
    let customary = Units { film: FilmUnit::Mil, mass: MassUnit::Oz, ..Units::default() };
    let (mut compared, mut differ) = (0, Vec::new());
    for (name, test) in tests() {
        let found = found(&test);
        for units in [Units::default(), customary] {
            let wording = Wording { units, ..Wording::default() };
            let mut walk =
                Walk { name: name.to_owned(), test: &test, found: &found, wording, compared: 0, differ: Vec::new() };
            found.panels.iter().for_each(|panel| walk.panel(panel));
            for (place, candidate) in found.candidates.iter().enumerate() {
                walk.candidate(place, candidate);
            }
            compared += walk.compared;
            differ.append(&mut walk.differ);
        }
    }
    assert!(differ.is_empty(), "{} of {compared} differ: {differ:#?}", differ.len());
    assert!(compared > 1000, "{compared} pairs compared");
}

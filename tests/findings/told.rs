//! All that is told of a record, in one text that is kept beside these tests: a change of words or of numbers is one diff to
//! review. `UPDATE_EXPECT=1 cargo test --no-default-features --test findings` writes them anew.

use comb_scale::findings::results::{
    CurveChoice, answer, curve_table, film_table, notes_said, panel_figures, side_by_side,
};
use comb_scale::findings::words::{corrected_said, odd_said};
use comb_scale::findings::{Findings, Wording};
use comb_scale::quantity::{Manner, Units};
use comb_scale::record::{EXAMPLE, SprayTest, open};
use expect_test::{ExpectFile, expect_file};
use records::{list, piece};

use super::beside::{candidate, panel, test_with};
use super::{all_worked, drying, found, test_of, weighed};

/// A text that grows by headings and lines.
#[derive(Default)]
struct Page(String);

impl Page {
    fn heading(&mut self, of: &str) {
        self.0 += &format!("\n## {of}\n");
    }

    /// A line of parts, without those that are empty.
    fn line(&mut self, parts: &[&str]) {
        let parts: Vec<&str> = parts.iter().copied().filter(|part| !part.is_empty()).collect();
        self.0 += &format!("{}\n", parts.join(" | "));
    }

    fn lines(&mut self, of: &str, lines: impl IntoIterator<Item = String>) {
        let mut lines = lines.into_iter().peekable();
        if lines.peek().is_some() {
            self.heading(of);
            lines.for_each(|line| self.line(&[&line]));
        }
    }
}

/// All that the page and the report say of a test, formulas and sources aside.
pub fn told(test: &SprayTest, found: &Findings, wording: &Wording) -> String {
    let mut page = Page::default();
    let at_a_glance = answer(found, wording);
    page.heading("At a glance");
    for glance in &at_a_glance.glances {
        page.line(&[&glance.name, glance.state]);
    }
    page.line(&[&at_a_glance.sentence]);
    page.line(&[&at_a_glance.evidence]);
    (!at_a_glance.early.is_empty()).then(|| page.line(&[&at_a_glance.early]));
    page.line(&[&at_a_glance.hatched]);
    at_a_glance.footnotes.iter().for_each(|note| page.line(&[note]));
    page.lines("Said", found.said.iter().cloned());
    page.lines("Next", found.next.iter().cloned());
    page.lines("Odd", odd_said(test, wording));
    page.lines("Corrected", corrected_said(test, found, wording));
    page.lines("Notes", notes_said(test));
    let table = side_by_side(test, found, wording);
    for row in &table.rows {
        page.heading(&format!("{}, {}", row.name, row.unit));
        for ((_, label, _), cell) in table.columns.iter().zip(&row.cells) {
            page.line(&[label, &cell.value, &cell.below, &cell.note]);
        }
        page.line(&[&row.verdict]);
    }
    for panel in &found.panels {
        page.heading(&format!("Panel {}", panel.label));
        for figure in panel_figures(panel, wording) {
            page.line(&[&figure.name, &figure.value.unwrap_or_default(), &figure.note]);
        }
    }
    // The words are the same for each panel.
    for panel in found.panels.iter().take(1) {
        page.heading(&format!("How the figures of {} were worked out", panel.label));
        for one in all_worked(test, panel, wording) {
            page.line(&[&one.name, &one.value]);
            one.inputs.iter().for_each(|(name, value)| page.line(&["  from", name, value]));
            one.assumptions.iter().for_each(|assumed| page.line(&["  if", assumed]));
            one.shares.iter().for_each(|share| page.line(&["  share", &share.input, &share.by, &share.share]));
        }
    }
    page.heading("Curve");
    for line in curve_table(test, found, &CurveChoice::default(), wording) {
        page.line(&[&line.when, &line.age, &line.value]);
    }
    page.heading("Film");
    for line in film_table(test, found, &CurveChoice::default(), wording) {
        page.line(&[&line.what, &line.when, &line.film]);
    }
    page.0.trim_start().to_owned()
}

/// Holds all that is told of a record against what was told of it before.
#[track_caller]
fn check(test: &SprayTest, expected: ExpectFile) {
    expected.assert_eq(&told(test, &found(test), &Wording::default()));
}

const WANTED: &str = r#""sanding_h": 72, "dry_build_um": 80, "sanding_loss_um": 20, "transfer_efficiency": 0.5"#;

fn until(h: f64) -> Vec<(f64, f64)> {
    drying(400.0).into_iter().filter(|(t, _)| *t <= h).collect()
}

#[test]
fn of_the_worked_example() {
    check(&open(EXAMPLE).unwrap().test, expect_file!["told/example.txt"]);
}

#[test]
fn of_the_worked_example_in_customary_units() {
    let units = Units::CUSTOMARY;
    let (test, wording) = (open(EXAMPLE).unwrap().test, Wording { units, division_g: Some(0.1) });
    let now = "2027-03-01T12:00:00Z".parse().unwrap();
    let told = Manner { units, comma: false, half_days: true, month_first: true }.during(|| {
        let found = comb_scale::findings::Memory::default().of(&test, now, &wording);
        told(&test, &found, &wording)
    });
    expect_file!["told/example-customary.txt"].assert_eq(&told);
}

#[test]
fn of_two_candidates_with_two_panels_each() {
    let panels = [panel("a1", "a", 0.0), panel("a2", "a", 0.1), panel("b1", "b", 1.5), panel("b2", "b", 1.6)];
    check(&test_with(WANTED, &["a", "b"].map(candidate), &panels), expect_file!["told/two-by-two.txt"]);
}

#[test]
fn of_one_panel_each_a_day_after_spraying() {
    let day = |id: &str, of: &str| panel(id, of, 0.0).with("/weigh_ins", weighed(&until(24.0)));
    check(
        &test_with(WANTED, &["a", "b"].map(candidate), &[day("a1", "a"), day("b1", "b")]),
        expect_file!["told/one-day.txt"],
    );
}

#[test]
fn of_panels_that_lack_what_a_film_needs() {
    let panels = [
        panel("a1", "a", 0.0).without("/bare_g"),
        panel("a2", "a", 0.0).without("/dabs"),
        panel("a3", "a", 0.0).without("/coated_cm2"),
        panel("a4", "a", 0.0).with("/weigh_ins", weighed(&until(0.0))),
        panel("a5", "a", 0.0).without("/weigh_ins"),
    ];
    check(&test_with(WANTED, &[candidate("a")], &panels), expect_file!["told/lacking.txt"]);
}

#[test]
fn of_a_candidate_without_sheet_or_mix() {
    let plain = piece(r#"{ "id": "a", "label": "A" }"#);
    check(&test_with("", &[plain], &[panel("a1", "a", 0.0)]), expect_file!["told/no-sheet.txt"]);
}

#[test]
fn of_what_contradicts_itself() {
    let thick = candidate("a").with("/sheet/wet_film_um", 4000).with("/sheet/solids_by_weight", 0.95);
    let gaining: Vec<(f64, f64)> = drying(400.0).iter().map(|&(t, g)| (t, g + t / 50.0)).collect();
    let panels = [
        panel("a1", "a", 0.0).with("/weigh_ins", weighed(&gaining)),
        panel("a2", "a", 0.0).with("/bare_g", 430),
        panel("a3", "a", 0.0).with("/dabs/0/dry_um", 150),
        panel("a4", "a", 0.0).with("/coated_cm2", 1),
    ];
    check(&test_with(WANTED, &[thick], &panels), expect_file!["told/contradicting.txt"]);
}

#[test]
fn of_an_empty_test() {
    check(&test_of(&format!(r#""panels": {}"#, list([]))), expect_file!["told/empty.txt"]);
}

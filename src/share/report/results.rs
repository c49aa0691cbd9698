//! What came out: the sentences, candidates side by side, the charts, panel by panel.

use super::paper::Paper;
use chart::{Look, Mark, Scene, TimeAxis};
use findings::results::{CurveChoice, CurveOf, curve_text, film_chart, film_text, loss_chart, side_by_side};
use findings::words::{panel_figures, panels_said};
use findings::{Findings, Tongue};
use quantity::Instant;
use record::{Id, SprayTest};

/// A chart's size, CSS px: as wide as a column of text, and read as easily on a phone.
const CHART: (f64, f64) = (480.0, 340.0);

pub fn write(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, tongue: &Tongue) {
    paper.element("h2", "What the test says");
    if findings.said.is_empty() {
        paper.element("p", "Nothing can be said yet.");
    }
    findings.said.iter().for_each(|sentence| paper.element("p class=\"said\"", sentence));
    table(paper, test, findings, tongue);
    curves(paper, test, findings, now, tongue);
    if !findings.next.is_empty() {
        paper.element("h2", "What would help next");
        paper.list(&findings.next);
    }
    if !findings.panels.is_empty() {
        paper.element("h2", "Panel by panel");
    }
    for panel in &findings.panels {
        let name = named(&panel.label, panel.candidate.as_ref(), findings);
        paper.element("h3", &name);
        paper.figures(&[&panel.label, ": what can be told"].concat(), &panel_figures(panel, tongue));
        paper.list(&panel.remarks);
    }
}

/// A panel with the mark and name of what it carries.
pub fn named(label: &str, candidate: Option<&Id>, findings: &Findings) -> String {
    let place = findings.candidates.iter().position(|known| Some(&known.id) == candidate);
    match place {
        Some(place) => [label, ", ", Mark::of(place).sign(), " ", &findings.candidates[place].label].concat(),
        None => label.to_owned(),
    }
}

/// One group of rows for each thing compared, a row a candidate: however many there are, it fits a phone.
fn table(paper: &mut Paper, test: &SprayTest, findings: &Findings, tongue: &Tongue) {
    let table = side_by_side(test, findings, tongue);
    if table.columns.is_empty() {
        return;
    }
    paper.element("h2", "Side by side");
    paper.open_table(
        "Candidates side by side, with 95 % intervals",
        &["Candidate", "Value", "Interval, or why there is none"],
    );
    for row in &table.rows {
        paper.markup("<tbody class=\"group\">\n<tr>");
        let unit = if row.unit.is_empty() { String::new() } else { [", ", &row.unit].concat() };
        paper.element("th scope=\"rowgroup\" colspan=\"3\"", &[&row.name, unit.as_str()].concat());
        paper.markup("</tr>\n");
        for (place, ((_, label, panels), cell)) in table.columns.iter().zip(&row.cells).enumerate() {
            paper.markup("<tr>");
            let name = [Mark::of(place).sign(), " ", label, "\n", &panels_said(*panels)].concat();
            paper.cell(true, &name);
            paper.cell(false, &cell.value);
            let below =
                if cell.note.is_empty() { cell.below.clone() } else { [&cell.below, "\n", &cell.note].concat() };
            paper.cell(false, &below);
            paper.markup("</tr>\n");
        }
        if !row.verdict.is_empty() {
            paper.markup("<tr>");
            paper.element("td colspan=\"3\"", &row.verdict);
            paper.markup("</tr>\n");
        }
        paper.markup("</tbody>\n");
    }
    paper.markup("</table>\n");
}

fn curves(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, tongue: &Tongue) {
    if findings.panels.iter().all(|panel| panel.wet_gross_g.is_none()) {
        return;
    }
    paper.element("h2", "Drying curves");
    let told = curve_text(findings, &CurveChoice::default(), tongue);
    let how = "Along the square root of time; points hollow where they are left out, lines fitted, the shaded fan a 95 % interval. ";
    for (of, caption) in [
        (CurveOf::Lost, ["Mass lost since the wet weight. ", how, &told].concat()),
        (CurveOf::Share, "The same as a share of the wet coat.".into()),
    ] {
        let choice = CurveChoice { of, axis: TimeAxis::SquareRoot, ..CurveChoice::default() };
        let scene = loss_chart(test, findings, &choice, now, tongue).scene(&Look::new(CHART.0, CHART.1));
        figure(paper, &scene, &told, &caption);
    }
    let choice = CurveChoice { axis: TimeAxis::SquareRoot, ..CurveChoice::default() };
    let told = film_text(test, findings, &choice, tongue);
    let caption = ["From the comb to the final build, with gauge spots. ", &told].concat();
    let scene = film_chart(test, findings, &choice, now, tongue).scene(&Look::new(CHART.0, CHART.1));
    figure(paper, &scene, &told, &caption);
}

fn figure(paper: &mut Paper, scene: &Scene, told: &str, caption: &str) {
    paper.markup("<figure>\n");
    paper.out.push_str(&scene.svg(told));
    paper.element("figcaption", caption);
    paper.markup("</figure>\n");
}

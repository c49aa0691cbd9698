//! What came out: film over time, candidates side by side, the panels; for the appendix the rest.

use super::made_of::pair;
use super::paper::{Line, Paper};
use chart::{Look, Mark, Scene, TimeAxis};
use findings::results::{
    CurveChoice, CurveOf, OverTime, Row, Table, curve_text, film_chart, film_text, loss_chart, side_by_side,
};
use findings::results::{panel_figures, told_in_short};
use findings::words::Figure;
use findings::{Findings, PanelFindings, Wording};
use quantity::Instant;
use record::{Id, SprayTest};

/// A chart's size, CSS px: as wide as a column of text, and read as easily on a phone.
const CHART: (f64, f64) = (480.0, 340.0);

/// The film over time, the rows that are looked at first, and what to do next.
pub fn write(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) {
    if is_weighed(findings) {
        paper.element("h2", OverTime::Film.head());
        film(paper, test, findings, now, wording);
    }
    let table = side_by_side(test, findings, wording);
    let mut first: Vec<&Row> = table.rows.iter().filter(|row| row.first().is_some()).collect();
    order::sort_by(&mut first, |a, b| a.first().cmp(&b.first()));
    rows(paper, "Side by side", &table, &first);
    if !findings.next.is_empty() {
        paper.element("h2", "What would help next");
        paper.list(&findings.next);
    }
}

/// What is told of each panel.
pub fn panels(paper: &mut Paper, findings: &Findings, wording: &Wording) {
    if findings.panels.is_empty() {
        return;
    }
    paper.element("h2", "Panel by panel");
    let mut lines: Vec<Line> = Vec::new();
    // What holds of all is said once.
    let of_all = |remark: &&String| {
        findings.panels.len() > 1 && findings.panels.iter().all(|panel| panel.remarks.contains(remark))
    };
    let shared: Vec<String> = findings.panels[0].remarks.iter().filter(of_all).cloned().collect();
    paper.list(&shared);
    for panel in &findings.panels {
        let name = named(&panel.label, panel.candidate.as_ref(), findings);
        let own: Vec<&str> = panel.remarks.iter().filter(|remark| !of_all(remark)).map(String::as_str).collect();
        let told = [told_in_short(panel, wording), own.join(" ")].join("\n");
        lines.push(pair(&name, told));
    }
    paper.table("What is told of each panel, and what to know", &["Panel", "What is told"], &lines);
}

/// For the appendix: the other rows, the curves of weight, each number of each panel.
pub fn more(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) {
    let table = side_by_side(test, findings, wording);
    let others: Vec<&Row> = table.rows.iter().filter(|row| row.first().is_none()).collect();
    rows(paper, "More, side by side", &table, &others);
    if is_weighed(findings) {
        paper.element("h2", "Weight over time");
        curves(paper, test, findings, now, wording);
    }
    if !findings.panels.is_empty() {
        paper.element("h2", "Each number of each panel");
    }
    for few in findings.panels.chunks(BESIDE) {
        figures(paper, few, wording);
    }
}

/// Panels whose numbers a phone shows beside each other.
const BESIDE: usize = 3;

fn figures(paper: &mut Paper, panels: &[PanelFindings], wording: &Wording) {
    let told: Vec<Vec<Figure>> = panels.iter().map(|panel| panel_figures(panel, wording)).collect();
    let mut names: Vec<&str> = Vec::new();
    for figure in told.iter().flatten() {
        if !names.contains(&&*figure.name) {
            names.push(&figure.name);
        }
    }
    let mut lines: Vec<Line> = Vec::new();
    for name in names {
        let cell = |figures: &Vec<Figure>| {
            let figure = figures.iter().find(|figure| figure.name == name);
            figure.map_or("–".into(), |figure| [figure.value.as_deref().unwrap_or("–"), &figure.note].join("\n"))
        };
        lines.push(Line::new(std::iter::once(name.to_owned()).chain(told.iter().map(cell)).collect()));
    }
    let labels: Vec<&str> = panels.iter().map(|panel| panel.label.as_str()).collect();
    let heads: Vec<&str> = std::iter::once("What").chain(labels.iter().copied()).collect();
    paper.table(&["What can be told of ", &labels.join(", ")].concat(), &heads, &lines);
}

fn is_weighed(findings: &Findings) -> bool {
    findings.panels.iter().any(|panel| panel.wet_gross_g.is_some())
}

/// A panel with the mark and name of what it carries.
pub fn named(label: &str, candidate: Option<&Id>, findings: &Findings) -> String {
    let place = findings.candidates.iter().position(|known| Some(&known.id) == candidate);
    match place {
        Some(place) => [label, ", ", Mark::of(place).sign(), " ", &findings.candidates[place].label].concat(),
        None => label.to_owned(),
    }
}

/// The rows of a table that are looked at first, or the others: one group for each thing compared, a row a candidate. However
/// many there are, it fits a phone.
fn rows(paper: &mut Paper, heading: &str, columns: &Table, rows: &[&Row]) {
    if columns.columns.is_empty() || rows.is_empty() {
        return;
    }
    paper.element("h2", heading);
    paper.open_table(
        "Candidates side by side, with 95 % intervals",
        &["Candidate", "Value", "Interval, or why there is none"],
    );
    for row in rows {
        paper.markup("<tbody class=\"group\">\n<tr>");
        let unit = if row.unit.is_empty() { String::new() } else { [", ", &row.unit].concat() };
        paper.element("th scope=\"rowgroup\" colspan=\"3\"", &[&row.name, unit.as_str()].concat());
        paper.markup("</tr>\n");
        for (place, ((_, label, _), cell)) in columns.columns.iter().zip(&row.cells).enumerate() {
            paper.markup("<tr>");
            let name = [Mark::of(place).sign(), " ", label].concat();
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

fn curves(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) {
    let told = curve_text(findings, &CurveChoice::default(), wording);
    for (of, caption) in [
        (CurveOf::Lost, ["Grams lost since the wet weight. ", OverTime::Weight.caption(), " ", &told].concat()),
        (CurveOf::Share, "The same as a share of the wet coat.".into()),
    ] {
        let choice = CurveChoice { of, axis: TimeAxis::SquareRoot, ..CurveChoice::default() };
        let scene = loss_chart(test, findings, &choice, now, wording).scene(&Look::new(CHART.0, CHART.1));
        figure(paper, &scene, &told, &caption);
    }
}

fn film(paper: &mut Paper, test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) {
    let choice = CurveChoice { axis: TimeAxis::SquareRoot, ..CurveChoice::default() };
    let told = film_text(test, findings, &choice, wording);
    let scene = film_chart(test, findings, &choice, now, wording).scene(&Look::new(CHART.0, CHART.1));
    figure(paper, &scene, &told, OverTime::Film.caption());
}

/// A picture with what it says to those who do not see it, and what stands below it.
pub fn figure(paper: &mut Paper, scene: &Scene, told: &str, caption: &str) {
    paper.markup("<figure>\n");
    paper.out.push_str(&scene.svg(told));
    paper.element("figcaption", caption);
    paper.markup("</figure>\n");
}

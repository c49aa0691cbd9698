//! The report: one HTML document that any phone or printer shows without scripts and without asking anybody, and that
//! carries the whole record inside.

mod answer;
mod carried;
mod made_of;
mod paper;
mod results;
mod written;

use findings::words::CAUTIONS;
use findings::{Findings, Wording};
use quantity::Instant;
use record::{SprayTest, file_name, legible};

use paper::Paper;

pub(super) use carried::push_carried;

/// The media type of a report.
pub const REPORT_TYPE: &str = "text/html;charset=utf-8";

/// Nothing is fetched, run or sent, whatever the document holds: only its own style counts.
const POLICY: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n";

const STYLE: &str = include_str!("report.css");

/// The name of a report's file.
///
/// ```
/// assert_eq!(comb_scale::share::report_name("Gate / undercoats"), "Gate undercoats.report.html");
/// ```
pub fn report_name(title: &str) -> String {
    let name = file_name(title);
    format!("{}.report.html", name.strip_suffix(".spraytest.txt").unwrap_or(&name))
}

/// The report of a test as it stands at `now`: what it says, how it was done, all that was read, and the record itself.
/// [`record::open_any`](record::open_any) on its text gives the test back.
///
/// ```
/// use comb_scale::{findings, findings::Wording, record, share};
/// let test = record::open(record::EXAMPLE).unwrap().test;
/// let now = "2026-03-20T12:00:00+01:00".parse().unwrap();
/// let report = share::report(&test, &findings::of(&test, now), now, &Wording::default());
/// assert!(report.starts_with("<!DOCTYPE html>"));
/// assert_eq!(record::open_any(report.as_bytes()).unwrap().test, test);
/// ```
pub fn report(test: &SprayTest, findings: &Findings, now: Instant, wording: &Wording) -> String {
    let wording = &Wording { division_g: wording.division_g.or_else(|| findings::facts::step_g(test)), ..*wording };
    let (written_down, test) = (test, &*legible(test));
    let title = if test.title.trim().is_empty() { "Spray test" } else { test.title.trim() };
    let mut paper = Paper::default();
    paper.markup("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    paper.markup(POLICY);
    paper.markup("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    paper.element("title", &[title, ": report"].concat());
    paper.markup("<style>\n");
    paper.markup(STYLE);
    paper.markup("</style>\n</head>\n<body>\n<main>\n");
    paper.element("h1", title);
    paper.element("p", &["Report of a spray test, as it stood on ", &now.said_with_year(), "."].concat());
    paper.element("p", &findings::facts::invented_said(test).unwrap_or_default());
    answer::write(&mut paper, test, findings, wording);
    results::write(&mut paper, test, findings, now, wording);
    made_of::write(&mut paper, test, wording);
    results::panels(&mut paper, findings, wording);
    paper.element("h2 id=\"appendix\"", "Appendix");
    paper.element("p", "All other numbers, all readings, and the cautions.");
    paper.markup("<div class=\"more\">\n");
    results::more(&mut paper, test, findings, now, wording);
    made_of::set_up(&mut paper, test, wording);
    written::write(&mut paper, test, findings, now, wording);
    paper.element("h2", "Cautions");
    paper.bullets(&CAUTIONS);
    paper.element("h2", "The record inside");
    paper.element(
        "p",
        "This file carries the whole test: opened in Comb & Scale, it can be read on, added to and sent back.",
    );
    paper.markup("</div>\n</main>\n");
    push_carried(&mut paper.out, written_down);
    paper.markup("</body>\n</html>\n");
    paper.out
}

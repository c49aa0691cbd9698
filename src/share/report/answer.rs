//! The first page: what was compared, by whom, on what metal and when; the answer, what it rests on, what it does not show.

use super::made_of::pair;
use super::paper::{Line, Paper};
use super::results::figure;
use chart::{Look, Mark};
use findings::facts::first_and_last_coat;
use findings::results::{answer, dates_weighed};
use findings::words::{NOT_SHOWN, STEADY_MEANS, corrected_said, panels_said};
use findings::{CandidateFindings, Findings, Wording};
use record::SprayTest;

/// The answer card's width, CSS px: letters on it come out as large as those around it on a phone.
const CARD: f64 = 400.0;

pub fn write(paper: &mut Paper, test: &SprayTest, findings: &Findings, wording: &Wording) {
    paper.table("What was compared", &["What", "Answer"], &compared(test, findings));
    paper.element("h2", "The answer");
    let answer = answer(findings, wording);
    if !findings.candidates.is_empty() {
        let card = answer.card(wording);
        let scene = card.scene(&Look::new(CARD, card.height(CARD)));
        let notes =
            [answer.notes().join(" ").as_str(), " Bars reach to the middle; whiskers hold the truth 95 times in 100."]
                .concat();
        figure(paper, &scene, &answer.told(wording), notes.trim());
    }
    paper.element("p class=\"said\"", &answer.sentence);
    paper.element("p class=\"said\"", &answer.evidence);
    // The first says in figures what the sentence of the answer does.
    let first = usize::from(findings.said.len() > 1);
    let told = |said: &&String| **said != answer.sentence && **said != NOT_SHOWN;
    let more: Vec<String> = findings.said[first..].iter().filter(told).cloned().collect();
    paper.list(&more);
    let corrected = corrected_said(test, findings, wording);
    if !corrected.is_empty() {
        paper.element("h3", "What was corrected");
        paper.list(&corrected);
    }
    paper.element("h2", "What this does not show");
    paper.bullets(&[NOT_SHOWN, STEADY_MEANS]);
}

/// The candidates with their panels, who sprayed them on what, and when.
fn compared(test: &SprayTest, findings: &Findings) -> Vec<Line> {
    let mut lines = Vec::new();
    let named = |(place, told): (usize, &CandidateFindings)| {
        [Mark::of(place).sign(), " ", told.name(), " (", &panels_said(told.panels), ")"].concat()
    };
    let names: Vec<String> = findings.candidates.iter().enumerate().map(named).collect();
    if !names.is_empty() {
        lines.push(pair("Compared", names.join(", ")));
    }
    let written =
        [("Painter", &test.painter), ("Shop", &test.shop), ("Metal", &test.metal), ("Prepared", &test.preparation)];
    for (name, text) in written {
        if !text.trim().is_empty() {
            lines.push(pair(name, text.trim().to_owned()));
        }
    }
    lines.extend(first_and_last_coat(test).map(|(_, last)| pair("Sprayed", last.said_with_year())));
    let weighed = dates_weighed(test);
    if !weighed.is_empty() {
        lines.push(pair("Weighed", weighed));
    }
    lines
}

//! Pictures that leave the page: the answer card and the charts, with the words around them and the text that goes along.

use super::answer::{Answer, answer};
use super::curve::{CurveChoice, drawn};
use crate::facts::{invented_said, moment};
use crate::told::Findings;
use crate::words::{Wording, candidate_with_panels};
use chart::{AnswerCard, Mark, Words};
use record::SprayTest;

/// Said with every picture that leaves the page.
const NO_WIDER_CLAIM: &str = "Film and weight only: nothing here tells of adhesion, rust, sanding or filling.";

/// Which chart over time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OverTime {
    /// The film.
    Film,
    /// The weight lost.
    Weight,
}

impl OverTime {
    /// What stands over it.
    pub fn head(self) -> &'static str {
        match self {
            Self::Film => "Film over time",
            Self::Weight => "Weight lost over time",
        }
    }

    /// What is drawn, for whoever cannot tap it.
    pub fn caption(self) -> &'static str {
        match self {
            Self::Film => {
                "From the comb reading on the left to the final dry film on the right; points are gauge readings, hollow where the film may have been soft."
            }
            Self::Weight => {
                "Points are weights, hollow where they are left out; lines fitted, the shaded fan a 95 % interval."
            }
        }
    }
}

/// A chart to be sent.
#[derive(Clone, Debug, PartialEq)]
pub struct SentChart {
    /// What its file is called.
    pub name: String,
    /// Three lines of text that go with it.
    pub text: String,
    /// What stands around it: the test, who is who, what is drawn, and no wider claim.
    pub words: Words,
}

/// What goes with a chart of the panels chosen.
pub fn chart_to_send(
    test: &SprayTest,
    findings: &Findings,
    of: OverTime,
    choice: &CurveChoice,
    wording: &Wording,
) -> SentChart {
    let mut words = [of.caption(), NO_WIDER_CLAIM, &dates_weighed(test)]
        .iter()
        .filter(|line| !line.is_empty())
        .fold(head(test).above(of.head()), |words, line| words.small(line));
    for (place, candidate) in findings.candidates.iter().enumerate() {
        if drawn(findings, choice).any(|panel| panel.candidate.as_ref() == Some(&candidate.id)) {
            let named = candidate_with_panels(test, &candidate.id);
            words = words.below(&[Mark::of(place).sign(), " ", &named].concat());
        }
    }
    let said = answer(findings, wording).sentence;
    SentChart {
        name: picture_name(&[&test.title, " ", of.head()].concat()),
        text: [&titled(test), of.head(), &said].join("\n"),
        words,
    }
}

impl Answer {
    /// The card to be sent: with the test's name, who and when, the sentence, the evidence, and no wider claim.
    pub fn card_to_send(&self, test: &SprayTest, wording: &Wording) -> AnswerCard {
        let words = head(test).below(&self.sentence).below(&self.evidence);
        let mut small = self.notes();
        small.extend([
            "Bars reach to the middle; whiskers hold the truth 95 times in 100.".into(),
            NO_WIDER_CLAIM.into(),
        ]);
        small.push(dates_weighed(test));
        let words = small.iter().filter(|line| !line.is_empty()).fold(words, |words, line| words.small(line));
        self.card(wording).with(words)
    }

    /// Three lines of text that go with the picture.
    pub fn text(&self, test: &SprayTest) -> String {
        [titled(test).as_str(), &self.sentence, &self.evidence].join("\n")
    }
}

/// The test's name, and whether it is invented, above a picture.
fn head(test: &SprayTest) -> Words {
    let words = Words::default().above(&test.title);
    match invented_said(test) {
        Some(invented) => words.above(&invented),
        None => words,
    }
}

/// `Gate undercoats, 2 Mar to 16 Mar 2026`
fn titled(test: &SprayTest) -> String {
    [test.title.clone(), dates_weighed(test)].join(", ").trim_end_matches(", ").to_owned()
}

/// What a picture's file is called, from what it is of.
pub fn picture_name(of: &str) -> String {
    record::file_name(of).replace(".spraytest.txt", ".png")
}

/// From the first weight to the last: `2 Mar to 16 Mar 2026`; empty before there is one.
pub fn dates_weighed(test: &SprayTest) -> String {
    let weighed = || test.panels.kept().flat_map(|panel| panel.weigh_ins.kept());
    let moments = || weighed().filter_map(|weigh_in| moment(test, weigh_in));
    let first = moments().reduce(|a, b| if b < a { b } else { a });
    let last = moments().reduce(|a, b| if b > a { b } else { a });
    let (Some(first), Some(last)) = (first, last) else { return String::new() };
    let year: String = last.to_string().chars().take(4).collect();
    let (from, to) = (first.said_day(), last.said_day());
    if from == to { format!("{to} {year}") } else { format!("{from} to {to} {year}") }
}

//! The answer at a glance against the findings it is told from.

use crate::{beside, drying, found, piece, test_of, weigh_ins};
use comb_scale::findings::results::{Answer, answer};
use comb_scale::findings::{By, Findings, Settled, Wording};
use comb_scale::quantity::{FilmUnit, Units};
use comb_scale::record::{Action, Address, EXAMPLE, History, SprayTest, open};
use expect_test::expect;

use super::reads;

fn example() -> (SprayTest, Findings) {
    let test = open(EXAMPLE).unwrap().test;
    let findings = comb_scale::findings::of(&test, "2026-03-16T10:00:00+01:00".parse().unwrap());
    (test, findings)
}

fn at_a_glance(test: &SprayTest) -> (Findings, Answer) {
    let findings = found(test);
    let answer = answer(&findings, &Wording::default());
    (findings, answer)
}

/// Candidates A, B … with so many panels each, which differ by tenths of a gram.
fn candidates(panels_each: &[usize]) -> SprayTest {
    let (mut candidates, mut panels) = (Vec::new(), Vec::new());
    for (letter, count) in ('a'..).zip(panels_each) {
        candidates.push(beside::candidate(&letter.to_string()));
        for number in 1..=*count {
            panels.push(beside::panel(&format!("{letter}{number}"), &letter.to_string(), 0.2 * (number % 2) as f64));
        }
    }
    beside::test_with(r#""sanding_h": 72"#, &candidates, &panels)
}

#[test]
fn the_numbers_of_the_card_are_those_of_the_findings() {
    let (_, findings) = example();
    let answer = answer(&findings, &Wording::default());
    assert_eq!(answer.glances.len(), findings.candidates.len());
    for (glance, told) in answer.glances.iter().zip(&findings.candidates) {
        assert_eq!(glance.name, told.label);
        assert_eq!(glance.final_um, told.mean(By::FinalBuild).mean);
        let (sanding, stays) = (glance.sanding_um.unwrap(), glance.final_um.unwrap());
        let to_go = told.mean(By::FilmStillToGo).mean.unwrap();
        // That of a single panel is where its film chart has it, which the gauge draws along.
        let off_um = if told.panels > 1 { 1e-9 } else { 0.5 };
        assert!((sanding.mid - stays.mid - to_go.mid).abs() < off_um, "the hatched part is what is still to go");
        let own = findings.panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&told.id));
        let mids: Vec<f64> = own.filter_map(|panel| Some(panel.wet_film_um?.mid)).collect();
        let mean = mids.iter().sum::<f64>() / mids.len() as f64;
        assert!((glance.wet_um.unwrap().mid - mean).abs() < 1e-9);
        assert!(glance.wet_um.unwrap().mid > sanding.mid && sanding.low < sanding.mid && sanding.mid < sanding.high);
    }
    assert_eq!(answer.footnotes, [""; 0]);
    assert_eq!(answer.evidence, "1 to 3 panels each: some of the differences between these mixes are real.");
}

#[test]
fn two_with_three_panels_each_may_differ_for_real() {
    let mut history = History::new(example().0, "phone");
    history.act(Action::Remove(Address::candidate(&"white".into()))).unwrap();
    let (_, answer) = at_a_glance(history.test());
    assert_eq!(answer.evidence, "3 panels each: the difference between these mixes is real.");
}

#[test]
fn the_sentence_says_what_is_still_to_shrink() {
    let (_, findings) = example();
    let said = answer(&findings, &Wording::default()).sentence;
    let range =
        |place: usize| Wording::default().film_range(&findings.candidates[place].mean(By::FilmStillToGo).mean.unwrap());
    assert_eq!(
        said,
        format!(
            "After day 3, Buff undercoat will shrink {} more, Grey undercoat {}, White undercoat {}.",
            range(0),
            range(1),
            range(2)
        )
    );
}

#[test]
fn it_speaks_in_the_unit_chosen() {
    let (_, findings) = example();
    let mil = Wording { units: Units { film: FilmUnit::Mil, ..Units::default() }, division_g: None };
    let answer = answer(&findings, &mil);
    assert!(answer.sentence.contains(" mil more") && !answer.sentence.contains("µm"), "{}", answer.sentence);
    assert!(answer.told(&mil).contains(" mil ") && !answer.told(&mil).contains("µm"));
}

#[test]
fn one_panel_each_makes_no_winner() {
    let (_, answer) = at_a_glance(&candidates(&[1, 1]));
    reads(answer.evidence, expect!["One panel each: no winner yet."]);
    let (_, answer) = at_a_glance(&candidates(&[1]));
    reads(answer.evidence, expect!["One panel: nothing to compare it with."]);
}

#[test]
fn panels_alike_show_no_difference() {
    let (_, answer) = at_a_glance(&candidates(&[3, 3]));
    assert_eq!(answer.evidence, "3 panels each: no real difference seen.");
    let (_, answer) = at_a_glance(&candidates(&[2, 3, 1]));
    assert_eq!(answer.evidence, "1 to 3 panels each: no real difference seen.");
}

#[test]
fn eight_candidates_are_told_by_the_first_and_the_last() {
    let (findings, answer) = at_a_glance(&candidates(&[1; 8]));
    assert_eq!(answer.glances.len(), 8);
    assert!(findings.candidates.iter().all(|told| told.mean(By::FilmStillToGo).mean.is_some()));
    assert!(
        answer.sentence.contains(" will shrink least, ") && answer.sentence.contains(" most, "),
        "{}",
        answer.sentence
    );
}

/// Whether the weight is steady is told of all panels of a candidate: one that is too early makes the candidate so.
#[test]
fn the_state_is_that_of_the_panel_that_is_least_far() {
    let panel = |id: &str, weighed: &str| {
        piece(&format!(
            r#"{{ "id": "{id}", "label": "{id}", "candidate": "a", "bare_g": 400, "weigh_ins": [ {weighed} ] }}"#
        ))
    };
    let (all, early) = (weigh_ins(&drying(400.0)), weigh_ins(&drying(400.0)[..5]));
    let state = |weighed: &[&str]| {
        let panels: Vec<_> = (1..).zip(weighed).map(|(n, weighed)| panel(&format!("a{n}"), weighed)).collect();
        let (findings, answer) = at_a_glance(&beside::test_with("", &[beside::candidate("a")], &panels));
        let settled =
            findings.panels.iter().filter_map(|panel| Some(panel.forecast.as_ref()?.settled)).collect::<Vec<_>>();
        (settled, answer.glances[0].state)
    };
    let (late, late_said) = state(&[&all]);
    assert_ne!(late, [Settled::TooEarly]);
    assert_eq!(late_said, if late == [Settled::Yes] { "weight steady" } else { "still losing" });
    assert_eq!(state(&[&early]), (vec![Settled::TooEarly], "too early"));
    assert_eq!(state(&[&all, &early]).1, "too early");
    assert_eq!(state(&[""]), (vec![], ""));
    let (_, example) = example();
    let states =
        answer(&example, &Wording::default()).glances.into_iter().map(|glance| glance.state).collect::<Vec<_>>();
    assert_eq!(states, ["weight steady", "still losing", "weight steady"]);
}

#[test]
fn what_is_missing_is_said_once_below() {
    let test = test_of(
        r#""balance": { "division_g": 0.1 },
        "candidates": [ { "id": "a", "label": "A" }, { "id": "b", "label": "B" } ],
        "panels": [ { "id": "a1", "label": "A1", "candidate": "a" }, { "id": "b1", "label": "B1", "candidate": "b" } ]"#,
    );
    let (findings, answer) = at_a_glance(&test);
    assert_eq!(answer.footnotes.len(), 2, "the comb's reason and the film's, each once: {:?}", answer.footnotes);
    assert!(answer.glances.iter().all(|glance| glance.missing == [Some(0), Some(1)]));
    assert_eq!(answer.sentence, findings.said[0], "nothing can be said yet, and why");
    assert_eq!((answer.evidence.as_str(), answer.hatched.as_str()), ("", ""));
    assert!(answer.told(&Wording::default()).contains("A: nothing is known yet."));
}

#[test]
fn what_is_sent_says_what_it_is_and_no_more() {
    let (test, findings) = example();
    let answer = answer(&findings, &Wording::default());
    let text = answer.text(&test);
    assert_eq!(text.lines().count(), 3);
    assert!(
        text.contains(&answer.sentence)
            && text.contains(&answer.evidence)
            && text.starts_with(&format!("{}, 2 Mar to 16 Mar 2026\n", test.title))
    );
    let card = answer.card_to_send(&test, &Wording::default());
    let look = comb_scale::chart::Look::new(360.0, card.height(360.0));
    // Long lines are broken between words.
    let svg = card.scene(&look).svg("");
    let words: Vec<&str> = svg.split(['<', '>', ' ', '\n']).collect();
    for part in ["invented.", "adhesion,", "2026", "whiskers"] {
        assert!(words.contains(&part), "{part} is missing on the card");
    }
}

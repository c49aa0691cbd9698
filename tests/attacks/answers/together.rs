//! A round in which all panels are off by the same: one message, and none of them is blamed.

use super::{Blank, Story, Told, Visit, quiet_days};
use crate::{Attacks, holds};
use comb_scale::findings::FlagKind;

const DAY: f64 = 24.0;

fn visit(day: usize, out_g: f64, blank: Blank) -> Visit {
    Visit { h: DAY * day as f64, out_g, blank }
}

/// Whom the entry and the chart blame in the newest round.
fn blamed(told: &Told, visit: usize) -> (Vec<usize>, Vec<usize>) {
    let panels = || 0..told.story.panels;
    let entry =
        panels().filter(|p| told.judged(&format!("p{p}"), visit).odd || told.look_again(&format!("p{p}"), visit));
    let chart = panels().filter(|&p| told.flag(p, visit).is_some_and(|flag| flag.kind == FlagKind::OffTheCurve));
    (entry.collect(), chart.collect())
}

/// The one message stands at each panel that moved, and nobody but `odd` is blamed.
fn one_message(told: &Told, visit: usize, says: &str, odd: &[usize]) -> Result<(), String> {
    for p in (0..told.story.panels).filter(|p| !odd.contains(p)) {
        let said = told.judged(&format!("p{p}"), visit).said;
        holds(said.contains(says), format!("A{p} says: {said}"))?;
        if let Some(flag) = told.flag(p, visit) {
            holds(
                flag.kind == FlagKind::MovedTogether && flag.says.contains(says),
                format!("A{p} in the chart: {flag:?}"),
            )?;
        }
    }
    let (entry, chart) = blamed(told, visit);
    holds(entry == odd, format!("the entry blames {entry:?}"))?;
    holds(chart.iter().all(|p| odd.contains(p)), format!("the chart blames {chart:?}"))
}

/// Nobody speaks of a common move.
fn silent(told: &Told, visit: usize) -> Result<(), String> {
    for owner in ["b".to_owned()].into_iter().chain((0..told.story.panels).map(|p| format!("p{p}"))) {
        let said = told.judged(&owner, visit).said;
        holds(!said.contains("moved together"), format!("{owner} says: {said}"))?;
    }
    holds(
        told.findings.panels.iter().all(|p| p.flags.iter().all(|f| f.kind != FlagKind::MovedTogether)),
        "the chart says so",
    )
}

#[test]
fn panels_that_moved_together_are_not_blamed_one_by_one() {
    let mut attacks = Attacks::on("answers, common shifts");
    for panels in [2, 3, 9] {
        for by_g in [1.2, -1.2, 0.8, -5.0, 30.0] {
            let who = if panels == 2 { "Both panels".to_owned() } else { format!("All {panels} panels") };
            attacks.attempt(format!("{panels} panels {by_g} g off, no blank that day"), || {
                let story = Story::of(panels, quiet_days(8)).then([visit(8, by_g, Blank::Forgotten)]);
                let told = Told::of(&story);
                one_message(&told, story.last(), &format!("{who} moved together by "), &[])?;
                let blank = told.judged("b", story.last()).said;
                holds(blank.contains("moved together") && blank.contains("weigh the blank"), blank)
            });
            attacks.attempt(
                format!("{panels} panels {by_g} g off a jump of the day before, no blank that day"),
                || {
                    let out = [visit(8, by_g, Blank::Vouched), visit(9, 0.0, Blank::Forgotten)];
                    let story = Story::of(panels, quiet_days(8)).then(out);
                    let told = Told::of(&story);
                    one_message(&told, story.last(), &format!("{who} moved together by "), &[])
                },
            );
            attacks.attempt(format!("{panels} panels {by_g} g off, looked at two days later"), || {
                let later =
                    [visit(8, by_g, Blank::Forgotten), visit(9, 0.0, Blank::Weighed), visit(10, 0.0, Blank::Weighed)];
                let story = Story::of(panels, quiet_days(8)).then(later);
                one_message(&Told::of(&story), story.last() - 2, "moved together by ", &[])
            });
            attacks.attempt(format!("{panels} panels {by_g} g off, and the blank stands"), || {
                let mut story = Story::of(panels, quiet_days(9));
                let newest = story.last();
                story.odd = (0..panels).map(|p| (p, newest, by_g)).collect();
                one_message(&Told::of(&story), newest, "the blank did not: weigh it again", &[])
            });
        }
    }
    for (panels, wrong) in [(3, 1), (9, 4)] {
        for extra_g in [-6.0, 6.0] {
            attacks.attempt(format!("one of {panels} is off by {extra_g} g more than the others"), || {
                let mut story = Story::of(panels, quiet_days(8)).then([visit(8, -1.2, Blank::Forgotten)]);
                story.odd = vec![(wrong, story.last(), extra_g)];
                let says = format!("{} of {panels} panels moved together by ", panels - 1);
                one_message(&Told::of(&story), story.last(), &says, &[wrong])
            });
        }
    }
    attacks.close();
}

#[test]
fn what_is_no_common_move_is_not_called_one() {
    let mut attacks = Attacks::on("answers, no common shift");
    for panels in [1, 2, 3, 9] {
        for days in [1, 2, 4, 9, 20] {
            attacks.attempt(format!("{panels} panels dry for {days} days"), || {
                let story = Story::of(panels, quiet_days(days));
                let told = Told::of(&story);
                (0..=story.last()).try_for_each(|visit| silent(&told, visit))
            });
        }
    }
    for (panels, off) in [(3, 1), (9, 1), (9, 4)] {
        attacks.attempt(format!("{off} of {panels} panels are off"), || {
            let mut story = Story::of(panels, quiet_days(9));
            story.odd = (0..off).map(|p| (p, story.last(), -2.0)).collect();
            silent(&Told::of(&story), story.last())
        });
    }
    attacks.attempt("the only panel is off", || {
        let story = Story::of(1, quiet_days(8)).then([visit(8, -1.2, Blank::Forgotten)]);
        silent(&Told::of(&story), story.last())
    });
    attacks.attempt("two panels are exchanged", || {
        let mut story = Story::of(2, quiet_days(9));
        story.odd = vec![(0, story.last(), 3.0), (1, story.last(), -3.0)];
        silent(&Told::of(&story), story.last())
    });
    for by_g in [-0.8, -2.0] {
        attacks.attempt(format!("a first day in the sun takes {by_g} g more"), || {
            let mut story = Story::of(3, quiet_days(9));
            let newest = story.last();
            let moved = |hours: f64, to: &str| format!(r#"{{ "at": "{}", {to} }}"#, story.at(newest, 60.0 * hours));
            let moves = [moved(-14.0, r#""to": "Sun", "warmer": true"#), moved(-6.0, r#""to": "Shop""#)].join(", ");
            story.also = format!(r#""moves": [ {moves} ], "#);
            story.odd = (0..3).map(|p| (p, newest, by_g)).collect();
            silent(&Told::of(&story), newest)
        });
    }
    attacks.attempt("all take up mass, as they are said to", || {
        let mut story = Story::of(3, quiet_days(9));
        story.also = r#""candidates": [ { "id": "c", "label": "C", "gains_mass": true } ], "#.into();
        story.each = r#""candidate": "c","#.into();
        story.odd = (0..3).map(|p| (p, story.last(), 0.6)).collect();
        silent(&Told::of(&story), story.last())
    });
    attacks.close();
}

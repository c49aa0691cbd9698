//! Spray day: pours that go wrong, clocks that jump under the bin, coats in any grouping, comb readings corrected.

use comb_scale::findings::Wording;
use comb_scale::findings::mixing::{Pouring, pouring, still_to_pour_said, take_reading};
use comb_scale::findings::spray::{RunSheet, Tapping, Task, leaving_out};
use comb_scale::quantity::{BinWait, Instant, Micrometres, OpenedDays, Quantity};
use comb_scale::record::{Action, History, Id, SprayTest, Step};
use records::test_of;

use crate::{Attacks, holds, same};

fn at(text: &str) -> Instant {
    text.parse().expect("a moment")
}

/// A cup of base and hardener by weight, `parts` to 1, that is to hold `aim_g`, on a scale of that division.
fn cup(parts: f64, aim_g: f64, division_g: f64) -> History {
    let mix = format!(
        r#"{{ "basis": "weight", "components": [ {{ "label": "Base", "role": "base", "parts": {parts} }},
        {{ "label": "Hardener", "role": "hardener", "parts": 1 }} ] }}"#
    );
    let test = test_of(&format!(
        r#""balance": {{ "division_g": {division_g} }}, "mixes": [ {{ "id": "cup", "candidate": "c", "aim_g": {aim_g} }} ],
        "candidates": [ {{ "id": "c", "label": "A", "mix": {mix} }} ]"#
    ));
    History::new(test, "phone")
}

fn pour(history: &mut History, total_g: f64) -> Result<(), String> {
    let action = take_reading(history.test(), &"c".into(), total_g, history.fresh_id(), &Wording::default())?;
    history.act(action).map_err(|refused| refused.to_string())
}

fn pouring_of(history: &History, division_g: f64) -> Result<Pouring, String> {
    pouring(history.test(), &"c".into(), &Wording { division_g: Some(division_g), ..Wording::default() })
}

/// What the scale is to show next, g.
fn asked_g(history: &History, division_g: f64) -> Result<f64, String> {
    let pouring = pouring_of(history, division_g)?;
    let step = pouring.steps.first().ok_or("nothing is asked for")?;
    step.total.parse().map_err(|_| step.total.clone())
}

#[test]
fn pours() {
    let mut attacks = Attacks::on("pours");
    for (parts, aim_g, division_g) in [(1.0, 53.4, 0.1), (4.0, 386.0, 0.1), (10.0, 110.0, 1.0), (2.0, 30.0, 0.01)] {
        let name = format!("{parts} : 1, {aim_g} g by steps of {division_g} g");
        for slip in [0.0, 1.0, -1.0, 2.0, 3.0] {
            // The base is within a step or two; what the hardener is told follows what stood on the screen.
            attacks.attempt(format!("{name}: poured as asked after a base off by {slip} steps"), || {
                let mut history = cup(parts, aim_g, division_g);
                let base = asked_g(&history, division_g)? + slip * division_g;
                pour(&mut history, base)?;
                let asked = asked_g(&history, division_g)?;
                if pouring_of(&history, division_g)?.steps[0].label == "Base" {
                    return Ok(());
                }
                pour(&mut history, asked)?;
                let done = pouring_of(&history, division_g)?;
                holds(done.done && !done.over, done.said)
            });
            attacks.attempt(format!("{name}: a step too much of hardener after a base off by {slip}"), || {
                let mut history = cup(parts, aim_g, division_g);
                let base = asked_g(&history, division_g)? + slip * division_g;
                pour(&mut history, base)?;
                let asked = asked_g(&history, division_g)?;
                pour(&mut history, asked + division_g)?;
                holds(!pouring_of(&history, division_g)?.over, "a step of the scale is called an over-pour")
            });
        }
        for over in [2.0, 8.0, 40.0] {
            attacks.attempt(format!("{name}: {over} steps too many of hardener are that many"), || {
                let mut history = cup(parts, aim_g, division_g);
                let base = asked_g(&history, division_g)?;
                pour(&mut history, base)?;
                let asked = asked_g(&history, division_g)?;
                pour(&mut history, asked + over * division_g)?;
                let said = pouring_of(&history, division_g)?;
                let by = Wording::default().weight(over * division_g, division_g);
                let told = said.said.starts_with(&format!("Hardener went {by} over."));
                // Or it is let be, where it is too little to be poured.
                holds(told || said.done && !said.over, said.said)?;
                // A correction can be seen on the scale, or is worth it for the ratio.
                let fine = said.steps.iter().find(|step| {
                    let add: f64 = step.add.split(' ').next().and_then(|add| add.parse().ok()).unwrap_or(0.0);
                    add < 3.9 * division_g && add < 0.019 * aim_g * parts / (parts + 1.0)
                });
                holds(fine.is_none(), format!("{fine:?} is finer than the scale"))
            });
        }
        attacks.attempt(format!("{name}: mending an over-pour comes to an end"), || {
            let mut history = cup(parts, aim_g, division_g);
            let base = asked_g(&history, division_g)?;
            pour(&mut history, base)?;
            let much = asked_g(&history, division_g)? + 40.0 * division_g;
            pour(&mut history, much)?;
            for _ in 0..4 {
                if pouring_of(&history, division_g)?.done {
                    return Ok(());
                }
                let asked = asked_g(&history, division_g)?;
                pour(&mut history, asked)?;
            }
            Err(pouring_of(&history, division_g)?.said)
        });
        attacks.attempt(format!("{name}: what is missing is named until it is in"), || {
            let mut history = cup(parts, aim_g, division_g);
            let base = asked_g(&history, division_g)?;
            pour(&mut history, base)?;
            let wants = |history: &History| still_to_pour_said(history.test(), &"c".into(), &Wording::default());
            holds(wants(&history).is_some_and(|said| said.contains("Hardener")), "the base alone is all together")?;
            let asked = asked_g(&history, division_g)?;
            pour(&mut history, asked)?;
            same("what is missing", wants(&history), None)
        });
    }
    attacks.close();
}

/// A phone whose clock shows these dates each time that the page is opened: the days a test in the bin has left.
fn left_after(opened: &[&str]) -> u32 {
    let mut days = OpenedDays::default();
    days.opened(at(&format!("{}T09:00:00Z", opened[0])));
    let noted = BinWait::begun(&days).noted(at(&format!("{}T09:00:00Z", opened[0])));
    for date in opened {
        // Read anew each time, as a page does.
        days = OpenedDays::parse(&days.to_string());
        days.opened(at(&format!("{date}T19:30:00Z")));
    }
    BinWait::read(&noted, &days).map_or(30, |wait| wait.days_left(&days))
}

#[test]
fn clocks_under_the_bin() {
    let mut attacks = Attacks::on("bin");
    let jumps: [(&str, &[&str], u32); 12] = [
        ("the day it went in", &["2026-03-02"], 30),
        ("opened ten times that day", &["2026-03-02"; 10], 30),
        ("ten years ahead once", &["2026-03-02", "2036-03-02"], 29),
        ("ten years ahead and back", &["2026-03-02", "2036-03-02", "2026-03-02"], 29),
        ("binned at a wrong date, then set right", &["1970-01-01", "2026-03-02"], 29),
        ("binned ten years ahead, then set right", &["2036-01-01", "2026-03-02", "2026-03-03"], 28),
        (
            "to and fro for a week",
            &["2026-03-02", "2036-03-02", "2026-03-02", "2036-03-02", "2026-03-02", "2036-03-02"],
            29,
        ),
        ("a month ahead", &["2026-03-02", "2026-04-02"], 29),
        ("a month back", &["2026-03-02", "2026-02-02"], 29),
        ("an empty battery", &["2026-03-02", "1970-01-01", "1970-01-01", "1970-01-01"], 29),
        ("the last day of a year", &["2026-12-31", "2027-01-01"], 29),
        ("a leap day", &["2028-02-28", "2028-02-29", "2028-03-01"], 28),
    ];
    for (name, opened, left) in jumps {
        attacks.attempt(name, || same("days left", left_after(opened), left));
    }
    let dates: Vec<String> = (1..=28).map(|day| format!("2026-05-{day:02}")).collect();
    for openings in 1..=28 {
        let opened: Vec<&str> = dates[..openings].iter().map(String::as_str).collect();
        let name = format!("opened on {openings} days in a row");
        attacks.attempt(name, || same("days left", left_after(&opened), 31 - openings as u32));
    }
    for noted in [
        "",
        "2026-03-02T09:00:00Z",
        "yesterday",
        "2026-03-02T09:00:00Z x",
        "2026-03-02T09:00:00Z 99",
        "2026-03-02T09:00:00Z -1",
    ] {
        // Of a page that went by the clock, or damaged: it waits from now on.
        attacks.attempt(format!("noted “{noted}”"), || {
            same("a wait", BinWait::read(noted, &OpenedDays::parse("7")), None)
        });
    }
    for (text, count) in [("", 0), ("seven", 0), ("-3 2026-03-02", 0), ("4294967295 2026-03-02", u32::MAX), ("5", 5)] {
        attacks.attempt(format!("days written “{text}”"), || {
            let mut days = OpenedDays::parse(text);
            same("days", days.count(), count)?;
            days.opened(at("2026-03-02T09:00:00Z"));
            holds(days.count() >= count, "a day is lost")
        });
    }
    attacks.close();
}

/// Panels with coats at these minutes after nine, as they were sprayed.
fn sprayed(minutes: &[&[u32]]) -> SprayTest {
    let coat = |minute: &u32| format!(r#"{{ "at": "2026-03-02T{:02}:{:02}:00Z" }}"#, 9 + minute / 60, minute % 60);
    let panel = |(i, minutes): (usize, &&[u32])| {
        let coats: Vec<String> = minutes.iter().map(coat).collect();
        format!(r#"{{ "id": "p{i}", "label": "A{i}", "candidate": "c", "coats": [ {} ] }}"#, coats.join(", "))
    };
    let panels: Vec<String> = minutes.iter().enumerate().map(panel).collect();
    test_of(&format!(
        r#""candidates": [ {{ "id": "c", "label": "A", "sheet": {{ "coats": 2, "flash_min": 10 }} }} ], "panels": [ {} ],
        "skipped": [ {{ "step": "air" }}, {{ "step": "bare" }} ]"#,
        panels.join(", ")
    ))
}

#[test]
fn coats_in_any_grouping() {
    let mut attacks = Attacks::on("coats");
    let rows: [(&str, &[&[u32]], usize, usize); 10] = [
        ("all at once", &[&[0, 20], &[0, 20], &[0, 20]], 2, 0),
        ("one after the other", &[&[0, 20], &[6, 26], &[12, 32]], 2, 0),
        ("each panel finished before the next", &[&[0, 20], &[40, 60], &[80, 100]], 2, 0),
        ("written in the wrong order", &[&[20, 0], &[26, 6], &[32, 12]], 2, 0),
        ("the last panel first", &[&[12, 32], &[6, 26], &[0, 20]], 2, 0),
        ("one panel one coat behind", &[&[0, 20], &[0, 20], &[0]], 2, 0),
        ("one panel not coated at all", &[&[0, 20], &[0, 20], &[]], 2, 0),
        ("one panel with a coat too many", &[&[0, 20, 40], &[0, 20], &[0, 20]], 3, 0),
        ("one panel hurried", &[&[0, 20], &[0, 4], &[0, 20]], 2, 1),
        ("a second apart is no coat of its own", &[&[0, 20], &[1, 21], &[2, 22]], 2, 0),
    ];
    let now = at("2026-03-02T12:00:00Z");
    for (name, minutes, coats, hurried) in rows {
        let run = || RunSheet::of(&sprayed(minutes), now).runs.remove(0);
        attacks.attempt(format!("{name}: coats"), || same("coats", run().coats, coats));
        attacks.attempt(format!("{name}: each told once"), || {
            same("told", run().done.iter().filter(|done| done.text.starts_with("Coat ")).count(), coats)
        });
        attacks.attempt(format!("{name}: flash-off"), || {
            let amiss = run().amiss;
            same("hurried", amiss.iter().filter(|amiss| amiss.contains("the sheet asks for 10 min")).count(), hurried)
        });
        attacks.attempt(format!("{name}: the comb comes next"), || {
            holds(matches!(run().task, Task::Comb(_)), format!("{:?}", run().task))
        });
        attacks.attempt(format!("{name}: a corrected time keeps the minutes between the panels"), || {
            let mut history = History::new(sprayed(minutes), "phone");
            let done = RunSheet::of(history.test(), now).runs[0].done[0].clone();
            let times = |test: &SprayTest| -> Vec<f64> {
                let first = test.panels.kept().filter_map(|panel| {
                    panel.coats.kept().filter_map(|coat| coat.at).reduce(|a, b| if b < a { b } else { a })
                });
                first.map(|at| at.hours_since(done.at)).collect()
            };
            let before = times(history.test());
            history.act(Action::Date(done.dated.clone(), done.at.plus_hours(-1.0))).map_err(|e| e.to_string())?;
            let moved: Vec<f64> = times(history.test()).iter().map(|hours| hours + 1.0).collect();
            let off = before.iter().zip(&moved).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            holds(off < 1e-9, format!("{before:?} became {moved:?}"))
        });
    }
    attacks.close();
}

#[test]
fn comb_readings_corrected() {
    let mut attacks = Attacks::on("comb");
    let teeth: Vec<Micrometres> = (1..=6).map(|i| Micrometres::trusted(50.0 * f64::from(i))).collect();
    // From any tooth to any other, wetted, without a second dab.
    for first in 0..=teeth.len() {
        for meant in 0..=teeth.len() {
            attacks.attempt(format!("tooth {first} corrected to {meant}"), || {
                let (_, _, mut hand) = Tapping::default().tap(first, &teeth);
                for _ in 0..2 {
                    let (dab, instead, then) = hand.tap(meant, &teeth);
                    holds(instead, "another dab was begun")?;
                    hand = then;
                    let wetted = meant.checked_sub(1).map_or(0.0, |i| teeth[i].get());
                    if dab.touched_um.is_none() {
                        return same("wetted", dab.wetted_um.get(), wetted);
                    }
                }
                Err("it stays just touched".into())
            });
        }
    }
    for dabs in 0..4 {
        attacks.attempt(format!("the comb left out after {dabs} readings"), || {
            let dab = r#"{ "wetted_um": 200, "dry_um": 225 }"#;
            let list = vec![dab; dabs].join(", ");
            let test = test_of(&format!(r#""panels": [ {{ "id": "p", "label": "A1", "dabs": [ {list} ] }} ]"#));
            let way = leaving_out(&test, Step::Comb, Some(&Id::from("p")));
            same("warned of no wet film", way.cost.contains("no wet film"), dabs == 0)
        });
    }
    attacks.close();
}

//! Worked out panel by panel or all at once, and whatever came before: the findings are the same.

use comb_scale::findings::weigh::{judged, look_again};
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{Grams, Quantity};
use comb_scale::record::{Action, EXAMPLE, History, Id, Owner, SprayTest, open};

use super::{drying, test_of, weigh_ins};

const NOW: &str = "2026-03-16T10:00:00+01:00";

fn text(memory: &mut Memory, test: &SprayTest) -> String {
    serde_json::to_string(&memory.of(test, NOW.parse().unwrap(), &Wording::default())).unwrap()
}

fn fresh(test: &SprayTest) -> String {
    text(&mut Memory::default(), test)
}

/// The worked example with a round begun, and what a weight of the round is called there.
fn example() -> History {
    let mut history = History::new(open(EXAMPLE).expect("the example opens").test, "me");
    let begin = Action::BeginRound { at: NOW.parse().unwrap(), place: "shop".into() };
    history.act(begin).expect("a round can begin");
    history
}

fn newest_round(test: &SprayTest) -> Id {
    comb_scale::findings::facts::rounds_newest_first(test)[0].clone()
}

fn weigh(history: &mut History, owner: &Owner, gross_g: f64) {
    let round = Some(newest_round(history.test()));
    let gross_g = Grams::new(gross_g).unwrap();
    let at = NOW.parse().unwrap();
    history.act(Action::Weigh { owner: owner.clone(), round, at, gross_g }).expect("a weight is taken");
}

#[test]
fn in_slices_or_at_once_the_findings_are_the_same() {
    let mut history = example();
    let mut memory = Memory::default();
    // Drawn first with nothing worked out, then a slice after each entry only, the newest panel first.
    memory.look(history.test());
    let blank = history.test().blanks.kept().next().unwrap().id.clone();
    weigh(&mut history, &Owner::Blank(blank.clone()), 561.7);
    let panels: Vec<Id> = history.test().panels.kept().map(|panel| panel.id.clone()).collect();
    for (i, panel) in panels.iter().rev().enumerate() {
        memory.look(history.test());
        memory.step(panels.last());
        weigh(&mut history, &Owner::Panel(panel.clone()), 583.0 + 0.1 * i as f64);
    }
    assert_eq!(text(&mut memory, history.test()), fresh(history.test()));
    // Back to where it was, by way of what is remembered.
    for _ in 0..4 {
        history.undo();
        memory.look(history.test());
        memory.step(panels.first());
        memory.panels(history.test(), &Wording::default());
    }
    assert_eq!(text(&mut memory, history.test()), fresh(history.test()));
}

#[test]
fn prepared_bit_by_bit_the_findings_are_the_same() {
    let mut history = example();
    let mut memory = Memory::default();
    let prepared = |memory: &mut Memory, test: &SprayTest| {
        memory.look(test);
        while memory.step(None) {}
        let mut steps = 0;
        while memory.prepare() {
            steps += 1;
            assert!(steps < 1000, "it never ends");
        }
        steps
    };
    assert!(prepared(&mut memory, history.test()) > 2, "means and pairs one by one");
    assert_eq!(text(&mut memory, history.test()), fresh(history.test()));
    assert_eq!(prepared(&mut memory, history.test()), 0, "all of it is still there");
    let panel = history.test().panels.kept().next().unwrap().id.clone();
    weigh(&mut history, &Owner::Panel(panel), 600.0);
    assert!(prepared(&mut memory, history.test()) > 0);
    assert_eq!(text(&mut memory, history.test()), fresh(history.test()));
}

#[test]
fn older_panels_of_a_candidate_are_worked_out_before_the_younger() {
    let panel = |id: &str, from: usize| {
        let readings: Vec<(f64, f64)> = drying(400.0).into_iter().map(|(t, g)| (t + 400.0 * from as f64, g)).collect();
        format!(
            r#"{{ "id": "{id}", "label": "{id}", "candidate": "c", "weigh_ins": [ {} ] }}"#,
            weigh_ins(&readings[..6])
        )
    };
    let panels: Vec<String> = (0..4).map(|i| panel(&format!("p{i}"), i)).collect();
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "candidates": [ {{ "id": "c", "label": "C" }} ], "panels": [ {} ]"#,
        panels.join(", ")
    ));
    let mut memory = Memory::default();
    memory.look(&test);
    let mut steps = 0;
    let youngest = Id::from("p3");
    while memory.panels(&test, &Wording::default()).waits(&youngest) {
        assert!(memory.step(Some(&youngest)));
        steps += 1;
    }
    assert_eq!(steps, 4, "three elders and itself");
    assert_eq!(text(&mut memory, &test), fresh(&test));
}

#[test]
fn a_weight_of_one_panel_is_there_at_once_and_all_wait_for_a_blank_s() {
    let mut history = example();
    let mut memory = Memory::default();
    text(&mut memory, history.test());
    let round = newest_round(history.test());
    let panel = history.test().panels.kept().next().unwrap().id.clone();
    let owner = Owner::Panel(panel.clone());
    let wording = Wording::default();
    let said = |memory: &Memory, test: &SprayTest| {
        let panels = memory.panels(test, &wording);
        let now = NOW.parse().unwrap();
        let again = look_again(test, &panels, &owner, &round, now, &wording);
        (judged(test, &panels, &owner, &round, now, &wording).said, again, panels.waiting.len())
    };
    weigh(&mut history, &owner, 600.0);
    memory.look(history.test());
    let (told, again, waiting) = said(&memory, history.test());
    assert!(again && waiting == 0 && told.contains("since the last"), "{told}");
    let blank = history.test().blanks.kept().next().unwrap().id.clone();
    weigh(&mut history, &Owner::Blank(blank.clone()), 561.9);
    memory.look(history.test());
    let (told, again, waiting) = said(&memory, history.test());
    let all = history.test().panels.kept().count();
    assert_eq!((told.as_str(), again, waiting), ("Working it out …", false, all), "nothing of before is told");
    memory.step(Some(&panel));
    let (told, again, waiting) = said(&memory, history.test());
    assert!(again && waiting == all - 1 && told.contains("since the last"), "{told}");
}

#[test]
fn a_test_of_nothing_has_nothing_to_work_out() {
    let test = test_of(r#""panels": []"#);
    let mut memory = Memory::default();
    memory.look(&test);
    assert!(!memory.step(None) && !memory.step(Some(&Id::from("nobody"))));
    assert_eq!(memory.panels(&test, &Wording::default()).waiting_said(), None);
}

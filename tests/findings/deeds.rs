//! Deeds on one clock: what is taken to be earlier, and which times hold as they stand.

use comb_scale::findings::facts::on_one_clock;
use comb_scale::findings::spray::{RunSheet, Task};
use comb_scale::findings::words::clocks_said;
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{Grams, Instant, Quantity};
use comb_scale::record::{Action, Dated, History, Id, Owner, SprayTest, Step, start};

use super::test_of;

fn at(text: &str) -> Instant {
    format!("2026-03-02T{text}+01:00").parse().unwrap()
}

/// A test of two phones: on the first, whose clock is an hour ahead, one coat was sprayed at 10 and noted for 11; on the other
/// the first panel was weighed wet at 10:05.
fn an_hour_ahead() -> (History, Id) {
    let mut ahead = start("t".into(), at("09:00:00"), "ahead");
    let panels: Vec<Id> = ahead.test().panels.kept().map(|panel| panel.id.clone()).collect();
    ahead.act(Action::Coat { panels: panels[..3].to_vec(), at: at("11:00:00") }).unwrap();
    let mut other = History::new(ahead.test().clone(), "other");
    weigh(&mut other, &panels[0], "10:05:00");
    (other, panels[0].clone())
}

fn weigh(history: &mut History, owner: &Id, time: &str) {
    let gross_g = Grams::new(440.0).unwrap();
    history.act(Action::Weigh { owner: Owner::Panel(owner.clone()), round: None, at: at(time), gross_g }).unwrap();
}

fn seen(history: &History) -> SprayTest {
    on_one_clock(history.test()).map_or_else(|| history.test().clone(), |it| it.test)
}

fn coat_at(test: &SprayTest, panel: &Id) -> Instant {
    test.panels.find(panel).unwrap().coats.kept().next().unwrap().at.unwrap()
}

/// How many weights count for the first panel.
fn weights_that_count(history: &History, now: &str) -> usize {
    let found = Memory::default().of(&seen(history), at(now), &Wording::default());
    found.panels[0].work.card.weigh_ins.len()
}

#[test]
fn what_was_followed_by_an_earlier_time_is_taken_to_be_earlier() {
    let (history, panel) = an_hour_ahead();
    let one_clock = on_one_clock(history.test()).unwrap();
    assert_eq!(coat_at(&one_clock.test, &panel), at("10:04:59"));
    assert_eq!(coat_at(history.test(), &panel), at("11:00:00"), "what was noted stays");
    let apart = one_clock.apart.unwrap();
    assert!(!apart.set_back && (apart.by_h - 55.0 / 60.0).abs() < 0.01, "{apart:?}");
    assert!(on_one_clock(&one_clock.test).is_none(), "once is enough");
    assert_eq!(weights_that_count(&history, "12:00:00"), 1);
    // All that was noted by that clock goes with it.
    let again = History::new(history.test().clone(), "other");
    assert_eq!(weights_that_count(&again, "12:00:00"), 1);
}

#[test]
fn a_clock_set_back_is_told_and_days_ahead_too() {
    let mut history = start("t".into(), at("09:00:00"), "phone");
    let panels: Vec<Id> = history.test().panels.kept().map(|panel| panel.id.clone()).collect();
    history.act(Action::Coat { panels: panels.clone(), at: at("11:00:00") }).unwrap();
    weigh(&mut history, &panels[1], "10:10:00");
    assert!(clocks_said(history.test(), at("11:30:00")).unwrap().starts_with("A clock was set back by 50 min or more"));
    let ahead = clocks_said(history.test(), at("10:30:00")).unwrap();
    assert_eq!(
        ahead,
        "Something is noted for Mon 2 Mar 11:00, and it is 10:30 here: a clock is 30 min or more off. Set the clocks right, then correct the time."
    );
}

#[test]
fn a_time_that_was_corrected_holds() {
    let (mut history, panel) = an_hour_ahead();
    let coat = history.test().panels.find(&panel).unwrap().coats.kept().next().unwrap().id.clone();
    history.act(Action::Date(Dated::Coats(vec![(panel.clone(), coat.clone())]), at("10:01:00"))).unwrap();
    assert_eq!(coat_at(&seen(&history), &panel), at("10:01:00"));
    assert_eq!(weights_that_count(&history, "12:00:00"), 1);
    // Said to have been sprayed after the weight, it was.
    history.act(Action::Date(Dated::Coats(vec![(panel.clone(), coat)]), at("10:20:00"))).unwrap();
    assert_eq!((coat_at(&seen(&history), &panel), weights_that_count(&history, "12:00:00")), (at("10:20:00"), 0));

    let (mut history, panel) = an_hour_ahead();
    let weigh_in = history.test().panels.find(&panel).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    history.act(Action::Date(Dated::WeighIn(Owner::Panel(panel), weigh_in), at("10:40:00"))).unwrap();
    assert_eq!(weights_that_count(&history, "12:00:00"), 0, "weighed before the coat, by the painter's word");
}

#[test]
fn a_time_corrected_to_the_minute_of_the_coat_comes_after_it() {
    let mut history = start("t".into(), at("09:00:00"), "phone");
    let panel = history.test().panels.kept().next().unwrap().id.clone();
    history.act(Action::Coat { panels: vec![panel.clone()], at: at("10:00:40") }).unwrap();
    weigh(&mut history, &panel, "10:07:10");
    let weigh_in = history.test().panels.find(&panel).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    history.act(Action::Date(Dated::WeighIn(Owner::Panel(panel), weigh_in), at("10:00:00"))).unwrap();
    assert_eq!(weights_that_count(&history, "12:00:00"), 1);
}

#[test]
fn times_that_no_clock_gave_say_nothing_of_clocks() {
    // Without stamps, in any order.
    let typed = test_of(
        r#""panels": [ { "id": "p", "label": "A1", "coats": [ { "at": "2026-03-02T12:00:00Z" } ],
            "weigh_ins": [ { "at": "2026-03-02T09:00:00Z", "gross_g": 440 }, { "at": "2026-03-04T09:00:00Z", "gross_g": 436 } ] } ],
           "moves": [ { "at": "2026-03-09T09:00:00Z", "to": "Sun" }, { "at": "2026-03-03T09:00:00Z", "to": "Shop" } ]"#,
    );
    assert!(on_one_clock(&typed).is_none());
    // A round of two days ago, and days in the sun noted afterwards.
    let mut history = start("t".into(), at("09:00:00"), "phone");
    let panel = history.test().panels.kept().next().unwrap().id.clone();
    history.act(Action::Skip { at: at("09:00:10"), step: Step::Air, of: None }).unwrap();
    let earlier = at("09:00:00").plus_hours(-48.0);
    history.act(Action::BeginRound { at: earlier, place: "Shop".into() }).unwrap();
    let round = history.test().rounds.kept().next().map(|round| round.id.clone());
    let gross_g = Grams::new(440.0).unwrap();
    history.act(Action::Weigh { owner: Owner::Panel(panel), round, at: earlier, gross_g }).unwrap();
    let days = vec![[earlier, earlier.plus_hours(8.0)]];
    history.act(Action::CarryByDay { days, out: "Sun".into(), back: "Shop".into(), panels: Vec::new() }).unwrap();
    history.act(Action::Skip { at: at("09:01:00"), step: Step::Bare, of: None }).unwrap();
    assert!(on_one_clock(history.test()).is_none());
}

#[test]
fn a_poured_cup_goes_with_the_clock_that_noted_it() {
    let mut ahead = start("t".into(), at("09:00:00"), "ahead");
    let candidate = ahead.test().candidates.kept().next().unwrap().id.clone();
    let panels = comb_scale::findings::spray::panels_of(ahead.test(), &candidate);
    let cup = ahead.fresh_id();
    ahead
        .act(Action::Pour { cup: cup.clone(), candidate: candidate.clone(), aim_g: None, poured_g: Vec::new() })
        .unwrap();
    ahead.act(Action::Mixed { cup, candidate: candidate.clone(), at: at("11:00:00"), panels: panels.clone() }).unwrap();
    let mut other = History::new(ahead.test().clone(), "other");
    other.act(Action::Coat { panels, at: at("10:20:00") }).unwrap();
    let sheet = RunSheet::of(&seen(&other), at("10:25:00"));
    let run = sheet.run(&candidate).unwrap();
    assert_eq!((run.task.clone(), &run.amiss[..]), (Task::Coat(2), &[][..]));
    assert_eq!(run.done[0].at, at("10:19:59"));
}

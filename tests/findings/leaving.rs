//! Panels and blanks that left the test: what they weighed until then counts, and nothing asks for them from then on.

use comb_scale::findings::facts::{due_times, gone, in_test, next_due, on_one_clock};
use comb_scale::findings::gauge::{GaugeReading, gauge_due};
use comb_scale::findings::mixing::amount_of;
use comb_scale::findings::plan::{blanks_wanted, draw};
use comb_scale::findings::results::answer;
use comb_scale::findings::spray::{RunSheet, Task, panels_of};
use comb_scale::findings::weigh::{LEAVES_FOR, hours_said, places_to_carry, rounds_with_progress, stops};
use comb_scale::findings::words::owner_left_said;
use comb_scale::findings::{Findings, FlagKind, Wording};
use comb_scale::quantity::{Grams, Instant, Quantity};
use comb_scale::record::{Action, History, Id, Owner, SprayTest};
use expect_test::expect;

use super::beside::{candidate, panel, test_with};
use super::{drying, found, piece, reads, test_of, weighed};

fn at(hours: f64) -> Instant {
    "2026-03-02T10:00:00Z".parse::<Instant>().unwrap().plus_hours(hours)
}

fn owner(panel: &str) -> Owner {
    Owner::Panel(panel.into())
}

fn leave(history: &mut History, owner: Owner, hours: f64, weigh_in: Option<Id>) {
    let action = Action::Leave { owner, round: None, at: at(hours), why: LEAVES_FOR[0].into(), weigh_in };
    history.act(action).unwrap();
}

fn weigh(history: &mut History, owner: Owner, hours: f64, gross_g: f64) -> Id {
    let gross_g = Grams::new(gross_g).unwrap();
    history.act(Action::Weigh { owner: owner.clone(), round: None, at: at(hours), gross_g }).unwrap();
    owner.weigh_ins(history.test()).unwrap().kept().next_back().unwrap().id.clone()
}

/// Two candidates of two panels each, weighed for two weeks.
fn two_by_two() -> SprayTest {
    let panels = [panel("a1", "a", 0.0), panel("a2", "a", 0.1), panel("b1", "b", 0.5), panel("b2", "b", 0.6)];
    test_with(r#""sanding_h": 72"#, &[candidate("a"), candidate("b")], &panels)
}

/// All that is told of a panel's film, in one text.
fn answers(found: &Findings, panel: &str) -> String {
    let told = found.panel(&panel.into()).unwrap();
    let of = [told.final_build_um, told.after_day[0].film_still_to_go_um];
    format!("{:?} {of:?} {:?}", told.lost_g, told.forecast.as_ref().unwrap().final_gross_g)
}

#[test]
fn a_chip_on_one_day_is_in_no_answer_on_the_next() {
    let before = found(&two_by_two());
    let mut history = History::new(two_by_two(), "phone");
    // A chip of 3 g at two weeks, weighed again by another phone that knew nothing of it.
    let chipped = weigh(&mut history, owner("a2"), 360.0, 415.0);
    leave(&mut history, owner("a2"), 360.0, Some(chipped));
    for (hours, gross_g) in [(384.0, 414.9), (408.0, 414.9), (432.0, 414.8)] {
        weigh(&mut history, owner("a2"), hours, gross_g);
    }
    let after = found(history.test());
    assert_eq!(answers(&after, "a2"), answers(&before, "a2"));
    assert_eq!(after.said, before.said);
    let told = after.panel(&"a2".into()).unwrap();
    let says: Vec<&str> = told.flags.iter().map(|flag| flag.says.as_str()).collect();
    assert_eq!(says[0], "Set aside: it lost a chip.");
    assert_eq!(says[1..], ["Weighed after it left the test."; 3]);
    reads(&told.remarks[0], expect!["Left the test Tue 17 Mar 10:00: it lost a chip."]);
    assert!(answer(&after, &Wording::default()).evidence.starts_with("2 panels each"), "its earlier weights are in it");
    // The painter's word goes before all.
    let late = history.test().panels.find(&"a2".into()).unwrap().weigh_ins.kept().next_back().unwrap().id.clone();
    history.act(Action::Vouch { owner: owner("a2"), weigh_in: late }).unwrap();
    assert_eq!(found(history.test()).panel(&"a2".into()).unwrap().flags.len(), 3);
    // Back in the test, all weights count again but the one that was set aside.
    history.act(Action::ComeBack(owner("a2"))).unwrap();
    let kinds: Vec<FlagKind> =
        found(history.test()).panel(&"a2".into()).unwrap().flags.iter().map(|flag| flag.kind).collect();
    assert_eq!(kinds.iter().filter(|kind| **kind == FlagKind::SetAside).count(), 1, "{kinds:?}");
    history.undo();
    assert_eq!(gone(history.test()), [owner("a2")]);
}

/// Three panels, a blank, and rounds on three days; the second panel and the blank can leave in the second.
fn rounds() -> SprayTest {
    let round = |n: u32| format!(r#"{{ "id": "r{n}", "at": "2026-03-0{}T08:00:00Z", "place": "Shop" }}"#, n + 2);
    let panel = |n: u32| {
        format!(r#"{{ "id": "p{n}", "label": "A{n}", "weigh_ins": [ {{ "round": "r1", "gross_g": 430 }} ] }}"#)
    };
    test_of(&format!(
        r#""rounds": [ {}, {}, {} ], "blanks": [ {{ "id": "b", "label": "Blank" }} ], "panels": [ {}, {}, {} ]"#,
        round(1),
        round(2),
        round(3),
        panel(1),
        panel(2),
        panel(3)
    ))
}

#[test]
fn no_later_round_asks_for_what_left_and_earlier_ones_do() {
    let mut history = History::new(rounds(), "phone");
    let walk = |history: &History, round: &str| -> String {
        let stops = stops(history.test(), &round.into(), &Wording::default());
        stops.into_iter().map(|stop| stop.label).collect::<Vec<_>>().join(" ")
    };
    let all = "Blank A1 A2 A3";
    assert_eq!([walk(&history, "r1"), walk(&history, "r2"), walk(&history, "r3")], [all; 3]);
    let second: Instant = "2026-03-04T08:20:00Z".parse().unwrap();
    for owner in [owner("p2"), Owner::Blank("b".into())] {
        let why = LEAVES_FOR[1].into();
        history.act(Action::Leave { owner, round: Some("r2".into()), at: second, why, weigh_in: None }).unwrap();
    }
    assert_eq!([walk(&history, "r1"), walk(&history, "r2"), walk(&history, "r3")], [all, "A1 A3", "A1 A3"]);
    let progress = rounds_with_progress(history.test());
    assert!(progress[&Id::from("r1")].ends_with("3 of 4 weighed"), "{progress:?}");
    assert!(progress[&Id::from("r2")].ends_with("0 of 2 weighed"), "{progress:?}");
    // Another phone weighed it all the same: that is seen where it was weighed.
    let gross_g = Grams::new(429.0).unwrap();
    history
        .act(Action::Weigh { owner: owner("p2"), round: Some("r3".into()), at: second.plus_hours(24.0), gross_g })
        .unwrap();
    assert_eq!(walk(&history, "r3"), "A1 A2 A3");
    reads(
        owner_left_said(history.test(), &owner("p2")),
        expect!["A2: Left the test Wed 4 Mar 08:20: it was dropped or bent."],
    );
    history.act(Action::ComeBack(owner("p2"))).unwrap();
    assert_eq!(walk(&history, "r2"), "A1 A2 A3");
}

#[test]
fn once_all_have_left_no_weighing_is_due() {
    let test = || {
        let schedule = r#""schedule": [ { "due_h": 24 }, { "due_h": 48 } ]"#;
        test_of(&format!(
            r#"{schedule}, "panels": [ {{ "id": "p1", "label": "A1", "coats": [ {{ "at": "2026-03-02T09:00:00Z" }} ],
                "weigh_ins": [ {{ "at": "2026-03-02T10:00:00Z", "gross_g": 430 }} ] }} ]"#
        ))
    };
    let mut history = History::new(test(), "phone");
    assert!(next_due(history.test()).is_some() && !due_times(history.test()).is_empty());
    leave(&mut history, owner("p1"), 2.0, None);
    assert_eq!(next_due(history.test()), None);
    assert_eq!(next_due(&test()), Some("2026-03-03T09:00:00Z".parse().unwrap()));
}

#[test]
fn nothing_else_asks_for_a_panel_that_left() {
    let with = |left: &str| {
        let panel = |n: u32, left: &str| {
            piece(&format!(
                r#"{{ "id": "p{n}", "label": "A{n}", "candidate": "a", "width_mm": 300, "length_mm": 300 {left} }}"#
            ))
        };
        test_with(r#""sanding_h": 72"#, &[candidate("a")], &[panel(1, ""), panel(2, left)])
    };
    let left = r#", "left": [ { "at": "2026-03-02T08:00:00Z", "why": "it was dropped or bent" } ]"#;
    let (both, one) = (with(""), with(left));
    let now = at(0.0);
    let bare = |test: &SprayTest| RunSheet::of(test, now).bare_left;
    assert_eq!((bare(&both), bare(&one)), (2, 1), "weighing bare");
    assert_eq!((panels_of(&both, &"a".into()).len(), panels_of(&one, &"a".into()).len()), (2, 1), "coats");
    let due = |test: &SprayTest| gauge_due(test, GaugeReading::Spots, Some(&"p2".into()), now, "me").unwrap().panel;
    assert_eq!(due(&one), Id::from("p2"), "turned to, it can be read");
    let racks = |test: &SprayTest| match draw(test, "gate") {
        Action::Draw { racks, .. } => racks.len(),
        other => panic!("{other:?}"),
    };
    assert_eq!((racks(&both), racks(&one)), (2, 1), "places in the rack");
    let mixed = |test: &SprayTest| {
        let of = test.candidates.kept().next().unwrap();
        amount_of(test, of, &comb_scale::findings::mixing::MixCard::of(of).unwrap()).unwrap().ml
    };
    assert!(mixed(&one) < mixed(&both), "paint");
    let panels = |test: &SprayTest| found(test).candidates[0].panels;
    assert_eq!((panels(&both), panels(&one)), (2, 1), "panels that bring something");
    let next = found(&one).next.join(" ");
    assert!(next.contains("Weigh bare, before any paint: A1."), "{next}");
    assert_eq!(in_test(&one).len(), 1);
    let asked = |test: &SprayTest| RunSheet::of(test, now).runs[0].task.clone();
    assert_eq!(asked(&one), Task::Mix);
    let mut history = History::new(one, "phone");
    leave(&mut history, owner("p1"), -1.0, None);
    assert_eq!(asked(history.test()), Task::Nothing, "nobody is left to spray");
}

#[test]
fn a_panel_that_left_goes_nowhere_with_the_others() {
    let test = test_of(
        r#""moves": [ { "at": "2026-03-03T08:00:00Z", "to": "Sun", "warmer": true, "panels": [ "p1" ] } ],
        "blanks": [ { "id": "b", "label": "Blank", "place": "Sun" } ], "balances": [ { "id": "s", "label": "Scale" } ],
        "panels": [ { "id": "p1", "label": "A1", "coats": [ { "at": "2026-03-02T10:00:00Z" } ] },
            { "id": "p2", "label": "A2", "coats": [ { "at": "2026-03-02T10:00:00Z" } ] } ]"#,
    );
    let mut history = History::new(test, "phone");
    let offered =
        |history: &History| places_to_carry(history.test()).into_iter().map(|to| to.to).collect::<Vec<_>>().join(" ");
    assert_eq!(offered(&history), "Sun Shop");
    leave(&mut history, owner("p2"), 3.0, None);
    assert_eq!(offered(&history), "Shop", "all that are in the test are in the sun");
    let said = hours_said(history.test(), at(24.0)).join(" ");
    assert!(said.starts_with("A1 so far:"), "{said}");
    assert_eq!(blanks_wanted(history.test()).len(), 0);
    leave(&mut history, Owner::Blank("b".into()), 3.0, None);
    assert_eq!(blanks_wanted(history.test()).len(), 2, "another blank for the scale, and one for the sun");
}

#[test]
fn a_blank_that_was_chipped_tells_of_no_drift() {
    let test = two_by_two();
    let with_blank = |readings: &[(f64, f64)], left: bool| {
        let mut test = test.clone();
        let blank = piece(r#"{ "id": "b", "label": "Blank" }"#).with("/weigh_ins", weighed(readings));
        let blank = if left {
            blank.with("/left", records::list([piece(&format!(r#"{{ "at": "{}" }}"#, at(100.0)))]))
        } else {
            blank
        };
        test.blanks = test_of(&format!(r#""blanks": [ {blank} ]"#)).blanks;
        found(&test)
    };
    let good: Vec<(f64, f64)> = drying(400.0).iter().map(|(t, _)| (*t, 500.0)).collect();
    let until: Vec<(f64, f64)> = good.iter().copied().filter(|(t, _)| *t <= 100.0).collect();
    let chipped: Vec<(f64, f64)> = good.iter().map(|&(t, g)| (t, if t > 100.0 { g - 2.0 } else { g })).collect();
    let (kept, left) = (with_blank(&until, false), with_blank(&chipped, true));
    for panel in ["a1", "a2", "b1", "b2"] {
        assert_eq!(answers(&left, panel), answers(&kept, panel));
    }
    assert_ne!(answers(&with_blank(&chipped, false), "a1"), answers(&kept, "a1"), "otherwise it would");
}

#[test]
fn a_clock_that_is_ahead_takes_no_weight_from_a_panel_that_left() {
    // The phone that wrote both is an hour ahead; the other weighs the panel after that by its own clock.
    let mut ahead = History::new(two_by_two(), "ahead");
    weigh(&mut ahead, owner("a1"), 361.0, 418.0);
    leave(&mut ahead, owner("a1"), 361.1, None);
    let mut other = History::new(ahead.test().clone(), "other");
    let late = weigh(&mut other, owner("a1"), 360.5, 416.0);
    let seen = on_one_clock(other.test()).expect("the clocks disagree").test;
    let told = found(&seen);
    let flags = &told.panel(&"a1".into()).unwrap().flags;
    assert!(flags.iter().any(|flag| flag.weigh_in == late && flag.kind == FlagKind::SetAside), "{flags:#?}");
}

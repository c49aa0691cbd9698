//! What the painter chose to believe: the data sheet or the weights, and how surely a panel is called steady.

use comb_scale::findings::plan::{certainties, certainty_costs, certainty_said};
use comb_scale::findings::results::sheet_choice;
use comb_scale::record::{Action, Certainty, History, Id, Pick, SprayTest, again, merge, open, write};
use comb_scale::science::drying;

use super::{drying as weights_of, found, test_of, weigh_ins};

/// A panel whose coat dries to 0.69 of its weight, with a sheet of these solids; `more` of the candidate.
fn sheet_of(solids: f64, more: &str) -> SprayTest {
    let weights = weigh_ins(&weights_of(400.0));
    test_of(&format!(
        r#""balances": [ {{ "id": "s", "division_g": 0.1 }} ],
        "candidates": [ {{ "id": "c", "label": "Grey", "sheet": {{ "solids_by_weight": {solids} }} {more} }} ],
        "panels": [ {{ "id": "p", "label": "A1", "candidate": "c", "bare_g": 400,
            "coats": [ {{ "id": "k", "at": "2026-03-02T08:00:00Z" }} ], "weigh_ins": [ {weights} ] }} ]"#
    ))
}

fn chosen(test: &SprayTest, pick: Pick) -> SprayTest {
    let mut history = History::new(test.clone(), "phone");
    history.act(Action::Choose(pick)).unwrap();
    history.test().clone()
}

#[test]
fn a_sheet_that_the_weights_contradict_is_left_out_by_one_press_and_taken_in_by_another() {
    let wrong = sheet_of(0.4, "");
    let before = found(&wrong);
    let panel = &before.panels[0];
    let narrowed = panel.work.forecast.as_ref().unwrap().narrowed.expect("the sheet takes part");
    assert!(narrowed.apart_sds.abs() > 2.0, "{narrowed:?}");
    let (word, pick) = sheet_choice(panel).expect("the weights contradict it");
    assert_eq!((word, &pick), ("Leave the sheet out", &Pick::SheetLeftOut(Id::from("c"), true)));

    let without = chosen(&wrong, pick);
    let after = found(&without);
    let panel = &after.panels[0];
    assert_eq!(panel.work.forecast.as_ref().unwrap().narrowed, None);
    assert!(panel.remarks.iter().any(|said| said.contains("left out of the forecast")), "{:?}", panel.remarks);
    let (word, back) = sheet_choice(panel).expect("it can be taken in again");
    assert_eq!(word, "Take the sheet in again");
    assert_eq!(found(&chosen(&without, back)).panels[0].remarks, before.panels[0].remarks);
}

#[test]
fn nothing_is_offered_where_sheet_and_weights_agree_or_a_dish_stands_for_the_sheet() {
    let dish = r#", "measured": { "dish_empty_g": 10, "dish_wet_g": 20, "dish_dry_g": 14 }"#;
    for (name, test) in [
        ("none stated", test_of(r#""candidates": [ { "id": "c" } ], "panels": [ { "id": "p", "candidate": "c" } ]"#)),
        ("they agree", sheet_of(0.69, "")),
        ("a dish", sheet_of(0.4, dish)),
        ("a dish, and the sheet left out", chosen(&sheet_of(0.4, dish), Pick::SheetLeftOut("c".into(), true))),
    ] {
        assert_eq!(sheet_choice(&found(&test).panels[0]), None, "{name}");
    }
}

#[test]
fn the_choices_outlive_the_file_undo_and_a_join_and_a_new_test_believes_its_sheets() {
    let (before, mut history) = (sheet_of(0.5, ""), History::new(sheet_of(0.5, ""), "phone"));
    history.act(Action::Choose(Pick::SheetLeftOut("c".into(), true))).unwrap();
    history.act(Action::Choose(Pick::Certainty(Certainty::Quick))).unwrap();
    let kept = open(&write(history.test())).unwrap();
    assert_eq!((kept.remarks.len(), &kept.test), (0, history.test()));
    let joined = merge(&before, &kept.test).test;
    for test in [&kept.test, &joined] {
        assert!(test.candidates.kept().all(|candidate| candidate.sheet.left_out));
        assert_eq!(test.wanted.certainty, Some(Certainty::Quick));
    }
    let next = again(&joined, "n".into(), "2026-05-02T08:00:00Z".parse().unwrap());
    assert!(next.candidates.kept().all(|candidate| !candidate.sheet.left_out));
    assert_eq!(next.wanted.certainty, Some(Certainty::Quick));
    history.undo();
    history.undo();
    assert_eq!(history.test().wanted.certainty, None);
    assert!(!history.test().candidates.kept().any(|candidate| candidate.sheet.left_out));
}

#[test]
fn each_forecast_is_as_sure_as_the_plan_asks() {
    let test = sheet_of(0.5, "");
    let of = |test: &SprayTest| found(test).panels[0].work.card.certainty;
    assert_eq!(of(&test), drying::Certainty::Usual);
    let sciences = [drying::Certainty::Cautious, drying::Certainty::Usual, drying::Certainty::Quick];
    for ((_, pick), wanted) in certainties().into_iter().zip(sciences) {
        assert_eq!(of(&chosen(&test, pick)), wanted);
    }
}

#[test]
fn what_each_choice_costs_is_the_sciences_own_figures() {
    assert_eq!(certainty_said(None), "Usual: 90 % sure");
    let costs = certainty_costs();
    assert_eq!(costs.len(), 3);
    for (said, of) in
        costs.iter().zip([drying::Certainty::Cautious, drying::Certainty::Usual, drying::Certainty::Quick])
    {
        for share in [of.least(), of.calls().of_dry, of.calls().falsely] {
            let figure = format!("{}", (share * 1000.0).round() / 10.0);
            assert!(said.split(' ').any(|word| word == figure), "{figure} in {said}");
        }
    }
}

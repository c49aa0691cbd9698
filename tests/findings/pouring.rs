//! Pours that went a little wrong, on scales of several steps.

use comb_scale::findings::Wording;
use comb_scale::findings::mixing::{pouring, still_to_pour_said};
use comb_scale::record::History;

use super::mixing::{FOUR_ONE_ONE, pour, read, test_with, wording};
use super::test_of;
use expect_test::expect;

use super::reads;

/// 1 : 1 by weight, 53.4 g in all: each pour is 26.7 g.
const SMALL: &str = r#"{ "basis": "weight", "components": [
    { "label": "Base", "role": "base", "parts": 1 }, { "label": "Hardener", "role": "hardener", "parts": 1 } ] }"#;

fn small_cup(division_g: f64) -> History {
    let mut test = test_with(SMALL, r#""mixes": [ { "id": "cup", "candidate": "c", "aim_g": 53.4 } ],"#);
    test.balances = test_of(&format!(r#""balance": {{ "division_g": {division_g} }}"#)).balances;
    History::new(test, "phone")
}

#[test]
fn what_went_over_is_told_against_what_was_asked() {
    // Each pour is compared with what stood on the screen, not with the plan: base 0.25 g over, within a hundredth of it.
    let mut history = small_cup(0.1);
    read(&mut history, 26.9).unwrap();
    assert_eq!((pour(&history).over, pour(&history).steps[0].add.as_str()), (false, "26.9 g"));
    read(&mut history, 53.9).unwrap();
    assert!(pour(&history).done && !pour(&history).over, "27.0 g where 26.9 g were asked: {}", pour(&history).said);

    // Asked for 27.7 g after a base that went a gram over: 29.0 g are 1.3 g too many, and not 2.3 g.
    let mut history = small_cup(0.1);
    read(&mut history, 27.7).unwrap();
    assert!(pour(&history).said.starts_with("Base went 1.0 g over."), "{}", pour(&history).said);
    read(&mut history, 56.7).unwrap();
    assert!(pour(&history).said.starts_with("Hardener went 1.3 g over. Add 1.3 g Base"), "{}", pour(&history).said);
}

#[test]
fn a_correction_finer_than_the_scale_is_not_asked_for() {
    // 0.3 g of 26.9 g: three steps of the scale, and a hundredth of the component.
    let mut history = small_cup(0.1);
    read(&mut history, 26.7).unwrap();
    read(&mut history, 53.7).unwrap();
    assert!(pour(&history).done, "{}", pour(&history).said);
    // On a coarse scale two steps are a fourteenth of the component: that is worth mending, and a step is told of the whole of it.
    let mut coarse = small_cup(1.0);
    read(&mut coarse, 27.0).unwrap();
    read(&mut coarse, 56.0).unwrap();
    let mend = pouring(coarse.test(), &"c".into(), &Wording { division_g: Some(1.0), ..Wording::default() }).unwrap();
    assert!(mend.said.starts_with("Hardener went 2 g over. Add 2 g Base"), "{}", mend.said);
    // By hand: 1 g of 29 g.
    assert_eq!(mend.steps[0].step, "one step is 3.4 %");
}

#[test]
fn what_is_still_to_go_in_is_said_until_it_is_in() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    let wanting = |history: &History| still_to_pour_said(history.test(), &"c".into(), &wording());
    assert_eq!(wanting(&history), None, "a cup that nobody weighs wants nothing");
    read(&mut history, 290.0).unwrap();
    reads(wanting(&history).unwrap(), expect!["Still to go in: 52.5 g Hardener, 43.5 g Reducer."]);
    read(&mut history, 342.5).unwrap();
    reads(wanting(&history).unwrap(), expect!["Still to go in: 43.5 g Reducer."]);
    read(&mut history, 386.0).unwrap();
    assert_eq!(wanting(&history), None);
}

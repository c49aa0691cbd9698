//! A panel that was weighed up to three times in one round.

use comb_scale::findings::weigh::worth_weighing_again;
use comb_scale::findings::words::object;
use comb_scale::findings::{Findings, Wording};
use comb_scale::quantity::Quantity;
use comb_scale::record::{Action, History, Id, Owner, Row, SprayTest, merge, open, write};
use comb_scale::science::drying::Way;

use super::{drying, found, test_of};

const PANEL: &str = "p";

/// A panel that dries as in [`drying`], weighed in a round of its own each time but for the wet weight, up to so many of them.
fn weighed(times: usize) -> SprayTest {
    let at =
        |h: f64| "2026-03-02T10:00:00Z".parse::<comb_scale::quantity::Instant>().unwrap().plus_hours(h).to_string();
    let (mut rounds, mut weights) = (Vec::new(), Vec::new());
    for (place, (h, g)) in drying(400.0).into_iter().take(times).enumerate() {
        let round = if place == 0 { String::new() } else { format!(r#", "round": "r{place}""#) };
        rounds.push(format!(r#"{{ "id": "r{place}", "at": "{}" }}"#, at(h)));
        weights.push(format!(r#"{{ "id": "w{place}", "at": "{}", "gross_g": {g}{round} }}"#, at(h)));
    }
    test_of(&format!(
        r#""balances": [ {{ "id": "s", "division_g": 0.1 }} ], "candidates": [ {{ "id": "c", "label": "Grey" }} ],
        "rounds": [ {} ],
        "panels": [ {{ "id": "p", "label": "A1", "candidate": "c", "bare_g": 400, "width_mm": 200, "length_mm": 300,
            "coats": [ {{ "id": "k", "at": "2026-03-02T09:55:00Z" }} ], "weigh_ins": [ {} ] }},
            {{ "id": "q", "label": "A2", "candidate": "c", "bare_g": 400, "weigh_ins": [ {{ "id": "v", "gross_g": 425 }} ] }} ]"#,
        rounds.join(", "),
        weights.join(", ")
    ))
}

fn owner() -> Owner {
    Owner::Panel(Id::from(PANEL))
}

fn again(test: &SprayTest, weigh_in: &str, grams: &[f64]) -> History {
    let mut history = History::new(test.clone(), "phone");
    history.act(Action::List(Row::Again(owner(), weigh_in.into()), grams.to_vec())).unwrap();
    history
}

fn sd_of_newest(found: &Findings) -> f64 {
    let forecast = found.panels[0].work.forecast.as_ref().unwrap();
    forecast.final_gross_g.width()
}

#[test]
fn the_mean_of_a_round_counts_and_is_surer_than_one_weight() {
    let test = weighed(9);
    let newest = |found: &Findings| found.panels[0].work.newest().unwrap().weighing.gross_g;
    let once = found(&test);
    let first = newest(&once);
    let thrice = found(again(&test, "w8", &[first + 0.1, first - 0.4]).test());
    assert!((newest(&thrice) - (first - 0.1)).abs() < 1e-9);
    let forecast = |found: &Findings| found.panels[0].work.forecast.clone().unwrap();
    assert_eq!(forecast(&once).kept, forecast(&thrice).kept, "the repeats of a round count as one reading");
    assert_eq!(once.panels[0].work.readings.len(), thrice.panels[0].work.readings.len());
    assert_eq!(forecast(&thrice).readings.len(), forecast(&once).readings.len() + 2);
    // The same weight three times says the same, more surely.
    let same = found(again(&test, "w8", &[first, first]).test());
    assert!(sd_of_newest(&same) <= sd_of_newest(&once), "{} {}", sd_of_newest(&same), sd_of_newest(&once));
}

#[test]
fn further_weights_outlive_the_file_undo_a_join_and_an_exchange() {
    let test = weighed(4);
    let mut history = again(&test, "w3", &[421.3, 421.4]);
    let repeats = |test: &SprayTest, panel: &str, weigh_in: &str| -> Vec<f64> {
        let panel = test.panels.find(&panel.into()).unwrap();
        panel.weigh_ins.find(&weigh_in.into()).unwrap().repeats_g.iter().map(|g| g.get()).collect()
    };
    let kept = open(&write(history.test())).unwrap();
    assert_eq!((kept.remarks.len(), &kept.test), (0, history.test()));
    assert_eq!(repeats(&merge(&test, &kept.test).test, "p", "w3"), [421.3, 421.4]);
    history.act(Action::Exchange((owner(), "w3".into()), (Owner::Panel("q".into()), "v".into()))).unwrap();
    assert_eq!(repeats(history.test(), "q", "v"), [421.3, 421.4], "they go with the weight");
    assert_eq!(repeats(history.test(), "p", "w3"), [0.0; 0]);
    history.undo();
    history.undo();
    assert_eq!(repeats(history.test(), "p", "w3"), [0.0; 0]);
}

#[test]
fn one_below_the_bare_weight_is_refused_in_a_sentence() {
    let now = "2027-03-02T10:00:00Z".parse().unwrap();
    let object = |grams: Vec<f64>| {
        object(&weighed(4), &Action::List(Row::Again(owner(), "w3".into()), grams), now, &Wording::default())
    };
    assert!(object(vec![421.3, 399.0]).is_some());
    assert!(object(vec![421.3, 421.2]).is_none());
}

#[test]
fn it_is_asked_for_only_where_it_would_decide_and_never_a_fourth_time() {
    let mut offered = Vec::new();
    for times in 3..=drying(400.0).len() {
        let test = weighed(times);
        let (told, newest) = (found(&test), format!("w{}", times - 1));
        let weigh_in = |test: &SprayTest| {
            test.panels.find(&PANEL.into()).unwrap().weigh_ins.find(&newest.as_str().into()).unwrap().clone()
        };
        let worth = worth_weighing_again(&told.panels[0], &weigh_in(&test));
        let told =
            told.panels[0].work.forecast.as_ref().unwrap().what_would_tell(&[Way::OneWeighing, Way::ThreeWeighings]);
        let decides = told.len() == 2 && told[0].next_day < 0.5 && told[1].next_day >= 0.5;
        assert_eq!(worth, decides, "{times}");
        let thrice = again(&test, &newest, &[420.0, 420.0]);
        assert!(!worth_weighing_again(&found(thrice.test()).panels[0], &weigh_in(thrice.test())));
        offered.push(worth);
    }
    assert!(offered.iter().any(|worth| !worth), "not after every weight: {offered:?}");
}

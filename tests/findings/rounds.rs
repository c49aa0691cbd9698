//! The walk through a round, the places panels dry in, and days in the sun, against what was written down by hand.

use comb_scale::findings::Wording;
use comb_scale::findings::facts::{hours_in_places, round_of};
use comb_scale::findings::weigh::{
    SET_ASIDE_FOR, cool_first, day_out, hours_said, look_again, new_round_said, next_stop, old_round_said,
    places_to_carry, progress_said, round_is_old, round_under_way, stops,
};
use comb_scale::quantity::Instant;
use comb_scale::record::{Action, History, Id, Owner, Pick, SprayTest};

use super::{panels_of, test_of};
use expect_test::expect;

use super::reads;

fn at(text: &str) -> Instant {
    text.parse().unwrap()
}

/// Two panels in places 2 and 1 of the rack, a blank, and a round in which one of them was weighed.
fn begun() -> SprayTest {
    test_of(
        r#""balances": [ { "id": "s", "division_g": 0.1 }, { "id": "t", "division_g": 0.01 } ],
        "rounds": [ { "id": "r", "at": "2026-03-03T08:00:00Z", "place": "Shop", "balance": "s" } ],
        "blanks": [ { "id": "b", "label": "Blank", "weigh_ins": [] }, { "id": "c", "label": "Fine blank", "balance": "t" } ],
        "panels": [
            { "id": "p", "label": "A1", "rack": "2", "weigh_ins": [ { "id": "w", "round": "r", "gross_g": 431.5 } ] },
            { "id": "q", "label": "A2", "rack": "1", "weigh_ins": [] },
            { "id": "o", "label": "A3", "weigh_ins": [ { "id": "v", "at": "2026-03-02T08:00:00Z", "gross_g": 440 } ] } ]"#,
    )
}

#[test]
fn a_round_walks_the_blanks_of_its_scale_and_then_the_rack() {
    let walk = stops(&begun(), &Id::from("r"), &Wording::default());
    let told: Vec<(&str, &str)> = walk.iter().map(|stop| (stop.label.as_str(), stop.weight.as_str())).collect();
    assert_eq!(told, [("Blank", ""), ("A2", ""), ("A1", "431.5 g"), ("A3", "")], "the fine blank is another scale's");
    assert_eq!(progress_said(&walk), "1 of 4 weighed");
}

#[test]
fn the_next_stop_is_the_next_unweighed_and_those_passed_over_come_at_the_end() {
    let walk = stops(&begun(), &Id::from("r"), &Wording::default());
    let owner = |id: &str| if id == "b" { Owner::Blank(id.into()) } else { Owner::Panel(id.into()) };
    let next = |last: Option<&str>| {
        let stop = next_stop(&walk, last.map(owner).as_ref())?;
        stop.address().id().map(|id| id.0.clone())
    };
    assert_eq!(next(None).as_deref(), Some("b"));
    assert_eq!(next(Some("b")).as_deref(), Some("q"));
    assert_eq!(next(Some("q")).as_deref(), Some("o"), "A1 is weighed");
    assert_eq!(next(Some("o")).as_deref(), Some("b"), "round again to what was passed over");
    assert_eq!(next(Some("gone")).as_deref(), Some("b"));
    assert_eq!(next_stop(&[], None), None);
}

#[test]
fn a_round_is_gone_on_with_for_three_hours() {
    let test = begun();
    let under_way = |now: &str| round_under_way(&test, at(now), &Wording::default()).is_some();
    assert!(under_way("2026-03-03T10:59:00Z") && !under_way("2026-03-03T11:01:00Z"));
    let old = |now: &str| round_is_old(&test, &Id::from("r"), at(now));
    assert!(!old("2026-03-03T10:59:00Z") && old("2026-03-03T11:01:00Z"));
}

#[test]
fn a_weigh_in_leads_back_to_its_round_and_panel() {
    let test = begun();
    let of = |owner: &str, weigh_in: &str| round_of(&test, &Owner::Panel(owner.into()), &Id::from(weigh_in));
    assert_eq!(of("p", "w"), Some("r".into()));
    assert_eq!(of("o", "v"), None);
    assert_eq!(of("o", "w"), None, "another panel's");
}

#[test]
fn only_what_is_amiss_is_looked_at_again() {
    let with = |gross_g: f64| {
        test_of(&format!(
            r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.05 }}, "rounds": [ {{ "id": "r", "at": "2026-03-03T08:00:00Z" }} ],
            "panels": [ {{ "id": "p", "label": "A1", "weigh_ins": [ {{ "at": "2026-03-02T08:00:00Z", "gross_g": 440 }},
                {{ "id": "w", "round": "r", "gross_g": {gross_g} }} ] }} ]"#
        ))
    };
    let again = |test: &SprayTest| {
        look_again(
            test,
            &panels_of(test),
            &Owner::Panel("p".into()),
            &Id::from("r"),
            at("2026-03-03T08:10:00Z"),
            &Wording::default(),
        )
    };
    assert!(!again(&with(438.0)) && again(&with(442.0)));
    // What a person set aside they have looked at; its line says so.
    let mut history = History::new(with(442.0), "phone");
    let (owner, weigh_in) = (Owner::Panel("p".into()), Id::from("w"));
    history.act(Action::SetAside { owner, weigh_in, why: SET_ASIDE_FOR[4].into() }).unwrap();
    assert!(!again(history.test()));
    assert_eq!(stops(history.test(), &Id::from("r"), &Wording::default())[0].weight, "442 g, set aside");
}

#[test]
fn panels_from_a_warm_place_are_asked_about_until_they_are_cool() {
    let with = |moves: &str| {
        test_of(&format!(
            r#""rounds": [ {{ "id": "r", "at": "2026-03-05T08:00:00Z" }} ], "moves": [ {moves} ], "panels": [ {{ "id": "p", "label": "A1" }} ]"#
        ))
    };
    let out = r#"{ "at": "2026-03-04T09:00:00Z", "to": "Sun", "warmer": true }"#;
    let back = |at: &str| format!(r#"{out}, {{ "at": "{at}", "to": "Shop" }}"#);
    let asked = |test: &SprayTest| cool_first(test, &Id::from("r"));
    assert!(asked(&with(out)).unwrap().starts_with("The panels come from the sun: are they cool to the hand?"));
    assert!(asked(&with(&back("2026-03-05T07:30:00Z"))).is_some(), "carried back half an hour ago");
    assert_eq!(asked(&with(&back("2026-03-04T17:00:00Z"))), None);
    assert_eq!(asked(&with("")), None);
    let mut history = History::new(with(out), "phone");
    history.act(Action::Choose(Pick::Cooled("r".into(), true))).unwrap();
    assert_eq!(asked(history.test()), None);
}

/// One panel sprayed on 2 March at 8, with these moves.
fn moved(moves: &str) -> SprayTest {
    test_of(&format!(
        r#""moves": [ {moves} ], "panels": [ {{ "id": "p", "label": "A1", "coats": [ {{ "at": "2026-03-02T08:00:00Z" }} ] }},
            {{ "id": "q", "label": "A2", "coats": [ {{ "at": "2026-03-02T08:00:00Z" }} ] }} ]"#
    ))
}

const DAY_OUT: &str =
    r#"{ "at": "2026-03-06T09:00:00Z", "to": "Sun", "warmer": true }, { "at": "2026-03-06T17:00:00Z", "to": "Shop" }"#;

#[test]
fn hours_in_each_place_are_counted_from_the_last_coat() {
    let test = moved(DAY_OUT);
    let hours = hours_in_places(&test, &Id::from("p"), at("2026-03-07T08:00:00Z"));
    // 4 d 1 h and 15 h in the shop, 8 h in the sun.
    assert_eq!(hours, [("Shop".to_owned(), 112.0), ("Sun".to_owned(), 8.0)]);
    assert_eq!(hours_said(&test, at("2026-03-07T08:00:00Z")), ["All panels so far: Shop 4 d 16 h, Sun 8 h."]);
    let one = moved(r#"{ "at": "2026-03-06T09:00:00Z", "to": "Sun", "warmer": true, "panels": ["q"] }"#);
    assert_eq!(hours_said(&one, at("2026-03-06T11:00:00Z")), ["A2 so far: Shop 4 d 1 h, Sun 2 h."]);
    assert!(hours_said(&moved(""), at("2026-03-07T08:00:00Z")).is_empty());
}

#[test]
fn places_are_offered_but_the_one_where_all_panels_are() {
    let offered = |test: &SprayTest| places_to_carry(test).into_iter().map(|place| place.to).collect::<Vec<_>>();
    assert_eq!(offered(&moved("")), ["Sun"]);
    let loft = r#"{ "at": "2026-03-06T09:00:00Z", "to": "Loft", "warmer": true }"#;
    assert_eq!(offered(&moved(loft)), ["Sun", "Shop"]);
    let split = r#"{ "at": "2026-03-06T09:00:00Z", "to": "loft", "warmer": true, "panels": ["p"] }"#;
    assert_eq!(offered(&moved(split)), ["Sun", "Shop", "loft"]);
}

#[test]
fn a_day_in_the_sun_is_offered_again_for_the_days_since() {
    let test = moved(DAY_OUT);
    let offer = |now: &str| day_out(&test, at(now));
    assert_eq!(offer("2026-03-07T16:59:00Z"), None, "that day is not over");
    let one = offer("2026-03-07T17:01:00Z").unwrap();
    assert_eq!(
        (one.asks.as_str(), one.press.as_str()),
        ("All panels went into the sun at 09:00 and back at 17:00 on 6 Mar. The same on 7 Mar?", "Yes, note it")
    );
    let three = offer("2026-03-09T18:00:00Z").unwrap();
    reads(three.press, expect!["Yes, note these 3 days"]);
    let mut history = History::new(test.clone(), "phone");
    history.act(three.action).unwrap();
    assert_eq!(history.test().moves.kept().count(), 8);
    assert_eq!(
        hours_in_places(history.test(), &Id::from("p"), at("2026-03-09T18:00:00Z"))[1],
        ("Sun".to_owned(), 32.0)
    );
    history.undo();
    assert_eq!(history.test().moves.kept().count(), 2, "one step takes them back");
    assert_eq!(offer("2026-03-20T18:00:00Z"), None, "a habit that nobody notes any more has ended");
    let stayed = moved(r#"{ "at": "2026-03-06T09:00:00Z", "to": "Sun", "warmer": true }"#);
    assert_eq!(day_out(&stayed, at("2026-03-07T18:00:00Z")), None, "they never came back");
}

#[test]
fn what_is_typed_into_a_round_of_earlier_is_said_to_have_its_time() {
    let test = begun();
    let said = |now: &str| old_round_said(&test, &Id::from("r"), at(now));
    assert_eq!(said("2026-03-03T10:59:00Z"), None);
    assert!(said("2026-03-04T07:30:00Z").unwrap().starts_with("What you type here counts as weighed Tue 3 Mar 08:00."));
    assert_eq!(
        new_round_said(&test, &"r".into()),
        "The round of Tue 3 Mar 08:00 was over: this weight begins a new one."
    );
}

#[test]
fn a_round_is_found_again_whatever_another_clock_dates_ahead() {
    let test = test_of(
        r#""rounds": [ { "id": "ahead", "at": "2026-03-04T08:00:00Z" }, { "id": "now", "at": "2026-03-03T08:00:00Z" } ],
           "panels": [ { "id": "p", "label": "A1" } ]"#,
    );
    let found = round_under_way(&test, at("2026-03-03T08:10:00Z"), &Wording::default());
    assert_eq!(found, Some(Id::from("now")));
}

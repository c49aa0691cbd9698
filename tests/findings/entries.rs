use comb_scale::findings::Wording;
use comb_scale::findings::spray::typed_dab;
use comb_scale::findings::words::{object, read_row};
use comb_scale::quantity::{FilmUnit, Grams, Instant, Quantity, Units};
use comb_scale::record::{Action, Dab, Dated, Id, Measure, Owner, Row, Slot};

use super::test_of;
use expect_test::expect;

use super::reads;

fn at(text: &str) -> Instant {
    text.parse().unwrap()
}

const PANEL: &str = r#""comb": { "teeth_um": [100, 125, 150, 200] }, "panels": [ { "id": "p", "label": "A1", "bare_g": 412.5,
    "weigh_ins": [ { "id": "w", "at": "2026-03-02T10:00:00Z", "gross_g": 440 } ] } ]"#;

fn objection(action: Action) -> Option<String> {
    object(&test_of(PANEL), &action, at("2026-03-20T10:00:00Z"), &Wording::default())
        .map(|objection| objection.to_string())
}

fn weigh(round: Option<&str>, when: &str, gross: f64) -> Action {
    Action::Weigh {
        owner: Owner::Panel(Id::from("p")),
        round: round.map(Id::from),
        at: at(when),
        gross_g: Grams::new(gross).unwrap(),
    }
}

#[test]
fn a_weight_below_the_bare_one_gets_one_sentence() {
    let said = objection(weigh(Some("r"), "2026-03-03T10:00:00Z", 412.0)).unwrap();
    reads(said, expect!["That is below the bare weight, 412.5 g: look at the scale again."]);
    assert_eq!(objection(weigh(Some("r"), "2026-03-03T10:00:00Z", 435.0)), None);
    assert!(objection(Action::Fill(Slot::WeighIn(Owner::Panel(Id::from("p")), Id::from("w")), Some(400.0))).is_some());
}

#[test]
fn a_time_that_has_not_come_gets_one_sentence_unless_it_is_planned() {
    let later = at("2026-03-21T10:00:00Z");
    let said = objection(Action::Date(Dated::Round(Id::from("r")), later)).unwrap();
    reads(said, expect!["That time has not come yet: look at the date."]);
    assert_eq!(objection(Action::Date(Dated::SprayDay, later)), None);
    assert_eq!(objection(Action::Date(Dated::Round(Id::from("r")), at("2026-03-20T09:00:00Z"))), None);
}

#[test]
fn a_bare_weight_above_the_wet_one_gets_one_sentence() {
    let said = objection(Action::Fill(Slot::Bare(Id::from("p")), Some(440.0))).unwrap();
    reads(said, expect!["That is not below the wet weight, 440 g: look at the scale again."]);
}

#[test]
fn a_round_before_the_wet_weight_gets_one_sentence() {
    let said = objection(weigh(Some("r"), "2026-03-02T09:59:00Z", 439.0)).unwrap();
    reads(said, expect!["That is before the panel was weighed wet (Mon 2 Mar 10:00)."]);
    assert_eq!(objection(weigh(None, "2026-03-02T09:59:00Z", 439.0)), None, "a weight between coats may be earlier");
}

#[test]
fn typed_dabs_are_those_of_the_comb_or_get_one_sentence() {
    let test = test_of(PANEL);
    let wording = Wording::default();
    let dab = typed_dab(&test, "100", "150", true, &wording).unwrap();
    assert_eq!((dab.wetted_um.get(), dab.touched_um.unwrap().get(), dab.dry_um.unwrap().get()), (100.0, 125.0, 150.0));
    assert_eq!(typed_dab(&test, "200", "", false, &wording).unwrap().dry_um, None);
    assert!(typed_dab(&test, "150", "200", true, &wording).unwrap_err().said().contains("between"));
    let dry_below = typed_dab(&test, "150", "125", false, &wording).unwrap();
    let action = dab_action(dry_below.wetted_um, dry_below.dry_um);
    reads(objection(action).unwrap(), expect!["The first dry tooth must be longer than the last wetted one."]);
}

fn dab_action(wetted: comb_scale::quantity::Micrometres, dry: Option<comb_scale::quantity::Micrometres>) -> Action {
    Action::Dab {
        panel: Id::from("p"),
        at: at("2026-03-02T10:00:00Z"),
        comb: None,
        wetted_um: wetted,
        touched_um: None,
        dry_um: dry,
        place: String::new(),
        instead_of: None,
    }
}

#[test]
fn a_dab_of_teeth_that_the_comb_no_longer_has_still_says_its_interval() {
    let test = test_of(PANEL);
    let dab = Dab { wetted_um: dab_um(110.0), dry_um: dab_um(140.0), ..Dab::default() };
    assert_eq!(comb_scale::findings::words::dab_in_words(&test, &dab, &Wording::default()), "between 110 and 140 µm");
    let touched = Dab { wetted_um: dab_um(100.0), touched_um: dab_um(125.0), dry_um: dab_um(150.0), ..Dab::default() };
    assert_eq!(
        comb_scale::findings::words::dab_in_words(&test, &touched, &Wording::default()),
        "between 112.5 and 137.5 µm"
    );
    let none = Dab { wetted_um: dab_um(0.0), dry_um: dab_um(100.0), ..Dab::default() };
    assert_eq!(comb_scale::findings::words::dab_in_words(&test, &none, &Wording::default()), "below 100 µm");
    let longest = Dab { wetted_um: dab_um(200.0), ..Dab::default() };
    assert_eq!(
        comb_scale::findings::words::dab_in_words(&test, &longest, &Wording::default()),
        "above 200 µm: take a longer comb"
    );
}

fn dab_um(um: f64) -> Option<comb_scale::quantity::Micrometres> {
    comb_scale::quantity::Micrometres::new(um).ok()
}

#[test]
fn several_readings_in_one_line() {
    let read = |typed| read_row(Measure::Film, typed, &Wording::default());
    assert_eq!(read("118  121,5; 120"), Ok(vec![118.0, 121.5, 120.0]));
    assert!(read("118 many").unwrap_err().starts_with("many: "));
    assert_eq!(read("  "), Ok(vec![]));
    let teeth = |um: &[f64]| objection(Action::List(Row::Teeth(Id::from("c")), um.to_vec()));
    reads(teeth(&[125.0, 100.0]).unwrap(), expect!["The teeth must rise: 100 µm comes after 125 µm."]);
    assert_eq!(teeth(&[100.0, 125.0]), None);
}

#[test]
fn a_comb_is_refused_in_the_unit_that_was_typed() {
    let mil = Wording { units: Units { film: FilmUnit::Mil, ..Units::default() }, division_g: None };
    let refused = |typed: &str, wording: &Wording| {
        let teeth_um = read_row(Measure::Film, typed, wording).unwrap();
        let action = Action::List(Row::Teeth(Id::from("c")), teeth_um);
        object(&test_of(PANEL), &action, at("2026-03-20T10:00:00Z"), wording).unwrap().to_string()
    };
    reads(refused("3 2", &mil), expect!["The teeth must rise: 2 mil comes after 3 mil."]);
    reads(refused("0.7 0.7", &mil), expect!["The teeth must rise: 0.7 mil comes after 0.7 mil."]);
    reads(refused("76.2 50.8", &Wording::default()), expect!["The teeth must rise: 50.8 µm comes after 76.2 µm."]);
    // What was typed in mil and is looked at in µm has no more digits than the comb.
    let teeth_um = read_row(Measure::Film, "3 2", &mil).unwrap();
    let action = Action::List(Row::Teeth(Id::from("c")), teeth_um);
    let said = object(&test_of(PANEL), &action, at("2026-03-20T10:00:00Z"), &Wording::default()).unwrap().to_string();
    reads(said, expect!["The teeth must rise: 50.8 µm comes after 76.2 µm."]);
}

#[test]
fn a_dab_that_does_not_fit_its_comb_is_told_in_the_unit_in_use() {
    let mil = Wording { units: Units { film: FilmUnit::Mil, ..Units::default() }, division_g: None };
    let test = test_of(PANEL);
    // Each of them made on the comb of 100, 125, 150 and 200 µm.
    for (wetted, touched, dry, said) in [
        (254.0, None, None, "10 mil is longer than the longest tooth of the comb, 7.874 mil."),
        (100.0, Some(150.0), None, "The touched tooth (5.906 mil) must be the next one above 3.937 mil."),
    ] {
        let dab =
            Dab { wetted_um: dab_um(wetted), touched_um: touched.and_then(dab_um), dry_um: dry, ..Dab::default() };
        let um = |um: f64| comb_scale::quantity::Micrometres::new(um).unwrap();
        let (panel, comb, place, at_noon) = (Id::from("p"), None, String::new(), at("2026-03-02T12:00:00Z"));
        let (wetted_um, touched_um) = (um(wetted), touched.map(um));
        let action =
            Action::Dab { panel, at: at_noon, comb, wetted_um, touched_um, dry_um: dry, place, instead_of: None };
        let objection = object(&test, &action, at("2026-03-20T10:00:00Z"), &mil);
        if let Some(objection) = objection {
            assert_eq!(objection.to_string(), said);
        } else {
            assert!(!comb_scale::findings::words::dab_in_words(&test, &dab, &mil).contains("µm"));
        }
    }
}

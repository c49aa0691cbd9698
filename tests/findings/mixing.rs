//! Mixes: grams, amounts, prices and VOC worked out by hand.

use std::fmt::Display;

use comb_scale::findings::Wording;
use comb_scale::findings::mixing::{
    Assumed, MixCard, MixWants, NoAmount, Pouring, amount_of, amount_said, cups_said, mix_said, pouring, ratio_said,
    set_ratio, smaller_cup, take_reading, worth_of,
};
use comb_scale::findings::words::Figure;
use comb_scale::record::{Action, Candidate, History, Id, SprayTest};

use super::{piece, test_of};
use expect_test::expect;

use super::reads;

/// 4 : 1 : 1 by volume; rows mix-01 of the check values: 300 mL are 290, 52.5 and 43.5 g (computed with a units library).
pub const FOUR_ONE_ONE: &str = r#"{ "basis": "volume", "amount_ml": 300, "components": [
    { "id": "b", "label": "Base", "role": "base", "parts": 4, "density_g_per_ml": 1.45 },
    { "id": "h", "label": "Hardener", "role": "hardener", "parts": 1, "density_g_per_ml": 1.05 },
    { "id": "r", "label": "Reducer", "role": "reducer", "parts": 1, "density_g_per_ml": 0.87 } ] }"#;

pub fn test_with(mix: impl Display, rest: &str) -> SprayTest {
    test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, {rest} "candidates": [ {{ "id": "c", "label": "A", "mix": {mix} }} ]"#
    ))
}

fn candidate(test: &SprayTest) -> &Candidate {
    test.candidates.kept().next().unwrap()
}

fn card(mix: &str) -> Result<MixCard, MixWants> {
    MixCard::of(candidate(&test_with(mix, "")))
}

fn near(got: f64, wanted: f64, by: f64) {
    assert!((got - wanted).abs() <= by, "{got}, not {wanted}");
}

pub fn wording() -> Wording {
    Wording { division_g: Some(0.1), ..Wording::default() }
}

pub fn pour(history: &History) -> Pouring {
    pouring(history.test(), &"c".into(), &wording()).unwrap()
}

pub fn read(history: &mut History, total_g: f64) -> Result<(), String> {
    history.act(take_reading(history.test(), &"c".into(), total_g, history.fresh_id(), &wording())?).unwrap();
    Ok(())
}

fn poured(history: &History) -> Vec<f64> {
    history.test().mixes.kept().next().unwrap().poured_g.iter().map(|&g| g.into()).collect()
}

#[test]
fn running_totals_are_those_of_the_scale() {
    let test = test_with(FOUR_ONE_ONE, "");
    let pouring = pouring(&test, &"c".into(), &wording()).unwrap();
    let totals: Vec<(&str, &str)> =
        pouring.steps.iter().map(|step| (step.label.as_str(), step.total.as_str())).collect();
    assert_eq!(totals, [("Base", "290.0"), ("Hardener", "342.5"), ("Reducer", "386.0")]);
    assert_eq!(pouring.whole, "386.0 g, 300 mL");
    // By hand: 0.1 of 290, of 52.5 and of 43.5 g.
    let steps: Vec<&str> = pouring.steps.iter().map(|step| step.step.as_str()).collect();
    assert!(steps[0].contains("0.03 %") && steps[1].contains("0.19 %") && steps[2].contains("0.23 %"), "{steps:?}");
    assert!(!pouring.begun && !pouring.done && pouring.notes.is_empty());
}

#[test]
fn totals_come_to_the_step_of_the_scale_and_a_coarse_one_is_named() {
    let coarse = test_with(FOUR_ONE_ONE, "").clone();
    let coarse = SprayTest { balances: test_of(r#""balance": { "division_g": 2 }"#).balances, ..coarse };
    let pouring = pouring(&coarse, &"c".into(), &Wording { division_g: Some(2.0), ..Wording::default() }).unwrap();
    let totals: Vec<&str> = pouring.steps.iter().map(|step| step.total.as_str()).collect();
    assert_eq!(totals, ["290", "342", "386"]);
    // Half of 2 g is 2.3 % of 43.5 g of reducer.
    assert!(pouring.notes[0].contains("more than 2 % of Reducer"), "{:?}", pouring.notes);
}

#[test]
fn a_reducers_per_cent_is_of_the_paint_or_of_the_base() {
    let of = |of: &str| {
        let mix = format!(
            r#"{{ {of} "components": [ {{ "role": "base", "parts": 2 }}, {{ "role": "hardener", "parts": 1 }},
            {{ "role": "reducer", "share": 0.1, "parts": 9 }} ] }}"#
        );
        card(&mix).unwrap().parts[2].parts
    };
    // Rows mix-03 and mix-04: 2 : 1 : 0.3 and 2 : 1 : 0.2.
    near(of(""), 0.3, 1e-12);
    near(of(r#""reducer_of": "paint","#), 0.3, 1e-12);
    near(of(r#""reducer_of": "base","#), 0.2, 1e-12);
}

#[test]
fn components_pour_base_first_whatever_their_order_in_the_file() {
    let mix = card(
        r#"{ "components": [ { "role": "reducer", "parts": 1 }, { "role": "hardener", "parts": 1 }, { "role": "base", "parts": 4 } ] }"#,
    );
    let labels: Vec<String> = mix.unwrap().parts.into_iter().map(|part| part.label).collect();
    assert_eq!(labels, ["the base", "the hardener", "the reducer"]);
}

#[test]
fn what_is_wanting_is_named() {
    assert_eq!(card("{}"), Err(MixWants::Components));
    let no_parts =
        card(r#"{ "components": [ { "role": "base", "parts": 4 }, { "label": "Slow", "role": "hardener" } ] }"#);
    assert_eq!(no_parts, Err(MixWants::Parts("Slow".into())));
    // A paint in one pack needs no parts.
    assert!(card(r#"{ "components": [ { "role": "base" }, { "role": "reducer", "share": 0 } ] }"#).is_ok());
    let five = r#"{ "role": "base", "parts": 1 },"#.repeat(5);
    assert_eq!(card(&format!(r#"{{ "components": [ {} ] }}"#, five.trim_end_matches(','))), Err(MixWants::TooMany));
    let test = test_with(piece(FOUR_ONE_ONE).without("/components/1/density_g_per_ml"), "");
    let said = pouring(&test, &"c".into(), &wording()).unwrap_err();
    assert!(said.starts_with("Give the density of Hardener:"), "{said}");
}

#[test]
fn parts_by_weight_need_no_density() {
    let mix = r#"{ "basis": "weight", "amount_ml": 100, "components": [ { "role": "base", "parts": 100 }, { "role": "hardener", "parts": 25 } ] }"#;
    let test = test_with(mix, "");
    let mix = MixCard::of(candidate(&test)).unwrap();
    let amount = amount_of(&test, candidate(&test), &mix).unwrap();
    assert_eq!(amount.assumed, [Assumed::Density]);
    // 100 mL at the assumed 1.3 g/mL, four fifths of it base.
    let pouring = pouring(&test, &"c".into(), &wording()).unwrap();
    assert_eq!(pouring.steps[0].total, "104.0");
    assert!(
        amount_said(&test, candidate(&test), &wording()).contains("which sets the size of the batch and not its ratio")
    );
}

/// By hand: six faces of 300 × 300 mm, no margin to speak of, are 0.54 m²; 0.54 × 150 µm × 2 coats / 0.5 + 50 mL = 374 mL
/// (row mix-10 of the check values).
#[test]
fn the_amount_follows_from_panels_coats_and_film() {
    let panels: Vec<String> =
        (0..6).map(|_| r#"{ "candidate": "c", "width_mm": 299.98, "length_mm": 299.98 }"#.to_owned()).collect();
    let inside = |wanted: &str, sheet: &str| {
        let mix = piece(FOUR_ONE_ONE).without("/amount_ml");
        test_of(&format!(
            r#""wanted": {{ {wanted} }}, "panels": [ {} ], "candidates": [ {{ "id": "c", "sheet": {{ {sheet} }}, "mix": {mix} }} ]"#,
            panels.join(", ")
        ))
    };
    let amount = |test: &SprayTest| {
        let mix = MixCard::of(candidate(test)).unwrap();
        amount_of(test, candidate(test), &mix).unwrap()
    };
    let said = inside(
        r#""transfer_efficiency": 0.5, "overspray_mm": 0.01, "left_in_gun_ml": 50"#,
        r#""coats": 2, "wet_film_um": 150"#,
    );
    near(amount(&said).ml, 374.0, 1e-9);
    assert!(amount(&said).assumed.is_empty() && !amount(&said).typed);
    // Nothing said: the same figures stand in, but for 50 mm over each edge: 6 × 0.39998² m² × 600 mL/m² + 50 mL.
    let unsaid = inside("", "");
    near(amount(&unsaid).ml, 6.0 * 0.399_98 * 0.399_98 * 600.0 + 50.0, 1e-6);
    assert_eq!(amount(&unsaid).assumed.len(), 5);
    // The wanted build of 80 µm in two coats from 50 % solids with a quarter more reducer... (4 + 1) : 1: 40 × 1.2 / 0.5.
    let built = inside(
        r#""dry_build_um": 80, "transfer_efficiency": 0.5, "overspray_mm": 0.01, "left_in_gun_ml": 50"#,
        r#""stated_for": "mix_unreduced", "solids_by_volume": 0.5, "coats": 2"#,
    );
    near(amount(&built).ml, 0.54 * 96.0 * 2.0 / 0.5 + 50.0, 1e-9);
    let bare = test_with(piece(FOUR_ONE_ONE).without("/amount_ml"), "");
    let mix = MixCard::of(candidate(&bare)).unwrap();
    assert_eq!(amount_of(&bare, candidate(&bare), &mix), Err(NoAmount::Panels));
}

#[test]
fn a_pour_on_target_leads_from_component_to_component() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 290.0).unwrap();
    assert_eq!(pour(&history).said, "Next Hardener.");
    assert_eq!(pour(&history).steps[0].total, "342.5");
    read(&mut history, 342.5).unwrap();
    read(&mut history, 386.0).unwrap();
    assert_eq!(poured(&history), [290.0, 52.5, 43.5]);
    let done = pour(&history);
    assert!(done.done && done.steps.is_empty());
    assert!(read(&mut history, 400.0).unwrap_err().starts_with("All is in already."));
    assert_eq!(history.test().mixes.kept().count(), 1);
}

/// By hand: 60 g of hardener instead of 52.5 make the mix 386 × 60/52.5 = 441.14 g: 331.43 g of base, 49.71 g of reducer.
#[test]
fn an_over_pour_is_mended_by_the_others() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 290.0).unwrap();
    read(&mut history, 350.0).unwrap();
    let mend = pour(&history);
    assert!(mend.over);
    assert_eq!(
        mend.said,
        "Hardener went 7.5 g over. Add 41.4 g Base, then 49.7 g Reducer, and the ratio is right again: next Base."
    );
    let steps: Vec<(&str, &str, &str)> =
        mend.steps.iter().map(|s| (s.label.as_str(), s.add.as_str(), s.total.as_str())).collect();
    assert_eq!(steps, [("Base", "41.4 g", "391.4"), ("Reducer", "49.7 g", "441.1")]);
    assert!(mend.whole.starts_with("441.1 g, 343 mL instead of 386.0 g"), "{}", mend.whole);
    read(&mut history, 391.4).unwrap();
    read(&mut history, 441.1).unwrap();
    for (got, wanted) in poured(&history).into_iter().zip([331.4, 60.0, 49.7]) {
        near(got, wanted, 1e-9);
    }
    assert!(pour(&history).done);
}

#[test]
fn an_over_pour_of_the_first_only_makes_the_mix_larger() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 319.0).unwrap();
    let larger = pour(&history);
    // A tenth more of everything: 57.75 g on top of 319, then 47.85 g.
    let totals: Vec<&str> = larger.steps.iter().map(|step| step.total.as_str()).collect();
    assert_eq!(totals, ["376.8", "424.6"]);
    assert!(larger.over);
}

#[test]
fn a_step_of_the_scale_is_no_over_pour() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 290.1).unwrap();
    read(&mut history, 342.7).unwrap();
    let next = pour(&history);
    assert!(!next.over);
    assert_eq!(next.steps.iter().map(|step| step.label.as_str()).collect::<Vec<_>>(), ["Reducer"]);
}

/// By hand: base 0.8 % short is in; the rest follows it, 287.68/4/1.45 × 1.05 = 52.08 g and 43.15 g.
#[test]
fn a_little_short_the_rest_follows_what_is_in() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 287.7).unwrap();
    let next = pour(&history);
    let totals: Vec<&str> = next.steps.iter().map(|step| step.total.as_str()).collect();
    assert_eq!(totals, ["339.8", "382.9"]);
    assert_eq!(next.whole, "382.9 g, 298 mL");
}

#[test]
fn a_short_pour_asks_for_more_or_for_a_smaller_mix() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    assert_eq!(smaller_cup(history.test(), &"c".into()), None);
    read(&mut history, 145.0).unwrap();
    reads(pour(&history).said, expect!["More Base is wanting."]);
    assert_eq!(pour(&history).steps[0].total, "290.0");
    history.act(smaller_cup(history.test(), &"c".into()).unwrap()).unwrap();
    // Half the mix: 26.25 g of hardener, 21.75 g of reducer.
    let totals: Vec<String> = pour(&history).steps.into_iter().map(|step| step.total).collect();
    assert_eq!(totals, ["171.3", "193.0"]);
}

#[test]
fn a_reading_that_cannot_be_meant_is_refused() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    assert!(read(&mut history, 0.0).unwrap_err().starts_with("That is nothing"));
    assert!(read(&mut history, 900.0).unwrap_err().contains("Was the empty cup tared?"));
    assert!(history.test().mixes.kept().next().is_none(), "nothing was begun");
    read(&mut history, 290.0).unwrap();
    assert!(read(&mut history, 52.5).unwrap_err().contains("do not tare in between"));
    assert_eq!(poured(&history), [290.0]);
}

#[test]
fn a_cup_that_came_together_is_told_with_how_far_it_is_off() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    for total in [290.0, 342.5, 386.0] {
        read(&mut history, total).unwrap();
    }
    let cup = history.test().mixes.kept().next().unwrap().id.clone();
    let at = "2026-03-02T10:00:00+01:00".parse().unwrap();
    history.act(Action::Mixed { cup, candidate: "c".into(), at, panels: vec![] }).unwrap();
    assert_eq!(
        cups_said(history.test(), &"c".into(), &wording()),
        ["Mixed Mon 2 Mar 10:00: 386.0 g, as the recipe says"]
    );
    assert!(!pour(&history).begun, "the next reading begins another cup");
    let second = test_with(
        FOUR_ONE_ONE,
        r#""mixes": [ { "candidate": "c", "at": "2026-03-02T10:00:00+01:00", "poured_g": [290, 60, 43.5] } ],"#,
    );
    let said = cups_said(&second, &"c".into(), &wording());
    // 60 for 52.5 is 14.3 % over.
    assert_eq!(said, ["Mixed Mon 2 Mar 10:00: 393.5 g, Hardener 14 % over"]);
}

fn value(figures: &[Figure], name: &str) -> (Option<String>, String) {
    let figure = figures.iter().find(|figure| figure.name == name).unwrap();
    (figure.value.clone(), figure.note.clone())
}

/// By hand: 0.8 L of 30 a litre and 0.2 L of 30 a litre; a pack of 4 L takes 1 L of the 2 L of hardener.
#[test]
fn packs_give_the_price_and_what_is_left_over() {
    let mix = r#"{ "amount_ml": 400, "components": [
        { "label": "Base", "role": "base", "parts": 4, "density_g_per_ml": 1.4, "pack_l": 4, "pack_price": 120, "voc_g_per_l": 400 },
        { "label": "Hardener", "role": "hardener", "parts": 1, "density_g_per_ml": 1.0, "pack_l": 2, "pack_price": 60, "voc_g_per_l": 500 } ] }"#;
    let test = test_with(mix, r#""currency": "EUR","#);
    let worth = worth_of(&test, candidate(&test), &wording());
    assert_eq!(value(&worth, "A litre of mix").0.as_deref(), Some("30.00 EUR"));
    // 180 for 5 L.
    assert!(value(&worth, "A litre of mix").1.starts_with("36.00 EUR if what the packs leave over"));
    let (made, note) = value(&worth, "One pack of each makes");
    assert_eq!(made.as_deref(), Some("5 L"));
    assert_eq!(note, "left over: 1000 mL of Hardener; enough for 12 mixes of 400 mL");
    // 0.8 × 400 + 0.2 × 500 (row voc-07 has the same form).
    assert_eq!(value(&worth, "VOC of the mix"), (Some("420 g/L".into()), String::new()));
    let unpriced = test_with(piece(mix).without("/components/1/pack_price"), "");
    let worth = worth_of(&unpriced, candidate(&unpriced), &wording());
    assert_eq!(value(&worth, "A litre of mix"), (None, "Give the price of the pack of Hardener.".into()));
    assert!(value(&worth, "One pack of each makes").0.is_some(), "how far packs go needs no price");
}

/// By hand: half water by weight at 1.2 g/mL is 0.6 g in a millilitre, 0.6012 mL of it; 150 g/L in the 0.3988 L left.
#[test]
fn water_is_told_both_ways() {
    let mix = r#"{ "components": [ { "role": "base", "density_g_per_ml": 1.2, "voc_g_per_l": 150, "water_by_weight": 0.5 } ] }"#;
    let test = test_with(mix, "");
    let (actual, note) = value(&worth_of(&test, candidate(&test), &wording()), "VOC of the mix");
    assert_eq!(actual.as_deref(), Some("150 g/L"));
    assert_eq!(note, "376 g/L less water (40 CFR 59.104)");
}

/// By hand: 0.24 g of exempt solvent in a millilitre of 1.2 g/mL are 0.3038 mL at 0.79 g/mL; 150 g/L in the 0.6962 L left are
/// 215 g/L. At 30 % solids by volume 150 g/L are 500 g for a litre of solids.
#[test]
fn exempt_solvent_is_taken_off_and_solids_compare() {
    let mix = r#"{ "components": [ { "role": "base", "density_g_per_ml": 1.2, "voc_g_per_l": 150, "exempt_by_weight": 0.2 } ] },
        "sheet": { "stated_for": "mix", "solids_by_volume": 0.3 }"#;
    let test = test_with(mix, "");
    let (actual, note) = value(&worth_of(&test, candidate(&test), &wording()), "VOC of the mix");
    assert_eq!(actual.as_deref(), Some("150 g/L"));
    assert_eq!(
        note,
        "215 g/L less water and exempt solvent, taken as 0.79 g/mL (40 CFR 59.104); 500 g/L of solids, the one number that compares primers (ASTM D3960)"
    );
}

#[test]
fn no_candidate_no_pour() {
    assert!(pouring(&test_of(r#""title": "x""#), &Id::from("x"), &wording()).is_err());
}

#[test]
fn the_first_reading_of_a_cup_is_one_step_back() {
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    read(&mut history, 290.0).unwrap();
    assert_eq!(poured(&history), [290.0]);
    history.undo();
    assert_eq!(history.test().mixes.kept().count(), 0);
    assert!(!history.can_undo());
}

/// What a typed ratio makes of a mix, and how it reads then; the sentence where it is refused.
fn typed_ratio(mix: &str, typed: &str) -> Result<String, String> {
    let mut history = History::new(test_with(mix, ""), "phone");
    history.act(set_ratio(candidate(history.test()), typed, &wording())?).unwrap();
    Ok(format!("{}, {}", ratio_said(candidate(history.test())), mix_said(candidate(history.test()))))
}

#[test]
fn a_ratio_is_typed_as_it_stands_on_the_can() {
    for (typed, said) in [
        ("4:1:1", "4:1:1, Mix: 4 : 1 : 1 by volume"),
        ("4 : 1", "4:1, Mix: 4 : 1 by volume"),
        ("4/1/0.5", "4:1:0.5, Mix: 4 : 1 : 0.5 by volume"),
        ("4:1:0,5", "4:1:0.5, Mix: 4 : 1 : 0.5 by volume"),
        ("100 25 18.9", "100:25:18.9, Mix: 100 : 25 : 18.9 by volume"),
        ("1", "1, Mix: one pack, as it comes"),
    ] {
        assert_eq!(typed_ratio("{}", typed).as_deref(), Ok(said), "{typed}");
    }
    for typed in ["", "4:x", "0:1", "4:1:1:1", "-4:1"] {
        assert!(typed_ratio("{}", typed).is_err(), "{typed}");
    }
}

#[test]
fn a_ratio_goes_to_the_components_there_are() {
    assert_eq!(typed_ratio(FOUR_ONE_ONE, "3:1:0.5").unwrap(), "3:1:0.5, Mix: 3 : 1 : 0.5 by volume");
    let thinned =
        r#"{ "components": [ { "id": "r", "role": "reducer", "share": 0.1 }, { "id": "b", "role": "base" } ] }"#;
    assert_eq!(
        typed_ratio(thinned, "5:1").unwrap(),
        "5:1, Mix: 5 : 1 by volume",
        "its parts count instead of its per cent"
    );
    assert!(typed_ratio(FOUR_ONE_ONE, "3:1").unwrap_err().starts_with("Give a number for each of"));
    let mut history = History::new(test_with(FOUR_ONE_ONE, ""), "phone");
    history.act(set_ratio(candidate(history.test()), "2:1:1", &wording()).unwrap()).unwrap();
    history.undo();
    assert_eq!(ratio_said(candidate(history.test())), "4:1:1", "one step takes all of it back");
}

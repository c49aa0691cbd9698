//! What a data sheet says of the mix as it is sprayed, by what it is stated for: worked out by hand.

use comb_scale::findings::results::{RowKey, side_by_side};
use comb_scale::findings::{By, PanelCard, SheetCard, Wording};

use super::{drying, found, test_of, weigh_ins};

/// 4 + 1 parts and 1 part of reducer by volume.
const COMPONENTS: &str = r#"{ "role": "base", "parts": 4, "density_g_per_ml": 1.45 },
    { "role": "hardener", "parts": 1, "density_g_per_ml": 1.05 },
    { "role": "reducer", "parts": 1, "density_g_per_ml": 0.87 }"#;

fn sheet(candidate: &str, rest: &str, panel: &str) -> SheetCard {
    let test = test_of(&format!(
        r#"{rest} "candidates": [ {{ "id": "c", {candidate} }} ], "panels": [ {{ "id": "p", "candidate": "c" {panel} }} ]"#
    ));
    PanelCard::of(&test, test.panels.kept().next().unwrap()).sheet
}

fn stated(stated_for: &str, components: &str) -> SheetCard {
    let candidate = format!(
        r#""mix": {{ "components": [ {components} ] }}, "sheet": {{ {stated_for} "solids_by_volume": 0.5, "solids_by_weight": 0.7,
        "density_g_per_ml": 1.37 }}"#
    );
    sheet(&candidate, "", "")
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-9, "{got}, not {wanted}");
}

#[test]
fn a_sheet_for_the_mix_is_taken_as_it_stands() {
    let card = stated(r#""stated_for": "mix","#, COMPONENTS);
    near(card.thinning, 0.0);
    near(card.density_sprayed.unwrap().value, 1.37);
    near(card.solids_by_volume.unwrap().value, 0.5);
}

#[test]
fn a_sheet_for_the_mix_before_reducer_is_thinned() {
    for says in [r#""stated_for": "mix_unreduced","#, ""] {
        let card = stated(says, COMPONENTS);
        // One part on five.
        near(card.thinning, 0.2);
        near(card.density.unwrap().value, 1.37);
        near(card.density_sprayed.unwrap().value, (1.37 + 0.2 * 0.87) / 1.2);
        assert!(card.why.is_none());
    }
}

#[test]
fn a_sheet_for_the_base_is_good_for_a_one_pack_primer_alone() {
    let one_pack = r#"{ "role": "base" }, { "role": "reducer", "share": 0.15, "density_g_per_ml": 0.87 }"#;
    let card = stated(r#""stated_for": "base","#, one_pack);
    near(card.thinning, 0.15);
    near(card.density_sprayed.unwrap().value, (1.37 + 0.15 * 0.87) / 1.15);
    let two_pack = stated(r#""stated_for": "base","#, COMPONENTS);
    assert!(two_pack.solids_by_volume.is_none() && two_pack.density.is_none());
    assert!(two_pack.why.unwrap().said(&Wording::default()).contains("what solids the hardener brings"));
    // The density as sprayed is known all the same: that of what is in the cup, 7.72 g in 6 mL.
    near(two_pack.density_sprayed.unwrap().value, (4.0 * 1.45 + 1.05 + 0.87) / 6.0);
}

#[test]
fn parts_by_weight_thin_by_volume() {
    // 100 g at 1.25 are 80 mL, 25 g at 1.0 are 25 mL, 18.9 g at 0.9 are 21 mL: a fifth.
    let with_reducer = |density: &str| {
        let candidate = format!(
            r#""mix": {{ "basis": "weight", "components": [ {{ "role": "base", "parts": 100, "density_g_per_ml": 1.25 }},
            {{ "role": "hardener", "parts": 25, "density_g_per_ml": 1.0 }}, {{ "role": "reducer", "parts": 18.9 {density} }} ] }},
            "sheet": {{ "solids_by_volume": 0.5 }}"#
        );
        sheet(&candidate, "", "")
    };
    near(with_reducer(r#", "density_g_per_ml": 0.9"#).thinning, 0.2);
    let unknown = with_reducer("");
    assert!(unknown.solids_by_volume.is_none());
    assert!(unknown.why.unwrap().said(&Wording::default()).starts_with("Give the density of the reducer"));
}

#[test]
fn what_was_poured_counts_for_the_panels_of_that_cup() {
    let candidate = format!(r#""mix": {{ "components": [ {COMPONENTS} ] }}, "sheet": {{ "solids_by_volume": 0.5 }}"#);
    // Twice the reducer, by mistake.
    let cup = r#""mixes": [ { "id": "m", "candidate": "c", "poured_g": [290, 52.5, 87] } ],"#;
    near(sheet(&candidate, cup, r#", "mix": "m""#).thinning, 0.4);
    near(sheet(&candidate, cup, "").thinning, 0.2);
    let half = r#""mixes": [ { "id": "m", "candidate": "c", "poured_g": [290, 52.5] } ],"#;
    near(sheet(&candidate, half, r#", "mix": "m""#).thinning, 0.2);
}

/// By hand, from rows of the check values: the dish of 1.5020, 2.0031 and 1.8287 g holds 65.2 % solids; 134.15 g in 100 mL.
#[test]
fn a_dish_and_a_cup_speak_for_the_mix_as_sprayed() {
    let dish = |dry: &str| {
        let candidate = format!(
            r#""measured": {{ "dish_empty_g": 1.502, "dish_wet_g": 2.0031, {dry} "cup_empty_g": 36.2, "cup_full_g": 170.35,
            "cup_ml": 100 }}, "sheet": {{ "density_g_per_ml": 1.5 }}"#
        );
        sheet(&candidate, r#""balance": { "division_g": 0.0001 },"#, "")
    };
    let card = dish(r#""dish_dry_g": 1.8287,"#);
    let (density, solids) = card.measured.unwrap();
    assert!((density.value - 1.3415).abs() < 1e-9 && (solids.value - 0.651_966).abs() < 1e-6);
    near(card.density_sprayed.unwrap().value, 1.3415);
    assert!(dish("").measured.is_none());
}

/// By hand: 224.8 µm of wet film (the posterior mean published with the method) × 0.5 / 1.2.
#[test]
fn the_data_sheets_route_is_that_of_the_reduced_mix() {
    let build = |stated_for: &str| {
        let dab = r#"{ "wetted_um": 200, "dry_um": 250 }"#;
        let test = test_of(&format!(
            r#""balance": {{ "division_g": 0.1 }}, "candidates": [ {{ "id": "c", "mix": {{ "components": [ {COMPONENTS} ] }},
            "sheet": {{ "stated_for": "{stated_for}", "solids_by_volume": 0.5 }} }} ],
            "panels": [ {{ "candidate": "c", "bare_g": 400, "coated_cm2": 900, "dabs": [ {dab}, {dab}, {dab} ], "weigh_ins": [ {} ] }} ]"#,
            weigh_ins(&drying(400.0))
        ));
        let findings = found(&test);
        let route = findings.panels[0].routes.iter().find(|route| route.name() == "data sheet").unwrap();
        (route.final_build_um.map(|build| build.mid), route.why.of("final_build_um").map(str::to_owned))
    };
    assert!((build("mix").0.unwrap() - 112.4).abs() < 0.1);
    assert!((build("mix_unreduced").0.unwrap() - 112.4 / 1.2).abs() < 0.1);
    let (none, why) = build("base");
    assert!(none.is_none() && why.unwrap().contains("stated for the base alone"));
}

/// Stated for all that is in the cup, without its density: that of what is in the cup, 7.72 g in 6 mL, or 1.45 of a base alone.
#[test]
fn a_sheet_for_the_mix_without_its_density_takes_that_of_its_parts() {
    let without = |components: &str| {
        let mix = format!(r#""mix": {{ "components": [ {components} ] }}, "sheet": {{ "stated_for": "mix" }}"#);
        sheet(&mix, "", "").density_sprayed.map(|density| density.value)
    };
    near(without(COMPONENTS).unwrap(), (4.0 * 1.45 + 1.05 + 0.87) / 6.0);
    near(without(r#"{ "role": "base", "parts": 1, "density_g_per_ml": 1.45 }"#).unwrap(), 1.45);
    assert_eq!(without(r#"{ "role": "base", "parts": 4 }, { "role": "hardener", "parts": 1 }"#), None);
}

/// A share lost of a coat that comb and density stand in for is of the coat as sprayed, reducer and all.
#[test]
fn a_share_of_an_estimated_coat_is_of_the_coat_as_sprayed() {
    let dab = r#"{ "wetted_um": 200, "dry_um": 250 }"#;
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "candidates": [ {{ "id": "c", "mix": {{ "components": [ {COMPONENTS} ] }},
        "sheet": {{ "density_g_per_ml": 1.37 }} }} ],
        "panels": [ {{ "candidate": "c", "coated_cm2": 900, "dabs": [ {dab}, {dab}, {dab} ], "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(&drying(400.0))
    ));
    let findings = found(&test);
    let (panel, told) = (&findings.panels[0], &findings.candidates[0]);
    let share = told.mean(comb_scale::findings::By::LossShare).mean.unwrap().mid;
    let lost_g = panel.wet_gross_g.unwrap() - panel.forecast.as_ref().unwrap().final_gross_g.mid;
    assert!((share / (lost_g / panel.wet_coat_g.unwrap()) - 1.0).abs() < 0.02, "{share}");
}

/// No panel of two has the number, each for a reason of its own: both are said, with whose they are.
#[test]
fn reasons_that_differ_say_whose_they_are() {
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "candidates": [ {{ "id": "c" }} ],
        "panels": [ {{ "label": "A1", "candidate": "c", "weigh_ins": [ {} ] }},
            {{ "label": "A2", "candidate": "c", "bare_g": 400, "weigh_ins": [ {} ] }} ]"#,
        weigh_ins(&drying(400.0)),
        weigh_ins(&drying(400.0)[..2])
    ));
    let findings = found(&test);
    let table = side_by_side(&test, &findings, &Wording::default());
    let cell = &table.rows.iter().find(|row| row.key == RowKey::Mean(By::LossShare)).unwrap().cells[0];
    assert_eq!(cell.value, "–");
    assert!(cell.below.contains("A1: The panel was not weighed bare"), "{}", cell.below);
    assert!(cell.below.contains("A2: A drying curve needs"), "{}", cell.below);
}

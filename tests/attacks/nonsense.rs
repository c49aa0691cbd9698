//! Numbers that cannot be: each is stored as it was typed, said to be odd in one sentence, and nothing absurd is told of it.

use comb_scale::findings::results::panel_figures;
use comb_scale::findings::results::side_by_side;
use comb_scale::findings::words::odd_said;
use comb_scale::findings::{Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::{SprayTest, open, write};

use super::{Attacks, holds, same};

fn test_of(inside: &str) -> SprayTest {
    let text = format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {inside} }}"#);
    let opened = open(&text).expect("it opens");
    assert!(opened.remarks.is_empty(), "{:?} of {inside}", opened.remarks);
    opened.test
}

const SHEET: &str = r#""wet_film_um": 110, "dry_film_um": 55, "solids_by_volume": 0.5, "solids_by_weight": 0.7, "density_g_per_ml": 1.4, "pot_life_min": 60, "flash_min": 10, "coats": 2"#;

/// Lines of a sheet in place of sound ones, and what is said.
const SHEETS: [(&str, &str); 31] = [
    (r#""dry_film_um": 180"#, "More than the wet film"),
    (r#""dry_film_um": 111"#, "More than the wet film"),
    (r#""dry_film_um": 90"#, "make 55 µm"),
    (r#""dry_film_um": 20"#, "make 55 µm"),
    (r#""wet_film_um": 300"#, "make 150 µm"),
    (r#""solids_by_volume": 0.2"#, "make 22 µm"),
    (r#""wet_film_um": 4000, "dry_film_um": 2000"#, "right unit"),
    (r#""wet_film_um": 2, "dry_film_um": 1"#, "right unit"),
    (r#""solids_by_volume": 0"#, "nothing would stay"),
    (r#""solids_by_weight": 0"#, "nothing would stay"),
    (r#""solids_by_volume": 0.7, "solids_by_weight": 0.5, "dry_film_um": 77"#, "denser"),
    (r#""solvent_density_g_per_ml": 12"#, "No solvent is like that: 0.6 g/mL to 1.4 g/mL."),
    (r#""solvent_density_g_per_ml": 0.3"#, "No solvent"),
    (r#""density_g_per_ml": 12"#, "No primer"),
    (r#""density_g_per_ml": 0.4"#, "No primer"),
    (r#""dry_density_g_per_ml": 11"#, "No dry film"),
    (r#""dry_density_g_per_ml": 1.1"#, "though only solvent leaves"),
    (r#""voc_g_per_l": 900"#, "More than all that leaves"),
    (r#""coats": 0"#, "so many coats"),
    (r#""coats": 40"#, "so many coats"),
    (r#""pot_life_min": 0"#, "hard at once"),
    (r#""standing_min": 60"#, "before it is sprayed"),
    (r#""standing_min": 500"#, "before it is sprayed"),
    (r#""flash_min": 60"#, "before the next coat"),
    (r#""flash_min": 90"#, "before the next coat"),
    (r#""flash_min": 40, "standing_min": 30"#, "longer than the pot life"),
    (r#""coats": 8"#, "longer than the pot life"),
    (r#""recoat_h": 0.1"#, "Sooner than the flash-off"),
    (r#""sanding_h": 0"#, "Sooner than the flash-off"),
    (r#""pot_life_min": 90000, "flash_min": 2000"#, "More than a day"),
    (r#""air_c": [ 35, 10 ]"#, "warmer than the highest"),
];

/// A whole part of the record, and what is said.
const PARTS: [(&str, &str); 35] = [
    (
        r#""candidates": [ { "measured": { "dish_empty_g": 10, "dish_wet_g": 14, "dish_dry_g": 15 } } ]"#,
        "Heavier than with wet",
    ),
    (
        r#""candidates": [ { "measured": { "dish_empty_g": 10, "dish_wet_g": 14, "dish_dry_g": 9 } } ]"#,
        "Lighter than the empty dish",
    ),
    (r#""candidates": [ { "measured": { "dish_empty_g": 10, "dish_wet_g": 8 } } ]"#, "Lighter than the empty dish"),
    (r#""candidates": [ { "measured": { "dish_empty_g": 10, "dish_wet_g": 10 } } ]"#, "no primer in it"),
    (r#""candidates": [ { "measured": { "cup_empty_g": 100, "cup_full_g": 90 } } ]"#, "Lighter than the empty cup"),
    (r#""candidates": [ { "measured": { "cup_empty_g": 100, "cup_full_g": 240, "cup_ml": 0 } } ]"#, "holds nothing"),
    (r#""candidates": [ { "measured": { "cup_empty_g": 100, "cup_full_g": 240, "cup_ml": 10 } } ]"#, "14.00 g/mL"),
    (r#""candidates": [ { "measured": { "cup_empty_g": 100, "cup_full_g": 110, "cup_ml": 100 } } ]"#, "0.10 g/mL"),
    (r#""candidates": [ { "mix": { "components": [ { "density_g_per_ml": 11 } ] } } ]"#, "so light or so heavy"),
    (r#""candidates": [ { "mix": { "components": [ { "density_g_per_ml": 0.3 } ] } } ]"#, "so light or so heavy"),
    (r#""candidates": [ { "mix": { "components": [ { "parts": 0 } ] } } ]"#, "With no part of it"),
    (
        r#""candidates": [ { "mix": { "components": [ { "water_by_weight": 0.7, "exempt_by_weight": 0.6 } ] } } ]"#,
        "more than all of it",
    ),
    (
        r#""candidates": [ { "mix": { "components": [ { "voc_g_per_l": 1200, "density_g_per_ml": 0.9 } ] } } ]"#,
        "More than all of it weighs",
    ),
    (r#""panels": [ { "coated_cm2": 1 } ]"#, "Too small to weigh"),
    (r#""panels": [ { "coated_cm2": 19 } ]"#, "Too small to weigh"),
    (r#""panels": [ { "width_mm": 30, "length_mm": 30 } ]"#, "Too small to weigh"),
    (r#""panels": [ { "width_mm": 100, "length_mm": 100, "coated_cm2": 900 } ]"#, "More than both faces"),
    (r#""panels": [ { "width_mm": 5000, "length_mm": 300 } ]"#, "Too large for a scale"),
    (r#""panels": [ { "width_mm": 100, "length_mm": 300, "thickness_mm": 100 } ]"#, "Thicker than a side"),
    (r#""panels": [ { "width_mm": 100, "length_mm": 300, "thickness_mm": 30 } ]"#, "A slab"),
    (
        r#""panels": [ { "width_mm": 300, "length_mm": 300, "thickness_mm": 1, "bare_g": 40 } ]"#,
        "Steel of this size weighs about 707 g",
    ),
    (r#""panels": [ { "width_mm": 300, "length_mm": 300, "thickness_mm": 1, "bare_g": 4000 } ]"#, "Steel of this size"),
    (
        r#""panels": [ { "bare": [ { "at": "2026-03-02T12:00:00Z", "gross_g": 400 } ], "coats": [ { "at": "2026-03-02T10:00:00Z" } ] } ]"#,
        "dated after the first coat",
    ),
    (r#""panels": [ { "dabs": [ { "wetted_um": 200, "dry_um": 150 } ] } ]"#, "below the wetted one"),
    (
        r#""panels": [ { "dabs": [ { "wetted_um": 200, "at": "2026-03-01T10:00:00Z" } ], "coats": [ { "at": "2026-03-02T10:00:00Z" } ] } ]"#,
        "before the first coat",
    ),
    (
        r#""panels": [ { "spots": [ { "readings_um": [ 80 ], "at": "2026-03-01T10:00:00Z" } ], "coats": [ { "at": "2026-03-02T10:00:00Z" } ] } ]"#,
        "before the first coat",
    ),
    (r#""panels": [ { "spots": [ { "readings_um": [ 80 ], "shim_um": 500 } ] } ]"#, "are left out"),
    (r#""combs": [ { "edges": [ { "teeth_um": [ 100, 75, 125 ] } ] } ]"#, "do not rise"),
    (r#""combs": [ { "edges": [ { "teeth_um": [ 100, 100 ] } ] } ]"#, "do not rise"),
    (r#""wanted": { "dry_build_um": 15000 }"#, "No primer is built like that"),
    (r#""wanted": { "dry_build_um": 80, "sanding_loss_um": 90 }"#, "sanded off"),
    (r#""wanted": { "transfer_efficiency": 1 }"#, "No gun lands all"),
    (r#""wanted": { "transfer_efficiency": 0 }"#, "nothing lands"),
    (
        r#""balances": [ { "division_g": 50 } ], "panels": [ { "bare_g": 400, "weigh_ins": [ { "gross_g": 430 } ] } ]"#,
        "cannot see it dry",
    ),
    (r#""air": [ { "air_c": 120 } ]"#, "Nobody sprays at 120 °C"),
];

/// As much as a field takes of everything that a film is made of.
const EXTREMES: [(&str, &str); 8] = [
    (
        "a hundred kilograms on a square centimetre",
        r#""coated_cm2": 1, "bare_g": 1, W: 100000, 50000, 40000, 30000, 20000"#,
    ),
    ("a coat that comes and goes", r#""coated_cm2": 1, "bare_g": 400, W: 99000, 500, 99000, 400, 98000"#),
    ("a loss of all there is", r#""coated_cm2": 1, "bare_g": 0, W: 100000, 1, 0, 0, 0"#),
    ("a panel that only gains", r#""coated_cm2": 1, "bare_g": 400, W: 500, 5000, 50000, 90000, 100000"#),
    ("one gram on ten square metres", r#""coated_cm2": 100000, "bare_g": 400, W: 401, 400.9, 400.8, 400.7, 400.7"#),
    ("a coat below its panel", r#""coated_cm2": 900, "bare_g": 500, W: 400, 399, 398, 397, 397"#),
    ("equal weights", r#""coated_cm2": 1, "bare_g": 400, W: 400, 400, 400, 400, 400"#),
    (
        "a thick comb reading",
        r#""coated_cm2": 1, "bare_g": 400, "dabs": [ { "wetted_um": 20000 } ], W: 99999, 99998, 99997, 99996, 99996"#,
    ),
];

fn extreme(panel: &str, sheet: &str) -> SprayTest {
    let (fields, weights) = panel.split_once("W: ").unwrap();
    let of = |id: &str| {
        let weigh_ins: Vec<String> = (weights.split(", ").enumerate())
            .map(|(i, g)| format!(r#"{{ "at": "2026-03-0{}T10:00:00Z", "gross_g": {g} }}"#, 2 + i))
            .collect();
        format!(
            r#"{{ "id": "{id}", "label": "{id}", "candidate": "{}", {fields} "weigh_ins": [ {} ] }}"#,
            &id[..1],
            weigh_ins.join(", ")
        )
    };
    let candidates =
        ["a", "b"].map(|id| format!(r#"{{ "id": "{id}", "label": "{id}", "sheet": {{ {sheet} }} }}"#)).join(", ");
    let panels = ["a1", "a2", "b1", "b2"].map(of).join(", ");
    test_of(&format!(
        r#""balances": [ {{ "division_g": 0.1 }} ], "wanted": {{ "dry_build_um": 80 }}, "candidates": [ {candidates} ], "panels": [ {panels} ]"#
    ))
}

/// The greatest film told anywhere in a text, µm.
fn greatest_film(text: &str) -> f64 {
    let words: Vec<&str> = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == 'µ' || c == 'm')).collect();
    let number = |pair: &[&str]| (pair[1] == "µm").then(|| pair[0].trim_matches('.').parse::<f64>().ok()).flatten();
    words.windows(2).filter_map(number).fold(0.0, f64::max)
}

fn tells_no_impossible_film(test: &SprayTest) -> Result<(), String> {
    let wording = Wording::default();
    let now: Instant = "2026-04-01T12:00:00Z".parse().unwrap();
    let found = of(test, now);
    let mut said: Vec<String> = found.said.iter().chain(&found.next).cloned().collect();
    for panel in &found.panels {
        said.extend(panel_figures(panel, &wording).into_iter().map(|figure| figure.value.unwrap_or(figure.note)));
        said.extend(panel.remarks.iter().cloned());
    }
    for row in side_by_side(test, &found, &wording).rows.iter().filter(|row| row.unit == "µm") {
        said.extend(row.cells.iter().map(|cell| format!("{} µm {} µm", cell.value, cell.below)));
    }
    for text in said {
        let film = greatest_film(&text);
        holds(film <= 30_000.0, format!("{film} µm in {text:?}"))?;
        holds(!text.contains("NaN") && !text.contains("inf "), text)?;
    }
    Ok(())
}

#[test]
fn numbers_that_cannot_be() {
    let mut attacks = Attacks::on("nonsense");
    let said = |test: &SprayTest| odd_said(test, &Wording::default());
    attacks.attempt("a sound sheet", || {
        same("what is odd", said(&test_of(&format!(r#""candidates": [ {{ "sheet": {{ {SHEET} }} }} ]"#))), Vec::new())
    });
    attacks.attempt("the worked example", || {
        same("what is odd", said(&open(comb_scale::record::EXAMPLE).unwrap().test), Vec::new())
    });
    let mut one = |name: &str, inside: &str, wanted: &str| {
        attacks.attempt(name, || {
            let test = test_of(inside);
            let said = said(&test);
            holds(said.iter().any(|line| line.contains(wanted)), format!("{said:?}, wanted {wanted:?}"))?;
            holds(said.len() <= 3, format!("too much is said: {said:?}"))?;
            same("as it was typed", open(&write(&test)).unwrap().test, test)
        });
    };
    for (lines, wanted) in SHEETS {
        let mut sheet: Vec<String> = SHEET.split(", ").map(str::to_owned).collect();
        for line in lines.split(", \"").map(|line| format!("\"{}", line.trim_start_matches('"'))) {
            let name = line.split(':').next().unwrap().to_owned();
            sheet.retain(|known| !known.starts_with(&name));
            sheet.push(line);
        }
        one(lines, &format!(r#""candidates": [ {{ "sheet": {{ {} }} }} ]"#, sheet.join(", ")), wanted);
    }
    for (inside, wanted) in PARTS {
        one(inside, inside, wanted);
    }
    for (name, panel) in EXTREMES {
        for (whose, sheet) in [
            ("no sheet", ""),
            (
                "a light solvent",
                r#""solvent_density_g_per_ml": 0.3, "density_g_per_ml": 0.3, "dry_density_g_per_ml": 0.3"#,
            ),
        ] {
            attacks.attempt(format!("{name}, {whose}"), || tells_no_impossible_film(&extreme(panel, sheet)));
        }
    }
    attacks.close();
}

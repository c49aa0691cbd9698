//! What is refused or missing, said in the units chosen: no µm to a painter who reads mil, and no digits that nobody typed.

use comb_scale::findings::mixing::{amount_said, pouring, take_reading, worth_of};
use comb_scale::findings::plan::{age_refused, repeats_said, set_schedule};
use comb_scale::findings::spray::{NoDab, RunSheet, air_said, typed_dab};
use comb_scale::findings::words::{object, read_row};
use comb_scale::findings::{Memory, Wording, gauge};
use comb_scale::quantity::{Instant, Manner};
use comb_scale::record::{Action, Id, Measure, Row, SprayTest};

use super::told;
use super::units::CUSTOMARY;
use super::{test_of, weigh_ins};

fn now() -> Instant {
    "2026-03-02T16:00:00Z".parse().unwrap()
}

/// Panels with these dabs, on a comb of 2 to 5 mil; the sheet is one that cannot be used.
fn with_dabs(dabs: &str) -> SprayTest {
    let weights = weigh_ins(&[(0.0, 440.1), (0.5, 437.2), (1.0, 436.3), (4.0, 435.0), (24.0, 434.1)]);
    test_of(&format!(
        r#""comb": {{ "teeth_um": [50.8, 76.19999999999999, 101.6, 127] }},
        "candidates": [ {{ "id": "c", "label": "Grey",
            "sheet": {{ "standing_min": 90, "pot_life_min": 60, "solids_by_volume": 0.4 }},
            "mix": {{ "basis": "weight", "components": [ {{ "id": "b", "role": "base", "parts": 4, "pack_l": 3.5 }},
                {{ "id": "h", "role": "hardener", "parts": 1, "voc_g_per_l": 420 }} ] }} }} ],
        "mixes": [ {{ "id": "m", "candidate": "c", "at": "2026-03-02T09:30:00Z" }} ],
        "dry_gauge": {{ "base_metal_um": [2.54, 2.54, 3.7999999999999994] }},
        "air": [ {{ "id": "a", "at": "2026-03-02T08:00:00Z", "air_c": 70, "humidity_pct": 50, "panel_c": 65 }} ],
        "panels": [ {{ "id": "p", "label": "A1", "candidate": "c", "mix": "m", "bare_g": 412.5, "width_mm": 300, "length_mm": 300,
            "coats": [ {{ "id": "1", "at": "2026-03-02T09:59:00Z" }} ], "dabs": [ {dabs} ],
            "spots": [ {{ "id": "s", "at": "2026-03-12T10:00:00Z", "place": "top",
                "readings_um": [76.19999999999999, 78.74, 50.8], "shim_um": 25.399999999999995 }} ],
            "weigh_ins": [ {weights} ] }} ]"#
    ))
}

/// All that is told of a test, with what each screen says of what is amiss.
fn all_said(test: &SprayTest, wording: &Wording) -> String {
    let mut memory = Memory::default();
    let found = memory.of(test, now(), wording);
    let mut said = vec![told::told(test, &found, wording)];
    for panel in &found.panels {
        said.extend(panel.remarks.clone());
        said.extend(panel.flags.iter().map(|flag| flag.says.clone()));
    }
    let air = air_said(test, now(), wording);
    said.push(air.line);
    said.extend(air.amiss);
    said.extend(RunSheet::of(test, now()).runs.into_iter().flat_map(|run| run.amiss));
    let panels = memory.panels(test, wording);
    said.extend(gauge::gauge_said(&panels, &"p".into(), wording));
    said.extend([gauge::base_metal_said(test, wording), gauge::base_metal_readings(test, wording)]);
    for panel in test.panels.kept() {
        said.extend(panel.spots.kept().map(|spot| gauge::spot_said(test, panel, spot, wording)));
        said.extend(gauge::series_said(test, panel, wording));
    }
    for candidate in test.candidates.kept() {
        said.push(amount_said(test, candidate, wording));
        said.extend(worth_of(test, candidate, wording).into_iter().map(|figure| figure.note));
        said.extend(pouring(test, &candidate.id, wording).err());
        said.extend([-1.0, 0.0, 1e9].map(|g| take_reading(test, &candidate.id, g, "new".into(), wording).unwrap_err()));
    }
    said.extend(test.balances.kept().map(|balance| repeats_said(test, &balance.id, wording)));
    said.join("\n")
}

/// More digits behind the mark than anybody reads.
fn dusty(text: &str) -> Option<&str> {
    let digits = |part: &str| part.find(|c: char| !c.is_ascii_digit()).unwrap_or(part.len());
    text.split_whitespace().find(|word| word.split(['.', ',']).skip(1).any(|part| digits(part) > 4))
}

#[track_caller]
fn assert_clean(said: &str) {
    // As it stands in a fixed sentence of ours: names of norms, and the gram of a formula, are not in it.
    for unit in ["µm", "°C", "g/mL", "cm²", " mm", " mL"] {
        let line = said.lines().find(|line| line.contains(unit));
        assert_eq!(line, None, "{unit}");
    }
    assert_eq!(dusty(said), None, "{said}");
}

#[test]
fn what_is_amiss_is_told_in_the_units_chosen() {
    let wording = Wording { units: CUSTOMARY, division_g: None };
    for (dabs, says) in [
        // Backwards, beside one that can be read; and alone.
        (
            r#"{ "id": "1", "wetted_um": 101.6, "dry_um": 76.19999999999999 }, { "id": "2", "wetted_um": 50.8, "dry_um": 76.19999999999999 }"#,
            "A comb reading is left out: The first dry tooth (3 mil) must be above the last wetted one (4 mil).",
        ),
        (
            r#"{ "id": "1", "wetted_um": 101.6, "dry_um": 76.19999999999999 }"#,
            "The first dry tooth (3 mil) must be above the last wetted one (4 mil).",
        ),
        // The one just touched below the wetted; beyond the longest of the comb, and beyond any that it has.
        (
            r#"{ "id": "1", "wetted_um": 101.6, "touched_um": 76.19999999999999 }"#,
            "The touched tooth (3 mil) must be the next one above 4 mil.",
        ),
        (r#"{ "id": "1", "wetted_um": 127 }"#, "it is more than 5 mil, and only a longer comb says more."),
        (
            r#"{ "id": "1", "wetted_um": 152.39999999999998 }"#,
            "it is more than 6 mil, and only a longer comb says more.",
        ),
        ("", "There is no comb reading"),
    ] {
        let test = with_dabs(dabs);
        Manner { units: CUSTOMARY, ..Manner::PLAIN }.during(|| {
            let said = all_said(&test, &wording);
            assert_clean(&said);
            assert!(said.contains(says), "{says}\n{said}");
            // The air, the cup and the mix are as wrong in each.
            for says in [
                "The air temperature must lie between −40.0 °F and 140.0 °F.",
                "The time to stand before use must lie between 0 min and 60 min.",
                "Give the density of the base: without it",
            ] {
                assert!(said.contains(says), "{says}\n{said}");
            }
        });
    }
}

#[test]
fn what_is_typed_is_refused_in_the_unit_it_was_typed_in() {
    let wording = Wording { units: CUSTOMARY, division_g: None };
    let test = with_dabs("");
    Manner { units: CUSTOMARY, ..Manner::PLAIN }.during(|| {
        let teeth = |typed: &str| {
            let teeth_um = read_row(Measure::Film, typed, &wording).unwrap();
            object(&test, &Action::List(Row::Teeth(Id::from("k")), teeth_um), now(), &wording).unwrap().to_string()
        };
        let dab = |wetted: &str, dry: &str| typed_dab(&test, wetted, dry, true, &wording).unwrap_err();
        let backwards = typed_dab(&test, "3", "2", false, &wording).unwrap().action(&test, "p".into(), now());
        let said = [
            teeth("3 2"),
            teeth("0.7 0.7"),
            teeth("4 3.937007874015748"),
            object(&test, &backwards, now(), &wording).unwrap().to_string(),
            dab("1000", "").said(),
            dab("3x", "").said(),
            dab("4", "5").said(),
            age_refused(set_schedule(&[-1.0]).unwrap_err()),
            age_refused(set_schedule(&[0.0, 1e9]).unwrap_err()),
            age_refused(set_schedule(&[f64::NAN]).unwrap_err()),
        ];
        assert_clean(&said.join("\n"));
        assert_eq!(said[4], "A tooth must lie between 0 and 787.4 mil.");
        assert!(matches!(dab("4", "5"), NoDab::NoneBetween));
    });
}

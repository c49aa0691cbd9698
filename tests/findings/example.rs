use std::process::Command;

use comb_scale::findings::gauge::series_said;
use comb_scale::findings::mixing::{cups_said, worth_of};
use comb_scale::findings::plan::gaps_said;
use comb_scale::findings::results::{answer, panel_figures, side_by_side};
use comb_scale::findings::spray::{RunSheet, Task};
use comb_scale::findings::words::{air_warnings, corrected_said};
use comb_scale::findings::{By, Findings, FlagKind, Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::{EXAMPLE, SprayTest, open};
use expect_test::expect;

use super::reads;

/// What the example was made with (tests/files/make_example.py): name, panels, solids by weight and by volume, and the film in
/// µm that its law leaves to go 72 h after the wet weight, film × (1 − solids by volume) × share of the solvent left.
const MADE_WITH: [(&str, usize, f64, f64, f64); 3] = [
    ("Buff undercoat", 3, 0.735, 0.530, 2.3),
    ("Grey undercoat", 3, 0.665, 0.464, 24.7),
    ("White undercoat", 1, 0.690, 0.480, 9.1),
];

fn now() -> Instant {
    "2026-03-20T10:00:00+01:00".parse().unwrap()
}

fn example() -> (SprayTest, Findings) {
    let opened = open(EXAMPLE).unwrap();
    assert_eq!(opened.remarks, []);
    let findings = of(&opened.test, now());
    (opened.test, findings)
}

#[test]
fn the_worked_example_says_what_it_was_made_with() {
    let (test, findings) = example();
    assert!(test.invented);
    assert_eq!(findings.candidates.len(), MADE_WITH.len());
    for (label, panels, by_weight, _, to_go_um) in MADE_WITH {
        let candidate = findings.candidates.iter().find(|c| c.label == label).unwrap();
        assert_eq!(candidate.panels, panels, "{label}");
        for (by, truth) in [(By::LossShare, 1.0 - by_weight), (By::FilmStillToGo, to_go_um)] {
            let told = candidate.mean(by).mean.unwrap();
            assert!(told.low <= truth && truth <= told.high, "{label}: {told:?} misses {truth}");
        }
    }
    let answer = answer(&findings, &Wording::default());
    let states: Vec<&str> = answer.glances.iter().map(|glance| glance.state).collect();
    assert_eq!(states, ["weight steady", "still losing", "weight steady"]);
    assert!(findings.said[0].starts_with("Shrinkage to come after day 3: Buff undercoat "), "{:?}", findings.said);
    assert!(findings.said.last().unwrap().contains("adhesion"));
}

#[test]
fn nothing_is_missing_in_the_worked_example() {
    let (test, findings) = example();
    let wording = Wording::default();
    assert_eq!(answer(&findings, &wording).footnotes, [""; 0]);
    for row in side_by_side(&test, &findings, &wording).rows {
        assert!(row.cells.iter().all(|cell| cell.value != "–"), "{}: {:?}", row.name, row.cells);
    }
    for (label, _, by_weight, by_volume, _) in MADE_WITH {
        let candidate = test.candidates.kept().find(|candidate| candidate.label == label).unwrap();
        reads(gaps_said(&test, &candidate.id), expect!["Data sheet: complete"]);
        let sheet =
            [candidate.sheet.solids_by_weight, candidate.sheet.solids_by_volume].map(|of| f64::from(of.unwrap()));
        assert!((sheet[0] - by_weight).abs() < 1e-9 && (sheet[1] - by_volume).abs() < 1e-3, "{label}: {sheet:?}");
        let worth = worth_of(&test, candidate, &wording);
        assert!(worth.len() == 3 && worth.iter().all(|figure| figure.value.is_some()), "{worth:?}");
        assert!(cups_said(&test, &candidate.id, &wording).iter().all(|cup| cup.ends_with("as the recipe says")));
        assert!(air_warnings(&test, &candidate.id, &wording).is_empty());
    }
    assert_eq!(findings.panels.len(), 7);
    for told in &findings.panels {
        assert!(told.why.is_empty(), "{}: {:?}", told.label, told.why);
        for figure in panel_figures(told, &wording) {
            assert!(figure.value.is_some(), "{}: {} {}", told.label, figure.name, figure.note);
        }
        let build = told.final_build_um.unwrap();
        assert!(build.low < build.mid && build.mid < build.high);
        let panel = test.panels.find(&told.id).unwrap();
        assert_eq!(series_said(&test, panel, &wording).len(), 3, "gauged at two ages on three places");
    }
}

#[test]
fn its_spray_day_is_over_and_no_clock_runs() {
    let (test, _) = example();
    let oldest = test.rounds.kept().next().unwrap().at.unwrap();
    for now in [oldest.plus_hours(4.0), now()] {
        let sheet = RunSheet::of(&test, now);
        assert_eq!((sheet.before, sheet.front), (Task::Nothing, None));
        for run in &sheet.runs {
            assert_eq!((run.words().as_str(), run.clock, run.pot), ("sprayed and weighed", None, None));
            assert_eq!((run.planned, run.amiss.as_slice()), (Some(2), &[][..]), "{}", run.label);
        }
    }
}

/// One slip, one jump of the scale, one move into the sun, and all of them told.
#[test]
fn only_what_was_put_in_is_corrected() {
    let (test, findings) = example();
    let flagged: Vec<&str> =
        findings.panels.iter().flat_map(|panel| panel.flags.iter().map(|flag| flag.weigh_in.0.as_str())).collect();
    assert_eq!(flagged, ["g2-r8"], "only the slip that was put in is flagged");
    let corrected = corrected_said(&test, &findings, &Wording::default());
    assert_eq!(corrected.len(), 2, "{corrected:?}");
    assert_eq!(
        corrected[0],
        "Between 11 Mar and 12 Mar the scale jumped by +1.2 g, as the blank shows. That is taken off B1, B2, B3, G1, G2, G3, W1."
    );
    assert!(corrected[1].starts_with("G2, Fri 6 Mar ") && corrected[1].contains("+3.0 g off"), "{corrected:?}");
    assert_eq!(test.moves.kept().map(|moved| moved.to.as_str()).collect::<Vec<_>>(), ["Sun"]);
}

#[test]
fn the_committed_example_is_what_its_script_writes() {
    let root = env!("CARGO_MANIFEST_DIR");
    let Ok(made) = Command::new("python3").arg(format!("{root}/tests/files/make_example.py")).output() else {
        // No Python on this machine: the script only matters where the example is changed.
        return;
    };
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    assert_eq!(String::from_utf8(made.stdout).unwrap(), EXAMPLE);
}

#[test]
fn panels_swapped_in_the_newest_round_are_pointed_out_to_each_other() {
    let mut record: serde_json::Value = serde_json::from_str(EXAMPLE).unwrap();
    let newest = record["rounds"].as_array().unwrap().len() - 1;
    let mut weights = Vec::new();
    for label in ["G2", "G3"] {
        let id = format!("{}-r{newest}", label.to_lowercase());
        let panels = record["panels"].as_array().unwrap();
        let (p, panel) = panels.iter().enumerate().find(|(_, panel)| panel["label"] == label).unwrap();
        let (w, weigh_in) =
            panel["weigh_ins"].as_array().unwrap().iter().enumerate().find(|(_, w)| w["id"] == id.as_str()).unwrap();
        weights.push((p, w, weigh_in["gross_g"].clone()));
    }
    let (one, other) = (weights[0].clone(), weights[1].clone());
    record["panels"][one.0]["weigh_ins"][one.1]["gross_g"] = other.2;
    record["panels"][other.0]["weigh_ins"][other.1]["gross_g"] = one.2;
    let test = open(&record.to_string()).unwrap().test;
    let findings = of(&test, "2026-03-16T10:00:00+01:00".parse().unwrap());
    for (label, with) in [("G2", "g3"), ("G3", "g2")] {
        let panel = findings.panels.iter().find(|panel| panel.label == label).unwrap();
        let swapped = panel.flags.iter().find(|flag| flag.kind == FlagKind::LooksSwapped).expect("the swap is seen");
        assert_eq!(swapped.swap_with.as_ref().unwrap().0, with);
        assert_eq!(swapped.swap_weigh_in.as_ref().unwrap().0, format!("{with}-r{newest}"));
    }
}

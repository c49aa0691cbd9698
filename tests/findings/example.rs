use std::process::Command;

use comb_scale::findings::{By, of};
use comb_scale::record::{EXAMPLE, open};

#[test]
fn the_worked_example_is_marked_as_invented_and_shows_what_it_should() {
    let opened = open(EXAMPLE).unwrap();
    assert_eq!(opened.remarks, []);
    assert!(opened.test.invented);
    let findings = of(&opened.test, "2026-03-16T10:00:00+01:00".parse().unwrap());
    assert_eq!(findings.panels.len(), 6);
    for panel in &findings.panels {
        assert!(panel.why.is_empty(), "{}: {:?}", panel.label, panel.why);
        let build = panel.final_build_um.unwrap();
        assert!(build.low < build.mid && build.mid < build.high);
    }
    // What it was made with: grey solids 66.5 %, buff 73.5 % by weight (tests/files/make_example.py).
    for (label, solids) in [("Grey undercoat", 0.665), ("Buff undercoat", 0.735)] {
        let candidate = findings.candidates.iter().find(|c| c.label == label).unwrap();
        let lost = candidate.mean(By::LossShare).mean.unwrap();
        assert!(lost.low <= 1.0 - solids && 1.0 - solids <= lost.high, "{label}: {lost:?}");
    }
    let slipped = findings.panels.iter().find(|panel| panel.label == "G2").unwrap();
    assert_eq!(slipped.flags.iter().map(|f| f.weigh_in.0.as_str()).collect::<Vec<_>>(), ["g2-r8"]);
    let others = findings.panels.iter().filter(|panel| panel.label != "G2");
    assert!(others.flat_map(|panel| &panel.flags).next().is_none(), "only the slip that was put in is flagged");
    assert!(findings.said[0].starts_with("Film still to go after day 3: Buff undercoat "), "{:?}", findings.said);
    assert!(findings.said.last().unwrap().contains("adhesion"));
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
    let newest = record["rounds"].as_array().unwrap().len();
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
        let swapped = panel.flags.iter().find(|flag| flag.kind == "looks_swapped").expect("the swap is seen");
        assert_eq!(swapped.swap_with.as_ref().unwrap().0, with);
        assert_eq!(swapped.swap_weigh_in.as_ref().unwrap().0, format!("{with}-r{newest}"));
    }
}

//! One answer to each question of the trade: what two phones weighed is told alike on every screen.

use crate::{found, test_of};
use comb_scale::findings::facts::{bare_weight, wet_weighing};
use comb_scale::findings::results::{FigureKey, worked_figure};
use comb_scale::findings::words::{object, odd_said};
use comb_scale::findings::{Memory, Wording, facts, spray};
use comb_scale::quantity::{Grams, Instant, Quantity};
use comb_scale::record::{Action, History, Id, Owner, SprayTest, merge};

fn at(time: &str) -> Instant {
    format!("2026-03-02T{time}:00Z").parse().unwrap()
}

fn grams(g: f64) -> Grams {
    Grams::new(g).unwrap()
}

/// A panel that each phone weighed bare, as `weights` has it from phone to phone, joined; with the steps of its scale.
fn weighed_bare(step: &str, weights: &[&[f64]]) -> (SprayTest, Id) {
    let plain = test_of(&format!(
        r#""balances": [ {{ "id": "s"{step} }} ], "candidates": [ {{ "id": "c" }} ],
           "panels": [ {{ "id": "p", "label": "A1", "candidate": "c" }} ]"#
    ));
    let panel = plain.panels.kept().next().unwrap().id.clone();
    let phone = |(i, own): (usize, &&[f64])| {
        let mut history = History::new(plain.clone(), &format!("phone {i}"));
        for (j, g) in own.iter().enumerate() {
            let at = at(&format!("08:{:02}", 10 * j + i));
            history.act(Action::WeighBare { panel: panel.clone(), at, gross_g: grams(*g) }).unwrap();
        }
        history.test().clone()
    };
    let phones: Vec<SprayTest> = weights.iter().enumerate().map(phone).collect();
    let joined = phones.iter().skip(1).fold(phones[0].clone(), |mine, theirs| merge(&mine, theirs).test);
    (joined, panel)
}

/// The test goes on: sprayed, and weighed wet and later.
fn gone_on(test: &SprayTest, panel: &Id) -> SprayTest {
    let mut history = History::new(test.clone(), "one");
    history.act(Action::Coat { panels: vec![panel.clone()], at: at("09:00") }).unwrap();
    for (time, g) in [("09:05", 440.0), ("12:00", 438.0)] {
        let owner = Owner::Panel(panel.clone());
        history.act(Action::Weigh { owner, round: None, at: at(time), gross_g: grams(g) }).unwrap();
    }
    history.test().clone()
}

#[test]
fn a_bare_weight_of_two_phones_is_the_same_on_every_screen() {
    let step = r#", "division_g": 0.1"#;
    for (step, weights, says, coat, panels_off) in [
        (step, &[&[400.0][..]][..], "400.0 g", "40.0 g", false),
        (step, &[&[400.0], &[400.4]], "400.2 g", "39.8 g", false),
        (step, &[&[400.0], &[400.4], &[400.2]], "400.2 g", "39.8 g", false),
        // One phone weighed it twice, and saw that it was wrong at first.
        (step, &[&[380.0, 400.4], &[400.0]], "400.2 g", "39.8 g", true),
        // The newest counts where they contradict each other.
        (step, &[&[400.0], &[412.0]], "412.0 g", "28.0 g", true),
        (step, &[&[400.0], &[400.6]], "400.6 g", "39.4 g", true),
        // Nobody noted the step: as it was typed.
        ("", &[&[400.02], &[400.04]], "400.03 g", "39.97 g", false),
    ] {
        let (bare, panel) = weighed_bare(step, weights);
        let test = gone_on(&bare, &panel);
        let wording = Wording { division_g: facts::step_g(&test), ..Wording::default() };
        let case = format!("{weights:?}");
        // Spray: beside the field, and the coat by the wet weight.
        let count = bare_weight(&test, &test.panels.kept().next().unwrap().clone()).unwrap().weighings;
        let hint = spray::bare_hint(&test, &panel, &wording);
        assert_eq!(hint.is_empty(), count == 1, "{case}: {hint}");
        assert!(hint.is_empty() || hint.ends_with(&format!(": {says}.")), "{case}: {hint}");
        assert_eq!(
            spray::wet_hint(&test, &Owner::Panel(panel.clone()), &wording),
            format!("wet coat {coat}"),
            "{case}"
        );
        // Weigh: what a weight may not lie below.
        let owner = Owner::Panel(panel.clone());
        let low = Action::Weigh { owner, round: None, at: at("13:00"), gross_g: grams(300.0) };
        let objection = object(&test, &low, at("13:00"), &wording).unwrap().to_string();
        assert!(objection.contains(says), "{case}: {objection}");
        // Results: the number and what it was worked out from.
        let findings = Memory::default().of(&test, at("14:00"), &wording);
        let told = &findings.panels[0];
        let wet_coat = worked_figure(&test, told, FigureKey::WetCoat, &wording);
        assert_eq!(wet_coat.value, coat, "{case}");
        assert!(wet_coat.inputs.contains(&("Bare weight".into(), says.into())), "{case}: {:?}", wet_coat.inputs);
        assert_eq!(told.bare_g, told.work.card.bare_g, "{case}");
        // Plan: that they contradict each other is said.
        let off = odd_said(&test, &wording).iter().any(|odd| odd.contains("Another bare weight"));
        assert_eq!(off, panels_off, "{case}");
    }
}

#[test]
fn the_wet_weight_is_the_first_since_the_last_coat_that_counts() {
    let weigh_in = |time: &str, g: f64, more: &str| {
        format!(r#"{{ "id": "{time}", "at": "2026-03-02T{time}:00Z", "gross_g": {g}{more} }}"#)
    };
    let aside = r#", "set_aside": { "why": "misread" }"#;
    for (weigh_ins, wet, on_spray_day) in [
        (vec![], None, None),
        // Between the coats, and after the last.
        (vec![("09:10", 430.0, ""), ("10:05", 440.0, ""), ("11:00", 439.0, "")], Some("10:05"), Some("10:05")),
        (vec![("09:10", 430.0, "")], None, None),
        (vec![("10:05", 400.4, aside), ("10:10", 440.0, "")], Some("10:10"), Some("10:10")),
        (vec![("10:05", 440.0, aside)], None, None),
        // Not weighed on spray day: the first of a round stands in for it, and the field for the wet weight is free.
        (vec![("15:00", 438.0, r#", "round": "r""#)], Some("15:00"), None),
    ] {
        let list: Vec<String> = weigh_ins.iter().map(|(time, g, more)| weigh_in(time, *g, more)).collect();
        let test = test_of(&format!(
            r#""candidates": [ {{ "id": "c" }} ], "rounds": [ {{ "id": "r", "at": "2026-03-02T15:00:00Z" }} ],
               "panels": [ {{ "id": "p", "label": "A1", "candidate": "c", "bare_g": 400.0,
                 "coats": [ {{ "at": "2026-03-02T09:00:00Z" }}, {{ "at": "2026-03-02T10:00:00Z" }} ],
                 "weigh_ins": [ {} ] }} ]"#,
            list.join(", ")
        ));
        let panel = test.panels.kept().next().unwrap();
        let case = format!("{weigh_ins:?}");
        let weighing = wet_weighing(&test, panel);
        assert_eq!(weighing.map(|(weigh_in, _)| weigh_in.id.0.as_str()), wet, "{case}");
        let field = facts::wet_weigh_in(&test, &Owner::Panel(panel.id.clone()));
        assert_eq!(field.as_ref().map(|id| id.0.as_str()), on_spray_day, "{case}");
        let told = found(&test).panels[0].wet_gross_g;
        assert_eq!(told, weighing.and_then(|(weigh_in, _)| weigh_in.gross_g).map(Quantity::get), "{case}");
    }
}

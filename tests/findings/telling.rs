//! Done or not, and what would tell: each sentence against the forecast that it is told from.

use super::beside::{candidate, panel, test_with};
use super::{Piece, drying, found, list, piece, test_of, weighed};
use comb_scale::findings::results::{FigureKey, RowKey, answer, panel_figure, side_by_side};
use comb_scale::findings::{By, PanelFindings, Wording};
use comb_scale::quantity::Instant;
use comb_scale::record::SprayTest;
use comb_scale::science::drying::{NotYet, Outlook, TooEarly, Verdict, Way};
use serde_json::{Value, json};

/// Weights to so many hours; after two weeks all show 418.0 g.
fn until(hours: f64) -> Vec<(f64, f64)> {
    let later = (1..).map(|day| (336.0 + 24.0 * f64::from(day), 418.0));
    drying(400.0).into_iter().chain(later).take_while(|(t, _)| *t <= hours).collect()
}

fn tried(id: &str, readings: &[(f64, f64)]) -> Piece {
    panel(id, "a", 0.0).without("/weigh_ins").with("/weigh_ins", weighed(readings))
}

fn alone(panel: Piece) -> SprayTest {
    test_with(r#""sanding_h": 72"#, &[candidate("a")], &[panel])
}

/// What stands beside whether the weight is steady.
fn reason(panel: &PanelFindings) -> String {
    panel_figure(panel, FigureKey::Settled, &Wording::default()).note
}

/// The day by which a way has told, in whole days after the last coat.
fn day(panel: &PanelFindings, told: &Outlook) -> Option<f64> {
    Some((panel.work.age_h()? / 24.0 + told.even_days?).ceil())
}

#[test]
fn each_verdict_says_how_sure_it_is_how_long_level_and_what_would_tell() {
    let mut seen = [0; 3];
    for hours in [8.0, 24.0, 48.0, 96.0, 168.0, 240.0, 336.0, 400.0, 500.0, 600.0] {
        let found = found(&alone(tried("a1", &until(hours))));
        let panel = &found.panels[0];
        let forecast = panel.work.forecast.as_ref().unwrap();
        let says = reason(panel);
        let case = format!("{hours} h, {:?}: {says}", forecast.verdict);
        let steady = matches!(forecast.verdict, Verdict::Yes(_));
        let early = matches!(forecast.verdict, Verdict::TooEarly(_));
        seen[usize::from(steady) + 2 * usize::from(early)] += 1;
        let percent = format!("{} % sure", (100.0 * forecast.steady_probability).floor().min(99.0));
        let sure = matches!(forecast.verdict, Verdict::Yes(_) | Verdict::NotYet(NotYet::StillToLose));
        assert_eq!(says.contains(&percent), sure, "{case}");
        assert!(!sure || says.contains(" µm is still to come"), "{case}");
        let level = forecast.level.readings >= 3 && forecast.level.hours >= 24.0;
        assert_eq!(says.contains("Level for "), sure && level, "{case}: {:?}", forecast.level);
        // The ways, asked anew.
        let ways = forecast.what_would_tell(&forecast.usual_ways());
        assert_eq!(says.contains("Weigh daily") || says.contains("daily weighing"), !ways.is_empty(), "{case}");
        let Some(once) = ways.first() else { continue };
        let word = if early { "known" } else { "steady" };
        match day(panel, once) {
            Some(day) => assert!(says.contains(&format!("Weigh daily: likely {word} by day {day}.")), "{case}"),
            None => assert!(says.contains("Two weeks of daily weighing may not tell."), "{case}"),
        }
        let saves = |told: &&Outlook| day(panel, told) <= day(panel, once).map(|day| day - 2.0);
        let other = ways[1..3].iter().filter(|told| day(panel, told).is_some()).find(saves);
        let said = other.map(|told| match told.way {
            Way::ThreeWeighings => format!(" By day {}, 3 times a round.", day(panel, told).unwrap()),
            _ => format!(" By day {} on a scale of 0.01 g.", day(panel, told).unwrap()),
        });
        assert!(says.ends_with(&said.unwrap_or_default()), "{case}");
        assert!(says.matches(" day ").count() <= 2, "{case}");
    }
    assert!(seen.iter().all(|count| *count > 0), "each verdict is met: {seen:?}");
}

#[test]
fn what_says_itself_what_to_do_is_not_told_another_way() {
    let mut off = until(400.0);
    off.last_mut().unwrap().1 += 1.5;
    let coarse: Vec<(f64, f64)> = until(600.0).iter().map(|(t, g)| (*t, (g / 0.3).round() * 0.3)).collect();
    for (readings, division_g, verdict) in [(off, 0.1, "weigh again."), (coarse, 0.3, "This scale cannot see the rest")]
    {
        let panels = list([tried("a1", &readings)]);
        let found = found(&test_of(&format!(
            r#""balance": {{ "division_g": {division_g} }}, "candidates": [ {{ "id": "a" }} ], "panels": {panels}"#
        )));
        let says = reason(&found.panels[0]);
        assert!(says.contains(verdict) && !says.contains("Weigh daily"), "{division_g}: {says}");
    }
}

#[test]
fn too_early_names_the_weighing_that_would_change_it_on_the_card_and_in_the_rows() {
    for hours in [8.0, 24.0, 48.0] {
        // The younger of two panels holds the candidate up.
        let test = alone(tried("a1", &until(hours)));
        let found = found(&test);
        let panel = &found.panels[0];
        let forecast = panel.work.forecast.as_ref().unwrap();
        if !matches!(forecast.verdict, Verdict::TooEarly(TooEarly::WideInterval { .. } | TooEarly::FewReadings { .. }))
        {
            continue;
        }
        let once = &forecast.what_would_tell(&[Way::OneWeighing])[0];
        let wording = Wording::default();
        let card = answer(&found, &wording);
        assert!(card.early.starts_with("Too early: A, weigh to day "), "{}", card.early);
        assert_eq!(card.notes()[0], card.early);
        let to: f64 =
            card.early.split("to day ").nth(1).unwrap().split([',', '.', ' ']).next().unwrap().parse().unwrap();
        assert!(day(panel, once).is_none_or(|day| to <= day), "{}: {once:?}", card.early);
        let table = side_by_side(&test, &found, &wording);
        let until = card.early.trim_start_matches("Too early: A, ").trim_end_matches('.');
        for key in [RowKey::Mean(By::FilmStillToGo), RowKey::DaysToSettle] {
            let row = table.rows.iter().find(|row| row.key == key).unwrap();
            assert_eq!(row.cells[0].below, format!("too early: {until}"), "{key:?}");
        }
    }
    // Of a candidate that is not too early nothing is said.
    let late = found(&alone(tried("a1", &until(600.0))));
    assert_eq!(answer(&late, &Wording::default()).early, "");
}

#[test]
fn of_several_panels_the_slowest_says_the_day() {
    let [young, old] = [("a1", 24.0), ("a2", 48.0)].map(|(id, hours)| tried(id, &until(hours)));
    let early = |panels: &[Piece]| {
        answer(&found(&test_with(r#""sanding_h": 72"#, &[candidate("a")], panels)), &Wording::default()).early
    };
    let day = |early: String| -> f64 {
        early.split("to day ").nth(1).unwrap().split([',', '.', ' ']).next().unwrap().parse().unwrap()
    };
    let alone = [day(early(std::slice::from_ref(&young))), day(early(std::slice::from_ref(&old)))];
    assert_eq!(day(early(&[young, old])), alone[0].max(alone[1]), "{alone:?}");
}

/// One sentence for all that the method was not tried on, and none for what it was.
#[test]
fn a_forecast_outside_its_evidence_says_so_once() {
    let moves = |hours: &[f64]| -> Value {
        let start: Instant = "2026-03-02T10:00:00Z".parse().unwrap();
        let entry = |t: &f64| json!({ "at": start.plus_hours(*t).to_string(), "to": "sun", "warmer": true });
        hours.iter().map(entry).collect()
    };
    let coats = |count: usize| -> Value {
        (0..count).map(|coat| json!({ "at": format!("2026-03-02T09:{:02}:00Z", 20 + 5 * coat) })).collect()
    };
    let gap: Vec<(f64, f64)> = until(336.0).into_iter().filter(|(t, _)| *t < 100.0 || *t > 300.0).collect();
    let thin: Vec<(f64, f64)> = until(240.0).iter().map(|(t, g)| (*t, g - 17.3)).collect();
    let plain = || tried("a1", &until(336.0));
    for (panel, moved, outside) in [
        (plain(), &[][..], None),
        (plain(), &[100.0], None),
        (plain().with("/coats", coats(4)), &[], None),
        (plain(), &[100.0, 200.0], Some("2 moves (tried: 1)")),
        (plain().with("/coats", coats(5)), &[], Some("5 coats (tried: 4)")),
        (tried("a1", &gap), &[], Some("10 d without a weight (tried: 7 d)")),
        (tried("a1", &until(600.0)), &[], Some("weighed to 25 d (tried: 21 d)")),
        (tried("a1", &thin), &[], Some("% solids (tried: 8 to 85 %)")),
        (
            tried("a1", &gap).with("/coats", coats(6)),
            &[100.0, 200.0],
            Some("2 moves (tried: 1), 10 d without a weight (tried: 7 d), 6 coats (tried: 4)"),
        ),
    ] {
        let test = test_of(&format!(
            r#""balance": {{ "division_g": 0.1 }}, "wanted": {{ "sanding_h": 72 }}, "candidates": {}, "panels": {}, "moves": {}"#,
            list([candidate("a").without("/sheet")]),
            list([panel]),
            moves(moved)
        ));
        let remarks = found(&test).panels[0].remarks.clone();
        let said: Vec<&String> = remarks.iter().filter(|remark| remark.contains("tried")).collect();
        let case = format!("{outside:?}: {remarks:?}");
        assert_eq!(said.len(), usize::from(outside.is_some()), "{case}");
        if let Some(outside) = outside {
            assert!(
                said[0].contains(outside) && said[0].starts_with("Outside what the forecast was tried on: "),
                "{case}"
            );
        }
        assert!(!remarks.iter().any(|remark| remark.contains("less certain") && !remark.contains("tried")), "{case}");
    }
}

/// Panels weighed three times a round and a blank weighed once: what is unsure in all of them is the scale.
#[test]
fn where_only_the_blank_would_tell_the_blank_is_asked_for() {
    let hours = [0.0, 24.0, 48.0, 72.0, 96.0, 120.0];
    let start: Instant = "2026-03-02T10:00:00Z".parse().unwrap();
    let at = |t: f64| start.plus_hours(t).to_string();
    let rounds: Value = hours.iter().map(|t| json!({ "id": format!("r{t}"), "at": at(*t) })).collect();
    let in_rounds = |times: usize, grams: &dyn Fn(f64) -> f64| -> Value {
        let entry = |t: &f64| json!({ "round": format!("r{t}"), "gross_g": (grams(*t) * 10.0).round() / 10.0 });
        hours.iter().flat_map(|t| std::iter::repeat_n(entry(t), times)).collect()
    };
    let wander = |t: f64| if (t / 24.0) as i32 % 2 == 0 { 0.0 } else { 0.1 };
    // Of one panel, without a blank, of panels that are steady, and weighed once each, nothing is said.
    for (count, blank, steady, times, asks) in [
        (3, true, false, 3, true),
        (1, true, false, 3, false),
        (3, false, false, 3, false),
        (3, true, true, 3, false),
        (3, true, false, 1, false),
    ] {
        let lost = move |t: f64| if steady { 8.0 * (1.0 - (-t / 3.0).exp()) } else { 8.0 * (1.0 - (-t / 60.0).exp()) };
        let panel = |p: usize| {
            let grams = move |t: f64| 426.0 + p as f64 - lost(t) + wander(t);
            piece(&format!(
                r#"{{ "id": "p{p}", "label": "A{p}", "candidate": "a", "bare_g": {}, "coated_cm2": 900, "weigh_ins": {} }}"#,
                400 + p,
                in_rounds(times, &grams)
            ))
        };
        let blanks =
            if blank { json!([{ "id": "b", "weigh_ins": in_rounds(1, &|t| 561.4 + wander(t)) }]) } else { json!([]) };
        let test = test_of(&format!(
            r#""balance": {{ "division_g": 0.1, "repeatability_g": 0.1 }}, "wanted": {{ "sanding_h": 72 }}, "rounds": {rounds}, "candidates": {}, "panels": {}, "blanks": {blanks}"#,
            list([candidate("a")]),
            list((0..count).map(panel)),
        ));
        let found = found(&test);
        let newest = found.panels[0].work.forecast.as_ref().unwrap().newest_weight();
        let said: Vec<&String> = found.next.iter().filter(|next| next.starts_with("Weigh the blank 3 times")).collect();
        assert_eq!(said.len(), usize::from(asks), "{count} {blank} {steady} {times}: {newest:?} {:?}", found.next);
        if let [said] = said[..] {
            assert!(newest.blank_share >= 0.5, "{newest:?}");
            assert!(said.contains(&format!("in {count} newest weights")), "{said}");
            let by = |sd: f64| format!("±{:.3} g", 1.96 * sd);
            assert!(
                said.contains(&by(newest.sd_g)) && said.contains(&by(newest.blank_thrice_sd_g)),
                "{said} {newest:?}"
            );
        }
    }
}

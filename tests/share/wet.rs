//! Which weight is the wet one: the same in the table of readings, the report, the curve and the record's own facts.

use comb_scale::findings::results::{CurveChoice, curve_table};
use comb_scale::findings::{self, Wording, facts, words};
use comb_scale::quantity::{Grams, Instant, Quantity};
use comb_scale::record::{Action, History, Id, Owner, SprayTest, merge, open};
use comb_scale::share::{DecimalMark, readings_csv, report};

fn now() -> Instant {
    "2026-03-20T12:00:00Z".parse().unwrap()
}

/// A panel sprayed at ten and weighed at five past, wet and once more, as the two weigh-ins have it; and on days after that.
fn test_of(two: [&str; 2], later: &[(u32, f64)]) -> SprayTest {
    let later = later.iter().map(|(day, g)| {
        format!(
            r#"{{ "id": "w{day}", "round": "d{day}", "at": "2026-03-{:02}T10:05:00Z", "gross_g": {g:.1} }}"#,
            2 + day
        )
    });
    let weigh_ins: Vec<String> = two.iter().map(|&one| one.to_owned()).chain(later).collect();
    let inside = format!(
        r#""format": "spray-test", "version": 1, "id": "t", "balance": {{ "division_g": 0.1 }},
           "rounds": [ {{ "id": "r", "at": "2026-03-02T10:05:00Z" }}, {{ "id": "q", "at": "2026-03-02T10:05:00Z" }} ],
           "panels": [ {{ "id": "p", "label": "A1", "bare_g": 400.0, "coats": [ {{ "at": "2026-03-02T10:00:00Z" }} ],
             "weigh_ins": [ {} ] }} ]"#,
        weigh_ins.join(", ")
    );
    open(&format!("{{ {inside} }}")).unwrap().test
}

/// Asks everyone which weight of the only panel is the wet one.
#[track_caller]
fn check(test: &SprayTest, wet: &str, wet_g: f64, case: &str) {
    let wording = Wording::default();
    let findings = findings::of(test, now());
    let (panel, told) = (test.panels.kept().next().unwrap(), &findings.panels[0]);
    let id = Id::from(wet);
    assert_eq!(facts::wet_weighing(test, panel).map(|(weigh_in, _)| &weigh_in.id), Some(&id), "facts, {case}");
    assert_eq!(told.wet_gross_g, Some(wet_g), "{case}");
    if let Ok(forecast) = &told.work.forecast {
        assert_eq!(forecast.wet_gross_g, wet_g, "forecast, {case}");
    }
    let lines = words::readings(test, told, &wording);
    let marked: Vec<&Id> = lines.iter().filter(|line| line.wet).map(|line| &line.id).collect();
    assert_eq!(marked, [&id], "readings, {case}");
    assert_eq!(lines[0].id, id, "{case}");

    let csv = readings_csv(test, &findings, DecimalMark::Point);
    let wets: Vec<&str> = csv.lines().filter(|line| line.starts_with("wet weight")).collect();
    assert_eq!(wets.len(), 1, "csv, {case}: {csv}");
    assert!(wets[0].split(',').nth(8) == Some(&wet_g.to_string()), "csv, {case}: {csv}");

    let page = report(test, &findings, now(), &wording);
    let rows: Vec<&str> = page.split("<tr>").filter(|row| row.contains("the wet weight</")).collect();
    assert!(rows.len() == 1 && rows[0].contains(&format!(">{wet_g:.1}<")), "report, {case}: {rows:?}");

    let curve = curve_table(test, &findings, &CurveChoice::default(), &wording);
    let at_zero = curve.iter().find(|line| line.weigh_in.as_ref() == Some(&id)).unwrap();
    assert_eq!(at_zero.value, "0.0", "curve, {case}");
    assert!(curve.iter().all(|line| !line.age.starts_with('−')), "curve, {case}: {curve:?}");
}

#[test]
fn the_wet_weight_is_known_by_its_role_and_not_by_its_time() {
    let days: Vec<(u32, f64)> = (1..12).map(|day| (day, 440.0 - 9.0 * (1.0 - (-f64::from(day) / 2.0).exp()))).collect();
    for later in [&[][..], &days] {
        for (wet_id, later_id) in [("a", "b"), ("b", "a")] {
            for (wet_g, later_g) in [(440.1, 439.7), (440.1, 440.3), (440.1, 440.1)] {
                for (wet_s, later_s) in [("00", "00"), ("40", "10"), ("00", "30")] {
                    let wet =
                        format!(r#"{{ "id": "{wet_id}", "at": "2026-03-02T10:05:{wet_s}Z", "gross_g": {wet_g} }}"#);
                    // That of the other phone has a time of its own, or its round's.
                    for at in [format!(r#""at": "2026-03-02T10:05:{later_s}Z","#), String::new()] {
                        let other = format!(r#"{{ "id": "{later_id}", "round": "r", {at} "gross_g": {later_g} }}"#);
                        for two in [[&*wet, &*other], [&*other, &*wet]] {
                            check(&test_of(two, later), wet_id, wet_g, &format!("{two:?}"));
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn of_two_alike_at_one_time_the_heavier_is_the_wet_weight() {
    let days: Vec<(u32, f64)> = (1..9).map(|day| (day, 438.0 - f64::from(day))).collect();
    for more in ["", r#""round": "r","#] {
        for later in [&[][..], &days] {
            let of = |id: &str, g: f64, more: &str| {
                format!(r#"{{ "id": "{id}", {more} "at": "2026-03-02T10:05:00Z", "gross_g": {g} }}"#)
            };
            // Two on spray day; or one each of two rounds that two phones began.
            let other = more.replace("\"r\"", "\"q\"");
            let (a, b) = (of("a", 439.7, more), of("b", 440.1, &other));
            check(&test_of([&a, &b], later), "b", 440.1, &format!("{a} {b}"));
            check(&test_of([&b, &a], later), "b", 440.1, &format!("{b} {a}"));
        }
    }
}

#[test]
fn two_phones_that_weigh_at_the_same_minute_are_joined() {
    let at: Instant = "2026-03-02T10:05:00Z".parse().unwrap();
    let base = open(
        r#"{ "format": "spray-test", "version": 1, "id": "t", "balance": { "division_g": 0.1 },
           "panels": [ { "id": "p", "label": "A1", "bare_g": 400.0, "coats": [ { "at": "2026-03-02T10:00:00Z" } ] } ] }"#,
    );
    let base = base.unwrap().test;
    let weigh = |history: &mut History, round: Option<Id>, g: f64| {
        let (owner, gross_g) = (Owner::Panel("p".into()), Grams::new(g).unwrap());
        history.act(Action::Weigh { owner, round, at, gross_g }).unwrap();
        history.test().clone()
    };
    for (mine, theirs) in [("one", "two"), ("two", "one")] {
        let mut first = History::new(base.clone(), mine);
        let wet = weigh(&mut first, None, 440.1);
        let id = facts::wet_weigh_in(&wet, &Owner::Panel("p".into())).unwrap();
        let mut second = History::new(base.clone(), theirs);
        second.act(Action::BeginRound { at, place: String::new() }).unwrap();
        let round = second.test().rounds.kept().next().unwrap().id.clone();
        let later = weigh(&mut second, Some(round), 439.8);
        for joined in [merge(&wet, &later).test, merge(&later, &wet).test] {
            assert_eq!(facts::wet_weigh_in(&joined, &Owner::Panel("p".into())), Some(id.clone()));
            check(&joined, &id.0, 440.1, &format!("{mine} weighed wet"));
        }
    }
}

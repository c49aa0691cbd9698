//! The plan: gaps, air, instruments, order, schedule, and what it can tell apart.

use comb_scale::findings::facts::due_times;
use comb_scale::findings::plan::{
    SHEET_LINES, age_refused, anchor_said, blanks_wanted, costs_said, draw, fitted_schedule, gaps_said, order_said,
    plan_check, repeats_said, schedule_said, set_schedule,
};
use comb_scale::findings::words::{air_warnings, object, read_in, show_in, unit_of};
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{FilmUnit, LengthUnit, TemperatureUnit, Units};
use comb_scale::record::{Action, History, HoursLine, Measure, Row, SheetLine, Slot, SprayTest, open, start, write};

use super::{drying, test_of, weigh_ins};
use expect_test::expect;

use super::reads;

const DAY: &str = r#""wanted": { "spray_at": "2026-03-02T10:00:00+01:00" },"#;

fn begun() -> SprayTest {
    start("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap(), "phone").test().clone()
}

#[test]
fn every_line_of_a_sheet_says_what_it_costs() {
    for line in SheetLine::ALL {
        assert!(SHEET_LINES.iter().any(|(_, known)| known == line), "{line:?} has no name");
    }
    let test = test_of(r#""candidates": [ { "id": "c", "sheet": { "coats": 2, "air_c": [15, 30] } }, { "id": "d" } ]"#);
    let costs = |id: &str| costs_said(&test, &id.into(), &Wording::default());
    assert_eq!((costs("c").len(), costs("d").len()), (13, 15), "those given cost nothing");
    assert!(costs("d").iter().any(|cost| cost.starts_with("Coats: ")) && costs("d")[14].starts_with("Air "));
    assert!(!costs("c").iter().any(|cost| cost.starts_with("Coats: ") || cost.starts_with("Air ")));
    for cost in costs("d") {
        assert!(cost.ends_with('.') && cost.matches(". ").count() == 0, "{cost}");
    }
    reads(gaps_said(&test, &"c".into()), expect!["Data sheet: 2 of 15 lines"]);
    reads(gaps_said(&test, &"d".into()), expect!["Data sheet: 0 of 15 lines"]);
}

#[test]
fn air_outside_a_sheets_or_a_grades_range_is_said() {
    let test = test_of(
        r#""air": [ { "at": "2026-03-02T09:00:00+01:00", "air_c": 12 }, { "at": "2026-03-02T08:00:00+01:00", "air_c": 25 } ],
        "candidates": [ { "id": "c", "label": "A", "sheet": { "air_c": [15, 30] }, "mix": { "components": [
        { "label": "Hardener", "role": "hardener", "grade": "slow", "parts": 1, "air_c": [25, 35] },
        { "label": "Base", "role": "base", "parts": 1, "air_c": [10, 35] } ] } } ]"#,
    );
    let said = air_warnings(&test, &"c".into(), &Wording::default());
    assert_eq!(said.len(), 2);
    assert!(said[0].starts_with("The air was 12 °C (Mon 2 Mar 09:00), and A is made for 15 to 30:"), "{}", said[0]);
    assert!(said[1].contains("Hardener, grade slow, is made for 25 to 35"), "{}", said[1]);
    let units = Units { temperature: TemperatureUnit::F, ..Units::default() };
    let fahrenheit = air_warnings(&test, &"c".into(), &Wording { units, division_g: None });
    // 12, 15 and 30 °C.
    assert!(fahrenheit[0].contains("53.6 °F") && fahrenheit[0].contains("59 to 86"), "{}", fahrenheit[0]);
    let mild =
        test_of(r#""air": [ { "air_c": 40 } ], "candidates": [ { "id": "c", "sheet": { "air_c": [15, 30] } } ]"#);
    assert!(
        air_warnings(&mild, &"c".into(), &Wording::default()).is_empty(),
        "a reading without a time is not today's"
    );
}

#[test]
fn a_blank_is_wanted_for_every_scale_and_place() {
    let two = test_of(
        r#""balances": [ { "id": "s", "label": "Bench" }, { "id": "t", "label": "Floor" } ],
        "blanks": [ { "label": "Blank", "balance": "s" } ], "moves": [ { "to": "Sun" }, { "to": " sun " }, { "to": "Oven" } ]"#,
    );
    let wanted = blanks_wanted(&two);
    let mut labels: Vec<&str> = wanted.iter().map(|blank| blank.label.as_str()).collect();
    labels[1..].sort_unstable();
    assert_eq!(labels, ["Blank, Floor", "Blank, oven", "Blank, sun"]);
    assert_eq!(wanted[0].balance, Some("t".into()));
    assert!(blanks_wanted(&begun()).is_empty());
    assert_eq!(blanks_wanted(&test_of(r#""balance": { "division_g": 0.1 }"#)).len(), 1);
}

/// Rows of the check values: 412.3, 412.3, 412.4, 412.3, 412.2 have a standard deviation of 0.0707 g; with a step of 0.1 g
/// one reading has √(0.0707² + 0.1²/12) = 0.0764 g.
#[test]
fn five_weighings_give_the_spread_of_a_scale() {
    let of = |repeats: &str| {
        let test =
            test_of(&format!(r#""balances": [ {{ "id": "s", "division_g": 0.1, "repeats_g": [ {repeats} ] }} ]"#));
        repeats_said(&test, &"s".into(), &Wording { division_g: Some(0.1), ..Wording::default() })
    };
    assert_eq!(
        of("412.3, 412.3, 412.4, 412.3, 412.2"),
        "5 weighings between 412.2 and 412.4 g: spread 0.071 g (standard deviation). One reading is good to about 0.15 g either way."
    );
    assert!(of("412.3").starts_with("Weigh one panel five times"));
    assert!(of("412.3, 412.3, 412.3").contains("no spread beyond the step of the scale"));
    assert!(of("412.3, 412.4, 412.3").ends_with("2 more weighings make it surer."));
}

#[test]
fn the_drawn_order_is_the_same_on_every_phone() {
    let mut here = History::new(begun(), "phone");
    here.act(draw(here.test(), "k7m2")).unwrap();
    // The same test as another phone has it: through its file, its lists in whatever order.
    let there = open(&write(&begun())).unwrap().test;
    assert_eq!(draw(&there, "k7m2"), draw(&begun(), "k7m2"));
    let Action::Draw { candidates, racks, .. } = draw(&there, "k7m2") else { panic!("a draw") };
    assert_eq!(here.test().order.candidates, candidates.into());
    let mut places: Vec<u32> = racks.iter().map(|(_, place)| place.parse().unwrap()).collect();
    assert_ne!(places, [1, 2, 3, 4, 5, 6], "this seed moves them");
    places.sort_unstable();
    assert_eq!(places, [1, 2, 3, 4, 5, 6]);
    assert!(order_said(here.test()).contains(", then "));
    here.act(Action::AddCandidate { id: here.fresh_id(), label: "Z".into(), panels: vec!["Z1".into()] }).unwrap();
    assert!(order_said(here.test()).ends_with("A candidate came later: draw again."));
    reads(order_said(&begun()), expect!["Not drawn yet."]);
}

#[test]
fn without_kept_hours_the_schedule_is_the_default() {
    let fitted = fitted_schedule(&test_of(DAY.trim_end_matches(',')));
    assert_eq!(fitted.ages_h.len(), 17);
    assert!(fitted.moved.is_empty());
}

/// By hand: sprayed at 10:00 and kept from 7 to 17, the weigh-in after 8 h (18:00) comes an hour early; the days fall within.
#[test]
fn ages_move_to_the_nearest_kept_hour_and_it_is_said() {
    let fitted = fitted_schedule(&test_of(&format!(r#"{DAY} "hours": {{ "from_h": 7, "to_h": 17 }}"#)));
    assert_eq!(fitted.ages_h[..6], [0.0, 0.5, 1.0, 4.0, 7.0, 24.0]);
    assert_eq!(fitted.moved, ["8 h is outside your hours: moved to Mon 2 Mar 17:00, 7 h."]);
}

/// By hand: sprayed at 16:30 and kept from 7 to 17: 1 h is 17:30, back to 17:00, where the half hour is already; 4 h is 20:30,
/// nearer to 17:00; 8 h is 00:30, nearer to 07:00 next day.
#[test]
fn weigh_ins_that_fall_together_are_not_dropped_in_silence() {
    let test =
        test_of(r#""wanted": { "spray_at": "2026-03-02T16:30:00+01:00" }, "hours": { "from_h": 7, "to_h": 17 }"#);
    let fitted = fitted_schedule(&test);
    assert_eq!(fitted.ages_h[..4], [0.0, 0.5, 14.5, 24.0]);
    assert_eq!(fitted.moved.len(), 3);
    assert!(
        fitted.moved[0].contains("Mon 2 Mar 17:00, is taken already, so that weigh-in is left out"),
        "{:?}",
        fitted.moved
    );
    assert!(fitted.moved[2].contains("moved to Tue 3 Mar 07:00"), "{:?}", fitted.moved);
}

#[test]
fn due_times_count_from_the_last_coat_and_before_it_from_the_planned_day() {
    let schedule = r#""schedule": [ { "due_h": 24 }, { "due_h": 0.5 } ],"#;
    let planned = test_of(&format!(r#"{schedule} {DAY} "title": "x""#));
    assert_eq!(schedule_said(&planned), ["Mon 2 Mar 10:30, after 30 min", "Tue 3 Mar 10:00, after 1 d"]);
    assert!(anchor_said(&planned).starts_with("Counted from the planned spray day, Mon 2 Mar 10:00"));
    let sprayed = test_of(&format!(
        r#"{schedule} {DAY} "panels": [ {{ "coats": [ {{ "at": "2026-03-02T11:00:00+01:00" }}, {{ "at": "2026-03-02T11:40:00+01:00" }} ] }} ]"#
    ));
    assert_eq!(due_times(&sprayed)[1].at.unwrap().to_string(), "2026-03-03T11:40:00+01:00");
    assert!(due_times(&test_of(&format!(r#"{schedule} "title": "x""#))).iter().all(|due| due.at.is_none()));
}

#[test]
fn a_schedule_out_of_bounds_is_refused() {
    assert!(set_schedule(&[0.0, 24.0]).is_ok());
    reads(age_refused(set_schedule(&[-1.0]).unwrap_err()), expect!["An age must lie between 0 and 43800 h."]);
}

#[test]
fn a_range_of_air_and_an_hour_of_the_day_must_be_such() {
    let test = begun();
    let id = test.candidates.kept().next().unwrap().id.clone();
    let said = |action: Action| {
        object(&test, &action, "2026-03-02T09:00:00+01:00".parse().unwrap(), &Wording::default())
            .map(|objection| objection.to_string())
    };
    let range = |values: &[f64]| said(Action::List(Row::SheetAir(id.clone()), values.to_vec()));
    assert!(range(&[15.0]).unwrap().starts_with("Type two temperatures"));
    assert!(range(&[30.0, 15.0]).is_some());
    assert!(range(&[15.0, 30.0]).is_none() && range(&[]).is_none());
    assert!(said(Action::Fill(Slot::Hours(HoursLine::To), Some(25.0))).unwrap().starts_with("An hour of the day"));
    assert!(said(Action::Fill(Slot::Hours(HoursLine::To), Some(17.5))).is_none());
}

/// By definition an inch is 2.54 cm: a square one 6.4516 cm².
#[test]
fn areas_follow_the_unit_of_the_sides() {
    let units = Units { length: LengthUnit::Inch, ..Units::default() };
    let inch = Wording { units, division_g: None };
    assert!((read_in(Measure::Area, "100", None, &inch).unwrap() - 645.16).abs() < 1e-9);
    assert_eq!((show_in(Measure::Area, 645.16, &inch).as_str(), unit_of(Measure::Area, &inch)), ("100", "in²"));
    assert_eq!(unit_of(Measure::Area, &Wording::default()), "cm²");
}

fn checked(test: &SprayTest, wording: &Wording) -> Vec<String> {
    let findings = Memory::default().of(test, "2026-03-02T12:00:00Z".parse().unwrap(), wording);
    plan_check(test, &findings.panels, wording)
}

fn has(said: &[String], part: &str) {
    assert!(said.iter().any(|sentence| sentence.contains(part)), "{part} is not in {said:#?}");
}

/// Rows stat-35 and stat-30: three panels see two standard deviations 46 % of the time, six do it four times in five. Of three
/// panels the difference seen four times in five is 3.07 standard deviations: between 3 (78 %, row stat-33) and 3.1.
#[test]
fn the_check_says_what_so_many_panels_can_tell_apart() {
    let said = checked(&begun(), &Wording::default());
    has(
        &said,
        "A difference of 10 % they will miss more often than that: it shows 46 times in a hundred. For four in five it takes 6 panels of each.",
    );
    has(&said, "3 panels of each will tell two primers apart, four times in five, if they differ by 15 % or more.");
    has(&said, "those of one primer differ by 5 % (standard deviation)");
    has(&said, "No times to weigh are set yet.");
    let mut three = History::new(begun(), "phone");
    let panels = vec!["C1".into(), "C2".into(), "C3".into()];
    three.act(Action::AddCandidate { id: three.fresh_id(), label: "C".into(), panels }).unwrap();
    // Three pairs share the 5 %: row stat-34 asks for seven panels.
    has(&checked(three.test(), &Wording::default()), "it takes 7 panels of each");
}

#[test]
fn one_panel_or_one_candidate_shows_nothing() {
    let one = test_of(
        r#""candidates": [ { "id": "c" }, { "id": "d" } ], "panels": [ { "candidate": "c" }, { "candidate": "d" } ]"#,
    );
    has(&checked(&one, &Wording::default()), "nothing can be told apart from chance");
    has(&checked(&test_of(r#""candidates": [ { "id": "c" } ]"#), &Wording::default()), "nothing to compare");
}

#[test]
fn the_check_knows_scale_comb_and_days() {
    let mut history = History::new(begun(), "phone");
    let panel = comb_scale::record::PanelLine::Coated;
    history.act(Action::Fill(Slot::EveryPanel(panel), Some(900.0))).unwrap();
    history.act(set_schedule(&[0.0, 24.0, 48.0]).unwrap()).unwrap();
    history.act(Action::Fill(Slot::Wanted(comb_scale::record::WantedLine::Sanding), Some(72.0))).unwrap();
    let said = checked(history.test(), &Wording::default());
    // 0.1 g / (0.87 g/mL × 900 cm²) = 1.28 µm.
    has(&said, "One step of the scale, 0.1 g, is 1.3 µm of lost film.");
    has(&said, "The last weigh-in is on day 2");
    has(&said, "Nothing is weighed after the day of sanding, day 3");
    has(&said, "Fewer than three weigh-ins in the first eight hours");
    has(&said, "About 150 µm, one dab says the wet film to within");
    let mil = Wording { units: Units { film: FilmUnit::Mil, ..Units::default() }, division_g: None };
    has(&checked(history.test(), &mil), "is 0.050 mil of lost film");
}

/// Two candidates whose panels lost 30 and 33, and 20 and 22 %: by hand a pooled relative standard deviation of 6.7 %.
#[test]
fn measured_panels_take_the_place_of_the_assumption() {
    let panel = |candidate: &str, factor: f64| {
        let readings: Vec<(f64, f64)> = drying(400.0).iter().map(|&(t, g)| (t, 426.0 - factor * (426.0 - g))).collect();
        format!(r#"{{ "candidate": "{candidate}", "bare_g": 400, "weigh_ins": [ {} ] }}"#, weigh_ins(&readings))
    };
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "candidates": [ {{ "id": "c" }}, {{ "id": "d" }} ],
        "panels": [ {}, {}, {}, {} ]"#,
        panel("c", 1.0),
        panel("c", 1.1),
        panel("d", 0.6),
        panel("d", 0.66)
    ));
    let said = checked(&test, &Wording::default());
    has(&said, "(standard deviation, as measured)");
    let sentence = said.iter().find(|sentence| sentence.contains("as measured")).unwrap();
    let percent: f64 = sentence.split_whitespace().find_map(|word| word.parse().ok()).unwrap();
    // Each pair differs by 10 % of the lower: 0.1/1.05/√2.
    assert!((percent - 6.7).abs() < 0.4, "{sentence}");
}

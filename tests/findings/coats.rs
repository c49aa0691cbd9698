//! Coats, panel by panel, and days that are over.

use comb_scale::findings::spray::{RunSheet, Tapping, Task, leaving_out};
use comb_scale::quantity::{Instant, Micrometres, Quantity};
use comb_scale::record::{Action, EXAMPLE, Id, Owner, Step, open};

use super::spraying::{Day, clock};

/// Panels coated one after the other, six minutes apart: two coats, as in the worked example.
fn coated_in_turn(day: &mut Day, candidate: &Id) {
    for (hour, coat) in [("09", 0), ("10", 1)] {
        for (n, panel) in day.panels(candidate).into_iter().enumerate() {
            day.at(&format!("{hour}:{:02}:00", 6 * n + coat));
            day.act(Action::Coat { panels: vec![panel], at: day.now });
        }
    }
}

#[test]
fn panels_coated_one_after_the_other_have_had_one_coat_each() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    coated_in_turn(&mut day, &a);
    let sheet = day.at("10:20:00");
    let run = sheet.run(&a).unwrap();
    let done: Vec<(String, Instant)> = run.done.iter().map(|done| (done.text.clone(), done.at)).collect();
    assert_eq!(done, [("Coat 1".to_owned(), clock("09:00:00")), ("Coat 2".to_owned(), clock("10:01:00"))]);
    assert_eq!((run.coats, run.done[1].entries.len()), (2, 3));
    assert_eq!(run.amiss, [""; 0], "each panel waited an hour between its coats");
    let panels = day.panels(&a);
    assert_eq!(run.task, Task::Comb(panels[0].clone()));

    // A corrected time moves the whole coat and keeps the minutes between its panels.
    let coat = run.done[1].dated.clone();
    day.act(Action::Date(coat, clock("10:31:00")));
    let last = |panel: &Id| day.test().panels.find(panel).unwrap().coats.kept().last().unwrap().at.unwrap();
    assert_eq!([0, 1, 2].map(|n| last(&panels[n])), ["10:31:00", "10:37:00", "10:43:00"].map(clock));
}

#[test]
fn each_panel_is_read_and_weighed_after_its_own_last_coat() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    for (minute, panel) in (0u32..).step_by(6).zip(day.panels(&a)) {
        for hour in ["09", "10"] {
            day.at(&format!("{hour}:{minute:02}:00"));
            day.act(Action::Coat { panels: vec![panel.clone()], at: day.now });
        }
        day.at(&format!("10:{:02}:00", minute + 3));
        for _ in 0..3 {
            day.dab(&panel);
        }
        day.weigh(&panel, 440.0);
    }
    let sheet = day.at("10:30:00");
    let run = sheet.run(&a).unwrap();
    let blank = day.test().blanks.kept().next().unwrap().id.clone();
    assert_eq!(run.task, Task::Wet(Owner::Blank(blank)), "every panel is read and weighed");
    assert_eq!(run.amiss, [""; 0]);
    let told: Vec<&str> = run.done[2..].iter().map(|done| done.text.as_str()).collect();
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told.iter().all(|told| told.ends_with("3 dabs, weighed 3 min after the last coat")), "{told:?}");
}

#[test]
fn a_finished_day_asks_for_nothing_and_no_clock_runs() {
    let example = open(EXAMPLE).unwrap().test;
    let months_later = "2026-11-30T09:00:00+01:00".parse().unwrap();
    let sheet = RunSheet::of(&example, months_later);
    for run in &sheet.runs {
        assert_eq!((run.task.clone(), run.coats, run.clock, run.pot), (Task::Nothing, 2, None, None), "{}", run.label);
        assert_eq!(run.done.iter().filter(|done| done.text.starts_with("Coat ")).count(), 2);
    }
    assert_eq!((sheet.front.clone(), sheet.waiting(months_later)), (None, false));
}

#[test]
fn a_clock_of_another_day_does_not_run() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    day.at("09:00:00");
    day.mix(&a);
    assert!(day.at("20:00:00").run(&a).unwrap().clock.is_some(), "an evening later it is still told");
    day.now = clock("09:00:00").plus_hours(24.0 * 260.0);
    assert_eq!((day.sheet().run(&a).unwrap().clock, day.sheet().run(&a).unwrap().pot), (None, None));
    day.at("09:40:00");
    day.coat(&a);
    day.now = day.now.plus_hours(24.0 * 260.0);
    let sheet = day.sheet();
    assert_eq!((sheet.run(&a).unwrap().task.clone(), sheet.run(&a).unwrap().clock), (Task::Coat(2), None));
    assert_eq!(sheet.alarms().count(), 0, "nothing rings for it");
}

#[test]
fn leaving_the_comb_out_costs_what_the_readings_so_far_leave_open() {
    let mut day = Day::begin();
    let panel = day.panels(&day.candidates()[0])[0].clone();
    let way = |day: &Day| leaving_out(day.test(), Step::Comb, Some(&panel));
    assert!(way(&day).cost.starts_with("Without the comb there is no wet film"));
    for word in ["One reading is enough", "Two readings are enough"] {
        day.dab(&panel);
        assert_eq!(way(&day).word, word);
        assert!(!way(&day).cost.contains("no wet film"), "{}", way(&day).cost);
    }
}

#[test]
fn a_tooth_tapped_for_touched_can_still_be_wetted() {
    let teeth = [300.0, 350.0, 400.0, 450.0].map(|um| Micrometres::new(um).unwrap());
    let tapped = |places: &[usize]| {
        let start = (None, Tapping::default());
        let (dab, _) = places.iter().fold(start, |(_, hand), place| {
            let (dab, instead, then) = hand.tap(*place, &teeth);
            assert_eq!(instead, hand.recorded(), "one dab, however often it is corrected");
            (Some(dab), then)
        });
        let dab = dab.unwrap();
        let um = |tooth: Option<Micrometres>| tooth.map_or(0.0, Quantity::get);
        [dab.wetted_um.get(), um(dab.touched_um), um(dab.dry_um)]
    };
    assert_eq!(tapped(&[1, 2]), [300.0, 350.0, 400.0]);
    assert_eq!(tapped(&[1, 2, 2]), [350.0, 0.0, 400.0], "300 corrected to 350 wetted");
    assert_eq!(tapped(&[1, 2, 2, 3]), [350.0, 400.0, 450.0]);
    assert_eq!(tapped(&[1, 2, 1]), [300.0, 0.0, 350.0], "a touch taken back");
    assert_eq!(tapped(&[1, 2, 4]), [450.0, 0.0, 0.0]);
    assert_eq!(tapped(&[4, 4]), [450.0, 0.0, 0.0]);
    assert_eq!(tapped(&[0, 1]), [0.0, 300.0, 350.0]);
    assert_eq!(tapped(&[0, 1, 1]), [300.0, 0.0, 350.0]);
}

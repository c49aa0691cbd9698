//! The run sheet: what comes next, what runs, what is amiss. Times are those of an invented day.

use crate::test_of;
use comb_scale::findings::Wording;
use comb_scale::findings::facts::{air_of_the_day, teeth_in_hand};
use comb_scale::findings::spray::{RunSheet, Tapping, Task, Waiting, air_said, newest_dab_said, task_said, touch_up};
use comb_scale::quantity::{Celsius, Grams, Instant, Micrometres, Percent, Quantity};
use comb_scale::record::{Action, Address, AirLine, History, Id, Owner, SheetLine, Slot, SprayTest, Step, start};
use expect_test::expect;

use super::reads;

pub fn clock(text: &str) -> Instant {
    format!("2026-03-02T{text}+01:00").parse().unwrap()
}

/// A day at the booth.
pub struct Day {
    pub history: History,
    pub now: Instant,
}

impl Day {
    /// Two candidates with three panels each; the sheet asks for two coats, 30 min standing, 10 min flash-off and a pot
    /// life of 2 h.
    pub fn begin() -> Self {
        let mut day = Self { history: start("t".into(), clock("07:00:00"), "phone"), now: clock("07:00:00") };
        let lines = [
            (SheetLine::Coats, 2.0),
            (SheetLine::Standing, 30.0),
            (SheetLine::Flash, 10.0),
            (SheetLine::PotLife, 120.0),
        ];
        for candidate in day.candidates() {
            for (line, value) in lines {
                day.act(Action::Fill(Slot::Sheet(candidate.clone(), line), Some(value)));
            }
        }
        day
    }

    pub fn candidates(&self) -> Vec<Id> {
        comb_scale::findings::spray::spray_order(self.test()).iter().map(|c| c.id.clone()).collect()
    }

    pub fn test(&self) -> &SprayTest {
        self.history.test()
    }

    pub fn act(&mut self, action: Action) {
        self.history.act(action).unwrap();
    }

    pub fn at(&mut self, text: &str) -> RunSheet {
        self.now = clock(text);
        self.sheet()
    }

    pub fn sheet(&self) -> RunSheet {
        RunSheet::of(self.test(), self.now)
    }

    pub fn panels(&self, candidate: &Id) -> Vec<Id> {
        let panels = comb_scale::findings::facts::in_order(self.test()).into_iter();
        panels.filter(|panel| panel.candidate.as_ref() == Some(candidate)).map(|panel| panel.id.clone()).collect()
    }

    pub fn mix(&mut self, candidate: &Id) {
        let cup = self.history.fresh_id();
        let panels = self.panels(candidate);
        self.act(Action::Mixed { cup, candidate: candidate.clone(), at: self.now, panels });
    }

    pub fn coat(&mut self, candidate: &Id) {
        let panels = self.panels(candidate);
        self.act(Action::Coat { panels, at: self.now });
    }

    pub fn dab(&mut self, panel: &Id) {
        let um = |value| Micrometres::new(value).unwrap();
        let (wetted_um, dry_um) = (um(200.0), Some(um(225.0)));
        let (panel, at, comb, touched_um, place, instead_of) =
            (panel.clone(), self.now, None, None, String::new(), None);
        self.act(Action::Dab { panel, at, comb, wetted_um, touched_um, dry_um, place, instead_of });
    }

    pub fn weigh(&mut self, owner: &Id, gross_g: f64) {
        let gross_g = Grams::new(gross_g).unwrap();
        let owner = match self.test().panels.find(owner) {
            Some(_) => Owner::Panel(owner.clone()),
            None => Owner::Blank(owner.clone()),
        };
        self.act(Action::Weigh { owner, round: None, at: self.now, gross_g });
    }
}

#[test]
fn a_day_asks_for_one_thing_after_the_other() {
    let mut day = Day::begin();
    assert_eq!(day.sheet().before, Task::Air);
    let (air_c, humidity_pct) = (Celsius::new(19.0).ok(), Percent::new(52.0).ok());
    day.act(Action::TakeAir { at: day.now, air_c, humidity_pct, panel_c: None });
    assert_eq!(day.sheet().before, Task::Air, "the panels are still to be read");
    let air = day.test().air.kept().next().unwrap().id.clone();
    day.act(Action::Fill(Slot::Air(air, AirLine::Panel), Some(18.0)));
    let blank = day.test().blanks.kept().next().unwrap().id.clone();
    assert_eq!((day.sheet().before, day.sheet().bare_left), (Task::Bare(Owner::Blank(blank.clone())), 7));
    day.weigh(&blank, 412.6);
    for candidate in day.candidates() {
        for panel in day.panels(&candidate) {
            assert_eq!(day.sheet().before, Task::Bare(Owner::Panel(panel.clone())));
            let gross_g = Grams::new(400.0).unwrap();
            day.act(Action::WeighBare { panel, at: day.now, gross_g });
        }
    }
    assert_eq!(day.sheet().before, Task::Nothing);

    let [a, b] = <[Id; 2]>::try_from(day.candidates()).unwrap();
    let sheet = day.at("09:00:00");
    assert_eq!(sheet.run(&a).unwrap().task, Task::Mix);
    reads(sheet.run(&a).unwrap().button(), expect!["Parts are together"]);
    day.mix(&a);
    let sheet = day.at("09:10:00");
    let run = sheet.run(&a).unwrap();
    assert_eq!(run.task, Task::Coat(1));
    assert_eq!(run.clock.unwrap().waiting, Waiting::Standing);
    assert_eq!(run.clock.unwrap().figure(day.now), "20:00");
    assert_eq!(run.pot.unwrap().figure(day.now), "1:50:00");
    assert!(sheet.waiting(day.now));

    // B is mixed meanwhile; A is still the one that is due first.
    day.mix(&b);
    let sheet = day.at("09:31:00");
    assert_eq!(sheet.front, Some(a.clone()));
    assert_eq!(sheet.run(&a).unwrap().clock.unwrap().figure(day.now), "+01:00");
    day.coat(&a);
    let sheet = day.at("09:34:40");
    reads(sheet.run(&a).unwrap().button(), expect!["Coat 2 of 2 sprayed"]);
    assert_eq!(sheet.run(&a).unwrap().clock.unwrap().figure(day.now), "06:20");
    assert_eq!(sheet.run(&a).unwrap().clock.unwrap().waiting, Waiting::FlashOff(1));
    assert_eq!(sheet.run(&b).unwrap().clock.unwrap().figure(day.now), "05:20");

    day.at("09:42:00");
    day.coat(&a);
    let [first, second, third] = <[Id; 3]>::try_from(day.panels(&a)).unwrap();
    day.at("09:43:00");
    for panel in [&first, &second, &third] {
        for _ in 0..3 {
            assert_eq!(day.sheet().run(&a).unwrap().task, Task::Comb(panel.clone()));
            assert_eq!(day.sheet().front, Some(a.clone()), "wet film before all else");
            day.dab(panel);
        }
        assert_eq!(day.sheet().run(&a).unwrap().task, Task::Wet(Owner::Panel(panel.clone())));
        day.weigh(panel, 440.0);
    }
    assert_eq!(
        day.sheet().run(&a).unwrap().task,
        Task::Wet(Owner::Blank(blank.clone())),
        "the blank goes with the wet panels"
    );
    day.weigh(&blank, 412.6);
    let sheet = day.sheet();
    assert_eq!(sheet.run(&a).unwrap().task, Task::Nothing);
    assert_eq!(sheet.run(&a).unwrap().amiss, [""; 0]);
    assert_eq!(sheet.front, Some(b));
    let done: Vec<_> = sheet.run(&a).unwrap().done.iter().map(|done| done.text.clone()).collect();
    assert_eq!(done[..3], ["Mixed", "Coat 1", "Coat 2"]);
    reads(&done[3], expect!["A1: 3 dabs, weighed 1 min after the last coat"]);
}

#[test]
fn what_comes_too_early_or_too_late_is_stored_and_said() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    let said = |day: &Day| day.sheet().run(&a).unwrap().amiss.clone();
    day.at("09:00:00");
    day.mix(&a);
    day.at("09:18:00");
    day.coat(&a);
    assert_eq!(said(&day), ["Coat 1 came 12 min before the standing time was over."]);
    day.at("09:22:00");
    day.coat(&a);
    reads(&said(&day)[1], expect!["Coat 2 came 4 min after coat 1; the sheet asks for 10 min."]);
    day.at("11:15:00");
    day.coat(&a);
    assert!(said(&day).contains(&"Coat 3 came 15 min after the end of the pot life.".to_owned()), "{:?}", said(&day));
    day.at("11:40:00");
    let panel = day.panels(&a)[0].clone();
    day.dab(&panel);
    day.weigh(&panel, 440.0);
    assert!(said(&day).iter().any(|s| s.starts_with("A1 weighed more than 10 min after the last coat")));
    assert!(said(&day).iter().any(|s| s == "A1: fewer than 3 dabs, so the wet film is less certain."));
}

#[test]
fn the_pot_life_is_watched_while_coats_are_left() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    day.at("09:00:00");
    day.mix(&a);
    let sheet = day.at("11:10:00");
    let run = sheet.run(&a).unwrap();
    assert_eq!(run.amiss, ["The pot life of the mix ended 10 min ago: do not spray it."]);
    // Another cup of the same primer begins its own clocks.
    day.mix(&a);
    let sheet = day.at("11:45:00");
    assert_eq!(sheet.run(&a).unwrap().amiss, [""; 0]);
    assert_eq!(sheet.run(&a).unwrap().pot.unwrap().figure(day.now), "1:25:00");
}

#[test]
fn a_time_that_cannot_be_is_said_and_nothing_is_lost() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    day.at("09:00:00");
    day.mix(&a);
    day.at("09:40:00");
    day.coat(&a);
    let coats = day.sheet().run(&a).unwrap().done[1].dated.clone();
    day.act(Action::Date(coats.clone(), clock("08:40:00")));
    let sheet = day.at("09:41:00");
    assert_eq!(sheet.run(&a).unwrap().amiss, ["Coat 1 stands before the mix was made: correct one of the two times."]);
    day.act(Action::Date(coats, clock("12:40:00")));
    let said = comb_scale::findings::words::clocks_said(day.test(), day.now).unwrap();
    assert!(said.starts_with("Something is noted for Mon 2 Mar 12:40, and it is 09:41 here"), "{said}");
    assert_eq!(day.sheet().run(&a).unwrap().coats, 1);
}

#[test]
fn every_step_can_be_left_out() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    let skip = |day: &mut Day, step, of: Option<Address>| day.act(Action::Skip { at: day.now, step, of });
    skip(&mut day, Step::Air, None);
    assert!(matches!(day.sheet().before, Task::Bare(_)));
    skip(&mut day, Step::Bare, None);
    assert_eq!(day.sheet().before, Task::Nothing);
    skip(&mut day, Step::Mix, Some(Address::candidate(&a)));
    assert_eq!(day.sheet().run(&a).unwrap().task, Task::Coat(1));
    assert_eq!(day.sheet().run(&a).unwrap().clock, None, "nobody knows when it was mixed");
    day.coat(&a);
    skip(&mut day, Step::Coats, Some(Address::candidate(&a)));
    let panel = day.panels(&a)[0].clone();
    assert_eq!(day.sheet().run(&a).unwrap().task, Task::Comb(panel.clone()));
    skip(&mut day, Step::Comb, Some(Address::panel(&panel)));
    assert_eq!(day.sheet().run(&a).unwrap().task, Task::Wet(Owner::Panel(panel.clone())));
    skip(&mut day, Step::Wet, Some(Address::panel(&panel)));
    assert_eq!(day.sheet().run(&a).unwrap().task, Task::Comb(day.panels(&a)[1].clone()));
    for step in [Step::Air, Step::Bare, Step::Mix, Step::Coats, Step::Comb, Step::Wet] {
        assert!(comb_scale::findings::spray::leaving_out(day.test(), step, Some(&panel)).cost.ends_with('.'));
    }
}

#[test]
fn an_unknown_number_of_coats_ends_when_the_comb_is_read() {
    let mut day = Day::begin();
    let a = day.candidates()[0].clone();
    day.act(Action::Fill(Slot::Sheet(a.clone(), SheetLine::Coats), None));
    day.at("09:00:00");
    day.mix(&a);
    for n in 1..=3 {
        day.at(&format!("1{n}:00:00"));
        assert_eq!(day.sheet().run(&a).unwrap().button(), format!("Coat {n} sprayed"));
        day.coat(&a);
    }
    let panel = day.panels(&a)[0].clone();
    day.dab(&panel);
    assert_eq!(day.sheet().run(&a).unwrap().task, Task::Comb(panel));
}

#[test]
fn an_empty_test_has_an_empty_run_sheet() {
    let sheet = RunSheet::of(&SprayTest::begin("t".into(), clock("07:00:00")), clock("08:00:00"));
    assert_eq!((sheet.runs.len(), sheet.front.is_none(), sheet.waiting(clock("08:00:00"))), (0, true, false));
}

#[test]
fn the_air_is_said_with_its_dew_point_and_its_margin() {
    let mut day = Day::begin();
    let mut read = |air: f64, humidity: f64, panel: f64| {
        day.now = day.now.plus_hours(0.1);
        let (air_c, panel_c) = (Celsius::new(air).ok(), Celsius::new(panel).ok());
        let humidity_pct = Percent::new(humidity).ok();
        day.act(Action::TakeAir { at: day.now, air_c, humidity_pct, panel_c });
        air_said(day.test(), day.now, &Wording::default())
    };
    // Dew point at 20 °C and 50 %: 9.26 °C (Lawrence, Bull. Amer. Meteor. Soc. 86:225, 2005, with the constants used there).
    let fine = read(20.0, 50.0, 18.0);
    assert_eq!(fine.line, "20.0 °C, 50 %, panels 18.0 °C: dew point 9.3 °C, margin 8.7 °C");
    assert_eq!(fine.amiss, [""; 0]);
    assert!(read(20.0, 50.0, 12.0).amiss[0].contains("less than 3.0 °C above the dew point"));
    assert!(read(20.0, 50.0, 9.0).amiss[0].contains("at or below the dew point"));
    assert!(read(20.0, 90.0, 22.0).amiss[0].starts_with("Damper than 85 %"));
    assert!(read(20.0, 50.0, 13.0).amiss[0].starts_with("With such a thermometer"));
}

#[test]
fn yesterdays_air_is_left_alone_and_todays_is_another_reading() {
    let mut day = Day::begin();
    let (air_c, humidity_pct, panel_c) = (Celsius::new(9.0).ok(), Percent::new(80.0).ok(), Celsius::new(8.0).ok());
    day.act(Action::TakeAir { at: day.now.plus_hours(-24.0), air_c, humidity_pct, panel_c });
    assert_eq!(day.sheet().before, Task::Air);
    assert!(air_of_the_day(day.test(), day.now).is_none());
    assert_eq!(air_said(day.test(), day.now, &Wording::default()).line, "");
    day.act(Action::TakeAir { at: day.now, air_c, humidity_pct: None, panel_c: None });
    assert_eq!(air_of_the_day(day.test(), day.now).unwrap().at, Some(day.now));
}

#[test]
fn a_blank_left_out_with_one_candidate_is_asked_for_with_the_next() {
    let mut day = Day::begin();
    let blank = day.test().blanks.kept().next().unwrap().id.clone();
    for candidate in day.candidates() {
        day.now = day.now.plus_hours(1.0);
        for _ in 0..2 {
            day.now = day.now.plus_hours(0.2);
            day.coat(&candidate);
        }
        for panel in day.panels(&candidate) {
            day.weigh(&panel, 440.0);
        }
        assert_eq!(day.sheet().run(&candidate).unwrap().task, Task::Wet(Owner::Blank(blank.clone())));
        day.act(Action::Skip { at: day.now, step: Step::Wet, of: Some(Address::blank(&blank)) });
        assert_eq!(day.sheet().run(&candidate).unwrap().task, Task::Nothing);
    }
}

#[test]
fn a_dab_touched_up_stands_at_its_place_and_comes_back_with_one_undo() {
    let mut day = Day::begin();
    let panel = day.panels(&day.candidates()[0])[0].clone();
    let dabs = |day: &Day| -> Vec<(f64, Option<f64>, String)> {
        let panel = day.test().panels.find(&panel).unwrap();
        let said = |dab: &comb_scale::record::Dab| {
            (dab.wetted_um.unwrap().get(), dab.touched_um.map(Quantity::get), dab.place.clone())
        };
        panel.dabs.kept().map(said).collect()
    };
    let teeth = teeth_in_hand(day.test());
    let tooth = |um: f64| teeth.iter().position(|tooth| tooth.get() == um).unwrap() + 1;
    for um in [200.0, 225.0] {
        let (dab, again, _) = Tapping::default().tap(tooth(um), &teeth);
        assert!(!again);
        day.act(dab.action(day.test(), panel.clone(), day.now));
    }
    let plain = dabs(&day);
    assert_eq!(plain[1], (225.0, None, "middle third".into()));
    let (dab, called) = touch_up(day.test(), &panel, &Wording::default()).unwrap();
    assert_eq!(called, "250 µm");
    day.act(dab.instead(day.test(), panel.clone(), day.now));
    assert_eq!(dabs(&day), [plain[0].clone(), (225.0, Some(250.0), "middle third".into())]);
    assert_eq!(touch_up(day.test(), &panel, &Wording::default()), None, "it is touched up already");
    day.history.undo();
    assert_eq!(dabs(&day), plain);
}

/// Readings of the coat before say nothing of where the comb goes on the last one, and are not corrected by its first tap.
#[test]
fn comb_readings_begin_anew_with_each_coat() {
    let test = test_of(
        r#""combs": [ { "id": "k", "edges": [ { "teeth_um": [ 100, 125, 150 ] } ] } ], "candidates": [ { "id": "c" } ], "panels": [
             { "id": "p", "label": "A1", "candidate": "c",
               "coats": [ { "at": "2026-03-02T08:00:00Z" }, { "at": "2026-03-02T09:00:00Z" } ],
               "dabs": [ { "at": "2026-03-02T08:01:00Z", "wetted_um": 100, "dry_um": 125, "place": "top third" },
                         { "at": "2026-03-02T08:02:00Z", "wetted_um": 100, "dry_um": 125, "place": "middle third" } ] } ]"#,
    );
    let panel: Id = "p".into();
    reads(task_said(&test, &Task::Comb(panel.clone())), expect!["A1: dab 1 of 3, top third"]);
    assert!(touch_up(&test, &panel, &Wording::default()).is_none());
    assert_eq!(newest_dab_said(&test, &panel, &Wording::default()), "");
}

//! Every blank on the card can be filled in, is read back, and outlives the file.

use comb_scale::quantity::{Hours, Instant, Quantity};
use comb_scale::record::{
    Action, Address, AirLine, BalanceLine, Basis, Candidate, ComponentLine, EXAMPLE, GaugeLine, GunLine, History,
    HoursLine, Id, Measure, MeasuredLine, MixLine, PanelLine, Phrase, Pick, ReducerOf, Role, Row, SheetLine, Slot,
    SpotLine, SprayTest, StatedFor, Step, WantedLine, again, open, start, write,
};

use super::at;

fn fresh(at: Instant) -> (History, Id, Id) {
    let mut history = start("t".into(), at, "phone");
    let candidate = history.test().candidates.kept().next().unwrap().id.clone();
    let panel = history.test().panels.kept().next().unwrap().id.clone();
    for (label, role) in [("Base", Role::Base), ("Hardener", Role::Hardener)] {
        let action = Action::AddComponent { candidate: candidate.clone(), label: label.into(), role };
        history.act(action).unwrap();
    }
    history.act(Action::TakeAir { at, air_c: None, humidity_pct: None, panel_c: None }).unwrap();
    let readings_um = Vec::new();
    let id = history.fresh_id();
    history
        .act(Action::Spot { id, panel: panel.clone(), at, place: "top".into(), shim_um: None, readings_um })
        .unwrap();
    history
        .act(Action::Pour { cup: Id::from("cup"), candidate: candidate.clone(), aim_g: None, poured_g: Vec::new() })
        .unwrap();
    (history, candidate, panel)
}

fn component(test: &SprayTest) -> Id {
    test.candidates.kept().flat_map(|c| c.mix.components.kept()).next().unwrap().id.clone()
}

#[test]
fn every_number_is_read_back_and_outlives_the_file() {
    let (mut history, candidate, panel) = fresh(at("2026-03-02T08:10:00+01:00"));
    let test = history.test();
    let (of, air) = (component(test), test.air.kept().next().unwrap().id.clone());
    let (scale, spot) = (
        test.balances.kept().next().unwrap().id.clone(),
        test.panels.find(&panel).unwrap().spots.kept().next().unwrap().id.clone(),
    );
    let mut slots: Vec<Slot> = Vec::new();
    slots.extend(WantedLine::ALL.iter().map(|&line| Slot::Wanted(line)));
    slots.extend(HoursLine::ALL.iter().map(|&line| Slot::Hours(line)));
    slots.extend(GaugeLine::ALL.iter().map(|&line| Slot::Gauge(line)));
    slots.extend(SheetLine::ALL.iter().map(|&line| Slot::Sheet(candidate.clone(), line)));
    slots.extend(MixLine::ALL.iter().map(|&line| Slot::Mix(candidate.clone(), line)));
    slots.extend(ComponentLine::ALL.iter().map(|&line| Slot::Component(candidate.clone(), of.clone(), line)));
    slots.extend(MeasuredLine::ALL.iter().map(|&line| Slot::Measured(candidate.clone(), line)));
    slots.extend(GunLine::ALL.iter().map(|&line| Slot::Gun(candidate.clone(), line)));
    slots.extend(PanelLine::ALL.iter().map(|&line| Slot::Panel(panel.clone(), line)));
    slots.extend(BalanceLine::ALL.iter().map(|&line| Slot::Balance(scale.clone(), line)));
    slots.extend(AirLine::ALL.iter().map(|&line| Slot::Air(air.clone(), line)));
    slots.extend(SpotLine::ALL.iter().map(|&line| Slot::Spot(panel.clone(), spot.clone(), line)));
    slots.push(Slot::Aim(Id::from("cup")));
    // Each its own value within every bound: shares reach to 1, areas begin there.
    let value = |i: usize| {
        let area = if slots[i].measure() == Measure::Area { 1.0 } else { 0.0 };
        area + 0.501 + i as f64 / 128.0
    };
    for (i, slot) in slots.iter().enumerate() {
        history.act(Action::Fill(slot.clone(), Some(value(i)))).unwrap_or_else(|refused| panic!("{slot:?}: {refused}"));
    }
    let again = open(&write(history.test())).unwrap();
    assert!(again.remarks.is_empty(), "{:?}", again.remarks);
    for (i, slot) in slots.iter().enumerate() {
        assert_eq!(slot.read(&again.test), Some(value(i)), "{slot:?}");
    }
    let empty = Action::Fill(slots[0].clone(), None);
    history.act(empty).unwrap();
    assert_eq!(slots[0].read(history.test()), None);
}

#[test]
fn rows_choices_and_words_are_read_back_and_outlive_the_file() {
    let (mut history, candidate, panel) = fresh(at("2026-03-02T08:10:00+01:00"));
    let test = history.test();
    let (of, scale) = (component(test), test.balances.kept().next().unwrap().id.clone());
    let comb = test.combs.kept().next().unwrap().id.clone();
    let blank = test.blanks.kept().next().unwrap().id.clone();
    let spot = test.panels.find(&panel).unwrap().spots.kept().next().unwrap().id.clone();
    let rows = [
        Row::Teeth(comb.clone()),
        Row::Repeats(scale.clone()),
        Row::BaseMetal,
        Row::Readings(panel.clone(), spot),
        Row::Poured(Id::from("cup")),
        Row::SheetAir(candidate.clone()),
        Row::GradeAir(candidate.clone(), of.clone()),
    ];
    for (i, row) in rows.iter().enumerate() {
        history.act(Action::List(row.clone(), vec![i as f64, 20.5])).unwrap();
    }
    let phrases = [
        Phrase::Title,
        Phrase::Painter,
        Phrase::Shop,
        Phrase::Metal,
        Phrase::Preparation,
        Phrase::Currency,
        Phrase::Candidate(candidate.clone()),
        Phrase::Notes(candidate.clone()),
        Phrase::GunNote(candidate.clone()),
        Phrase::Component(candidate.clone(), of.clone()),
        Phrase::Grade(candidate.clone(), of.clone()),
        Phrase::Batch(candidate.clone(), of.clone()),
        Phrase::Panel(panel.clone()),
        Phrase::Rack(panel.clone()),
        Phrase::Blank(blank.clone()),
        Phrase::BlankPlace(blank.clone()),
        Phrase::Balance(scale.clone()),
        Phrase::Comb(comb),
    ];
    for (i, phrase) in phrases.iter().enumerate() {
        history.act(Action::Write(phrase.clone(), format!("words {i}"))).unwrap();
    }
    for pick in [
        Pick::Basis(candidate.clone(), Basis::Weight),
        Pick::ReducerOf(candidate.clone(), ReducerOf::Base),
        Pick::Role(candidate.clone(), of.clone(), Role::Reducer),
        Pick::StatedFor(candidate.clone(), StatedFor::Base),
        Pick::GainsMass(candidate.clone(), true),
        Pick::Cup(panel.clone(), Some(Id::from("cup"))),
        Pick::BlankScale(blank.clone(), Some(scale.clone())),
    ] {
        history.act(Action::Choose(pick.clone())).unwrap();
        assert!(pick.holds(history.test()), "{pick:?}");
    }
    assert!(!Pick::Basis(candidate.clone(), Basis::Volume).holds(history.test()));
    let again = open(&write(history.test())).unwrap().test;
    for (i, row) in rows.iter().enumerate() {
        assert_eq!(row.read(&again), [i as f64, 20.5], "{row:?}");
    }
    for (i, phrase) in phrases.iter().enumerate() {
        assert_eq!(phrase.read(&again).unwrap(), format!("words {i}"), "{phrase:?}");
    }
    let told = again.candidates.find(&candidate).unwrap();
    assert_eq!((told.mix.basis, told.mix.reducer_of), (Some(Basis::Weight), Some(ReducerOf::Base)));
    assert_eq!(told.mix.components.find(&of).unwrap().role, Some(Role::Reducer));
    assert_eq!((told.sheet.stated_for, told.gains_mass), (Some(StatedFor::Base), true));
    assert_eq!(again.panels.find(&panel).unwrap().mix, Id::from("cup").into());
    assert_eq!(again.blanks.find(&blank).unwrap().balance, scale.into());
}

#[test]
fn times_to_weigh_that_stay_keep_their_entry() {
    let (mut history, ..) = fresh(at("2026-03-02T08:10:00+01:00"));
    let due = |hours: &[f64]| hours.iter().map(|&h| Hours::new(h).unwrap()).collect::<Vec<_>>();
    history.act(Action::Schedule(due(&[0.0, 24.0, 48.0]))).unwrap();
    let ids = |test: &SprayTest| {
        test.schedule.kept().map(|due| (due.due_h.unwrap().get(), due.id.clone())).collect::<Vec<_>>()
    };
    let before = ids(history.test());
    history.act(Action::Schedule(due(&[24.0, 72.0]))).unwrap();
    let after = ids(history.test());
    assert_eq!(after.iter().map(|(h, _)| *h).collect::<Vec<_>>(), [24.0, 72.0]);
    assert_eq!(after[0], before[1]);
}

#[test]
fn a_cup_comes_together_once_and_its_panels_know_it() {
    let when = at("2026-03-02T08:10:00+01:00");
    let (mut history, candidate, panel) = fresh(when);
    let cup = Id::from("cup");
    let mixed = Action::Mixed { cup: cup.clone(), candidate: candidate.clone(), at: when, panels: vec![panel.clone()] };
    history.act(mixed).unwrap();
    history.act(Action::Skip { at: when, step: Step::Mix, of: Some(Address::candidate(&candidate)) }).unwrap();
    let again = open(&write(history.test())).unwrap().test;
    assert_eq!(again.mixes.kept().count(), 1);
    assert_eq!(again.mixes.find(&cup).unwrap().at, Some(when));
    assert_eq!(again.panels.find(&panel).unwrap().mix, cup.into());
    assert_eq!(again.skipped.kept().next().unwrap().step, Some(Step::Mix));
}

#[test]
fn a_test_begun_again_has_the_plan_and_nothing_that_was_read() {
    let example = open(EXAMPLE).unwrap().test;
    let mut history = History::new(example.clone(), "phone");
    let removed = example.panels.kept().next().unwrap().id.clone();
    history.act(Action::Remove(Address::panel(&removed))).unwrap();
    let example = history.test().clone();
    let new = again(&example, "t2".into(), at("2026-04-04T08:00:00+02:00"));
    let text = write(&new);
    assert!(new.panels.all().iter().all(|panel| panel.id != removed), "what was taken out is not in the plan");
    for read in ["\"at\"", "gross_g", "wetted_um", "humidity_pct", "batch", "poured_g", "readings_um"] {
        assert!(EXAMPLE.contains(read), "the example has no {read}");
        assert!(!text.contains(read), "{read} was carried over");
    }
    assert_eq!((new.id.0.as_str(), new.title.ends_with(", again")), ("t2", true));
    let kept = |test: &SprayTest| {
        let mix = |candidate: &Candidate| {
            let mut mix = candidate.mix.clone();
            mix.components.kept_mut().for_each(|component| component.batch.clear());
            mix
        };
        let mixes: Vec<_> = test.candidates.kept().map(|candidate| (candidate.sheet.clone(), mix(candidate))).collect();
        let panels: Vec<_> = test.panels.kept().map(|panel| (panel.label.clone(), panel.width_mm)).collect();
        (mixes, panels, test.combs.clone(), test.balances.clone(), test.schedule.clone(), test.wanted.dry_build_um)
    };
    assert_eq!(kept(&new), kept(&example));
    let opened = open(&text).unwrap();
    assert!(opened.remarks.is_empty() && opened.test == new, "it is read back as it was begun");
}

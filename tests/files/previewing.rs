//! What joining a copy would do, said before it is done.

use comb_scale::record::{
    Action, Address, History, Owner, Phrase, Slot, SprayTest, WantedLine, merge, merge_preview, open,
};

use super::{at, begun, grams, panel};

fn weigh(history: &mut History, label: &str, time: &str, gross_g: f64) {
    let owner = panel(history.test(), label);
    history
        .act(Action::Weigh { owner: Owner::Panel(owner), round: None, at: at(time), gross_g: grams(gross_g) })
        .unwrap();
}

#[test]
fn what_is_new_what_differs_and_what_stays_is_told_before_anything_changes() {
    let mut mine = begun("ann");
    weigh(&mut mine, "A1", "2026-03-02T09:00:00+01:00", 440.2);
    let mut theirs = History::new(mine.test().clone(), "ben");
    let owner = panel(mine.test(), "A1");
    let id = mine.test().panels.find(&owner).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    let slot = Slot::WeighIn(Owner::Panel(owner.clone()), id.clone());

    weigh(&mut mine, "A1", "2026-03-03T09:00:00+01:00", 436.0);
    mine.act(Action::Fill(slot.clone(), Some(440.3))).unwrap();
    mine.act(Action::Fill(Slot::Wanted(WantedLine::DryBuild), Some(80.0))).unwrap();
    for (time, grams) in [("2026-03-04T09:00:00+01:00", 435.0), ("2026-03-05T09:00:00+01:00", 434.5)] {
        weigh(&mut theirs, "A1", time, grams);
    }
    theirs.act(Action::BeginRound { at: at("2026-03-04T09:00:00+01:00"), place: "Shop".into() }).unwrap();
    theirs.act(Action::Write(Phrase::Title, "Gates".into())).unwrap();
    theirs.act(Action::Fill(slot.clone(), Some(440.4))).unwrap();

    let preview = merge_preview(mine.test(), theirs.test());
    assert!(preview.same_test && preview.taken_out.is_empty());
    assert_eq!(
        preview.said(),
        [
            "New in it: 2 weigh-ins, 1 round.",
            "Title: becomes Gates; so far it is nothing.",
            "Wanted dry build: stays 80 µm; the file has it as it was, nothing.",
            "Panel A1, weigh-in of Mon 2 Mar 09:00, weight: changed here and there. Becomes 440.4 g; so far it is 440.3 g.",
            "Only here, and stays: 1 weigh-in.",
        ]
    );
    let clash = preview.differences.iter().find(|told| told.both_changed).unwrap();
    let weighed = Address::weigh_in(&Owner::Panel(owner), &id);
    assert_eq!((clash.entry.clone(), clash.field.as_str(), clash.keeps_mine), (weighed, "gross_g", false));
    assert_eq!((clash.mine.as_f64(), clash.theirs.as_f64()), (Some(440.3), Some(440.4)));
    // The other phone is told the same from its side.
    let other = merge_preview(theirs.test(), mine.test());
    let told = other.differences.iter().find(|told| told.both_changed).unwrap();
    assert!(told.keeps_mine && told.says.ends_with("Stays 440.4 g; the file says 440.3 g."), "{}", told.says);
    assert_eq!(slot.read(&merge(mine.test(), theirs.test()).test), Some(440.4));
}

#[test]
fn what_was_taken_out_is_told_and_readings_inside_it_are_offered_back() {
    let mut mine = begun("ann");
    let mut theirs = History::new(mine.test().clone(), "ben");
    let (a, b) = (panel(mine.test(), "A1"), panel(mine.test(), "B1"));
    mine.act(Action::Remove(Address::panel(&a))).unwrap();
    theirs.act(Action::Remove(Address::panel(&b))).unwrap();
    weigh(&mut theirs, "A1", "2026-03-03T09:00:00+01:00", 436.0);
    let preview = merge_preview(mine.test(), theirs.test());
    assert_eq!(preview.taken_out, [(Address::panel(&a), "panel A1".to_owned())]);
    assert_eq!(preview.new, []);
    assert_eq!(
        preview.said(),
        [
            "Panel A1 was taken out here, and stays out.",
            "Panel B1 was taken out there, and goes here too.",
            "Panel A1 stays taken out, with readings that the other copy did not have: bring it back to see them.",
        ]
    );
}

#[test]
fn numbers_are_told_as_they_are_shown_and_apart() {
    let rows = [
        // Three mil, as a phone in mil stores it.
        ("76.19999999999999", "80", "76.2 µm", "80 µm"),
        ("50.8", "50.800000000000004", "50.8 µm", "50.8 µm"),
        ("0.1", "66.66666666666667", "0.1 µm", "66.667 µm"),
        // Alike to three decimals: then further.
        ("76.19999999999999", "76.2001", "76.2 µm", "76.2001 µm"),
        ("80.0", "1e2", "80 µm", "100 µm"),
    ];
    for (mine, theirs, mine_said, theirs_said) in rows {
        let test = |built: &str| {
            let text = format!(
                r#"{{ "format": "spray-test", "version": 1, "id": "t", "wanted": {{ "dry_build_um": {built}, "stamp": "1@a" }} }}"#
            );
            open(&text).unwrap().test
        };
        let preview = merge_preview(&test(mine), &test(theirs));
        let [told] = preview.differences.as_slice() else { panic!("{mine}, {theirs}: {:?}", preview.differences) };
        let has = |said: &str| told.says.contains(&[" ", said].concat());
        assert!(has(mine_said) && has(theirs_said), "{mine}, {theirs}: {}", told.says);
        assert!(!told.says.contains("999"), "{}", told.says);
    }
}

#[test]
fn a_copy_with_nothing_new_and_another_test_say_so() {
    let mine = begun("ann").test().clone();
    assert_eq!(merge_preview(&mine, &mine).said(), ["It says nothing that is not here already."]);
    let other = open(r#"{ "format": "spray-test", "version": 1, "id": "other" }"#).unwrap().test;
    let preview = merge_preview(&mine, &other);
    assert!(!preview.same_test && preview.said()[0].starts_with("It looks like another test"), "{:?}", preview.said());
    assert_eq!(merge_preview(&SprayTest::default(), &SprayTest::default()).said().len(), 1);
}

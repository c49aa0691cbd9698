use comb_scale::record::{
    Action, Address, History, Owner, Phrase, Slot, SprayTest, WantedLine, merge, merge_preview, open, write,
};
use proptest::prelude::*;

use super::{at, begun, grams, panel};

/// One of the things two painters do to their copies of one test.
fn step(history: &mut History, kind: u8, number: u16) {
    let test = history.test();
    let labels = ["A1", "B1"];
    let owner = test.panels.all().iter().find(|p| p.label == labels[usize::from(number) % 2]).map(|p| p.id.clone());
    let owner = owner.expect("panels stay in the list");
    let weigh_in =
        test.panels.find(&owner).and_then(|p| p.weigh_ins.kept().nth(usize::from(number) % 3)).map(|w| w.id.clone());
    let value = 400.0 + f64::from(number) / 10.0;
    let when = at("2026-03-02T09:00:00+01:00").plus_hours(f64::from(number % 500));
    let action = match (kind % 15, weigh_in) {
        (7, _) => Action::Carry { at: when, to: format!("Place {}", number % 3), warmer: false, panels: vec![owner] },
        (8, _) => Action::TakeAir { at: when, air_c: None, humidity_pct: None, panel_c: None },
        (9, _) => Action::Coat { panels: vec![owner], at: when },
        (10, _) => Action::BringBack(Address::panel(&owner)),
        (11, _) => Action::Remove(Address::panel(&owner)),
        (12, _) => Action::AddPanel { candidate: test.candidates.all()[0].id.clone(), label: format!("C{number}") },
        (13, weigh_in) => {
            let owner = Owner::Panel(owner);
            Action::Leave { owner, round: None, at: when, why: format!("chip {number}"), weigh_in }
        }
        (14, _) => Action::ComeBack(Owner::Panel(owner)),
        (0 | 1, _) => Action::Weigh {
            owner: Owner::Panel(owner),
            round: None,
            at: at("2026-03-02T09:00:00+01:00"),
            gross_g: grams(value),
        },
        (2, Some(weigh_in)) => Action::Fill(Slot::WeighIn(Owner::Panel(owner), weigh_in), Some(value)),
        (3, Some(weigh_in)) => Action::SetAside { owner: Owner::Panel(owner), weigh_in, why: format!("slip {number}") },
        (4, Some(weigh_in)) => Action::Remove(Address::weigh_in(&Owner::Panel(owner), &weigh_in)),
        (5, _) => Action::Fill(Slot::Wanted(WantedLine::DryBuild), Some(value)),
        _ => Action::Write(Phrase::Title, format!("Title {number}")),
    };
    // A weigh-in of a removed panel is gone for this copy; that is an answer, not a failure.
    let _ = history.act(action);
}

fn edited(base: &SprayTest, device: &str, steps: &[(u8, u16)]) -> SprayTest {
    let mut history = History::new(base.clone(), device);
    for &(kind, number) in steps {
        step(&mut history, kind, number);
    }
    history.test().clone()
}

/// Three phones: each works on its copy, and files go from one to another in whatever order.
fn exchanged(base: &SprayTest, days: &[(u8, u8, u8, u16)]) -> Vec<History> {
    let mut phones: Vec<History> =
        ["ann", "ben", "cleo"].iter().map(|device| History::new(base.clone(), device)).collect();
    for &(what, from, kind, number) in days {
        let from = usize::from(from) % 3;
        match what % 4 {
            // A file is text on its way.
            0 | 1 => {
                let file = write(phones[from].test());
                let to = (from + 1 + usize::from(what / 4) % 2) % 3;
                phones[to].absorb(&open(&file).expect("what one phone writes, another opens").test).unwrap();
            }
            2 => step(&mut phones[from], kind, number),
            _ if number % 3 == 0 => phones[from].undo(),
            _ => step(&mut phones[from], kind, number),
        }
    }
    phones
}

fn readings(test: &SprayTest) -> Vec<String> {
    let mut ids: Vec<_> = test.panels.all().iter().flat_map(|p| p.weigh_ins.all()).map(|w| w.id.to_string()).collect();
    ids.sort();
    ids
}

proptest! {
    #[test]
    fn merging_is_commutative_associative_idempotent_and_loses_nothing(
        a in proptest::collection::vec((any::<u8>(), any::<u16>()), 0..12),
        b in proptest::collection::vec((any::<u8>(), any::<u16>()), 0..12),
        c in proptest::collection::vec((any::<u8>(), any::<u16>()), 0..12),
    ) {
        let base = begun("first").test().clone();
        let (a, b, c) = (edited(&base, "ann", &a), edited(&base, "ben", &b), edited(&base, "cleo", &c));
        let ab = merge(&a, &b).test;
        prop_assert_eq!(write(&ab), write(&merge(&b, &a).test));
        prop_assert_eq!(&merge(&ab, &a).test, &ab);
        prop_assert_eq!(&merge(&ab, &ab).test, &ab);
        let left = merge(&ab, &c).test;
        let right = merge(&a, &merge(&b, &c).test).test;
        prop_assert_eq!(write(&left), write(&right));
        for copy in [&a, &b, &c] {
            let all = readings(&left);
            prop_assert!(readings(copy).iter().all(|id| all.contains(id)));
        }
        prop_assert_eq!(&open(&write(&left)).unwrap().test, &left);
    }
}

proptest! {
    #[test]
    fn three_phones_that_exchange_files_in_any_order_end_with_one_test(
        days in proptest::collection::vec((any::<u8>(), any::<u8>(), any::<u8>(), any::<u16>()), 0..40),
        order in Just(vec![(0, 1), (1, 2), (2, 0), (0, 1), (1, 0), (0, 2), (2, 1)]).prop_shuffle(),
    ) {
        let base = begun("first").test().clone();
        let mut phones = exchanged(&base, &days);
        let before: Vec<Vec<String>> = phones.iter().map(|phone| readings(phone.test())).collect();
        // Everybody's file reaches everybody, some of them twice and in any order; twice, since what one hears second hand
        // counts as well.
        for (from, to) in order.iter().chain(&order) {
            let theirs = phones[*from].test().clone();
            phones[*to].absorb(&theirs).unwrap();
        }
        let texts: Vec<String> = phones.iter().map(|phone| write(phone.test())).collect();
        prop_assert_eq!(&texts[0], &texts[1]);
        prop_assert_eq!(&texts[1], &texts[2]);
        let all = readings(phones[0].test());
        prop_assert!(before.iter().flatten().all(|id| all.contains(id)), "a reading was lost");
    }

    #[test]
    fn what_is_told_before_a_merge_is_what_the_merge_does(
        a in proptest::collection::vec((any::<u8>(), any::<u16>()), 0..12),
        b in proptest::collection::vec((any::<u8>(), any::<u16>()), 0..12),
    ) {
        let base = begun("first").test().clone();
        let (mine, theirs) = (edited(&base, "ann", &a), edited(&base, "ben", &b));
        let preview = merge_preview(&mine, &theirs);
        let merged = merge(&mine, &theirs);
        prop_assert!(preview.said().iter().all(|sentence| sentence.ends_with('.')));
        // Each clash that was settled is told, and nothing told is settled otherwise.
        for clash in &merged.clashes {
            let told = preview.differences.iter().find(|told| told.entry == clash.entry && told.field == clash.field);
            let told = told.expect("a clash is told");
            let (kept, other) = if told.keeps_mine { (&told.mine, &told.theirs) } else { (&told.theirs, &told.mine) };
            prop_assert!(told.both_changed);
            prop_assert_eq!((kept, other), (&clash.kept, &clash.dropped));
        }
        let told: usize = preview.new.iter().filter(|new| new.list == "weigh_ins").map(|new| new.count).sum();
        let known = readings(&mine);
        let panels = merged.test.panels.kept().flat_map(|panel| panel.weigh_ins.kept());
        prop_assert_eq!(told, panels.filter(|weigh_in| !known.contains(&weigh_in.id.to_string())).count());
    }
}

#[test]
fn a_later_edit_wins_and_the_other_is_told() {
    let base = begun("first").test().clone();
    let owner = panel(&base, "A1");
    let mut mine = History::new(base.clone(), "ann");
    let at = at("2026-03-02T09:00:00+01:00");
    mine.act(Action::Weigh { owner: Owner::Panel(owner.clone()), round: None, at, gross_g: grams(440.2) }).unwrap();
    let id = mine.test().panels.find(&owner).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    let slot = Slot::WeighIn(Owner::Panel(owner), id);
    let mut theirs = History::new(mine.test().clone(), "ben");
    mine.act(Action::Fill(slot.clone(), Some(440.3))).unwrap();
    theirs.act(Action::Write(Phrase::Title, "Gates".into())).unwrap();
    theirs.act(Action::Fill(slot.clone(), Some(440.4))).unwrap();

    let merged = mine.absorb(theirs.test()).unwrap();
    assert_eq!(slot.read(&merged.test), Some(440.4));
    assert_eq!(merged.test.title, "Gates");
    assert_eq!(merged.clashes.len(), 1);
    assert_eq!((merged.clashes[0].field.as_str(), merged.clashes[0].dropped.as_f64()), ("gross_g", Some(440.3)));

    mine.undo();
    assert_eq!(slot.read(mine.test()), Some(440.3), "one undo restores the state before");
}

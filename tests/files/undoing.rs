use comb_scale::record::{Action, Address, BalanceLine, History, Owner, Phrase, Refused, Slot, open, write};

use super::{at, begun, grams, panel};

fn titled(history: &mut History, title: &str) {
    history.act(Action::Write(Phrase::Title, title.into())).unwrap();
}

#[test]
fn what_an_action_changes_is_stamped_and_nothing_else() {
    let mut history = begun("phone");
    let before = history.test().clone();
    titled(&mut history, "Gates");
    let test = history.test();
    let stamp = &test.edited["title"];
    assert_eq!(stamp.device, "phone");
    assert!(stamp.counter > before.panels.kept().map(|p| p.stamp.counter).max().unwrap());
    assert_eq!(test.panels, before.panels);
    assert_eq!(test.candidates, before.candidates);
}

#[test]
fn an_action_that_changes_nothing_leaves_no_trace() {
    let mut history = begun("phone");
    titled(&mut history, "Gates");
    let (text, undoable) = (write(history.test()), history.can_undo());
    titled(&mut history, "Gates");
    assert_eq!(write(history.test()), text);
    assert_eq!(history.can_undo(), undoable);
}

#[test]
fn fifty_steps_back_and_forth() {
    let mut history = begun("phone");
    for i in 0..60 {
        titled(&mut history, &format!("Title {i}"));
    }
    for _ in 0..50 {
        assert!(history.can_undo());
        history.undo();
    }
    assert!(!history.can_undo());
    assert_eq!(history.test().title, "Title 9");
    while history.can_redo() {
        history.redo();
    }
    assert_eq!(history.test().title, "Title 59");
}

#[test]
fn an_undone_reading_is_taken_out_and_comes_back_as_itself() {
    let mut history = begun("phone");
    let owner = panel(history.test(), "A1");
    let weigh = Action::Weigh {
        owner: Owner::Panel(owner.clone()),
        round: None,
        at: at("2026-03-02T09:00:00+01:00"),
        gross_g: grams(440.2),
    };
    history.act(weigh).unwrap();
    let id = history.test().panels.find(&owner).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    history.undo();
    let panel = history.test().panels.find(&owner).unwrap();
    assert_eq!(panel.weigh_ins.kept().count(), 0);
    assert_eq!(panel.weigh_ins.all().len(), 1, "the deletion is written down");
    history.redo();
    let panel = history.test().panels.find(&owner).unwrap();
    assert_eq!(panel.weigh_ins.kept().next().unwrap().id, id);
}

#[test]
fn a_stamped_test_survives_writing_and_opening() {
    let mut history = begun("phone");
    let owner = panel(history.test(), "A1");
    history.act(Action::Remove(Address::panel(&owner))).unwrap();
    let opened = open(&write(history.test())).unwrap();
    assert_eq!(opened.remarks, []);
    assert_eq!(&opened.test, history.test());
    assert_eq!(history.act(Action::Fill(Slot::Bare(owner.clone()), Some(1.0))), Err(Refused::Gone));
    history.act(Action::BringBack(Address::panel(&owner))).unwrap();
    assert!(history.test().panels.find(&owner).is_some());
}

#[test]
fn a_number_out_of_bounds_changes_nothing() {
    let mut history = begun("phone");
    let balance = history.test().balances.kept().next().unwrap().id.clone();
    let before = write(history.test());
    let refused = history.act(Action::Fill(Slot::Balance(balance, BalanceLine::Division), Some(-1.0))).unwrap_err();
    assert_eq!(refused.to_string(), "It must lie between 0.0001 and 1000 g.");
    assert_eq!(write(history.test()), before);
}

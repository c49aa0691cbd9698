//! One test in several tabs of one phone: each with its own history and its own way back.

use comb_scale::quantity::Quantity;
use comb_scale::record::{Action, History, Owner, Phrase, SprayTest, merge, write};
use proptest::prelude::*;

use super::{at, begun, grams, panel};

fn tabs(count: usize) -> Vec<History> {
    let test = begun("phone").test().clone();
    (0..count).map(|tab| History::new(test.clone(), &format!("tab{tab}"))).collect()
}

fn weigh(tab: &mut History, gross_g: f64) {
    let owner = panel(tab.test(), "A1");
    let at = at("2026-03-02T09:00:00+01:00");
    tab.act(Action::Weigh { owner: Owner::Panel(owner), round: None, at, gross_g: grams(gross_g) }).unwrap();
}

/// The weights of A1 that were not taken out, in tenths of a gram, sorted.
fn weights(test: &SprayTest) -> Vec<i64> {
    let a1 = test.panels.find(&panel(test, "A1")).unwrap();
    let mut weights: Vec<_> =
        a1.weigh_ins.kept().map(|weigh_in| (weigh_in.gross_g.unwrap().get() * 10.0).round() as i64).collect();
    weights.sort_unstable();
    weights
}

#[test]
fn undo_takes_back_the_own_step_and_leaves_the_other_tabs_reading() {
    let mut tabs = tabs(2);
    weigh(&mut tabs[0], 440.1);
    weigh(&mut tabs[1], 440.2);
    let theirs = tabs[1].test().clone();
    assert!(tabs[0].follow(&theirs));
    assert!(!tabs[0].follow(&theirs), "nothing new the second time");
    assert_eq!(weights(tabs[0].test()), [4401, 4402]);
    tabs[0].undo();
    assert_eq!(weights(tabs[0].test()), [4402]);
    assert!(!tabs[0].can_undo());
    tabs[0].redo();
    assert_eq!(weights(tabs[0].test()), [4401, 4402]);
}

#[test]
fn a_step_back_goes_on_being_possible_after_the_other_tab_wrote() {
    let mut tabs = tabs(2);
    let title = |tab: &mut History, title: &str| tab.act(Action::Write(Phrase::Title, title.into())).unwrap();
    title(&mut tabs[0], "Gates");
    title(&mut tabs[0], "Doors");
    tabs[0].undo();
    weigh(&mut tabs[1], 440.2);
    let theirs = tabs[1].test().clone();
    tabs[0].follow(&theirs);
    tabs[0].redo();
    assert_eq!((tabs[0].test().title.as_str(), weights(tabs[0].test())), ("Doors", vec![4402]));
    tabs[0].undo();
    tabs[0].undo();
    assert_eq!((tabs[0].test().title.as_str(), weights(tabs[0].test())), ("", vec![4402]));
}

#[test]
fn a_later_change_by_the_other_tab_is_not_undone_here() {
    let mut tabs = tabs(2);
    let title = |tab: &mut History, title: &str| tab.act(Action::Write(Phrase::Title, title.into())).unwrap();
    title(&mut tabs[0], "Gates");
    let mine = tabs[0].test().clone();
    tabs[1].follow(&mine);
    title(&mut tabs[1], "Doors");
    let theirs = tabs[1].test().clone();
    tabs[0].follow(&theirs);
    tabs[0].undo();
    assert_eq!(tabs[0].test().title, "Doors");
}

proptest! {
    /// Any interleaving of weighing, stepping back and hearing from one another: every tab ends with the same text, and
    /// no reading goes that its own tab did not take back.
    #[test]
    fn tabs_that_hear_each_other_agree_and_lose_nothing(
        steps in proptest::collection::vec((0_usize..3, 0_u8..5, 0_usize..3), 0..60),
    ) {
        let mut tabs = tabs(3);
        // What each tab has weighed and not taken back, and what it could do again.
        let mut made: Vec<Vec<i64>> = vec![Vec::new(); 3];
        let mut undone: Vec<Vec<i64>> = vec![Vec::new(); 3];
        let mut next = 4000;
        for (tab, kind, other) in steps {
            match kind {
                0 | 1 => {
                    next += 1;
                    weigh(&mut tabs[tab], next as f64 / 10.0);
                    made[tab].push(next);
                    undone[tab].clear();
                }
                2 => {
                    prop_assert_eq!(tabs[tab].can_undo(), !made[tab].is_empty());
                    tabs[tab].undo();
                    if let Some(reading) = made[tab].pop() { undone[tab].push(reading) }
                }
                3 => {
                    tabs[tab].redo();
                    if let Some(reading) = undone[tab].pop() { made[tab].push(reading) }
                }
                _ => {
                    let theirs = tabs[other].test().clone();
                    tabs[tab].follow(&theirs);
                }
            }
        }
        let all = tabs.iter().fold(tabs[0].test().clone(), |all, tab| merge(&all, tab.test()).test);
        for tab in &mut tabs {
            tab.follow(&all);
            prop_assert_eq!(write(tab.test()), write(&all));
        }
        let mut expected: Vec<i64> = made.concat();
        expected.sort_unstable();
        prop_assert_eq!(weights(&all), expected);
    }
}

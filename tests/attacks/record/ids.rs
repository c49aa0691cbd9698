//! Every list of a file numbered 1, 2 alike: each action changes what it names, and nothing else.

use comb_scale::record::{
    Action, Address, History, Id, Owner, Phrase, Pick, Slot, SprayTest, merge, merge_preview, open, write,
};

use super::{changed, record};
use crate::{Attacks, holds, same};

/// A test in which everything is numbered 1 and 2.
pub fn numbered() -> SprayTest {
    let two = |one: &str| {
        let entry = |id: &str| format!(r#"{{ "id": "{id}", {} }}"#, one.replace('#', id));
        format!("[ {}, {} ]", entry("1"), entry("2"))
    };
    let at = r##""at": "2026-03-0#T09:00:00Z""##;
    let weighed = two(&format!(r##"{at}, "round": "#", "gross_g": 44#"##));
    let parts = two(r##""label": "Part #", "role": "base", "parts": #"##);
    let left = two(&format!(r##"{at}, "why": "it lost a chip""##));
    record(&format!(
        r##""title": "1", "created": "2026-03-01T08:00:00Z", "candidates": {}, "panels": {}, "blanks": {},
        "balances": {}, "combs": {}, "mixes": {}, "rounds": {}, "moves": {}, "air": {}, "notes": {},
        "verifications": {}, "skipped": {}, "schedule": {}"##,
        two(&format!(r##""label": "Grey #", "mix": {{ "components": {parts} }}"##)),
        two(&format!(
            r##""label": "A#", "candidate": "#", "mix": "#", "bare": {}, "coats": {}, "dabs": {}, "weigh_ins": {weighed}, "left": {left}, "spots": {}"##,
            two(&format!(r##"{at}, "gross_g": 40#"##)),
            two(at),
            two(&format!(r##"{at}, "comb": "#", "wetted_um": 100, "dry_um": 125"##)),
            two(&format!(r##"{at}, "readings_um": [ 6#, 70 ]"##)),
        )),
        two(&format!(r##""label": "Blank #", "weigh_ins": {weighed}, "left": {left}"##)),
        two(r##""label": "Scale #", "division_g": 0.1"##),
        two(&format!(r##""label": "Comb #", "edges": {}"##, two(r##""teeth_um": [ 100, 125, 150 ]"##))),
        two(&format!(r##""candidate": "#", {at}, "poured_g": [ 10#, 20 ]"##)),
        two(&format!(r##"{at}, "place": "Shop #", "balance": "#""##)),
        two(&format!(r##"{at}, "to": "Sun #", "panels": [ "#" ]"##)),
        two(&format!(r##"{at}, "air_c": 2#"##)),
        two(&format!(r##"{at}, "text": "Note #""##)),
        two(&format!(r##"{at}, "shim_um": 50, "reading_um": 5#"##)),
        two(&format!(r##"{at}, "step": "wet", "of": "#""##)),
        two(r##""due_h": 1#"##),
    ))
}

pub fn id(id: &str) -> Id {
    id.into()
}

/// Does an action, and holds what changed against the places that it may change.
pub fn hits(test: &SprayTest, action: Action, may: &[String]) -> Result<SprayTest, String> {
    let mut history = History::new(test.clone(), "phone");
    history.act(action).map_err(|refused| refused.to_string())?;
    let changed = changed(test, history.test());
    holds(!changed.is_empty(), "nothing changed")?;
    for place in &changed {
        let allowed = may.iter().any(|may| place == may || place.starts_with(&format!("{may}/")));
        holds(allowed, format!("{place} changed"))?;
    }
    // It is as true of the text that is kept.
    same("what is written", &open(&write(history.test())).unwrap().test, history.test())?;
    Ok(history.test().clone())
}

/// Every entry that can be taken out, and where it stands.
fn entries(n: &str) -> Vec<(Address, String)> {
    let i = &id(n);
    let mut all = vec![
        (Address::candidate(i), format!("candidates/{n}")),
        (Address::component(i, i), format!("candidates/{n}/mix/components/{n}")),
        (Address::panel(i), format!("panels/{n}")),
        (Address::blank(i), format!("blanks/{n}")),
        (Address::balance(i), format!("balances/{n}")),
        (Address::comb(i), format!("combs/{n}")),
        (Address::verification(i), format!("verifications/{n}")),
        (Address::cup(i), format!("mixes/{n}")),
        (Address::round(i), format!("rounds/{n}")),
        (Address::carried(i), format!("moves/{n}")),
        (Address::skipped(i), format!("skipped/{n}")),
        (Address::air(i), format!("air/{n}")),
        (Address::note(i), format!("notes/{n}")),
        (Address::due(i), format!("schedule/{n}")),
    ];
    // Inside a panel or a blank: those of the other one are numbered alike.
    for owner in ["1", "2"] {
        let o = &id(owner);
        all.extend([
            (Address::bare(o, i), format!("panels/{owner}/bare/{n}")),
            (Address::coat(o, i), format!("panels/{owner}/coats/{n}")),
            (Address::dab(o, i), format!("panels/{owner}/dabs/{n}")),
            (Address::spot(o, i), format!("panels/{owner}/spots/{n}")),
            (Address::weigh_in(&Owner::Panel(o.clone()), i), format!("panels/{owner}/weigh_ins/{n}")),
            (Address::weigh_in(&Owner::Blank(o.clone()), i), format!("blanks/{owner}/weigh_ins/{n}")),
        ]);
    }
    all
}

#[test]
fn what_is_taken_out_is_what_was_named() {
    let mut attacks = Attacks::on("record: taking out by number");
    let test = numbered();
    for (address, place) in ["1", "2"].into_iter().flat_map(entries) {
        let mut may = vec![format!("{place}/deleted")];
        if let Some(candidate) = place.strip_prefix("candidates/").filter(|rest| !rest.contains('/')) {
            may.push(format!("panels/{candidate}/deleted"));
        }
        attacks.attempt(format!("take out {place}, and bring it back"), || {
            let gone = hits(&test, Action::Remove(address.clone()), &may)?;
            same("deleted", super::places(&gone).get(&may[0]).map(String::as_str), Some("true"))?;
            // One undo is all it takes.
            let mut history = History::new(test.clone(), "phone");
            history.act(Action::Remove(address.clone())).unwrap();
            history.undo();
            same("after undo", changed(&test, history.test()), Vec::new())?;
            let back = hits(&gone, Action::BringBack(address.clone()), &may)?;
            same("brought back", super::places(&back).get(&may[0]), None)
        });
    }
    attacks.close();
}

#[test]
fn two_phones_with_numbers_for_ids_are_told_apart_entry_by_entry() {
    let mut attacks = Attacks::on("record: joining by number");
    let test = numbered();
    for (address, place) in ["1", "2"].into_iter().flat_map(entries) {
        attacks.attempt(format!("one phone takes out {place}, the other corrects a weight"), || {
            let (mut mine, mut theirs) = (History::new(test.clone(), "ann"), History::new(test.clone(), "ben"));
            mine.act(Action::Remove(address.clone())).unwrap();
            let slot = Slot::WeighIn(Owner::Blank(id("2")), id("2"));
            theirs.act(Action::Fill(slot.clone(), Some(441.5))).unwrap();
            let both = merge(mine.test(), theirs.test()).test;
            same("in the other order", &merge(theirs.test(), mine.test()).test, &both)?;
            let mut apart = changed(&test, &both);
            apart.retain(|changed| !changed.ends_with("/deleted") && changed != "blanks/2/weigh_ins/2/gross_g");
            same("what else changed", apart, Vec::new())?;
            let told = merge_preview(mine.test(), theirs.test());
            let removed = told.differences.iter().filter(|told| told.field == "deleted").count();
            let inside = if place.starts_with("candidates/") && !place.contains("mix") { 2 } else { 1 };
            same("removals told", removed, inside)?;
            holds(told.differences.iter().all(|told| !told.both_changed), "nobody changed what the other did")
        });
    }
    attacks.attempt("a title that is some entry's number is told as it stands", || {
        let mut theirs = History::new(test.clone(), "ben");
        theirs.act(Action::Write(Phrase::Title, "2".into())).unwrap();
        same("told", merge_preview(&test, theirs.test()).said(), vec!["Title: becomes 2; so far it is 1.".to_owned()])
    });
    attacks.attempt("a scale is told by its own name", || {
        let mut theirs = History::new(test.clone(), "ben");
        theirs.act(Action::Choose(Pick::BlankScale(id("1"), Some(id("2"))))).unwrap();
        let said = merge_preview(&test, theirs.test()).said();
        same("told", said, vec!["Blank Blank 1, balance: becomes Scale 2; so far it is nothing.".to_owned()])
    });
    attacks.close();
}

//! Phones whose clocks disagree, or are set back, through a spray day and the days after. A simulated painter does what the
//! page asks for, on whichever phone is at hand; each weight must land under the panel that was asked for, tasks move on,
//! ages stay sane, and clocks that are minutes apart are told. Times are those of an invented day.

use comb_scale::findings::facts::{in_order, place_now};
use comb_scale::findings::spray::{Task, panels_of};
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{Grams, Quantity};
use comb_scale::record::{Action, Address, Id, Owner, Step};

use super::painter::{MIN, Shop, Survived};
use super::{Attacks, holds, same};

/// An attack with a clock so many hours off.
type Attack = fn(f64) -> Survived;

/// How far off a clock is, h.
const OFF: [(&str, f64); 9] = [
    ("a day behind", -24.0),
    ("an hour behind", -1.0),
    ("3 min behind", -3.0 * MIN),
    ("30 s behind", -0.5 * MIN),
    ("30 s ahead", 0.5 * MIN),
    ("3 min ahead", 3.0 * MIN),
    ("an hour ahead", 1.0),
    ("a day ahead", 24.0),
    ("ten years ahead", 87_660.0),
];

/// Coats on one phone, all wet weights typed in a row on the other.
fn weights_in_a_row(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    shop.send(0, 1);
    shop.told(1, off_h >= 3.0 * MIN)?;
    shop.weigh_wet(1)?;
    shop.send_both_ways(0, 1)?;
    shop.all_wet(0)
}

/// Coats on one phone, three comb readings a panel on the other, then the wet weights.
fn combs_on_the_other(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    shop.send(0, 1);
    for (i, weight) in [430.0, 433.0, 436.0].into_iter().enumerate() {
        let panel = in_order(&shop.test(1))[i].id.clone();
        for _ in 0..3 {
            same("the task", shop.next(1, 0.0)?, Task::Comb(panel.clone()))?;
            shop.pass(0.1);
        }
        same("the task", shop.next(1, weight)?, Task::Wet(Owner::Panel(panel)))?;
    }
    shop.next(1, 561.4)?;
    shop.send_both_ways(0, 1)?;
    shop.all_wet(0)?;
    let mut memory = Memory::default();
    let found = memory.of(&shop.test(0), shop.clock(0), &Wording::default());
    same("comb readings that count", found.panels[0].work.card.dabs.len(), 3)
}

/// Mix and coats pressed on two phones by turns.
fn coats_by_turns(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0, 1])?;
    shop.send_both_ways(0, 1)?;
    for phone in [0, 1] {
        let run = &shop.sheet(phone).runs[0];
        let coats: Vec<&str> = run.done.iter().map(|done| done.text.as_str()).take(3).collect();
        same("what was done", coats, vec!["Mixed", "Coat 1", "Coat 2"])?;
        let wrong =
            run.amiss.iter().find(|said| said.contains("before the mix") || said.contains('−') || said.contains('-'));
        holds(wrong.is_none(), format!("amiss: {wrong:?}"))?;
    }
    shop.told(0, off_h.abs() > 12.0 * MIN)?;
    shop.weigh_wet(0)
}

/// Wet weights on one phone and then the other, of the same candidate.
fn weights_by_turns(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[0.0, off_h]);
    shop.spray(&[0])?;
    for (i, weight) in [430.0, 433.0, 436.0, 561.4].into_iter().enumerate() {
        let phone = i % 2;
        shop.skip_combs(phone)?;
        shop.next(phone, weight)?;
        shop.pass(0.3);
        shop.send(phone, 1 - phone);
    }
    shop.all_wet(0)?;
    shop.all_wet(1)
}

/// A spray day on one phone, rounds on the days after by turns: the curve has them as they were weighed.
fn rounds_by_turns(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    shop.weigh_wet(0)?;
    let mut told = false;
    for (i, (hours, lost)) in [(0.6, 2.0), (2.0, 3.0), (4.0, 4.0), (22.0, 5.0), (24.0, 5.5)].into_iter().enumerate() {
        let phone = (i + 1) % 2;
        shop.pass(hours * 60.0);
        shop.send(1 - phone, phone);
        told |= shop.said(0).or(shop.said(1)).is_some();
        shop.round(phone, lost)?;
    }
    shop.send_both_ways(0, 1)?;
    for phone in [0, 1] {
        same("the weights in order", shop.curve(phone), (vec![430.0, 428.0, 427.0, 426.0, 425.0, 424.5], true))?;
    }
    // A clock an hour off does not show where hours lie between the deeds.
    let wanted = if off_h.abs() < 24.0 { told && off_h.abs() >= 3.0 * MIN } else { true };
    same("told of the clocks", told, wanted)
}

/// Panels carried out and back on two phones.
fn moves_by_turns(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    shop.weigh_wet(0)?;
    shop.send(0, 1);
    shop.pass(30.0);
    shop.round(1, 2.0)?;
    shop.pass(5.0);
    let carry = |shop: &Shop, phone: usize, to: &str| Action::Carry {
        at: shop.clock(phone),
        to: to.into(),
        warmer: to == "Sun",
        panels: Vec::new(),
    };
    shop.act(1, carry(&shop, 1, "Sun"))?;
    same("the place", place_now(&shop.test(1)), "Sun".to_owned())?;
    shop.send(1, 0);
    same("the place on the other", place_now(&shop.test(0)), "Sun".to_owned())?;
    shop.pass(60.0);
    shop.round(0, 3.0)?;
    shop.pass(1.0);
    shop.act(0, carry(&shop, 0, "Shop"))?;
    shop.send_both_ways(0, 1)?;
    same("the place in the end", place_now(&shop.test(1)), "Shop".to_owned())?;
    same("the weights in order", shop.curve(1), (vec![430.0, 428.0, 427.0], true))
}

/// A step back and forth between: what came back lands where it was, and the day goes on.
fn undone_and_done_again(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    shop.send(0, 1);
    shop.skip_combs(1)?;
    let first = shop.next(1, 999.0)?;
    shop.phones[1].history.undo();
    shop.skip_combs(1)?;
    same("the task after undo", shop.task(1).1, first)?;
    shop.phones[1].history.redo();
    shop.phones[1].history.undo();
    shop.weigh_wet(1)?;
    shop.send_both_ways(0, 1)?;
    shop.all_wet(0)
}

/// A coat too many is taken out after the weights that followed it.
fn a_coat_too_many(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0]);
    shop.spray(&[0])?;
    let panels = panels_of(&shop.test(0), &shop.sheet(0).front.unwrap());
    shop.act(0, Action::Coat { panels: panels.clone(), at: shop.clock(0) })?;
    shop.send(0, 1);
    shop.weigh_wet(1)?;
    let test = shop.test(1);
    for id in panels {
        let third = test.panels.find(&id).unwrap().coats.kept().next_back().unwrap().id.clone();
        shop.act(1, Action::Remove(Address::coat(&id, &third)))?;
    }
    shop.all_wet(1)
}

/// Three phones in a ring: coats, combs, weights.
fn three_in_a_ring(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[off_h, 0.0, -off_h]);
    shop.spray(&[0])?;
    shop.send(0, 1);
    for _ in 0..3 {
        shop.next(1, 0.0)?;
    }
    shop.pass(0.5);
    shop.send(1, 2);
    shop.weigh_wet(2)?;
    shop.send(2, 0);
    shop.all_wet(0)?;
    shop.send_both_ways(0, 1)?;
    shop.all_wet(1)
}

/// The blank left out on the phone that is behind or ahead stays left out.
fn the_blank_left_out(off_h: f64) -> Survived {
    let mut shop = Shop::with(&[0.0, off_h]);
    shop.spray(&[0])?;
    shop.send(0, 1);
    for weight in [430.0, 433.0, 436.0] {
        shop.skip_combs(1)?;
        shop.next(1, weight)?;
        shop.pass(0.2);
    }
    let blank = shop.test(1).blanks.kept().next().unwrap().id.clone();
    same("the task", shop.task(1).1, Task::Wet(Owner::Blank(blank.clone())))?;
    shop.act(1, Action::Skip { at: shop.clock(1), step: Step::Wet, of: Some(Address::blank(&blank)) })?;
    shop.all_wet(1)?;
    shop.send_both_ways(0, 1)?;
    shop.all_wet(0)
}

/// One phone whose clock is set another way in the middle; opened anew or not.
fn set_in_the_middle(off_h: f64, reopened: bool) -> Survived {
    let mut shop = Shop::with(&[0.0]);
    shop.spray(&[0])?;
    shop.phones[0].off_h = off_h;
    if reopened {
        shop.reopen(0);
    }
    shop.weigh_wet(0)?;
    shop.pass(180.0);
    shop.round(0, 3.0)?;
    shop.phones[0].off_h = 0.0;
    if reopened {
        shop.reopen(0);
    }
    shop.pass(26.0 * 60.0);
    shop.round(0, 4.0)?;
    same("the weights in order", shop.curve(0), (vec![430.0, 427.0, 426.0], true))?;
    // Set ahead and then right again within a day or so of work, it is told at the latest when it is set right.
    shop.told(0, off_h <= -3.0 * MIN || off_h > 26.0)
}

/// Clocks that agree, and two who never met: one at the gun, one at the scale, joined at the end.
fn apart_all_day(other_first: bool) -> Survived {
    let mut shop = Shop::with(&[0.0, 0.0]);
    for _ in 0..20 {
        shop.act(
            usize::from(other_first),
            Action::TakeAir { at: shop.clock(0), air_c: None, humidity_pct: None, panel_c: None },
        )?;
    }
    shop.spray(&[0])?;
    let panels: Vec<Id> = in_order(&shop.test(1)).into_iter().take(3).map(|p| p.id.clone()).collect();
    for (owner, weight) in panels.into_iter().zip([430.0, 433.0, 436.0]) {
        let (at, gross_g) = (shop.clock(1), Grams::new(weight).unwrap());
        shop.act(1, Action::Weigh { owner: Owner::Panel(owner), round: None, at, gross_g })?;
    }
    shop.send_both_ways(0, 1)?;
    shop.told(0, false)?;
    shop.skip_combs(0)?;
    shop.next(0, 561.4)?;
    shop.all_wet(0)
}

#[test]
fn no_clock_puts_a_weight_under_another_panel() {
    let mut attacks = Attacks::on("clocks");
    let ways: [(&str, Attack); 10] = [
        ("three wet weights in a row", weights_in_a_row),
        ("combs on the other phone", combs_on_the_other),
        ("coats by turns", coats_by_turns),
        ("wet weights by turns", weights_by_turns),
        ("rounds by turns", rounds_by_turns),
        ("moves by turns", moves_by_turns),
        ("undone and done again", undone_and_done_again),
        ("a coat too many", a_coat_too_many),
        ("three phones in a ring", three_in_a_ring),
        ("the blank left out", the_blank_left_out),
    ];
    for (way, attack) in ways {
        for (off, off_h) in OFF {
            attacks.attempt(format!("{way}, {off}"), || attack(off_h));
        }
    }
    for (off, off_h) in OFF {
        attacks.attempt(format!("set {off} in the middle"), || set_in_the_middle(off_h, false));
        attacks.attempt(format!("set {off} in the middle, opened anew"), || set_in_the_middle(off_h, true));
    }
    attacks.attempt("apart all day, one ahead in counting", || apart_all_day(false));
    attacks.attempt("apart all day, the other ahead in counting", || apart_all_day(true));
    attacks.close();
}

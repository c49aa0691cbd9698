//! More than a test may hold: at the bound, one over it, by a press, from a file and by joining; nothing is ever lost.

use comb_scale::quantity::{Division, Grams, Hours, Instant, Micrometres, Quantity};
use comb_scale::record::{
    Action, Address, History, Id, MOST_VALUES, Owner, Refused, Role, Row, SprayTest, Step, merge, merge_preview, open,
    unread, write,
};
use records::piece;
use serde_json::{Value, json};

use super::{Attacks, holds, same};

/// A list of the record with its bound, and the JSON pointer of the object that holds it.
struct Bounded {
    list: &'static str,
    most: usize,
    inside: &'static str,
}

const fn bounded(list: &'static str, most: usize, inside: &'static str) -> Bounded {
    Bounded { list, most, inside }
}

const LISTS: [Bounded; 21] = [
    bounded("candidates", 24, ""),
    bounded("components", 12, "/candidates/0/mix"),
    bounded("mixes", 240, ""),
    bounded("panels", 120, ""),
    bounded("bare", 20, "/panels/0"),
    bounded("coats", 20, "/panels/0"),
    bounded("dabs", 100, "/panels/0"),
    bounded("weigh_ins", 500, "/panels/0"),
    bounded("weigh_ins", 500, "/blanks/0"),
    bounded("spots", 100, "/panels/0"),
    bounded("blanks", 12, ""),
    bounded("rounds", 600, ""),
    bounded("moves", 400, ""),
    bounded("schedule", 100, ""),
    bounded("skipped", 600, ""),
    bounded("air", 400, ""),
    bounded("notes", 400, ""),
    bounded("balances", 8, ""),
    bounded("combs", 8, ""),
    bounded("edges", 6, "/combs/0"),
    bounded("verifications", 1000, ""),
];

/// A test with `count` entries in one list; stamps run against the order of the file.
fn text_with(of: &Bounded, count: usize) -> String {
    let mut test = json!({
        "format": "spray-test", "version": 1, "id": "t",
        "candidates": [ { "id": "c", "stamp": "1@a", "mix": {} } ], "panels": [ { "id": "p", "stamp": "1@a" } ],
        "blanks": [ { "id": "b", "stamp": "1@a" } ], "combs": [ { "id": "k", "stamp": "1@a" } ],
    });
    let entries: Vec<Value> =
        (0..count).map(|i| json!({ "id": format!("e{i}"), "stamp": format!("{}@a", 10 + count - i) })).collect();
    test.pointer_mut(of.inside).unwrap()[of.list] = entries.into();
    test.to_string()
}

fn opened(text: &str) -> SprayTest {
    open(text).expect("it opens").test
}

/// The ids that a written test has in one list, in order.
fn ids(test: &SprayTest, of: &Bounded) -> Vec<String> {
    let value: Value = serde_json::from_str(&write(test)).unwrap();
    let list = value.pointer(of.inside).unwrap()[of.list].as_array().cloned().unwrap_or_default();
    list.iter().map(|entry| entry["id"].as_str().unwrap().to_owned()).collect()
}

/// How many entries of one list count.
fn counted(test: &SprayTest, of: &Bounded) -> usize {
    match (of.list, of.inside) {
        ("candidates", _) => test.candidates.kept().count(),
        ("components", _) => test.candidates.kept().next().unwrap().mix.components.kept().count(),
        ("mixes", _) => test.mixes.kept().count(),
        ("panels", _) => test.panels.kept().count(),
        ("bare", _) => test.panels.kept().next().unwrap().bare.kept().count(),
        ("coats", _) => test.panels.kept().next().unwrap().coats.kept().count(),
        ("dabs", _) => test.panels.kept().next().unwrap().dabs.kept().count(),
        ("weigh_ins", "/panels/0") => test.panels.kept().next().unwrap().weigh_ins.kept().count(),
        ("weigh_ins", _) => test.blanks.kept().next().unwrap().weigh_ins.kept().count(),
        ("spots", _) => test.panels.kept().next().unwrap().spots.kept().count(),
        ("blanks", _) => test.blanks.kept().count(),
        ("rounds", _) => test.rounds.kept().count(),
        ("moves", _) => test.moves.kept().count(),
        ("schedule", _) => test.schedule.kept().count(),
        ("skipped", _) => test.skipped.kept().count(),
        ("air", _) => test.air.kept().count(),
        ("notes", _) => test.notes.kept().count(),
        ("balances", _) => test.balances.kept().count(),
        ("combs", _) => test.combs.kept().count(),
        ("edges", _) => test.combs.kept().next().unwrap().edges.kept().count(),
        ("verifications", _) => test.verifications.kept().count(),
        (other, _) => unreachable!("{other}"),
    }
}

/// A file at its bound is read whole; one over it is read up to there, told of, and written back whole.
fn by_file(of: &Bounded) -> Result<(), String> {
    let at = open(&text_with(of, of.most)).expect("it opens");
    same("read at the bound", counted(&at.test, of), of.most)?;
    same("remarks at the bound", at.remarks.len(), 0)?;
    let over = open(&text_with(of, of.most + 3)).expect("it opens");
    same("read over the bound", counted(&over.test, of), of.most)?;
    let told = over.remarks.iter().any(|remark| remark.place.contains(of.list) && remark.trouble.contains("3 stay"));
    holds(told, format!("not told: {:?}", over.remarks))?;
    same("written back", ids(&over.test, of).len(), of.most + 3)?;
    same("read again", opened(&write(&over.test)), over.test.clone())?;
    // The latest stamps are over: the first three of the file.
    let all = ids(&over.test, of);
    same("the last ones", all[of.most..].to_vec(), ["e2", "e1", "e0"].map(String::from).to_vec())
}

/// Two phones with half each, joined in both orders: the same counts on both, nothing is lost, the preview says so.
fn by_joining(of: &Bounded) -> Result<(), String> {
    let half = |odd: bool| {
        let mut value: Value = serde_json::from_str(&text_with(of, 2 * of.most)).unwrap();
        let list = value.pointer_mut(of.inside).unwrap()[of.list].as_array_mut().unwrap();
        let mut place = 0;
        list.retain(|_| {
            place += 1;
            (place % 2 == 1) == odd
        });
        opened(&value.to_string())
    };
    let (mine, theirs) = (half(true), half(false));
    let (one, other) = (merge(&mine, &theirs).test, merge(&theirs, &mine).test);
    same("either order", one.clone(), other)?;
    same("counted", counted(&one, of), of.most)?;
    same("there", ids(&one, of).len(), 2 * of.most)?;
    same("sentences of the test", unread(&one).len(), 1)?;
    let said = merge_preview(&mine, &theirs).said();
    holds(said.iter().any(|line| line.contains("unread")), format!("the preview is silent: {said:?}"))?;
    same("through a file", opened(&write(&one)), one)
}

/// What was taken out makes room: as many of those over come in as there is room for.
fn by_taking_out(of: &Bounded) -> Result<(), String> {
    let mut value: Value = serde_json::from_str(&text_with(of, of.most + 3)).unwrap();
    let list = value.pointer_mut(of.inside).unwrap()[of.list].as_array_mut().unwrap();
    for entry in list.iter_mut().rev().take(2) {
        entry["deleted"] = true.into();
    }
    let test = opened(&value.to_string());
    same("counted", counted(&test, of), of.most)?;
    same("there", ids(&test, of).len(), of.most + 3)?;
    holds(unread(&test)[0].starts_with("1 "), format!("{:?}", unread(&test)))
}

fn instant() -> Instant {
    "2026-03-02T10:00:00Z".parse().unwrap()
}

/// The action that adds one more to a list, where there is one.
fn adding(of: &Bounded) -> Option<Action> {
    let (at, panel) = (instant(), Id::from("p"));
    let um = |value: f64| Micrometres::new(value).unwrap();
    let gross_g = Grams::new(400.0).unwrap();
    Some(match (of.list, of.inside) {
        ("candidates", _) => {
            Action::AddCandidate { id: Id::from("new"), label: "New".into(), panels: vec!["N1".into()] }
        }
        ("components", _) => Action::AddComponent { candidate: Id::from("e0"), label: "Base".into(), role: Role::Base },
        ("mixes", _) => Action::Mixed { cup: Id::from("new"), candidate: Id::from("c"), at, panels: Vec::new() },
        ("panels", _) => Action::AddPanel { candidate: Id::from("c"), label: "N1".into() },
        ("bare", _) => Action::WeighBare { panel, at, gross_g },
        ("coats", _) => Action::Coat { panels: vec![panel], at },
        ("dabs", _) => Action::Dab {
            panel,
            at,
            comb: None,
            wetted_um: um(100.0),
            touched_um: None,
            dry_um: None,
            place: String::new(),
            instead_of: None,
        },
        ("weigh_ins", "/panels/0") => Action::Weigh { owner: Owner::Panel(panel), round: None, at, gross_g },
        ("weigh_ins", _) => Action::Weigh { owner: Owner::Blank(Id::from("b")), round: None, at, gross_g },
        ("spots", _) => Action::Spot {
            id: Id::from("new"),
            panel,
            at,
            place: String::new(),
            shim_um: None,
            readings_um: vec![um(80.0)],
        },
        ("blanks", _) => Action::AddBlank { label: "Blank".into() },
        ("rounds", _) => Action::BeginRound { at, place: String::new() },
        ("moves", _) => {
            Action::CarryByDay { days: vec![[at, at]], out: "sun".into(), back: "shop".into(), panels: vec![] }
        }
        ("schedule", _) => Action::Schedule((0..=100).map(|h| Hours::new(f64::from(h)).unwrap()).collect()),
        ("skipped", _) => Action::Skip { at, step: Step::Air, of: None },
        ("air", _) => Action::TakeAir { at, air_c: None, humidity_pct: None, panel_c: None },
        ("balances", _) => Action::AddBalance { label: "S".into(), division_g: Division::new(0.1).unwrap() },
        ("combs", _) => Action::AddComb { label: "C".into(), teeth_um: Vec::new() },
        ("verifications", _) => Action::Verify { at, shim_um: um(50.0), reading_um: um(51.0) },
        // Nothing adds an edge to a comb or a note yet.
        _ => return None,
    })
}

/// At the bound nothing is added, in a sentence, and nothing has changed; one below it there is room.
fn by_a_press(of: &Bounded, action: &Action) -> Result<(), String> {
    let start = |count: usize| {
        let test = piece(&text_with(of, count));
        // The candidate that the actions name.
        let test = if of.list == "candidates" { test } else { test.with("/candidates/0/id", "e0") };
        History::new(opened(&test.to_string()), "me")
    };
    let action = match action {
        Action::AddComponent { label, role, .. } => {
            let candidate = start(1).test().candidates.kept().next().unwrap().id.clone();
            Action::AddComponent { candidate, label: label.clone(), role: *role }
        }
        other => other.clone(),
    };
    let mut full = start(of.most);
    let before = full.test().clone();
    match full.act(action.clone()) {
        Err(Refused::Full(told)) => same("the most", told.most, of.most)?,
        other => return Err(format!("not refused: {other:?}")),
    }
    same("the test", full.test().clone(), before)?;
    holds(!full.can_undo(), "there is a step to take back")?;
    let said = full.act(action.clone()).unwrap_err().to_string();
    holds(said.starts_with("Not added: a ") && said.contains(&of.most.to_string()), said)?;
    let mut room = start(of.most - if of.list == "moves" { 2 } else { 1 });
    if of.list != "schedule" {
        room.act(action).map_err(|refused| format!("refused with room for it: {refused}"))?;
        same("counted", counted(room.test(), of), of.most)?;
    }
    Ok(())
}

#[test]
fn more_than_a_test_may_hold() {
    let mut attacks = Attacks::on("size");
    for of in &LISTS {
        let name = |how: &str| format!("{} {}, {how}", of.inside, of.list);
        attacks.attempt(name("from a file"), || by_file(of));
        attacks.attempt(name("by joining"), || by_joining(of));
        attacks.attempt(name("with some taken out"), || by_taking_out(of));
        if let Some(action) = adding(of) {
            attacks.attempt(name("by a press"), || by_a_press(of, &action));
        }
    }
    rows_of_numbers(&mut attacks);
    attacks.attempt("undo of a removal, when something took its place", || {
        let mut history = History::new(opened(&text_with(&LISTS[0], 24)), "me");
        history.act(Action::Remove(Address::candidate(&Id::from("e5")))).unwrap();
        history.act(Action::AddCandidate { id: Id::from("n"), label: "N".into(), panels: Vec::new() }).unwrap();
        history.undo();
        history.undo();
        same("counted", history.test().candidates.kept().count(), 24)?;
        holds(history.test().candidates.find(&Id::from("e5")).is_some(), "e5 is not back")
    });
    attacks.attempt("bringing back what there is no room for", || {
        let mut history = History::new(opened(&text_with(&LISTS[0], 24)), "me");
        history.act(Action::Remove(Address::candidate(&Id::from("e5")))).unwrap();
        history.act(Action::AddCandidate { id: Id::from("n"), label: "N".into(), panels: Vec::new() }).unwrap();
        holds(
            matches!(history.act(Action::BringBack(Address::candidate(&Id::from("e5")))), Err(Refused::Full(_))),
            "it came back",
        )
    });
    attacks.attempt("a ring of three phones that each add the last panel", || {
        let common = opened(&text_with(&LISTS[3], 119));
        let phone = |name: &str| {
            let mut history = History::new(common.clone(), name);
            history.act(Action::AddPanel { candidate: Id::from("c"), label: name.into() }).unwrap();
            history.test().clone()
        };
        let (a, b, c) = (phone("a"), phone("b"), phone("c"));
        let round = merge(&merge(&a, &b).test, &c).test;
        same("whatever the way", round.clone(), merge(&c, &merge(&b, &a).test).test)?;
        same("counted", round.panels.kept().count(), 120)?;
        same("there", round.panels.all().len(), 122)
    });
    attacks.close();
}

/// Short lists of numbers hold a bound as well.
fn rows_of_numbers(attacks: &mut Attacks) {
    let comb = |count: usize| {
        let teeth: Vec<usize> = (1..=count).collect();
        json!({ "format": "spray-test", "version": 1, "id": "t", "combs": [ { "id": "k", "edges": [ { "id": "e", "teeth_um": teeth } ] } ] })
            .to_string()
    };
    let teeth = |test: &SprayTest| test.combs.kept().next().unwrap().edges.kept().next().unwrap().teeth_um.len();
    attacks.attempt("as many teeth as are read", || same("teeth", teeth(&opened(&comb(MOST_VALUES))), MOST_VALUES));
    attacks.attempt("more teeth than are read", || {
        let over = open(&comb(MOST_VALUES + 1)).unwrap();
        same("teeth", teeth(&over.test), 0)?;
        holds(over.remarks.iter().any(|remark| remark.place.ends_with("teeth_um")), "no remark")?;
        holds(write(&over.test).contains("201"), "not written back")?;
        same("joined with itself", merge(&over.test, &over.test).test, over.test)
    });
    attacks.attempt("more teeth than are read, typed", || {
        let mut history = History::new(opened(&comb(3)), "me");
        let refused = history.act(Action::List(Row::Teeth(Id::from("k")), vec![1.0; MOST_VALUES + 1]));
        same("teeth", teeth(history.test()), 3)?;
        holds(matches!(refused, Err(Refused::Full(_))), "not refused")
    });
    let ids: Vec<String> = (0..201).map(|i| format!("\"x{i}\"")).collect();
    let ids = ids.join(",");
    for (name, inside) in [
        ("the panels of a move", format!(r#""moves": [ {{ "panels": [{ids}] }} ]"#)),
        ("the order of spraying", format!(r#""order": {{ "candidates": [{ids}] }}"#)),
    ] {
        attacks.attempt(name, || {
            let over = open(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {inside} }}"#)).unwrap();
            holds(over.remarks.iter().any(|remark| remark.trouble.contains("unread")), "no remark")?;
            holds(write(&over.test).contains("x200"), "not written back")
        });
    }
}

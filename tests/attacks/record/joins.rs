//! Three phones and their tabs: joins taken back, joined again, entries taken out and brought back, in every order.

use comb_scale::findings::weigh::strays;
use comb_scale::quantity::{Division, Grams, Instant, Quantity};
use comb_scale::record::{Action, Address, History, Id, Owner, Phrase, SprayTest, merge_preview, open, write};

use crate::{Attacks, holds, same};

/// The phones ann, ben and cleo, and ann's second tab.
struct Phones {
    all: Vec<History>,
    /// The next weight: all differ.
    next: u32,
}

fn at(hour: u32) -> Instant {
    format!("2026-03-0{}T{:02}:00:00Z", 2 + hour / 24, hour % 24).parse().unwrap()
}

fn panel_of(test: &SprayTest, label: &str) -> Id {
    test.panels.all().iter().find(|panel| panel.label == label).unwrap().id.clone()
}

impl Phones {
    fn begin() -> Self {
        let begun = "2026-03-02T08:10:00+01:00".parse().unwrap();
        let mut first = History::new(SprayTest::begin(Id::from("t"), begun), "first");
        first.act(Action::AddBalance { label: "Scale".into(), division_g: Division::new(0.1).unwrap() }).unwrap();
        for label in ["A", "B"] {
            let id = first.fresh_id();
            first.act(Action::AddCandidate { id, label: label.into(), panels: vec![format!("{label}1")] }).unwrap();
        }
        let all = ["ann", "ben", "cleo", "anntab"].map(|device| History::new(first.test().clone(), device));
        Self { all: all.into(), next: 4000 }
    }

    fn who(name: char) -> usize {
        "abcd".find(name).unwrap()
    }

    /// One step of a script: who, and what.
    fn step(&mut self, step: &str) -> Result<(), String> {
        let who = Self::who(step.chars().next().unwrap());
        let (sign, what) = step[1..].split_at(1);
        if sign == "<" || sign == "=" {
            let text = write(self.all[Self::who(what.chars().next().unwrap())].test());
            let theirs = open(&text).map_err(|trouble| trouble.to_string())?.test;
            if sign == "=" {
                self.all[who].follow(&theirs);
            } else {
                self.all[who].absorb(&theirs).map_err(|refused| refused.to_string())?;
            }
            return Ok(());
        }
        if sign == "~" {
            // The page is opened again: its tab writes under a name of its own.
            let text = write(self.all[who].test());
            self.all[who] = History::new(open(&text).unwrap().test, &format!("again{}{}", who, self.next));
            self.next += 1;
            return Ok(());
        }
        let history = &mut self.all[who];
        let (a1, b1) = (panel_of(history.test(), "A1"), panel_of(history.test(), "B1"));
        self.next += 1;
        let gross_g = Grams::new(f64::from(self.next) / 10.0).unwrap();
        let round = history.test().rounds.kept().next().map(|round| round.id.clone());
        let hour = self.next - 4000;
        let action = match what {
            "weigh" => Action::Weigh { owner: Owner::Panel(a1), round, at: at(hour), gross_g },
            "round" => Action::BeginRound { at: at(hour), place: "Shop".into() },
            "unround" => Action::RemoveRound(history.test().rounds.all()[0].id.clone()),
            "reround" => Action::BringBack(Address::round(&history.test().rounds.all()[0].id)),
            "title" => Action::Write(Phrase::Title, format!("Title of {step}")),
            "panel" => {
                Action::AddPanel { candidate: history.test().candidates.all()[0].id.clone(), label: "A9".into() }
            }
            "weigh9" => {
                Action::Weigh { owner: Owner::Panel(panel_of(history.test(), "A9")), round, at: at(hour), gross_g }
            }
            "out" => Action::Remove(Address::panel(&b1)),
            "back" => Action::BringBack(Address::panel(&b1)),
            "outall" => Action::Remove(Address::candidate(&history.test().candidates.all()[0].id)),
            "backall" => Action::BringBack(Address::panel(&a1)),
            "undo" => {
                history.undo();
                return Ok(());
            }
            "redo" => {
                history.redo();
                return Ok(());
            }
            other => panic!("{other}"),
        };
        history.act(action).map_err(|refused| refused.to_string())
    }

    fn play(&mut self, script: &str) -> Result<(), String> {
        script.split_whitespace().try_for_each(|step| self.step(step).map_err(|what| format!("{step}: {what}")))
    }

    /// What a phone shows: weights of panels that are there, its title without the step's name, whether B1 and A9 are there.
    fn shows(&self, name: char) -> String {
        let test = self.all[Self::who(name)].test();
        let weights: usize = test.panels.kept().map(|panel| panel.weigh_ins.kept().count()).sum();
        let panel = |label: &str| test.panels.kept().any(|panel| panel.label == label);
        let mut shows = format!("{weights} weights");
        if !test.title.is_empty() {
            shows += &format!(", {}", test.title);
        }
        for (label, usual) in [("A1", true), ("B1", true), ("A9", false)] {
            if panel(label) != usual {
                shows += if usual { ", no " } else { ", " };
                shows += label;
            }
        }
        shows
    }

    /// Everybody's file reaches everybody, twice round.
    fn close_the_ring(&mut self) -> Result<(), String> {
        let rows = |test: &SprayTest| -> Vec<String> {
            let all = test.panels.all().iter().flat_map(|panel| panel.weigh_ins.all());
            all.map(|weigh_in| weigh_in.id.to_string()).collect()
        };
        let before: Vec<String> = self.all.iter().flat_map(|history| rows(history.test())).collect();
        self.play("a=d d=a a<b b<c c<a a<c b<a a<b d=a a<b b<c c<a a<c b<a c<b a<c b<a c<a d=a")?;
        let texts: Vec<String> = self.all.iter().map(|history| write(history.test())).collect();
        for (place, text) in texts.iter().enumerate() {
            same(&format!("the text of phone {place}"), text, &texts[0])?;
        }
        let after = rows(self.all[0].test());
        holds(before.iter().all(|id| after.contains(id)), "a reading is lost")
    }
}

/// What is tried, and what each phone shows after it.
const RINGS: &[(&str, &str)] = &[
    ("b.weigh a<b a.undo", "a: 0 weights; b: 1 weights"),
    ("b.weigh a<b a.undo a<b", "a: 1 weights"),
    ("b.weigh a<b a.undo a<b a.undo", "a: 0 weights"),
    ("b.weigh a<b a.undo a<b a.undo a<b", "a: 1 weights"),
    ("b.weigh a<b a.undo a.redo", "a: 1 weights"),
    ("b.weigh a<b a.undo a.redo a.undo a<b", "a: 1 weights"),
    ("b.weigh a<b a.undo a~ a<b", "a: 1 weights"),
    ("b.weigh a<b a~ a.undo", "a: 1 weights"),
    ("b.weigh a<b d=a a.undo d=a", "a: 0 weights; d: 0 weights"),
    ("b.weigh a<b d=a a.undo a=d", "a: 0 weights; d: 1 weights"),
    ("b.weigh a<b d=a a.undo d=a d.weigh a=d", "a: 1 weights; d: 1 weights"),
    ("b.weigh a<b d=a a.undo d=a d<b a=d", "a: 1 weights; d: 1 weights"),
    ("b.weigh a<b d=a a.undo d=a d<b a=d d.undo a=d", "a: 0 weights; d: 0 weights"),
    ("b.weigh a<b d=a a.undo d~ d=a d<b a=d", "a: 1 weights; d: 1 weights"),
    ("b.weigh a<b a.undo c<b c<a", "c: 1 weights"),
    ("b.weigh a<b a.undo c<a c<b", "c: 1 weights"),
    ("b.weigh a<b a.undo c<a", "c: 0 weights"),
    ("b.weigh a<b a.undo b<a", "b: 1 weights"),
    ("b.weigh a<b a.undo b<a a<b", "a: 1 weights; b: 1 weights"),
    ("b.weigh a<b c<a a.undo a<c", "a: 1 weights; c: 1 weights"),
    ("b.weigh c<b a<c a.undo a<b", "a: 1 weights"),
    ("b.weigh a<b a.weigh a.undo a.undo a<b", "a: 1 weights"),
    ("a.weigh b.weigh a<b a.undo a.weigh a<b", "a: 3 weights"),
    ("a.weigh b.weigh a<b a.undo a.undo", "a: 0 weights"),
    ("a.weigh b.weigh a<b a.undo a.undo a<b", "a: 1 weights"),
    ("a.weigh b.weigh a<b a.undo a.undo a.redo a.redo", "a: 2 weights"),
    ("b.title a<b a.undo", "a: 0 weights"),
    ("b.title a<b a.undo a<b", "a: 0 weights, Title of b.title"),
    ("a.title b.title a<b a.undo", "a: 0 weights, Title of a.title"),
    ("a.title b.weigh b.title a<b a.undo a<b", "a: 1 weights, Title of b.title"),
    ("b.title a<b a.undo a.title a<b", "a: 0 weights, Title of a.title"),
    ("b.title a<b a.undo b<a", "b: 0 weights, Title of b.title"),
    ("b.title a<b a.undo c<a c<b", "c: 0 weights, Title of b.title"),
    ("b.title a<b d=a a.undo d=a", "d: 0 weights"),
    ("b.title a<b d=a a.undo d=a d<b", "d: 0 weights, Title of b.title"),
    ("b.title a<b a.undo b.weigh b.title a<b", "a: 1 weights, Title of b.title"),
    ("b.panel b.weigh9 a<b a.undo", "a: 0 weights"),
    ("b.panel b.weigh9 a<b a.undo a<b", "a: 1 weights, A9"),
    ("b.panel a<b a.weigh9 a.undo a.undo a<b", "a: 0 weights, A9"),
    ("b.panel a<b d=a d.weigh9 a=d a.undo", "a: 1 weights, A9"),
    ("b.panel a<b d=a a.undo d.weigh9 a=d a<b", "a: 1 weights, A9"),
    ("b.panel b.weigh9 a<b a.undo a~ a~ a<b", "a: 1 weights, A9"),
    ("b.panel b.weigh9 a<b a.undo a<b b.weigh9 a<b", "a: 2 weights, A9"),
    ("b.out a<b", "a: 0 weights, no B1"),
    ("b.out a<b a.undo", "a: 0 weights"),
    ("b.out a<b a.undo a<b", "a: 0 weights, no B1"),
    ("b.out a<b a.undo b<a", "b: 0 weights, no B1"),
    ("b.out a<b a.back b<a", "a: 0 weights; b: 0 weights"),
    ("a.out b.weigh a<b b<a", "a: 1 weights, no B1; b: 1 weights, no B1"),
    ("a.out b.weigh a<b a.back b<a", "a: 1 weights; b: 1 weights"),
    ("a.out b.weigh a<b a.undo a<b", "a: 1 weights, no B1"),
    ("a.out a.undo b.weigh b<a", "b: 1 weights"),
    ("a.outall b.weigh a<b", "a: 0 weights, no A1"),
    ("a.outall b.weigh a<b a.backall", "a: 1 weights"),
    ("a.outall b.weigh a<b a.backall b<a", "b: 1 weights"),
    ("a.outall b.weigh a<b a.undo a<b a.backall", "a: 1 weights"),
    ("b.weigh b.undo a<b", "a: 0 weights"),
    ("b.weigh a<b b.undo a<b", "a: 0 weights"),
    ("b.weigh a<b a.undo b.undo a<b", "a: 0 weights"),
    ("b.weigh a<b a.undo b.undo b.redo a<b", "a: 1 weights"),
    ("b.weigh c.weigh a<b a<c a.undo", "a: 1 weights"),
    ("b.weigh c.weigh a<b a<c a.undo a.undo", "a: 0 weights"),
    ("b.weigh c.weigh a<b a<c a.undo a.undo a<c", "a: 1 weights"),
    ("b.weigh c.weigh a<b a<c a.undo a.undo a<c a<b", "a: 2 weights"),
    ("b.weigh c<b c.weigh a<c a.undo a<b", "a: 1 weights"),
    ("b.weigh a<b b<a c<b c.undo a<c", "a: 1 weights"),
    ("a.round b<a a.unround b.weigh a<b a.reround", "a: 1 weights; b: 1 weights"),
    ("a.round b<a b.weigh a<b a.unround b.weigh b<a", "b: 1 weights"),
    ("a.round a.weigh b<a a.unround b.weigh a<b a.unround", "a: 0 weights"),
];

#[test]
fn a_join_taken_back_is_as_if_it_had_not_been() {
    let mut attacks = Attacks::on("record: rings of joins");
    for (script, shown) in RINGS {
        attacks.attempt(script, || {
            let mut phones = Phones::begin();
            phones.play(script)?;
            for wanted in shown.split("; ") {
                let (name, wanted) = wanted.split_once(": ").unwrap();
                same(&format!("what {name} shows"), phones.shows(name.chars().next().unwrap()), wanted.to_owned())?;
            }
            phones.close_the_ring()
        });
    }
    attacks.close();
}

#[test]
fn what_is_told_before_joining_again_is_as_the_first_time() {
    let mut attacks = Attacks::on("record: previews after a join taken back");
    for script in ["b.weigh", "b.title", "b.panel b.weigh9", "b.out", "b.outall", "b.weigh b.title b.panel", "b.round"]
    {
        attacks.attempt(script, || {
            let mut phones = Phones::begin();
            phones.play(script)?;
            let said = |phones: &Phones| merge_preview(phones.all[0].test(), phones.all[1].test()).said();
            let first = said(&phones);
            phones.play("a<b a.undo")?;
            same("the second time", said(&phones), first.clone())?;
            phones.play("a~")?;
            same("after opening it again", said(&phones), first)?;
            phones.play("a<b")?;
            same("joined", said(&phones), vec!["It says nothing that is not here already.".to_owned()])
        });
    }
    attacks.close();
}

#[test]
fn what_stays_out_is_offered_back_and_comes() {
    let mut attacks = Attacks::on("record: bringing back");
    for (script, offered, shown) in [
        ("a.out b.weigh", "panel B1", "1 weights"),
        ("a.outall b.weigh", "panel A1; candidate A", "1 weights"),
        ("b.outall a.weigh", "panel A1; candidate A", "1 weights"),
        ("a.round b<a a.unround b.weigh", "round of Mon 2 Mar 01:00", "1 weights"),
        ("a.round b<a b.unround a.weigh", "round of Mon 2 Mar 01:00", "1 weights"),
        ("b.weigh a<b a.undo", "", "1 weights"),
        ("a.out b<a", "", "0 weights, no B1"),
    ] {
        attacks.attempt(script, || {
            let mut phones = Phones::begin();
            phones.play(script)?;
            let back = merge_preview(phones.all[0].test(), phones.all[1].test()).to_bring_back();
            let names: Vec<&str> = back.iter().map(|(_, name)| name.as_str()).collect();
            same("offered", names.join("; "), offered.to_owned())?;
            phones.play("a<b")?;
            for (address, _) in back {
                phones.all[0].act(Action::BringBack(address)).map_err(|refused| refused.to_string())?;
            }
            same("what a shows", phones.shows('a'), shown.to_owned())?;
            same("in no round", strays(phones.all[0].test()).len(), 0)?;
            let kept = phones.all[0].test();
            let seen = |panel: &Id| {
                kept.panels.find(panel).is_none_or(|panel| {
                    panel.candidate.as_ref().is_none_or(|candidate| kept.candidates.find(candidate).is_some())
                })
            };
            holds(kept.panels.kept().all(|panel| seen(&panel.id)), "a panel stands under no candidate")
        });
    }
    attacks.close();
}

#[test]
fn weights_of_a_round_that_is_gone_are_seen() {
    let mut attacks = Attacks::on("record: removed rounds");
    for (script, count) in [
        ("a.round b<a a.unround b.weigh a<b", 1),
        ("a.round b<a a.unround b.weigh b<a", 1),
        ("a.round b<a a.unround b.weigh b.weigh a<b", 2),
        ("a.round b<a a.unround b.weigh a<b a.unround", 0),
        ("a.round b<a a.unround b.weigh a<b a.reround", 0),
        ("a.round a.weigh b<a a.unround b<a", 0),
        ("a.round b<a c<a a.unround b.weigh c.weigh a<b a<c", 2),
        ("a.round b<a a.unround b.weigh a<b a.undo a<b", 1),
        ("a.round d=a a.unround d.weigh a=d", 1),
    ] {
        attacks.attempt(script, || {
            let mut phones = Phones::begin();
            phones.play(script)?;
            let name = if script.ends_with("b<a") { 'b' } else { 'a' };
            let test = phones.all[Phones::who(name)].test();
            let strays = strays(test);
            let told: usize =
                strays.iter().map(|stray| stray.said.split(' ').next().unwrap().parse::<usize>().unwrap()).sum();
            same("weights told", told, count)?;
            holds(strays.iter().all(|stray| stray.back.is_some()), "a round that was removed can come back")?;
            phones.close_the_ring()
        });
    }
    attacks.attempt("a round that never was", || {
        let test = super::record(
            r#""panels": [ { "id": "p", "weigh_ins": [ { "id": "w", "round": "9", "at": "2026-03-02T09:00:00Z", "gross_g": 440 } ] } ]"#,
        );
        let all = strays(&test);
        same("told", all.len(), 1)?;
        holds(all[0].back.is_none(), "there is no round to bring back")?;
        let mut history = History::new(test, "phone");
        history.act(Action::RemoveRound(all[0].round.clone())).map_err(|refused| refused.to_string())?;
        same("after taking the weights out", strays(history.test()).len(), 0)
    });
    attacks.close();
}

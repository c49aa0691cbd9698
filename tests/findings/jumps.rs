//! A scale that jumps between two rounds, as a painter meets it: nine panels and a blank over 25 rounds, each weight a known
//! law, the scatter of a good scale, and what the scale is out by.

use comb_scale::findings::weigh::{Judged, judged, look_again};
use comb_scale::findings::{Findings, Wording};
use comb_scale::quantity::{Instant, Quantity};
use comb_scale::record::{Action, Address, History, Id, Owner, SprayTest};

use super::{found, panels_of, test_of};

const PANELS: usize = 9;
const ROUNDS: usize = 25;

/// Five rounds on the first day, then daily, h.
fn round_h(round: usize) -> f64 {
    [0.0, 0.5, 1.0, 4.0, 8.0].get(round).copied().unwrap_or(24.0 * (round as f64 - 4.0))
}

fn at(round: usize, minutes: f64) -> Instant {
    let start: Instant = "2026-03-02T10:00:00Z".parse().unwrap();
    start.plus_hours(round_h(round) + minutes / 60.0)
}

/// Even between minus and plus a half, the same at each run.
fn scatter(i: usize) -> f64 {
    ((i as f64 + 1.0) * 0.618_033_988_749_895).fract() - 0.5
}

/// What a test is made of.
#[derive(Clone, Copy)]
struct Shop {
    division_g: f64,
    /// Over how many divisions its weights scatter before they are rounded.
    rough: f64,
    rounds: usize,
    /// From which round on the scale shows how many divisions more.
    jump: (usize, f64),
}

impl Shop {
    fn shown(&self, g: f64, round: usize, i: usize) -> f64 {
        let out = if round >= self.jump.0 { self.jump.1 } else { 0.0 };
        ((g / self.division_g + scatter(i) * self.rough).round() + out) * self.division_g
    }

    fn test(&self) -> SprayTest {
        let weighed = |owner: &str, round: usize, minutes: f64, g: f64| {
            let (at, decimals) = (at(round, minutes), if self.division_g < 0.1 { 2 } else { 1 });
            format!(r#"{{ "id": "{owner}w{round}", "at": "{at}", "round": "r{round}", "gross_g": {g:.decimals$} }}"#)
        };
        let of = |p: usize| {
            let grams = |round: usize| {
                let t = round_h(round);
                let lost = 9.0 - 4.0 * (-t / 2.0).exp() - 5.0 * (-t / (40.0 + 3.0 * p as f64)).exp();
                self.shown(426.0 + 3.0 * p as f64 - lost, round, 31 * p + 7 * round)
            };
            let owner = format!("p{p}");
            let list: Vec<String> =
                (0..self.rounds).map(|round| weighed(&owner, round, 2.0 * (p + 1) as f64, grams(round))).collect();
            let list = list.join(", ");
            let bare_g = 400.0 + 3.0 * p as f64;
            format!(r#"{{ "id": "p{p}", "label": "A{p}", "bare_g": {bare_g}, "weigh_ins": [ {list} ] }}"#)
        };
        let panels: Vec<String> = (0..PANELS).map(of).collect();
        let blank: Vec<String> =
            (0..self.rounds).map(|round| weighed("", round, 0.0, self.shown(561.4, round, 11 * round + 3))).collect();
        let rounds: Vec<String> =
            (0..self.rounds).map(|round| format!(r#"{{ "id": "r{round}", "at": "{}" }}"#, at(round, 0.0))).collect();
        test_of(&format!(
            r#""balance": {{ "division_g": {} }}, "rounds": [ {} ], "panels": [ {} ],
            "blanks": [ {{ "id": "b", "label": "Blank", "weigh_ins": [ {} ] }} ]"#,
            self.division_g,
            rounds.join(", "),
            panels.join(", "),
            blank.join(", ")
        ))
    }
}

/// The blank is `b`, all else are panels.
fn owned(id: &str) -> Owner {
    if id == "b" { Owner::Blank(id.into()) } else { Owner::Panel(id.into()) }
}

fn said(test: &SprayTest, owner: &str, round: usize) -> Judged {
    judged(
        test,
        &panels_of(test),
        &owned(owner),
        &Id::from(format!("r{round}").as_str()),
        at(round, 30.0),
        &Wording::default(),
    )
}

/// Which of the walk are to be looked at again.
fn again(test: &SprayTest, round: usize) -> Vec<String> {
    let (panels, wording) = (panels_of(test), Wording::default());
    let round_id = Id::from(format!("r{round}").as_str());
    let all = ["b".to_owned()].into_iter().chain((0..PANELS).map(|p| format!("p{p}")));
    all.filter(|owner| look_again(test, &panels, &owned(owner), &round_id, at(round, 30.0), &wording)).collect()
}

/// (final mass, still to lose, widths of both) of each panel, g.
fn answers(findings: &Findings) -> Vec<[f64; 4]> {
    let of = |panel: &comb_scale::findings::PanelFindings| {
        let f = panel.forecast.as_ref().expect("a forecast");
        let (last, rest) = (&f.final_gross_g, &f.still_to_lose_g);
        [last.mid, rest.mid, last.high - last.low, rest.high - rest.low]
    };
    findings.panels.iter().map(of).collect()
}

/// The answers lie as near to those of a scale that stood as a small part of what they leave open themselves.
fn alike(jumped: &Findings, still: &Findings, context: &str) {
    let mut worst: [f64; 2] = [0.0; 2];
    for (panel, (a, b)) in answers(jumped).iter().zip(answers(still)).enumerate() {
        for k in 0..2 {
            let apart = (a[k] - b[k]).abs() / b[k + 2];
            worst[k] = worst[k].max(apart);
            assert!(apart < 0.3, "{context}, A{panel}: {a:?} where it was {b:?}");
        }
    }
    println!("{context}: final mass {:.2}, still to lose {:.2} of their widths off at worst", worst[0], worst[1]);
}

fn flags(findings: &Findings) -> Vec<String> {
    findings.panels.iter().flat_map(|panel| panel.flags.iter().map(|flag| flag.says.clone())).collect()
}

/// Division, g, and how roughly it weighs: a good scale, and one as is assumed where nobody measured it.
const SCALES: [(f64, f64); 4] = [(0.1, 1.0), (0.01, 1.0), (0.1, 2.4), (0.01, 2.4)];

const SIZES: [f64; 6] = [1.0, -1.0, 5.0, -5.0, 50.0, -50.0];

#[test]
fn a_jump_five_rounds_ago_is_taken_off_and_nothing_is_odd() {
    for (division_g, rough) in SCALES {
        let still = found(&Shop { division_g, rough, rounds: ROUNDS, jump: (0, 0.0) }.test());
        let odd_still = flags(&still).len();
        for size in SIZES {
            let test = Shop { division_g, rough, rounds: ROUNDS, jump: (ROUNDS - 5, size) }.test();
            let findings = found(&test);
            let context = format!("{size} divisions of {division_g} g, rough {rough}, five rounds ago");
            alike(&findings, &still, &context);
            assert_eq!(flags(&findings).len(), odd_still, "{context}: {:?}", flags(&findings));
            for round in [ROUNDS - 5, ROUNDS - 1] {
                for owner in ["b", "p0", "p8"] {
                    let Judged { said, odd } = said(&test, owner, round);
                    assert!(!odd, "{context}, {owner} in round {round}: {said}");
                    println!("   {owner} in round {round}: {said}");
                }
                assert!(again(&test, round).is_empty(), "{context}: {:?}", again(&test, round));
            }
            let remarks = findings.panels[0].remarks.join(" ");
            println!("   {remarks}");
            assert_eq!(remarks.contains("The scale jumped by"), size.abs() > 1.0, "{context}: {remarks}");
        }
    }
}

#[test]
fn in_the_newest_round_the_blank_is_asked_for_and_not_the_panels() {
    for (division_g, rough) in SCALES {
        let before = found(&Shop { division_g, rough, rounds: ROUNDS - 1, jump: (0, 0.0) }.test());
        let still = found(&Shop { division_g, rough, rounds: ROUNDS, jump: (0, 0.0) }.test());
        for size in SIZES {
            let test = Shop { division_g, rough, rounds: ROUNDS, jump: (ROUNDS - 1, size) }.test();
            let context = format!("{size} divisions of {division_g} g, rough {rough}, newest round, weighed once");
            let blank = said(&test, "b", ROUNDS - 1);
            println!("   blank: {}", blank.said);
            let panel = said(&test, "p0", ROUNDS - 1);
            println!("   A0: {}", panel.said);
            let findings = found(&test);
            alike(&findings, if size.abs() > 1.0 { &before } else { &still }, &context);
            if size.abs() > 1.0 {
                assert!(blank.odd && blank.said.ends_with("weigh the blank again."), "{}", blank.said);
                assert_eq!(again(&test, ROUNDS - 1), ["b"], "{context}");
            }
            assert!(!panel.odd, "{context}: {}", panel.said);

            // Weighed again, it shows the same.
            let mut history = History::new(test, "phone");
            let (owner, weigh_in) = (owned("b"), Id::from(format!("w{}", ROUNDS - 1).as_str()));
            history.act(Action::Vouch { owner, weigh_in }).unwrap();
            let test = history.test();
            let context =
                format!("{size} divisions of {division_g} g, rough {rough}, newest round, and the same again");
            let findings = found(test);
            alike(&findings, &still, &context);
            assert_eq!(flags(&findings).len(), flags(&still).len(), "{context}: {:?}", flags(&findings));
            assert!(again(test, ROUNDS - 1).is_empty(), "{context}");
            println!("   blank: {}", said(test, "b", ROUNDS - 1).said);
            println!("   A0: {}", said(test, "p0", ROUNDS - 1).said);
        }
    }
}

/// Before a panel is weighed in a round whose blank has jumped, what the scale will show is told with the jump.
#[test]
fn what_is_expected_is_what_the_scale_will_show() {
    let shop = Shop { division_g: 0.1, rough: 1.0, rounds: ROUNDS, jump: (ROUNDS - 1, 50.0) };
    let mut history = History::new(shop.test(), "phone");
    let newest = format!("p0w{}", ROUNDS - 1);
    history.act(Action::Remove(Address::weigh_in(&owned("p0"), &Id::from(newest.as_str())))).unwrap();
    let once = said(history.test(), "p0", ROUNDS - 1).said;
    assert!(
        once.starts_with("was 417.") && once.contains("expects 421.") && once.ends_with(" g if the scale jumped"),
        "{once}"
    );
    let weigh_in = Id::from(format!("w{}", ROUNDS - 1).as_str());
    history.act(Action::Vouch { owner: owned("b"), weigh_in }).unwrap();
    let again = said(history.test(), "p0", ROUNDS - 1).said;
    assert!(again.contains("expects 421.") && !again.contains("jumped"), "{again}");
    // Another weight typed over it is no longer the one that was vouched for.
    let weigh_in = Id::from(format!("w{}", ROUNDS - 1).as_str());
    let slot = comb_scale::record::Slot::WeighIn(owned("b"), weigh_in);
    history.act(Action::Fill(slot, Some(561.4))).unwrap();
    let mended = said(history.test(), "p0", ROUNDS - 1).said;
    assert!(mended.contains("expects 416.") && !mended.contains("jumped"), "{mended}");
}

/// A scale that nobody zeroes: one sentence for all of its jumps.
#[test]
fn many_jumps_are_told_in_one_sentence() {
    let shop = Shop { division_g: 0.1, rough: 1.0, rounds: ROUNDS, jump: (0, 0.0) };
    let mut test = shop.test();
    for (i, from) in [6, 10, 14, 18].into_iter().enumerate() {
        let other = Shop { jump: (from, 20.0 + 15.0 * i as f64), ..shop }.test();
        let grams = |test: &SprayTest, owner: &str, id: &str| {
            owned(owner).weigh_ins(test).unwrap().find(&Id::from(id)).unwrap().gross_g.unwrap().get()
        };
        let mut history = History::new(test, "phone");
        for round in from..(from + 4).min(ROUNDS) {
            for owner in ["b".to_owned()].into_iter().chain((0..PANELS).map(|p| format!("p{p}"))) {
                let id = if owner == "b" { format!("w{round}") } else { format!("{owner}w{round}") };
                let slot = comb_scale::record::Slot::WeighIn(owned(&owner), Id::from(id.as_str()));
                history.act(Action::Fill(slot, Some(grams(&other, &owner, &id)))).unwrap();
            }
        }
        test = history.test().clone();
    }
    let findings = found(&test);
    let remark = findings.panels[0].remarks.iter().find(|remark| remark.contains("jumped")).unwrap();
    assert!(remark.starts_with("The scale jumped 5 times, by up to "), "{remark}");
    assert!(flags(&findings).is_empty(), "{:?}", flags(&findings));
    alike(&findings, &found(&shop.test()), "five jumps");
}

/// A scale that was out on one visit and back on the next, the blank weighed once on each: the weights of that visit are
/// left out, and the scale is named; the person's word takes them in.
#[test]
fn a_scale_that_was_out_for_one_visit_is_named() {
    let shop = Shop { division_g: 0.1, rough: 1.0, rounds: ROUNDS, jump: (0, 0.0) };
    let out = ROUNDS - 5;
    let mut history = History::new(shop.test(), "phone");
    for owner in ["b".to_owned()].into_iter().chain((0..PANELS).map(|p| format!("p{p}"))) {
        let id = if owner == "b" { format!("w{out}") } else { format!("{owner}w{out}") };
        let slot = comb_scale::record::Slot::WeighIn(owned(&owner), Id::from(id.as_str()));
        let shown = slot.read(history.test()).unwrap();
        history.act(Action::Fill(slot, Some(shown + 5.0))).unwrap();
    }
    let still = found(&shop.test());
    let findings = found(history.test());
    alike(&findings, &still, "out for one visit");
    let flags_now = flags(&findings);
    assert_eq!(flags_now.len(), PANELS);
    for says in flags_now {
        assert!(says.contains("; the blank was +5.") && says.contains(" off too, so the scale was out."), "{says}");
    }
    let (blank, next) = (said(history.test(), "b", out), said(history.test(), "b", out + 1));
    assert!(blank.odd && blank.said.contains("the scale has jumped"), "{}", blank.said);
    assert!(!next.odd && next.said.ends_with("the scale is back."), "{}", next.said);

    let weigh_in = Id::from(format!("w{out}").as_str());
    history.act(Action::Vouch { owner: owned("b"), weigh_in }).unwrap();
    let findings = found(history.test());
    alike(&findings, &still, "out for one visit, and known to have been");
    assert!(flags(&findings).is_empty(), "{:?}", flags(&findings));
    assert!(findings.panels[0].remarks.iter().filter(|remark| remark.contains("The scale jumped by")).count() == 2);
}

/// The blank's very first weight alone off all later ones: it counts as a slip and is asked about; nothing else changes.
#[test]
fn a_first_weight_of_the_blank_that_stands_alone_is_asked_about() {
    let shop = Shop { division_g: 0.1, rough: 1.0, rounds: ROUNDS, jump: (0, 0.0) };
    let mut history = History::new(shop.test(), "phone");
    let slot = comb_scale::record::Slot::WeighIn(owned("b"), Id::from("w0"));
    let shown = slot.read(history.test()).unwrap();
    history.act(Action::Fill(slot, Some(shown + 5.0))).unwrap();
    let findings = found(history.test());
    alike(&findings, &found(&shop.test()), "first weight of the blank off");
    let remarks = findings.panels[0].remarks.join(" ");
    assert!(
        remarks.contains("The blank's first weight is +5.") && !remarks.contains("The scale jumped by"),
        "{remarks}"
    );
    let second = said(history.test(), "b", 1);
    assert!(second.odd && second.said.contains("since the first weight, which counts as a slip"), "{}", second.said);
    history.act(Action::Vouch { owner: owned("b"), weigh_in: Id::from("w1") }).unwrap();
    let second = said(history.test(), "b", 1);
    assert!(!second.odd && second.said.ends_with("the scale has jumped, and that is taken off."), "{}", second.said);
    assert!(found(history.test()).panels[0].remarks.join(" ").contains("The scale jumped by −5."));
}

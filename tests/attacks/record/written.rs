//! Every list of a file numbered 1, 2 alike: what is written stands where it was named.

use comb_scale::quantity::{Grams, Instant, Micrometres, Quantity};
use comb_scale::record::{
    Action, Address, AirLine, BalanceLine, Basis, ComponentLine, Dated, GunLine, History, MeasuredLine, MixLine, Owner,
    PanelLine, Phrase, Pick, ReducerOf, Role, Row, SheetLine, Slot, SpotLine, StatedFor, Step,
};

use super::ids::{hits, id, numbered};
use crate::{Attacks, holds, same};

fn when() -> Instant {
    "2026-03-05T10:00:00Z".parse().unwrap()
}

fn grams(g: f64) -> Grams {
    Grams::new(g).unwrap()
}

#[test]
fn what_is_written_stands_where_it_was_named() {
    let mut attacks = Attacks::on("record: writing by number");
    let test = numbered();
    let um = |um| Micrometres::new(um).unwrap();
    for n in ["1", "2"] {
        let i = || id(n);
        let panel = || Owner::Panel(i());
        let blank = || Owner::Blank(i());
        let other = || id(if n == "1" { "2" } else { "1" });
        let o = other().0;
        let rows: Vec<(&str, Action, Vec<String>)> = vec![
            ("bare", Action::Fill(Slot::Bare(i()), Some(390.0)), vec![format!("panels/{n}/bare/2/gross_g")]),
            (
                "a panel's weight",
                Action::Fill(Slot::WeighIn(panel(), other()), Some(445.0)),
                vec![format!("panels/{n}/weigh_ins/{o}/gross_g")],
            ),
            (
                "a blank's weight",
                Action::Fill(Slot::WeighIn(blank(), other()), Some(445.0)),
                vec![format!("blanks/{n}/weigh_ins/{o}/gross_g")],
            ),
            (
                "a component",
                Action::Fill(Slot::Component(i(), other(), ComponentLine::Parts), Some(9.0)),
                vec![format!("candidates/{n}/mix/components/{o}/parts")],
            ),
            (
                "sheet",
                Action::Fill(Slot::Sheet(i(), SheetLine::Coats), Some(3.0)),
                vec![format!("candidates/{n}/sheet/coats")],
            ),
            (
                "mix",
                Action::Fill(Slot::Mix(i(), MixLine::Amount), Some(300.0)),
                vec![format!("candidates/{n}/mix/amount_ml")],
            ),
            (
                "dish",
                Action::Fill(Slot::Measured(i(), MeasuredLine::DishWet), Some(9.0)),
                vec![format!("candidates/{n}/measured")],
            ),
            ("gun", Action::Fill(Slot::Gun(i(), GunLine::Passes), Some(2.0)), vec![format!("candidates/{n}/gun")]),
            (
                "side",
                Action::Fill(Slot::Panel(i(), PanelLine::Width), Some(100.0)),
                vec![format!("panels/{n}/width_mm")],
            ),
            (
                "scale",
                Action::Fill(Slot::Balance(i(), BalanceLine::Division), Some(0.01)),
                vec![format!("balances/{n}/division_g")],
            ),
            ("air", Action::Fill(Slot::Air(i(), AirLine::Air), Some(15.0)), vec![format!("air/{n}/air_c")]),
            (
                "shim",
                Action::Fill(Slot::Spot(i(), other(), SpotLine::Shim), Some(50.0)),
                vec![format!("panels/{n}/spots/{o}/shim_um")],
            ),
            ("cup", Action::Fill(Slot::Aim(i()), Some(250.0)), vec![format!("mixes/{n}/aim_g")]),
            ("teeth", Action::List(Row::Teeth(i()), vec![50.0, 60.0]), vec![format!("combs/{n}/edges/1/teeth_um")]),
            ("repeats", Action::List(Row::Repeats(i()), vec![50.0, 50.1]), vec![format!("balances/{n}/repeats_g")]),
            (
                "readings",
                Action::List(Row::Readings(i(), other()), vec![50.0]),
                vec![format!("panels/{n}/spots/{o}/readings_um")],
            ),
            ("poured", Action::List(Row::Poured(i()), vec![1.0, 2.0]), vec![format!("mixes/{n}/poured_g")]),
            (
                "grade",
                Action::List(Row::GradeAir(i(), other()), vec![10.0, 20.0]),
                vec![format!("candidates/{n}/mix/components/{o}/air_c")],
            ),
            ("its name", Action::Write(Phrase::Candidate(i()), "X".into()), vec![format!("candidates/{n}/label")]),
            (
                "a component's name",
                Action::Write(Phrase::Component(i(), other()), "X".into()),
                vec![format!("candidates/{n}/mix/components/{o}/label")],
            ),
            ("a panel's number", Action::Write(Phrase::Panel(i()), "X".into()), vec![format!("panels/{n}/label")]),
            ("a blank's name", Action::Write(Phrase::Blank(i()), "X".into()), vec![format!("blanks/{n}/label")]),
            ("a round's place", Action::Write(Phrase::Place(i()), "X".into()), vec![format!("rounds/{n}/place")]),
            ("basis", Action::Choose(Pick::Basis(i(), Basis::Weight)), vec![format!("candidates/{n}/mix/basis")]),
            (
                "reducer of",
                Action::Choose(Pick::ReducerOf(i(), ReducerOf::Base)),
                vec![format!("candidates/{n}/mix/reducer_of")],
            ),
            (
                "role",
                Action::Choose(Pick::Role(i(), other(), Role::Reducer)),
                vec![format!("candidates/{n}/mix/components/{o}/role")],
            ),
            ("stated for", Action::Choose(Pick::StatedFor(i(), StatedFor::Mix)), vec![format!("candidates/{n}/sheet")]),
            ("which cup", Action::Choose(Pick::Cup(i(), Some(other()))), vec![format!("panels/{n}/mix")]),
            (
                "a blank's scale",
                Action::Choose(Pick::BlankScale(i(), Some(other()))),
                vec![format!("blanks/{n}/balance")],
            ),
            (
                "a round's scale",
                Action::Choose(Pick::RoundScale(i(), Some(other()))),
                vec![
                    format!("rounds/{n}/balance"),
                    format!("panels/1/weigh_ins/{n}/balance"),
                    format!("panels/2/weigh_ins/{n}/balance"),
                    format!("blanks/1/weigh_ins/{n}/balance"),
                    format!("blanks/2/weigh_ins/{n}/balance"),
                ],
            ),
            (
                "a round and its weights",
                Action::RemoveRound(i()),
                vec![
                    format!("rounds/{n}/deleted"),
                    format!("panels/1/weigh_ins/{n}/deleted"),
                    format!("panels/2/weigh_ins/{n}/deleted"),
                    format!("blanks/1/weigh_ins/{n}/deleted"),
                    format!("blanks/2/weigh_ins/{n}/deleted"),
                ],
            ),
            (
                "left out, of a panel",
                Action::SetAside { owner: panel(), weigh_in: other(), why: "slip".into() },
                vec![format!("panels/{n}/weigh_ins/{o}/set_aside")],
            ),
            (
                "left out, of a blank",
                Action::SetAside { owner: blank(), weigh_in: other(), why: "slip".into() },
                vec![format!("blanks/{n}/weigh_ins/{o}/set_aside")],
            ),
            (
                "left the test, a panel",
                Action::ComeBack(panel()),
                vec![format!("panels/{n}/left/{n}/deleted"), format!("panels/{n}/left/{o}/deleted")],
            ),
            (
                "left the test, a blank",
                Action::ComeBack(blank()),
                vec![format!("blanks/{n}/left/{n}/deleted"), format!("blanks/{n}/left/{o}/deleted")],
            ),
            (
                "when it left, a blank",
                Action::Date(Dated::Leaving(blank(), i()), when()),
                vec![format!("blanks/{n}/left/{n}/at")],
            ),
            (
                "kept, of a blank",
                Action::Vouch { owner: blank(), weigh_in: i() },
                vec![format!("blanks/{n}/weigh_ins/{n}/vouched")],
            ),
            (
                "kept, of a panel",
                Action::Vouch { owner: panel(), weigh_in: i() },
                vec![format!("panels/{n}/weigh_ins/{n}/vouched")],
            ),
            (
                "swapped, panel and blank of one number",
                Action::Exchange((panel(), i()), (blank(), other())),
                vec![
                    format!("panels/{n}/weigh_ins/{n}/gross_g"),
                    format!("blanks/{n}/weigh_ins/{o}/gross_g"),
                    format!("blanks/{n}/weigh_ins/{o}/exchanged_with"),
                ],
            ),
            (
                "a panel's time",
                Action::Date(Dated::WeighIn(panel(), other()), when()),
                vec![format!("panels/{n}/weigh_ins/{o}/at")],
            ),
            (
                "a blank's time",
                Action::Date(Dated::WeighIn(blank(), other()), when()),
                vec![format!("blanks/{n}/weigh_ins/{o}/at")],
            ),
            (
                "a spot's time",
                Action::Date(Dated::Spot(i(), other()), when()),
                vec![format!("panels/{n}/spots/{o}/at")],
            ),
            (
                "a coat's time",
                Action::Date(Dated::Coats(vec![(i(), other())]), when()),
                vec![format!("panels/{n}/coats/{o}/at")],
            ),
            ("a move's time", Action::Date(Dated::Move(i()), when()), vec![format!("moves/{n}/at")]),
            ("a cup's time", Action::Date(Dated::Cup(i()), when()), vec![format!("mixes/{n}/at")]),
            (
                "a weight of the blank",
                Action::Weigh { owner: blank(), round: Some(i()), at: when(), gross_g: grams(450.0) },
                vec![format!("blanks/{n}/weigh_ins/phone-1-1")],
            ),
            (
                "a weight of the panel",
                Action::Weigh { owner: panel(), round: Some(i()), at: when(), gross_g: grams(450.0) },
                vec![format!("panels/{n}/weigh_ins/phone-1-1")],
            ),
            (
                "a bare weight",
                Action::WeighBare { panel: i(), at: when(), gross_g: grams(390.0) },
                vec![format!("panels/{n}/bare/phone-1-1")],
            ),
            ("a coat", Action::Coat { panels: vec![i()], at: when() }, vec![format!("panels/{n}/coats/phone-1-1")]),
            (
                "a comb reading instead of another",
                Action::Dab {
                    panel: i(),
                    at: when(),
                    comb: Some(i()),
                    wetted_um: um(100.0),
                    touched_um: None,
                    dry_um: None,
                    place: String::new(),
                    instead_of: Some(other()),
                },
                vec![format!("panels/{n}/dabs/phone-1-1"), format!("panels/{n}/dabs/{o}/deleted")],
            ),
            (
                "a component more",
                Action::AddComponent { candidate: i(), label: "Reducer".into(), role: Role::Reducer },
                vec![format!("candidates/{n}/mix/components/phone-1-1")],
            ),
            (
                "mixed",
                Action::Mixed { cup: i(), candidate: i(), at: when(), panels: vec![other()] },
                vec![format!("mixes/{n}/at"), format!("panels/{o}/mix")],
            ),
        ];
        for (name, action, may) in rows {
            attacks.attempt(format!("{name}, number {n}"), || hits(&test, action, &may).map(|_| ()));
        }
        // A step left out is of the panel, the blank or the candidate that was named.
        let [of_panel, of_blank, of_candidate] = [Address::panel(&i()), Address::blank(&i()), Address::candidate(&i())];
        for (name, of) in [("panel", &of_panel), ("blank", &of_blank)] {
            attacks.attempt(format!("leave out the {name} {n}"), || {
                let mut history = History::new(test.clone(), "phone");
                history.act(Action::Skip { at: when(), step: Step::Bare, of: Some(of.clone()) }).unwrap();
                let left = history.test().skipped.kept().next_back().unwrap().clone();
                let is = |address: &Address| left.is_of(history.test(), address);
                same("of whom", (is(&of_panel), is(&of_blank)), (name == "panel", name == "blank"))
            });
        }
        attacks.attempt(format!("leave out mixing of {n}"), || {
            let mut history = History::new(test.clone(), "phone");
            history.act(Action::Skip { at: when(), step: Step::Mix, of: Some(of_candidate.clone()) }).unwrap();
            let left = history.test().skipped.kept().next_back().unwrap();
            holds(left.is_of(history.test(), &of_candidate), "it is of another")
        });
    }
    attacks.close();
}

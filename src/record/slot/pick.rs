//! Choices of one among few.

use crate::model::{Basis, Certainty, ReducerOf, Role, SprayTest, StatedFor};
use crate::stamp::Id;

/// A choice made on the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pick {
    /// What the parts of a candidate's mix are parts of.
    Basis(Id, Basis),
    /// What a reducer's share is a share of.
    ReducerOf(Id, ReducerOf),
    /// What a component is for: of the candidate, the component.
    Role(Id, Id, Role),
    /// What a candidate's data sheet is stated for.
    StatedFor(Id, StatedFor),
    /// Whether a candidate takes up mass while it cures.
    GainsMass(Id, bool),
    /// Whether the solids of a candidate's data sheet stay out of its forecasts.
    SheetLeftOut(Id, bool),
    /// How sure a panel is to be before its weight is called steady.
    Certainty(Certainty),
    /// From which cup a panel was sprayed.
    Cup(Id, Option<Id>),
    /// On which scale a blank is weighed.
    BlankScale(Id, Option<Id>),
    /// On which scale a round is weighed; the weigh-ins already made in it follow.
    RoundScale(Id, Option<Id>),
    /// Whether the panels of a round were cool to the hand.
    Cooled(Id, bool),
}

impl Pick {
    /// Whether it is the choice made; one that nobody made yet is none.
    pub fn holds(&self, test: &SprayTest) -> bool {
        let made = || {
            Some(match self {
                Self::Basis(candidate, basis) => test.candidates.find(candidate)?.mix.basis == Some(*basis),
                Self::ReducerOf(candidate, of) => test.candidates.find(candidate)?.mix.reducer_of == Some(*of),
                Self::Role(candidate, component, role) => {
                    test.candidates.find(candidate)?.mix.components.find(component)?.role == Some(*role)
                }
                Self::StatedFor(candidate, stated) => {
                    test.candidates.find(candidate)?.sheet.stated_for == Some(*stated)
                }
                Self::GainsMass(candidate, gains) => test.candidates.find(candidate)?.gains_mass == *gains,
                Self::SheetLeftOut(candidate, left_out) => test.candidates.find(candidate)?.sheet.left_out == *left_out,
                Self::Certainty(certainty) => test.wanted.certainty == Some(*certainty),
                Self::Cup(panel, cup) => test.panels.find(panel)?.mix.as_ref() == cup.as_ref(),
                Self::BlankScale(blank, balance) => test.blanks.find(blank)?.balance.as_ref() == balance.as_ref(),
                Self::RoundScale(round, balance) => test.rounds.find(round)?.balance.as_ref() == balance.as_ref(),
                Self::Cooled(round, cooled) => test.rounds.find(round)?.cooled == *cooled,
            })
        };
        made().unwrap_or(false)
    }

    /// Makes the choice; `None` where what it is about is no longer there.
    pub(crate) fn make(self, test: &mut SprayTest) -> Option<()> {
        match self {
            Self::Basis(candidate, basis) => test.candidates.find_mut(&candidate)?.mix.basis = Some(basis),
            Self::ReducerOf(candidate, of) => test.candidates.find_mut(&candidate)?.mix.reducer_of = Some(of),
            Self::Role(candidate, component, role) => {
                test.candidates.find_mut(&candidate)?.mix.components.find_mut(&component)?.role = Some(role);
            }
            Self::StatedFor(candidate, stated) => test.candidates.find_mut(&candidate)?.sheet.stated_for = Some(stated),
            Self::GainsMass(candidate, gains) => test.candidates.find_mut(&candidate)?.gains_mass = gains,
            Self::SheetLeftOut(candidate, left_out) => test.candidates.find_mut(&candidate)?.sheet.left_out = left_out,
            Self::Certainty(certainty) => test.wanted.certainty = Some(certainty),
            Self::Cup(panel, cup) => test.panels.find_mut(&panel)?.mix = cup.into(),
            Self::BlankScale(blank, balance) => test.blanks.find_mut(&blank)?.balance = balance.into(),
            Self::Cooled(round, cooled) => test.rounds.find_mut(&round)?.cooled = cooled,
            Self::RoundScale(round, balance) => {
                *test.rounds.find_mut(&round)?.balance = balance.clone();
                test.weigh_ins_in(&round).for_each(|weigh_in| *weigh_in.balance = balance.clone());
            }
        }
        Some(())
    }
}

//! What is wrong with an entry before it is stored: one clear sentence each.

use std::fmt;

use super::comb::comb_said;
use super::weights::bare_said;
use super::wording::Wording;
use crate::facts::{bare_weight, clock_h, finest_step_g, last_coat, wet_on_spray_day};
use crate::work::dab_interval;
use quantity::{Instant, Quantity};
use record::{Action, Dab, Dated, Id, Owner, Row, Slot, SprayTest};
use science::comb::Teeth;

/// Why an entry is not stored as it stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Objection {
    /// A weight below the panel's bare weight.
    BelowBare {
        /// The bare weight, as said.
        bare: String,
    },
    /// A bare weight that is not below the panel's wet weight.
    BareAboveWet {
        /// The wet weight, as said.
        wet: String,
    },
    /// A time before the panel's wet weight or its last coat.
    BeforeWet {
        /// When that was, as said.
        wet: String,
    },
    /// A time that has not come yet.
    NotYet,
    /// The first dry tooth is not above the last wetted one.
    DryNotAbove,
    /// A range of air that is not its lowest and its highest temperature.
    NotARange,
    /// An hour that no day has.
    NoHourOfDay,
    /// The comb and the dab do not fit: as said.
    Comb(String),
}

impl fmt::Display for Objection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BelowBare { bare } => write!(f, "That is below the bare weight, {bare}: look at the scale again."),
            Self::BareAboveWet { wet } => {
                write!(f, "That is not below the wet weight, {wet}: look at the scale again.")
            }
            Self::BeforeWet { wet } => write!(f, "That is before the panel was weighed wet ({wet})."),
            Self::NotYet => f.write_str("That time has not come yet: look at the date."),
            Self::DryNotAbove => f.write_str("The first dry tooth must be longer than the last wetted one."),
            Self::NotARange => {
                f.write_str("Type two temperatures, the lowest and then the highest, with a space between.")
            }
            Self::NoHourOfDay => f.write_str("An hour of the day lies between 0 and 24: 7.5 is half past seven."),
            Self::Comb(trouble) => f.write_str(trouble),
        }
    }
}

/// Hours that a time may lie ahead of this phone's clock: two phones differ by minutes.
pub(crate) const AHEAD_H: f64 = 0.1;

/// What speaks against an action on this test; `None` where nothing does.
pub fn object(test: &SprayTest, action: &Action, now: Instant, wording: &Wording) -> Option<Objection> {
    match action {
        // A spray day is planned ahead; all else has happened.
        Action::Date(Dated::SprayDay, _) => None,
        Action::Date(_, at) if at.hours_since(now) > AHEAD_H => Some(Objection::NotYet),
        Action::WeighBare { panel, gross_g, .. } => bare_above_wet(test, panel, gross_g.get(), wording),
        Action::Fill(Slot::Bare(panel), Some(gross_g)) => bare_above_wet(test, panel, *gross_g, wording),
        Action::Weigh { owner, round, at, gross_g } => {
            // Weighed now it cannot be too early, whatever a clock says that was ahead.
            let dated = round.is_some() && now.hours_since(*at) > AHEAD_H;
            let early = if dated { before_wet(test, owner, *at) } else { None };
            early.or_else(|| below_bare(test, owner, gross_g.get(), wording))
        }
        Action::Fill(Slot::WeighIn(owner, _), Some(gross_g)) => below_bare(test, owner, *gross_g, wording),
        Action::List(Row::Again(owner, _), repeats_g) => {
            repeats_g.iter().find_map(|gross_g| below_bare(test, owner, *gross_g, wording))
        }
        Action::Dab { comb, wetted_um, touched_um, dry_um, .. } => {
            let (wetted_um, touched_um, dry_um) = (Some(*wetted_um), *touched_um, *dry_um);
            let dab = Dab { comb: comb.clone().into(), wetted_um, touched_um, dry_um, ..Dab::default() };
            dab_trouble(test, &dab, wording)
        }
        Action::List(Row::SheetAir(_) | Row::GradeAir(..), range_c) => {
            let is_range = matches!(range_c[..], [low, high] if low < high);
            (!range_c.is_empty() && !is_range).then_some(Objection::NotARange)
        }
        Action::Fill(Slot::Hours(_), Some(hour)) => (*hour > 24.0).then_some(Objection::NoHourOfDay),
        // The science says what is wrong with a comb.
        Action::List(Row::Teeth(_), teeth_um) => {
            Teeth::new(teeth_um.clone()).err().map(|trouble| Objection::Comb(comb_said(&trouble, wording)))
        }
        _ => None,
    }
}

fn below_bare(test: &SprayTest, owner: &Owner, gross_g: f64, wording: &Wording) -> Option<Objection> {
    let panel = test.panels.find(owner.panel()?)?;
    let below = gross_g <= bare_weight(test, panel)?.gross_g;
    below.then(|| Objection::BelowBare { bare: bare_said(test, panel, wording).unwrap_or_default() })
}

fn bare_above_wet(test: &SprayTest, panel: &Id, bare_g: f64, wording: &Wording) -> Option<Objection> {
    let weigh_ins = test.panels.find(panel)?.weigh_ins.kept().filter(|weigh_in| weigh_in.set_aside.is_none());
    let least = weigh_ins.filter_map(|weigh_in| weigh_in.gross_g).map(Quantity::get).reduce(f64::min)?;
    (bare_g >= least).then(|| Objection::BareAboveWet { wet: said(wording, least) })
}

fn said(wording: &Wording, gross_g: f64) -> String {
    wording.weight(gross_g, finest_step_g(&mut [gross_g].into_iter()))
}

/// A weigh-in of a round may not be earlier than the panel's wet weight.
fn before_wet(test: &SprayTest, owner: &Owner, at: Instant) -> Option<Objection> {
    let panel = test.panels.find(owner.panel()?)?;
    let wet = wet_on_spray_day(test, panel).map(|(_, at)| at);
    let first = wet.or_else(|| last_coat(panel))?;
    (clock_h(at) < clock_h(first)).then(|| Objection::BeforeWet { wet: first.said() })
}

fn dab_trouble(test: &SprayTest, dab: &Dab, wording: &Wording) -> Option<Objection> {
    let wetted = dab.touched_um.or(dab.wetted_um)?;
    if dab.dry_um.is_some_and(|dry| dry.get() <= wetted.get()) {
        return Some(Objection::DryNotAbove);
    }
    dab_interval(test, dab)?.err().map(|trouble| Objection::Comb(comb_said(&trouble, wording)))
}

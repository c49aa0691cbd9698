//! The only changes there are.

use std::fmt;

use super::codec::{Entries, Entry, entry_in};
use super::gate::blank_form;
use super::model::{
    Balance, BareWeight, Blank, Candidate, Coat, Comb, Dab, Edge, Move, Panel, Round, SetAside, Spot, SprayTest,
    WeighIn,
};
use super::slot::{Phrase, Slot};
use super::stamp::Id;
use crate::quantity::{Division, Grams, Instant, Micrometres, OutOfBounds};

/// One change. Entries it adds have an empty id until the change is stamped.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Fills in a number, or empties it.
    Fill(Slot, Option<f64>),
    /// Writes a line of text.
    Write(Phrase, String),
    /// Adds a candidate with its panels.
    AddCandidate {
        /// Its id: [`History::fresh_id`](super::History::fresh_id).
        id: Id,
        /// Its name.
        label: String,
        /// The numbers on the backs of its panels.
        panels: Vec<String>,
    },
    /// Adds a panel for a candidate.
    AddPanel {
        /// What it carries.
        candidate: Id,
        /// The number on its back.
        label: String,
    },
    /// Adds a blank.
    AddBlank {
        /// Its name.
        label: String,
    },
    /// Adds a scale.
    AddBalance {
        /// Its name.
        label: String,
        /// The step of its display.
        division_g: Division,
    },
    /// Adds a comb with one edge.
    AddComb {
        /// Its name.
        label: String,
        /// Its teeth, from the shortest.
        teeth_um: Vec<Micrometres>,
    },
    /// Gives a comb other teeth. Dabs made with it keep the teeth they name.
    SetTeeth {
        /// Which comb.
        comb: Id,
        /// Its teeth, from the shortest.
        teeth_um: Vec<Micrometres>,
    },
    /// Weighs a panel bare.
    WeighBare {
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// What the scale showed.
        gross_g: Grams,
    },
    /// Sprays a coat on panels.
    Coat {
        /// Which panels.
        panels: Vec<Id>,
        /// When.
        at: Instant,
    },
    /// Reads the comb on a panel.
    Dab {
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// With which comb.
        comb: Option<Id>,
        /// The last wetted tooth; 0 where none was.
        wetted_um: Micrometres,
        /// The tooth above it, where that was just touched.
        touched_um: Option<Micrometres>,
        /// The first dry tooth; `None` where the longest was wetted.
        dry_um: Option<Micrometres>,
    },
    /// Begins a visit to the scale.
    BeginRound {
        /// When.
        at: Instant,
        /// Where the panels are.
        place: String,
    },
    /// Weighs a panel or a blank.
    Weigh {
        /// The panel or the blank.
        owner: Id,
        /// In which round; none for the wet weight.
        round: Option<Id>,
        /// When.
        at: Instant,
        /// What the scale showed.
        gross_g: Grams,
    },
    /// Carries panels elsewhere.
    Carry {
        /// When.
        at: Instant,
        /// Where to.
        to: String,
        /// Whether it is warmer there than at the start.
        warmer: bool,
        /// Which panels; none named means all.
        panels: Vec<Id>,
    },
    /// Reads the dry film at a spot.
    Spot {
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// Where on it.
        place: String,
        /// The readings.
        readings_um: Vec<Micrometres>,
    },
    /// Leaves a weigh-in out, with the reason.
    SetAside {
        /// The panel or the blank.
        owner: Id,
        /// Which weigh-in.
        weigh_in: Id,
        /// Why.
        why: String,
    },
    /// Takes a weigh-in in again that the person or the page had left out.
    Vouch {
        /// The panel or the blank.
        owner: Id,
        /// Which weigh-in.
        weigh_in: Id,
    },
    /// Corrects a time.
    Date(Dated, Instant),
    /// Takes an entry out.
    Remove(Id),
    /// Takes a round out, with all weigh-ins made in it.
    RemoveRound(Id),
    /// Brings an entry back that was taken out.
    BringBack(Id),
}

/// Something whose time can be corrected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Dated {
    /// A round, with the weigh-ins in it that have its time.
    Round(Id),
    /// A move.
    Move(Id),
    /// A weigh-in of a panel or blank.
    WeighIn(Id, Id),
}

/// Why an action cannot be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Refused {
    /// The number is out of bounds.
    OutOfBounds(OutOfBounds),
    /// What it speaks of is not there, or no longer.
    Gone,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfBounds(trouble) => write!(f, "It {trouble}."),
            Self::Gone => f.write_str("That entry is no longer there."),
        }
    }
}

impl std::error::Error for Refused {}

/// Does one action on a test, and nothing else: no clock, no chance, no stamps.
///
/// # Errors
/// [`Refused`] when the action cannot be done; the test is unchanged then.
///
/// ```
/// use comb_scale::record::{Action, Phrase, SprayTest, update};
/// let mut test = SprayTest::begin("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap());
/// update(&mut test, Action::Write(Phrase::Title, "Gate undercoats".into())).unwrap();
/// assert_eq!(test.title, "Gate undercoats");
/// ```
pub fn update(test: &mut SprayTest, action: Action) -> Result<(), Refused> {
    match action {
        Action::Fill(slot, value) => {
            slot.fill(test, value).ok_or(Refused::Gone)?.map_err(Refused::OutOfBounds)?;
        }
        Action::Write(phrase, text) => *phrase.text_mut(test).ok_or(Refused::Gone)? = text,
        Action::AddCandidate { id, label, panels } => {
            for label in panels {
                add_panel(test, id.clone(), label);
            }
            test.candidates.push(Candidate { id, label, ..Candidate::default() });
        }
        Action::AddPanel { candidate, label } => add_panel(test, candidate, label),
        Action::AddBlank { label } => test.blanks.push(Blank { label, ..Blank::default() }),
        Action::AddBalance { label, division_g } => {
            test.balances.push(Balance { label, division_g: Some(division_g), ..Balance::default() });
        }
        Action::AddComb { label, teeth_um } => {
            let mut comb = Comb { label, ..Comb::default() };
            comb.edges.push(Edge { teeth_um, ..Edge::default() });
            test.combs.push(comb);
        }
        Action::SetTeeth { comb, teeth_um } => {
            let comb = test.combs.find_mut(&comb).ok_or(Refused::Gone)?;
            let Some(edge) = comb.edges.kept_mut().next() else { return Err(Refused::Gone) };
            edge.teeth_um = teeth_um;
        }
        Action::WeighBare { panel, at, gross_g } => {
            let balance = sole_balance(test);
            panel_mut(test, &panel)?.bare.push(BareWeight {
                at: Some(at),
                gross_g: Some(gross_g),
                balance,
                ..BareWeight::default()
            });
        }
        Action::Coat { panels, at } => {
            for panel in &panels {
                panel_mut(test, panel)?.coats.push(Coat { at: Some(at), ..Coat::default() });
            }
        }
        Action::Dab { panel, at, comb, wetted_um, touched_um, dry_um } => {
            let dab = Dab { at: Some(at), comb, wetted_um: Some(wetted_um), touched_um, dry_um, ..Dab::default() };
            panel_mut(test, &panel)?.dabs.push(dab);
        }
        Action::BeginRound { at, place } => {
            let balance = sole_balance(test);
            test.rounds.push(Round { at: Some(at), place, balance, ..Round::default() });
        }
        Action::Weigh { owner, round, at, gross_g } => {
            let balance = sole_balance(test);
            let gross_g = Some(gross_g);
            let weigh_in = WeighIn { at: Some(at), round, balance, gross_g, ..WeighIn::default() };
            weigh_ins_mut(test, &owner)?.push(weigh_in);
        }
        Action::Carry { at, to, warmer, panels } => {
            test.moves.push(Move { at: Some(at), to, warmer, panels, ..Move::default() });
        }
        Action::Spot { panel, at, place, readings_um } => {
            let spot = Spot { at: Some(at), place, readings_um, ..Spot::default() };
            panel_mut(test, &panel)?.spots.push(spot);
        }
        Action::SetAside { owner, weigh_in, why } => {
            let weigh_in = weigh_ins_mut(test, &owner)?.find_mut(&weigh_in).ok_or(Refused::Gone)?;
            weigh_in.set_aside = Some(SetAside { by: "person".into(), why, ..SetAside::default() });
            weigh_in.vouched = false;
        }
        Action::Vouch { owner, weigh_in } => {
            let weigh_in = weigh_ins_mut(test, &owner)?.find_mut(&weigh_in).ok_or(Refused::Gone)?;
            weigh_in.set_aside = None;
            weigh_in.vouched = true;
        }
        Action::Date(dated, at) => date(test, &dated, at)?,
        Action::Remove(id) => {
            test.entry_in(&id)?.set_deleted(true);
            // Panels of a candidate that is gone would stand in no list.
            test.panels.kept_mut().filter(|panel| panel.candidate.as_ref() == Some(&id)).for_each(|p| p.deleted = true);
        }
        Action::RemoveRound(id) => {
            for weigh_in in weigh_ins_in(test, &id) {
                weigh_in.deleted = true;
            }
            test.rounds.find_mut(&id).ok_or(Refused::Gone)?.deleted = true;
        }
        Action::BringBack(id) => test.entry_in(&id)?.set_deleted(false),
    }
    Ok(())
}

/// A panel of the same size as the one before: a test is cut from one sheet.
fn add_panel(test: &mut SprayTest, candidate: Id, label: String) {
    let like = test.panels.kept().next_back().cloned().unwrap_or_default();
    test.panels.push(Panel {
        label,
        candidate: Some(candidate),
        width_mm: like.width_mm,
        length_mm: like.length_mm,
        thickness_mm: like.thickness_mm,
        coated_cm2: like.coated_cm2,
        ..Panel::default()
    });
}

fn date(test: &mut SprayTest, dated: &Dated, at: Instant) -> Result<(), Refused> {
    let slot = match dated {
        Dated::Round(id) => &mut test.rounds.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::Move(id) => &mut test.moves.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::WeighIn(owner, id) => &mut weigh_ins_mut(test, owner)?.find_mut(id).ok_or(Refused::Gone)?.at,
    };
    *slot = Some(at);
    if let Dated::Round(id) = dated {
        // The person says when the round was: its weigh-ins follow.
        weigh_ins_in(test, id).for_each(|weigh_in| weigh_in.at = Some(at));
    }
    Ok(())
}

/// Every weigh-in made in a round, of panels and blanks.
fn weigh_ins_in<'a>(test: &'a mut SprayTest, round: &Id) -> impl Iterator<Item = &'a mut WeighIn> {
    let of_panels = test.panels.kept_mut().flat_map(|panel| panel.weigh_ins.kept_mut());
    let of_blanks = test.blanks.kept_mut().flat_map(|blank| blank.weigh_ins.kept_mut());
    of_panels.chain(of_blanks).filter(|weigh_in| weigh_in.round.as_ref() == Some(round))
}

fn panel_mut<'a>(test: &'a mut SprayTest, id: &Id) -> Result<&'a mut Panel, Refused> {
    test.panels.find_mut(id).ok_or(Refused::Gone)
}

fn weigh_ins_mut<'a>(test: &'a mut SprayTest, owner: &Id) -> Result<&'a mut Entries<WeighIn>, Refused> {
    match test.panels.find_mut(owner) {
        Some(panel) => Ok(&mut panel.weigh_ins),
        None => test.blanks.find_mut(owner).map(|blank| &mut blank.weigh_ins).ok_or(Refused::Gone),
    }
}

/// With one scale there is no question which it was.
fn sole_balance(test: &SprayTest) -> Option<Id> {
    let mut balances = test.balances.kept();
    match (balances.next(), balances.next()) {
        (Some(balance), None) => Some(balance.id.clone()),
        _ => None,
    }
}

impl SprayTest {
    /// An empty test.
    pub fn begin(id: Id, created: Instant) -> Self {
        Self { id, created: Some(created), ..blank_form() }
    }

    fn entry_in(&mut self, id: &Id) -> Result<&mut dyn Entry, Refused> {
        entry_in(self, id).ok_or(Refused::Gone)
    }
}

impl Panel {
    /// The bare weighing that counts: the latest one kept.
    pub fn latest_bare(&self) -> Option<&BareWeight> {
        let mut kept = self.bare.kept().filter(|bare| bare.set_aside.is_none() && bare.gross_g.is_some());
        kept.next_back()
    }
}

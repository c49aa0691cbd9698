//! Panels that look swapped on the scale in the newest round.

use super::panel::PanelFindings;
use super::together::MovedTogether;
use crate::work::PanelCard;
use record::{Id, SprayTest};
use science::drying::{Balance, InRound, Panel, Weighing, swaps};

/// What one panel brings to a round.
struct Brought<'a> {
    id: &'a Id,
    card: &'a PanelCard,
    balance: Balance,
    weighings: Vec<Weighing>,
    weighing: usize,
}

impl Brought<'_> {
    fn weigh_in(&self) -> &Id {
        &self.card.weigh_ins[self.weighing].0
    }
}

/// A weight of one panel that fits another, and the other's that fits it.
pub(crate) struct Swapped {
    /// The one panel, and its weigh-in.
    pub own: (Id, Id),
    /// The other.
    pub other: (Id, Id),
}

/// The readings of the newest round that fit better the other way round, of all panels that were `weighed`, each swap from both
/// sides. Only the newest: an older swap has had its chance to be mended with the panels in hand.
pub(crate) fn swapped(test: &SprayTest, weighed: &[(&Id, &PanelCard)], told: &[PanelFindings]) -> Vec<Swapped> {
    let brought: Vec<Brought<'_>> = newest_round(weighed).unwrap_or_default();
    let asked: Vec<Panel<'_>> = brought
        .iter()
        .map(|b| Panel { moves: &b.card.moves, ..Panel::new(&b.balance, b.card.bare_g, &b.weighings) })
        .collect();
    let round: Vec<InRound<'_>> =
        asked.iter().zip(&brought).map(|(panel, b)| InRound { panel, weighing: b.weighing }).collect();
    let found = swaps(&round);
    let number = brought.first().and_then(|b| b.card.weigh_ins[b.weighing].1.round);
    let id = number.filter(|_| !found.is_empty()).and_then(|number| test.rounds.all().get(number as usize));
    let moved = id.and_then(|round| MovedTogether::of(test, told, &round.id));
    // Panels that differ by what the scale moved seem exchanged.
    let held = |own: usize| moved.as_ref().is_some_and(|moved| moved.holds(brought[own].id, brought[own].weigh_in()));
    let mut swapped = Vec::new();
    for swap in found.into_iter().filter(|swap| !(held(swap.one) && held(swap.other))) {
        let entry = |of: &Brought<'_>| (of.id.clone(), of.weigh_in().clone());
        for (own, other) in [(swap.one, swap.other), (swap.other, swap.one)] {
            swapped.push(Swapped { own: entry(&brought[own]), other: entry(&brought[other]) });
        }
    }
    swapped
}

/// Every panel's reading in the round that was weighed last.
fn newest_round<'a>(weighed: &[(&'a Id, &'a PanelCard)]) -> Option<Vec<Brought<'a>>> {
    let all = || weighed.iter().flat_map(|(_, card)| card.weigh_ins.iter().map(|(_, weighing)| weighing));
    let newest = all().filter(|weighing| weighing.round.is_some()).max_by(|a, b| a.t_h.total_cmp(&b.t_h))?.round;
    let brought = weighed.iter().filter_map(|&(id, card)| {
        let weighing = card.weigh_ins.iter().position(|(_, weighing)| weighing.round == newest)?;
        let balance = card.balance().ok()?;
        Some(Brought { id, card, balance, weighings: card.weighings(), weighing })
    });
    Some(brought.collect())
}

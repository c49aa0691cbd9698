//! Panels that look swapped on the scale in the newest round.

use super::card::PanelCard;
use super::panel::PanelFindings;
use super::together::MovedTogether;
use super::verdict::Flag;
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

/// Flags the readings of the newest round that fit better the other way round, of all panels that were `weighed`, in what
/// is `told` of them. Only the newest: an older swap has had its chance to be mended with the panels in hand.
pub(super) fn flag_swaps(test: &SprayTest, weighed: &[(&Id, &PanelCard)], told: &mut [PanelFindings]) {
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
    for swap in found.into_iter().filter(|swap| !(held(swap.one) && held(swap.other))) {
        for (own, other) in [(swap.one, swap.other), (swap.other, swap.one)] {
            if let Some(panel) = told.iter_mut().find(|panel| panel.id == *brought[own].id) {
                flag(test, panel, &brought[own], &brought[other]);
            }
        }
    }
}

fn flag(test: &SprayTest, panel: &mut PanelFindings, own: &Brought<'_>, other: &Brought<'_>) {
    let weigh_in = own.weigh_in().clone();
    let left_out = panel.flags.iter().any(|known| known.weigh_in == weigh_in && known.left_out);
    let label = test.panels.find(other.id).map_or("", |other| other.label.as_str());
    let says = format!("This weight and that of {label} fit the other way round: were they swapped on the scale?");
    let (swap_with, swap_weigh_in) = (Some(other.id.clone()), Some(other.weigh_in().clone()));
    // It says more than that the reading is off.
    panel.flags.retain(|known| known.weigh_in != weigh_in);
    panel.flags.push(Flag { weigh_in, kind: "looks_swapped", swap_with, swap_weigh_in, says, left_out });
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

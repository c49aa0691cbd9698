//! Panels that look swapped on the scale in the newest round.

use super::panel::PanelFindings;
use super::verdict::Flag;
use super::work::PanelWork;
use crate::record::Id;
use crate::science::drying::{Balance, InRound, Panel, Weighing, swaps};

/// What one panel brings to a round.
struct Brought<'a> {
    place: usize,
    work: &'a PanelWork,
    balance: Balance,
    weighings: Vec<Weighing>,
    weighing: usize,
}

/// Flags the readings of the newest round that fit better the other way round. Only the newest: an older swap has had its
/// chance to be mended with the panels in hand.
pub(super) fn flag_swaps(panels: &mut [PanelFindings]) {
    let brought: Vec<Brought<'_>> = newest_round(panels).unwrap_or_default();
    let asked: Vec<Panel<'_>> = brought
        .iter()
        .map(|b| Panel { moves: &b.work.card.moves, ..Panel::new(&b.balance, b.work.card.bare_g, &b.weighings) })
        .collect();
    let round: Vec<InRound<'_>> =
        asked.iter().zip(&brought).map(|(panel, b)| InRound { panel, weighing: b.weighing }).collect();
    let found: Vec<(usize, Flag)> = swaps(&round)
        .iter()
        .flat_map(|swap| [(swap.one, swap.other), (swap.other, swap.one)])
        .map(|(own, other)| (brought[own].place, flag(panels, &brought[own], &brought[other])))
        .collect();
    drop(round);
    drop(asked);
    for (place, flag) in found {
        // It says more than that the reading is off.
        panels[place].flags.retain(|known| known.weigh_in != flag.weigh_in);
        panels[place].flags.push(flag);
    }
}

fn flag(panels: &[PanelFindings], own: &Brought<'_>, other: &Brought<'_>) -> Flag {
    let weigh_in_of = |of: &Brought<'_>| -> Id { of.work.card.weigh_ins[of.weighing].0.clone() };
    let weigh_in = weigh_in_of(own);
    let left_out = panels[own.place].flags.iter().any(|known| known.weigh_in == weigh_in && known.left_out);
    let with = &panels[other.place];
    let says =
        format!("This weight and that of {} fit the other way round: were they swapped on the scale?", with.label);
    let (swap_with, swap_weigh_in) = (Some(with.id.clone()), Some(weigh_in_of(other)));
    Flag { weigh_in, kind: "looks_swapped", swap_with, swap_weigh_in, says, left_out }
}

/// Every panel's reading in the round that was weighed last.
fn newest_round(panels: &[PanelFindings]) -> Option<Vec<Brought<'_>>> {
    let all = || panels.iter().flat_map(|panel| panel.work.card.weigh_ins.iter().map(|(_, weighing)| weighing));
    let newest = all().filter(|weighing| weighing.round.is_some()).max_by(|a, b| a.t_h.total_cmp(&b.t_h))?.round;
    let brought = panels.iter().enumerate().filter_map(|(place, panel)| {
        let card = &panel.work.card;
        let weighing = card.weigh_ins.iter().position(|(_, weighing)| weighing.round == newest)?;
        let balance = card.balance().ok()?;
        Some(Brought { place, work: &panel.work, balance, weighings: card.weighings(), weighing })
    });
    Some(brought.collect())
}

//! Weights of panels and blanks.

use super::times::moment;
use quantity::{Instant, Quantity};
use record::{Entries, Id, Owner, Panel, SprayTest, WeighIn};

/// Weigh-ins made outside any round: on spray day.
pub(crate) fn outside_rounds(list: &Entries<WeighIn>) -> impl Iterator<Item = &WeighIn> {
    list.kept().filter(|weigh_in| weigh_in.round.is_none())
}

/// The weigh-in made outside any round, which the spray screen fills in: the latest, since an earlier one is a weight
/// between coats.
pub fn wet_weigh_in(test: &SprayTest, owner: &Owner) -> Option<Id> {
    let dated = outside_rounds(owner.weigh_ins(test)?).filter_map(|weigh_in| Some((weigh_in.at?, &weigh_in.id)));
    dated.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(_, id)| id.clone())
}

/// A weight like the next one of a panel or blank, g: its last, wherever it was made; else the last bare weight of another
/// panel, since all are cut from one sheet.
pub fn former_weight(test: &SprayTest, owner: &Owner) -> Option<f64> {
    let own = owner.weigh_ins(test)?.kept().filter_map(|weigh_in| weigh_in.gross_g).next_back();
    let bare = || test.panels.find(owner.panel()?)?.latest_bare()?.gross_g;
    let of_another = || {
        owner.panel()?;
        test.panels.kept().filter_map(|other| other.latest_bare()?.gross_g).next_back()
    };
    own.or_else(bare).or_else(of_another).map(Quantity::get)
}

/// The weigh-in that a panel or blank has in a round.
pub fn weigh_in_of(test: &SprayTest, owner: &Owner, round: &Id) -> Option<Id> {
    let of_round = |weigh_in: &&WeighIn| weigh_in.round.as_ref() == Some(round);
    owner.weigh_ins(test)?.kept().find(of_round).map(|weigh_in| weigh_in.id.clone())
}

/// The round in which a weigh-in was made; none for one of spray day.
pub fn round_of(test: &SprayTest, owner: &Owner, weigh_in: &Id) -> Option<Id> {
    owner.weigh_ins(test)?.find(weigh_in)?.round.clone()
}

/// Whether a panel was weighed in a round since: its film has dried, and comb and wet weight come too late.
pub(crate) fn in_a_round(test: &SprayTest, panel: &Panel, last_coat: Instant) -> bool {
    let in_rounds = panel.weigh_ins.kept().filter(|weigh_in| weigh_in.round.is_some());
    in_rounds.filter_map(|weigh_in| moment(test, weigh_in)).any(|at| at >= last_coat)
}

/// The wet weight: the first kept weigh-in outside the rounds from the last coat on.
pub(crate) fn wet(panel: &Panel, last_coat: Instant) -> Option<(Id, Instant)> {
    first_since(&panel.weigh_ins, last_coat)
}

pub(crate) fn first_since(list: &Entries<WeighIn>, last_coat: Instant) -> Option<(Id, Instant)> {
    let kept = outside_rounds(list).filter(|weigh_in| weigh_in.set_aside.is_none());
    let dated = kept.filter_map(|w| Some((w.id.clone(), w.at?))).filter(|(_, at)| *at >= last_coat);
    dated.reduce(|a, b| if b.1 < a.1 { b } else { a })
}

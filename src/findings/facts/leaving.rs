//! Panels and blanks that left the test: chipped, dropped, sold. What they weighed until then counts; nothing asks for them
//! from then on.

use super::order::in_order;
use super::times::{moment, oldest};
use quantity::Instant;
use record::{Blank, Entries, Leaving, Owner, Panel, Round, SprayTest, WeighIn};

/// That a panel or a blank left the test; where two phones noted it, the earlier. `None` while it is in the test.
pub fn leaving(left: &Entries<Leaving>) -> Option<&Leaving> {
    let dated = oldest(left.kept().filter_map(|leaving| Some((leaving.at?, leaving)))).map(|(_, leaving)| leaving);
    dated.or_else(|| left.kept().next())
}

/// Whether a panel or a blank is in the test.
pub(crate) fn stays(left: &Entries<Leaving>) -> bool {
    left.kept().next().is_none()
}

/// The panels that are in the test, as they stand in every list.
pub fn in_test(test: &SprayTest) -> Vec<&Panel> {
    let mut panels = in_order(test);
    panels.retain(|panel| stays(&panel.left));
    panels
}

/// The blanks that are in the test.
pub(crate) fn blanks_in_test(test: &SprayTest) -> impl Iterator<Item = &Blank> {
    test.blanks.kept().filter(|blank| stays(&blank.left))
}

/// The panels and blanks that left the test.
pub fn gone(test: &SprayTest) -> Vec<Owner> {
    let panels = in_order(test).into_iter().filter(|panel| !stays(&panel.left));
    let blanks = test.blanks.kept().filter(|blank| !stays(&blank.left));
    panels
        .map(|panel| Owner::Panel(panel.id.clone()))
        .chain(blanks.map(|blank| Owner::Blank(blank.id.clone())))
        .collect()
}

/// Whether a round asks for a panel or a blank: one that left in this round or before it is not asked for.
pub(crate) fn asked_in(left: &Entries<Leaving>, round: Option<&Round>) -> bool {
    let Some(leaving) = leaving(left) else { return true };
    let of_round = |round: &Round| leaving.round.as_ref() == Some(&round.id);
    let earlier = |round: &Round| leaving.at.zip(round.at).is_some_and(|(left, begun)| begun < left);
    round.is_some_and(|round| !of_round(round) && earlier(round))
}

/// When a panel or a blank left the test.
pub(crate) fn left_at(left: &Entries<Leaving>) -> Option<Instant> {
    leaving(left)?.at
}

/// Whether something was weighed after it had left the test, as on another phone: that counts for nothing, unless the painter
/// says that it does.
pub fn weighed_after_leaving(test: &SprayTest, left: &Entries<Leaving>, weigh_in: &WeighIn) -> bool {
    !weigh_in.vouched && left_at(left).is_some_and(|left| moment(test, weigh_in).is_some_and(|weighed| weighed > left))
}

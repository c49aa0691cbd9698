//! Whose weight the scale shows, where it is not that of the panel or blank whose turn it is.

use crate::facts::{balance_of, blanks_in_test, clock_h, in_test, weigh_in_of};
use crate::told::{Panels, chance_limit_g};
use crate::work::{blank_readings, newest_weighing, scale_card};
use quantity::{Instant, Quantity};
use record::{Blank, Id, Owner, SprayTest, WeighIn};

/// Widest interval, in smallest steps of the scale, in which a weight still points at one panel (design choice).
const POINTS_AT_STEPS: f64 = 10.0;

/// The name of the one other panel or blank that should weigh what was typed for `owner`; `None` where none or several should.
pub(crate) fn whose_weight(
    test: &SprayTest,
    panels: &Panels,
    owner: &Owner,
    round: &Id,
    at: Instant,
) -> Option<String> {
    let weigh_in = owner.weigh_ins(test)?.find(&weigh_in_of(test, owner, round)?)?;
    let gross_g = weigh_in.gross_g?.get();
    let fits = |expected: Option<(f64, f64)>| expected.is_some_and(|(low, high)| low <= gross_g && gross_g <= high);
    let other_panels = in_test(test).into_iter().filter(|panel| owner.panel() != Some(&panel.id));
    let other_blanks = blanks_in_test(test).filter(|blank| owner.blank() != Some(&blank.id));
    let mut names = (other_panels.filter(|panel| fits(of_panel(test, panels, &panel.id, round, at))))
        .map(|panel| &panel.label)
        .chain(other_blanks.filter(|blank| fits(of_blank(test, blank, weigh_in, at))).map(|blank| &blank.label));
    let name = names.next()?;
    names.next().is_none().then(|| name.clone())
}

/// From and to what a panel should weigh on the scale of a round, g; `None` where its curve says too little.
fn of_panel(test: &SprayTest, panels: &Panels, id: &Id, round: &Id, at: Instant) -> Option<(f64, f64)> {
    let panel = panels.panel(id).filter(|_| !panels.waits(id))?;
    let (card, forecast) = (&panel.work.card, panel.work.forecast.as_ref().ok()?);
    let (balance, at_h) = (card.number_of(test, round), clock_h(at));
    let expected = forecast.reading_at(at_h).moved(forecast.drift_at_g(balance, at_h));
    let narrow = expected.high - expected.low <= POINTS_AT_STEPS * card.division_g();
    narrow.then_some((expected.low, expected.high))
}

/// From and to what a blank should weigh on the scale that weighed `weigh_in`, g.
fn of_blank(test: &SprayTest, blank: &Blank, weigh_in: &WeighIn, at: Instant) -> Option<(f64, f64)> {
    let balance = balance_of(test, weigh_in);
    let readings = blank_readings(test, blank, balance);
    let limit_g =
        chance_limit_g(&scale_card(test, balance, &mut readings.iter().map(|reading| reading.gross_g)).scale)?;
    let last = newest_weighing(&mut readings.iter().filter(|reading| reading.t_h <= clock_h(at)))?;
    Some((last.gross_g - limit_g, last.gross_g + limit_g))
}

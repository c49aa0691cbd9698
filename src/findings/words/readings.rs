//! A panel's weigh-ins as lines to read.

use super::wording::{Wording, duration};
use crate::facts::moment;
use crate::told::{Flag, PanelFindings, SinceLast};
use crate::work::{Reading, Role};
use quantity::{Instant, Unit};
use record::{Id, SprayTest};
use science::drying::Jump;

/// What a weight's change comes to once the drift that the blank shows is taken off it; nothing where the scale held.
pub(crate) fn without_drift(panel: &PanelFindings, weigh_in: &Id, wording: &Wording) -> Option<String> {
    let division_g = panel.work.card.division_g();
    let step = SinceLast::to(panel, weigh_in).filter(|step| step.drift_g.abs() >= division_g)?;
    let forecast = panel.work.forecast.as_ref();
    let jumped = forecast.is_ok_and(|f| {
        let within = |jump: &&Jump| jump.by_h > step.before.t_h && jump.after_h < step.newest.t_h;
        f.jumps().any(|jump| within(&jump)) || f.doubt_at(step.newest.balance, step.newest.t_h).is_some()
    });
    let what = if jumped { "jump" } else { "drift" };
    Some(format!("{} with the scale's {what} taken off", wording.change(step.change_g, division_g)))
}

/// One weigh-in of a panel, as a line to read.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingLine {
    /// Which one.
    pub id: Id,
    /// When.
    pub at: Instant,
    /// How long after the last coat.
    pub age: String,
    /// What the scale showed, without its unit.
    pub weight: String,
    /// Since the one before, without its unit.
    pub change: String,
    /// The unit of both.
    pub unit: &'static str,
    /// The same with the scale's drift or jump taken off, where it moved: `0.0 g with the scale's jump taken off`.
    pub without_drift: Option<String>,
    /// What is the matter with it.
    pub flag: Option<Flag>,
    /// Whether it is the wet weight.
    pub wet: bool,
    /// Whether it is left out of the curve.
    pub left_out: bool,
}

/// A panel's weigh-ins in time order: the table behind its curve.
pub fn readings(test: &SprayTest, panel: &PanelFindings, wording: &Wording) -> Vec<ReadingLine> {
    panel.work.readings.iter().filter_map(|reading| reading_line(test, panel, reading, wording)).collect()
}

/// The line of one of the panel's weigh-ins.
pub(crate) fn reading_line(
    test: &SprayTest,
    panel: &PanelFindings,
    reading: &Reading,
    wording: &Wording,
) -> Option<ReadingLine> {
    let card = &panel.work.card;
    let division = card.division_g();
    let Reading { id, weighing, .. } = reading;
    let at = moment(test, test.panels.find(&panel.id)?.weigh_ins.find(id)?)?;
    let earlier = panel.work.readings.iter().take_while(|earlier| earlier.id != *id);
    let before = earlier.last().map(|before| before.weighing.gross_g);
    let flag = panel.flags.iter().find(|flag| flag.weigh_in == *id);
    Some(ReadingLine {
        id: id.clone(),
        at,
        age: card.last_coat_h.map_or(String::new(), |coat| duration(weighing.t_h - coat)),
        weight: wording.bare_weight(weighing.gross_g, division),
        change: before.map_or(String::new(), |g| wording.bare_change(weighing.gross_g - g, division)),
        unit: wording.units.mass.symbol(),
        without_drift: without_drift(panel, id, wording),
        left_out: panel.flags.iter().any(|flag| flag.weigh_in == *id && flag.left_out),
        flag: flag.cloned(),
        wet: reading.role == Role::Wet,
    })
}

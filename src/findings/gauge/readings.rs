//! Which reading is due.

use crate::facts::{FORM, VISIT_H, in_test, last_coat};
use crate::words::{Wording, duration};
use quantity::{Instant, Quantity};
use record::{Id, Panel, Spot, SprayTest};
use science::film::{PANEL_EDGE_MM, PANEL_READINGS};

/// The places of a panel that are read, and of the panel form's thirds.
const PLACES: [&str; 3] = ["top", "middle", "bottom"];

/// Readings of a spot.
const SPOT_READINGS: usize = 3;

/// Where the gauge is set down: how far from the edges a spot lies, and a reading of the form, mm (common practice; SSPC-PA 2
/// keeps 25 mm from edges, and panels of a laboratory 12 mm).
const SPOT_EDGE_MM: f64 = 25.0;

/// When and where to read.
pub fn how_to_read(wording: &Wording) -> String {
    let (spot, form) = (wording.side(SPOT_EDGE_MM), wording.side(PANEL_EDGE_MM));
    format!(
        "Read once a thumbnail leaves no mark. Spots: top, middle and bottom, each three readings close together, {spot} or more from the edges. The form: two readings in each third, {form} from the edges and {spot} apart."
    )
}

/// Age up to which a film is taken for soft where no sheet says when it may be sanded, h.
const SOFT_H: f64 = 24.0;

/// How a panel is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum GaugeReading {
    /// Spots of three readings close together: top, middle, bottom.
    #[default]
    Spots,
    /// The panel form: six readings, two in each third.
    Form,
}

/// The reading that is due.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GaugeStop {
    /// On which panel.
    pub panel: Id,
    /// Under which place it is noted.
    pub place: String,
    /// The spot it belongs to, once one of its readings is there.
    pub spot: Option<Id>,
    /// What is due, as said: `A1, top: reading 2 of 3`.
    pub said: String,
}

/// What is due next: on the panel turned to, else on the first panel that this visit has not read yet.
///
/// A spot is gone on with by the `writer` who began it alone: two who read one place at a time each make a spot of their
/// own, and neither's readings are lost when the two are joined.
pub fn gauge_due(
    test: &SprayTest,
    reading: GaugeReading,
    turned: Option<&Id>,
    now: Instant,
    writer: &str,
) -> Option<GaugeStop> {
    let turned = turned.and_then(|id| test.panels.find(id));
    let panels = turned.into_iter().chain(in_test(test));
    panels.into_iter().find_map(|panel| due_on(panel, reading, now, writer))
}

fn due_on(panel: &Panel, reading: GaugeReading, now: Instant, writer: &str) -> Option<GaugeStop> {
    let (places, each): (&[&str], usize) = match reading {
        GaugeReading::Spots => (&PLACES, SPOT_READINGS),
        GaugeReading::Form => (&[FORM], PANEL_READINGS),
    };
    places.iter().find_map(|&place| {
        let of_visit =
            |spot: &&Spot| spot.place == place && spot.at.is_some_and(|at| now.hours_since(at).abs() < VISIT_H);
        let begun: Vec<&Spot> = panel.spots.kept().filter(of_visit).collect();
        let done = begun.iter().map(|spot| spot.readings_um.len()).sum::<usize>();
        let own = begun.into_iter().rfind(|spot| spot.id.is_of(writer));
        let third = if place == FORM { PLACES[done * PLACES.len() / each % PLACES.len()] } else { place };
        (done < each).then(|| GaugeStop {
            panel: panel.id.clone(),
            place: place.to_owned(),
            spot: own.map(|spot| spot.id.clone()),
            said: format!("{}, {third}: reading {} of {each}", panel.label, done + 1),
        })
    })
}

/// A warning where a film may still be too soft for a probe.
pub fn too_soft(test: &SprayTest, panel: &Id, now: Instant) -> Option<String> {
    let panel = test.panels.find(panel)?;
    let coat = last_coat(panel)?;
    // Noted for a time that has not come here, it is new.
    let age_h = now.hours_since(coat).max(0.0);
    let sheet = panel.candidate.find(&test.candidates).and_then(|c| c.sheet.sanding_h);
    let (from_h, by) = match sheet {
        Some(h) => (h.get(), format!("its sheet has it sanded after {}", duration(h.get()))),
        None => (SOFT_H, "its sheet does not say when it may be sanded".into()),
    };
    (age_h < from_h).then(|| {
        format!(
            "{} is {} old, and {by}: the film may be too soft. A probe dents it and reads low. Wait until a thumbnail leaves no mark, or read through a plastic shim, which is subtracted (common practice).",
            panel.label,
            duration(age_h.max(0.0)),
        )
    })
}

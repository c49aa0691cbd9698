//! Folders of a room that stand in an order: what is on one floor knows its own and those below, never one above.

use crate::paths::mentions;
use crate::rooms::is_package;
use crate::source::Source;

/// The order of a room's folders.
struct Floors {
    room: &'static str,
    /// From the ground up, as data flows.
    upwards: &'static [&'static str],
    /// Above them, side by side: each knows all that is `upwards`, and none of the others.
    apart: &'static [&'static str],
    /// On top, one above the other again.
    top: &'static [&'static str],
}

const SCREENS: &[&str] = &["plan", "spray", "weigh", "gauge", "results", "shelf"];

const FLOORS: &[Floors] = &[
    Floors { room: "findings", upwards: &["facts", "work", "told", "words"], apart: SCREENS, top: &[] },
    Floors {
        room: "page",
        upwards: &["parts", "app", "desk", "fields"],
        apart: SCREENS,
        // Files of their own: the five places of a test, and the door to all that is not on the first screen.
        top: &["open", "workshop"],
    },
];

impl Floors {
    /// How high a folder, or a file beside them, stands; `None` for one that no order is given for.
    fn height(&self, folder: &str) -> Option<usize> {
        let place = |among: &[&str]| among.iter().position(|known| *known == folder);
        let apart = self.upwards.len();
        let on_top = || Some(apart + 1 + place(self.top)?);
        place(self.upwards).or_else(|| place(self.apart).map(|_| apart)).or_else(on_top)
    }

    /// What is wrong with naming `folder` in a file of `own`.
    fn fault(&self, own: &str, folder: &str) -> Option<String> {
        if own == folder {
            return None;
        }
        let (at, Some(to)) = (self.height(own)?, self.height(folder)) else {
            return Some(format!("'{own}' must name what it needs by its folder, not by the room's front: {folder}"));
        };
        (to >= at).then(|| format!("'{own}' must not know '{folder}', which stands above or beside it"))
    }
}

/// A file that names a folder above its own or beside it, one whose folder has no place in the order, and one that goes round by
/// the front of its room. The front itself, `lib.rs` or `mod.rs`, may name all.
///
/// Cannot see: a method or a trait that a folder above adds to a type from below.
pub fn downwards(source: &Source) -> Vec<String> {
    let Some(floors) = FLOORS.iter().find(|floors| floors.room == source.room()) else { return vec![] };
    let Some(own) = source.module.get(1) else { return vec![] };
    if floors.height(own).is_none() {
        return vec![source.finding(1, format!("'{own}' has no place among the folders of '{}'", floors.room))];
    }
    let mut findings = Vec::new();
    for mention in mentions(source) {
        let Some(inside) = mention.path.strip_prefix(&["crate".to_owned()]) else { continue };
        let inside = match inside.split_first() {
            Some((room, inside)) if room == floors.room => inside,
            // Elsewhere in the program's own package.
            _ if !is_package(floors.room) => continue,
            _ => inside,
        };
        let fault = inside.first().and_then(|folder| floors.fault(own, folder));
        findings.extend(fault.map(|fault| source.finding(mention.line, fault)));
    }
    findings.dedup();
    findings
}

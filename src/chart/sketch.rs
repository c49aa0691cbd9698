//! The few strokes that every picture is made of.

use super::mark::Mark;
use super::palette::Ink;
use super::scene::{Dot, Item, Side};

/// What has been drawn so far, in drawing order.
#[derive(Default)]
pub(super) struct Sketch {
    pub items: Vec<Item>,
}

impl Sketch {
    /// The ground, all of it.
    pub fn paper(&mut self, width: f64, height: f64) {
        let corners = vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
        self.items.push(Item::Area { corners, ink: Ink::Paper, alpha: 1.0 });
    }

    /// A word, unless it is empty.
    pub fn word(&mut self, text: String, at: Dot, side: Side, ink: Ink) {
        if !text.is_empty() {
            self.items.push(Item::Word { text, at, side, ink });
        }
    }

    /// A level or upright rule.
    pub fn rule(&mut self, from: Dot, to: Dot, width: f64, ink: Ink) {
        self.items.push(Item::Rule { from, to, width, ink });
    }

    /// A filled rectangle.
    pub fn block(&mut self, (left, top): Dot, (right, bottom): Dot, ink: Ink, alpha: f64) {
        let corners = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
        self.items.push(Item::Area { corners, ink, alpha });
    }

    /// A candidate's mark, filled or hollow.
    pub fn mark(&mut self, mark: Mark, at: Dot, r: f64, hollow: bool) {
        let ink = Ink::Candidate(mark);
        let corners = mark.corners(at, r);
        let area = |corners: Vec<Dot>, ink| Item::Area { corners, ink, alpha: 1.0 };
        match (corners.first().copied(), hollow) {
            (None, hollow) => {
                self.items.push(Item::Disc { centre: at, radius: r, ink });
                if hollow {
                    self.items.push(Item::Disc { centre: at, radius: r - 1.25, ink: Ink::Paper });
                }
            }
            (Some(_), false) => self.items.push(area(corners, ink)),
            (Some(first), true) => {
                let mut line = corners.clone();
                line.push(first);
                self.items.push(area(corners, Ink::Paper));
                self.items.push(Item::Stroke { line, width: 1.25, ink, alpha: 1.0 });
            }
        }
    }
}

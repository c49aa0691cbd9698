//! A row drawn: every candidate's mark and interval on one axis.

use super::cell::Cell;
use super::table::{Row, RowKey, Table};
use crate::work::By;
use science::compare::Claim;

/// An axis begins at nothing unless all lies beyond this share of it: two films of 110 and 118 would look alike.
const FROM_NOTHING: f64 = 0.6;
/// How far the axis follows an interval, in the greatest middle value: one without end must not press the others together.
const FOLLOWS: f64 = 2.0;
/// Rows that stand open: what a purchase hangs on, in this order.
const FIRST: [RowKey; 5] = [
    RowKey::Mean(By::FilmStillToGo),
    RowKey::DaysToSettle,
    RowKey::Mean(By::FinalBuild),
    RowKey::Mean(By::BuildKept),
    RowKey::Price,
];

/// Where a candidate's interval and mark lie on a row's axis, as CSS lengths.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// From the left of the axis to the lower bound.
    pub left: String,
    /// From the lower bound to the upper.
    pub width: String,
    /// From the left of the axis to the middle; none where only the range is told.
    pub mark: Option<String>,
}

impl Table {
    /// A row for those who listen, its candidates in an order of places: `Final dry film, µm: real difference. Buff: 110 (104 to
    /// 117). Grey: …`
    pub fn row_told(&self, row: &Row, order: &[usize]) -> String {
        let mut told = if row.unit.is_empty() { row.name.clone() } else { format!("{}, {}", row.name, row.unit) };
        if !row.verdict_word().is_empty() {
            told += &format!(": {}", row.verdict_word());
        }
        for place in order {
            let cell = &row.cells[*place];
            told += &format!(". {}: {} ({})", self.columns[*place].1, cell.value, cell.below.trim_end_matches('.'));
        }
        told + "."
    }
}

impl Row {
    /// A lane a candidate, in the order of the columns; `None` where there is no value.
    pub fn lanes(&self) -> Vec<Option<Lane>> {
        let known = || self.cells.iter().filter_map(|cell| cell.of);
        let greatest = known().map(|of| of.mid.abs()).fold(0.0, f64::max);
        let low = known().map(|of| of.low.max(-FOLLOWS * greatest)).fold(f64::INFINITY, f64::min);
        let high = known().map(|of| of.high.min(FOLLOWS * greatest)).fold(f64::NEG_INFINITY, f64::max);
        let low = if low > 0.0 && low < FROM_NOTHING * high { 0.0 } else { low };
        let across = if high > low { high - low } else { 1.0 };
        let at = |value: f64| ((value - low) / across).clamp(0.0, 1.0) * 100.0;
        let percent = |share: f64| format!("{share:.1}%");
        let lane = |cell: &Cell| {
            let of = cell.of?;
            Some(Lane {
                left: percent(at(of.low)),
                width: percent(at(of.high) - at(of.low)),
                mark: (!cell.range_only).then(|| percent(at(of.mid))),
            })
        };
        self.cells.iter().map(lane).collect()
    }

    /// What may be said of its pairs, in a word or two; empty where it is not compared.
    pub fn verdict_word(&self) -> &'static str {
        let real = self.pairs.iter().filter(|pair| matches!(pair.claim, Claim::Primer | Claim::ThisMix)).count();
        let one_panel = self.pairs.iter().filter(|pair| pair.claim == Claim::OnePanel).count();
        match self.pairs.len() {
            0 => "",
            all if all == real => "real difference",
            all if all == one_panel => "one panel each",
            _ if real == 0 => "can't tell",
            _ => "some differ",
        }
    }

    /// Whether it stands open on the screen, and in which place; the others are folded away.
    pub fn first(&self) -> Option<usize> {
        FIRST.iter().position(|key| *key == self.key)
    }
}

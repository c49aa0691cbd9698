//! A cell of the side-by-side table, and the number behind it.

use crate::words::Wording;
use crate::work::Reason;
use quantity::{FilmUnit, Unit, decimals_for, figure};
use science::Estimate;

/// A cell of a table. Texts are short: a phone shows a row as one line a candidate.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// The value, or an en dash.
    pub value: String,
    /// Its interval or what else qualifies it; why it is missing, where it is. Never empty.
    pub below: String,
    /// What stands beside it, such as the data sheet's value; empty for most.
    pub note: String,
    /// From how many panels; 0 where none had a part in it.
    pub panels: usize,
    /// What it is sorted by; `None` where there is no value.
    pub sort: Option<f64>,
    /// The number behind it, in the unit of the row.
    pub of: Option<Estimate>,
    /// Whether of that only the range is told: nothing marks its middle.
    pub range_only: bool,
}

/// A number for a cell, in the unit of its row, or why there is none.
pub(crate) type Told = Result<Number, Reason>;

/// A number for a cell.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Number {
    pub of: Estimate,
    /// In other words than figures, where it has them: value, and what stands below.
    pub words: Option<(String, String)>,
    pub note: String,
    pub panels: usize,
    pub range_only: bool,
}

impl Number {
    pub fn new(of: Estimate, panels: usize) -> Self {
        Self { of, words: None, note: String::new(), panels, range_only: false }
    }

    /// The interval as the value, and why there is no one number.
    pub fn range_alone(self, why: &str) -> Self {
        Self { words: Some((self.range(), why.into())), range_only: true, ..self }
    }

    fn range(&self) -> String {
        let decimals = decimals_for(self.of.width());
        format!("{} to {}", figure(self.of.low, decimals), figure(self.of.high, decimals))
    }

    fn cell(self) -> Cell {
        let plain = || (figure(self.of.mid, decimals_for(self.of.width())), self.range());
        let (value, below) = self.words.clone().unwrap_or_else(plain);
        let Self { of, note, panels, range_only, .. } = self;
        Cell { value, below, note, panels, sort: Some(of.mid), of: Some(of), range_only }
    }
}

/// A cell of what a row says of a candidate.
pub(crate) fn cell(told: Told, wording: &Wording) -> Cell {
    let missing = |why: String| Cell { value: "–".into(), below: why, ..Cell::default() };
    match told {
        Ok(number) if number.of.mid.is_finite() => number.cell(),
        Ok(_) => missing("These numbers cannot be meant.".into()),
        Err(reason) => missing(reason.said(wording)),
    }
}

/// An estimate in the unit of film.
pub(crate) fn in_film(of: Estimate, film: FilmUnit) -> Estimate {
    Estimate { low: film.shown(of.low), mid: film.shown(of.mid), high: film.shown(of.high) }
}

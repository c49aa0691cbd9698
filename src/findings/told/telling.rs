//! Which weighing would tell whether a weight is steady, where that is not known yet.

use super::panel::PanelFindings;
use super::verdict::Settled;
use crate::work::PanelWork;
use science::drying::{NotYet, Outlook, Verdict, Way};

/// The next weighing that would tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Telling {
    /// The day by which one weighing a day will more likely than not have told, in whole days after the last coat; `None` where
    /// that takes over two weeks more.
    pub daily: Option<f64>,
    /// A way to weigh that tells sooner, by two days or more, and by which day. A larger panel, which is for the next test, is
    /// named only where nothing tells of this one.
    pub sooner: Option<(Way, f64)>,
}

/// Days that a way must save to be named (design choice).
const SOONER: f64 = 2.0;

impl Telling {
    /// What would tell of a panel; `None` where that is known, or where its verdict says itself what to do.
    pub fn of(work: &PanelWork) -> Option<Self> {
        let forecast = work.forecast.as_ref().ok()?;
        if matches!(
            forecast.verdict,
            Verdict::Yes(_) | Verdict::NotYet(NotYet::NewestFlagged | NotYet::ScaleCannotSee { .. })
        ) {
            return None;
        }
        let age_days = work.age_h().unwrap_or(forecast.newest_age_h) / 24.0;
        let by = |outlook: &Outlook| Some((age_days + outlook.even_days?).ceil());
        let (once, others) = work.outlooks().split_first()?;
        let daily = by(once);
        let of_this_panel = |outlook: &&Outlook| daily.is_none() || !matches!(outlook.way, Way::LargerPanel(_));
        let mut told = others.iter().filter(of_this_panel).filter_map(|outlook| Some((outlook.way, by(outlook)?)));
        let sooner = told.find(|(_, day)| daily.is_none_or(|daily| daily - *day >= SOONER));
        Some(Self { daily, sooner })
    }

    /// What would tell of a candidate: of that of its panels, among those of which it is too early to say, that takes longest.
    pub fn too_early(panels: &[&PanelFindings]) -> Option<Self> {
        let early = |panel: &&&PanelFindings| panel.forecast.as_ref().is_some_and(|f| f.settled == Settled::TooEarly);
        let told = panels.iter().filter(early).filter_map(|panel| Self::of(&panel.work));
        told.reduce(|a, b| if b.day() > a.day() { b } else { a })
    }

    /// The day by which it is told, by whichever way.
    fn day(&self) -> f64 {
        self.sooner.map(|(_, day)| day).or(self.daily).unwrap_or(f64::INFINITY)
    }
}

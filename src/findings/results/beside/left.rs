//! What a wanted dry build asks for: the share of the wet film that is left, as these panels have it or as the sheet does.

use crate::work::{Reason, TRANSFER_EFFICIENCY};
use quantity::Quantity;
use record::SprayTest;
use science::spread::{wet_as_kept, wet_to_spray};
use science::{Estimate, Measured};

/// Standard uncertainty of the share of the spray that lands: as typed, and as assumed (design choices).
const LANDS_U: f64 = 0.05;

const LANDS_ASSUMED_U: f64 = 0.1;

/// The share of the wet film that is left when it has dried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Left {
    /// As the panels of the test kept it, reducer and all.
    Kept { share: Estimate, panels: usize },
    /// By the sheet: solids by volume before the reducer, and reducer for a volume of that.
    Sheet { solids: Measured, thinning: f64 },
}

impl Left {
    pub fn panels(&self) -> usize {
        match self {
            Self::Kept { panels, .. } => *panels,
            Self::Sheet { .. } => 0,
        }
    }

    /// As one number with its standard uncertainty, of the mix as sprayed.
    pub fn measured(&self) -> Measured {
        match self {
            Self::Kept { share, .. } => Measured::new(share.mid, share.u()),
            Self::Sheet { solids, thinning } => {
                Measured::new(solids.value / (1.0 + thinning), solids.u / (1.0 + thinning))
            }
        }
    }

    /// With its interval, which must lie above zero.
    pub fn share(&self) -> Result<Estimate, Reason> {
        let share = match self {
            Self::Kept { share, .. } => *share,
            Self::Sheet { .. } => self.measured().estimate(),
        };
        if share.low > 0.0 { Ok(share) } else { Err(Reason::LeftUncertain) }
    }

    /// The wet film that leaves a dry build once so much is sanded off, all in µm.
    pub fn wet_um(&self, dry_um: f64, sanding_um: f64) -> Result<Estimate, Reason> {
        Ok(match self {
            Self::Kept { share, .. } => wet_as_kept(dry_um, sanding_um, share)?,
            Self::Sheet { solids, thinning } => wet_to_spray(dry_um, sanding_um, *solids, Measured::exact(*thinning))?,
        })
    }
}

/// The share of the spray that lands, and whether it is only assumed.
pub(crate) fn lands(test: &SprayTest) -> (Measured, bool) {
    match test.wanted.transfer_efficiency.map(Quantity::get).filter(|share| *share > 0.0) {
        Some(share) => (Measured::new(share, LANDS_U), false),
        None => (Measured::new(TRANSFER_EFFICIENCY, LANDS_ASSUMED_U), true),
    }
}

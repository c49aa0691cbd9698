//! What a wanted dry build asks for: the share of the wet film that is left, as these panels have it or as the sheet does.

use super::aside::Aside;
use crate::work::{By, Reason, TRANSFER_EFFICIENCY};
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
    pub fn measured(&self) -> Result<Measured, String> {
        Ok(match self {
            Self::Kept { share, .. } => Measured::new(share.mid, share.u()),
            Self::Sheet { solids, thinning } => {
                Measured::new(solids.value / (1.0 + thinning), solids.u / (1.0 + thinning))
            }
        })
    }

    /// With its interval, which must lie above zero.
    pub fn share(&self) -> Result<Estimate, String> {
        let share = match self {
            Self::Kept { share, .. } => *share,
            Self::Sheet { .. } => self.measured()?.estimate(),
        };
        if share.low > 0.0 { Ok(share) } else { Err("What is left of the film is not known closely enough.".into()) }
    }
}

impl Aside<'_> {
    /// What is left of the wet film: as the panels kept it where they say so, else by the sheet.
    pub fn left(&self) -> Result<Left, String> {
        self.wanted()?;
        let kept = self.told.mean(By::BuildKept);
        match kept.mean {
            Some(share) if share.low > 0.0 => Ok(Left::Kept { share, panels: kept.panels }),
            _ => self.by_sheet(),
        }
    }

    /// What is left of it by the sheet.
    pub fn by_sheet(&self) -> Result<Left, String> {
        let missing = || self.sheet.why.clone().unwrap_or(Reason::NotOnSheet("solids by volume")).to_string();
        let solids = self.sheet.solids_by_volume.ok_or_else(missing)?;
        Ok(Left::Sheet { solids, thinning: self.sheet.thinning })
    }

    /// The wet film that leaves the wanted dry build, µm.
    pub fn wet_um(&self, left: &Left) -> Result<Estimate, String> {
        let (dry_um, sanding_um) = self.wanted()?;
        let wet = match left {
            Left::Kept { share, .. } => wet_as_kept(dry_um, sanding_um, share),
            Left::Sheet { solids, thinning } => wet_to_spray(dry_um, sanding_um, *solids, Measured::exact(*thinning)),
        };
        wet.map_err(|trouble| trouble.to_string())
    }
}

/// The share of the spray that lands, and whether it is only assumed.
pub(crate) fn lands(test: &SprayTest) -> (Measured, bool) {
    match test.wanted.transfer_efficiency.map(Quantity::get).filter(|share| *share > 0.0) {
        Some(share) => (Measured::new(share, LANDS_U), false),
        None => (Measured::new(TRANSFER_EFFICIENCY, LANDS_ASSUMED_U), true),
    }
}

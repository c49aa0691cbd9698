//! From a tap on the drawn comb, or two typed teeth, to a dab.

use crate::facts::{comb_in_hand, comb_readings, next_place, teeth_in_hand};
use crate::words::{NotRead, Wording, read_near};
use quantity::{Instant, Micrometres, OutOfBounds, Quantity};
use record::{Action, Id, Measure, SprayTest};

/// The teeth of a dab as they are about to be written down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DabTeeth {
    /// The last wetted tooth; 0 where none was.
    pub wetted_um: Micrometres,
    /// The tooth above it, where that was just touched.
    pub touched_um: Option<Micrometres>,
    /// The first dry tooth; `None` where the longest was wetted.
    pub dry_um: Option<Micrometres>,
}

impl DabTeeth {
    /// The action that writes it down at the next place of the panel.
    pub fn action(self, test: &SprayTest, panel: Id, at: Instant) -> Action {
        let place = next_place(test, &panel).into();
        self.written(test, panel, at, place, None)
    }

    /// The action that puts it in the stead of the panel's newest dab, at the same place.
    pub fn instead(self, test: &SprayTest, panel: Id, at: Instant) -> Action {
        let newest = test.panels.find(&panel).and_then(|panel| comb_readings(panel).next_back());
        match newest {
            Some(newest) => self.written(test, panel, at, newest.place.clone(), Some(newest.id.clone())),
            None => self.action(test, panel, at),
        }
    }

    fn written(self, test: &SprayTest, panel: Id, at: Instant, place: String, instead_of: Option<Id>) -> Action {
        let Self { wetted_um, touched_um, dry_um } = self;
        let comb = comb_in_hand(test).map(|comb| comb.id.clone());
        Action::Dab { panel, at, comb, wetted_um, touched_um, dry_um, place, instead_of }
    }
}

/// Where the hand is on the drawn comb: nothing yet, or a dab just recorded that may still be corrected.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tapping {
    /// Place of the last wetted tooth, 0 for none wetted, 1 for the shortest.
    last: Option<usize>,
    /// The tooth above it was just touched.
    touched: bool,
}

/// What a tooth of the drawn comb looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToothLook {
    /// Wetted in the dab just recorded.
    Wetted,
    /// Just touched in it.
    Touched,
    /// The next one: a tap marks it as just touched, another one as wetted.
    Next,
    /// Any other.
    Dry,
}

impl Tapping {
    /// A tap on the tooth at `place` (0: none wetted, 1: the shortest): it is the last wetted one. The one above a wetted
    /// tooth is at first taken for just touched, and for wetted when it is tapped again. Gives the dab, whether it takes the
    /// place of the one just recorded, and where the hand then is.
    ///
    /// ```
    /// use findings::spray::Tapping;
    /// use quantity::{Micrometres, Quantity};
    /// let teeth: Vec<_> = [100.0, 125.0, 150.0].iter().map(|&um| Micrometres::new(um).unwrap()).collect();
    /// let (first, again, hand) = Tapping::default().tap(1, &teeth);
    /// assert_eq!((first.wetted_um, first.touched_um, first.dry_um), (teeth[0], None, Some(teeth[1])));
    /// assert!(!again);
    /// let (touched, again, hand) = hand.tap(2, &teeth);
    /// assert_eq!((touched.wetted_um, touched.touched_um, touched.dry_um), (teeth[0], Some(teeth[1]), Some(teeth[2])));
    /// assert!(again);
    /// let (wetted, again, _) = hand.tap(2, &teeth);
    /// assert_eq!((wetted.wetted_um, wetted.touched_um, wetted.dry_um), (teeth[1], None, Some(teeth[2])));
    /// assert!(again);
    /// ```
    pub fn tap(self, place: usize, teeth: &[Micrometres]) -> (DabTeeth, bool, Self) {
        let tooth = |place: usize| place.checked_sub(1).and_then(|i| teeth.get(i)).copied();
        let (wetted, touched) = match self.last {
            Some(wetted) if place == wetted + 1 && !self.touched => (wetted, true),
            _ => (place, false),
        };
        let dab = DabTeeth {
            wetted_um: tooth(wetted).unwrap_or(Micrometres::trusted(0.0)),
            touched_um: tooth(wetted + 1).filter(|_| touched),
            dry_um: tooth(place + 1),
        };
        (dab, self.recorded(), Self { last: Some(wetted), touched })
    }

    /// What the tooth at `place` looks like.
    pub fn look(self, place: usize) -> ToothLook {
        match self.last {
            // That none was wetted is one answer, and not the first tooth of a wetted row.
            Some(wetted) if place == 0 && wetted > 0 => ToothLook::Dry,
            Some(wetted) if place <= wetted => ToothLook::Wetted,
            Some(wetted) if place == wetted + 1 && self.touched => ToothLook::Touched,
            Some(wetted) if place == wetted + 1 => ToothLook::Next,
            _ => ToothLook::Dry,
        }
    }

    /// Whether a dab was just recorded.
    pub fn recorded(self) -> bool {
        self.last.is_some()
    }

    /// What a tap does now.
    pub fn said(self) -> &'static str {
        match (self.last, self.touched) {
            (None, _) => "Tap the last wetted tooth.",
            (_, false) => {
                "Recorded. Was the next tooth just touched? Tap it; once more if it was wetted. Any other tooth corrects the reading."
            }
            (_, true) => {
                "Recorded, with a tooth just touched. Was it wetted? Tap it again. Any other tooth corrects the reading."
            }
        }
    }
}

/// The dab to put in the stead of a panel's newest one if the next tooth was just touched as well, and how that tooth is
/// called.
pub fn touch_up(test: &SprayTest, panel: &Id, wording: &Wording) -> Option<(DabTeeth, String)> {
    let newest = comb_readings(test.panels.find(panel)?).next_back()?;
    if newest.touched_um.is_some() {
        return None;
    }
    let (wetted_um, touched) = (newest.wetted_um?, newest.dry_um?);
    let dry_um = teeth_in_hand(test).into_iter().find(|um| um.get() > touched.get());
    let dab = DabTeeth { wetted_um, touched_um: Some(touched), dry_um };
    Some((dab, wording.tooth(touched.get())))
}

/// Why a typed dab is not taken.
#[derive(Clone, Debug, PartialEq)]
pub enum NoDab {
    /// One of the numbers is none.
    NotRead(NotRead),
    /// No comb has such a tooth.
    Tooth(OutOfBounds),
    /// The comb has no tooth that could have been touched between the two.
    NoneBetween,
}

impl NoDab {
    /// The sentence to show beside the fields.
    pub fn said(self) -> String {
        match self {
            Self::NotRead(trouble) => trouble.said(),
            Self::Tooth(bounds) => format!("A tooth {bounds}."),
            Self::NoneBetween => "No tooth of the comb lies between those two.".into(),
        }
    }
}

/// A dab typed as numbers. An empty first dry tooth: the longest was wetted. With `touched`, the tooth between the two was
/// just touched.
///
/// # Errors
/// [`NoDab`].
pub fn typed_dab(
    test: &SprayTest,
    wetted: &str,
    dry: &str,
    touched: bool,
    wording: &Wording,
) -> Result<DabTeeth, NoDab> {
    let tooth = |typed: &str| {
        let um = read_near(Measure::Film, typed, None, wording).map_err(NoDab::NotRead)?;
        let um = Micrometres::new(um).map_err(NoDab::Tooth)?;
        // A tooth of 7.9 mil is 200 µm on its comb: take the comb's own number where it is meant.
        let meant = |known: &&Micrometres| (known.get() - um.get()).abs() <= 0.005 * um.get();
        Ok::<_, NoDab>(teeth_in_hand(test).iter().find(meant).copied().unwrap_or(um))
    };
    let wetted_um = tooth(wetted)?;
    let dry_um = if dry.trim().is_empty() { None } else { Some(tooth(dry)?) };
    let touched_um = match touched {
        false => None,
        true => {
            let above = |um: &Micrometres| um.get() > wetted_um.get();
            let between = teeth_in_hand(test).into_iter().find(above).filter(|um| dry_um.is_none_or(|dry| *um < dry));
            Some(between.ok_or(NoDab::NoneBetween)?)
        }
    };
    Ok(DabTeeth { wetted_um, touched_um, dry_um })
}

/// How many dabs there are, and how many are asked for.
pub fn dabs_said(count: usize) -> String {
    match count {
        0 => "No dab yet: three places or more.".into(),
        1 => "1 dab; two more at other places.".into(),
        2 => "2 dabs; one more at another place.".into(),
        n => format!("{n} dabs."),
    }
}

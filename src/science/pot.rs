//! Mixed paint in the cup: when it may be used first, and until when.

use super::input::{In, InputError, answer, not_negative, positive, within};
use serde::Serialize;

/// How a cup stands, some minutes after mixing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cup {
    /// It must stand this much longer before use.
    Standing {
        /// Minutes still to stand.
        left_min: f64,
    },
    /// Ready, for this much longer; `None` where no pot life is stated.
    Usable {
        /// Minutes of the stated pot life that are left.
        left_min: Option<f64>,
    },
    /// The stated pot life is over since so many minutes.
    Past {
        /// Minutes since the pot life ended.
        since_min: f64,
    },
}

/// How a cup stands `since_mixing_min` minutes after its parts came together. Both times are those of the data sheet, in
/// min, and both count from mixing (common practice); no time to stand is zero. Usable from the end of the standing time up
/// to, but not at, the end of the pot life. A mix that would have to stand for its whole pot life is refused. Where the sheet
/// lets base and hardener stand before the reducer goes in, mixing is when those two came together.
///
/// ```
/// use comb_scale_science::pot::{Cup, cup};
/// assert_eq!(cup(10.0, 30.0, Some(240.0))?, Cup::Standing { left_min: 20.0 });
/// assert_eq!(cup(60.0, 30.0, Some(240.0))?, Cup::Usable { left_min: Some(180.0) });
/// assert_eq!(cup(250.0, 30.0, Some(240.0))?, Cup::Past { since_min: 10.0 });
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn cup(since_mixing_min: f64, standing_min: f64, pot_life_min: Option<f64>) -> Result<Cup, InputError> {
    let since = not_negative("time since mixing", since_mixing_min)?;
    let standing = not_negative("time to stand before use", standing_min)?;
    if let Some(pot_life) = pot_life_min {
        positive("pot life", pot_life)?;
        within("time to stand before use", standing, 0.0, pot_life, In::Minutes)?;
        // All of the pot life is as good as more than it: there is no moment left to spray.
        positive("pot life left after the time to stand", pot_life - standing)?;
    }
    Ok(match pot_life_min {
        _ if since < standing => Cup::Standing { left_min: answer(standing - since)? },
        Some(pot_life) if since >= pot_life => Cup::Past { since_min: answer(since - pot_life)? },
        Some(pot_life) => Cup::Usable { left_min: Some(answer(pot_life - since)?) },
        None => Cup::Usable { left_min: None },
    })
}

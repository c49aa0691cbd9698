//! A clock of spray day, from stored times.

use quantity::Instant;

/// What a clock waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Waiting {
    /// The standing time of a mix.
    Standing,
    /// The flash-off of the coat of that number.
    FlashOff(usize),
    /// Nothing: the film dries, from the last coat on, until it is weighed.
    WetWeight,
    /// The end of the pot life.
    PotLife,
}

/// A clock: since when, and until when where that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// What for.
    pub waiting: Waiting,
    /// Since when.
    pub since: Instant,
    /// Until when; it counts up where nothing says.
    pub ends: Option<Instant>,
}

impl Clock {
    /// A clock over so many minutes.
    pub(crate) fn lasting(waiting: Waiting, since: Instant, minutes: Option<f64>) -> Self {
        Self { waiting, since, ends: minutes.map(|minutes| since.plus_hours(minutes / 60.0)) }
    }

    /// Seconds left; negative once it is over, `None` where it has no end.
    pub fn left_s(&self, now: Instant) -> Option<f64> {
        // By the clock of another phone it may begin later than now: that makes it no longer.
        self.ends.map(|ends| ends.hours_since(if now > self.since { now } else { self.since }) * 3600.0)
    }

    /// Whether its end has come.
    pub fn over(&self, now: Instant) -> bool {
        self.left_s(now).is_some_and(|left| left <= 0.0)
    }

    /// The figure it shows: `06:20` left; `+02:10` over; since its beginning where it has no end.
    ///
    /// ```
    /// use findings::spray::{Clock, Waiting};
    /// let at = |text: &str| text.parse().unwrap();
    /// let (since, ends) = (at("2026-03-02T10:00:00Z"), Some(at("2026-03-02T10:15:00Z")));
    /// let clock = Clock { waiting: Waiting::FlashOff(1), since, ends };
    /// assert_eq!(clock.figure(at("2026-03-02T10:08:40Z")), "06:20");
    /// assert_eq!(clock.figure(at("2026-03-02T10:17:10Z")), "+02:10");
    /// assert_eq!(Clock { ends: None, ..clock }.figure(at("2026-03-02T11:00:05Z")), "1:00:05");
    /// ```
    pub fn figure(&self, now: Instant) -> String {
        match self.left_s(now) {
            Some(left) if left > 0.0 => hands(left),
            Some(left) => format!("+{}", hands(-left)),
            None => hands(now.hours_since(self.since) * 3600.0),
        }
    }

    /// What the figure is: `flash-off after coat 1`, `flash-off after coat 1: over`.
    pub fn words(&self, now: Instant) -> String {
        let over = self.over(now);
        let since = if self.ends.is_none() { "since" } else { "left" };
        match self.waiting {
            Waiting::Standing if over => "over the standing time: spray".into(),
            Waiting::Standing => "left to stand".into(),
            Waiting::FlashOff(coat) if over => format!("over the flash-off of coat {coat}"),
            Waiting::FlashOff(coat) if self.ends.is_none() => format!("since coat {coat}"),
            Waiting::FlashOff(coat) => format!("of flash-off left after coat {coat}"),
            Waiting::WetWeight => "since the last coat".into(),
            Waiting::PotLife if over => "past the pot life".into(),
            Waiting::PotLife => format!("of pot life {since}"),
        }
    }
}

/// Seconds within which a second press of the big button is a glove bouncing, not another coat.
const BOUNCE_S: f64 = 2.0;

/// Whether two presses of the big button are one.
///
/// ```
/// use findings::spray::same_press;
/// let at = |text: &str| text.parse().unwrap();
/// let pressed = at("2026-03-02T10:00:00Z");
/// assert!(same_press(pressed, at("2026-03-02T10:00:01Z")));
/// assert!(!same_press(pressed, at("2026-03-02T10:00:02Z")));
/// ```
pub fn same_press(before: Instant, now: Instant) -> bool {
    (now.hours_since(before) * 3600.0).abs() < BOUNCE_S
}

/// Minutes and seconds, and hours where there are any. Rounded to the second, as the record keeps them.
fn hands(seconds: f64) -> String {
    let whole = seconds.round().max(0.0) as u64;
    let (hours, minutes, seconds) = (whole / 3600, whole / 60 % 60, whole % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes:02}:{seconds:02}") }
}

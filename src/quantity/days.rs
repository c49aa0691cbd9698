//! Days that a person was here, whatever their clock says.

use std::fmt;

use super::Instant;

/// How many days are remembered by their date; a clock that goes back to one of them counts nothing.
const REMEMBERED: usize = 100;

/// The days on which something was opened, each counted once: a clock that jumps ten years ahead has brought one day, and none
/// when it is set right.
///
/// Written as the count and the dates, the newest last: `12 2026-03-01 2026-03-02`.
///
/// ```
/// use quantity::OpenedDays;
/// let mut days = OpenedDays::default();
/// for at in ["2026-03-02T08:00:00Z", "2026-03-02T19:00:00Z", "2036-03-02T08:00:00Z", "2026-03-02T20:00:00Z"] {
///     days.opened(at.parse().unwrap());
/// }
/// assert_eq!(days.count(), 2);
/// assert_eq!(OpenedDays::parse(&days.to_string()).count(), 2);
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OpenedDays {
    count: u32,
    dates: Vec<String>,
}

impl OpenedDays {
    /// Reads the text of one; none where it cannot be read.
    pub fn parse(text: &str) -> Self {
        let mut words = text.split_whitespace();
        let count = words.next().and_then(|count| count.parse().ok());
        count.map_or_else(Self::default, |count| Self { count, dates: words.map(str::to_owned).collect() })
    }

    /// Something was opened at this moment, by this place's date. Gives whether that is another day.
    pub fn opened(&mut self, at: Instant) -> bool {
        let date: String = at.to_string().chars().take_while(|c| *c != 'T').collect();
        let new = !self.dates.contains(&date);
        if new {
            self.count = self.count.saturating_add(1);
            self.dates.push(date);
            let over = self.dates.len().saturating_sub(REMEMBERED);
            self.dates.drain(..over);
        }
        new
    }

    /// How many there were.
    pub fn count(&self) -> u32 {
        self.count
    }
}

impl fmt::Display for OpenedDays {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.count)?;
        self.dates.iter().try_for_each(|date| write!(f, " {date}"))
    }
}

/// How many of such days something waits in the bin.
const BIN_DAYS: u32 = 30;

/// How long something in the bin waits, by the text noted when it went in: the moment, and the count of days by then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BinWait {
    /// The count of days when it went in.
    since: u32,
}

impl BinWait {
    /// It goes in on the newest of these days.
    pub fn begun(days: &OpenedDays) -> Self {
        Self { since: days.count() }
    }

    /// Reads what was noted; `None` where that says no count, or one that has not been reached: then it goes in now, rather
    /// too late than too early.
    pub fn read(noted: &str, days: &OpenedDays) -> Option<Self> {
        let since = noted.split_whitespace().nth(1)?.parse().ok()?;
        (since <= days.count()).then_some(Self { since })
    }

    /// The text to note: the moment, which nothing hangs on, and the count.
    ///
    /// ```
    /// use quantity::{BinWait, OpenedDays};
    /// let mut days = OpenedDays::parse("4 2026-03-01");
    /// let noted = BinWait::begun(&days).noted("2026-03-01T09:00:00Z".parse().unwrap());
    /// assert_eq!(noted, "2026-03-01T09:00:00Z 4");
    /// days.opened("2026-03-02T09:00:00Z".parse().unwrap());
    /// assert_eq!(BinWait::read(&noted, &days).unwrap().days_left(&days), 29);
    /// ```
    pub fn noted(self, at: Instant) -> String {
        format!("{at} {}", self.since)
    }

    /// The days that are left; 0 once it is to be erased.
    pub fn days_left(self, days: &OpenedDays) -> u32 {
        BIN_DAYS.saturating_sub(days.count() - self.since)
    }
}

//! Moments, as the clock on the wall showed them.

use std::fmt;

use serde::{Serialize, Serializer};

use super::manner::Manner;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// A moment with the offset of the place it was noted in: RFC 3339, as `2026-03-02T08:10:00+01:00`.
///
/// Two instants are equal when they name the same moment *and* the same offset, since the text is kept; they are
/// ordered by the moment.
///
/// ```
/// use quantity::Instant;
/// let wet = Instant::parse("2026-03-02T08:10:00+01:00").unwrap();
/// let dry = Instant::parse("2026-03-04T07:10:00Z").unwrap();
/// assert_eq!(dry.hours_since(wet), 48.0);
/// assert_eq!(wet.to_string(), "2026-03-02T08:10:00+01:00");
/// assert!(Instant::parse("2026-03-02T08:10:00").is_err(), "no offset");
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Instant(OffsetDateTime);

/// Text that is not a moment with an offset.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAnInstant;

impl fmt::Display for NotAnInstant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("must be a date and time with its offset, like 2026-03-02T08:10:00+01:00")
    }
}

impl std::error::Error for NotAnInstant {}

impl Instant {
    /// Where the shared clock of a test has its zero.
    pub const EPOCH: Self = Self(OffsetDateTime::UNIX_EPOCH);

    /// The years a weighing may fall in.
    pub const YEARS: std::ops::RangeInclusive<i32> = 1970..=2199;

    /// Reads RFC 3339 text.
    ///
    /// # Errors
    /// [`NotAnInstant`] when the text is something else, has no offset, or lies outside [`Instant::YEARS`].
    pub fn parse(text: &str) -> Result<Self, NotAnInstant> {
        let moment = OffsetDateTime::parse(text, &Rfc3339).map_err(|_| NotAnInstant)?;
        Self::YEARS.contains(&moment.year()).then_some(Self(moment)).ok_or(NotAnInstant)
    }

    /// A moment from milliseconds since 1970 (UTC) and the offset of the place, in minutes east.
    ///
    /// # Errors
    /// [`NotAnInstant`] outside [`Instant::YEARS`] or for an offset of more than a day.
    pub fn from_epoch_ms(ms: f64, offset_min: i32) -> Result<Self, NotAnInstant> {
        let offset = time::UtcOffset::from_whole_seconds(offset_min * 60).map_err(|_| NotAnInstant)?;
        let moment = OffsetDateTime::from_unix_timestamp((ms / 1000.0).floor() as i64)
            .map_err(|_| NotAnInstant)?
            .checked_to_offset(offset)
            .ok_or(NotAnInstant)?;
        Self::YEARS.contains(&moment.year()).then_some(Self(moment)).ok_or(NotAnInstant)
    }

    /// A moment from the text of a date-and-time field, `2026-03-02T08:10`, and an offset in minutes east.
    ///
    /// # Errors
    /// [`NotAnInstant`] when the text is not of that form.
    pub fn from_local(text: &str, offset_min: i32) -> Result<Self, NotAnInstant> {
        let seconds = if text.len() == 16 { ":00" } else { "" };
        let (sign, minutes) = if offset_min < 0 { ('-', -offset_min) } else { ('+', offset_min) };
        Self::parse(&format!("{text}{seconds}{sign}{:02}:{:02}", minutes / 60, minutes % 60))
    }

    /// The text of a date-and-time field, to the minute: `2026-03-02T08:10`.
    pub fn to_local(self) -> String {
        self.to_string().chars().take(16).collect()
    }

    /// Hours from `earlier` to this moment; negative when it is the later one.
    pub fn hours_since(self, earlier: Self) -> f64 {
        (self.0 - earlier.0).as_seconds_f64() / 3600.0
    }

    /// The moment `hours` later, with the same offset; unchanged where that leaves [`Instant::YEARS`].
    pub fn plus_hours(self, hours: f64) -> Self {
        let seconds = (hours * 3600.0).round();
        let span = time::Duration::seconds(if seconds.abs() < 1e11 { seconds as i64 } else { 0 });
        match self.0.checked_add(span) {
            Some(moment) if Self::YEARS.contains(&moment.year()) => Self(moment),
            _ => self,
        }
    }

    /// Minutes east of UTC.
    pub fn offset_min(self) -> i32 {
        self.0.offset().whole_seconds() / 60
    }

    /// As people say it: `Tue 3 Mar 14:10`, or `Tue Mar 3, 2:10 pm`.
    pub fn said(self) -> String {
        let day = self.0.weekday().to_string();
        format!("{} {}", &day[..3], self.said_short())
    }

    /// The same without the weekday, for tables: `3 Mar 14:10`, or `Mar 3, 2:10 pm`.
    pub fn said_short(self) -> String {
        let apart = if Manner::in_use().month_first { ", " } else { " " };
        format!("{}{apart}{}", self.said_day(), self.said_time())
    }

    /// The time of day alone: `14:10`, or `2:10 pm`.
    pub fn said_time(self) -> String {
        let (hour, minute) = (self.0.hour(), self.0.minute());
        if !Manner::in_use().half_days {
            return format!("{hour:02}:{minute:02}");
        }
        let half = if hour < 12 { "am" } else { "pm" };
        format!("{}:{minute:02} {half}", (hour + 11) % 12 + 1)
    }

    /// With its year and without the weekday: `3 Mar 2026 14:10`, or `Mar 3, 2026, 2:10 pm`.
    pub fn said_with_year(self) -> String {
        let apart = if Manner::in_use().month_first { ", " } else { " " };
        [self.said_day().as_str(), &self.0.year().to_string(), &self.said_time()].join(apart)
    }

    /// The day alone: `3 Mar`, or `Mar 3`.
    pub fn said_day(self) -> String {
        let (day, month) = (self.0.day(), self.0.month().to_string());
        if Manner::in_use().month_first { format!("{} {day}", &month[..3]) } else { format!("{day} {}", &month[..3]) }
    }
}

impl std::str::FromStr for Instant {
    type Err = NotAnInstant;

    fn from_str(text: &str) -> Result<Self, NotAnInstant> {
        Self::parse(text)
    }
}

impl PartialEq for Instant {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0 && self.0.offset() == other.0.offset()
    }
}

impl PartialOrd for Instant {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.0.cmp(&other.0).then(self.0.offset().cmp(&other.0.offset())))
    }
}

impl fmt::Display for Instant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Years are bounded, so RFC 3339 can always express it.
        f.write_str(&self.0.format(&Rfc3339).map_err(|_| fmt::Error)?)
    }
}

impl Serialize for Instant {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_and_an_offset_make_the_moment_and_give_the_field_back() {
        for (offset, text) in [(60, "2026-03-02T08:10:00+01:00"), (-210, "2026-03-02T08:10:00-03:30")] {
            let moment = Instant::from_local("2026-03-02T08:10", offset).unwrap();
            assert_eq!(moment.to_string(), text);
            assert_eq!(moment.to_local(), "2026-03-02T08:10");
            assert_eq!(moment.offset_min(), offset);
        }
        assert!(Instant::from_local("2026-02-30T08:10", 0).is_err());
        assert!(Instant::from_local("", 0).is_err());
    }

    #[test]
    fn the_same_moment_elsewhere_is_no_time_later_and_yet_other_text() {
        let here = Instant::parse("2026-03-02T08:10:00+01:00").unwrap();
        let there = Instant::parse("2026-03-02T07:10:00Z").unwrap();
        assert_eq!(here.hours_since(there), 0.0);
        assert_ne!(here, there);
    }

    #[test]
    fn a_clock_of_twice_twelve_hours_has_a_noon_and_a_midnight() {
        Manner { half_days: true, ..Manner::PLAIN }.take_on();
        let said = |time: &str| Instant::parse(&format!("2026-03-02T{time}:00+01:00")).unwrap().said_time();
        let told = ["00:00", "00:05", "01:00", "11:59", "12:00", "12:30", "13:00", "23:59"].map(said);
        Manner::PLAIN.take_on();
        assert_eq!(
            told,
            ["12:00 am", "12:05 am", "1:00 am", "11:59 am", "12:00 pm", "12:30 pm", "1:00 pm", "11:59 pm"]
        );
    }

    #[test]
    fn the_month_may_come_first() {
        let at = Instant::parse("2026-06-02T14:10:00+01:00").unwrap();
        let told = || [at.said(), at.said_day(), at.said_with_year()];
        assert_eq!(told(), ["Tue 2 Jun 14:10", "2 Jun", "2 Jun 2026 14:10"]);
        let manner = Manner { half_days: true, month_first: true, ..Manner::PLAIN };
        assert_eq!(manner.during(told), ["Tue Jun 2, 2:10 pm", "Jun 2", "Jun 2, 2026, 2:10 pm"]);
    }

    #[test]
    fn hours_beyond_every_calendar_leave_the_moment_alone() {
        let here = Instant::parse("2026-03-02T08:10:00+01:00").unwrap();
        for hours in [f64::INFINITY, f64::NAN, 1e12, -1e12] {
            assert_eq!(here.plus_hours(hours), here);
        }
        assert_eq!(here.plus_hours(36.0).to_string(), "2026-03-03T20:10:00+01:00");
        assert_eq!(here.said(), "Mon 2 Mar 08:10");
    }
}

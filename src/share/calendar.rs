//! The schedule as calendar reminders: RFC 5545 text, written by hand, since a library for it costs more than all of this.

use quantity::Instant;
use record::{SprayTest, file_name, legible_text};

/// Octets of a line before it is folded, its end not counted (RFC 5545, 3.1).
const LONGEST: usize = 75;

/// How long a weigh-in takes in a calendar, and how long before it the phone speaks up.
const LASTS: &str = "PT15M";
const BEFORE: &str = "-PT10M";

/// One entry of a calendar.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// The same for the same entry in every export, so that a second import moves it instead of doubling it.
    pub uid: String,
    /// When it begins, by the clock on the wall where that is.
    pub start: Instant,
    /// What it is.
    pub summary: String,
    /// What to know of it.
    pub description: String,
}

/// A text value: backslash, semicolon, comma and line end escaped (RFC 5545, 3.3.11); other control characters left out.
///
/// ```
/// assert_eq!(comb_scale::share::escaped("A; B, C\nD"), r"A\; B\, C\nD");
/// ```
pub fn escaped(text: &str) -> String {
    let mut value = String::with_capacity(text.len());
    for c in text.replace("\r\n", "\n").chars() {
        match c {
            '\\' | ';' | ',' => value.extend(['\\', c]),
            '\n' | '\r' => value.push_str("\\n"),
            '\t' => value.push(c),
            c if c.is_control() => {}
            c => value.push(c),
        }
    }
    value
}

/// A content line cut into pieces of at most 75 octets, each further one begun with a space, never inside a character
/// (RFC 5545, 3.1).
///
/// ```
/// let line = format!("SUMMARY:{}", "x".repeat(80));
/// let pieces = comb_scale::share::folded(&line);
/// assert_eq!(pieces.iter().map(|piece| piece.len()).collect::<Vec<_>>(), [75, 14]);
/// ```
pub fn folded(line: &str) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for c in line.chars() {
        let last = pieces.len() - 1;
        if pieces[last].len() + c.len_utf8() > LONGEST {
            pieces.push(format!(" {c}"));
        } else {
            pieces[last].push(c);
        }
    }
    pieces
}

/// A calendar of these events. `stamp` is when it was made.
///
/// Starts are floating local times: nine in the morning stays nine, whatever the zone of the phone that reads them.
pub fn calendar(name: &str, events: &[Event], stamp: Instant) -> String {
    let mut lines = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".into(),
        "PRODID:-//Comb and Scale//Spray test//EN".into(),
        "CALSCALE:GREGORIAN".into(),
        format!("X-WR-CALNAME:{}", escaped(name)),
    ];
    for event in events {
        let summary = escaped(&event.summary);
        lines.extend([
            "BEGIN:VEVENT".into(),
            format!("UID:{}", escaped(&event.uid)),
            format!("DTSTAMP:{}", in_utc(stamp)),
            format!("DTSTART:{}", on_the_wall(event.start)),
            format!("DURATION:{LASTS}"),
            format!("SUMMARY:{summary}"),
            format!("DESCRIPTION:{}", escaped(&event.description)),
            "BEGIN:VALARM".into(),
            "ACTION:DISPLAY".into(),
            format!("TRIGGER:{BEFORE}"),
            format!("DESCRIPTION:{summary}"),
            "END:VALARM".into(),
            "END:VEVENT".into(),
        ]);
    }
    lines.push("END:VCALENDAR".into());
    let pieces: Vec<String> = lines.iter().flat_map(|line| folded(line)).collect();
    pieces.join("\r\n") + "\r\n"
}

/// The weigh-ins of a test that are still due at `now`, as reminders; `None` while nobody knows when it is sprayed, or none
/// is due any more.
pub fn schedule_calendar(test: &SprayTest, now: Instant) -> Option<String> {
    let title = legible_text(&test.title);
    let title = if title.trim().is_empty() { "Spray test" } else { title.trim() };
    let due = findings::facts::due_times(test).into_iter().filter_map(|due| {
        let start = due.at.filter(|at| at.hours_since(now) >= 0.0)?;
        Some(Event {
            uid: format!("{}-{}@comb-scale", test.id.0, due.id.0),
            start,
            summary: format!("Weigh the panels: {title}"),
            description: format!(
                "{}. The blank first, then the rack in order; scale level and warm, panels cool to the hand.",
                findings::plan::weigh_by(due.age_h)
            ),
        })
    });
    let events: Vec<Event> = due.collect();
    (!events.is_empty()).then(|| calendar(title, &events, now))
}

/// The name of a test's calendar file.
///
/// ```
/// assert_eq!(comb_scale::share::calendar_name("Gate / undercoats"), "Gate undercoats.ics");
/// ```
pub fn calendar_name(title: &str) -> String {
    let name = file_name(title);
    format!("{}.ics", name.strip_suffix(".spraytest.txt").unwrap_or(&name))
}

/// `20260302T101500`: the clock on the wall.
fn on_the_wall(at: Instant) -> String {
    at.to_string().chars().take(19).filter(|c| !matches!(c, '-' | ':')).collect()
}

/// `20260302T091500Z`: the same moment in UTC.
fn in_utc(at: Instant) -> String {
    let ms = (at.hours_since(Instant::EPOCH) * 3_600_000.0).round();
    // A moment within the years of an `Instant` stays within them but for hours at their very ends.
    on_the_wall(Instant::from_epoch_ms(ms, 0).unwrap_or(at)) + "Z"
}

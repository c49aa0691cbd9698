//! The calendar against RFC 5545, and against a library that others wrote.

use comb_scale::quantity::Instant;
use comb_scale::record::SprayTest;
use comb_scale::share::{Event, calendar, escaped, folded, schedule_calendar};
use icalendar::{CalendarDateTime, Component, DatePerhapsTime};
use proptest::prelude::*;
use records::piece;
use serde_json::{Value, json};

/// Rows file-01 to file-05; each names its source.
fn rows() -> Vec<Value> {
    serde_json::from_str(include_str!("check_values.json")).unwrap()
}

fn at(text: &str) -> Instant {
    text.parse().unwrap()
}

/// RFC 5545, 3.1: a line break and one space vanish again.
fn unfolded(pieces: &[String]) -> String {
    pieces.join("\r\n").replace("\r\n ", "")
}

#[test]
fn lines_are_folded_as_the_published_rows_say() {
    let rows = rows();
    let folds: Vec<&Value> = rows.iter().filter(|row| row["topic"] == "file/ics_fold").collect();
    assert_eq!(folds.len(), 4);
    for row in folds {
        let line = row["inputs"]["line"]["value"].as_str().unwrap();
        let pieces = folded(line);
        assert_eq!(line.len() as u64, row["expected"]["octets_in"]["value"], "{}", row["id"]);
        let octets: Vec<usize> = pieces.iter().map(String::len).collect();
        assert_eq!(serde_json::json!(octets), row["expected"]["greedy_octets"]["value"], "{}", row["id"]);
        assert_eq!(unfolded(&pieces), line);
    }
}

#[test]
fn text_is_escaped_as_the_published_row_says() {
    let rows = rows();
    let row = rows.iter().find(|row| row["topic"] == "file/ics_escape").unwrap();
    let text = row["inputs"]["text"]["value"].as_str().unwrap();
    assert_eq!(escaped(text), row["expected"]["escaped"]["value"].as_str().unwrap());
}

proptest! {
    #[test]
    fn any_line_unfolds_to_itself_and_no_piece_is_too_long(line in "[^\r\n]{0,300}") {
        let pieces = folded(&line);
        prop_assert!(pieces.iter().all(|piece| piece.len() <= 75));
        prop_assert_eq!(unfolded(&pieces), line);
    }

    #[test]
    fn any_text_comes_back_from_an_independent_reader(summary in "[^\\p{Cc}\u{feff}]{1,120}", uid in "[a-z0-9]{1,20}") {
        let event = Event {
            uid: uid.clone(),
            start: at("2026-03-02T10:00:00+01:00"),
            summary: summary.clone(),
            description: summary.clone(),
        };
        let text = calendar("Test", &[event], at("2026-03-02T08:00:00+01:00"));
        let read: icalendar::Calendar = text.parse().map_err(TestCaseError::fail)?;
        let events: Vec<_> = read.events().collect();
        prop_assert_eq!(events.len(), 1);
        prop_assert_eq!(events[0].get_uid(), Some(uid.as_str()));
        prop_assert_eq!(events[0].get_summary().map(str::trim), Some(summary.trim()));
    }
}

/// A test whose weighings, `d1` and on, are planned so many hours after its spray day.
fn planned(due_h: &[f64]) -> SprayTest {
    let schedule = (1..).zip(due_h).map(|(n, due_h)| json!({ "id": format!("d{n}"), "due_h": due_h }));
    piece(
        r#"{ "format": "spray-test", "version": 1, "id": "t7", "title": "Gate; undercoats, 2",
        "wanted": { "spray_at": "2026-03-02T10:00:00+01:00" } }"#,
    )
    .with("/schedule", schedule.collect::<Value>())
    .opened()
}

const TWO: &[f64] = &[1.0, 24.0];

#[test]
fn a_schedule_is_read_back_by_an_independent_library() {
    let text = schedule_calendar(&planned(TWO), at("2026-02-28T23:30:00+01:00")).unwrap();
    assert!(text.ends_with("END:VCALENDAR\r\n"));
    assert!(text.replace("\r\n", "").chars().all(|c| !c.is_control()), "line ends are CR LF and nothing else");
    assert!(text.contains("DTSTAMP:20260228T223000Z\r\n"), "UTC, a day over a month's end");
    let read: icalendar::Calendar = text.parse().unwrap();
    let events: Vec<_> = read.events().collect();
    assert_eq!(events.len(), 2);
    let start = |event: &icalendar::Event| match event.get_start() {
        Some(DatePerhapsTime::DateTime(CalendarDateTime::Floating(at))) => at.to_string(),
        other => panic!("no floating time: {other:?}"),
    };
    assert_eq!(
        events.iter().map(|event| start(event)).collect::<Vec<_>>(),
        ["2026-03-02 11:00:00", "2026-03-03 10:00:00"]
    );
    assert_eq!(events[0].get_uid(), Some("t7-d1@comb-scale"));
    assert_eq!(events[0].get_summary(), Some("Weigh the panels: Gate; undercoats, 2"));
    assert_eq!(text.matches("BEGIN:VALARM").count(), 2);
    assert_eq!(text.matches("TRIGGER:-PT10M").count(), 2);
}

#[test]
fn an_entry_keeps_its_name_in_every_export() {
    let uids = |text: &str| -> Vec<String> {
        text.lines().filter(|line| line.starts_with("UID:")).map(str::to_owned).collect()
    };
    let before = schedule_calendar(&planned(TWO), at("2026-02-28T23:30:00+01:00")).unwrap();
    let after = schedule_calendar(&planned(&[1.0, 25.5]), at("2026-03-01T09:00:00+01:00")).unwrap();
    assert_eq!(uids(&before), uids(&after));
}

#[test]
fn what_is_past_or_undated_makes_no_reminder() {
    let test = planned(TWO);
    let text = schedule_calendar(&test, at("2026-03-02T12:00:00+01:00")).unwrap();
    assert_eq!(text.matches("BEGIN:VEVENT").count(), 1);
    assert_eq!(schedule_calendar(&test, at("2026-03-09T12:00:00+01:00")), None);
    let undated = SprayTest { wanted: Default::default(), ..test };
    assert_eq!(schedule_calendar(&undated, at("2026-02-28T12:00:00+01:00")), None);
}

/// By the calendar of summer time the clock goes forward on 29 March 2026; a reminder stays at the hour that was planned.
#[test]
fn a_reminder_stays_at_its_hour_across_summer_time() {
    let test = planned(&[672.0]);
    let text = schedule_calendar(&test, at("2026-03-02T12:00:00+01:00")).unwrap();
    assert!(text.contains("DTSTART:20260330T100000\r\n"), "{text}");
}

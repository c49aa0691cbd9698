//! How many external checks there are, by where their numbers come from.

use crate::rows::all_rows;
use serde_json::Value;
use std::collections::BTreeMap;

const MARKS: [&str; 4] = ["published", "computed", "common practice", "memory"];

fn table(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

fn mark(row: &Value) -> &str {
    row["mark"].as_str().expect("every row says where its numbers come from")
}

fn told<'a>(rows: impl Iterator<Item = &'a Value>) -> String {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut all = 0;
    for row in rows {
        assert!(MARKS.contains(&mark(row)), "{row}");
        assert!(row["source"].as_str().is_some_and(|source| !source.is_empty()), "{row} has no source");
        *counts.entry(mark(row)).or_default() += 1;
        all += 1;
    }
    let part = |mark: &&str| format!("{} {mark}", counts.get(*mark).copied().unwrap_or(0));
    format!("{all}: {}", MARKS.iter().map(part).collect::<Vec<_>>().join(", "))
}

/// `cargo test --no-default-features --test film counts -- --nocapture` prints the counts.
#[test]
fn external_checks_by_source() {
    let drying = table(include_str!("../drying/data/check_values.json"));
    let drying = drying.as_array().expect("rows");
    println!("film, mix, air, cost, statistics  {}", told(all_rows().iter()));
    println!("drying                            {}", told(drying.iter()));
    println!("rows of check values in all       {}", told(all_rows().iter().chain(drying)));
    let mut subjects: BTreeMap<&str, Vec<&Value>> = BTreeMap::new();
    for row in all_rows().iter().chain(drying) {
        let topic = row["topic"].as_str().expect("every row has a topic");
        subjects.entry(topic.split('/').next().expect("a subject")).or_default().push(row);
    }
    for (subject, rows) in subjects {
        println!("  {subject:<10} {}", told(rows.into_iter()));
    }
    let mut computed = 0;
    for (script, text) in [
        ("comb_posterior.py", include_str!("data/comb_posterior.json")),
        ("difference_sampling.py", include_str!("data/difference_sampling.json")),
        ("route_sampling.py", include_str!("data/route_sampling.json")),
        ("spread_sampling.py", include_str!("data/spread_sampling.json")),
        ("statistics.py", include_str!("data/statistics.json")),
    ] {
        let table = table(text);
        let cases = match &table {
            Value::Object(lists) => lists.values().filter_map(Value::as_array).map(Vec::len).sum(),
            list => list.as_array().expect("cases").len(),
        };
        println!("cases computed by {script:<23} {cases}");
        computed += cases;
    }
    println!("cases computed by committed scripts in all {computed}");
}

/// A row that no test asks for checks nothing.
#[test]
fn every_row_is_asked_for() {
    let directory = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/science/film");
    let sources: String = std::fs::read_dir(directory)
        .expect("a directory")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .map(|path| std::fs::read_to_string(path).expect("a source"))
        .collect();
    for row in all_rows() {
        let topic = row["topic"].as_str().expect("every row has a topic");
        assert!(sources.contains(&format!("rows(\"{topic}\", ")), "no test asks for {topic}");
    }
}

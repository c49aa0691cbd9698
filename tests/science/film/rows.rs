//! The check values: rows of inputs and what must come out, each with its published or computed source.

use serde_json::Value;
use std::sync::LazyLock;

/// All rows, for counting them.
pub fn all_rows() -> &'static [Value] {
    &ROWS
}

static ROWS: LazyLock<Vec<Value>> =
    LazyLock::new(|| serde_json::from_str(include_str!("data/check_values.json")).expect("check values are JSON"));

/// One row of the table.
pub struct Row(&'static Value);

/// All rows of one formula. There must be exactly `count`: a row that went missing is a failure, not a silent pass.
pub fn rows(topic: &str, count: usize) -> Vec<Row> {
    let found: Vec<Row> = ROWS.iter().filter(|row| row["topic"] == topic).map(Row).collect();
    assert_eq!(found.len(), count, "rows of {topic}");
    found
}

impl Row {
    fn input(&self, name: &str) -> &'static Value {
        let value = &self.0["inputs"][name]["value"];
        assert!(!value.is_null(), "{} has no input {name}", self.id());
        value
    }

    fn id(&self) -> &'static str {
        self.0["id"].as_str().unwrap_or("a row without an id")
    }

    pub fn num(&self, name: &str) -> f64 {
        self.input(name).as_f64().unwrap_or_else(|| panic!("{}: {name} is no number", self.id()))
    }

    /// A number, or `None` where the table says null or nothing.
    pub fn maybe(&self, name: &str) -> Option<f64> {
        self.0["inputs"][name]["value"].as_f64()
    }

    pub fn yes(&self, name: &str) -> bool {
        self.input(name).as_bool().unwrap_or_else(|| panic!("{}: {name} is no yes or no", self.id()))
    }

    pub fn list(&self, name: &str) -> Vec<f64> {
        let list = self.input(name).as_array().unwrap_or_else(|| panic!("{}: {name} is no list", self.id()));
        list.iter().map(|value| value.as_f64().expect("a number")).collect()
    }

    /// Rows of `[low, high, count]`, an open end being null.
    pub fn cells(&self, name: &str) -> Vec<(Option<f64>, Option<f64>, usize)> {
        let list = self.input(name).as_array().expect("a list of cells");
        list.iter()
            .map(|cell| (cell[0].as_f64(), cell[1].as_f64(), cell[2].as_u64().expect("a count") as usize))
            .collect()
    }

    pub fn unit(&self, name: &str) -> &'static str {
        self.0["inputs"][name]["unit"].as_str().unwrap_or("")
    }

    pub fn expects(&self, name: &str) -> bool {
        !self.0["expected"][name].is_null()
    }

    /// Fails unless `got` is the expected value within the row's own tolerance; `None` stands for null.
    pub fn check(&self, name: &str, got: impl Into<Option<f64>>) {
        assert!(self.expects(name), "{} expects no {name}", self.id());
        let expected = self.0["expected"][name]["value"].as_f64();
        let source = &self.0["source"];
        match (got.into(), expected) {
            (None, None) => {}
            (Some(got), Some(expected)) => {
                assert!(self.close(got, expected), "{} {name}: got {got}, expected {expected} ({source})", self.id());
            }
            (got, expected) => panic!("{} {name}: got {got:?}, expected {expected:?} ({source})", self.id()),
        }
    }

    /// An expected number, for checks that are not one for one.
    pub fn expected(&self, name: &str) -> f64 {
        let value = &self.0["expected"][name]["value"];
        value.as_f64().unwrap_or_else(|| panic!("{}: no number {name} is expected", self.id()))
    }

    /// An expected list.
    pub fn expected_list(&self, name: &str) -> Vec<f64> {
        let list = self.0["expected"][name]["value"].as_array().expect("a list");
        list.iter().map(|value| value.as_f64().expect("a number")).collect()
    }

    /// Passes if `got` is `expected` within the row's tolerance.
    pub fn check_against(&self, name: &str, got: f64, expected: f64) {
        assert!(
            self.close(got, expected),
            "{} {name}: got {got}, expected {expected} ({})",
            self.id(),
            self.0["source"]
        );
    }

    pub fn check_yes(&self, name: &str, got: bool) {
        let expected = self.0["expected"][name]["value"].as_bool().expect("a yes or no");
        assert_eq!(got, expected, "{} {name} ({})", self.id(), self.0["source"]);
    }

    pub fn check_list(&self, name: &str, got: &[f64]) {
        let expected = self.0["expected"][name]["value"].as_array().expect("a list");
        assert_eq!(got.len(), expected.len(), "{} {name}", self.id());
        for (got, expected) in got.iter().zip(expected) {
            let expected = expected.as_f64().expect("a number");
            assert!(self.close(*got, expected), "{} {name}: got {got}, expected {expected}", self.id());
        }
    }

    fn close(&self, got: f64, expected: f64) -> bool {
        let tolerance = &self.0["tolerance"];
        let by_size = tolerance["abs"].as_f64().is_some_and(|abs| (got - expected).abs() <= abs);
        let by_share = tolerance["rel"].as_f64().is_some_and(|rel| (got - expected).abs() <= rel * expected.abs());
        by_size || by_share
    }
}

//! Rows of published and independently computed check values (`data/check_values.json`); each names its source.

use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
pub struct Row {
    pub id: String,
    pub topic: String,
    pub inputs: BTreeMap<String, Value>,
    pub expected: BTreeMap<String, Value>,
    pub tolerance: Tolerance,
    pub source: String,
}

#[derive(Deserialize)]
pub struct Value {
    pub value: serde_json::Value,
}

#[derive(Deserialize)]
pub struct Tolerance {
    pub abs: Option<f64>,
    pub rel: Option<f64>,
}

pub fn rows() -> Vec<Row> {
    serde_json::from_str(include_str!("data/check_values.json")).unwrap()
}

pub fn number(of: &BTreeMap<String, Value>, name: &str) -> f64 {
    of[name].value.as_f64().unwrap()
}

pub fn list(of: &BTreeMap<String, Value>, name: &str) -> Vec<f64> {
    of[name].value.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect()
}

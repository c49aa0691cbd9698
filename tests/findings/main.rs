//! Findings from records, checked against numbers worked out by hand in the tests.

mod example;

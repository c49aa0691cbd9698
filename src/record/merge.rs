//! Two copies of one test become one.

use super::codec::{Clash, Joining, forget_taken_back, join_entry};
use super::model::SprayTest;

/// Two copies joined.
#[derive(Clone, Debug, PartialEq)]
pub struct Merged {
    /// What both together say.
    pub test: SprayTest,
    /// Fields that both had changed: the later edit was kept.
    pub clashes: Vec<Clash>,
}

/// Joins two copies of one test: entries by id, the fields of an entry one by one, the later stamp winning. No entry is
/// lost, the order of the copies does not matter, and joining again changes nothing.
///
/// ```
/// use record::{merge, open};
/// let mine = open(r#"{ "format": "spray-test", "version": 1, "id": "t", "panels": [ { "id": "p1" } ] }"#).unwrap().test;
/// let theirs = open(r#"{ "format": "spray-test", "version": 1, "id": "t", "panels": [ { "id": "p2" } ] }"#).unwrap().test;
/// let both = merge(&mine, &theirs).test;
/// assert_eq!(both.panels.kept().count(), 2);
/// assert_eq!(merge(&theirs, &mine).test, both);
/// assert_eq!(merge(&both, &mine).test, both);
/// ```
pub fn merge(mine: &SprayTest, theirs: &SprayTest) -> Merged {
    let mut test = mine.clone();
    let mut joining = Joining::default();
    join_entry(&mut test, theirs, &mut joining);
    Merged { test, clashes: joining.clashes }
}

/// A test as it would be had no join ever been taken back: what such a join brought comes again when it is joined again.
pub(super) fn never_taken_back(test: &SprayTest) -> SprayTest {
    let mut test = test.clone();
    forget_taken_back(&mut test);
    test
}

//! How much a test may hold: the one list of bounds on counts, as `quantity` has those on numbers. Within them every screen
//! answers within a second; they are far above what anybody weighs.
//!
//! What is over stays in the file: it is read, merged and written back like all else, and stands in no list
//! ([`Entries::kept`](super::Entries::kept)) until there is room for it. Lists are in order of stamp and id on every phone, so that all of
//! them have the same entries over.

use super::codec::{Full, see_full};
use super::model::SprayTest;
use super::preview::kind;

/// Of each kind of entry, the most that one list holds.
const MOST: [(&str, usize); 22] = [
    ("SprayTest", 1),
    ("Candidate", 24),
    ("Component", 12),
    ("Mixed", 240),
    ("Panel", 120),
    ("BareWeight", 20),
    ("Coat", 20),
    ("Dab", 100),
    ("WeighIn", 500),
    ("Spot", 100),
    ("Leaving", 20),
    ("Blank", 12),
    ("Round", 600),
    ("Move", 400),
    ("Due", 100),
    ("Skipped", 600),
    ("Air", 400),
    ("Note", 400),
    ("Balance", 8),
    ("Comb", 8),
    ("Edge", 6),
    ("Verification", 1000),
];

/// The most numbers, or names of entries, in one short list: the teeth of an edge, the panels of a move.
pub const MOST_VALUES: usize = 200;

/// The most entries of a kind in one list. A kind without a bound does not compile.
pub(super) const fn most(kind: &str) -> usize {
    let mut place = 0;
    while place < MOST.len() {
        if same(MOST[place].0.as_bytes(), kind.as_bytes()) {
            return MOST[place].1;
        }
        place += 1;
    }
    panic!("every kind of entry has its bound in record/bounds.rs");
}

const fn same(one: &[u8], other: &[u8]) -> bool {
    let mut place = 0;
    while place < one.len() && place < other.len() && one[place] == other[place] {
        place += 1;
    }
    place == one.len() && place == other.len()
}

/// What a full list says to one entry more.
pub(super) fn refusal(full: &Full) -> String {
    ["Not added: ", holder(full.list), " holds at most ", &counted(full.most, full.list), "."].concat()
}

fn holder(list: &str) -> &'static str {
    match list {
        "weigh_ins" | "bare" | "coats" | "dabs" | "spots" | "left" => "a panel",
        "components" => "a mix",
        "edges" => "a comb",
        "numbers" => "a list",
        _ => "a test",
    }
}

/// What stays unread of a list that holds too much, as the rest of a sentence.
pub(super) fn left_unread(full: &Full) -> String {
    [
        "holds more than the ",
        &counted(full.most, full.list),
        " that are read; ",
        &full.over.to_string(),
        if full.over == 1 { " stays in the file, unread" } else { " stay in the file, unread" },
    ]
    .concat()
}

fn counted(count: usize, list: &str) -> String {
    let (one, many) = kind(list);
    [count.to_string().as_str(), " ", if count == 1 { one } else { many }].concat()
}

/// What of a test is left unread because there is more than it may hold: a sentence a kind.
///
/// ```
/// use record::{open, unread};
/// let panels = vec!["{}"; 123].join(", ");
/// let text = format!(r#"{{ "format": "spray-test", "version": 1, "panels": [ {panels} ] }}"#);
/// let opened = open(&text).unwrap();
/// assert_eq!(opened.test.panels.kept().count(), 120);
/// assert_eq!(unread(&opened.test), ["3 panels are over the 120 that a test may hold: they stay in the file, unread."]);
/// ```
pub fn unread(test: &SprayTest) -> Vec<String> {
    let mut fulls: Vec<Full> = Vec::new();
    see_full(test, "", &mut |_, full| match fulls.iter_mut().find(|known| known.list == full.list) {
        Some(known) => known.over += full.over,
        None => fulls.push(full),
    });
    let sentence = |full: &Full| {
        let (are, they) = if full.over == 1 { (" is", ": it stays") } else { (" are", ": they stay") };
        let over = counted(full.over, full.list);
        let most = full.most.to_string();
        [&over, are, " over the ", &most, " that ", holder(full.list), " may hold", they, " in the file, unread."]
            .concat()
    };
    fulls.iter().map(sentence).collect()
}

//! Identity and order of what was written: ids, stamps, and the counter above every one seen.

use std::collections::BTreeMap;
use std::fmt;

use serde::{Serialize, Serializer};

/// The 64-bit FNV-1a hash (Fowler, Noll & Vo) of texts, one after the other.
///
/// ```
/// use record::fnv_1a;
/// assert_eq!(fnv_1a(&["foo", "bar"]), fnv_1a(&["foobar"]));
/// ```
pub fn fnv_1a(texts: &[&str]) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325;
    for byte in texts.iter().flat_map(|text| text.bytes()) {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    hash
}

/// Names an entry within its test.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Id(pub String);

impl Id {
    /// The id of an entry that came without one: made from where it stands and what it says, so that the same text
    /// opened on two phones gives the same test. `nth` tells entries of equal content apart.
    pub(super) fn of_content(place: &str, content: &str, nth: u32) -> Self {
        // 64 bits are plenty to tell the entries of one list apart.
        let hash = fnv_1a(&[place, "\0", content, "\0", &nth.to_string()]);
        Self(format!("x{hash:016x}"))
    }

    /// Whether this writer minted it.
    ///
    /// ```
    /// use record::Id;
    /// assert!(Id::from("phone-7").is_of("phone") && !Id::from("phones-7").is_of("phone"));
    /// ```
    pub fn is_of(&self, writer: &str) -> bool {
        self.0.strip_prefix(writer).is_some_and(|rest| rest.starts_with('-'))
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<&str> for Id {
    fn from(id: &str) -> Self {
        Self(id.into())
    }
}

/// When something was written, as `12@phone`: a counter above every one its writer had seen, then the writer. Wall time
/// plays no part, since clocks of phones disagree.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    /// Above every counter seen.
    pub counter: u64,
    /// Whose; decides between equal counters.
    pub device: String,
}

/// Later stamps of single fields of an entry, by dotted name.
pub type Edited = BTreeMap<String, Stamp>;

impl Stamp {
    /// Reads the text of a stamp.
    ///
    /// A counter beyond [`MOST`] is no count of anything: it goes before all others, in its own order among its like, so
    /// that whatever is written from now on stands above it.
    pub(super) fn read(text: &str) -> Option<Self> {
        let (digits, device) = text.split_once('@')?;
        if digits.is_empty() || !digits.bytes().all(|digit| digit.is_ascii_digit()) {
            return None;
        }
        Some(match digits.parse() {
            Ok(counter) if counter <= MOST => Self { counter, device: device.into() },
            _ => Self { counter: 0, device: format!("{digits:0>20}@{device}") },
        })
    }

    /// The next stamp of a writer who has seen none above this one. Where the counter is at its end, the name counts on:
    /// of two names the one that goes on longer is the later one.
    pub(super) fn next(&self, device: &str) -> Self {
        if self.counter < MOST {
            return Self { counter: self.counter + 1, device: device.into() };
        }
        let counted = || {
            let (before, last) = self.device.rsplit_once('~')?;
            let (base, count) = before.rsplit_once('~')?;
            let count: u64 = count.parse().ok().filter(|count| *count < ON_END && before.len() == base.len() + 10)?;
            (!last.is_empty()).then_some((base, count))
        };
        let (base, count) = counted().unwrap_or((&self.device, 0));
        Self { counter: MOST, device: format!("{base}~{:09}~{device}", count + 1) }
    }

    /// This stamp for a field that a join had changed, or an entry that it had brought, when the join is taken back; with
    /// the field's stamp `before` the join.
    pub(super) fn taking_back(&self, before: Option<&Self>) -> Self {
        let earliest = before.and_then(Self::before_join);
        let before = earliest.unwrap_or_else(|| before.cloned());
        let before = before.map_or(String::new(), |before| before.to_string());
        Self { counter: self.counter, device: [&self.device, TAKEN_BACK, &before].concat() }
    }

    /// Of a stamp made by taking a join back: the stamp before the join, if there was one. `None` for any other stamp.
    pub(super) fn before_join(&self) -> Option<Option<Self>> {
        match self.device.split_once(TAKEN_BACK)?.1 {
            "" => Some(None),
            before => Self::read(before).map(Some),
        }
    }
}

/// The highest counter: nobody gets there by typing, and numbers up to here are whole in every language that reads a file.
const MOST: u64 = 1 << 53;

/// Where the count in a name ends: nine digits.
const ON_END: u64 = 999_999_999;

/// Stands in the device of a stamp that took a join back, before the stamp that was there before it.
const TAKEN_BACK: &str = "<";

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}@{}", self.counter, self.device)
    }
}

impl Serialize for Stamp {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

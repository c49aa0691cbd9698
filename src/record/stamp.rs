//! Identity and order of what was written: ids, stamps, and the counter above every one seen.

use std::collections::BTreeMap;
use std::fmt;

use serde::{Serialize, Serializer};

/// Names an entry within its test.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Id(pub String);

impl Id {
    /// The id of an entry that came without one: made from where it stands and what it says, so that the same text
    /// opened on two phones gives the same test. `nth` tells entries of equal content apart.
    pub(super) fn of_content(place: &str, content: &str, nth: u32) -> Self {
        // FNV-1a (Fowler, Noll and Vo): 64 bits are plenty to tell the entries of one list apart.
        let hash = [place, "\0", content, "\0", &nth.to_string()]
            .iter()
            .flat_map(|part| part.bytes())
            .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3));
        Self(format!("x{hash:016x}"))
    }

    /// Whether this writer minted it.
    ///
    /// ```
    /// use comb_scale::record::Id;
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
    pub(super) fn read(text: &str) -> Option<Self> {
        // A counter near the end of u64 would leave no room above it; nobody gets there by typing.
        const MOST: u64 = u64::MAX / 2;
        let (counter, device) = text.split_once('@')?;
        let counter = counter.parse().ok().filter(|&counter| counter <= MOST)?;
        Some(Self { counter, device: device.into() })
    }
}

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

//! Stamping what one action changed, and joining what two copies changed.

use serde_json::Value;

use crate::record::stamp::{Edited, Id, Stamp};

/// The pen that stamps what an action changed.
pub(in crate::record) struct Pen<'a> {
    pub(in crate::record) stamp: &'a Stamp,
    /// How many ids this stroke has minted.
    pub(in crate::record) minted: &'a mut u32,
}

impl Pen<'_> {
    /// Notes a field as written now.
    #[inline(never)]
    pub(super) fn note(&self, path: &str, edited: &mut Edited) {
        edited.insert(path.into(), self.stamp.clone());
    }

    /// An id no other device and no other stroke mints.
    pub(in crate::record) fn mint(&mut self) -> Id {
        *self.minted += 1;
        Id(format!("{}-{}-{}", self.stamp.device, self.stamp.counter, self.minted))
    }
}

/// The two copies of one object that are being joined, and the stamps of their fields.
pub(in crate::record) struct Sides<'a> {
    pub(in crate::record) mine: (&'a Stamp, &'a Edited),
    pub(in crate::record) theirs: (&'a Stamp, &'a Edited),
    pub(in crate::record) clashes: &'a mut Vec<Clash>,
    pub(in crate::record) entry: &'a Id,
    /// The joined stamps, filled in as fields are decided.
    pub(in crate::record) edited: &'a mut Edited,
}

/// A field that both copies changed: the later edit is kept, the other is told.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Clash {
    /// The entry.
    pub entry: Id,
    /// The field in it, dotted.
    pub field: String,
    /// What was kept.
    pub kept: Value,
    /// What was not.
    pub dropped: Value,
}

impl Sides<'_> {
    fn stamp_of<'s>(side: (&'s Stamp, &'s Edited), path: &str) -> &'s Stamp {
        side.1.get(path).unwrap_or(side.0)
    }

    /// Whether their value of a field takes the place of mine: by stamp, and between equal stamps by content, so that both
    /// phones decide alike. `values` is asked for mine and theirs where they differ.
    pub(super) fn decide(&mut self, path: &str, differ: bool, values: &dyn Fn() -> (Value, Value)) -> bool {
        let (my_stamp, their_stamp) = (Self::stamp_of(self.mine, path), Self::stamp_of(self.theirs, path));
        let mut take = their_stamp > my_stamp;
        if differ {
            let (mine, theirs) = values();
            let tie = their_stamp == my_stamp;
            if tie {
                let (mine, theirs) = (mine.to_string(), theirs.to_string());
                take = theirs > mine;
            }
            let both_edited = self.mine.1.contains_key(path) && self.theirs.1.contains_key(path);
            if both_edited || tie {
                let (kept, dropped) = if take { (theirs, mine) } else { (mine, theirs) };
                self.clashes.push(Clash { entry: self.entry.clone(), field: path.into(), kept, dropped });
            }
        }
        if self.mine.1.contains_key(path) || self.theirs.1.contains_key(path) {
            self.edited.insert(path.into(), my_stamp.max(their_stamp).clone());
        }
        take && differ
    }
}

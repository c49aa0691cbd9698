//! A join that was taken back: its traces hold in every tab of this phone, and are as good as none where copies of phones
//! are joined.

use super::entries::List;
use super::part::{Identified, Object, PartMut};

/// Makes an entry, and every entry inside it, what it would be had no join ever been taken back: what such joins alone
/// had brought goes, and fields have the stamps that they had before.
pub fn forget_taken_back(entry: &mut dyn Identified) {
    let mark = entry.mark_mut();
    let edited = std::mem::take(mark.edited);
    for (path, stamp) in edited {
        let written = match stamp.before_join() {
            None => Some(stamp),
            Some(before) => before.filter(|before| before != mark.stamp),
        };
        if let Some(stamp) = written {
            mark.edited.insert(path, stamp);
        }
    }
    forget_inside(entry);
}

fn forget_inside(object: &mut dyn Object) {
    for part in object.parts_mut() {
        match part {
            PartMut::Whole(_) => {}
            PartMut::Group(group) => forget_inside(group),
            PartMut::List(list) => forget_in_list(list),
        }
    }
}

fn forget_in_list(list: &mut dyn List) {
    for place in (0..list.len()).rev() {
        if came_with_it(list.at(place)) {
            list.take_away(place);
        } else {
            forget_taken_back(list.at_mut(place));
        }
    }
}

/// Whether a join alone had brought an entry, and went back with it.
fn came_with_it(entry: &dyn Identified) -> bool {
    let mark = entry.mark();
    mark.deleted && mark.edited.get("deleted").and_then(|stamp| stamp.before_join()) == Some(None)
}

//! Stamping what an action changed.

use super::entries::{Full, List, places, put_in_order};
use super::part::{Identified, Object, Part, PartMut, dotted, same_entry, same_list};
use crate::stamp::{Edited, Id, Stamp};

/// What is done with the pen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Something is written down.
    Write,
    /// A join is taken back.
    TakeBack,
    /// What was taken back is joined again; all that is compared with stays.
    JoinAgain,
}

/// The pen that stamps what an action changed.
pub struct Pen<'a> {
    stamp: &'a Stamp,
    /// What ids minted with it begin with.
    ids: String,
    stroke: Stroke,
    /// How many ids this stroke has minted.
    minted: u32,
    /// A list to which this stroke adds more than it holds.
    pub full: Option<Full>,
}

impl<'a> Pen<'a> {
    /// A pen for one stroke; ids that it mints begin with `ids`, which no other stroke may have.
    pub fn new(stamp: &'a Stamp, ids: String, stroke: Stroke) -> Self {
        Self { stamp, ids, stroke, minted: 0, full: None }
    }

    /// An id no other device and no other stroke mints.
    fn mint(&mut self) -> Id {
        self.minted += 1;
        Id(format!("{}-{}", self.ids, self.minted))
    }
}

/// The stamps of an entry while it is settled.
struct Stamps {
    /// As they will be.
    edited: Edited,
    /// As they were in the state that is written: of the entry, and of its fields.
    had: (Stamp, Edited),
}

impl Stamps {
    /// The stamp of a field in the state that is written.
    fn had(&self, path: &str) -> &Stamp {
        self.had.1.get(path).unwrap_or(&self.had.0)
    }

    fn stamp(&mut self, path: String, pen: &Pen<'_>) {
        let stamp = match pen.stroke {
            Stroke::Write | Stroke::JoinAgain => pen.stamp.clone(),
            Stroke::TakeBack => pen.stamp.taking_back(Some(self.had(&path))),
        };
        self.edited.insert(path, stamp);
    }

    /// What was taken back and has come again counts from now on, even where it says the same as before.
    fn join_again(&mut self, pen: &Pen<'_>) {
        let again = |(path, stamp): (&String, &Stamp)| {
            let before = stamp.before_join()?;
            (before.as_ref() != Some(self.had(path))).then(|| path.clone())
        };
        let again: Vec<String> = self.edited.iter().filter_map(again).collect();
        for path in again {
            self.edited.insert(path, pen.stamp.clone());
        }
    }
}

/// Stamps what differs from `before`, keeping the older stamps.
pub fn settle_entry(now: &mut dyn Identified, before: &dyn Identified, pen: &mut Pen<'_>) {
    let (mark, old) = (now.mark_mut(), before.mark());
    let had = (std::mem::replace(mark.stamp, old.stamp.clone()), std::mem::take(mark.edited));
    let mut stamps = Stamps { edited: old.edited.clone(), had };
    if pen.stroke == Stroke::JoinAgain {
        stamps.join_again(pen);
    }
    if *mark.deleted != old.deleted {
        stamps.stamp("deleted".into(), pen);
    }
    settle_fields(now, before, "", &mut stamps, pen);
    *now.mark_mut().edited = stamps.edited;
}

fn settle_fields(now: &mut dyn Object, before: &dyn Object, prefix: &str, stamps: &mut Stamps, pen: &mut Pen<'_>) {
    for ((name, now), before) in now.names().iter().zip(now.parts_mut()).zip(before.parts()) {
        match (now, before) {
            (PartMut::Whole(now), Part::Whole(before)) if now.same(before) => {}
            (PartMut::Whole(_), _) => stamps.stamp(dotted(prefix, name), pen),
            (PartMut::Group(now), Part::Group(before)) => {
                settle_fields(now, before, &dotted(prefix, name), stamps, pen);
            }
            (PartMut::List(now), Part::List(before)) => settle_list(name, now, before, pen),
            // Both are of one type.
            _ => {}
        }
    }
    // Unknown fields are stamped under their names, where a page that knows them looks for it.
    let differs = |name: &&String| now.rest().get(*name) != before.rest().get(*name);
    let names: Vec<&String> = now.rest().keys().chain(before.rest().keys()).filter(differs).collect();
    for path in names.iter().map(|name| dotted(prefix, name)) {
        // With what they are part of, and what is part of them.
        let (rest, inner) = (dotted(prefix, "rest"), dotted(&path, ""));
        let about = |known: &&String| **known == rest || known.starts_with(&inner);
        let paths: Vec<String> = stamps.edited.keys().filter(about).cloned().chain([path]).collect();
        paths.into_iter().for_each(|path| stamps.stamp(path, pen));
    }
}

fn settle_list(name: &'static str, now: &mut dyn List, before: &dyn List, pen: &mut Pen<'_>) {
    if same_list(now, before) {
        return;
    }
    let over = |list: &dyn List| Full::of(name, list).map_or(0, |full| full.over);
    if over(now) > over(before) {
        pen.full = Full::of(name, now);
    }
    let old = places(before);
    let mut seen = vec![false; before.len()];
    for place in 0..now.len() {
        let entry = now.at_mut(place);
        match old.get(entry.id()) {
            Some(&place) if !entry.id().0.is_empty() => {
                seen[place] = true;
                if !same_entry(entry, before.at(place)) {
                    settle_entry(entry, before.at(place), pen);
                }
            }
            _ => begin_entry(entry, pen),
        }
    }
    // Nothing ever goes without a trace: what is missing was taken out.
    for gone in (0..before.len()).filter(|&place| !seen[place]) {
        let mark = now.add_copy(before.at(gone)).mark_mut();
        let stamp = match pen.stroke {
            Stroke::Write => pen.stamp.clone(),
            Stroke::TakeBack => pen.stamp.taking_back(None),
            Stroke::JoinAgain => continue,
        };
        if !std::mem::replace(mark.deleted, true) {
            mark.edited.insert("deleted".into(), stamp);
        }
    }
    put_in_order(now);
}

/// Gives a new entry, and every entry inside it, a stamp and an id.
fn begin_entry(entry: &mut dyn Identified, pen: &mut Pen<'_>) {
    let mark = entry.mark_mut();
    if mark.id.0.is_empty() {
        *mark.id = pen.mint();
    }
    *mark.stamp = pen.stamp.clone();
    begin_fields(entry, pen);
}

fn begin_fields(object: &mut dyn Object, pen: &mut Pen<'_>) {
    for part in object.parts_mut() {
        match part {
            PartMut::Whole(_) => {}
            PartMut::Group(group) => begin_fields(group, pen),
            PartMut::List(list) => {
                (0..list.len()).for_each(|place| begin_entry(list.at_mut(place), pen));
                put_in_order(list);
            }
        }
    }
}

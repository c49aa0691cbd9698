//! What joining another copy of a test would do, before it is done.

use serde_json::Value;

use super::address::Address;
use super::bounds::unread;
use super::codec::{Apart, Comparison, Step, value_of};
use super::gate::{OpenError, fits};
use super::merge::{merge, never_taken_back};
use super::model::{Candidate, Round, SprayTest};
use super::stamp::{Id, Stamp};
use quantity::{Instant, plain_to};

/// What joining their copy to mine would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Preview {
    /// Whether both look like copies of one test; joining is meant for these alone.
    pub same_test: bool,
    /// Whether both together are longer than a record may be: they cannot be joined.
    pub too_long: bool,
    /// Entries that come with their copy, by kind.
    pub new: Vec<Counted>,
    /// Entries that my copy alone has, and which stay, by kind.
    pub only_here: Vec<Counted>,
    /// What the two say differently, entry by entry.
    pub differences: Vec<Difference>,
    /// What the two hold together that is more than a test may: each list in a sentence. It is lost in neither.
    pub unread: Vec<String>,
    /// Entries that stay taken out, although one copy has written inside them what the other has not: worth offering back.
    pub taken_out: Vec<(Address, String)>,
}

/// So many entries of a kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// The list they stand in: `weigh_ins`.
    pub list: &'static str,
    /// How many.
    pub count: usize,
}

/// A field that two copies say differently.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// The entry.
    pub entry: Address,
    /// The entry in words: `panel A1, weigh-in of Tue 3 Mar 09:00`; empty for the test itself.
    pub of: String,
    /// The field in it, dotted.
    pub field: String,
    /// What my copy says, in the record's units.
    pub mine: Value,
    /// What theirs says.
    pub theirs: Value,
    /// Whether mine is kept: the later edit is, and of two equally late ones the same on every phone.
    pub keeps_mine: bool,
    /// Whether both copies had changed it since they were one.
    pub both_changed: bool,
    /// In a sentence.
    pub says: String,
}

/// What joining their copy to mine would do, entry by entry; nothing is changed.
///
/// ```
/// use record::{merge_preview, open};
/// let mine = open(r#"{ "format": "spray-test", "version": 1, "id": "t", "title": "Gates",
///     "panels": [ { "id": "p", "label": "A1" } ] }"#).unwrap().test;
/// let theirs = open(r#"{ "format": "spray-test", "version": 1, "id": "t", "title": "Gates",
///     "panels": [ { "id": "p", "label": "A1", "weigh_ins": [ { "gross_g": 440 }, { "gross_g": 438 } ] } ] }"#).unwrap().test;
/// let preview = merge_preview(&mine, &theirs);
/// assert_eq!(preview.said(), ["New in it: 2 weigh-ins."]);
/// assert_eq!(merge_preview(&mine, &mine).said(), ["It says nothing that is not here already."]);
/// ```
pub fn merge_preview(mine: &SprayTest, theirs: &SprayTest) -> Preview {
    let (mine, theirs) = (&never_taken_back(mine), &never_taken_back(theirs));
    let merged = merge(mine, theirs);
    let mut preview = Preview {
        same_test: is_same_test(mine, theirs),
        too_long: !fits(&merged.test),
        unread: unread(&merged.test),
        ..Preview::default()
    };
    let mut comparison = Comparison { trail: Vec::new() };
    comparison.entry(mine, theirs, &merged.test, &mut |trail, apart| {
        let deleted = |step: &Step<'_>| step.1.mark().deleted;
        match apart {
            Apart::Field { name, mine, theirs, keeps_mine } => {
                let (mine, theirs) = (mine(), theirs());
                let entry = Address::of(trail);
                let both_changed = merged.clashes.iter().any(|clash| clash.entry == entry && clash.field == *name);
                let mut told = Difference {
                    entry,
                    of: called(trail),
                    field: name.clone(),
                    mine,
                    theirs,
                    keeps_mine: *keeps_mine,
                    both_changed,
                    says: String::new(),
                };
                told.says = told.sentence(&merged.test);
                preview.differences.push(told);
            }
            // Written inside an entry that stays taken out, by somebody who did not know.
            _ if trail.len() > 1 && trail[..trail.len() - 1].iter().any(deleted) => {
                let place = trail.iter().position(deleted).unwrap_or_default();
                preview.offer(&trail[..=place]);
            }
            _ if trail.last().is_some_and(deleted) => {}
            // Weighed in a round that the other phone took out.
            _ if let Some(round) = round_taken_out(trail, &merged.test) => preview.offer(&[("rounds", round)]),
            Apart::OnlyMine => count(&mut preview.only_here, trail),
            Apart::OnlyTheirs => count(&mut preview.new, trail),
        }
    });
    preview
}

/// Whether two records look like copies of one test. Files written by hand may all be numbered 1: then it counts when
/// they were begun, and whether they compare any primer under one name.
fn is_same_test(mine: &SprayTest, theirs: &SprayTest) -> bool {
    let begun = mine.created.is_none() || theirs.created.is_none() || mine.created == theirs.created;
    let named = |test: &SprayTest| test.candidates.all().iter().any(|candidate| !candidate.label.trim().is_empty());
    let shared = mine.candidates.all().iter().any(|candidate| {
        let stamped = candidate.stamp != Stamp::default();
        let same = |other: &Candidate| other.label == candidate.label || stamped && other.stamp == candidate.stamp;
        theirs.candidates.all().iter().any(|other| other.id == candidate.id && same(other))
    });
    mine.id == theirs.id && begun && (shared || !named(mine) || !named(theirs))
}

fn count(counts: &mut Vec<Counted>, trail: &[Step<'_>]) {
    let Some((list, _)) = trail.last() else { return };
    match counts.iter_mut().find(|known| known.list == *list) {
        Some(known) => known.count += 1,
        None => counts.push(Counted { list, count: 1 }),
    }
}

/// The round of a weigh-in, where it was taken out.
fn round_taken_out<'t>(trail: &[Step<'_>], test: &'t SprayTest) -> Option<&'t Round> {
    let (_, weigh_in) = trail.last().filter(|(list, _)| *list == "weigh_ins")?;
    let id = value_of(*weigh_in, "round");
    test.rounds.all().iter().find(|round| round.deleted && Some(round.id.0.as_str()) == id.as_str())
}

impl Preview {
    /// Notes that an entry stays taken out which may be wanted back.
    fn offer(&mut self, trail: &[Step<'_>]) {
        let address = Address::of(trail);
        if !self.taken_out.iter().any(|(known, _)| *known == address) {
            self.taken_out.push((address, called(trail)));
        }
    }

    /// What is taken out once they are joined and stands in one of them, or has something new in it, each by its name: to
    /// be brought back by who wants it.
    pub fn to_bring_back(&self) -> Vec<(Address, String)> {
        let mut all = self.taken_out.clone();
        for told in &self.differences {
            let gone = told.field == "deleted" && told.keeps_mine == (told.mine == Value::Bool(true));
            if gone && !told.of.is_empty() && !all.iter().any(|(known, _)| *known == told.entry) {
                all.push((told.entry.clone(), told.of.clone()));
            }
        }
        all
    }

    /// In plain sentences, counts first.
    pub fn said(&self) -> Vec<String> {
        let mut said: Vec<String> = Vec::new();
        if !self.same_test {
            said.push("It looks like another test, not a copy of this one.".into());
        }
        if self.too_long {
            said.push(["They cannot be joined. ", &OpenError::TooLong.to_string()].concat());
        }
        if !self.new.is_empty() {
            said.push(["New in it: ", &counted(&self.new), "."].concat());
        }
        said.extend(self.differences.iter().map(|difference| difference.says.clone()));
        for (_, name) in &self.taken_out {
            said.push(
                [
                    &capital(name),
                    " stays taken out, with readings that the other copy did not have: bring it back to see them.",
                ]
                .concat(),
            );
        }
        said.extend(self.unread.iter().cloned());
        if said.is_empty() {
            said.push("It says nothing that is not here already.".into());
        }
        if !self.only_here.is_empty() {
            said.push(["Only here, and stays: ", &counted(&self.only_here), "."].concat());
        }
        said
    }
}

impl Difference {
    fn sentence(&self, test: &SprayTest) -> String {
        if self.field == "deleted" {
            let what = if self.of.is_empty() { "The test" } else { &self.of };
            let says = match (self.mine == Value::Bool(true), self.keeps_mine) {
                (true, true) => " was taken out here, and stays out.",
                (true, false) => " was taken out here, and comes back.",
                (false, true) => " was taken out there, and stays here.",
                (false, false) => " was taken out there, and goes here too.",
            };
            return [&capital(what), says].concat();
        }
        let both = |decimals| [&self.mine, &self.theirs].map(|value| worded(&self.field, value, test, decimals));
        // As such numbers are shown elsewhere, and to the last digit where both would then read alike.
        let [mine, theirs] = Some(both(3)).filter(|[mine, theirs]| mine != theirs).unwrap_or_else(|| both(9));
        let field = field_word(&self.field);
        let what = if self.of.is_empty() { field } else { [&self.of, ", ", &field].concat() };
        let says = match (self.both_changed, self.keeps_mine) {
            (false, true) => [": stays ", &mine, "; the file has it as it was, ", &theirs, "."],
            (false, false) => [": becomes ", &theirs, "; so far it is ", &mine, "."],
            (true, true) => [": changed here and there. Stays ", &mine, "; the file says ", &theirs, "."],
            (true, false) => [": changed here and there. Becomes ", &theirs, "; so far it is ", &mine, "."],
        };
        [&capital(&what), says.concat().as_str()].concat()
    }
}

/// The lists of the record: one of them, and several.
const KINDS: [(&str, &str, &str); 21] = [
    ("panels", "panel", "panels"),
    ("weigh_ins", "weigh-in", "weigh-ins"),
    ("bare", "bare weight", "bare weights"),
    ("coats", "coat", "coats"),
    ("dabs", "dab", "dabs"),
    ("spots", "dry-film spot", "dry-film spots"),
    ("left", "leaving of the test", "leavings of the test"),
    ("rounds", "round", "rounds"),
    ("moves", "move", "moves"),
    ("blanks", "blank", "blanks"),
    ("candidates", "candidate", "candidates"),
    ("components", "component", "components"),
    ("mixes", "cup", "cups"),
    ("air", "reading of the air", "readings of the air"),
    ("notes", "note", "notes"),
    ("balances", "scale", "scales"),
    ("combs", "comb", "combs"),
    ("edges", "edge", "edges"),
    ("verifications", "reading of a shim", "readings of shims"),
    ("schedule", "time to weigh", "times to weigh"),
    ("skipped", "step left out", "steps left out"),
];

pub(super) fn kind(list: &str) -> (&str, &str) {
    KINDS.iter().find(|(name, ..)| *name == list).map_or((list, list), |(_, one, many)| (one, many))
}

fn counted(counts: &[Counted]) -> String {
    let one = |counted: &Counted| {
        let (one, many) = kind(counted.list);
        [counted.count.to_string().as_str(), " ", if counted.count == 1 { one } else { many }].concat()
    };
    counts.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// An entry in words, from the outermost it stands in.
fn called(trail: &[Step<'_>]) -> String {
    let one = |(list, entry): &Step<'_>| {
        let (one, _) = kind(list);
        let text = |field: &str| value_of(*entry, field).as_str().unwrap_or_default().trim().to_owned();
        let (label, at) = (text("label"), text("at"));
        match Instant::parse(&at) {
            _ if !label.is_empty() => [one, " ", &label].concat(),
            Ok(at) => [one, " of ", &at.said()].concat(),
            Err(_) => one.to_owned(),
        }
    };
    trail.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// Units as the names of fields end; the longer endings first.
const UNITS: [(&str, &str); 13] = [
    ("_g_per_ml", " g/mL"),
    ("_g_per_l", " g/L"),
    ("_cm2", " cm²"),
    ("_kpa", " kPa"),
    ("_min", " min"),
    ("_pct", " %"),
    ("_um", " µm"),
    ("_mm", " mm"),
    ("_ml", " mL"),
    ("_g", " g"),
    ("_l", " L"),
    ("_h", " h"),
    ("_c", " °C"),
];

fn split_unit(field: &str) -> (&str, &'static str) {
    let found = UNITS.iter().find_map(|(ending, unit)| Some((field.strip_suffix(ending)?, *unit)));
    found.unwrap_or((field, ""))
}

fn field_word(field: &str) -> String {
    match field {
        "gross_g" => "weight".into(),
        "label" => "name".into(),
        "at" => "time".into(),
        "to" => "where to".into(),
        _ => split_unit(field).0.replace(['_', '.'], " "),
    }
}

/// A value in words, with the unit that the name of its field tells; a number with up to so many decimals.
fn worded(field: &str, value: &Value, test: &SprayTest, decimals: usize) -> String {
    let unit = split_unit(field).1;
    match value {
        Value::Null => "nothing".into(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::Number(number) => {
            // Whole numbers may have more digits than a number with decimals holds.
            let broken = number.as_f64().filter(|_| number.is_f64());
            [broken.map_or_else(|| number.to_string(), |value| plain_to(value, decimals)).as_str(), unit].concat()
        }
        Value::String(text) if text.trim().is_empty() => "nothing".into(),
        Value::String(text) => match Instant::parse(text) {
            Ok(at) => at.said(),
            Err(_) => label_of(test, field, text).unwrap_or_else(|| text.clone()),
        },
        Value::Array(items) if items.is_empty() => "nothing".into(),
        Value::Array(items) => {
            let each: Vec<String> =
                items.iter().map(|item| worded(split_unit(field).0, item, test, decimals)).collect();
            [&each.join(" "), unit].concat()
        }
        Value::Object(map) => {
            let each: Vec<String> = map.values().map(|item| worded("", item, test, decimals)).collect();
            each.join(", ")
        }
    }
}

/// The label of the entry that a field of that name leads to.
fn label_of(test: &SprayTest, field: &str, id: &str) -> Option<String> {
    let id = Id::from(id);
    match field.rsplit('.').next()? {
        "candidate" | "candidates" => test.candidates.find(&id).map(|candidate| candidate.label.clone()),
        "panels" => test.panels.find(&id).map(|panel| panel.label.clone()),
        "balance" => test.balances.find(&id).map(|balance| balance.label.clone()),
        "comb" => test.combs.find(&id).map(|comb| comb.label.clone()),
        _ => None,
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

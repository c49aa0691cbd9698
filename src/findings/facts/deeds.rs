//! All deeds of a test on one clock.
//!
//! Which coat a weight was weighed after, which reading came before which, and how long before: all of findings tells it by
//! times. But the clocks of two phones disagree, and a clock is set back. So before anything is worked out of a test its
//! times are put on one clock, here and nowhere else, by what the record says was done:
//!
//! - A deed noted while it was done (*live*) has its time by the clock of whoever wrote it. What one writer did follows in the
//!   order of the counters of its stamps; and a coat, comb reading or weighing names the newest entry of its panel that was
//!   known when it was written (`after`), whoever wrote that.
//! - Where a clock says that a deed came before the one that it followed, that clock was ahead: all that its writer noted by
//!   it is taken to be earlier, by the least that sets the order right.
//! - A time that a person gave holds as it stands: one that was corrected, that of a round entered later (its weighings have
//!   the round's own time) and of moves noted for days gone by. So does a time without a stamp, unless something was done
//!   after it that lies before it. To the minute, which is all that a field can say, a corrected time gives way.
//!
//! Two phones that never saw each other's entries say nothing of each other's clocks: their times are believed.

use super::times::{MINUTE_H, latest};
use quantity::Instant;
use record::{Id, SprayTest, Stamp};

/// A test whose deeds are on one clock.
#[derive(Clone, Debug)]
pub struct OneClock {
    /// The test, with the times of clocks that were ahead made earlier.
    pub test: SprayTest,
    /// By how much the clocks disagree; nothing where they are seconds apart.
    pub apart: Option<ClocksApart>,
}

/// How far the clocks by which a test was noted disagree, as far as the record shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClocksApart {
    /// By so much at least, h.
    pub by_h: f64,
    /// One clock was set back, where else two phones differ.
    pub set_back: bool,
}

/// Hours apart from which clocks are said to disagree.
pub(crate) const APART_H: f64 = 2.0 / 60.0;

/// What a clock ahead comes to lie before the deed that followed, h: no two deeds of a panel fall in one moment.
const STEP_H: f64 = 1.0 / 3600.0;

/// By what a deed has its time.
#[derive(Clone, Copy, Debug, PartialEq)]
enum By {
    /// The clock of its writer, at that moment.
    Clock,
    /// The clock of its writer, or a person: it says nothing of the clock, and goes with what else was noted by it.
    ClockOrHand,
    /// A person, or nobody knows what.
    Hand,
}

/// Something done, and when.
struct Deed<'a> {
    at: Option<Instant>,
    /// Of the writing of its time.
    stamp: &'a Stamp,
    by: By,
    id: &'a Id,
    /// The entry that it is known to have followed.
    after: Option<&'a Id>,
    /// The panel or blank it was done on, as a number.
    owner: usize,
    /// What may have followed it.
    leads: Leads,
}

/// What may name a deed as the one before it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Leads {
    /// Nothing does.
    Nothing,
    /// What is done on the same panel or blank.
    ToItsOwn,
    /// The same, and a coat its cup, and a blank the coats that it is weighed with.
    ToAll,
}

/// Walks over everything that has a time, in one order for looking and for changing.
macro_rules! each_time {
    ($test:expr, $kept:ident, $see:ident) => {
        for it in $test.air.$kept() {
            $see!(plain, it);
        }
        for it in $test.skipped.$kept() {
            $see!(plain, it);
        }
        for it in $test.mixes.$kept() {
            $see!(cup, it);
        }
        for it in $test.moves.$kept() {
            $see!(carried, it);
        }
        for it in $test.rounds.$kept() {
            $see!(round, it);
        }
        for panel in $test.panels.$kept() {
            $see!(owner, panel);
            for it in panel.bare.$kept() {
                $see!(plain, it);
            }
            for it in panel.coats.$kept() {
                $see!(coat, it);
            }
            for it in panel.dabs.$kept() {
                $see!(combed, it);
            }
            for it in panel.weigh_ins.$kept() {
                $see!(weighed, it);
            }
            for it in panel.spots.$kept() {
                $see!(plain, it);
            }
            for it in panel.left.$kept() {
                $see!(left, it);
            }
        }
        for blank in $test.blanks.$kept() {
            $see!(owner, blank);
            for it in blank.weigh_ins.$kept() {
                $see!(weighed, it);
            }
            for it in blank.left.$kept() {
                $see!(left, it);
            }
        }
    };
}

fn deeds(test: &SprayTest) -> Vec<Deed<'_>> {
    let (mut all, mut owner) = (Vec::new(), 0);
    macro_rules! push {
        ($it:ident, $after:expr, $leads:ident, $by_hand:expr, $else:ident) => {{
            let corrected = $it.edited.get("at");
            let by_hand = $it.stamp.device.is_empty() || $by_hand(corrected);
            all.push(Deed {
                at: $it.at,
                stamp: corrected.unwrap_or(&$it.stamp),
                by: if by_hand { By::Hand } else { By::$else },
                id: &$it.id,
                after: $after,
                owner,
                leads: Leads::$leads,
            });
        }};
    }
    let corrected = |edit: Option<&Stamp>| edit.is_some();
    // A cup that was poured has its time later than itself: with the panels that are sprayed from it.
    let mixed = |edit: &Stamp| test.panels.kept().any(|panel| panel.edited.get("mix") == Some(edit));
    let one_of_many = |of: &Stamp| test.moves.kept().filter(|other| other.stamp == *of).count() > 1;
    macro_rules! see {
        (owner, $it:ident) => {
            owner += 1
        };
        (plain, $it:ident) => {
            push!($it, None, Nothing, corrected, Clock)
        };
        (coat, $it:ident) => {
            push!($it, $it.after.as_ref(), ToAll, corrected, Clock)
        };
        (combed, $it:ident) => {
            push!($it, $it.after.as_ref(), ToItsOwn, corrected, Clock)
        };
        (cup, $it:ident) => {
            push!($it, None, ToAll, |edit: Option<&Stamp>| edit.is_some_and(|edit| !mixed(edit)), Clock)
        };
        (carried, $it:ident) => {
            push!(
                $it,
                $it.after.as_ref(),
                ToItsOwn,
                |edit: Option<&Stamp>| edit.is_some() || one_of_many(&$it.stamp),
                Clock
            )
        };
        (round, $it:ident) => {
            push!($it, None, Nothing, corrected, ClockOrHand)
        };
        (weighed, $it:ident) => {{
            let by_hand = |edit: Option<&Stamp>| edit.is_some() || has_time_of_round(test, &$it.round, $it.at);
            push!($it, $it.after.as_ref(), ToItsOwn, by_hand, Clock)
        }};
        (left, $it:ident) => {{
            let by_hand = |edit: Option<&Stamp>| edit.is_some() || has_time_of_round(test, &$it.round, $it.at);
            push!($it, $it.after.as_ref(), ToItsOwn, by_hand, Clock)
        }};
    }
    each_time!(test, kept, see);
    all
}

fn times_mut(test: &mut SprayTest) -> Vec<&mut Option<Instant>> {
    let mut all = Vec::new();
    macro_rules! see {
        (owner, $it:ident) => {};
        ($how:ident, $it:ident) => {
            all.push(&mut $it.at)
        };
    }
    each_time!(test, kept_mut, see);
    all
}

/// Whether a weighing has the time of its round, as those of a round that was entered later.
fn has_time_of_round(test: &SprayTest, round: &Option<Id>, at: Option<Instant>) -> bool {
    let round = round.as_ref().and_then(|round| test.rounds.find(round));
    round.is_some_and(|round| round.at == at)
}

/// Deeds whose times stand and fall together: those of a writer between two settings of its clock, or one alone.
#[derive(Default)]
struct Stretch {
    /// How much ahead of the others its clock was, h.
    ahead_h: f64,
}

/// That the deeds of one stretch came before those of another, and by how much the clocks say the contrary, h.
struct Followed {
    before: usize,
    then: usize,
    by_h: f64,
    /// Both were noted by one writer.
    set_back: bool,
}

/// The stretches of a test, and in which of them each deed lies.
struct Clocks {
    stretches: Vec<Stretch>,
    of_deed: Vec<usize>,
    followed: Vec<Followed>,
}

impl Clocks {
    fn of(test: &SprayTest, deeds: &[Deed<'_>]) -> Self {
        let mut clocks = Self { stretches: Vec::new(), of_deed: vec![0; deeds.len()], followed: Vec::new() };
        clocks.cut(deeds);
        for (then, deed) in deeds.iter().enumerate().filter(|(_, deed)| deed.by == By::Clock) {
            let Some(before) = deed.after.and_then(|id| entry_of(test, deeds, then, id)) else { continue };
            // A time that was corrected since has its reasons.
            if deeds[before].stamp < deed.stamp {
                clocks.follow(deeds, before, then, false);
            }
        }
        clocks
    }

    fn add(&mut self, deed: usize) -> usize {
        self.stretches.push(Stretch::default());
        self.of_deed[deed] = self.stretches.len() - 1;
        self.of_deed[deed]
    }

    /// Cuts what each writer did into stretches, at every step back of its clock; a time given by hand is one of its own.
    fn cut(&mut self, deeds: &[Deed<'_>]) {
        let mut order: Vec<usize> = (0..deeds.len()).collect();
        order::sort_by(&mut order, |&a, &b| {
            (&deeds[a].stamp.device, deeds[a].stamp.counter).cmp(&(&deeds[b].stamp.device, deeds[b].stamp.counter))
        });
        // The stretch that runs, and the last deed in it that shows its clock.
        let mut running: Option<(&str, usize, Option<usize>)> = None;
        for i in order {
            let deed = &deeds[i];
            if deed.by == By::Hand {
                self.add(i);
                continue;
            }
            let same = running.filter(|(device, ..)| *device == deed.stamp.device);
            let shown = same.and_then(|(.., shown)| shown);
            let (clock, stretch) = (deed.by == By::Clock, same.map(|(_, stretch, _)| stretch));
            let back = clock && shown.is_some_and(|shown| hours(deeds, shown, i) > 0.0);
            match stretch.filter(|_| !back) {
                Some(stretch) => self.of_deed[i] = stretch,
                None => {
                    self.add(i);
                }
            }
            if let Some(shown) = shown.filter(|_| back) {
                self.follow(deeds, shown, i, true);
            }
            let shown = if clock && deed.at.is_some() { Some(i) } else { shown };
            running = Some((&deed.stamp.device, self.of_deed[i], shown));
        }
    }

    fn follow(&mut self, deeds: &[Deed<'_>], before: usize, then: usize, set_back: bool) {
        let by_h = hours(deeds, before, then);
        // In the order of the clocks already: that is to stay so when the later one is taken back.
        let by_h = if by_h > 0.0 { by_h + STEP_H } else { by_h };
        let (before, then) = (self.of_deed[before], self.of_deed[then]);
        if before != then {
            self.followed.push(Followed { before, then, by_h, set_back });
        }
    }

    /// How far each clock was ahead at least, so that all follows in order; where no clocks can make it so (one that was set
    /// forward and back while others followed), as far as it goes.
    fn set_right(&mut self) {
        for _ in 0..=self.stretches.len() {
            let mut moved = false;
            for Followed { before, then, by_h, .. } in &self.followed {
                let ahead_h = self.stretches[*then].ahead_h + by_h;
                if ahead_h > self.stretches[*before].ahead_h {
                    (self.stretches[*before].ahead_h, moved) = (ahead_h, true);
                }
            }
            if !moved {
                return;
            }
        }
    }

    fn apart(&self) -> Option<ClocksApart> {
        let apart = |of: &&Followed| of.by_h >= APART_H;
        let most = self.followed.iter().filter(apart).reduce(|a, b| if b.by_h > a.by_h { b } else { a })?;
        Some(ClocksApart { by_h: most.by_h, set_back: most.set_back })
    }
}

/// Hours by which the clocks say that one deed came after another.
fn hours(deeds: &[Deed<'_>], one: usize, other: usize) -> f64 {
    deeds[one].at.zip(deeds[other].at).map_or(0.0, |(one, other)| one.hours_since(other))
}

/// The deed that an entry was: on the same panel or blank, else a cup, else a coat of any panel. Of one that was taken out
/// again, the one before it.
fn entry_of(test: &SprayTest, deeds: &[Deed<'_>], of: usize, id: &Id) -> Option<usize> {
    let (owner, mut wanted) = (deeds[of].owner, id);
    // Entries that were taken out lead on to those before them; a ring of them leads nowhere.
    for _ in 0..REMOVED {
        let own = |deed: &Deed<'_>| deed.owner == owner && deed.id == wanted && deed.leads != Leads::Nothing;
        let others = |deed: &Deed<'_>| deed.id == wanted && deed.leads == Leads::ToAll;
        // Most often it is the one just before.
        let found = deeds[..of].iter().rposition(own).or_else(|| deeds.iter().position(own));
        let found = found.or_else(|| deeds.iter().position(others));
        if found.is_some() {
            return found;
        }
        let panels = || test.panels.all().iter();
        let coat = panels().find_map(|p| p.coats.all().iter().find(|it| it.id == *wanted)?.after.as_ref());
        let dab = || panels().find_map(|p| p.dabs.all().iter().find(|it| it.id == *wanted)?.after.as_ref());
        let weigh_in = || panels().find_map(|p| p.weigh_ins.all().iter().find(|it| it.id == *wanted)?.after.as_ref());
        let left = || panels().find_map(|p| p.left.all().iter().find(|it| it.id == *wanted)?.after.as_ref());
        wanted = coat.or_else(dab).or_else(weigh_in).or_else(left)?;
    }
    None
}

/// Entries taken out one after the other that are looked through.
const REMOVED: usize = 20;

/// The test with all its deeds on one clock; `None` where its clocks agree, which is nearly always.
///
/// ```
/// let agree = record::open(record::EXAMPLE).unwrap().test;
/// assert!(findings::facts::on_one_clock(&agree).is_none());
/// ```
pub fn on_one_clock(test: &SprayTest) -> Option<OneClock> {
    let deeds = deeds(test);
    let mut clocks = Clocks::of(test, &deeds);
    clocks.set_right();
    let ahead_h = |i: usize| clocks.stretches[clocks.of_deed[i]].ahead_h;
    let mut times: Vec<Option<Instant>> = Vec::new();
    for (i, deed) in deeds.iter().enumerate() {
        times.push(deed.at.map(|at| if ahead_h(i) > 0.0 { at.plus_hours(-ahead_h(i)) } else { at }));
    }
    for (i, deed) in deeds.iter().enumerate().filter(|(_, deed)| deed.by == By::Hand) {
        let before = deed.after.and_then(|id| entry_of(test, &deeds, i, id));
        let by_h = |before: Instant| Some(before.hours_since(times[i]?)).filter(|by_h| *by_h > 0.0 && *by_h < MINUTE_H);
        if let Some(before) = before.and_then(|before| times[before]).filter(|before| by_h(*before).is_some()) {
            times[i] = Some(before);
        }
    }
    let changed = times.iter().zip(&deeds).any(|(time, deed)| *time != deed.at);
    let apart = clocks.apart();
    changed.then(|| {
        let mut test = test.clone();
        for (time, at) in times_mut(&mut test).into_iter().zip(times) {
            *time = at;
        }
        OneClock { test, apart }
    })
}

/// The time of the newest deed of a test.
pub(crate) fn newest_deed(test: &SprayTest) -> Option<Instant> {
    latest(&mut deeds(test).iter().filter_map(|deed| deed.at))
}

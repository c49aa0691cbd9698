//! One candidate on spray day.

use super::amiss::amiss;
use super::clock::{Clock, Waiting};
use super::day::SprayDay;
use super::task::{Task, skipped};
use crate::facts::{DABS, blanks_in_test, comb_readings, moment, oldest, outside_rounds, stays, wet_on_spray_day};
use crate::words::{FLASHING, IN_THE_MIST, MIXING, SPRAYING, duration};
use quantity::{Instant, Quantity};
use record::{Address, Candidate, Dated, Entries, Id, Owner, Panel, SprayTest, Step, WeighIn};

/// One candidate on spray day.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateRun {
    /// Which candidate.
    pub candidate: Id,
    /// Its name.
    pub label: String,
    /// What comes next.
    pub task: Task,
    /// What that waits for.
    pub clock: Option<Clock>,
    /// Its pot life, from mixing to the last coat.
    pub pot: Option<Clock>,
    /// Coats planned, where the sheet says.
    pub planned: Option<usize>,
    /// Coats sprayed.
    pub coats: usize,
    /// The cup in use.
    pub cup: Option<Id>,
    /// What has been done, with its time.
    pub done: Vec<Done>,
    /// What is amiss: one sentence each.
    pub amiss: Vec<String>,
}

/// Something done, and what its time is corrected by.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// What.
    pub text: String,
    /// When.
    pub at: Instant,
    /// By what its time is corrected.
    pub dated: Dated,
    /// The entries that are taken out where it never happened.
    pub entries: Vec<Address>,
}

/// Hours after which a clock is no longer told: it is of another day.
const CLOCK_H: f64 = 24.0;

/// A clock of today.
fn of_today(clock: Option<Clock>, now: Instant) -> Option<Clock> {
    clock.filter(|clock| now.hours_since(clock.ends.unwrap_or(clock.since)) < CLOCK_H)
}

impl CandidateRun {
    pub(crate) fn of(test: &SprayTest, candidate: &Candidate, now: Instant) -> Self {
        let facts = SprayDay::of(test, candidate);
        let cup = facts.cups.last().copied();
        let task = task(test, &facts);
        let sheet = &candidate.sheet;
        let minutes = |of: Option<quantity::Minutes>| of.map(Quantity::get).filter(|minutes| *minutes > 0.0);
        let clock = match (&task, facts.last_coat(), cup) {
            (Task::Coat(_), Some(last), _) => {
                Some(Clock::lasting(Waiting::FlashOff(facts.coats.len()), last, minutes(sheet.flash_min)))
            }
            (Task::Coat(_), None, Some((_, mixed))) => {
                minutes(sheet.standing_min).map(|minutes| Clock::lasting(Waiting::Standing, mixed, Some(minutes)))
            }
            (Task::Comb(_) | Task::Wet(_), Some(last), _) => Some(Clock::lasting(Waiting::WetWeight, last, None)),
            _ => None,
        };
        // Between the last coat and the gun's next use nobody waits for the pot.
        let spraying = matches!(task, Task::Coat(_));
        let pot = cup.filter(|_| spraying).and_then(|(_, mixed)| {
            minutes(sheet.pot_life_min).map(|minutes| Clock::lasting(Waiting::PotLife, mixed, Some(minutes)))
        });
        Self {
            candidate: candidate.id.clone(),
            label: candidate.label.clone(),
            clock: of_today(clock, now),
            pot: of_today(pot, now),
            planned: facts.planned(),
            coats: facts.coats.len(),
            cup: cup.map(|(cup, _)| cup.id.clone()),
            done: done(test, &facts),
            amiss: amiss(&facts, spraying, now),
            task,
        }
    }

    /// How much the run needs the painter; `None` where nothing is left to do. Wet film first, since it loses solvent by
    /// the minute; then what has waited longest; what has not begun last.
    pub(crate) fn urgency(&self, now: Instant) -> Option<f64> {
        match &self.task {
            Task::Comb(_) | Task::Wet(_) => Some(f64::MAX),
            Task::Coat(_) => Some(-self.clock.and_then(|clock| clock.left_s(now)).unwrap_or(0.0)),
            Task::Mix => Some(f64::MIN),
            Task::Air | Task::Bare(_) | Task::Nothing => None,
        }
    }

    /// The word on the button: what is done once it is pressed.
    pub fn button(&self) -> String {
        match (&self.task, self.planned) {
            (Task::Mix, _) => "Parts are together".into(),
            (Task::Coat(coat), Some(planned)) if *coat <= planned => format!("Coat {coat} of {planned} sprayed"),
            (Task::Coat(coat), _) => format!("Coat {coat} sprayed"),
            _ => String::new(),
        }
    }

    /// The cautions that belong beside what comes next.
    pub fn cautions(&self) -> Vec<&'static str> {
        let flashing = self.clock.is_some_and(|clock| matches!(clock.waiting, Waiting::FlashOff(_)));
        match self.task {
            Task::Mix => MIXING.to_vec(),
            Task::Coat(_) if flashing => SPRAYING.into_iter().chain(FLASHING).collect(),
            Task::Coat(_) => SPRAYING.to_vec(),
            Task::Comb(_) | Task::Wet(_) => IN_THE_MIST.to_vec(),
            _ => Vec::new(),
        }
    }

    /// The step that can be left out now, and of what.
    pub fn step(&self) -> Option<(Step, Address)> {
        Some(match &self.task {
            Task::Mix => (Step::Mix, Address::candidate(&self.candidate)),
            Task::Coat(_) if self.coats > 0 => (Step::Coats, Address::candidate(&self.candidate)),
            Task::Comb(panel) => (Step::Comb, Address::panel(panel)),
            Task::Wet(owner) => (Step::Wet, owner.address()),
            _ => return None,
        })
    }

    /// The run in a few words, for the list of runs: `coat 2 of 3, flash-off`.
    pub fn words(&self) -> String {
        match (&self.task, self.clock.map(|clock| clock.waiting)) {
            (Task::Mix, _) => "to be mixed".into(),
            (Task::Coat(coat), Some(Waiting::Standing)) => format!("standing, then coat {coat}"),
            (Task::Coat(coat), Some(Waiting::FlashOff(_))) => format!("flash-off, then coat {coat}"),
            (Task::Coat(coat), _) => format!("coat {coat}"),
            (Task::Comb(_), _) => "comb".into(),
            (Task::Wet(_), _) => "weigh wet".into(),
            _ => "sprayed and weighed".into(),
        }
    }
}

fn task(test: &SprayTest, facts: &SprayDay<'_>) -> Task {
    let id = &Address::candidate(&facts.candidate.id);
    if facts.panels.iter().all(|panel| !stays(&panel.left)) {
        return Task::Nothing;
    }
    let Some(last) = facts.last_coat() else {
        let begun = !facts.cups.is_empty() || skipped(test, Step::Mix, id);
        return if begun { Task::Coat(1) } else { Task::Mix };
    };
    let read = facts
        .coated()
        .any(|(panel, _)| comb_readings(panel).next().is_some() || wet_on_spray_day(test, panel).is_some());
    let dried = facts.coated().any(|(panel, last)| in_a_round(test, panel, last));
    // Reading the comb says that the last coat is on; so does a round, where nobody said how many coats there are to be.
    let all_on = facts.planned().map_or(dried, |planned| facts.coats.len() >= planned);
    if !(read || all_on || skipped(test, Step::Coats, id)) {
        return Task::Coat(facts.coats.len() + 1);
    }
    for (panel, last) in facts.coated().filter(|(panel, _)| stays(&panel.left)) {
        let weighed = wet_on_spray_day(test, panel).is_some()
            || skipped(test, Step::Wet, &Address::panel(&panel.id))
            || in_a_round(test, panel, last);
        let combed = comb_readings(panel).count() >= DABS || skipped(test, Step::Comb, &Address::panel(&panel.id));
        // Once the panel is weighed, the comb comes too late.
        if !combed && !weighed {
            return Task::Comb(panel.id.clone());
        }
        if !weighed {
            return Task::Wet(Owner::Panel(panel.id.clone()));
        }
    }
    if dried {
        return Task::Nothing;
    }
    let unweighed = blanks_in_test(test).find(|blank| {
        let since = first_since(&blank.weigh_ins, last).is_some();
        // Left out with an earlier candidate, it is asked for with this one all the same.
        let left_out = test.skipped.kept().any(|left| {
            left.step == Some(Step::Wet)
                && left.is_of(test, &Address::blank(&blank.id))
                && left.at.is_none_or(|at| at >= last)
        });
        !since && !left_out
    });
    unweighed.map_or(Task::Nothing, |blank| Task::Wet(Owner::Blank(blank.id.clone())))
}

/// Whether a panel was weighed in a round since: its film has dried, and comb and wet weight come too late.
fn in_a_round(test: &SprayTest, panel: &Panel, last_coat: Instant) -> bool {
    let in_rounds = panel.weigh_ins.kept().filter(|weigh_in| weigh_in.round.is_some());
    in_rounds.filter_map(|weigh_in| moment(test, weigh_in)).any(|at| at >= last_coat)
}

/// The first weighing of a blank outside the rounds from the last coat on.
fn first_since(list: &Entries<WeighIn>, last_coat: Instant) -> Option<(Id, Instant)> {
    let kept = outside_rounds(list).filter(|weigh_in| weigh_in.set_aside.is_none());
    oldest(kept.filter_map(|w| Some((w.at.filter(|at| *at >= last_coat)?, w)))).map(|(at, w)| (w.id.clone(), at))
}

fn done(test: &SprayTest, facts: &SprayDay<'_>) -> Vec<Done> {
    let cups = facts.cups.iter().map(|(cup, at)| {
        let text = "Mixed".to_owned();
        Done { text, at: *at, dated: Dated::Cup(cup.id.clone()), entries: vec![Address::cup(&cup.id)] }
    });
    let coats = facts.coats.iter().enumerate().map(|(i, coat)| {
        let (text, on) = (format!("Coat {}", i + 1), coat.entries());
        let entries = on.iter().map(|(panel, coat)| Address::coat(panel, coat)).collect();
        Done { text, at: coat.first(), dated: Dated::Coats(on), entries }
    });
    let mut done: Vec<Done> = cups.chain(coats).collect();
    for (panel, last) in facts.coated() {
        let Some((weigh_in, at)) = wet_on_spray_day(test, panel) else { continue };
        let weigh_in = weigh_in.id.clone();
        let dabs = comb_readings(panel).count();
        let after = duration(at.hours_since(last));
        let text = format!(
            "{}: {}, weighed {after} after the last coat",
            panel.label,
            if dabs == 1 { "1 dab".into() } else { format!("{dabs} dabs") }
        );
        let owner = Owner::Panel(panel.id.clone());
        let entries = vec![Address::weigh_in(&owner, &weigh_in)];
        done.push(Done { text, at, dated: Dated::WeighIn(owner, weigh_in), entries });
    }
    if let Some(last) = facts.last_coat() {
        for blank in test.blanks.kept() {
            if let Some((weigh_in, at)) = first_since(&blank.weigh_ins, last) {
                let owner = Owner::Blank(blank.id.clone());
                let entries = vec![Address::weigh_in(&owner, &weigh_in)];
                let dated = Dated::WeighIn(owner, weigh_in);
                done.push(Done { text: format!("{} weighed with them", blank.label), at, dated, entries });
            }
        }
    }
    done
}

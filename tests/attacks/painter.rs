//! A simulated painter with several phones, who does what the page asks for on whichever is at hand. Times are those of an
//! invented day.

use comb_scale::findings::facts::{on_one_clock, place_now};
use comb_scale::findings::spray::{RunSheet, Task};
use comb_scale::findings::words::{clocks_said, object};
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{Grams, Instant, Micrometres, Quantity};
use comb_scale::record::{Action, Address, History, Id, Owner, SheetLine, Slot, SprayTest, Step, merge, start};

use super::{holds, same};

/// Nothing where an attack was survived, else what broke.
pub type Survived = Result<(), String>;

/// A minute, h.
pub const MIN: f64 = 1.0 / 60.0;

/// A phone with the test on it, and how far its clock is off, h.
pub struct Phone {
    pub history: History,
    pub off_h: f64,
}

/// The shop: what time it really is, and the phones in it.
pub struct Shop {
    pub now: Instant,
    pub phones: Vec<Phone>,
    opened: usize,
}

impl Shop {
    /// Two candidates of three panels and a blank, two coats each, all weighed bare; the same on every phone.
    pub fn with(off_h: &[f64]) -> Self {
        let now: Instant = "2026-06-14T09:00:00+02:00".parse().unwrap();
        let mut shop = Self { now, phones: Vec::new(), opened: 0 };
        let first = start("t".into(), shop.now, "first").test().clone();
        for off_h in off_h {
            let history = shop.opened(&first);
            shop.phones.push(Phone { history, off_h: *off_h });
        }
        for candidate in shop.test(0).candidates.kept() {
            let flash = [(SheetLine::Coats, 2.0), (SheetLine::Flash, 10.0), (SheetLine::Standing, 10.0)];
            for (line, value) in flash {
                shop.act(0, Action::Fill(Slot::Sheet(candidate.id.clone(), line), Some(value))).unwrap();
            }
        }
        shop.act(0, Action::Skip { at: shop.clock(0), step: Step::Air, of: None }).unwrap();
        for weight in [561.4, 400.0, 401.0, 402.0, 403.0, 404.0, 405.0] {
            shop.next(0, weight).unwrap();
        }
        (1..off_h.len()).for_each(|other| shop.send(0, other));
        shop
    }

    /// A page newly opened: another writer.
    pub fn opened(&mut self, test: &SprayTest) -> History {
        self.opened += 1;
        History::new(test.clone(), &format!("w{}", self.opened))
    }

    pub fn reopen(&mut self, phone: usize) {
        let test = self.phones[phone].history.test().clone();
        self.phones[phone].history = self.opened(&test);
    }

    pub fn pass(&mut self, minutes: f64) {
        self.now = self.now.plus_hours(minutes * MIN);
    }

    pub fn clock(&self, phone: usize) -> Instant {
        self.now.plus_hours(self.phones[phone].off_h)
    }

    /// The test as the page of a phone looks at it.
    pub fn test(&self, phone: usize) -> SprayTest {
        let test = self.phones[phone].history.test();
        on_one_clock(test).map_or_else(|| test.clone(), |on_one_clock| on_one_clock.test)
    }

    pub fn sheet(&self, phone: usize) -> RunSheet {
        RunSheet::of(&self.test(phone), self.clock(phone))
    }

    pub fn said(&self, phone: usize) -> Option<String> {
        clocks_said(self.phones[phone].history.test(), self.clock(phone))
    }

    pub fn send(&mut self, from: usize, to: usize) {
        let file = self.phones[from].history.test().clone();
        self.phones[to].history.absorb(&file).expect("there is room for both");
    }

    pub fn send_both_ways(&mut self, one: usize, other: usize) -> Survived {
        let (a, b) = (self.phones[one].history.test(), self.phones[other].history.test());
        holds(merge(a, b).test == merge(b, a).test, "the order of joining matters")?;
        self.send(one, other);
        self.send(other, one);
        let (now, of) = (self.now, |shop: &Self, phone: usize| RunSheet::of(&shop.test(phone), shop.now).runs);
        same("the runs", of(self, one), of(self, other)).map_err(|what| format!("{what} at {now}"))
    }

    pub fn act(&mut self, phone: usize, action: Action) -> Survived {
        let against = object(&self.test(phone), &action, self.clock(phone), &Wording::default());
        holds(against.is_none(), format!("refused: {against:?}"))?;
        self.phones[phone].history.act(action).map_err(|refused| refused.to_string())
    }

    /// Whose turn it is, and what: that of the front candidate.
    pub fn task(&self, phone: usize) -> (Option<Id>, Task) {
        let sheet = self.sheet(phone);
        match (&sheet.before, &sheet.front) {
            (Task::Nothing, Some(front)) => (Some(front.clone()), sheet.run(front).unwrap().task.clone()),
            (before, _) => (None, before.clone()),
        }
    }

    /// Does what the page of a phone asks for next, with this weight where it is a weight; gives what it was.
    pub fn next(&mut self, phone: usize, weight: f64) -> Result<Task, String> {
        let (candidate, task) = self.task(phone);
        let (at, gross_g) = (self.clock(phone), Grams::new(weight).unwrap());
        let panels = |shop: &Self, candidate: &Id| comb_scale::findings::spray::panels_of(&shop.test(phone), candidate);
        let before = self.weights(phone);
        match (&task, candidate) {
            (Task::Bare(owner), _) if owner.is_blank() => {
                self.act(phone, Action::Weigh { owner: owner.clone(), round: None, at, gross_g })?;
            }
            (Task::Bare(owner), _) => {
                let panel = owner.panel().unwrap().clone();
                self.act(phone, Action::WeighBare { panel, at, gross_g })?;
            }
            (Task::Mix, Some(candidate)) => {
                let (cup, panels) = (self.phones[phone].history.fresh_id(), panels(self, &candidate));
                self.act(phone, Action::Mixed { cup, candidate, at, panels })?;
            }
            (Task::Coat(_), Some(candidate)) => {
                let panels = panels(self, &candidate);
                self.act(phone, Action::Coat { panels, at })?;
            }
            (Task::Comb(panel), _) => self.dab(phone, panel)?,
            (Task::Wet(owner), _) => {
                self.act(phone, Action::Weigh { owner: owner.clone(), round: None, at, gross_g })?;
                let after = self.weights(phone);
                let new = after.into_iter().filter(|known| !before.contains(known)).map(|(owner, _, g)| (owner, g));
                same("the new weight", new.collect::<Vec<_>>(), vec![(owner.clone(), weight)])?;
            }
            other => return Err(format!("nothing to do: {other:?}")),
        }
        holds(!matches!(task, Task::Wet(_)) || self.task(phone).1 != task, format!("{task:?} is asked for again"))?;
        Ok(task)
    }

    /// All weights outside rounds: of whom, which entry, how many grams.
    pub fn weights(&self, phone: usize) -> Vec<(Owner, Id, f64)> {
        let test = self.test(phone);
        let panels = test.panels.kept().map(|panel| Owner::Panel(panel.id.clone()));
        let owners: Vec<Owner> = panels.chain(test.blanks.kept().map(|blank| Owner::Blank(blank.id.clone()))).collect();
        let of = |owner: Owner| {
            let kept = owner.weigh_ins(&test).unwrap().kept().filter(|it| it.round.is_none());
            kept.map(|it| (owner.clone(), it.id.clone(), it.gross_g.unwrap().get())).collect::<Vec<_>>()
        };
        owners.into_iter().flat_map(of).collect()
    }

    pub fn dab(&mut self, phone: usize, panel: &Id) -> Survived {
        let um = |value| Micrometres::new(value).unwrap();
        let (panel, at, comb, touched_um, instead_of) = (panel.clone(), self.clock(phone), None, None, None);
        let (wetted_um, dry_um, place) = (um(200.0), Some(um(225.0)), String::new());
        self.act(phone, Action::Dab { panel, at, comb, wetted_um, touched_um, dry_um, place, instead_of })
    }

    pub fn skip_combs(&mut self, phone: usize) -> Survived {
        while let (_, Task::Comb(panel)) = self.task(phone) {
            let at = self.clock(phone);
            self.act(phone, Action::Skip { at, step: Step::Comb, of: Some(Address::panel(&panel)) })?;
            // The next panel's comb comes up only once this one is weighed.
            if matches!(self.task(phone).1, Task::Wet(_)) {
                break;
            }
        }
        Ok(())
    }

    /// Weighs a whole round on a phone, each panel `lost` g lighter than its wet weight of 430 g and more.
    pub fn round(&mut self, phone: usize, lost: f64) -> Survived {
        let place = place_now(&self.test(phone));
        let before: Vec<Id> = self.test(phone).rounds.kept().map(|round| round.id.clone()).collect();
        self.act(phone, Action::BeginRound { at: self.clock(phone), place })?;
        let round = self.test(phone).rounds.kept().find(|round| !before.contains(&round.id)).unwrap().id.clone();
        self.pass(1.0);
        for (i, panel) in comb_scale::findings::facts::in_order(&self.test(phone)).into_iter().take(3).enumerate() {
            let (owner, round, at) = (Owner::Panel(panel.id.clone()), Some(round.clone()), self.clock(phone));
            let gross_g = Grams::new(430.0 + 3.0 * i as f64 - lost).unwrap();
            self.act(phone, Action::Weigh { owner, round, at, gross_g })?;
        }
        Ok(())
    }

    /// Sprays the first candidate with two coats: each press on the phone of the list, by turns.
    pub fn spray(&mut self, phones: &[usize]) -> Survived {
        for (n, wanted) in [Task::Mix, Task::Coat(1), Task::Coat(2)].into_iter().enumerate() {
            let phone = phones[n % phones.len()];
            if n > 0 && phone != phones[(n - 1) % phones.len()] {
                self.send(phones[(n - 1) % phones.len()], phone);
            }
            same("the task", self.next(phone, 0.0)?, wanted)?;
            self.pass(if n == 2 { 1.0 } else { 12.0 });
        }
        Ok(())
    }

    /// Weighs the three panels of the first candidate wet and the blank with them, in a row.
    pub fn weigh_wet(&mut self, phone: usize) -> Survived {
        for (i, weight) in [430.0, 433.0, 436.0].into_iter().enumerate() {
            self.skip_combs(phone)?;
            let wanted = comb_scale::findings::facts::in_order(&self.test(phone))[i].id.clone();
            same("the task", self.next(phone, weight)?, Task::Wet(Owner::Panel(wanted)))?;
            self.pass(0.2);
        }
        let blank = self.test(phone).blanks.kept().next().unwrap().id.clone();
        same("the task", self.next(phone, 561.4)?, Task::Wet(Owner::Blank(blank)))?;
        self.all_wet(phone)
    }

    /// The first candidate is done, and its answers know each wet weight at an age that can be.
    pub fn all_wet(&self, phone: usize) -> Survived {
        let (test, sheet) = (self.test(phone), self.sheet(phone));
        let first = sheet.runs.iter().find(|run| run.task == Task::Nothing);
        holds(
            first.is_some(),
            format!("no candidate is done: {:?}", sheet.runs.iter().map(|run| &run.task).collect::<Vec<_>>()),
        )?;
        let mut memory = Memory::default();
        let found = memory.of(&test, self.clock(phone), &Wording::default());
        for (i, weight) in [430.0, 433.0, 436.0].into_iter().enumerate() {
            let panel = &found.panels[i];
            same("the wet weight", panel.wet_gross_g, Some(weight))?;
            let card = &panel.work.card;
            let age_h = card.weigh_ins[0].1.t_h - card.last_coat_h.unwrap();
            // A clock that was set ahead in between shows in nothing yet but the hours that it makes of minutes: that is said.
            let late = first.unwrap().amiss.iter().any(|said| said.contains("after the last coat"));
            holds(age_h >= 0.0 && (age_h < 0.5 || late), format!("{} was weighed wet at {age_h} h", panel.label))?;
        }
        Ok(())
    }

    /// The grams of the first panel's weights, as its answers see them in time order, and whether time goes on.
    pub fn curve(&self, phone: usize) -> (Vec<f64>, bool) {
        let mut memory = Memory::default();
        let found = memory.of(&self.test(phone), self.clock(phone), &Wording::default());
        let weighings = found.panels[0].work.card.weighings();
        let on = weighings.windows(2).all(|pair| pair[0].t_h < pair[1].t_h);
        (weighings.iter().map(|weighing| weighing.gross_g).collect(), on)
    }

    pub fn told(&self, phone: usize, wanted: bool) -> Survived {
        let said = self.said(phone);
        holds(said.is_some() == wanted, format!("told of the clocks: {said:?}"))
    }
}

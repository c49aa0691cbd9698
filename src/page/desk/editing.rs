//! One open test on the desk: looking at it, changing it.

use std::rc::Rc;
use std::sync::Arc;

use leptos::prelude::*;

use super::current::{Current, following};
use super::keeping::Keeper;
use super::stored::{CannotOpen, begin_with};
use super::working::Working;
use crate::device;
use crate::page::app::{App, Place, address_in};
use crate::page::parts::memo;
use findings::{Findings, Panels};
use quantity::Instant;
use record::{Action, History, Id, Owner, Row, Slot, SprayTest};

/// An open test.
#[derive(Clone, Copy)]
pub struct Desk {
    /// What all screens share.
    pub app: App,
    /// Who keeps the test.
    pub keeper: Keeper,
    /// Why the newest press of a button was refused, if so.
    pub refused: RwSignal<Option<String>>,
    /// The weigh-in that Weigh is to open with: one tapped on a chart.
    pub look_at: RwSignal<Option<(Owner, Id)>>,
    /// What is found in the test, as it stands; all of it is worked out when it is asked for.
    pub findings: Signal<Arc<Findings>>,
    /// What is told of its panels, as far as they are worked out; the rest follows between frames.
    pub panels: Signal<Arc<Panels>>,
    working: Working,
    current: Memo<Arc<Current>>,
    history: RwSignal<History>,
}

impl Desk {
    /// Lays a test on the desk.
    ///
    /// # Errors
    /// [`CannotOpen`].
    pub fn open(app: App, id: &str) -> Result<Self, CannotOpen> {
        let desk = Self::lay(app, Keeper::open(app, id)?);
        desk.keeper.share(id);
        desk.join_handed(id);
        Ok(desk)
    }

    /// Begins a new test on the plan of this one, and lays it on the desk.
    pub fn begin_again(&self) {
        let id = device::random_name(10);
        let test = record::again(&self.noted(), Id(id.clone()), device::now());
        begin_with(self.app, &test);
        self.app.go(&id, Place::Plan);
    }

    /// Joins the copy that was handed over for this test, as one step; what is to come back with it follows.
    fn join_handed(&self, id: &str) {
        let Some((text, back)) = self.app.joining.try_update_value(Option::take).flatten() else { return };
        let theirs = record::open(&text).ok().map(|opened| opened.test);
        if let Some(theirs) = theirs.filter(|theirs| theirs.id.0 == id) {
            self.history.update(|history| {
                // A copy that would not fit is not offered to be joined.
                if history.absorb(&theirs).is_ok() {
                    for address in back {
                        let _ = history.act(Action::BringBack(address));
                    }
                }
            });
            self.keeper.keep();
        }
    }

    fn lay(app: App, keeper: Keeper) -> Self {
        let history = keeper.history;
        let current = following(app, history);
        let working = Working::begin(app, current);
        Self {
            app,
            keeper,
            refused: RwSignal::new(None),
            look_at: RwSignal::new(None),
            findings: working.findings,
            panels: working.panels,
            working,
            current,
            history,
        }
    }

    /// The test as it stands, how to word it, and the moment: for all that is drawn, which is drawn anew when they change.
    pub fn current(&self) -> Arc<Current> {
        self.current.get()
    }

    /// The test as it was written down, without following its changes: to do something to it, and for all that leaves the page.
    pub fn noted(&self) -> Arc<SprayTest> {
        self.history.with_untracked(History::shared)
    }

    /// What is to be said of the clocks by which the test was noted.
    pub fn clocks_said(&self) -> Option<String> {
        let now = self.app.now.get();
        self.history.with(|history| findings::words::clocks_said(history.test(), now))
    }

    /// The ids of a list of the test, to be followed one by one.
    pub fn ids(&self, list: impl Fn(&SprayTest) -> Vec<Id> + Send + Sync + 'static) -> Memo<Vec<Id>> {
        let desk = *self;
        memo(move || list(&desk.current().test))
    }

    /// The number on a panel's back, or a blank's name.
    pub fn label_of(&self, owner: &Owner) -> String {
        owner.label(&self.noted()).to_owned()
    }

    /// An id for an entry that the next action names twice.
    pub fn fresh_id(&self) -> Id {
        self.history.with_untracked(History::fresh_id)
    }

    /// Does an action unless something speaks against it; keeps the test.
    ///
    /// # Errors
    /// The sentence to show where the number was typed; nothing has changed then.
    pub fn act(&self, action: Action) -> Result<(), String> {
        let current = untrack(|| self.current());
        if let Some(objection) = findings::words::object(&current.test, &action, device::now(), &current.wording) {
            return Err(objection.to_string());
        }
        let reading = is_reading(&action);
        let done = self.history.try_update(|history| history.act(action));
        done.unwrap_or(Ok(())).map_err(|refused| refused.to_string())?;
        self.keeper.keep();
        if reading {
            self.app.ask_lasting();
        }
        Ok(())
    }

    /// Works a panel out now, though others may wait: somebody stands over it.
    pub fn work_out(&self, panel: &Id) {
        self.working.work_out(panel);
    }

    /// Works out between frames what [`Desk::findings`] takes, once no panel waits, and then does `then`.
    pub fn prepare(&self, then: impl Fn() + 'static) {
        self.working.prepare(Rc::new(then));
    }

    /// Has a panel worked out before all others that wait.
    pub fn work_out_first(&self, panel: Option<Id>) {
        self.working.first.set(panel);
    }

    /// Does what a button says: no number was typed, so what refuses it is told at the head of the screen. A full list does,
    /// and an entry that another tab has just taken out.
    pub fn press(&self, action: Action) {
        let refused = self.act(action).err();
        if self.refused.with_untracked(|before| *before != refused) {
            self.refused.set(refused);
        }
    }

    /// Takes the last step back.
    pub fn undo(&self) {
        self.history.update(History::undo);
        self.keeper.keep();
    }

    /// Does the last undone step again.
    pub fn redo(&self) {
        self.history.update(History::redo);
        self.keeper.keep();
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        self.history.with(History::can_undo)
    }

    /// Whether there is a step to do again.
    pub fn can_redo(&self) -> bool {
        self.history.with(History::can_redo)
    }

    /// The name of the test.
    pub fn title(&self) -> String {
        self.current().test.title.clone()
    }

    /// The moment, for what is written down.
    pub fn now(&self) -> Instant {
        device::now()
    }

    /// The address of the place of this test that is up.
    pub fn here(&self) -> String {
        address_in(&self.noted().id.0, self.app.place.get_untracked())
    }
}

/// Whether an action writes down what a scale, a comb, a gauge or a thermometer showed.
fn is_reading(action: &Action) -> bool {
    matches!(
        action,
        Action::WeighBare { .. }
            | Action::Weigh { .. }
            | Action::Dab { .. }
            | Action::Spot { .. }
            | Action::TakeAir { .. }
            | Action::Verify { .. }
            | Action::List(Row::Readings(..) | Row::BaseMetal, _)
            | Action::Fill(Slot::Bare(_) | Slot::WeighIn(..), Some(_))
    )
}

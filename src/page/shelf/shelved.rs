//! The shelf as it was last looked at.

use leptos::prelude::*;

use crate::page::app::{App, Delivery};
use crate::store::Trouble;

/// The shelf, and the way to look at it again.
#[derive(Clone, Copy)]
pub struct Shelved {
    pub app: App,
    pub delivery: Delivery,
    /// Turned over whenever something was done to what is kept.
    pub look: RwSignal<bool>,
}

impl Shelved {
    /// Looks at the shelf again.
    pub fn look_again(self) {
        self.look.update(|look| *look = !*look);
    }

    /// Something was done to the shelf: tells its trouble, and looks again.
    pub fn done(self, done: Result<(), Trouble>) {
        self.app.trouble.set(done.err());
        self.look_again();
    }
}

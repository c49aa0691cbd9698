//! What was written down: plain data, stamps, actions and undo.
//!
//! - [`open`] is the one way in for a record's text, and [`open_any`] finds that text in whatever a person hands over;
//!   [`write()`] is the one way out; [`merge`] makes one test of two copies.
//! - [`SprayTest`] and its parts are plain data. Lists hold entries with ids; a deletion is something written down.
//! - [`Action`]s are the only changes; [`History`] does them, stamps what they changed, and undoes them.
//!
//! Nothing here computes beyond units: what the numbers mean is the business of `findings`.

#![deny(missing_docs)]

mod action;
mod address;
mod bounds;
mod brackets;
mod codec;
mod gate;
mod history;
mod legible;
mod merge;
mod migrate;
mod model;
mod preview;
mod slot;
mod sniff;
mod stamp;
mod starter;

pub use action::{Action, Dated, PartOfMix, Refused, update};
pub use address::{Address, Owner};
pub use bounds::{MOST_VALUES, unread};
pub use codec::{Among, Clash, Entries, Entry, Full, Named, Ref, Refs, Remark, Rest};
pub use gate::{FILE_LIMIT, OpenError, Opened, SIZE_LIMIT, VERSION, open, write};
pub use history::History;
pub use legible::{legible, legible_text, plain_characters};
pub use merge::{Merged, merge};
pub use model::*;
pub use preview::{Counted, Difference, Preview, merge_preview};
pub use slot::{
    AirLine, BalanceLine, ComponentLine, GaugeLine, GunLine, HoursLine, Measure, MeasuredLine, MixLine, PanelLine,
    Phrase, Pick, Row, SheetLine, Slot, SpotLine, WantedLine,
};
pub use sniff::{NotOpened, open_any, open_each};
pub use stamp::{Edited, Id, Stamp, fnv_1a};
pub use starter::{again, as_its_own, file_name, next_label, next_panel_labels, start, to_keep};

/// The id of the worked example; no test of a person's has it.
pub const EXAMPLE_ID: &str = "worked-example";

/// The worked example: an invented test, as its file.
pub const EXAMPLE: &str = include_str!("example.spraytest.txt");

/// The JSON Schema (2020-12) of the record, described field by field.
#[cfg(test)]
const SCHEMA: &str = include_str!("record.schema.json");

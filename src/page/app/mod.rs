//! What all screens share: where the person is, what this phone prefers, what could not be stored, and the larger part of the
//! program on its way.

mod delivery;
mod left;
mod place;
mod state;

pub use delivery::{Delivery, Workshop};
pub use left::Leftovers;
pub use place::{Place, Screen, address_in};
pub use record::EXAMPLE_ID;
pub use state::{App, prefer_units};

//! The open test: the record with its history, what is found in it, and whether it is kept.

mod current;
mod editing;
mod keeping;
mod stored;
mod working;

pub use editing::Desk;
pub use stored::{CannotOpen, begin, begin_with, heal, here, reword};

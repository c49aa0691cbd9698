//! The door to the larger part of the program: what is reached through it alone comes with the second file
//! (`app::Delivery` has it fetched).

use leptos::task::spawn_local;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use super::app::Workshop;
use super::desk;
use super::open;
use super::shelf::handed;

#[wasm_split(workshop, wasm_split_path = ::leptos::wasm_split, fallible)]
fn fetched() -> Result<Workshop, SplitLoaderError> {
    Ok(Workshop {
        open: open::open,
        begin: desk::begin,
        heal: desk::heal,
        reword: desk::reword,
        handed: handed::section,
    })
}

/// Fetches the workshop, and tells once that it is here.
pub fn fetch(arrived: Box<dyn FnOnce(Option<Workshop>)>) {
    spawn_local(async move { arrived(fetched().await.ok()) });
}

//! Names for elements.

use std::sync::atomic::{AtomicU32, Ordering};

/// An id for an element, so that its label and its trouble can name it.
pub fn fresh_element_id() -> String {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    format!("e{}", COUNT.fetch_add(1, Ordering::Relaxed))
}

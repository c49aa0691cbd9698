//! Readings of the dry film.

/// The place under which the six readings of the panel form stand.
pub const FORM: &str = "panel form";

//! Readings of the dry film.

/// The place under which the six readings of the panel form stand.
pub(crate) const FORM: &str = "panel form";

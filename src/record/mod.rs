//! What was written down.

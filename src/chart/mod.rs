//! Findings drawn.

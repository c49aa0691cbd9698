//! What a person is told.

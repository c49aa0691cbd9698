//! See the modules.

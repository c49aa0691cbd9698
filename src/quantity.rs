//! Numbers with units.

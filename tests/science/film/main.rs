//! Film, mix, air, cover, solvent and comparison against published and independently computed values.

mod comb;
mod film;
mod routes;
mod rows;
mod stats;

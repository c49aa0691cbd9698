//! Film, mix, air, cover, solvent and comparison against published and independently computed values.

mod air;
mod awkward;
mod comb;
mod counts;
mod coverage;
mod film;
mod gain;
mod mix;
mod monotone;
mod nonsense;
mod pot;
mod routes;
mod rows;
mod samples;
mod shop;
mod solids;
mod spread;
mod stats;
mod units;
mod voc;
mod weigh;

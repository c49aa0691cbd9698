//! The same forecasts as a plain WASM module for node: `node tests/bench/wasm.mjs`. `main.rs` times the same functions
//! natively, on the same panels.

#[path = "../panels.rs"]
mod panels;

use comb_scale::science::drying::{Settings, forecast};
use panels::Record;
use std::cell::RefCell;

thread_local! {
    static RECORD: RefCell<Option<Record>> = const { RefCell::new(None) };
}

/// Makes the panel that [`run`] forecasts; returns how many weigh-ins it has.
#[unsafe(no_mangle)]
pub extern "C" fn prepare(weigh_ins: u32, moved: u32, variant: u32) -> u32 {
    let record = Record::new(weigh_ins as usize, moved != 0, variant as usize);
    let n = record.readings.len() as u32;
    RECORD.set(Some(record));
    n
}

/// Time of the prepared panel's reading `i`, h.
#[unsafe(no_mangle)]
pub extern "C" fn age_h(i: u32) -> f64 {
    RECORD.with_borrow(|r| r.as_ref().map_or(f64::NAN, |r| r.readings[i as usize].t_h))
}

/// Coat mass of the prepared panel's reading `i`, g.
#[unsafe(no_mangle)]
pub extern "C" fn coat_g(i: u32) -> f64 {
    RECORD.with_borrow(|r| r.as_ref().map_or(f64::NAN, |r| r.readings[i as usize].gross_g - r.bare_g))
}

/// Forecasts the prepared panel `times` times with the shown (0) or instant (1) setting; returns the final mass, g.
#[unsafe(no_mangle)]
pub extern "C" fn run(times: u32, instant: u32) -> f64 {
    let settings = if instant == 0 { Settings::shown() } else { Settings::instant() };
    RECORD.with_borrow(|r| {
        let Some(record) = r else { return f64::NAN };
        let mut last = f64::NAN;
        for _ in 0..times {
            let panel = record.panel();
            last = forecast(std::hint::black_box(&panel), &settings).map_or(f64::NAN, |f| f.final_gross_g.mean);
        }
        last
    })
}

/// Makes every fifth reading of the prepared panel a slip.
#[unsafe(no_mangle)]
pub extern "C" fn slip() {
    RECORD.with_borrow_mut(|r| r.iter_mut().for_each(Record::slip_every_fifth));
}

//! Any bytes at all through the one way in: what opens is written, opened again and joined to itself.
#![no_main]

use comb_scale::record::{merge, open, open_any, write};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let opened = match open_any(bytes) {
        Ok(opened) => opened,
        Err(told) => match told.rest {
            Some(rest) => *rest,
            None => return,
        },
    };
    let again = open(&write(&opened.test)).expect("what is written opens");
    assert_eq!(again.test, opened.test);
    assert_eq!(merge(&again.test, &opened.test).test, opened.test);
});

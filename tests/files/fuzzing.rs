//! Records damaged in every way there is: none of them stops the page, and what opens is a test like any other.

use std::panic::catch_unwind;
use std::time::{Duration, Instant};

use comb_scale::record::{EXAMPLE, merge, merge_preview, open, open_any, write};
use proptest::prelude::*;

use super::begun;

/// SplitMix64 (Steele, Lea & Flood, OOPSLA 2014): the same damage on every machine.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound.max(1) as u64) as usize
    }
}

/// Pieces that mean something to one of the readers on the way.
const PIECES: [&str; 38] = [
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    "\"",
    "\\",
    "null",
    "true",
    "-1",
    "1e999",
    "1e-999",
    "NaN",
    "0.1",
    "99999999999999999999",
    "\"440,2\"",
    "\"heavy\"",
    "\"id\": \"a\",",
    "\"panels\": [",
    "\"format\": \"spray-test\"",
    "\"version\": 2,",
    "\"2026-03-02T08:10:00\"",
    "\"18446744073709551615@x\"",
    "\"stamp\": \"1@p\",",
    "\"edited\": {\"deleted\": \"9@p\"},",
    "\"deleted\": true,",
    "\\u0000",
    "\\ud800",
    "\u{feff}",
    "\r\n",
    "<b>&lt;",
    "=1+1",
    "é",
    "🎨",
    "[[[[[[[[[[[[[[[[[[[[",
    "{\"a\":{\"a\":{\"a\":",
    " ",
];

/// A text with a handful of things wrong.
fn damaged(whole: &[u8], other: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=chance.below(3) {
        let at = chance.below(bytes.len() + 1);
        let to = (at + chance.below(40)).min(bytes.len());
        match chance.below(9) {
            0 if at < bytes.len() => bytes[at] = chance.next() as u8,
            1 => bytes.truncate(at),
            2 => drop(bytes.drain(at..to)),
            3 => {
                let again = bytes[at..to].to_vec();
                bytes.splice(at..at, again);
            }
            4 => {
                let from = chance.below(other.len());
                let upto = (from + chance.below(200)).min(other.len());
                bytes.splice(at..to, other[from..upto].iter().copied());
            }
            5 if at < bytes.len() => bytes[at] ^= 1 << chance.below(8),
            6 => drop(bytes.drain(..at)),
            _ => {
                let piece = PIECES[chance.below(PIECES.len())];
                bytes.splice(at..to.min(at + chance.below(6)), piece.bytes());
            }
        }
    }
    bytes
}

/// Whole texts to damage: small ones, since a large one is damaged no otherwise and takes longer.
fn corpus() -> Vec<Vec<u8>> {
    let small = r#"{ "format": "spray-test", "version": 1, "id": "t", "title": "Gates", "balance": { "division_g": 0.1 },
        "comb": { "teeth_um": [ 100, 125 ] }, "candidates": [ { "id": "c", "label": "Grey", "sheet": { "solids_by_weight": 0.6 } } ],
        "panels": [ { "id": "p", "label": "A1", "candidate": "c", "bare_g": 412.3, "weigh_ins": [
          { "id": "w1", "at": "2026-03-02T09:00:00+01:00", "gross_g": 440.25, "stamp": "3@phone" },
          { "id": "w2", "at": "2026-03-03T09:00:00+01:00", "gross_g": 438.1, "set_aside": { "by": "person", "why": "slip" },
            "stamp": "4@phone", "edited": { "set_aside": "5@phone" } } ] } ], "spare": [ 1, { "x": null } ] }"#;
    let written = write(begun("phone").test());
    let message = format!("Here you are :-{{\n{small}\nsee \"you\" {{on Tuesday}}");
    let page = format!("<!DOCTYPE html><p>A &quot;report&quot;</p><pre hidden>{small}</pre>");
    let wide: Vec<u8> = [0xfeff].into_iter().chain(small.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    vec![small.into(), written.into_bytes(), message.into_bytes(), page.into_bytes(), wide]
}

/// Opens a damaged text and does with it what the page would; gives whether it opened.
fn survives(bytes: &[u8]) -> bool {
    let (opened, whole) = match open_any(bytes) {
        Ok(opened) => (opened, true),
        Err(told) => {
            assert!(told.to_string().ends_with('.'));
            match told.rest {
                Some(rest) => (*rest, false),
                None => return false,
            }
        }
    };
    let text = write(&opened.test);
    let again = open(&text).expect("what is written opens");
    assert_eq!(again.test, opened.test);
    assert_eq!(write(&again.test), text);
    // Joined to what it was before the damage, from either side, where it still is a copy of it.
    let base = open_any(&corpus()[0]).expect("a record").test;
    merge_preview(&base, &opened.test).said();
    if base.id == opened.test.id {
        let joined = merge(&base, &opened.test).test;
        assert_eq!(write(&joined), write(&merge(&opened.test, &base).test));
        assert_eq!(merge(&joined, &opened.test).test, joined);
    }
    whole
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]
    #[test]
    fn no_damage_stops_the_gate(seed in any::<u64>(), which in 0_usize..5, other in 0_usize..5) {
        let corpus = corpus();
        survives(&damaged(&corpus[which], &corpus[other], &mut Chance(seed)));
    }

    #[test]
    fn nor_do_bytes_of_whatever_kind(bytes in proptest::collection::vec(any::<u8>(), 0..200), text in any::<String>()) {
        survives(&bytes);
        survives(text.as_bytes());
    }
}

/// By hand, with `DAMAGED=1000000` for how many: `cargo test --no-default-features --test files by_hand -- --ignored
/// --nocapture`. Counts what opened, what panicked, and the slowest.
#[test]
#[ignore = "a long run, by hand"]
fn many_damaged_texts_by_hand() {
    let count: u64 = std::env::var("DAMAGED").ok().and_then(|count| count.parse().ok()).unwrap_or(100_000);
    let seed: u64 = std::env::var("SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(1);
    let mut corpus = corpus();
    corpus.push(EXAMPLE.as_bytes().to_vec());
    let mut chance = Chance(seed);
    let (mut whole, mut panics, mut slowest) = (0_u64, 0_u64, Duration::ZERO);
    for n in 0..count {
        // The long one now and then.
        let most = if n % 100 == 0 { corpus.len() } else { corpus.len() - 1 };
        let (which, other) = (chance.below(most), chance.below(corpus.len()));
        let bytes = damaged(&corpus[which], &corpus[other], &mut chance);
        let began = Instant::now();
        match catch_unwind(|| survives(&bytes)) {
            Ok(opened) => whole += u64::from(opened),
            Err(_) => {
                panics += 1;
                println!("panicked on {:?}", String::from_utf8_lossy(&bytes));
            }
        }
        slowest = slowest.max(began.elapsed());
    }
    println!("{count} damaged texts: {whole} opened whole, {panics} panicked, slowest {slowest:?}");
    assert_eq!(panics, 0);
}

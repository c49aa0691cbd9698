//! Texts that were cut off or whose bytes were changed: never a panic, never half a record taken for a whole one.

use comb_scale::record::{EXAMPLE, OpenError, open, write};
use proptest::prelude::*;

#[test]
fn a_record_cut_to_any_length_is_refused() {
    // Every length at first, then every fifth: a cut in each kind of entry.
    let text = EXAMPLE.trim_end();
    let cut = (0..text.len()).filter(|&length| text.is_char_boundary(length));
    for length in cut.filter(|length| length % 5 == 0 || *length < 4000) {
        let trouble = open(&text[..length]).expect_err("half a record is none");
        assert!(matches!(trouble, OpenError::Unreadable { .. } | OpenError::Empty), "{length}: {trouble}");
    }
}

proptest! {
    #[test]
    fn changed_bytes_are_refused_or_read_and_written_back_the_same(
        places in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let mut bytes = EXAMPLE.as_bytes().to_vec();
        for (place, byte) in places {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        if let Ok(opened) = open(&String::from_utf8_lossy(&bytes)) {
            let text = write(&opened.test);
            let again = open(&text).expect("what was written opens");
            prop_assert_eq!(write(&again.test), text);
        }
    }
}

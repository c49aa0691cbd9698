//! Standing time and pot life.

use comb_scale::science::input::InputError;
use comb_scale::science::pot::{Cup, cup};
use proptest::prelude::*;

#[test]
fn a_cup_stands_then_is_usable_then_past() {
    let at = |min| cup(min, 20.0, Some(90.0)).expect("times");
    assert_eq!(at(0.0), Cup::Standing { left_min: 20.0 });
    assert_eq!(at(20.0), Cup::Usable { left_min: Some(70.0) }, "ready once it has stood");
    assert_eq!(at(90.0), Cup::Past { since_min: 0.0 }, "the end of the pot life is past it");
    assert_eq!(cup(500.0, 20.0, None), Ok(Cup::Usable { left_min: None }));
}

#[test]
fn impossible_times_say_why() {
    assert_eq!(cup(-1.0, 0.0, None), Err(InputError::Negative("time since mixing")));
    assert_eq!(cup(1.0, 0.0, Some(0.0)), Err(InputError::NotPositive("pot life")));
    let nothing_left = InputError::NotPositive("pot life left after the time to stand");
    assert_eq!(cup(1.0, 60.0, Some(60.0)), Err(nothing_left));
    assert!(cup(1.0, 90.0, Some(60.0)).is_err() && cup(f64::NAN, 0.0, None).is_err());
}

proptest! {
    #[test]
    fn any_finite_times_are_survived_and_a_cup_never_goes_back(n in crate::awkward::numbers(4)) {
        let rank = |cup: Cup| match cup {
            Cup::Standing { .. } => 0,
            Cup::Usable { .. } => 1,
            Cup::Past { .. } => 2,
        };
        let (early, late) = (n[0].min(n[1]), n[0].max(n[1]));
        if let (Ok(first), Ok(then)) = (cup(early, n[2], Some(n[3])), cup(late, n[2], Some(n[3]))) {
            prop_assert!(rank(first) <= rank(then));
            let minutes = match then {
                Cup::Standing { left_min } => left_min,
                Cup::Usable { left_min } => left_min.unwrap_or(0.0),
                Cup::Past { since_min } => since_min,
            };
            prop_assert!(minutes.is_finite());
        }
    }
}

//! For programs that gather errors of every kind, with the feature `error`: each of ours is then a [`std::error::Error`], which
//! writes itself as the value that it is. This project's own rooms do without, so that none of it can stand where a painter reads.

use std::{error, fmt};

macro_rules! errors {
    ($($name:ty),+) => {$(
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Debug::fmt(self, f)
            }
        }

        impl error::Error for $name {}
    )+};
}

errors! {
    crate::comb::CombError,
    crate::drying::NoForecast,
    crate::gain::NoGain,
    crate::input::InputError,
    crate::mix::MixError,
    crate::routes::NoAnswer,
    crate::routes::RouteError
}

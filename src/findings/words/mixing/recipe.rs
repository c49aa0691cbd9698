//! A mix in words.

use std::fmt;

use crate::words::tongue::Tongue;
use crate::work::{MixCard, MixWants, name_of, role_of};
use quantity::{Quantity, plain};
use record::{Basis, Candidate, Component, Role};
use science::mix::MOST_COMPONENTS;

impl fmt::Display for MixWants {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Components => f.write_str("Nothing is said of the mix yet: add its base, and what goes with it."),
            Self::TooMany => write!(f, "A mix has at most {MOST_COMPONENTS} components here."),
            Self::Parts(component) => write!(f, "Give the parts of {component}."),
            Self::Density(component) => write!(
                f,
                "Give the density of {component}: without it volumes and grams cannot be turned into each other, and parts by volume must not be weighed as they stand."
            ),
            Self::Said(error) => error.fmt(f),
        }
    }
}

/// A mix in a line: `Mix: 4 : 1 : 1 by volume`.
pub fn mix_said(candidate: &Candidate) -> String {
    match MixCard::of(candidate) {
        Ok(mix) => {
            let parts: Vec<String> = mix.parts.iter().map(|part| plain(part.parts)).collect();
            let basis = if candidate.mix.basis == Some(Basis::Weight) { "weight" } else { "volume" };
            match parts.len() {
                1 => "Mix: one pack, as it comes".into(),
                _ => format!("Mix: {} by {basis}", parts.join(" : ")),
            }
        }
        Err(MixWants::Components) => "Mix: not given yet".into(),
        Err(_) => "Mix: not complete yet".into(),
    }
}

/// A component in a line: `Hardener slow, 1 part, 1.05 g/mL`.
pub fn component_said(component: &Component, tongue: &Tongue) -> String {
    let mut said = [name_of(component), component.grade.trim().to_owned()].join(" ").trim_end().to_owned();
    if let Some(first) = said.get(..1) {
        said = first.to_uppercase() + &said[1..];
    }
    let share = component.share.filter(|_| role_of(component) == Role::Reducer);
    said += &match (share, component.parts.map(Quantity::get)) {
        (Some(share), _) => format!(", {} %", plain(100.0 * share.get())),
        (None, Some(1.0)) => ", 1 part".into(),
        (None, Some(parts)) => format!(", {} parts", plain(parts)),
        (None, None) => String::new(),
    };
    if let Some(density) = component.density_g_per_ml {
        said += &format!(", {}", tongue.density(density.get()));
    }
    said
}

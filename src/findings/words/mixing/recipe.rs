//! A mix in words.

use crate::words::refused::mix_error_said;
use crate::words::wording::Wording;
use crate::work::{MixCard, MixWants, name_of, role_of};
use quantity::{Quantity, plain};
use record::{Basis, Candidate, Component, Role};
use science::mix::MOST_COMPONENTS;

impl MixWants {
    /// In one sentence.
    pub fn said(&self, wording: &Wording) -> String {
        match self {
            Self::Components => "Nothing is said of the mix yet: add its base, and what goes with it.".into(),
            Self::TooMany => format!("A mix has at most {MOST_COMPONENTS} components here."),
            Self::Parts(component) => format!("Give the parts of {component}."),
            Self::PackSize(component) => format!("Give the size of the pack of {component}."),
            Self::PackPrice(component) => format!("Give the price of the pack of {component}."),
            Self::Voc(component) => format!("Give the VOC of {component}."),
            Self::VocOfReduced => {
                "The sheet's VOC is not that of the reduced mix: give the VOC of each component.".into()
            }
            Self::Density(component) => format!(
                "Give the density of {component}: without it volumes and grams cannot be turned into each other, and parts by volume must not be weighed as they stand."
            ),
            Self::Unusable(error) => mix_error_said(error, wording),
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
pub fn component_said(component: &Component, wording: &Wording) -> String {
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
        said += &format!(", {}", wording.density(density.get()));
    }
    said
}

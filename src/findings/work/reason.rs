//! Why something cannot be told: every number that is missing from the findings has its reason beside it.

use std::collections::BTreeMap;
use std::fmt;

use serde::Serialize;

use science::comb::CombError;
use science::drying::NoForecast;

/// Why a number cannot be had. Each prints as one sentence for a painter.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// The panel was not weighed bare.
    NoBareWeight,
    /// Neither a bare weight, nor comb readings with area and density that would stand in for it.
    NoCoatMass,
    /// No weight after the last coat.
    NoWetWeight,
    /// Nothing was weighed after the wet weight.
    NoLaterWeight,
    /// The panel is not heavier wet than bare.
    NoCoat,
    /// The coated area is not known.
    NoArea,
    /// No comb reading of the last coat.
    NoDabs,
    /// The forecast is not there.
    NoForecast,
    /// The data sheet leaves it out.
    NotOnSheet(&'static str),
    /// The data sheet is stated for the base alone, and the mix has a hardener.
    SheetOfBase,
    /// What comes out is no film that anybody could have.
    NoSuchFilm,
    /// The comb and its readings do not fit.
    Comb(CombError),
    /// The weights make no drying curve.
    Drying(NoForecast),
    /// Said by the science.
    Said(String),
}

impl Reason {
    /// Why none of these panels, by their labels, has a value: in one sentence where it is the same for all, else whose it is.
    pub(crate) fn of_panels<'a, T>(panels: impl Iterator<Item = (&'a str, Result<T, Self>)>) -> Self {
        let mut said: Vec<(Self, Vec<&str>)> = Vec::new();
        for (label, value) in panels {
            let Some(reason) = value.err() else { continue };
            match said.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, labels)) => labels.push(label),
                None => said.push((reason, vec![label])),
            }
        }
        match &said[..] {
            [] => Self::Said("No panel carries it yet.".into()),
            [(reason, _)] => reason.clone(),
            several => {
                let each = |(reason, labels): &(Self, Vec<&str>)| format!("{}: {reason}", labels.join(", "));
                Self::Said(several.iter().map(each).collect::<Vec<_>>().join(" "))
            }
        }
    }
}

/// The reasons of one object's missing numbers, by the name of the number.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Why(BTreeMap<&'static str, String>);

impl Why {
    /// Takes an answer apart: the number, or nothing and its reason noted under `name`.
    pub(crate) fn note<T>(&mut self, name: &'static str, answer: Result<T, impl fmt::Display>) -> Option<T> {
        match answer {
            Ok(value) => Some(value),
            Err(reason) => {
                self.0.insert(name, reason.to_string());
                None
            }
        }
    }

    /// Why the number of that name is missing.
    pub fn of(&self, name: &str) -> Option<&str> {
        self.0.get(name).map(String::as_str)
    }

    /// Whether nothing is missing.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

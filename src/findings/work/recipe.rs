//! A candidate's mix, from the record to the science's recipe.

use quantity::Quantity;
use record::{Basis, Candidate, Component, Id, Mixed, ReducerOf, Role, StatedFor};
use science::mix;
use science::mix::{MOST_COMPONENTS, MixError, Recipe, reducer_parts};

/// What is wanting before a mix can be poured, or its price or VOC told. `words` makes one sentence of it: `MixWants::said`.
#[derive(Clone, Debug, PartialEq)]
pub enum MixWants {
    /// Nothing is said of the mix.
    Components,
    /// More components than the scale is asked to carry.
    TooMany,
    /// This component has no parts.
    Parts(String),
    /// Of this component the density is needed, since volumes and grams are to be turned into each other.
    Density(String),
    /// Of this component nobody says how much a pack holds.
    PackSize(String),
    /// Of this component nobody says what a pack costs.
    PackPrice(String),
    /// Of this component nobody says its VOC.
    Voc(String),
    /// The sheet's VOC is not that of the reduced mix.
    VocOfReduced,
    /// Anything else in it that cannot be worked with.
    Unusable(MixError),
}

/// One component as it is poured.
#[derive(Clone, Debug, PartialEq)]
pub struct MixPart {
    /// Which one.
    pub id: Id,
    /// Its name, or what it is for.
    pub label: String,
    /// What it is for.
    pub role: Role,
    /// Its parts, counted as the others are.
    pub parts: f64,
    /// g/mL, where it is known.
    pub density: Option<f64>,
}

/// A candidate's mix: its components in the order they are poured, and the recipe they make.
#[derive(Clone, Debug, PartialEq)]
pub struct MixCard {
    /// What goes in.
    pub parts: Vec<MixPart>,
    /// The same for the science.
    pub recipe: Recipe,
}

/// The components as they are poured: base, hardener, reducer; of one kind, those added first stand first.
pub fn components_in_order(candidate: &Candidate) -> Vec<&Component> {
    let of = |role: Role| candidate.mix.components.kept().filter(move |component| role_of(component) == role);
    // Three passes over a handful: a sort would bring kilobytes of its own.
    [Role::Base, Role::Hardener, Role::Reducer].into_iter().flat_map(of).collect()
}

pub(crate) fn role_of(component: &Component) -> Role {
    component.role.unwrap_or(Role::Base)
}

/// What a sheet's numbers are taken to be stated for where nobody says: the paint as supplied and hardened, no reducer.
pub(crate) fn stated_for(candidate: &Candidate) -> StatedFor {
    candidate.sheet.stated_for.unwrap_or(StatedFor::MixUnreduced)
}

impl MixCard {
    /// The mix of a candidate.
    ///
    /// # Errors
    /// [`MixWants`] says what is wanting; a missing density is no matter until it is needed.
    ///
    /// ```
    /// use findings::mixing::MixCard;
    /// let text = r#"{ "format": "spray-test", "version": 1, "candidates": [ { "id": "c", "mix": { "basis": "volume",
    ///   "components": [ { "label": "base", "role": "base", "parts": 2 }, { "label": "hardener", "role": "hardener", "parts": 1 },
    ///   { "label": "reducer", "role": "reducer", "share": 0.1 } ] } } ] }"#;
    /// let test = record::open(text).unwrap().test;
    /// let mix = MixCard::of(test.candidates.kept().next().unwrap()).unwrap();
    /// assert!((mix.parts[2].parts - 0.3).abs() < 1e-12, "10 % of 2 + 1 parts");
    /// ```
    pub fn of(candidate: &Candidate) -> Result<Self, MixWants> {
        let components = components_in_order(candidate);
        if components.is_empty() {
            return Err(MixWants::Components);
        }
        let paint: Vec<&&Component> = components.iter().filter(|c| role_of(c) != Role::Reducer).collect();
        // A paint in one pack needs no parts: it is all there is.
        let alone = paint.len() == 1;
        let mut counted = Vec::new();
        for component in &paint {
            let parts = component.parts.map(Quantity::get).filter(|parts| *parts > 0.0);
            let parts = parts.or(alone.then_some(1.0)).ok_or_else(|| MixWants::Parts(name_of(component)))?;
            counted.push((role_of(component), parts));
        }
        let of_base = candidate.mix.reducer_of == Some(ReducerOf::Base);
        let whole: Vec<f64> =
            counted.iter().filter(|(role, _)| !of_base || *role == Role::Base).map(|(_, parts)| *parts).collect();
        let mut parts = Vec::new();
        for component in &components {
            let amount = match (role_of(component), component.share) {
                (Role::Reducer, Some(share)) => reducer_parts(&whole, 100.0 * share.get(), mix::ReducerOf::Mix)
                    .map_err(|error| MixWants::Unusable(error.into()))?,
                (Role::Reducer, None) => component.parts.ok_or_else(|| MixWants::Parts(name_of(component)))?.get(),
                _ => counted[parts.len()].1,
            };
            // A reducer of nothing is none.
            if amount > 0.0 {
                parts.push(MixPart {
                    id: component.id.clone(),
                    label: name_of(component),
                    role: role_of(component),
                    parts: amount,
                    density: density_of(candidate, component, alone, components.len()),
                });
            }
        }
        let basis = match candidate.mix.basis {
            Some(Basis::Weight) => mix::Basis::Weight,
            _ => mix::Basis::Volume,
        };
        Self::from_parts(basis, parts)
    }

    /// The same mix by what was really poured into a cup; `None` while the cup does not hold all of it.
    pub fn as_poured(&self, cup: &Mixed) -> Option<Self> {
        if cup.poured_g.len() != self.parts.len() || cup.poured_g.iter().any(|g| g.get() <= 0.0) {
            return None;
        }
        let poured = self.parts.iter().zip(&cup.poured_g);
        let parts = poured.map(|(part, grams)| MixPart { parts: grams.get(), ..part.clone() }).collect();
        Self::from_parts(mix::Basis::Weight, parts).ok()
    }

    fn from_parts(basis: mix::Basis, parts: Vec<MixPart>) -> Result<Self, MixWants> {
        if parts.len() > MOST_COMPONENTS {
            return Err(MixWants::TooMany);
        }
        let components = parts.iter().map(|part| mix::Component { parts: part.parts, density: part.density }).collect();
        let recipe = Recipe::new(basis, components).map_err(|error| wants(&parts, error))?;
        Ok(Self { parts, recipe })
    }

    /// Shares of the whole, by volume or by weight, of 1.
    pub fn shares(&self, basis: mix::Basis) -> Result<Vec<f64>, MixWants> {
        self.recipe.shares(basis).map_err(|error| self.wants(error))
    }

    /// The science's word on this mix, with the component's name in it.
    pub(crate) fn wants(&self, error: MixError) -> MixWants {
        wants(&self.parts, error)
    }

    /// Reducer for a unit of what it is added to, by volume or by weight; 0 where there is none.
    pub(crate) fn thinning(&self, basis: mix::Basis) -> Result<f64, MixWants> {
        if !self.reduced() {
            return Ok(0.0);
        }
        let reducers: Vec<usize> = (0..self.parts.len()).filter(|&i| self.parts[i].role == Role::Reducer).collect();
        self.recipe.thinning(&reducers, basis).map_err(|error| self.wants(error))
    }

    /// Density of the reducers together, g/mL.
    pub(crate) fn reducer_density(&self) -> Option<f64> {
        let (by_volume, by_weight) = (self.shares(mix::Basis::Volume).ok()?, self.shares(mix::Basis::Weight).ok()?);
        let relative = self.of_role(&by_weight, Role::Reducer) / self.of_role(&by_volume, Role::Reducer);
        Some(relative * self.recipe.density().ok()?).filter(|density| density.is_finite())
    }

    fn of_role(&self, shares: &[f64], role: Role) -> f64 {
        self.parts.iter().zip(shares).filter(|(part, _)| part.role == role).map(|(_, share)| share).sum()
    }

    /// Whether a reducer is in it.
    pub fn reduced(&self) -> bool {
        self.parts.iter().any(|part| part.role == Role::Reducer)
    }

    /// Whether a hardener is in it.
    pub fn hardened(&self) -> bool {
        self.parts.iter().any(|part| part.role == Role::Hardener)
    }
}

fn wants(parts: &[MixPart], error: MixError) -> MixWants {
    let name = |i: usize| parts.get(i).map_or_else(String::new, |part| part.label.clone());
    match error {
        MixError::NoParts(i) => MixWants::Parts(name(i)),
        MixError::DensityUnknown(i) => MixWants::Density(name(i)),
        error => MixWants::Unusable(error),
    }
}

/// A component by its name, else by what it is for.
pub(crate) fn name_of(component: &Component) -> String {
    let label = component.label.trim();
    if !label.is_empty() {
        return label.into();
    }
    match role_of(component) {
        Role::Base => "the base",
        Role::Hardener => "the hardener",
        Role::Reducer => "the reducer",
    }
    .into()
}

/// A component's density, g/mL: its own; of the base, the sheet's, where that is stated for the base or for a paint that
/// is nothing but the base.
fn density_of(candidate: &Candidate, component: &Component, alone: bool, components: usize) -> Option<f64> {
    let by_sheet = || match stated_for(candidate) {
        StatedFor::Base => role_of(component) == Role::Base,
        StatedFor::MixUnreduced => alone && role_of(component) != Role::Reducer,
        StatedFor::Mix => components == 1,
    };
    let sheet = || candidate.sheet.density_g_per_ml.filter(|_| by_sheet());
    component.density_g_per_ml.or_else(sheet).map(Quantity::get)
}

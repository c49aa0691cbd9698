//! A mix ratio as it stands on the can: `4:1:1`, base, hardener, reducer.

use crate::words::measure::read_in;
use crate::words::wording::Wording;
use crate::work::{components_in_order, name_of};
use quantity::{Parts, Quantity, plain};
use record::{Action, Candidate, Component, Measure, PartOfMix, Role};

/// What the numbers of a new mix stand for, and what each is called.
const NEW: [(Role, &str); 3] = [(Role::Base, "Base"), (Role::Hardener, "Hardener"), (Role::Reducer, "Reducer")];

/// The ratio of a mix as it is typed; empty while a component has no parts.
pub fn ratio_said(candidate: &Candidate) -> String {
    let parts = |component: &&Component| component.parts.map(|parts| plain(parts.get()));
    let said: Option<Vec<String>> = components_in_order(candidate).iter().map(parts).collect();
    said.unwrap_or_default().join(":")
}

/// What a typed ratio does: its numbers go to the components in their order, and those that are not there yet are added.
///
/// # Errors
/// The sentence to show beside the field: no numbers, or not one for each component.
pub fn set_ratio(candidate: &Candidate, typed: &str, wording: &Wording) -> Result<Action, String> {
    let components = components_in_order(candidate);
    let numbers =
        typed.split(|c: char| c.is_whitespace() || matches!(c, ':' | '/' | ';')).filter(|word| !word.is_empty());
    let numbers: Vec<f64> =
        numbers.map(|word| read_in(Measure::Parts, word, None, wording)).collect::<Result<_, _>>()?;
    let (given, there) = (numbers.len(), components.len());
    if given < there {
        let names: Vec<String> = components.iter().map(|component| name_of(component)).collect();
        return Err(format!("Give a number for each of {}, or remove one below.", names.join(", ")));
    }
    if given > there.max(NEW.len()) {
        return Err("Give base, hardener, reducer: three numbers at most. Add more components below.".into());
    }
    if given == 0 {
        return Err("Type it as it stands on the can: 4:1:1.".into());
    }
    let part = |(place, number): (usize, f64)| {
        let parts = Parts::new(number).ok().filter(|parts| parts.get() > 0.0);
        let parts = parts.ok_or_else(|| format!("{} can't be the parts of a mix.", plain(number)))?;
        let (role, label) = NEW[place.min(NEW.len() - 1)];
        let component = components.get(place).map(|component| component.id.clone());
        Ok(PartOfMix { component, label: label.into(), role, parts })
    };
    let parts = numbers.into_iter().enumerate().map(part).collect::<Result<_, String>>()?;
    Ok(Action::SetRatio { candidate: candidate.id.clone(), parts })
}

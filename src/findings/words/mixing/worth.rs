//! What a mix costs, how far its packs go, and what evaporates from it.

use super::amount::volume;
use crate::words::figures::Figure;
use crate::words::tongue::Tongue;
use crate::work::{MixCard, amount_of, components_in_order, name_of, sheet_of, stated_for};
use quantity::{LargeVolumeUnit, Quantity, Unit, figure, plain};
use record::{Candidate, Component, SprayTest};
use science::input::InputError;
use science::mix::Basis;
use science::spread::{Pack, mix_price};
use science::voc::{EXEMPT_DENSITY, Ingredient, Volatiles};

/// Less than this of a pack is nothing left over.
const NOTHING_L: f64 = 1e-6;

/// Price of a litre of mix, how far the packs go and what is left of which, and the VOC of the mix; what cannot be had with
/// its reason. Nothing while neither pack nor VOC is given: a painter who does not ask is not told what is missing.
pub fn worth_of(test: &SprayTest, candidate: &Candidate, tongue: &Tongue) -> Vec<Figure> {
    let figure = |name: &str, told: Result<(String, String), String>| match told {
        Ok((value, note)) => Figure { key: "worth", name: name.into(), value: Some(value), note },
        Err(note) => Figure { key: "worth", name: name.into(), value: None, note },
    };
    let asked = |component: &Component| {
        component.pack_l.is_some() || component.pack_price.is_some() || component.voc_g_per_l.is_some()
    };
    if candidate.sheet.voc_g_per_l.is_none() && !candidate.mix.components.kept().any(asked) {
        return Vec::new();
    }
    let mix = MixCard::of(candidate).map_err(|wants| wants.to_string());
    let packs = mix.as_ref().map_err(Clone::clone).and_then(|mix| Packs::of(candidate, mix));
    vec![
        figure(
            match tongue.units.large_volume() {
                LargeVolumeUnit::L => "A litre of mix",
                LargeVolumeUnit::Gal => "A gallon of mix",
            },
            packs.clone().and_then(|packs| packs.price(&test.currency, tongue)),
        ),
        figure("One pack of each makes", packs.and_then(|packs| packs.makes(test, candidate, tongue))),
        figure("VOC of the mix", mix.and_then(|mix| voc(test, candidate, &mix, tongue))),
    ]
}

/// The components of a mix that is not empty, those with an amount, in the order poured.
fn used<'a>(candidate: &'a Candidate, mix: &MixCard) -> Vec<&'a Component> {
    let all = components_in_order(candidate);
    mix.parts.iter().filter_map(|part| all.iter().copied().find(|component| component.id == part.id)).collect()
}

fn given<T>(value: Option<T>, what: &str, component: &Component) -> Result<T, String> {
    value.ok_or_else(|| format!("Give the {what} of {}.", name_of(component)))
}

/// Price of a litre of mix, in the test's currency, or what is wanting for it.
pub(crate) fn price_per_litre(candidate: &Candidate) -> Result<f64, String> {
    let mix = MixCard::of(candidate).map_err(|wants| wants.to_string())?;
    let packs = Packs::of(candidate, &mix)?;
    if let Some(reason) = packs.unpriced {
        return Err(reason);
    }
    Ok(mix_price(&packs.packs).map_err(|error| error.to_string())?.per_litre)
}

#[derive(Clone)]
struct Packs {
    packs: Vec<Pack>,
    labels: Vec<String>,
    /// Of which the price is missing, if so.
    unpriced: Option<String>,
}

impl Packs {
    fn of(candidate: &Candidate, mix: &MixCard) -> Result<Self, String> {
        let shares = mix.shares(Basis::Volume).map_err(|wants| wants.to_string())?;
        let components = used(candidate, mix);
        let mut packs = Vec::new();
        let mut unpriced = None;
        for (component, share) in components.iter().zip(shares) {
            let litres = given(component.pack_l, "size of the pack", component)?.get();
            let price = given(component.pack_price, "price of the pack", component);
            if let Err(reason) = &price {
                unpriced.get_or_insert(reason.clone());
            }
            packs.push(Pack { share, litres, price: price.map_or(0.0, Quantity::get) });
        }
        Ok(Self { packs, labels: components.into_iter().map(name_of).collect(), unpriced })
    }

    fn price(self, currency: &str, tongue: &Tongue) -> Result<(String, String), String> {
        if let Some(reason) = self.unpriced {
            return Err(reason);
        }
        let price = mix_price(&self.packs).map_err(|error| error.to_string())?;
        let litres = tongue.units.large_volume().stored(1.0);
        let money = |a_litre: f64| format!("{} {currency}", figure(a_litre * litres, 2)).trim_end().to_owned();
        let thrown = price.per_litre_left_thrown_away;
        let note = if thrown > price.per_litre * 1.005 {
            format!("{} if what the packs leave over is thrown away", money(thrown))
        } else {
            String::new()
        };
        Ok((money(price.per_litre), note))
    }

    fn makes(self, test: &SprayTest, candidate: &Candidate, tongue: &Tongue) -> Result<(String, String), String> {
        let price = mix_price(&self.packs).map_err(|error| error.to_string())?;
        let left: Vec<String> = (price.left_l.iter().zip(&self.labels))
            .filter(|(litres, _)| **litres > NOTHING_L)
            .map(|(litres, label)| format!("{} of {label}", volume(1000.0 * litres, tongue)))
            .collect();
        let left =
            if left.is_empty() { "nothing is left over".into() } else { format!("left over: {}", left.join(", ")) };
        let amount = MixCard::of(candidate).ok().and_then(|mix| amount_of(test, candidate, &mix).ok());
        let batches = amount.map_or(String::new(), |amount| {
            format!(
                "; enough for {} mixes of {}",
                figure((1000.0 * price.mix_l / amount.ml).floor(), 0),
                volume(amount.ml, tongue)
            )
        });
        let unit = tongue.units.large_volume();
        Ok((format!("{} {}", plain(unit.shown(price.mix_l)), unit.symbol()), format!("{left}{batches}")))
    }
}

/// VOC of the mix, g/L: from the components, as grams in a litre of each, less water and exempt solvent, and by volume of
/// solids; else the sheet's own where it is stated for the mix.
fn voc(test: &SprayTest, candidate: &Candidate, mix: &MixCard, tongue: &Tongue) -> Result<(String, String), String> {
    let components = used(candidate, mix);
    let said = |g_per_l: f64| tongue.content(g_per_l);
    let none_given = components.iter().all(|component| component.voc_g_per_l.is_none());
    if let Some(by_sheet) = candidate.sheet.voc_g_per_l.filter(|_| none_given) {
        let whole = stated_for(candidate) == record::StatedFor::Mix || !mix.reduced();
        return whole
            .then(|| (said(by_sheet.get()), "as the sheet says".into()))
            .ok_or_else(|| "The sheet's VOC is not that of the reduced mix: give the VOC of each component.".into());
    }
    let volumes = mix.shares(Basis::Volume).map_err(|wants| wants.to_string())?;
    let mut ingredients = Vec::new();
    for ((component, part), volume) in components.iter().zip(&mix.parts).zip(volumes) {
        ingredients.push(Ingredient {
            density: part.density,
            water: component.water_by_weight.map_or(0.0, Quantity::get),
            exempt: component.exempt_by_weight.map_or(0.0, Quantity::get),
            ..Ingredient::of_solvent(1000.0 * volume, given(component.voc_g_per_l, "VOC", component)?.get())
        });
    }
    let volatiles = Volatiles::of_mix(&ingredients).map_err(|error| mix.wants(error).to_string())?;
    let trouble = |error: InputError| error.to_string();
    let mut notes = Vec::new();
    if volatiles.water_g > 0.0 || volatiles.exempt_g > 0.0 {
        let less = said(volatiles.less_water_and_exempt().map_err(trouble)?);
        let exempt = format!(" and exempt solvent, taken as {}", tongue.density(EXEMPT_DENSITY));
        let exempt = if volatiles.exempt_g > 0.0 { exempt.as_str() } else { "" };
        notes.push(format!("{less} less water{exempt} (40 CFR 59.104)"));
    }
    let sheet = sheet_of(test, candidate, None);
    if let Some(solids) = sheet.solids_by_volume {
        let by_solids = volatiles.per_volume_of_solids(solids.value / (1.0 + sheet.thinning)).map_err(trouble)?;
        notes.push(format!("{} of solids, the one number that compares primers (ASTM D3960)", said(by_solids)));
    }
    Ok((said(volatiles.actual().map_err(trouble)?), notes.join("; ")))
}

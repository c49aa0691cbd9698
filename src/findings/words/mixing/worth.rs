//! What a mix costs, how far its packs go, and what evaporates from it.

use super::amount::volume;
use crate::words::figures::Figure;
use crate::words::wording::Wording;
use crate::work::{MixCard, MixWants, Packs, amount_of, name_of, sheet_of, stated_for, used};
use quantity::{LargeVolumeUnit, Quantity, Unit, figure, plain};
use record::{Candidate, Component, SprayTest};
use science::input::InputError;
use science::mix::Basis;
use science::voc::{EXEMPT_DENSITY, Ingredient, Volatiles};

/// Less than this of a pack is nothing left over.
const NOTHING_L: f64 = 1e-6;

/// Price of a litre of mix, how far the packs go and what is left of which, and the VOC of the mix; what cannot be had with
/// its reason. Nothing while neither pack nor VOC is given: a painter who does not ask is not told what is missing.
pub fn worth_of(test: &SprayTest, candidate: &Candidate, wording: &Wording) -> Vec<Figure> {
    let figure = |name: &str, told: Said| match told {
        Ok((value, note)) => Figure { name: name.into(), value: Some(value), note },
        Err(wants) => Figure { name: name.into(), value: None, note: wants.said(wording) },
    };
    let asked = |component: &Component| {
        component.pack_l.is_some() || component.pack_price.is_some() || component.voc_g_per_l.is_some()
    };
    if candidate.sheet.voc_g_per_l.is_none() && !candidate.mix.components.kept().any(asked) {
        return Vec::new();
    }
    let mix = MixCard::of(candidate);
    let packs = mix.as_ref().map_err(Clone::clone).and_then(|mix| Packs::of(candidate, mix));
    let packs = packs.as_ref().map_err(Clone::clone);
    vec![
        figure(
            match wording.units.large_volume() {
                LargeVolumeUnit::L => "A litre of mix",
                LargeVolumeUnit::Gal => "A gallon of mix",
            },
            packs.clone().and_then(|packs| price(packs, &test.currency, wording)),
        ),
        figure("One pack of each makes", packs.and_then(|packs| makes(packs, test, candidate, wording))),
        figure("VOC of the mix", mix.and_then(|mix| voc(test, candidate, &mix, wording))),
    ]
}

/// A number in words, and what stands beside it.
type Said = Result<(String, String), MixWants>;

/// Price of a litre of mix, or of a gallon.
fn price(packs: &Packs, currency: &str, wording: &Wording) -> Said {
    let price = packs.priced()?;
    let litres = wording.units.large_volume().stored(1.0);
    let money = |a_litre: f64| format!("{} {currency}", figure(a_litre * litres, 2)).trim_end().to_owned();
    let thrown = price.per_litre_left_thrown_away;
    let note = if thrown > price.per_litre * 1.005 {
        format!("{} if what the packs leave over is thrown away", money(thrown))
    } else {
        String::new()
    };
    Ok((money(price.per_litre), note))
}

/// How far one pack of each goes, and what is left over.
fn makes(packs: &Packs, test: &SprayTest, candidate: &Candidate, wording: &Wording) -> Said {
    let price = packs.worked_out()?;
    let left: Vec<String> = (price.left_l.iter().zip(&packs.labels))
        .filter(|(litres, _)| **litres > NOTHING_L)
        .map(|(litres, label)| format!("{} of {label}", volume(1000.0 * litres, wording)))
        .collect();
    let left = if left.is_empty() { "nothing is left over".into() } else { format!("left over: {}", left.join(", ")) };
    let amount = MixCard::of(candidate).ok().and_then(|mix| amount_of(test, candidate, &mix).ok());
    let batches = amount.map_or(String::new(), |amount| {
        format!(
            "; enough for {} mixes of {}",
            figure((1000.0 * price.mix_l / amount.ml).floor(), 0),
            volume(amount.ml, wording)
        )
    });
    let unit = wording.units.large_volume();
    Ok((format!("{} {}", plain(unit.shown(price.mix_l)), unit.symbol()), format!("{left}{batches}")))
}

/// VOC of the mix, g/L: from the components, as grams in a litre of each, less water and exempt solvent, and by volume of
/// solids; else the sheet's own where it is stated for the mix.
fn voc(test: &SprayTest, candidate: &Candidate, mix: &MixCard, wording: &Wording) -> Said {
    let components = used(candidate, mix);
    let said = |g_per_l: f64| wording.content(g_per_l);
    let none_given = components.iter().all(|component| component.voc_g_per_l.is_none());
    if let Some(by_sheet) = candidate.sheet.voc_g_per_l.filter(|_| none_given) {
        let whole = stated_for(candidate) == record::StatedFor::Mix || !mix.reduced();
        return whole.then(|| (said(by_sheet.get()), "as the sheet says".into())).ok_or(MixWants::VocOfReduced);
    }
    let volumes = mix.shares(Basis::Volume)?;
    let mut ingredients = Vec::new();
    for ((component, part), volume) in components.iter().zip(&mix.parts).zip(volumes) {
        let voc = component.voc_g_per_l.ok_or_else(|| MixWants::Voc(name_of(component)))?;
        ingredients.push(Ingredient {
            density: part.density,
            water: component.water_by_weight.map_or(0.0, Quantity::get),
            exempt: component.exempt_by_weight.map_or(0.0, Quantity::get),
            ..Ingredient::of_solvent(1000.0 * volume, voc.get())
        });
    }
    let volatiles = Volatiles::of_mix(&ingredients).map_err(|error| mix.wants(error))?;
    let trouble = |error: InputError| MixWants::Unusable(error.into());
    let mut notes = Vec::new();
    if volatiles.water_g > 0.0 || volatiles.exempt_g > 0.0 {
        let less = said(volatiles.less_water_and_exempt().map_err(trouble)?);
        let exempt = format!(" and exempt solvent, taken as {}", wording.density(EXEMPT_DENSITY));
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

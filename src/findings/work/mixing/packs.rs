//! The packs that a mix comes from: sizes, prices, and what a litre of mix costs.

use crate::work::recipe::{MixCard, MixWants, components_in_order, name_of};
use quantity::Quantity;
use record::{Candidate, Component};
use science::mix::Basis;
use science::spread::{MixPrice, Pack, mix_price};

/// The packs of a mix, in the order poured.
#[derive(Clone)]
pub(crate) struct Packs {
    packs: Vec<Pack>,
    /// What each is of.
    pub(crate) labels: Vec<String>,
    /// Of which the price is missing, if so.
    unpriced: Option<MixWants>,
}

impl Packs {
    pub(crate) fn of(candidate: &Candidate, mix: &MixCard) -> Result<Self, MixWants> {
        let shares = mix.shares(Basis::Volume)?;
        let components = used(candidate, mix);
        let (mut packs, mut unpriced) = (Vec::new(), None);
        for (component, share) in components.iter().zip(shares) {
            let litres = component.pack_l.ok_or_else(|| MixWants::PackSize(name_of(component)))?.get();
            if component.pack_price.is_none() {
                unpriced.get_or_insert(MixWants::PackPrice(name_of(component)));
            }
            packs.push(Pack { share, litres, price: component.pack_price.map_or(0.0, Quantity::get) });
        }
        Ok(Self { packs, labels: components.into_iter().map(name_of).collect(), unpriced })
    }

    /// How far they go, and what a litre of mix costs where all prices are known.
    pub(crate) fn worked_out(&self) -> Result<MixPrice, MixWants> {
        mix_price(&self.packs).map_err(|error| MixWants::Unusable(error.into()))
    }

    /// The same where all prices are known.
    pub(crate) fn priced(&self) -> Result<MixPrice, MixWants> {
        self.unpriced.clone().map_or_else(|| self.worked_out(), Err)
    }
}

/// The components of a mix that is not empty, those with an amount, in the order poured.
pub(crate) fn used<'a>(candidate: &'a Candidate, mix: &MixCard) -> Vec<&'a Component> {
    let all = components_in_order(candidate);
    mix.parts.iter().filter_map(|part| all.iter().copied().find(|component| component.id == part.id)).collect()
}

/// Price of a litre of mix, in the test's currency, or what is wanting for it.
pub(crate) fn price_per_litre(candidate: &Candidate) -> Result<f64, MixWants> {
    Ok(Packs::of(candidate, &MixCard::of(candidate)?)?.priced()?.per_litre)
}

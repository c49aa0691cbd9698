//! What one panel's answers depend on, gathered from the record: equal cards give equal answers, which is what lets a
//! fit be kept while something else changes.

use std::collections::BTreeMap;

use super::reason::Reason;
use super::sheet::{SheetCard, sheet_of};
use super::spots::values_um;
use crate::facts::{
    USUAL_STEP_G, balance_number, balance_of, bare_weight, clock_h, comb_of, comb_readings, concerns, finest_step_g,
    last_coat, left_at, mean_g, moment, round_numbers, sanding_h, weigh_ins_since_coat, weighed_after_leaving,
    weights_of,
};
use quantity::{Instant, Quantity};
use record::{Blank, Candidate, Dab, Id, Panel, SprayTest, WeighIn};
use science::comb::{Interval, Teeth};
use science::drying::{Balance, Certainty, GainsMass, Move, Repeatability, Say, Scale, Weighing};
use science::routes::SOLVENT_DENSITY;
use science::{Measured, comb};

/// Uncertainty of a coated area, as a share (1 % unless measured).
const AREA_SHARE: f64 = 0.01;

/// Degrees of freedom of a repeatability that is stated without its repeats: as for five of them.
const STATED_DOF: f64 = 4.0;

/// A scale with the readings of its blank.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleCard {
    /// The number that stands for it in a [`Weighing`].
    pub number: u32,
    /// What it resolves.
    pub scale: Scale,
    /// Whether the division had to be read off the weights.
    pub assumed: bool,
    /// Kept readings of the blank on it.
    pub blank: Vec<Weighing>,
}

/// Everything about one panel that its answers depend on.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelCard {
    /// Bare weight, g.
    pub bare_g: Option<f64>,
    /// Weigh-ins from the wet weight on, with their ids; those set aside as well. One weighed again has the mean.
    pub weigh_ins: Vec<(Id, Weighing)>,
    /// That mean once more for each time that one was weighed again: the science counts them with the rest of the round.
    pub repeats: Vec<Weighing>,
    /// On which scales, the wet weight's first.
    pub scales: Result<Vec<ScaleCard>, Reason>,
    /// Where it was carried.
    pub moves: Vec<Move>,
    /// How many coats.
    pub coats: u32,
    /// When the last coat was sprayed, h on the clock; the wet weight's time where no coat was noted.
    pub last_coat_h: Option<f64>,
    /// The combs that the dabs of the last coat were read with, by id: errors of the same ones cancel between panels.
    pub combs: Vec<Id>,
    /// What each kept dab of the last coat says.
    pub dabs: Vec<Result<Interval, comb::CombError>>,
    /// Coated area, cm².
    pub area_cm2: Option<Measured>,
    /// Density of what leaves, g/mL.
    pub solvent_density: Measured,
    /// The sheet's figures, as they bear on the mix as sprayed.
    pub sheet: SheetCard,
    /// Dry film by the gauge on its newest visit, µm, shim subtracted: means of spots, or the readings of the panel form.
    pub spots_um: Vec<f64>,
    /// Standard uncertainty of the gauge's calibration, µm.
    pub gauge_u_um: f64,
    /// Readings on the bare metal, µm.
    pub base_metal_um: Vec<f64>,
    /// The person's word on mass taken up.
    pub gains_mass: GainsMass,
    /// How sure a "steady" is to be.
    pub certainty: Certainty,
    /// Days to answer for, h after the last coat.
    pub days_h: Vec<f64>,
}

impl PanelCard {
    /// Gathers the card of `panel`.
    pub fn of(test: &SprayTest, panel: &Panel) -> Self {
        let candidate = panel.candidate.find(&test.candidates);
        let made = weigh_ins_since(test, panel);
        let scales = scales_of(test, panel, &made);
        let repeats = made.iter().flat_map(|(weigh_in, weighing)| {
            let times = if weighing.round.is_some() { weigh_in.repeats_g.len() } else { 0 };
            std::iter::repeat_n(*weighing, times)
        });
        let repeats = repeats.collect();
        let weigh_ins: Vec<(Id, Weighing)> =
            made.into_iter().map(|(weigh_in, weighing)| (weigh_in.id.clone(), weighing)).collect();
        let first = weigh_ins.iter().filter(|(_, w)| w.say != Say::SetAside).map(|(_, w)| w.t_h);
        let first = first.min_by(f64::total_cmp);
        let cup = panel.mix.find(&test.mixes);
        let sheet = candidate.map(|candidate| sheet_of(test, candidate, cup)).unwrap_or_default();
        Self {
            bare_g: bare_weight(test, panel).map(|bare| bare.gross_g),
            scales,
            moves: moves_of(test, panel),
            coats: coat_count(panel, candidate),
            last_coat_h: last_coat(panel).map(clock_h).or(first),
            combs: combs_of(test, panel),
            dabs: comb_readings(panel).filter_map(|dab| dab_interval(test, dab)).collect(),
            area_cm2: area(panel),
            solvent_density: candidate
                .and_then(|c| c.sheet.solvent_density_g_per_ml)
                .map_or(SOLVENT_DENSITY, |density| Measured::new(density.get(), SOLVENT_DENSITY.u)),
            sheet,
            spots_um: values_um(panel),
            gauge_u_um: Self::gauge_u_um(test),
            base_metal_um: test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect(),
            gains_mass: if candidate.is_some_and(|c| c.gains_mass) { GainsMass::Yes } else { GainsMass::No },
            certainty: certainty_of(test.wanted.certainty),
            days_h: days_of(test, candidate),
            weigh_ins,
            repeats,
        }
    }

    /// What counts as the gauge's calibration where nobody noted its paper, as a standard uncertainty, µm.
    pub(crate) const GAUGE_U_UM: f64 = 2.0;

    /// Standard uncertainty of the gauge's calibration, µm.
    pub(crate) fn gauge_u_um(test: &SprayTest) -> f64 {
        test.dry_gauge.calibration_um.map_or(Self::GAUGE_U_UM, Quantity::get)
    }

    /// The number of the scale that a round is weighed on; the wet weight's where the round does not say.
    pub(crate) fn number_of(&self, test: &SprayTest, round: &Id) -> u32 {
        let of_round = test.rounds.find(round).and_then(|round| balance_number(test, round.balance.as_ref()?));
        of_round.or(self.scales.as_ref().ok().map(|scales| scales[0].number)).unwrap_or(0)
    }

    /// The scale's division, g; the usual one stands in where there is no scale to ask.
    pub fn division_g(&self) -> f64 {
        self.scales.as_ref().map_or(USUAL_STEP_G, |scales| scales[0].scale.division_g)
    }

    /// The scale as the science takes it: one, or several tied by their blank.
    pub(crate) fn balance(&self) -> Result<Balance, Reason> {
        let scales = self.scales.as_ref().map_err(Clone::clone)?;
        Ok(match &scales[..] {
            [one] => Balance::new(one.scale, &one.blank),
            several => {
                let parts: Vec<_> = several.iter().map(|s| (s.number, Balance::new(s.scale, &s.blank))).collect();
                Balance::joined(&parts)
            }
        })
    }

    /// The plain weighings, as the science takes them: the weigh-ins in their order, then those weighed again.
    pub fn weighings(&self) -> Vec<Weighing> {
        self.weigh_ins.iter().map(|(_, weighing)| *weighing).chain(self.repeats.iter().copied()).collect()
    }
}

/// The science's certainty for what the plan says of it.
pub fn certainty_of(said: Option<record::Certainty>) -> Certainty {
    match said {
        Some(record::Certainty::Cautious) => Certainty::Cautious,
        Some(record::Certainty::Usual) | None => Certainty::Usual,
        Some(record::Certainty::Quick) => Certainty::Quick,
    }
}

/// The days an answer is given for, h after the last coat: the person's day of sanding, else the sheet's, else 1, 3 and 7
/// days.
fn days_of(test: &SprayTest, candidate: Option<&Candidate>) -> Vec<f64> {
    sanding_h(test, candidate).map_or_else(|| vec![24.0, 72.0, 168.0], |day_h| vec![day_h])
}

fn weighing(test: &SprayTest, weigh_in: &WeighIn, at: Instant, rounds: &BTreeMap<&Id, u32>) -> Option<Weighing> {
    Some(Weighing {
        t_h: clock_h(at),
        gross_g: mean_g(weigh_in)?,
        round: weigh_in.round.as_ref().and_then(|id| rounds.get(id).copied()),
        balance: balance_of(test, weigh_in).and_then(|id| balance_number(test, id)).unwrap_or(0),
        say: match &weigh_in.set_aside {
            Some(_) => Say::SetAside,
            None if weigh_in.vouched => Say::Keep,
            None => Say::Nothing,
        },
    })
}

/// Weigh-ins from the last coat on, in time order.
fn weigh_ins_since<'a>(test: &'a SprayTest, panel: &'a Panel) -> Vec<(&'a WeighIn, Weighing)> {
    let rounds = round_numbers(test);
    let made = weigh_ins_since_coat(test, panel).into_iter();
    let weighing = |weigh_in, at| {
        let weighing = weighing(test, weigh_in, at, &rounds)?;
        let late = weighed_after_leaving(test, &panel.left, weigh_in);
        Some((weigh_in, if late { Weighing { say: Say::SetAside, ..weighing } } else { weighing }))
    };
    made.filter_map(|(weigh_in, at)| weighing(weigh_in, at)).collect()
}

/// The scales a panel was weighed on, the wet weight's first, each with the readings of one blank: of several scales, of
/// the blank that was weighed on all of them and so ties them.
fn scales_of(test: &SprayTest, panel: &Panel, weigh_ins: &[(&WeighIn, Weighing)]) -> Result<Vec<ScaleCard>, Reason> {
    let mut used: Vec<Option<&Id>> = Vec::new();
    for balance in weigh_ins.iter().map(|(weigh_in, _)| balance_of(test, weigh_in)) {
        if !used.contains(&balance) {
            used.push(balance);
        }
    }
    if used.is_empty() {
        return Err(Reason::NoWetWeight);
    }
    let readings = |blank: &Blank, balance: Option<&Id>| blank_readings(test, blank, balance);
    let least = |blank: &&Blank| used.iter().map(|&balance| readings(blank, balance).len()).min();
    // Two blanks differ by more than any drift: one serves, the one weighed most often on every scale.
    let blank = test.blanks.kept().max_by_key(least).filter(|blank| least(blank) > Some(0));
    let card = |&balance: &Option<&Id>| ScaleCard {
        blank: blank.map_or(Vec::new(), |blank| readings(blank, balance)),
        ..scale_card(test, balance, &mut weights_of(panel))
    };
    Ok(used.iter().map(card).collect())
}

/// The newest of some weighings; of several at once the last.
pub(crate) fn newest_weighing<'a>(of: &mut dyn Iterator<Item = &'a Weighing>) -> Option<&'a Weighing> {
    of.reduce(|a, b| if b.t_h >= a.t_h { b } else { a })
}

/// Readings of a blank on one scale, those set aside left out.
pub(crate) fn blank_readings(test: &SprayTest, blank: &Blank, balance: Option<&Id>) -> Vec<Weighing> {
    let rounds = round_numbers(test);
    let counts = |w: &&WeighIn| w.set_aside.is_none() && !weighed_after_leaving(test, &blank.left, w);
    let kept = blank.weigh_ins.kept().filter(counts).filter(|w| balance_of(test, w) == balance);
    kept.filter_map(|weigh_in| weighing(test, weigh_in, moment(test, weigh_in)?, &rounds)).collect()
}

pub(crate) fn scale_card(test: &SprayTest, balance: Option<&Id>, weights: &mut dyn Iterator<Item = f64>) -> ScaleCard {
    let number = balance.and_then(|id| balance_number(test, id)).unwrap_or(0);
    let balance = balance.and_then(|id| test.balances.find(id));
    let division = balance.and_then(|balance| balance.division_g).map(Quantity::get);
    let repeats: Vec<f64> = balance.map(|b| b.repeats_g.iter().map(|g| g.get()).collect()).unwrap_or_default();
    let measured = balance.and_then(|b| b.repeatability_g).map(Quantity::get).filter(|sd| *sd > 0.0);
    ScaleCard {
        number,
        scale: Scale {
            division_g: division.unwrap_or_else(|| finest_step_g(weights)),
            repeatability: repeatability(&repeats).or(measured.map(|sd_g| Repeatability { sd_g, dof: STATED_DOF })),
        },
        assumed: division.is_none(),
        blank: Vec::new(),
    }
}

/// The spread of repeated weighings of one thing.
fn repeatability(repeats_g: &[f64]) -> Option<Repeatability> {
    let spread = science::film::summary("repeats", repeats_g).ok()?;
    Some(Repeatability { sd_g: spread.sd.filter(|sd| *sd > 0.0)?, dof: (spread.count - 1) as f64 })
}

fn moves_of(test: &SprayTest, panel: &Panel) -> Vec<Move> {
    let mut moves: Vec<Move> = test
        .moves
        .kept()
        .filter(|m| concerns(m, &panel.id))
        .filter_map(|m| Some((m.at?, m.warmer)))
        // Of what was carried after it had left, it was no part.
        .filter(|(at, _)| left_at(&panel.left).is_none_or(|left| *at <= left))
        .map(|(at, warmer)| Move { t_h: clock_h(at), warmer })
        .collect();
    order::sort_by(&mut moves, |a, b| a.t_h.total_cmp(&b.t_h));
    moves
}

fn coat_count(panel: &Panel, candidate: Option<&Candidate>) -> u32 {
    let noted = panel.coats.kept().count() as u32;
    let sheet = candidate.and_then(|c| c.sheet.coats).map_or(1.0, Quantity::get);
    if noted > 0 { noted } else { sheet.max(1.0) as u32 }
}

fn combs_of(test: &SprayTest, panel: &Panel) -> Vec<Id> {
    let mut combs: Vec<Id> = comb_readings(panel).filter_map(|dab| Some(comb_of(test, dab)?.id.clone())).collect();
    order::sort_by(&mut combs, Id::cmp);
    combs.dedup();
    combs
}

/// What a dab says; `None` while it says nothing.
pub(crate) fn dab_interval(test: &SprayTest, dab: &Dab) -> Option<Result<Interval, comb::CombError>> {
    let wetted_um = dab.wetted_um?.get();
    let comb = comb_of(test, dab);
    let plain = comb::CombReading {
        wetted_um,
        touched_um: dab.touched_um.map(Quantity::get),
        dry_um: dab.dry_um.map(Quantity::get),
    };
    let teeth: Result<Vec<Teeth>, _> = comb
        .map(|comb| {
            comb.edges.kept().map(|edge| Teeth::new(edge.teeth_um.iter().map(|um| um.get()).collect())).collect()
        })
        .unwrap_or_else(|| Ok(Vec::new()));
    Some(
        teeth
            .and_then(|edges| comb::interval_on(&edges, &plain))
            .or_else(|trouble| plain.interval_alone().ok_or(trouble)),
    )
}

/// Coated area, cm²: as stated, else width × length and the painted edges where the thickness is known.
pub(crate) fn area(panel: &Panel) -> Option<Measured> {
    let face = || {
        let (width, length) = (panel.width_mm?.get(), panel.length_mm?.get());
        let edges = panel.thickness_mm.map_or(0.0, |thickness| 2.0 * (width + length) * thickness.get());
        Some((width * length + edges) / 100.0)
    };
    let area = panel.coated_cm2.map(Quantity::get).or_else(face)?;
    Some(Measured::new(area, AREA_SHARE * area))
}

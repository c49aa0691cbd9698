//! Numbers that fit no primer, no panel or not each other. Nothing is refused for it: a sentence beside the field says so, and
//! the Plan lists them all. Bounds that keep slips out altogether are in `quantity`.

use super::wording::{Wording, duration};
use crate::facts::{bare_weight, candidates_in_order, first_coat, in_order, latest, step_on_g};
use crate::work::area;
use quantity::{Quantity, figure, plain};
use record::{
    AirLine, BalanceLine, Candidate, Component, ComponentLine, GaugeLine, MeasuredLine, Panel, PanelLine, SheetLine,
    Slot, SpotLine, SprayTest, WantedLine,
};
use science::solids::cup_density;

/// A number that is odd, and why.
type Odd = (Slot, String);

/// Densities, g/mL, from the lightest to the heaviest that a painter meets. Solvents: between acetone at 0.79 and water at 1.00,
/// with hexane at 0.66 and p-chlorobenzotrifluoride at 1.34 beyond them. Mixes and films: zinc-rich primers are the heaviest.
/// From memory.
const SOLVENTS: [f64; 2] = [0.6, 1.4];

const MIXES: [f64; 2] = [0.7, 4.5];

const FILMS: [f64; 2] = [0.8, 6.5];

/// Wet film of one coat, µm: trowelled putty begins above it (common practice).
const COAT_UM: [f64; 2] = [5.0, 1500.0];

/// Coats that a panel gets in a day (common practice).
const MOST_COATS: f64 = 10.0;

/// A sheet's dry film may be so far from what its wet film and solids make, as a share of it.
const SHEET_OFF: f64 = 0.25;

/// A panel smaller than this, cm², holds too little paint to weigh (common practice).
const LEAST_CM2: f64 = 20.0;

/// Density of steel, g/mL, and the shares of it within which a metal panel of that size weighs: aluminum to zinc-plated steel.
const STEEL: f64 = 7.85;

const METALS: [f64; 2] = [0.25, 1.5];

/// Air in which nobody sprays, °C.
const AIR_C: [f64; 2] = [-5.0, 50.0];

/// What is odd about the number in a slot, in a sentence.
pub fn odd_about(test: &SprayTest, slot: &Slot, wording: &Wording) -> Option<String> {
    let odd = match slot {
        Slot::Sheet(id, _) | Slot::Measured(id, _) | Slot::Component(id, ..) => {
            of_candidate(test.candidates.find(id)?, wording)
        }
        Slot::Panel(id, _) | Slot::Bare(id) => of_panel(test, test.panels.find(id)?, wording),
        Slot::Spot(id, ..) => spots(test.panels.find(id)?),
        Slot::EveryPanel(line) => {
            let first = test.panels.kept().next()?;
            return odd_about(test, &Slot::Panel(first.id.clone(), *line), wording);
        }
        Slot::Wanted(_) | Slot::Balance(..) | Slot::Air(..) | Slot::Gauge(_) => of_test(test, wording),
        Slot::Hours(_) | Slot::Mix(..) | Slot::Gun(..) | Slot::WeighIn(..) | Slot::Aim(_) => return None,
    };
    odd.into_iter().find(|(of, _)| of == slot).map(|(_, says)| says)
}

/// Everything odd in a test, each with whose it is.
pub fn odd_said(test: &SprayTest, wording: &Wording) -> Vec<String> {
    let mut said: Vec<String> = of_test(test, wording).into_iter().map(|(_, says)| says).collect();
    let mut add = |label: &str, odd: Vec<String>| said.extend(odd.iter().map(|says| [label, ": ", says].concat()));
    for candidate in candidates_in_order(test) {
        add(&candidate.label, of_candidate(candidate, wording).into_iter().map(|(_, says)| says).collect());
        add(&candidate.label, upwards(&candidate.sheet.air_c, "The lowest air is warmer than the highest."));
    }
    for comb in test.combs.kept() {
        let rising = |edge: &record::Edge| edge.teeth_um.windows(2).all(|pair| pair[0] < pair[1]);
        if !comb.edges.kept().all(rising) {
            add(&comb.label, vec!["Its teeth do not rise from one to the next.".into()]);
        }
    }
    for panel in in_order(test) {
        let numbers = of_panel(test, panel, wording).into_iter().chain(spots(panel)).map(|(_, says)| says);
        add(&panel.label, numbers.chain(dates(panel)).collect());
    }
    said
}

fn upwards<Q: Quantity>(pair: &[Q], says: &str) -> Vec<String> {
    let falls = pair.len() == 2 && pair[0].get() > pair[1].get();
    if falls { vec![says.into()] } else { Vec::new() }
}

fn within(value: f64, [least, most]: [f64; 2]) -> bool {
    (least..=most).contains(&value)
}

fn number<Q: Quantity>(of: Option<Q>) -> Option<f64> {
    of.map(Quantity::get)
}

/// Collects what is odd: a slot, whether it is, and what is said then.
struct Odds(Vec<Odd>);

impl Odds {
    fn when(&mut self, odd: bool, slot: Slot, says: impl Into<String>) {
        // One sentence a field.
        if odd && !self.0.iter().any(|(known, _)| *known == slot) {
            self.0.push((slot, says.into()));
        }
    }
}

fn of_candidate(candidate: &Candidate, wording: &Wording) -> Vec<Odd> {
    let mut odds = Odds(Vec::new());
    sheet(candidate, wording, &mut odds);
    measured(candidate, wording, &mut odds);
    for component in candidate.mix.components.kept() {
        of_component(candidate, component, &mut odds);
    }
    odds.0
}

fn sheet(candidate: &Candidate, wording: &Wording, odds: &mut Odds) {
    use SheetLine::*;
    let sheet = &candidate.sheet;
    let at = |line| Slot::Sheet(candidate.id.clone(), line);
    let (wet, dry) = (number(sheet.wet_film_um), number(sheet.dry_film_um));
    let (volume, weight) = (number(sheet.solids_by_volume), number(sheet.solids_by_weight));
    let coats = number(sheet.coats).unwrap_or(1.0);
    if let (Some(wet), Some(dry)) = (wet, dry) {
        odds.when(dry > wet, at(DryFilm), "More than the wet film: a film only loses. Are the two exchanged?");
        let made = volume.map_or(dry, |volume| volume * wet);
        odds.when(
            (dry - made).abs() > SHEET_OFF * made.max(dry),
            at(DryFilm),
            format!("Solids by volume times wet film make {}: one of the three is off.", wording.tooth(made.round())),
        );
    }
    for (line, film) in [(WetFilm, wet), (DryFilm, dry)] {
        let odd = film.is_some_and(|film| !within(film, COAT_UM));
        odds.when(odd, at(line), "No coat is like that: is it in the right unit, and for one coat?");
    }
    for (line, share) in [(SolidsByVolume, volume), (SolidsByWeight, weight)] {
        odds.when(share == Some(0.0), at(line), "Without solids nothing would stay on the panel.");
    }
    if let (Some(volume), Some(weight)) = (volume, weight) {
        let odd = volume > weight && weight < 1.0;
        odds.when(odd, at(SolidsByVolume), "More than by weight: solids are denser than what leaves. Exchanged?");
    }
    let (density, solvent) = (number(sheet.density_g_per_ml), number(sheet.solvent_density_g_per_ml));
    let film = number(sheet.dry_density_g_per_ml);
    let heavy = |line, value: Option<f64>, range: [f64; 2], what: &str, odds: &mut Odds| {
        let odd = value.is_some_and(|value| !within(value, range));
        let [least, most] = range.map(|density| wording.density(density));
        odds.when(odd, at(line), format!("No {what} is like that: {least} to {most}."));
    };
    heavy(SolventDensity, solvent, SOLVENTS, "solvent", odds);
    heavy(Density, density, MIXES, "primer", odds);
    heavy(DryDensity, film, FILMS, "dry film", odds);
    if let (Some(density), Some(film)) = (density, film) {
        odds.when(film < density, at(DryDensity), "Lighter than the mix as sprayed, though only solvent leaves.");
    }
    if let (Some(voc), Some(density), Some(weight)) = (number(sheet.voc_g_per_l), density, weight) {
        let gone = 1000.0 * density * (1.0 - weight);
        // A sheet rounds its solids.
        let says = format!("More than all that leaves: by density and solids {}.", wording.content(gone));
        odds.when(voc > 1.1 * gone + 10.0, at(Voc), says);
    }
    odds.when(!within(coats, [1.0, MOST_COATS]), at(Coats), "No panel gets so many coats.");
    times(candidate, coats, odds);
}

fn times(candidate: &Candidate, coats: f64, odds: &mut Odds) {
    use SheetLine::*;
    let sheet = &candidate.sheet;
    let at = |line| Slot::Sheet(candidate.id.clone(), line);
    let (pot, flash) = (number(sheet.pot_life_min), number(sheet.flash_min));
    let standing = number(sheet.standing_min);
    odds.when(pot == Some(0.0), at(PotLife), "No mix is hard at once: leave it empty where the sheet names none.");
    if let Some(pot) = pot.filter(|pot| *pot > 0.0) {
        let longer = |minutes: Option<f64>| minutes.is_some_and(|minutes| minutes >= pot);
        odds.when(
            longer(standing),
            at(Standing),
            "Not below the pot life: the mix would be hard before it is sprayed.",
        );
        odds.when(longer(flash), at(Flash), "Not below the pot life: the mix would be hard before the next coat.");
        let all = standing.unwrap_or(0.0) + (coats - 1.0).max(0.0) * flash.unwrap_or(0.0);
        let says = format!(
            "Standing time and flash-off take {} for {} coats: longer than the pot life.",
            duration(all / 60.0),
            figure(coats, 0)
        );
        odds.when(all >= pot, at(PotLife), says);
    }
    let flash_h = flash.unwrap_or(0.0) / 60.0;
    for (line, hours) in [(Recoat, number(sheet.recoat_h)), (Sanding, number(sheet.sanding_h))] {
        odds.when(hours.is_some_and(|hours| hours < flash_h), at(line), "Sooner than the flash-off between coats.");
    }
    odds.when(flash.is_some_and(|flash| flash > 1440.0), at(Flash), "More than a day between two coats?");
}

fn measured(candidate: &Candidate, wording: &Wording, odds: &mut Odds) {
    use MeasuredLine::*;
    let of = &candidate.measured;
    let at = |line| Slot::Measured(candidate.id.clone(), line);
    let (empty, wet, dry) = (number(of.dish_empty_g), number(of.dish_wet_g), number(of.dish_dry_g));
    let less = |a: Option<f64>, b: Option<f64>| a.zip(b).is_some_and(|(a, b)| a < b);
    odds.when(less(wet, dry), at(DishDry), "Heavier than with wet primer: a dish only loses. Are the two exchanged?");
    odds.when(less(dry, empty), at(DishDry), "Lighter than the empty dish.");
    odds.when(less(wet, empty), at(DishWet), "Lighter than the empty dish.");
    odds.when(wet.is_some() && wet == empty, at(DishWet), "As heavy as the empty dish: there is no primer in it.");
    let (empty, full, holds) = (number(of.cup_empty_g), number(of.cup_full_g), number(of.cup_ml));
    odds.when(less(full, empty), at(CupFull), "Lighter than the empty cup.");
    odds.when(holds == Some(0.0), at(CupVolume), "A cup that holds nothing has no density.");
    if let (Some(empty), Some(full), Some(holds)) = (empty, full, holds)
        && let Ok(density) = cup_density(empty, full, 0.0, science::Measured::exact(holds))
    {
        let says = format!("With these weights the mix has {}: no primer has.", wording.density_to(density.value, 2));
        odds.when(!within(density.value, MIXES), at(CupVolume), says);
    }
}

fn of_component(candidate: &Candidate, component: &Component, odds: &mut Odds) {
    use ComponentLine::*;
    let at = |line| Slot::Component(candidate.id.clone(), component.id.clone(), line);
    let density = number(component.density_g_per_ml);
    let odd = density.is_some_and(|density| !within(density, [SOLVENTS[0], FILMS[1]]));
    odds.when(odd, at(Density), "No part of a primer is so light or so heavy.");
    odds.when(number(component.parts) == Some(0.0), at(Parts), "With no part of it, it is not in the mix.");
    let (water, exempt) = (number(component.water_by_weight), number(component.exempt_by_weight));
    odds.when(water.unwrap_or(0.0) + exempt.unwrap_or(0.0) > 1.0, at(Exempt), "With the water more than all of it.");
    if let (Some(voc), Some(density)) = (number(component.voc_g_per_l), density) {
        odds.when(voc > 1000.0 * density, at(Voc), "More than all of it weighs.");
    }
}

fn of_panel(test: &SprayTest, panel: &Panel, wording: &Wording) -> Vec<Odd> {
    use PanelLine::*;
    let mut odds = Odds(Vec::new());
    let at = |line| Slot::Panel(panel.id.clone(), line);
    let (width, length) = (number(panel.width_mm), number(panel.length_mm));
    let thickness = number(panel.thickness_mm);
    let face_cm2 = width.zip(length).map(|(width, length)| width * length / 100.0);
    if let Some(coated) = number(panel.coated_cm2) {
        odds.when(coated < LEAST_CM2, at(Coated), "Too small to weigh a coat on: is it in the right unit?");
        let both = face_cm2.map(|face| {
            2.0 * face + 2.0 * thickness.unwrap_or(0.0) * (width.unwrap_or(0.0) + length.unwrap_or(0.0)) / 100.0
        });
        odds.when(both.is_some_and(|both| coated > 1.01 * both), at(Coated), "More than both faces of this panel.");
    } else {
        let small = area(panel).is_some_and(|area| area.value < LEAST_CM2);
        odds.when(small, at(Length), "Too small to weigh a coat on: are the sides in the right unit?");
    }
    for (line, side) in [(Width, width), (Length, length)] {
        odds.when(
            side.zip(thickness).is_some_and(|(side, thick)| thick >= side),
            at(Thickness),
            "Thicker than a side.",
        );
        odds.when(side.is_some_and(|side| side > 2000.0), at(line), "Too large for a scale: is it in the right unit?");
    }
    odds.when(thickness.is_some_and(|mm| mm > 20.0), at(Thickness), "A slab, not a panel: is it in the right unit?");
    let bare = bare_weight(test, panel);
    if let (Some(face), Some(thick), Some(bare)) = (face_cm2, thickness, bare) {
        let steel_g = face * thick / 10.0 * STEEL;
        let says = format!("Steel of this size weighs about {}.", wording.weight(steel_g.round(), 1.0));
        odds.when(!within(bare.gross_g, METALS.map(|share| share * steel_g)), Slot::Bare(panel.id.clone()), says);
    }
    if let Some(off_by_g) = bare.map(|bare| bare.off_by_g).filter(|off_by_g| *off_by_g > 0.0) {
        let off = wording.weight(off_by_g, step_on_g(test, panel));
        let says = format!("Another bare weight of this panel is {off} off: the newest counts. Weigh it again.");
        odds.when(true, Slot::Bare(panel.id.clone()), says);
    }
    odds.0
}

fn spots(panel: &Panel) -> Vec<Odd> {
    let mut odds = Odds(Vec::new());
    for spot in panel.spots.kept() {
        let thick = |shim: f64| spot.readings_um.iter().any(|um| um.get() <= shim);
        let odd = number(spot.shim_um).is_some_and(|shim| shim > 0.0 && thick(shim));
        let slot = Slot::Spot(panel.id.clone(), spot.id.clone(), SpotLine::Shim);
        odds.when(odd, slot, "Not below a reading taken through it: those readings are left out.");
    }
    odds.0
}

/// What is odd about when something was done to a panel.
fn dates(panel: &Panel) -> Vec<String> {
    let mut said = Vec::new();
    let first = first_coat(panel);
    let bare = latest(&mut panel.bare.kept().filter(|bare| bare.set_aside.is_none()).filter_map(|bare| bare.at));
    if let (Some(first), Some(bare)) = (first, bare)
        && bare > first
    {
        said.push("The bare weight is dated after the first coat: correct one of the two times.".into());
    }
    let comb = |dab: &record::Dab| number(dab.dry_um).zip(number(dab.wetted_um)).is_some_and(|(dry, wet)| dry <= wet);
    if panel.dabs.kept().any(comb) {
        said.push("A comb reading has its dry tooth below the wetted one.".into());
    }
    let before = |at: Option<quantity::Instant>| first.zip(at).is_some_and(|(first, at)| at < first);
    if panel.spots.kept().any(|spot| before(spot.at)) {
        said.push("Dry film is dated before the first coat: correct one of the two times.".into());
    }
    if panel.dabs.kept().any(|dab| before(dab.at)) {
        said.push("A comb reading is dated before the first coat: correct one of the two times.".into());
    }
    said
}

fn of_test(test: &SprayTest, wording: &Wording) -> Vec<Odd> {
    let mut odds = Odds(Vec::new());
    let wanted = &test.wanted;
    let at = |line| Slot::Wanted(line);
    let build = number(wanted.dry_build_um);
    let odd = build.is_some_and(|build| !within(build, COAT_UM));
    odds.when(odd, at(WantedLine::DryBuild), "No primer is built like that: is it in the right unit?");
    let more = build.zip(number(wanted.sanding_loss_um)).is_some_and(|(build, sanded)| sanded >= build);
    odds.when(more, at(WantedLine::SandingLoss), "As much is sanded off as is to stay: is that meant?");
    let lands = number(wanted.transfer_efficiency);
    odds.when(lands.is_some_and(|lands| lands > 0.98), at(WantedLine::TransferEfficiency), "No gun lands all of it.");
    odds.when(lands == Some(0.0), at(WantedLine::TransferEfficiency), "If nothing lands, there is no film.");
    let coat = |panel: &Panel| {
        // Weights without a time as well, of which none can be told to be the wet one.
        let heaviest = panel.weigh_ins.kept().filter_map(|weigh_in| number(weigh_in.gross_g)).reduce(f64::max)?;
        Some(heaviest - bare_weight(test, panel)?.gross_g).filter(|coat_g| *coat_g > 0.0)
    };
    let least = test.panels.kept().filter_map(coat).reduce(f64::min);
    for balance in test.balances.kept() {
        let at = |line| Slot::Balance(balance.id.clone(), line);
        let step = number(balance.division_g);
        let coarse = step.zip(least).is_some_and(|(step, least)| step >= least);
        odds.when(coarse, at(BalanceLine::Division), "Not below the lightest coat: this scale cannot see it dry.");
        let wide = step.zip(number(balance.repeatability_g)).is_some_and(|(step, sd)| sd > 50.0 * step);
        odds.when(wide, at(BalanceLine::Repeatability), "Far more than the scale's step: is it in the right unit?");
    }
    let odd = number(test.dry_gauge.calibration_um).is_some_and(|um| um > 50.0);
    odds.when(odd, Slot::Gauge(GaugeLine::Calibration), "No gauge is off by so much: is it in the right unit?");
    for air in test.air.kept() {
        for (line, celsius) in [(AirLine::Air, air.air_c), (AirLine::Panel, air.panel_c)] {
            let odd = number(celsius).is_some_and(|c| !within(c, AIR_C));
            let says = format!(
                "Nobody sprays at {} {}.",
                plain(quantity::Unit::shown(wording.units.temperature, number(celsius).unwrap_or(0.0))),
                quantity::Unit::symbol(wording.units.temperature)
            );
            odds.when(odd, Slot::Air(air.id.clone(), line), says);
        }
    }
    odds.0
}

//! Numbers and times in the words and units the person chose.

use crate::facts::USUAL_STEP_G;
use quantity::{Measure, Unit, Units, decimals_for, decimals_of, figure, figures, plain, signed};
use science::Estimate;

/// How to say things to this person.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wording {
    /// In which units.
    pub units: Units,
    /// The division of the scale, g: weights are shown to its place.
    pub division_g: Option<f64>,
}

impl Wording {
    /// The smallest step of the scale, g: the usual one where none is known.
    pub fn step_g(&self) -> f64 {
        self.division_g.unwrap_or(USUAL_STEP_G)
    }

    /// A weight as its field shows it: to the place of the scale's division, and all that was typed beyond it.
    pub(crate) fn typed_weight(&self, gross_g: f64) -> String {
        let shown = self.units.mass.shown(gross_g);
        match self.division_g {
            Some(division) if decimals_of(shown) <= decimals_of_shown(self.units.mass, division) => {
                self.bare_weight(gross_g, division)
            }
            _ => plain(shown),
        }
    }

    /// A weight as the scale shows it: `438.9 g`.
    pub fn weight(&self, gross_g: f64, division_g: f64) -> String {
        format!("{} {}", self.bare_weight(gross_g, division_g), self.units.mass.symbol())
    }

    /// A weight without its unit, to the place of the scale's division.
    pub fn bare_weight(&self, gross_g: f64, division_g: f64) -> String {
        figure(self.units.mass.shown(gross_g), decimals_of_shown(self.units.mass, division_g))
    }

    /// A change of weight with its sign: `−0.2 g`.
    pub fn change(&self, change_g: f64, division_g: f64) -> String {
        format!("{} {}", self.bare_change(change_g, division_g), self.units.mass.symbol())
    }

    /// The same without its unit.
    pub(crate) fn bare_change(&self, change_g: f64, division_g: f64) -> String {
        signed(self.units.mass.shown(change_g), decimals_of_shown(self.units.mass, division_g))
    }

    /// A mass with its interval.
    pub fn mass(&self, of_g: &Estimate) -> String {
        self.interval(of_g, self.units.mass)
    }

    /// A film with its interval.
    pub fn film(&self, of_um: &Estimate) -> String {
        self.interval(of_um, self.units.film)
    }

    /// The same without its unit, where that stands over it: `212 (196 to 229)`.
    pub fn bare_film(&self, of_um: &Estimate) -> String {
        let film = self.units.film;
        figures(film.shown(of_um.low), film.shown(of_um.mid), film.shown(of_um.high), "")
    }

    /// The bounds of a film alone: `7 to 12 µm`, `up to 12 µm`.
    pub fn film_range(&self, of_um: &Estimate) -> String {
        self.range(of_um, self.units.film)
    }

    /// The bounds of a mass alone: `0.4 to 1.1 g`, `up to 1.1 g`.
    pub fn mass_range(&self, of_g: &Estimate) -> String {
        self.range(of_g, self.units.mass)
    }

    /// How wide an interval of film is: `12 µm`, `0.5 µm`.
    pub(crate) fn film_width(&self, um: f64) -> String {
        let shown = self.units.film.shown(um);
        format!("{} {}", figure(shown, decimals_for(shown)), self.units.film.symbol())
    }

    /// A temperature: `19.5 °C`.
    pub fn temperature(&self, c: f64) -> String {
        let unit = self.units.temperature;
        format!("{} {}", figure(unit.shown(c), 1), unit.symbol())
    }

    /// A step of temperature, given in K: `3.0 °C`, which is `5.4 °F`.
    pub fn temperature_step(&self, k: f64) -> String {
        let unit = self.units.temperature;
        format!("{} {}", figure(unit.shown(k) - unit.shown(0.0), 1), unit.symbol())
    }

    /// A tooth: `125 µm`.
    pub fn tooth(&self, um: f64) -> String {
        format!("{} {}", self.bare_tooth(um), self.units.film.symbol())
    }

    /// A tooth without its unit: `125`.
    pub fn bare_tooth(&self, um: f64) -> String {
        Measure::Film.text(um, &self.units)
    }

    /// Readings of a gauge that shows the same places in each: `6.9, 6.9, 7.0`, where one of `all` has them.
    pub(crate) fn gauge_readings(&self, um: &[f64], all: impl Iterator<Item = f64>) -> Vec<String> {
        let shown = |um: f64| self.units.film.shown(um);
        let places = |um: f64| plain(shown(um)).split(['.', ',']).nth(1).map_or(0, str::len);
        let decimals = all.map(places).max().unwrap_or(0);
        um.iter().map(|um| figure(shown(*um), decimals)).collect()
    }

    /// A side or a distance on a panel, for orientation: `25 mm`, `1 in`, `0.5 in`.
    pub fn side(&self, mm: f64) -> String {
        let shown = self.units.length.shown(mm);
        let text = if shown < 10.0 { plain((shown * 10.0).round() / 10.0) } else { figure(shown, 0) };
        format!("{text} {}", self.units.length.symbol())
    }

    /// A density as it stands in a sheet: `1.05 g/mL`.
    pub fn density(&self, g_per_ml: f64) -> String {
        let unit = self.units.density();
        format!("{} {}", Measure::Density.text(g_per_ml, &self.units), unit.symbol())
    }

    /// A density worked out, to so many decimals of g/mL: `1.90 g/mL`.
    pub(crate) fn density_to(&self, g_per_ml: f64, decimals: usize) -> String {
        let unit = self.units.density();
        format!("{} {}", figure(unit.shown(g_per_ml), decimals), unit.symbol())
    }

    /// Grams in a litre: `540 g/L`, `4.51 lb/gal`.
    pub(crate) fn content(&self, g_per_l: f64) -> String {
        let unit = self.units.content();
        let shown = unit.shown(g_per_l);
        format!("{} {}", figure(shown, if shown < 100.0 { decimals_for(shown).max(2) } else { 0 }), unit.symbol())
    }

    fn interval<U: Unit>(&self, of: &Estimate, unit: U) -> String {
        figures(unit.shown(of.low), unit.shown(of.mid), unit.shown(of.high), unit.symbol())
    }

    fn range<U: Unit>(&self, of: &Estimate, unit: U) -> String {
        let (low, high) = (unit.shown(of.low), unit.shown(of.high));
        let decimals = decimals_for(high - low);
        let (low, high) = (figure(low, decimals), figure(high, decimals));
        let from = if low.chars().all(|c| matches!(c, '0' | '.' | ',')) { "up".into() } else { low };
        format!("{from} to {high} {}", unit.symbol())
    }
}

fn decimals_of_shown(unit: impl Unit, step: f64) -> usize {
    // A division of 0.1 g is no decimal step in oz: show as many places as resolve it, and none that no scale saw.
    let shown = unit.shown(step);
    if decimals_of(shown) < 6 { decimals_of(shown) } else { decimals_for(shown).saturating_sub(1) }
}

/// A stretch of time in the units a painter would choose: `40 min`, `6 h`, `2 d 6 h`, `12 d`.
pub fn duration(hours: f64) -> String {
    if !hours.is_finite() {
        return "–".into();
    }
    let minutes = (hours * 60.0).round();
    if minutes < 90.0 {
        return format!("{} min", figure(minutes, 0));
    }
    let whole = hours.round();
    let (days, rest) = ((whole / 24.0).floor(), whole % 24.0);
    if days < 1.0 {
        format!("{whole} h")
    } else if days >= 7.0 || rest == 0.0 {
        format!("{} d", figure(whole / 24.0, 0))
    } else {
        format!("{days} d {rest} h")
    }
}

/// A day of sanding: `day 3`, `36 h`.
pub fn day(day_h: f64) -> String {
    let days = day_h / 24.0;
    if days.fract() == 0.0 && days >= 1.0 { format!("day {days}") } else { format!("{} h", plain(day_h)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{FilmUnit, MassUnit};

    #[test]
    fn durations_as_a_painter_says_them() {
        let said = [0.25, 1.2, 3.0, 26.0, 48.0, 54.4, 216.0, 220.0].map(duration);
        assert_eq!(said, ["15 min", "72 min", "3 h", "1 d 2 h", "2 d", "2 d 6 h", "9 d", "9 d"]);
        assert_eq!([72.0, 36.0, 168.0].map(day), ["day 3", "36 h", "day 7"]);
    }

    #[test]
    fn units_are_those_chosen() {
        let units = Units { film: FilmUnit::Mil, mass: MassUnit::Oz, ..Units::default() };
        let mil = Wording { units, division_g: None };
        let um = Wording::default();
        let film = Estimate { low: 196.0, mid: 212.0, high: 229.0 };
        assert_eq!(um.film(&film), "212 µm (196 to 229)");
        assert_eq!(mil.film(&film), "8.3 mil (7.7 to 9.0)");
        assert_eq!(um.film_range(&Estimate { low: 0.02, mid: 4.0, high: 9.0 }), "up to 9.0 µm");
        assert_eq!(um.weight(438.9, 0.1), "438.9 g");
        assert_eq!(mil.weight(438.9, 0.1), "15.482 oz");
        assert_eq!(um.change(-0.2, 0.1), "−0.2 g");
        assert_eq!(mil.tooth(200.0), "7.9 mil");
    }
}

//! Real weighings, the few that were to be had: oil films weighed daily in 1911 (`data/real_films.csv`: H. A. Gardner, Paint
//! Technology and Tests, McGraw-Hill, New York 1911, chapter II) and a water film drying on paper within the hour
//! (`data/real_water_film.csv`: R. Heyd 2025, repository rjlh64/ThinFilm-Drying, MIT). None is a sprayed primer.

use comb_scale::science::drying::{Balance, Forecast, GainsMass, Panel, Scale, Settings, Standing, Weighing, forecast};

/// A film of the ASTM committee's tests: hours and grams, the day of spreading first.
struct Film {
    name: String,
    readings: Vec<Weighing>,
}

const PLATE_G: f64 = 50.0;
const DIVISION_G: f64 = 0.0001;

fn films() -> Vec<Film> {
    let rows: String =
        include_str!("data/real_films.csv").lines().filter(|l| !l.starts_with('#')).map(|l| format!("{l}\n")).collect();
    let mut films: Vec<Film> = Vec::new();
    for row in csv::Reader::from_reader(rows.as_bytes()).records() {
        let row = row.unwrap();
        let number = |i: usize| row[i].parse::<f64>().unwrap();
        let (name, film_g) = (format!("{} {}", &row[0], &row[1]), number(2));
        let at = films.iter().position(|f| f.name == name).unwrap_or_else(|| {
            films.push(Film { name: name.clone(), readings: vec![Weighing::new(0.0, PLATE_G + film_g)] });
            films.len() - 1
        });
        let gross = PLATE_G + film_g * (1.0 + number(4) / 100.0);
        films[at].readings.push(Weighing::new(24.0 * number(3), (gross / DIVISION_G).round() * DIVISION_G));
    }
    films
}

impl Film {
    fn until(&self, day: f64, gains_mass: GainsMass) -> Option<Forecast> {
        let readings: Vec<Weighing> = self.readings.iter().copied().filter(|w| w.t_h <= 24.0 * day).collect();
        let balance = Balance::new(Scale::new(DIVISION_G), &[]);
        forecast(&Panel { gains_mass, ..Panel::new(&balance, Some(PLATE_G), &readings) }, &Settings::shown()).ok()
    }

    fn last_g(&self) -> f64 {
        self.readings[self.readings.len() - 1].gross_g
    }
}

/// Every losing film at 4, 6 and 10 d against its last weight, the box for coats that gain ticked. The two that miss are of a
/// loss that runs straight and does not say when it ends, and of one still losing when it was last weighed; both are too early
/// to be told as a number.
#[test]
fn losing_films_end_where_it_was_said() {
    let (mut held, mut asked) = (0, 0);
    for film in films().iter().filter(|f| ["Va ", "XIIIa "].iter().any(|oil| f.name.starts_with(oil))) {
        for day in [4.0, 6.0, 10.0] {
            let told = film.until(day, GainsMass::Unsure).unwrap();
            // The last weight is not the end: what still leaves after it is in the forecast.
            let last = told.at(film.readings[film.readings.len() - 1].t_h);
            let high = told.final_gross_g.high.max(last.high);
            let holds = (told.final_gross_g.low..=high + DIVISION_G).contains(&film.last_g());
            println!(
                "{} at {day} d: {:.4} ({:.4} to {:.4}), last weighed {:.4}: {}",
                film.name,
                told.final_gross_g.mean - PLATE_G,
                told.final_gross_g.low - PLATE_G,
                told.final_gross_g.high - PLATE_G,
                film.last_g() - PLATE_G,
                if holds { "holds" } else { "MISSED" }
            );
            assert!(holds || told.too_early(), "{} at {day} d is surely wrong", film.name);
            (held, asked) = (held + usize::from(holds), asked + 1);
        }
    }
    println!("losing films: {held} of {asked} hold");
    assert!(held >= 7 && asked == 9);
}

/// Films that only gain have no drying curve, and none is made up for them.
#[test]
fn gaining_films_are_refused() {
    for film in films().iter().filter(|f| f.name == "Ia Gardner" || f.name == "Vb Gardner") {
        for day in [4.0, 6.0, 10.0, 18.0] {
            assert!(film.until(day, GainsMass::Yes).is_none(), "{} at {day} d", film.name);
        }
    }
}

/// The film that gains and then loses, and the one that a moth got into: no forecast that is surely wrong.
#[test]
fn odd_films_say_nothing_wrong() {
    for film in films().iter().filter(|f| f.name == "Ia Sabin" || f.name.starts_with("VIIIa")) {
        for day in [4.0, 7.0, 10.0, 13.0, 18.0] {
            let Some(told) = film.until(day, GainsMass::Unsure) else { continue };
            let flagged = told.readings.iter().filter(|s| matches!(s, Standing::Slip { .. })).count();
            println!(
                "{} at {day} d: {:.4} ({:.4} to {:.4}), {flagged} flagged, {:?}, {:?}",
                film.name,
                told.final_gross_g.mean - PLATE_G,
                told.final_gross_g.low - PLATE_G,
                told.final_gross_g.high - PLATE_G,
                told.verdict,
                told.warnings
            );
            let holds = (told.final_gross_g.low..=told.final_gross_g.high).contains(&film.last_g());
            assert!(holds || !told.steady(), "{} at {day} d", film.name);
        }
    }
}

/// A water film to dryness, its minutes taken for hours, as a coat has them: the paper's own weight, where all water is gone,
/// against the forecast as the film dries, and steady is not called while water is left. The loss runs straight and does not
/// say when it ends, so nothing is told but the range down to the least that any coat leaves; and where the curve missed the
/// end, nothing at all.
#[test]
fn water_film_to_dryness() {
    let rows = include_str!("data/real_water_film.csv").lines().filter(|l| !l.starts_with(['#', 't']));
    let all: Vec<(f64, f64)> = rows
        .map(|row| row.split_once(',').unwrap())
        .map(|(s, g)| (s.parse::<f64>().unwrap() / 60.0, g.parse().unwrap()))
        .collect();
    // As a painter would: some twenty weighings.
    let readings: Vec<Weighing> = all.iter().step_by(8).map(|(t, g)| Weighing::new(*t, *g)).collect();
    let (paper_g, dry_h) = (0.0089, 3240.0 / 60.0);
    let balance = Balance::new(Scale::new(DIVISION_G), &[]);
    let (mut held, mut asked) = (0, 0);
    for n in 6..=readings.len() {
        let now = readings[n - 1].t_h;
        let panel = Panel::new(&balance, Some(paper_g), &readings[..n]);
        let Ok(told) = forecast(&panel, &Settings::shown()) else { continue };
        // No coat is believed to leave less than the floor.
        let (low, high) = (told.final_gross_g.low, told.final_gross_g.high);
        let holds = low <= told.floor_gross_g + DIVISION_G && high >= paper_g - DIVISION_G;
        println!(
            "water film at {:.0} s: {:.4} ({:.4} to {:.4}) {}",
            60.0 * now,
            told.final_gross_g.mean,
            told.final_gross_g.low,
            told.final_gross_g.high,
            match (holds, told.too_early()) {
                (true, _) => "holds",
                (false, true) => "missed, and too early to be told",
                (false, false) => "MISSED",
            }
        );
        assert!(told.final_gross_g.low >= 0.0);
        assert!(!told.steady() || now >= dry_h, "steady at {now} h");
        (held, asked) = (held + usize::from(holds), asked + 1);
    }
    println!("water film: {held} of {asked} hold");
    assert!(asked >= 19 && held == asked);
}

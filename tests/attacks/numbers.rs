//! Numbers as they are typed in a hurry: read as meant, asked about, or refused with words; never another number.

use comb_scale::findings::Wording;
use comb_scale::findings::words::{read_near, read_row};
use comb_scale::quantity::{Manner, MassUnit, Units};
use comb_scale::record::Measure;

use crate::{Attacks, same};

/// What becomes of a text.
#[derive(Debug, PartialEq)]
enum Becomes {
    /// It is read so.
    Read(f64),
    /// The painter is asked which of two.
    Asked(&'static str),
    /// It is refused, with a sentence that holds this.
    Refused(&'static str),
}
use Becomes::{Asked, Read, Refused};

type Attempt = (Measure, &'static str, Option<f64>, Becomes);

/// As typed with a point and in the units of the record; the number beside it is one like it.
const TYPED: &[Attempt] = &[
    (Measure::Mass, "426.1", None, Read(426.1)),
    (Measure::Mass, "426,1", None, Read(426.1)),
    (Measure::Mass, "426.1g", None, Read(426.1)),
    (Measure::Mass, "426.1 g", None, Read(426.1)),
    (Measure::Mass, "426.1 G", None, Read(426.1)),
    (Measure::Mass, "\u{a0}426.1\u{a0}g\u{a0}", None, Read(426.1)),
    (Measure::Mass, "426.1 gs", None, Read(426.1)),
    (Measure::Mass, "426.1 oz", None, Refused("Type it in g")),
    (Measure::Mass, "426.1 kg", None, Refused("Type it in g")),
    (Measure::Mass, "426.1x", None, Refused("Type it in g")),
    (Measure::Mass, "4 26", None, Refused("not a number")),
    (Measure::Mass, "426 .1", None, Refused("not a number")),
    (Measure::Mass, "g", None, Refused("not a number")),
    (Measure::Mass, "abc", None, Refused("not a number")),
    (Measure::Mass, "4e2", None, Refused("not a number")),
    (Measure::Mass, "426.1.", None, Refused("one decimal point")),
    (Measure::Mass, "1.234,5", None, Refused("one decimal point")),
    (Measure::Mass, "1,234,567", None, Refused("one decimal point")),
    (Measure::Mass, "1'234", None, Refused("not a number")),
    (Measure::Mass, "٤٢٦", None, Refused("not a number")),
    (Measure::Mass, "1,234", None, Asked("1234 g or 1.234 g?")),
    (Measure::Mass, "1.234", None, Asked("1234 g or 1.234 g?")),
    (Measure::Mass, "1.234 g", None, Asked("1234 g or 1.234 g?")),
    (Measure::Mass, "12,345", Some(400.0), Asked("12345 g or 12.345 g?")),
    (Measure::Mass, "1,234", Some(1240.0), Read(1234.0)),
    (Measure::Mass, "1.234", Some(1190.0), Read(1234.0)),
    (Measure::Mass, "1.234", Some(1.5), Read(1.234)),
    (Measure::Mass, "426,100", Some(430.0), Read(426.1)),
    // No panel weighs half a ton.
    (Measure::Mass, "426,100", None, Read(426.1)),
    (Measure::Mass, "1.2340", None, Read(1.234)),
    (Measure::Mass, "0.234", None, Read(0.234)),
    (Measure::Mass, ".234", None, Read(0.234)),
    (Measure::Mass, "-1,234", None, Read(-1.234)),
    (Measure::Film, "1.234", None, Asked("1234 µm or 1.234 µm?")),
    (Measure::Film, "120um", None, Read(120.0)),
    (Measure::Film, "120 μm", None, Read(120.0)),
    (Measure::Film, "5 mil", None, Refused("Type it in µm")),
    (Measure::Temperature, "19 °C", None, Read(19.0)),
    (Measure::Temperature, "19c", None, Read(19.0)),
    (Measure::Temperature, "66 F", None, Refused("Type it in °C")),
    (Measure::Temperature, "19.125", None, Read(19.125)),
    (Measure::Humidity, "46 %", None, Read(46.0)),
    (Measure::Humidity, "46.125", None, Read(46.125)),
    (Measure::Share, "46.5%", None, Read(0.465)),
    (Measure::Density, "1,325", None, Read(1.325)),
    (Measure::Density, "1.325 g/mL", None, Read(1.325)),
    (Measure::Density, "11 lb/gal", None, Refused("Type it in g/mL")),
    (Measure::Hours, "7.5 h", None, Read(7.5)),
    (Measure::Money, "1,234", None, Asked("1234 or 1.234?")),
    (Measure::Money, "40 EUR", None, Refused("the number alone")),
    (Measure::Litres, "1,250", None, Read(1.25)),
];

fn becomes(attempt: &Attempt, wording: &Wording) -> Result<(), String> {
    let (measure, typed, near, wanted) = attempt;
    let got = read_near(*measure, typed, *near, wording);
    match (wanted, &got) {
        (Read(number), Ok(read)) => same("the number", *read, *number),
        (Asked(question), Err(asked)) => {
            same("the question", &*asked.why, *question)?;
            // Each answer is read as it says, and asks no more.
            let (whole, broken) = (&asked.either[0].1, &asked.either[1].1);
            let again = |typed: &str| read_near(*measure, typed, None, wording).map_err(|asked| asked.why);
            same("a thousand of the other", again(whole)?, again(broken)? * 1000.0)
        }
        (Refused(part), Err(refused)) if refused.why.contains(part) && refused.either.is_empty() => Ok(()),
        _ => Err(format!("it becomes {got:?}, wanted {wanted:?}")),
    }
}

#[test]
fn typed_in_a_hurry() {
    let mut attacks = Attacks::on("numbers as typed");
    for attempt in TYPED {
        attacks.attempt(format!("{:?} {:?} near {:?}", attempt.0, attempt.1, attempt.2), || {
            becomes(attempt, &Wording::default())
        });
    }
    // A scale that shows thousandths is read with them all day; the other mark is still asked about.
    let fine = Wording { division_g: Some(0.001), ..Wording::default() };
    for attempt in
        [(Measure::Mass, "12.345", None, Read(12.345)), (Measure::Mass, "12,345", None, Asked("12345 g or 12.345 g?"))]
    {
        attacks.attempt(format!("{} on a fine scale", attempt.1), || becomes(&attempt, &fine));
    }
    let ounces = Wording { units: Units { mass: MassUnit::Oz, ..Units::STORED }, ..Wording::default() };
    for attempt in [
        (Measure::Mass, "16 oz", None, Read(453.59237)),
        (Measure::Mass, "16 g", None, Refused("Type it in oz")),
        (Measure::Mass, "15.125", Some(430.0), Read(15.125 * 28.349_523_125)),
    ] {
        attacks.attempt(format!("{} in ounces", attempt.1), || becomes(&attempt, &ounces));
    }
    let comma = Manner { comma: true, ..Manner::PLAIN };
    for attempt in [
        (Measure::Mass, "1.234", None, Asked("1234 g or 1,234 g?")),
        (Measure::Mass, "1,234", None, Asked("1234 g or 1,234 g?")),
        (Measure::Mass, "1.234", Some(1200.0), Read(1234.0)),
    ] {
        attacks.attempt(format!("{} near {:?} with a comma", attempt.1, attempt.2), || {
            comma.during(|| becomes(&attempt, &Wording::default()))
        });
    }
    for (typed, wanted) in [
        ("118 121um", Ok(vec![118.0, 121.0])),
        ("1,200 1,250", Err("1,200: 1200 µm or 1.200 µm? Type 1200 or 1.2000.")),
        ("118; 121", Ok(vec![118.0, 121.0])),
    ] {
        attacks.attempt(format!("{typed} in a row"), || {
            let got = read_row(Measure::Film, typed, &Wording::default());
            match (&got, &wanted) {
                (Ok(got), Ok(wanted)) => same("the row", got, wanted),
                (Err(got), Err(wanted)) if got.starts_with(wanted) => Ok(()),
                _ => Err(format!("it becomes {got:?}")),
            }
        });
    }
    attacks.close();
}

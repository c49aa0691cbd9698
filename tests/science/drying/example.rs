//! The example of the science's package, on good tables and bad ones.

#[path = "../../../src/science/examples/forecast.rs"]
#[allow(dead_code, reason = "it is a program, of which only `told` is called here")]
mod forecast;

use crate::simulated::bank;
use forecast::{Trouble, told};

const SAMPLE: &str = include_str!("../../../src/science/examples/weights.csv");

fn options(line: &str) -> Vec<String> {
    line.split_whitespace().map(str::to_owned).collect()
}

/// What stands between two words of the answer, as a number.
fn number(told: &str, after: &str, before: &str) -> f64 {
    let rest = &told[told.find(after).unwrap_or_else(|| panic!("no \"{after}\" in {told}")) + after.len()..];
    rest[..rest.find(before).expect("its end")].trim().parse().expect("a number")
}

/// The sample beside it is panel p040 of the public bank, and its forecast holds the truth.
#[test]
fn the_sample_is_forecast_and_holds() {
    let answer = told(SAMPLE, &[]).unwrap();
    println!("{answer}");
    let panel = bank().into_iter().find(|p| p.id == "p040").unwrap();
    let truth = panel.bare_g + panel.final_coat_g;
    let final_weight = &answer[answer.find("Final weight").unwrap()..];
    assert!(number(final_weight, "(95 %:", "to") <= truth && truth <= number(final_weight, " to ", "g)"), "{truth}");
    for part in ["Shrinkage still to come", "% sure", "one more weighing in 1 d", "days", "solids_percent"] {
        assert!(answer.contains(part), "{part}");
    }
    let with_sheet = told(SAMPLE, &options("--solids_percent 64.9")).unwrap();
    assert!(with_sheet.contains("Without the data sheet's solids") && !with_sheet.contains("(solids_percent)"));
}

/// Commas, semicolons or tabs; days or hours; figures in columns or as options: one table, one answer.
#[test]
fn however_the_table_is_written() {
    let day = |by: f64| -> Vec<(f64, f64)> {
        [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)]
            .map(|(t, g)| (t / by, g))
            .to_vec()
    };
    let lines = |separator: &str, rows: Vec<(f64, f64)>| -> String {
        rows.iter().map(|(t, g)| format!("{t}{separator}{g}\r\n")).collect()
    };
    let plain = told(&format!("h,gross_g\n{}", lines(",", day(1.0))), &options("--bare_g 400 --area_cm2 900")).unwrap();
    let other = [
        format!(
            "h;Gross_g;bare_g;area_cm2\n0;438,6;400;900\n{}",
            lines(";", day(1.0)[1..].to_vec()).replace('.', ",").replace("\r\n", ";;\r\n")
        ),
        format!(
            "\u{feff}# a comment\ngross_g\th\n\n{}",
            day(1.0).iter().map(|(t, g)| format!("\"{g}\"\t{t}\n")).collect::<String>()
        ),
        format!("day, gross_g\n{}", lines(" , ", day(24.0))),
    ];
    for (i, table) in other.iter().enumerate() {
        let figures = if i == 0 { String::new() } else { "--bare_g 400 --area_cm2 900".into() };
        assert_eq!(told(table, &options(&figures)).as_ref(), Ok(&plain), "{table}");
    }
}

/// Every trouble names its line and what to do.
#[test]
fn bad_tables_say_where() {
    let head = "day,gross_g,moved,bare_g";
    for (table, said) in [
        ("", "no line has a weight"),
        ("# nothing but a comment\n", "no line has a weight"),
        ("day,gross_g\n", "no line has a weight"),
        ("day,weight\n0,438.6\n", "line 1: no column is called \"weight\""),
        ("# test\nday,blank_g\n0,438.6\n", "line 2: the table needs one column gross_g, and has 0"),
        ("day,h,gross_g\n0,0,438.6\n", "line 1: the table needs one column day (or h), and has 2"),
        (&format!("{head}\n0,438.6,,400\n1,43l.6,,\n"), "line 3: \"43l.6\" in the column gross_g is no number"),
        (&format!("{head}\n0,438.6,,400\n\n1,431.6\n"), "line 4: 2 cells, where the first line names 4 columns"),
        (&format!("{head}\n0,438.6,,400\n1,431.6,,401\n"), "line 3: bare_g is 401 here and 400 on line 2"),
        (&format!("{head}\n0,438.6,,-3\n"), "line 2: bare_g is -3; it must lie between 0 and 1000000"),
        (&format!("{head}\n,438.6,,\n"), "line 2: a weight without a time"),
        (&format!("{head}\n0,438.6,sun,\n"), "line 2: moved is \"sun\"; it can be warmer, back or nothing"),
        (&format!("{head}\n0,NaN,,\n"), "line 2: \"NaN\" in the column gross_g is no number"),
        (&format!("{head}\n0,438.6,,400\n1,431.6,,\n"), "2 weighings; a forecast needs at least 3"),
        (
            &format!("{head}\n0,398.6,,400\n1,397.6,,\n2,396.0,,\n"),
            "the wet weight is -1.40 g above the bare weight: there is no coat to dry",
        ),
        (
            &format!("{head}\n0,438.6,,400\n1,438.6,,\n2,438.6,,\n"),
            "the weights do not fall by more than the scale scatters: nothing to forecast from",
        ),
    ] {
        assert_eq!(told(table, &[]).unwrap_err().to_string(), said, "{table}");
    }
    for (option, said) in [
        ("--solids 60", "there is no option \"--solids\"; there are --bare_g"),
        ("--bare_g", "--bare_g wants a number after it"),
        ("--bare_g many", "--bare_g wants a number after it"),
        ("--solids_percent 120", "solids_percent is 120; it must lie between 0.1 and 99.9"),
    ] {
        let trouble = told(SAMPLE, &options(option)).unwrap_err();
        assert!(matches!(trouble, Trouble::Option(_)) && trouble.to_string().starts_with(said), "{trouble}");
    }
}

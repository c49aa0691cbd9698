use comb_scale::{findings, record};

#[test]
fn print_the_worked_example() {
    let opened = record::open(record::EXAMPLE).unwrap();
    assert_eq!(opened.remarks, []);
    let now = "2026-03-17T10:00:00+01:00".parse().unwrap();
    let findings = findings::of(&opened.test, now);
    println!("{:#?}\n{:#?}", findings.said, findings.next);
    let tongue = findings::Tongue::default();
    for panel in &findings.panels {
        println!("== {}", panel.label);
        for f in findings::panel_figures(panel, &tongue) {
            println!("  {:<45} {:<28} {}", f.name, f.value.unwrap_or_default(), f.note);
        }
        for flag in &panel.flags {
            println!("  ! {} {}", flag.weigh_in, flag.says);
        }
        for r in &panel.remarks {
            println!("  - {r}");
        }
    }
    println!("{:#?}", findings::side_by_side(&findings, &tongue));
}

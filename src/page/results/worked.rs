//! How a number was worked out: formula, what went in, where it is from, what is taken for granted.

use leptos::prelude::*;

use crate::page::parts::{Line, items, table};
use findings::results::Worked;

/// One number's working.
pub fn worked(of: Worked) -> AnyView {
    let input = |(head, value): (String, String)| Line { head, cells: vec![value], ..Line::default() };
    let inputs = (!of.inputs.is_empty())
        .then(|| table(vec!["What went in".into(), "Value".into()], of.inputs.into_iter().map(input).collect()));
    let share = |share: findings::results::Share| Line {
        head: share.input,
        cells: vec![share.by, share.share],
        ..Line::default()
    };
    let shares = (!of.shares.is_empty()).then(|| {
        table(
            vec!["What it brings to the uncertainty".into(), ["Film, ", of.film].concat(), "Of it, %".into()],
            of.shares.into_iter().map(share).collect(),
        )
    });
    view! {
        <div class="worked">
            <p><strong>{of.value}</strong></p>
            <p class="formula">{of.formula}</p>
            {inputs}
            {shares}
            {items("", &of.assumptions)}
            <p class="quiet">{of.source}</p>
        </div>
    }
    .into_any()
}

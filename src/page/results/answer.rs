//! The answer at a glance: a picture, one sentence, what the evidence is, and the picture to be sent.

use leptos::html::Canvas;
use leptos::prelude::*;

use super::send::{Picture, send};
use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::{derived, lines};
use findings::results::{self, Answer};

/// What can be read in twenty seconds.
pub fn answer(desk: Desk) -> AnyView {
    let answer = derived(move || results::answer(&desk.findings.get(), &desk.current().wording));
    let said = move || answer.with(|answer| vec![answer.sentence.clone()]);
    let evidence = move || answer.with(|answer| vec![answer.evidence.clone()]);
    let below = move || answer.with(Answer::notes);
    let to_send = move || {
        let (answer, test) = (answer.get(), desk.noted());
        let card = answer.card_to_send(&test, &desk.current().wording);
        let high = card.clone();
        Picture {
            name: results::picture_name(&test.title),
            text: answer.text(&test),
            height: Box::new(move |width| high.height(width)),
            lay_out: Box::new(move |look| card.scene(look)),
        }
    };
    view! {
        <section class="answer" aria-label="The answer">
            {picture(desk, answer)}
            {lines("sentence", said)}
            {lines("evidence", evidence)}
            {lines("hint", below)}
            {send("Send this picture", Box::new(to_send))}
        </section>
    }
    .into_any()
}

fn picture(desk: Desk, answer: Signal<Answer>) -> AnyView {
    let canvas = NodeRef::<Canvas>::new();
    let resized = RwSignal::new(());
    device::on_other_look(move || resized.set(()));
    Effect::new(move |_| {
        resized.track();
        let Some(canvas) = canvas.get() else { return };
        let card = answer.with(|answer| answer.card(&desk.current().wording));
        device::draw_as_high(&canvas, &|width| card.height(width), &|look| card.scene(look));
    });
    let told = move || answer.with(|answer| answer.told(&desk.current().wording));
    view! { <canvas class="bars" node_ref=canvas role="img" aria-label=told></canvas> }.into_any()
}

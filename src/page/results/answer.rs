//! The answer at a glance: a picture, one sentence, what the evidence is, and the picture to be sent.

use leptos::html::Canvas;
use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::{button, derived, lines};
use findings::results::{self, Answer};

/// What can be read in twenty seconds.
pub fn answer(desk: Desk) -> AnyView {
    let answer = derived(move || results::answer(&desk.findings.get(), &desk.current().tongue));
    let said = move || answer.with(|answer| vec![answer.sentence.clone()]);
    let evidence = move || answer.with(|answer| vec![answer.evidence.clone()]);
    let below = move || answer.with(Answer::notes);
    let sent = RwSignal::new("");
    let send = move || {
        let (answer, current) = untrack(|| (answer.get(), desk.current()));
        let test = desk.noted();
        let (name, text) = (results::picture_name(&test), answer.text(&test));
        let card = answer.card_to_send(&test, &current.tongue);
        let done =
            move |handed| sent.set(if handed { "" } else { "Not sent: the sheet was closed, or the phone refused." });
        device::send_picture((&name, &text), &|width| card.height(width), &|look| card.scene(look), done);
    };
    view! {
        <section class="answer" aria-label="The answer">
            {picture(desk, answer)}
            {lines("sentence", said)}
            {lines("evidence", evidence)}
            {lines("hint", below)}
            <p class="actions">{button("", "Send this picture", send)}</p>
            <p role="status">{move || sent.get()}</p>
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
        let card = answer.with(|answer| answer.card(&desk.current().tongue));
        device::draw_as_high(&canvas, &|width| card.height(width), &|look| card.scene(look));
    });
    let told = move || answer.with(|answer| answer.told(&desk.current().tongue));
    view! { <canvas class="bars" node_ref=canvas role="img" aria-label=told></canvas> }.into_any()
}

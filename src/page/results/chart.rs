//! The curve: mass lost over time, on a canvas that answers taps.

use leptos::html::Canvas;
use leptos::prelude::*;

use crate::chart::{Scene, TimeAxis};
use crate::device;
use crate::findings::{CurveChoice, CurveOf, curve_text, loss_chart, reading_said};
use crate::page::desk::Desk;
use crate::page::parts::Choices;
use crate::record::Id;

/// The loss of all panels or of one, with the fitted curves.
#[component]
pub fn Curve(desk: Desk) -> impl IntoView {
    let choice = RwSignal::new(CurveChoice { axis: TimeAxis::SquareRoot, ..CurveChoice::default() });
    let canvas = NodeRef::<Canvas>::new();
    let scene = StoredValue::new_local(None::<Scene>);
    let tapped = RwSignal::new(None::<(usize, usize)>);
    let resized = RwSignal::new(());
    device::on_resize(move || resized.set(()));

    Effect::new(move |_| {
        resized.track();
        let Some(canvas) = canvas.get() else { return };
        let found = desk.findings.get();
        let chart = desk.with(|test| loss_chart(test, &found, &choice.get(), desk.now(), &desk.tongue()));
        let chart = match tapped.get() {
            Some((trace, reading)) => chart.chosen(trace, reading),
            None => chart,
        };
        scene.set_value(device::draw(&canvas, &chart));
    });
    let tap = move |event: leptos::ev::MouseEvent| {
        let (x, y) = (f64::from(event.offset_x()), f64::from(event.offset_y()));
        let hit = scene.with_value(|scene| scene.as_ref().and_then(|scene| scene.nearest(x, y)));
        tapped.set(hit.map(|hit| (hit.trace, hit.reading)));
    };
    let said = move || {
        let (trace, reading) = tapped.get()?;
        let found = desk.findings.get();
        desk.with(|test| reading_said(test, &found, &choice.get(), trace, reading, &desk.tongue()))
    };
    let describe = move || curve_text(&desk.findings.get(), &desk.tongue());
    view! {
        <section class="curve">
            <canvas node_ref=canvas class="chart" role="img" aria-label=describe on:click=tap></canvas>
            <p class="hint" aria-live="polite">
                {move || said().unwrap_or_else(|| "Tap a point to read it. Hollow points are left out of the curve.".into())}
            </p>
            <PanelChoice desk choice/>
            <Choices label="Upwards" choices=vec![("lost", CurveOf::Lost), ("% of coat", CurveOf::Share)] chosen=move || choice.get().of choose=move |of| choice.update(|c| c.of = of)/>
            <Choices
                label="Time"
                choices=vec![("even", TimeAxis::Linear), ("√ time", TimeAxis::SquareRoot), ("log", TimeAxis::Log)]
                chosen=move || choice.get().axis
                choose=move |axis| choice.update(|c| c.axis = axis)
            />
        </section>
    }
}

/// All panels, or one.
#[component]
fn PanelChoice(desk: Desk, choice: RwSignal<CurveChoice>) -> impl IntoView {
    let panels =
        move || desk.findings.with(|f| f.panels.iter().map(|p| (p.id.clone(), p.label.clone())).collect::<Vec<_>>());
    let chosen = move || choice.get().panel.map_or(String::new(), |id| id.0);
    let choose = move |id: String| choice.update(|c| c.panel = (!id.is_empty()).then_some(Id(id)));
    view! {
        <label class="select">
            "Panels drawn "
            <select prop:value=chosen on:change:target=move |event| choose(event.target().value())>
                <option value="">"all"</option>
                {move || panels().into_iter().map(|(id, label)| view! { <option value=id.0>{label}</option> }).collect_view()}
            </select>
        </label>
    }
}

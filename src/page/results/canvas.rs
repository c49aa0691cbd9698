//! A chart on a canvas: drawn anew when what it reads changes, answering taps and pinches by the same layout.

use leptos::html::Canvas;
use leptos::prelude::*;

use crate::device;
use crate::page::parts::{Line, fold, live, table};
use chart::{Look, Scene};

/// A chart on a canvas.
pub struct Drawn {
    /// What it says, for those who do not see it.
    pub describe: Signal<String>,
    /// Lays it out; whatever it reads is followed.
    pub lay_out: Box<dyn Fn(&Look) -> Scene>,
    /// The reading tapped: trace and reading.
    pub tapped: RwSignal<Option<(usize, usize)>>,
    /// Zooms about an age, h: closer, or from farther off.
    pub pinch: Box<dyn Fn(f64, bool)>,
    /// The tapped reading in words.
    pub said: Signal<Option<String>>,
    /// What stands there while none is tapped.
    pub usual: Signal<String>,
    /// The heads of the same numbers as a table.
    pub heads: &'static [&'static str],
    /// Its lines.
    pub lines: Signal<Vec<Line>>,
}

impl Drawn {
    /// The chart, what is tapped on it, what can be done about that, and the same numbers as a table.
    pub fn view(self, then: AnyView) -> AnyView {
        let Self { describe, lay_out, tapped, pinch, said, usual, heads, lines } = self;
        let as_table = move || {
            live(move || {
                view! {
                    {table(heads, lines.get())}
                    <p class="hint">"Struck through: left out, or read while the film may have been soft."</p>
                }
                .into_any()
            })
        };
        view! {
            {canvas(describe, lay_out, tapped, pinch)}
            <p class="hint" aria-live="polite">{move || said.get().unwrap_or_else(|| usual.get())}</p>
            {then}
            {fold(|| "The same as a table".into(), false, as_table)}
        }
        .into_any()
    }
}

fn canvas(
    describe: Signal<String>,
    lay_out: Box<dyn Fn(&Look) -> Scene>,
    tapped: RwSignal<Option<(usize, usize)>>,
    pinch: Box<dyn Fn(f64, bool)>,
) -> AnyView {
    let canvas = NodeRef::<Canvas>::new();
    let scene = StoredValue::new_local(None::<Scene>);
    let resized = RwSignal::new(());
    device::on_other_look(move || resized.set(()));
    Effect::new(move |_| {
        resized.track();
        if let Some(canvas) = canvas.get() {
            scene.set_value(device::draw(&canvas, &*lay_out));
        }
    });
    let pinch = StoredValue::new_local(pinch);
    Effect::new(move |_| {
        let Some(canvas) = canvas.get() else { return };
        device::on_pinch(&canvas, move |x, closer| {
            let age = scene.try_with_value(|scene| scene.as_ref().and_then(|scene| scene.age_at(x)));
            if let Some(Some(age)) = age {
                pinch.try_with_value(|pinch| pinch(age, closer));
            }
        });
    });
    let tap = move |event: leptos::ev::MouseEvent| {
        let (x, y) = (f64::from(event.offset_x()), f64::from(event.offset_y()));
        let hit = scene.with_value(|scene| scene.as_ref().and_then(|scene| scene.nearest(x, y)));
        tapped.set(hit.map(|hit| (hit.trace, hit.reading)));
    };
    view! { <canvas node_ref=canvas class="chart" role="img" aria-label=move || describe.get() on:click=tap></canvas> }
        .into_any()
}

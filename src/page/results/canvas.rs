//! A chart on a canvas: drawn anew when what it reads changes, answering taps and pinches by the same layout.

use leptos::html::Canvas;
use leptos::prelude::*;

use crate::chart::{Look, Scene};
use crate::device;

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
}

impl Drawn {
    /// Draws it.
    pub fn view(self) -> AnyView {
        let Self { describe, lay_out, tapped, pinch } = self;
        let canvas = NodeRef::<Canvas>::new();
        let scene = StoredValue::new_local(None::<Scene>);
        let resized = RwSignal::new(());
        device::on_resize(move || resized.set(()));
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
                let age = scene.try_with_value(|scene| scene.as_ref().map(|scene| scene.age_at(x)));
                if let Some(Some(age)) = age {
                    pinch.with_value(|pinch| pinch(age, closer));
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
}

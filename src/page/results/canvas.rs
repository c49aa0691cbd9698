//! A chart on a canvas: drawn anew when what it reads changes, answering taps and pinches by the same layout.

use std::rc::Rc;

use leptos::html::Canvas;
use leptos::prelude::*;

use super::send::{Picture, send};
use crate::device;
use crate::page::parts::{Line, fold, live, table};
use chart::{Look, Scene};
use findings::results::SentChart;

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
    /// What goes with it when it is sent.
    pub to_send: Box<dyn Fn() -> SentChart>,
    /// The heads of the same numbers as a table.
    pub heads: Signal<Vec<String>>,
    /// Its lines.
    pub lines: Signal<Vec<Line>>,
}

impl Drawn {
    /// The chart, what is tapped on it, what can be done about that, and the same numbers as a table.
    pub fn view(self, then: AnyView) -> AnyView {
        let Self { describe, lay_out, tapped, pinch, said, usual, to_send, heads, lines } = self;
        let lay_out: LayOut = lay_out.into();
        let drawn = canvas(describe, lay_out.clone(), tapped, pinch);
        let as_table = move || {
            live(move || {
                view! {
                    {table(heads.get(), lines.get())}
                    <p class="hint">"Struck through: left out, or read while the film may have been soft."</p>
                }
                .into_any()
            })
        };
        view! {
            {drawn}
            <p class="hint" aria-live="polite">{move || said.get().unwrap_or_else(|| usual.get())}</p>
            {then}
            {send("Send this chart", Box::new(move || picture(&to_send(), lay_out.clone())))}
            {fold(|| "The same as a table".into(), false, as_table)}
        }
        .into_any()
    }
}

/// How a chart is laid out, held for the screen and for the picture that is sent.
type LayOut = Rc<dyn Fn(&Look) -> Scene>;

/// How high a chart is in the picture that is sent, CSS px.
const SENT_HEIGHT: f64 = 320.0;

fn picture(sent: &SentChart, lay_out: LayOut) -> Picture {
    let (high, around) = (sent.words.clone(), sent.words.clone());
    Picture {
        name: sent.name.clone(),
        text: sent.text.clone(),
        height: Box::new(move |width| high.height(width, SENT_HEIGHT)),
        lay_out: Box::new(move |look| around.around(look, SENT_HEIGHT, &*lay_out)),
    }
}

fn canvas(
    describe: Signal<String>,
    lay_out: LayOut,
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

//! The curve, mass lost over time, and the film over time; both look at the same panels and the same stretch of time.

use leptos::prelude::*;

use super::canvas::Drawn;
use crate::page::app::Place;
use crate::page::desk::Desk;
use crate::page::parts::{Line, button, choices, derived, fold, live, memo, shown};
use chart::TimeAxis;
use findings::results::{
    CurveChoice, CurveOf, OverTime, SentChart, Zoom, chart_to_send, curve_heads, curve_text, film_heads, film_text,
    loss_chart,
};
use record::Id;

const AXES: [(&str, TimeAxis); 3] =
    [("even", TimeAxis::Linear), ("√ time", TimeAxis::SquareRoot), ("log", TimeAxis::Log)];

/// What both charts show.
#[derive(Clone, Copy)]
struct Sight {
    desk: Desk,
    choice: RwSignal<CurveChoice>,
}

impl Sight {
    /// The point that is tapped, until other panels are drawn: then it would be another one's.
    fn tapped(self) -> RwSignal<Option<(usize, usize)>> {
        let tapped = RwSignal::new(None);
        let whose = memo(move || self.choice.with(|choice| (choice.candidate.clone(), choice.panel.clone())));
        Effect::new(move |_| {
            whose.track();
            tapped.set(None);
        });
        tapped
    }

    fn zoom(self, zoom: Zoom) {
        let found = self.desk.findings.get_untracked();
        self.choice.update(|choice| choice.window = findings::results::zoomed(&found, choice, zoom));
    }

    fn pinched(self, age: f64, closer: bool) {
        self.zoom(if closer { Zoom::In(age) } else { Zoom::Out(age) });
    }

    /// What goes with a chart of it that is sent.
    fn to_send(self, of: OverTime) -> Box<dyn Fn() -> SentChart> {
        let Self { desk, choice } = self;
        Box::new(move || {
            let found = desk.findings.get();
            let current = desk.current();
            chart_to_send(&current.test, &found, of, &choice.get(), &current.wording)
        })
    }

    /// The middle of what is looked at: where the buttons zoom about.
    fn middle(self) -> f64 {
        let found = self.desk.findings.get_untracked();
        findings::results::middle_age(&found, &self.choice.get_untracked())
    }
}

/// Both charts with their choices.
pub fn charts(desk: Desk) -> AnyView {
    let choice = RwSignal::new(CurveChoice { axis: TimeAxis::SquareRoot, ..CurveChoice::default() });
    let sight = Sight { desk, choice };
    let film_up = RwSignal::new(true);
    let head = move || if film_up.get() { OverTime::Film } else { OverTime::Weight }.head();
    let which = choices(
        "Chart",
        vec!["Film".into(), "Weight".into()],
        move || Some(usize::from(!film_up.get())),
        move |place| film_up.set(place == 0),
    );
    view! {
        <section class="curve" aria-label="Charts">
            <h2>{move || head()}</h2>
            <div class="chart-line">
                {which}
                <p class="actions" data-again="">
                    {button("", "Late days", move || sight.zoom(Zoom::Late))}
                    {button("", "All", move || sight.zoom(Zoom::All))}
                </p>
            </div>
            {live(move || if film_up.get() { film(sight) } else { curve(sight) })}
            {fold(|| "More ways to look at it".into(), false, move || controls(sight, film_up))}
        </section>
    }
    .into_any()
}

fn curve(sight: Sight) -> AnyView {
    let Sight { desk, choice } = sight;
    let tapped = sight.tapped();
    let lay_out = move |look: &chart::Look| {
        let found = desk.findings.get();
        let current = desk.current();
        let chart = loss_chart(&current.test, &found, &choice.get(), desk.now(), &current.wording);
        match tapped.get() {
            Some((trace, reading)) => chart.chosen(trace, reading),
            None => chart,
        }
        .scene(look)
    };
    let said = move || {
        let (trace, reading) = tapped.get()?;
        let found = desk.findings.get();
        let current = desk.current();
        findings::results::reading_said(&current.test, &found, &choice.get(), trace, reading, &current.wording)
    };
    let entry = move || {
        let (trace, reading) = tapped.get()?;
        let tapped = desk.findings.with(|found| findings::results::reading_of(found, &choice.get(), trace, reading))?;
        let round = findings::facts::round_of(&desk.current().test, &tapped.0, &tapped.1);
        // A weight of spray day stands among that day's entries, where Weigh does not look.
        let place = if round.is_some() { Place::Weigh } else { Place::Spray };
        let go = move |_| desk.look_at.set(round.as_ref().map(|_| tapped.clone()));
        Some(view! { <a class="button" href=desk.app.address_of(place) on:click=go>"Go to this entry"</a> }.into_any())
    };
    let drawn = Drawn {
        describe: derived(move || curve_text(&desk.findings.get(), &choice.get(), &desk.current().wording)),
        lay_out: Box::new(lay_out),
        tapped,
        pinch: Box::new(move |age, closer| sight.pinched(age, closer)),
        said: derived(said),
        to_send: sight.to_send(OverTime::Weight),
        usual: derived(|| "Tap a point to read it. Hollow points are left out of the curve.".into()),
        heads: derived(move || curve_heads(choice.get().of, &desk.current().wording)),
        lines: derived(move || {
            let found = desk.findings.get();
            let current = desk.current();
            let lines = findings::results::curve_table(&current.test, &found, &choice.get(), &current.wording);
            lines
                .into_iter()
                .map(|line| as_line(line.panel, [line.when, line.age, line.value], line.left_out))
                .collect()
        }),
    };
    drawn.view(shown(entry))
}

fn as_line(head: String, cells: [String; 3], struck: bool) -> Line {
    Line { head, cells: cells.into(), struck, ..Line::default() }
}

fn controls(sight: Sight, film_up: RwSignal<bool>) -> AnyView {
    let Sight { desk, choice } = sight;
    let of = move || {
        let units = CurveOf::ALL.map(|of| of.word().to_owned()).to_vec();
        let of = choices(
            "Upwards",
            units,
            move || CurveOf::ALL.iter().position(|of| *of == choice.get().of),
            move |place| choice.update(|choice| choice.of = CurveOf::ALL[place]),
        );
        (!film_up.get()).then_some(of)
    };
    let axis = choices(
        "Time",
        AXES.map(|(word, _)| word.to_owned()).to_vec(),
        move || AXES.iter().position(|(_, axis)| *axis == choice.get().axis),
        move |place| choice.update(|choice| choice.axis = AXES[place].1),
    );
    view! {
        {which(sight)}
        {shown(of)}
        {axis}
        <p class="actions" data-again="">
            {button("", "Closer", move || sight.zoom(Zoom::In(sight.middle())))}
            {button("", "Farther", move || sight.zoom(Zoom::Out(sight.middle())))}
        </p>
        {shown(move || {
            let said = desk.findings.with(|found| findings::results::window_said(found, &choice.get()))?;
            Some(view! { <p class="hint">{said}</p> }.into_any())
        })}
    }
    .into_any()
}

/// All panels, those of one candidate, or one.
fn which(sight: Sight) -> AnyView {
    let Sight { desk, choice } = sight;
    let options = memo(move || {
        desk.findings.with(|found| {
            let mut options = vec![("all".to_owned(), None, None)];
            for candidate in &found.candidates {
                options.push((candidate.label.clone(), Some(candidate.id.clone()), None));
            }
            for panel in &found.panels {
                options.push((panel.label.clone(), None, Some(panel.id.clone())));
            }
            options
        })
    });
    let choose = move |place: String| {
        let chosen =
            place.parse().ok().and_then(|place: usize| options.with_untracked(|list| list.get(place).cloned()));
        let (_, candidate, panel) = chosen.unwrap_or_default();
        choice.update(|choice| (choice.candidate, choice.panel) = (candidate, panel));
    };
    let list = move || {
        let option = |(place, (label, ..)): (usize, (String, Option<Id>, Option<Id>))| {
            view! { <option value=place.to_string()>{label}</option> }.into_any()
        };
        options.get().into_iter().enumerate().map(option).collect::<Vec<_>>().into_any()
    };
    view! {
        <label class="select">
            "Panels drawn "
            <select on:change:target=move |event| choose(event.target().value())>{live(list)}</select>
        </label>
    }
    .into_any()
}

fn film(sight: Sight) -> AnyView {
    let Sight { desk, choice } = sight;
    let tapped = sight.tapped();
    let lay_out = move |look: &chart::Look| {
        let found = desk.findings.get();
        let current = desk.current();
        let chart = findings::results::film_chart(&current.test, &found, &choice.get(), desk.now(), &current.wording);
        match tapped.get() {
            Some((trace, spot)) => chart.chosen(trace, spot),
            None => chart,
        }
        .scene(look)
    };
    let said = move || {
        let (trace, spot) = tapped.get()?;
        let found = desk.findings.get();
        let current = desk.current();
        findings::results::film_spot_said(&current.test, &found, &choice.get(), trace, spot, &current.wording)
    };
    let drawn = Drawn {
        describe: derived(move || {
            let found = desk.findings.get();
            let current = desk.current();
            film_text(&current.test, &found, &choice.get(), &current.wording)
        }),
        lay_out: Box::new(lay_out),
        tapped,
        pinch: Box::new(move |age, closer| sight.pinched(age, closer)),
        said: derived(said),
        to_send: sight.to_send(OverTime::Film),
        usual: derived(move || {
            let found = desk.findings.get();
            findings::results::film_marks_said(&desk.current().test, &found, &choice.get())
        }),
        heads: derived(move || film_heads(&desk.current().wording)),
        lines: derived(move || {
            let found = desk.findings.get();
            let current = desk.current();
            let lines = findings::results::film_table(&current.test, &found, &choice.get(), &current.wording);
            lines
                .into_iter()
                .map(|line| as_line(line.panel, [line.what, line.when, line.film], line.left_out))
                .collect()
        }),
    };
    drawn.view(().into_any())
}

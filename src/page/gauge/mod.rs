//! Gauge: the dry film, one reading at a time; what the gauge itself is worth.

mod instrument;

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::fields::{NumberField, PanelHead, RowField, SlotField, Typed};
use crate::page::parts::{MomentField, button, choices, derived, each, fold, lines, live, memo};
use findings::gauge::{GaugeReading, GaugeStop};
use quantity::{Micrometres, Quantity};
use record::{Action, Address, Dated, Id, Measure, Owner, Panel, Row, Slot, SpotLine};

/// A visit with the gauge.
#[derive(Clone, Copy)]
struct Visit {
    desk: Desk,
    /// Spots, or the panel form.
    reading: RwSignal<GaugeReading>,
    /// The panel turned to.
    turned: RwSignal<Option<Id>>,
    /// The spot read just before, read back: of which panel, which spot.
    just: RwSignal<Option<(Id, Id)>>,
    /// The shim that is read through, µm.
    shim_um: RwSignal<Option<f64>>,
}

impl Visit {
    /// Stores a reading at its stop.
    fn store(self, stop: &GaugeStop, typed: Option<f64>) -> Result<(), String> {
        let Some(um) = typed else { return Ok(()) };
        let film = |um| Micrometres::new(um).map_err(|trouble| format!("A film {trouble}."));
        let (desk, panel) = (self.desk, stop.panel.clone());
        match &stop.spot {
            Some(spot) => {
                let row = Row::Readings(panel, spot.clone());
                let mut readings = row.read(&desk.noted());
                readings.push(um);
                desk.act(Action::List(row, readings))?;
                self.just.set(Some((stop.panel.clone(), spot.clone())));
            }
            None => {
                let id = desk.fresh_id();
                self.just.set(Some((panel.clone(), id.clone())));
                desk.act(Action::Spot {
                    id,
                    panel,
                    at: desk.now(),
                    place: stop.place.clone(),
                    shim_um: self.shim_um.get_untracked().map(film).transpose()?,
                    readings_um: vec![film(um)?],
                })?;
            }
        }
        Ok(())
    }
}

/// The dry-film readings of a test.
pub fn gauge(desk: Desk) -> AnyView {
    let visit = Visit {
        desk,
        reading: RwSignal::new(GaugeReading::Spots),
        turned: RwSignal::new(None),
        just: RwSignal::new(None),
        shim_um: RwSignal::new(None),
    };
    let panels = desk.ids(|test| findings::facts::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    let due = memo(move || {
        let (turned, current) = (visit.turned.get(), desk.current());
        findings::gauge::gauge_due(
            &current.test,
            visit.reading.get(),
            turned.as_ref(),
            current.now(),
            &desk.app.writer.get_value(),
        )
    });
    let unverified = move || {
        let current = desk.current();
        findings::gauge::verify_first(&current.test, current.now())
    };
    let first = lines("flag", move || unverified().map(str::to_owned).into_iter().collect());
    const HOW: [GaugeReading; 2] = [GaugeReading::Spots, GaugeReading::Form];
    let how = choices(
        "How",
        vec!["Spots of three".into(), "Six-reading form".into()],
        move || HOW.iter().position(|how| *how == visit.reading.get()),
        move |place| visit.reading.set(HOW[place]),
    );
    view! {
        <h1>"Gauge"</h1>
        {first}
        {instrument::instrument(desk)}
        <section class="task" aria-label="Now">
            <div role="status">{lines("just", move || read_back(visit).into_iter().collect())}</div>
            {live(move || {
                // A panel turned to anew has its field anew, with the pad open.
                visit.turned.track();
                match due.get() {
                    Some(stop) => untrack(|| stop_view(visit, stop)),
                    None => view! { <p>"Every panel is read for today."</p> }.into_any(),
                }
            })}
        </section>
        {how}
        {lines("hint", move || vec![findings::gauge::how_to_read(&desk.current().wording)])}
        <h2>"Panels"</h2>
        <div class="cards">{each(panels, move |panel| spots(visit, panel))}</div>
    }
    .into_any()
}

/// The spot read just before, with its panel.
fn read_back(visit: Visit) -> Option<String> {
    let (panel, spot) = visit.just.get()?;
    let current = visit.desk.current();
    let panel = current.test.panels.find(&panel)?;
    let said = findings::gauge::spot_said(&current.test, panel, panel.spots.find(&spot)?, &current.wording);
    Some(format!("{}, {said}", panel.label))
}

/// The reading that is due.
fn stop_view(visit: Visit, stop: GaugeStop) -> AnyView {
    let desk = visit.desk;
    let soft = findings::gauge::too_soft(&desk.noted(), &stop.panel, desk.now());
    // Who reads through a shim has been told why.
    let soft = lines("flag", move || soft.clone().filter(|_| visit.shim_um.get().is_none()).into_iter().collect());
    let (label, of) = (stop.said.clone(), stop.panel.0.clone());
    let store = move |typed| visit.store(&stop, typed);
    let shim = move |um| {
        visit.shim_um.set(um);
        Ok(())
    };
    let through = move || {
        let value = derived(move || visit.shim_um.get());
        view! {
            <NumberField label="Plastic shim" measure=Measure::Film value store=shim hint="For spots begun from now on; empty it for readings on the film itself."/>
        }
        .into_any()
    };
    let head = move || match visit.shim_um.get() {
        Some(_) => "Read through a shim: it is subtracted".to_owned(),
        None => "Read through a shim".to_owned(),
    };
    view! {
        {soft}
        <NumberField label measure=Measure::Film value=Signal::stored(None) store typed=Typed::DueNumber fresh=true of/>
        {fold(head, false, through)}
    }
    .into_any()
}

/// A panel: what the gauge says of it, its spots, how they went on.
fn spots(visit: Visit, panel: Id) -> AnyView {
    let desk = visit.desk;
    let list = {
        let panel = panel.clone();
        desk.ids(move |test| {
            test.panels.find(&panel).map(|p| p.spots.kept().map(|spot| spot.id.clone()).collect()).unwrap_or_default()
        })
    };
    let said = {
        let panel = panel.clone();
        move || findings::gauge::gauge_said(&desk.panels.get(), &panel, &desk.current().wording).into_iter().collect()
    };
    let series = {
        let panel = panel.clone();
        move || {
            let current = desk.current();
            let said = |panel| findings::gauge::series_said(&current.test, panel, &current.wording);
            current.test.panels.find(&panel).map(said).unwrap_or_default()
        }
    };
    let (of, turned, name) = (panel.clone(), panel.clone(), desk.label_of(&Owner::Panel(panel.clone())));
    view! {
        <section class="panel" aria-label=name>
            <PanelHead panel/>
            {lines("", said)}
            {lines("quiet", series)}
            {each(list, move |spot| spot_line(desk, of.clone(), spot))}
            <p class="actions">{button("", "Read this one now", move || visit.turned.set(Some(turned.clone())))}</p>
        </section>
    }
    .into_any()
}

fn spot_line(desk: Desk, panel: Id, spot: Id) -> AnyView {
    let said = {
        let (panel, spot) = (panel.clone(), spot.clone());
        move || {
            let current = desk.current();
            let said = |panel: &Panel| {
                Some(findings::gauge::spot_said(&current.test, panel, panel.spots.find(&spot)?, &current.wording))
            };
            current.test.panels.find(&panel).and_then(said).unwrap_or_default()
        }
    };
    fold(said, false, move || {
        let at = {
            let (panel, spot) = (panel.clone(), spot.clone());
            derived(move || desk.current().test.panels.find(&panel)?.spots.find(&spot)?.at)
        };
        let date = {
            let dated = Dated::Spot(panel.clone(), spot.clone());
            move |at| desk.act(Action::Date(dated.clone(), at))
        };
        let line = |line| Slot::Spot(panel.clone(), spot.clone(), line);
        let removed = Address::spot(&panel, &spot);
        view! {
            <RowField label="Readings" row=Row::Readings(panel.clone(), spot.clone())/>
            <SlotField label="From the nearest edge" of=line(SpotLine::Edge)/>
            <SlotField label="Read through a shim of" of=line(SpotLine::Shim)/>
            <MomentField label="Read at" value=at store=date/>
            {button("plain destroys", "Remove this spot", move || desk.press(Action::Remove(removed.clone())))}
        }
        .into_any()
    })
}

//! Every browser edge but storage: clock, chance, address bar, downloads, focus, waking and ringing, turns between tabs,
//! opening with the network off, the canvas and its pixels.

mod around;
mod files;
mod paper;
mod wake;

use leptos::ev;
use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;

use js_sys::{Function, Reflect};
use leptos::leptos_dom::helpers::{request_animation_frame, set_interval_with_handle, set_timeout};
use leptos::prelude::{
    StoredValue, WithValue, document, on_cleanup, window, window_event_listener, window_event_listener_untyped,
};
use plotters_canvas::CanvasBackend;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{HtmlAnchorElement, HtmlCanvasElement, HtmlElement, TouchEvent};

use chart::{Look, Scene, Theme};
use quantity::{Instant, NotAnInstant};

pub use around::{
    answer_when_asked, ask_lasting, is_lasting, keep_offline, leave_turn, say_refused, set_theme, take_turn, use_newer,
};
pub use files::{HeardFile, copy, on_dropped, read_picked, share_file, shares_files};
pub use paper::print;
pub use wake::{keep_awake, ring};

/// Something that this browser may not have.
fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &name.into()).ok().filter(|it| !it.is_undefined() && !it.is_null())
}

/// Calls a method that this browser may not have.
fn call(of: &JsValue, method: &str, argument: &JsValue) -> Option<JsValue> {
    property(of, method)?.dyn_into::<Function>().ok()?.call1(of, argument).ok()
}

/// The moment, with the offset of this place.
pub fn now() -> Instant {
    let date = js_sys::Date::new_0();
    // A clock set outside 1970 to 2199 is no clock; its zero is as good as any.
    Instant::from_epoch_ms(date.get_time(), -(date.get_timezone_offset() as i32)).unwrap_or(Instant::EPOCH)
}

/// The language of this phone, as a BCP 47 tag; empty where it tells none.
pub fn language() -> String {
    window().navigator().language().unwrap_or_default()
}

/// Whether this phone writes decimals with a comma.
pub fn writes_commas() -> bool {
    let written = || {
        let format = call(&property(&window(), "Intl")?, "NumberFormat", &JsValue::UNDEFINED)?;
        call(&format, "format", &1.5.into())?.as_string()
    };
    written().is_some_and(|text| text.contains(','))
}

/// A slice of work ends with the first step after so many ms: a key pressed meanwhile waits no longer than that.
const SLICE_MS: f64 = 20.0;

/// Calls `step` as long as it says that there is more to do, for a slice of time.
pub fn for_a_slice(step: &mut dyn FnMut() -> bool) {
    let clock = property(&window(), "performance");
    let ticks_ms = || clock.as_ref().and_then(|clock| call(clock, "now", &JsValue::UNDEFINED)?.as_f64());
    let until = ticks_ms().unwrap_or_default() + SLICE_MS;
    while step() && ticks_ms().is_some_and(|ms| ms < until) {}
}

/// The same callback, which does nothing once the part of the page that asks here is gone: a timer, a frame, a promise or a
/// listener may come later than that, and what it would read is gone then too.
pub(crate) fn while_there(act: Box<dyn Fn()>) -> Box<dyn Fn()> {
    let act = StoredValue::new_local(act);
    Box::new(move || {
        act.try_with_value(|act| act());
    })
}

/// Calls `tick` about every second, for as long as the part of the page that asked is there.
pub fn every_second(tick: impl Fn() + 'static) {
    let tick = while_there(Box::new(tick));
    if let Ok(handle) = set_interval_with_handle(tick, Duration::from_secs(1)) {
        on_cleanup(move || handle.clear());
    }
}

/// Calls `tick` with the moment when the minute on the clock has become another one, and when the page comes to the front
/// again in another minute.
pub fn every_minute(tick: impl Fn(Instant) + 'static) {
    let shown = Cell::new(now());
    let look: Rc<dyn Fn()> = Rc::new(move || {
        let at = now();
        if shown.replace(at).to_local() != at.to_local() {
            tick(at);
        }
    });
    let shown = look.clone();
    every_second(move || look());
    on_shown(move || shown());
}

/// Calls `then` once the browser has drawn what is changed by now. The part of the page that asked may be gone by then:
/// what it had is read with `try_` alone.
pub fn after_frame(then: impl Fn() + 'static) {
    let then: Box<dyn Fn()> = Box::new(then);
    // A frame that is asked for comes before the drawing; a task that it sets comes after.
    request_animation_frame(move || set_timeout(then, Duration::ZERO));
}

/// The moment that the text of a date-and-time field means here: summer time is that of the day named, not of today. And
/// whether the clock showed that time twice, being put back: then it is the first of the two.
///
/// # Errors
/// A sentence where the text is no time, or one that the clock, being put forward, never showed.
pub fn local_moment(text: &str) -> Result<(Instant, bool), String> {
    let date = js_sys::Date::new(&JsValue::from_str(text));
    let offset = |of: &js_sys::Date| -(of.get_timezone_offset() as i32);
    let no_time = |trouble: NotAnInstant| format!("The time {trouble}.");
    if date.get_time().is_nan() {
        return Err(no_time(NotAnInstant));
    }
    let at = Instant::from_local(text, offset(&date)).map_err(no_time)?;
    // A time that was left out is shown as another one.
    if (at.hours_since(Instant::EPOCH) - date.get_time() / 3.6e6).abs() > 1e-3 {
        return Err("That time did not exist: the clock was put forward over it. Look at the hour.".into());
    }
    let later = |hours: f64| js_sys::Date::new(&JsValue::from_f64(date.get_time() + hours * 3.6e6));
    let by_min = offset(&date) - offset(&later(3.0));
    let twice = by_min > 0 && offset(&later(f64::from(by_min) / 60.0)) != offset(&date);
    Ok((at, twice))
}

/// So many random letters and digits: names for devices and tests.
pub fn random_name(length: usize) -> String {
    const LETTERS: &[u8] = b"abcdefghijkmnpqrstuvwxyz23456789";
    let letter = |_| char::from(LETTERS[(js_sys::Math::random() * LETTERS.len() as f64) as usize % LETTERS.len()]);
    (0..length).map(letter).collect()
}

/// What stands behind the `#` of the address.
pub fn address() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

/// Goes to an address within the page; the phone's back button returns.
pub fn go_to(address: &str) {
    // Refused only while the page is being left.
    let _ = window().location().set_hash(address);
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// A text as a part of an address: no `/` in it, and nothing that a browser writes otherwise.
pub fn to_address(text: &str) -> String {
    js_sys::encode_uri_component(text).into()
}

/// The text that such a part stands for; the part itself where it is none.
pub fn from_address(part: &str) -> String {
    js_sys::decode_uri_component(part).map_or_else(|_| part.to_owned(), Into::into)
}

/// Takes out what `index.html` shows until the program is there.
pub fn clear_first_paint() {
    if let Some(first) = document().get_element_by_id("first") {
        first.remove();
    }
}

/// What the browser calls this page: where the person is, before the page's own name.
pub fn set_title(parts: &[&str]) {
    let known = parts.iter().filter(|part| !part.is_empty());
    document().set_title(&known.chain(&["Comb & Scale"]).copied().collect::<Vec<_>>().join(" · "));
}

/// Calls `changed` when the address within the page changes.
pub fn on_address(changed: impl Fn() + 'static) {
    window_event_listener(ev::hashchange, move |_| changed());
}

/// Whether the browser offers this page what it offers only over https or from this very machine.
pub fn is_secure() -> bool {
    window().is_secure_context()
}

/// Saves a text as a file.
pub fn download(name: &str, text: &str) {
    download_as(name, text, "text/plain;charset=utf-8");
}

/// Saves a text as a file of a media type.
pub fn download_as(name: &str, text: &str, media_type: &str) {
    save((name, media_type), &JsValue::from_str(text));
}

/// Saves a text or bytes as a file of a name and a media type.
fn save((name, media_type): (&str, &str), content: &JsValue) {
    let kind = web_sys::BlobPropertyBag::new();
    kind.set_type(media_type);
    // The same for texts and bytes: a browser asks each part what it is.
    let Ok(blob) = web_sys::Blob::new_with_blob_sequence_and_options(&js_sys::Array::of1(content), &kind) else {
        return;
    };
    let Ok(url) = web_sys::Url::create_object_url_with_blob(&blob) else { return };
    let anchor = document().create_element("a").ok().and_then(|anchor| anchor.dyn_into::<HtmlAnchorElement>().ok());
    if let Some(anchor) = anchor {
        anchor.set_href(&url);
        anchor.set_download(name);
        anchor.click();
    }
    // The download holds the content by now; its address is let go.
    let _ = web_sys::Url::revoke_object_url(&url);
}

/// Whether this phone writes numbers with a decimal comma.
pub fn writes_decimal_comma() -> bool {
    let number = js_sys::Number::from(1.5);
    number.to_locale_string("default").as_string().is_some_and(|text| text.contains(','))
}

/// Moves on from a number field: to the next one in the page, or just out of it after the last, where
/// `src/offline/focus.js` goes on. It comes back to the field where that has to be mended, or is there for the next number.
pub fn focus_next_number(from: &HtmlElement) {
    let Ok(fields) = document().query_selector_all("input.number") else { return };
    // A field in a fold that is closed takes no focus.
    let open = |field: &HtmlElement| !is_folded(field);
    let all: Vec<HtmlElement> =
        (0..fields.length()).filter_map(|i| fields.item(i)?.dyn_into::<HtmlElement>().ok()).filter(open).collect();
    let next = all.iter().position(|field| field == from).and_then(|place| all.get(place + 1));
    let _ = match next {
        Some(next) => next.focus(),
        None => from.blur(),
    };
}

/// Whether a part of the page stands in a fold that is closed.
pub fn is_folded(part: &HtmlElement) -> bool {
    part.closest("details:not([open])").ok().flatten().is_some()
}

/// Begins typing in a field: opens its pad where the phone lets a page do so.
pub fn focus(field: &HtmlElement) {
    let _ = field.focus();
}

/// Scrolls a part of the page to the top of the screen.
pub fn bring_up(part: &HtmlElement) {
    part.scroll_into_view();
}

/// Whether this very element is being typed in.
pub fn has_focus(element: &HtmlElement) -> bool {
    document().active_element().is_some_and(|active| active.is_same_node(Some(element)))
}

/// Leaves the field being typed in when the page is put away, so that what was typed is stored.
pub fn store_typed_when_hidden() {
    window_event_listener(ev::pagehide, |_| leave_field());
    let hidden = || {
        if document().hidden() {
            leave_field();
        }
    };
    window_event_listener_untyped("visibilitychange", move |_| hidden());
}

/// Calls `shown` when the page comes to the front again.
pub fn on_shown(shown: impl Fn() + 'static) {
    on_shown_boxed(while_there(Box::new(shown)));
}

fn on_shown_boxed(shown: Box<dyn Fn()>) {
    let handle = window_event_listener_untyped("visibilitychange", move |_| {
        if !document().hidden() {
            shown();
        }
    });
    on_cleanup(move || handle.remove());
}

fn leave_field() {
    if let Some(field) = document().active_element().and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
        let _ = field.blur();
    }
}

/// Whether the page is dark at the moment: `src/offline/tab.js` decides.
fn theme() -> Theme {
    let said = document().document_element().and_then(|root| root.get_attribute("data-theme"));
    if said.as_deref() == Some("dark") { Theme::Dark } else { Theme::Light }
}

/// Draws a chart on a canvas as large as its style makes it, sharp at the phone's pixel ratio; gives the laid-out scene,
/// which answers taps. `None` while the canvas is not on screen.
pub fn draw(canvas: &HtmlCanvasElement, lay_out: &dyn Fn(&Look) -> Scene) -> Option<Scene> {
    let (width, height) = (f64::from(canvas.client_width()), f64::from(canvas.client_height()));
    if width < 1.0 || height < 1.0 {
        return None;
    }
    // Under two device pixels a curve has steps; the browser brings a finer picture down.
    let look = Look::new(width, height).ratio(window().device_pixel_ratio().max(2.0)).themed(theme());
    let scene = lay_out(&look);
    let (px_width, px_height) = scene.px_size();
    canvas.set_width(px_width);
    canvas.set_height(px_height);
    let mut backend = CanvasBackend::with_canvas_object(canvas.clone())?;
    scene.paint(&mut backend).ok()?;
    Some(scene)
}

/// Draws a picture that says itself how high it is for a width, on a canvas as wide as its style makes it.
pub fn draw_as_high(canvas: &HtmlCanvasElement, height: &dyn Fn(f64) -> f64, lay_out: &dyn Fn(&Look) -> Scene) {
    let height = height(f64::from(canvas.client_width()));
    let _ = canvas.style().set_property("height", &format!("{height}px"));
    draw(canvas, lay_out);
}

/// Width in CSS px, and device px to each, of a picture that leaves the page: 1080 px, as wide as phones show one another.
const SENT_WIDTH: f64 = 360.0;
const SENT_RATIO: f64 = 3.0;

/// Hands a picture on light ground, as a PNG, to the phone's share sheet with a text, or saves it where there is none; `said`
/// hears whether it was handed on. It must be called within the tap that asks for it.
pub fn send_picture(
    (name, text): (&str, &str),
    height: &dyn Fn(f64) -> f64,
    lay_out: &dyn Fn(&Look) -> Scene,
    said: impl Fn(bool) + 'static,
) {
    let Some(png) = png(&Look::new(SENT_WIDTH, height(SENT_WIDTH)).ratio(SENT_RATIO), lay_out) else { return };
    if !files::share((name, "image/png"), &png, text, said) {
        save((name, "image/png"), &png);
    }
}

fn png(look: &Look, lay_out: &dyn Fn(&Look) -> Scene) -> Option<JsValue> {
    let canvas = document().create_element("canvas").ok()?.dyn_into::<HtmlCanvasElement>().ok()?;
    let (width, height) = look.px_size();
    canvas.set_width(width);
    canvas.set_height(height);
    lay_out(look).paint(&mut CanvasBackend::with_canvas_object(canvas.clone())?).ok()?;
    // The bytes at once, not later by a call back: a share sheet opens within the tap alone.
    let url = canvas.to_data_url().ok()?;
    let bytes = window().atob(url.split_once(',')?.1).ok()?;
    let bytes: Vec<u8> = bytes.chars().map(|c| c as u8).collect();
    Some(js_sys::Uint8Array::from(&bytes[..]).into())
}

/// Two fingers this much farther apart, or closer together, than when they came down are one step of a zoom.
const PINCH_STEP: f64 = 1.4;

/// Calls `zoom` for each step that two fingers on the canvas are moved apart (`true`) or together, with the place between
/// them in CSS px from the left. For as long as the canvas is there.
pub fn on_pinch(canvas: &HtmlCanvasElement, zoom: impl Fn(f64, bool) + 'static) {
    let (of, apart) = (canvas.clone(), Cell::new(None::<f64>));
    let moved = Closure::<dyn FnMut(TouchEvent)>::new(move |event: TouchEvent| {
        let touches = event.touches();
        let (Some(one), Some(other)) = (touches.get(0), touches.get(1)) else {
            apart.set(None);
            return;
        };
        let (x, y) = (f64::from(other.client_x() - one.client_x()), f64::from(other.client_y() - one.client_y()));
        let distance = x.hypot(y).max(1.0);
        let Some(before) = apart.get() else {
            apart.set(Some(distance));
            return;
        };
        if distance > before * PINCH_STEP || distance < before / PINCH_STEP {
            apart.set(Some(distance));
            let middle = f64::from(one.client_x() + other.client_x()) / 2.0;
            zoom(middle - of.get_bounding_client_rect().left(), distance > before);
        }
    });
    for event in ["touchstart", "touchmove", "touchend"] {
        let _ = canvas.add_event_listener_with_callback(event, moved.as_ref().unchecked_ref());
    }
    // The listeners go with the canvas; the browser's own collector frees them.
    moved.forget();
}

/// Calls `changed` whenever what is drawn must be drawn anew: the window has another size, or it went from light to dark.
pub fn on_other_look(changed: impl Fn() + 'static) {
    let changed: Rc<dyn Fn()> = while_there(Box::new(changed)).into();
    for event in ["resize", "themechange"] {
        let changed = changed.clone();
        let handle = window_event_listener_untyped(event, move |_| changed());
        on_cleanup(move || handle.remove());
    }
}

//! Keeping the screen awake, and ringing: both only where the phone allows it. A clock on screen shows the same.

use std::cell::{Cell, RefCell};

use js_sys::Promise;
use leptos::prelude::{document, window, window_event_listener_untyped};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{AudioContext, OscillatorType};

use super::{call, property};

thread_local! {
    /// Whether the screen is to stay awake.
    static WANTED: Cell<bool> = const { Cell::new(false) };
    /// What holds it awake; the phone lets go of it when the page is put away.
    static HELD: RefCell<Option<JsValue>> = const { RefCell::new(None) };
    static LISTENING: Cell<bool> = const { Cell::new(false) };
    static SOUND: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

/// Keeps the screen awake, or lets it sleep again.
pub fn keep_awake(awake: bool) {
    if WANTED.replace(awake) == awake {
        return;
    }
    if !LISTENING.replace(true) {
        window_event_listener_untyped("visibilitychange", |_| hold());
    }
    if awake {
        hold();
    } else if let Some(held) = HELD.take() {
        let _ = call(&held, "release", &JsValue::UNDEFINED);
    }
}

/// Asks for the lock again after the page comes back: phones take it away when it goes.
fn hold() {
    if !WANTED.get() || document().hidden() {
        return;
    }
    let Some(locks) = property(&window().navigator(), "wakeLock") else { return };
    let Some(asked) = call(&locks, "request", &"screen".into()).and_then(|p| p.dyn_into::<Promise>().ok()) else {
        return;
    };
    spawn_local(async move {
        // Refused on an almost empty battery, say.
        let Ok(lock) = JsFuture::from(asked).await else { return };
        if WANTED.get() {
            HELD.set(Some(lock));
        } else {
            let _ = call(&lock, "release", &JsValue::UNDEFINED);
        }
    });
}

/// Rings: three short buzzes and three short tones.
pub fn ring() {
    let _ = call(&window().navigator(), "vibrate", &js_sys::Array::of3(&250.into(), &150.into(), &250.into()));
    // A browser without sound, or one that was never touched, stays silent.
    let _ = tones();
}

fn tones() -> Result<(), JsValue> {
    let context = match SOUND.take() {
        Some(context) => context,
        None => AudioContext::new()?,
    };
    let _ = context.resume()?;
    let begin = context.current_time();
    for tone in 0..3 {
        let oscillator = context.create_oscillator()?;
        oscillator.set_type(OscillatorType::Square);
        oscillator.frequency().set_value(880.0);
        oscillator.connect_with_audio_node(&context.destination())?;
        let at = begin + 0.4 * f64::from(tone);
        oscillator.start_with_when(at)?;
        oscillator.stop_with_when(at + 0.2)?;
    }
    SOUND.set(Some(context));
    Ok(())
}

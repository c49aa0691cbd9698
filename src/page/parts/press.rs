//! Things to press. The closures are boxed, so that the page holds the code of each once.

use leptos::prelude::*;

/// A class that follows what it reads.
type Class = Box<dyn Fn() -> &'static str + Send>;

/// A button; `class` is empty for an ordinary one.
pub fn button(class: &'static str, label: impl Into<String>, press: impl Fn() + 'static) -> AnyView {
    pressed(class, label.into(), Box::new(press))
}

fn pressed(class: &'static str, label: String, press: Box<dyn Fn()>) -> AnyView {
    view! { <button class=class on:click=move |_| press()>{label}</button> }.into_any()
}

/// A button that looks otherwise when something else is to be pressed first.
pub fn button_as(
    class: impl Fn() -> &'static str + Send + 'static,
    label: impl Into<String>,
    press: impl Fn() + 'static,
) -> AnyView {
    pressed_as(Box::new(class), label.into(), Box::new(press))
}

fn pressed_as(class: Class, label: String, press: Box<dyn Fn()>) -> AnyView {
    view! { <button class=move || class() on:click=move |_| press()>{label}</button> }.into_any()
}

/// A button that can be pressed while there is something for it to do.
pub fn button_while(
    can: impl Fn() -> bool + Send + 'static,
    label: &'static str,
    press: impl Fn() + 'static,
) -> AnyView {
    pressed_while(Box::new(can), label, Box::new(press))
}

fn pressed_while(can: Box<dyn Fn() -> bool + Send>, label: &'static str, press: Box<dyn Fn()>) -> AnyView {
    view! { <button class="plain" disabled=move || !can() on:click=move |_| press()>{label}</button> }.into_any()
}

/// A button that says whether it is pressed in (`"true"`, `"false"` or `"mixed"`), with more in it than a word.
pub fn toggle(
    class: impl Fn() -> &'static str + Send + 'static,
    is: impl Fn() -> &'static str + Send + 'static,
    inside: AnyView,
    press: impl Fn() + 'static,
) -> AnyView {
    toggled(Box::new(class), Box::new(is), inside, Box::new(press))
}

fn toggled(class: Class, is: Class, inside: AnyView, press: Box<dyn Fn()>) -> AnyView {
    view! { <button class=move || class() aria-pressed=move || is() on:click=move |_| press()>{inside}</button> }
        .into_any()
}

/// What [`toggle`] is told of something that is so, or is not.
pub fn pressed_in(is: bool) -> &'static str {
    if is { "true" } else { "false" }
}

/// The way to another place, as a button.
pub fn way(class: &'static str, label: &'static str, to: impl Fn() -> String + Send + 'static) -> AnyView {
    let to: Box<dyn Fn() -> String + Send> = Box::new(to);
    view! { <a class=class href=move || to()>{label}</a> }.into_any()
}

/// A box to be ticked.
pub fn tick(label: impl Into<String>, ticked: Signal<bool>, set: impl Fn(bool) + 'static) -> AnyView {
    ticked_box(label.into(), ticked, Box::new(set))
}

fn ticked_box(label: String, ticked: Signal<bool>, set: Box<dyn Fn(bool)>) -> AnyView {
    view! {
        <label class="tick">
            <input type="checkbox" prop:checked=move || ticked.get() on:change:target=move |event| set(event.target().checked())/>
            {label}
        </label>
    }
    .into_any()
}

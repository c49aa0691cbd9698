//! Small views that follow the test. Each closure handed to the view macro brings some kilobytes of its own; these take
//! them boxed, so that the page holds the code once.

use leptos::prelude::*;

/// A view that is made anew whenever what it reads changes.
pub fn live(view: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    boxed(Box::new(view))
}

fn boxed(view: Box<dyn Fn() -> AnyView + Send>) -> AnyView {
    (move || view()).into_any()
}

/// A view that is there only while it is `Some`.
pub fn shown(view: impl Fn() -> Option<AnyView> + Send + 'static) -> AnyView {
    live(move || view().unwrap_or_else(|| ().into_any()))
}

/// Paragraphs of a class, one a line.
pub fn lines(class: &'static str, list: impl Fn() -> Vec<String> + Send + 'static) -> AnyView {
    live(move || paragraphs(class, list()))
}

fn paragraphs(class: &'static str, list: Vec<String>) -> AnyView {
    let line = |line: String| view! { <p class=class>{line}</p> }.into_any();
    list.into_iter().map(line).collect::<Vec<_>>().into_any()
}

/// A list of a class, an item each.
pub fn items<T: AsRef<str>>(class: &'static str, list: &[T]) -> AnyView {
    listed(class, list.iter().map(|item| item.as_ref().to_owned()).collect())
}

fn listed(class: &'static str, list: Vec<String>) -> AnyView {
    let item = |item: String| view! { <li>{item}</li> }.into_any();
    view! { <ul class=class>{list.into_iter().map(item).collect::<Vec<_>>()}</ul> }.into_any()
}

/// A value worked out from others whenever it is read.
pub fn derived<T: Send + Sync + 'static>(of: impl Fn() -> T + Send + Sync + 'static) -> Signal<T> {
    derived_boxed(Box::new(of))
}

fn derived_boxed<T: Send + Sync + 'static>(of: Box<dyn Fn() -> T + Send + Sync>) -> Signal<T> {
    Signal::derive(move || of())
}

/// A value worked out from others when they change, and told on only when it is another.
pub fn memo<T: PartialEq + Send + Sync + 'static>(of: impl Fn() -> T + Send + Sync + 'static) -> Memo<T> {
    memo_boxed(Box::new(of))
}

fn memo_boxed<T: PartialEq + Send + Sync + 'static>(of: Box<dyn Fn() -> T + Send + Sync>) -> Memo<T> {
    Memo::new(move |_| of())
}

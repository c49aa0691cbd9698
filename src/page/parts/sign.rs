//! The marks by which candidates are told apart.

use chart::Mark;
use leptos::prelude::*;

/// The sign of a mark, the same beside a candidate's name everywhere; nothing while there is none.
pub fn sign(mark: Memo<Option<Mark>>) -> AnyView {
    let class = move || match mark.get() {
        None => "mark",
        Some(Mark::Circle) => "mark m1",
        Some(Mark::Square) => "mark m2",
        Some(Mark::Triangle) => "mark m3",
        Some(Mark::Diamond) => "mark m4",
        Some(Mark::Cross) => "mark m5",
    };
    let drawn = move || match mark.get() {
        None => "",
        Some(Mark::Circle) => "●",
        Some(Mark::Square) => "■",
        Some(Mark::Triangle) => "▲",
        Some(Mark::Diamond) => "◆",
        Some(Mark::Cross) => "✕",
    };
    view! { <span class=move || class() aria-hidden="true">{move || drawn()}</span> }.into_any()
}

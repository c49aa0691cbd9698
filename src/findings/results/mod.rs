//! What Results shows: candidates side by side, charts with their tables, and how each number was worked out.

mod answer;
mod beside;
mod curve;
mod figures;
mod film;
mod sent;
mod solids;
mod worked;

pub use answer::{Answer, Glance, answer};
pub use beside::{Cell, Lane, Row, RowKey, RowPair, Sorting, Table, notes_said, side_by_side};
pub use curve::{
    CurveChoice, CurveLine, CurveOf, Zoom, curve_heads, curve_table, curve_text, loss_chart, middle_age, reading_of,
    reading_said, window_said, zoomed,
};
pub use figures::{FigureKey, figure_keys, panel_figure, panel_figures, panel_in_short, told_in_short};
pub use film::{FilmLine, film_chart, film_heads, film_marks_said, film_spot_said, film_table, film_text};
pub use sent::{OverTime, SentChart, chart_to_send, dates_weighed, picture_name};
pub use solids::sheet_choice;
pub use worked::{Share, Worked, worked_beside, worked_figure};

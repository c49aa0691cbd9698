//! Moves, the present and the sanding day: which get a rule, which a word.

use super::frame::{Moment, MomentKind};
use super::layout::AgeScale;
use super::picture::Picture;
use super::place::{self, Flag};
use super::span::Span;
use super::text;

/// Least room for a move that gets a whole rule, on the average over the plot, CSS px.
const ROOM_A_MOVE: f64 = 36.0;

/// A moment on the plot.
pub(super) struct Pole {
    pub x: f64,
    pub kind: MomentKind,
    /// Whether the rule runs the whole height; a crowd of moves stands as short ticks on the axis.
    pub whole: bool,
    pub word: String,
    pub flag: Option<Flag>,
}

/// The moments of a picture, placed.
pub(super) struct Flags(pub Vec<Pole>);

impl Flags {
    /// Places words above the plot between `left` and `right`. The sanding day and the present come first. Where panels
    /// move often, say into the sun each morning, only the first move to each place gets a rule and a word.
    pub fn of(picture: &Picture, ages: Span, time: &AgeScale, size: f64, rows: usize, left: f64, right: f64) -> Self {
        let width = time.x(ages.high()) - time.x(ages.low());
        let mut shown: Vec<&Moment> = picture.frame.moments.iter().filter(|m| ages.holds(m.t_h)).collect();
        order::sort_by(&mut shown, |a, b| a.kind.cmp(&b.kind).then(a.t_h.total_cmp(&b.t_h)));
        let moves = shown.iter().filter(|m| m.kind == MomentKind::Move).count();
        let most = (width / ROOM_A_MOVE) as usize;
        let crowded = moves > most;

        let mut poles: Vec<Pole> = Vec::new();
        for moment in shown {
            let x = time.x(moment.t_h);
            let first = || {
                let ruled = || poles.iter().filter(|p| p.kind == MomentKind::Move && p.whole);
                ruled().count() < most && ruled().all(|p| p.word != moment.word)
            };
            let whole = moment.kind != MomentKind::Move || !crowded || first();
            // No more ticks than can be told apart.
            if whole || poles.iter().all(|p| (p.x - x).abs() >= 2.0) {
                poles.push(Pole { x, kind: moment.kind, whole, word: moment.word.clone(), flag: None });
            }
        }
        for pole in &mut poles {
            pole.word = if pole.whole { text::fit(&pole.word, size, 0.6 * width) } else { String::new() };
        }
        let wants: Vec<_> = poles.iter().map(|p| (p.x, text::width(&p.word, size))).collect();
        // To the right of the pole or to the left, whichever leaves fewer without a word; the telling ones count first.
        let tries = [true, false].map(|side| place::flags(&wants, rows, 3.0, (left, right), side));
        let telling = poles.iter().filter(|p| p.kind != MomentKind::Move).count();
        let worded = |flags: &[Option<Flag>]| flags.iter().flatten().count();
        let [first, second] = tries;
        let rank = |flags: &[Option<Flag>]| (worded(&flags[..telling]), worded(flags));
        let placed = if rank(&second) > rank(&first) { second } else { first };
        poles.iter_mut().zip(placed).for_each(|(pole, flag)| pole.flag = flag);
        Self(poles)
    }

    /// Rows of words needed.
    pub fn rows(&self) -> usize {
        self.0.iter().filter_map(|p| p.flag).map(|f| f.row + 1).max().unwrap_or(0)
    }
}

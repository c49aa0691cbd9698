//! Keeping words and intervals out of each other's way.

/// Moves places apart so that neighbours keep `step` between them, each as near to where it wants to be as the others
/// allow (least squares: isotonic regression of what each wants less the room of those before it, by pooling adjacent
/// violators; Barlow et al., "Statistical inference under order restrictions", 1972). The result stays within `low`
/// and `high` if they have room for all; wants must be rising.
pub(super) fn apart(wants: &[f64], step: f64, low: f64, high: f64) -> Vec<f64> {
    // Blocks of (sum, count) with rising means.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (i, want) in wants.iter().enumerate() {
        blocks.push((want - i as f64 * step, 1));
        while let [.., (s0, n0), (s1, n1)] = blocks[..]
            && s0 / n0 as f64 > s1 / n1 as f64
        {
            blocks.pop();
            blocks.pop();
            blocks.push((s0 + s1, n0 + n1));
        }
    }
    let highest = (high - step * wants.len().saturating_sub(1) as f64).max(low);
    blocks
        .into_iter()
        .flat_map(|(sum, count)| std::iter::repeat_n((sum / count as f64).clamp(low, highest), count))
        .enumerate()
        .map(|(i, y)| y + i as f64 * step)
        .collect()
}

/// Gives each interval the first of `most` lanes where it meets the fewest others.
pub(super) fn lanes(intervals: &[(f64, f64)], gap: f64, most: usize) -> Vec<usize> {
    let mut taken: Vec<Vec<(f64, f64)>> = Vec::new();
    intervals
        .iter()
        .map(|&(low, high)| {
            let met = |lane: &Vec<(f64, f64)>| lane.iter().filter(|(l, h)| high + gap >= *l && low - gap <= *h).count();
            let (lane, meets) =
                taken.iter().map(met).enumerate().min_by_key(|(_, meets)| *meets).unwrap_or((0, usize::MAX));
            let lane = if meets > 0 && taken.len() < most { taken.len() } else { lane };
            if lane == taken.len() {
                taken.push(Vec::new());
            }
            taken[lane].push((low, high));
            lane
        })
        .collect()
}

/// A flag: a word beside the top of its pole, in a row above the plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Flag {
    /// Row of the word, counted upwards from the plot.
    pub row: usize,
    /// Whether the word stands right of the pole.
    pub right: bool,
}

/// Places flags, the first first: each on the lowest row and side where no word meets another word or a pole. A flag
/// with no such place stays without its word.
///
/// `flags` holds the pole's x and the word's width; words stay within `stretch`. `right` is the side tried first.
pub(super) fn flags(
    flags: &[(f64, f64)],
    rows: usize,
    gap: f64,
    stretch: (f64, f64),
    right: bool,
) -> Vec<Option<Flag>> {
    // Pole, word's stretch, row.
    let mut placed: Vec<(f64, (f64, f64), usize)> = Vec::new();
    flags
        .iter()
        .map(|&(x, width)| {
            let found = (0..rows).flat_map(|row| [right, !right].map(|right| Flag { row, right })).find(|flag| {
                let word = if flag.right { (x + gap, x + gap + width) } else { (x - gap - width, x - gap) };
                let inside = width > 0.0 && word.0 >= stretch.0 && word.1 <= stretch.1;
                inside
                    && placed.iter().all(|&(pole, other, row)| {
                        let words_meet = word.0 < other.1 + gap && other.0 < word.1 + gap;
                        let pole_cuts_word = row >= flag.row && (word.0 - 1.0..=word.1 + 1.0).contains(&pole);
                        let word_cut_by_pole = flag.row >= row && (other.0 - 1.0..=other.1 + 1.0).contains(&x);
                        !(row == flag.row && words_meet || pole_cuts_word || word_cut_by_pole)
                    })
            });
            if let Some(flag) = found {
                let word = if flag.right { (x + gap, x + gap + width) } else { (x - gap - width, x - gap) };
                placed.push((x, word, flag.row));
            }
            found
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_move_apart_no_further_than_needed() {
        assert_eq!(apart(&[10.0, 50.0], 14.0, 0.0, 100.0), [10.0, 50.0]);
        assert_eq!(apart(&[50.0, 50.0, 50.0], 10.0, 0.0, 100.0), [40.0, 50.0, 60.0]);
        assert_eq!(apart(&[98.0, 99.0], 10.0, 0.0, 100.0), [90.0, 100.0]);
        assert!(apart(&[], 10.0, 0.0, 100.0).is_empty());
    }

    #[test]
    fn intervals_that_meet_take_lanes_of_their_own() {
        assert_eq!(lanes(&[(0.0, 2.0), (1.0, 3.0), (4.0, 5.0), (1.5, 4.5)], 0.0, 3), [0, 1, 0, 2]);
        assert_eq!(lanes(&[(0.0, 2.0), (1.0, 3.0), (2.5, 3.0), (2.9, 4.0)], 0.0, 2), [0, 1, 0, 0]);
    }

    #[test]
    fn flags_turn_or_climb_rather_than_meet() {
        let at = |row, right| Some(Flag { row, right });
        assert_eq!(flags(&[(50.0, 30.0), (90.0, 30.0)], 2, 3.0, (0.0, 100.0), true), [at(0, true), at(1, false)]);
        assert_eq!(flags(&[(50.0, 30.0), (60.0, 30.0)], 1, 3.0, (0.0, 100.0), true), [at(0, true), None]);
        assert_eq!(flags(&[(50.0, 20.0), (40.0, 20.0)], 1, 3.0, (0.0, 100.0), true), [at(0, true), at(0, false)]);
    }
}

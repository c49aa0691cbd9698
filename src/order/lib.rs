//! One sort for lists of every kind: the standard one brings some 10 kB of code to the page for each type it sorts.

use std::cmp::Ordering;

/// Sorts a list. Equals stay in the order in which they stood.
///
/// ```
/// let mut ages = [("c", 2.0_f64), ("a", 1.0), ("b", 1.0)];
/// order::sort_by(&mut ages, |a, b| a.1.total_cmp(&b.1));
/// assert_eq!(ages.map(|age| age.0), ["a", "b", "c"]);
/// ```
pub fn sort_by<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let order = places(list.len(), &|a, b| compare(&list[a], &list[b]));
    arrange(order, &mut |a, b| list.swap(a, b));
}

/// The places of so many items, in the order in which they should stand.
#[inline(never)]
pub fn places(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|&a, &b| compare(a, b));
    order
}

/// Swaps items until the one from `order[i]` stands at each place `i`.
#[inline(never)]
pub fn arrange(mut order: Vec<usize>, swap: &mut dyn FnMut(usize, usize)) {
    // Round each ring of places that change hands; a place is done once it is said to hold its own item.
    for start in 0..order.len() {
        let mut place = start;
        while order[place] != start {
            let from = order[place];
            swap(place, from);
            order[place] = place;
            place = from;
        }
        order[place] = place;
    }
}

//! Work over many things, some at a time on each core where there are enough of them for that to pay. What
//! comes out, and in which order, has nothing to do with the number of cores.

use rayon::prelude::*;
use std::cmp::Ordering;
use std::ops::Range;

/// Fewer things than this are dealt with one after another.
const ENOUGH: usize = 4096;

/// So many things are dealt with at a time.
const AT_A_TIME: usize = 1024;

/// What `of` makes of each of so many things, in order.
pub(crate) fn each<T: Send>(count: usize, of: impl Fn(usize) -> T + Sync) -> Vec<T> {
    if count < ENOUGH {
        return (0..count).map(of).collect();
    }
    (0..count).into_par_iter().with_min_len(AT_A_TIME).map(&of).collect()
}

/// What `of` makes of stretches of so many things, one after another.
pub(crate) fn gather<T: Send>(count: usize, of: impl Fn(Range<usize>) -> Vec<T> + Sync) -> Vec<T> {
    if count < ENOUGH {
        return of(0..count);
    }
    let stretches = count.div_ceil(AT_A_TIME);
    let parts: Vec<Vec<T>> =
        (0..stretches).into_par_iter().map(|i| of(i * AT_A_TIME..((i + 1) * AT_A_TIME).min(count))).collect();
    parts.into_iter().flatten().collect()
}

/// What `of` makes of each of some large things, in order: as many at a time as there are cores.
pub(crate) fn each_large<T: Send>(count: usize, of: impl Fn(usize) -> T + Sync) -> Vec<T> {
    if count < 2 {
        return (0..count).map(of).collect();
    }
    (0..count).into_par_iter().with_max_len(1).map(&of).collect()
}

/// Sorts things; those alike stay in their order.
pub(crate) fn sort<T: Send>(things: &mut [T], by: impl Fn(&T, &T) -> Ordering + Sync) {
    if things.len() < ENOUGH { things.sort_by(by) } else { things.par_sort_by(by) }
}

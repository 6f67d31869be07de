//! As many ties as the rules ask for, where coverage alone needs fewer.

use super::board::Board;
use super::chain::rung_before;
use super::main_rows;
use crate::elevation::{Elevation, Fix, Style};
use crate::rules::RuleSet;

/// Steps between the closest spacing worth trying and the rules' own.
const STEPS: usize = 4;

/// Field spacings to try, mm, the closest first: from a plain grid with the number of ties per m2 that
/// the rules ask for, edge ties that come on top included, to the rules' own spacing. That alone where it
/// has enough ties by itself, and in an even layout round openings: which is taken would hang on a tie more or fewer
/// about one of them. `fewest` ties are wanted on `area` m2.
pub(super) fn spacings(elevation: &Elevation, rules: &RuleSet, fewest: usize, area: f64) -> Vec<(f64, f64)> {
    let (h, v) = (rules.horizontal.value, rules.vertical.value);
    let Some(mut per_m2) = rules.density.value.minimum() else { return vec![(h, v)] };
    if elevation.style == Style::Even && !elevation.openings.is_empty() {
        return vec![(h, v)];
    }
    if rules.density.value.edges_on_top() && area > 0.0 {
        per_m2 = fewest as f64 / area;
    }
    // The height a row really serves: whole courses.
    let courses = elevation.coursing.courses_within(v) as f64 * elevation.coursing.gauge;
    let row = if elevation.coursing.fix == Fix::Anywhere || courses <= 0.0 { v } else { courses };
    let closest = 1e6 / per_m2.max(1e-9);
    if h * row <= closest * 1.03 {
        return vec![(h, v)];
    }
    (0..=STEPS)
        .map(|i| {
            let area = closest + (h * row - closest) * i as f64 / STEPS as f64;
            // Closer along the wall first, then up it too, keeping the field near to square.
            if area / row >= row.min(h) * 0.6 {
                ((area / row).min(h), v)
            } else {
                let side = area.sqrt();
                (side.min(h), side.min(v))
            }
        })
        .collect()
}

/// Rows and columns of places half-way between the ties of main rows, in the order they are filled: any so many of
/// the first levels are spread evenly over the wall.
const LEVELS: [[u8; 8]; 8] = [
    [0, 16, 4, 20, 1, 17, 5, 21],
    [24, 8, 28, 12, 25, 9, 29, 13],
    [6, 22, 2, 18, 7, 23, 3, 19],
    [30, 14, 26, 10, 31, 15, 27, 11],
    [1, 17, 5, 21, 0, 16, 4, 20],
    [25, 9, 29, 13, 24, 8, 28, 12],
    [7, 23, 3, 19, 6, 22, 2, 18],
    [31, 15, 27, 11, 30, 14, 26, 10],
];

/// A level that is filled whole has at least this share of the number wanted.
const LEVEL: f64 = 0.04;

/// Adds ties half-way between those of main rows, level by level, until there are `fewest`.
///
/// A level is filled or not as a whole where the wall has openings: which places are filled then hangs on the number
/// that is missing only where it crosses from one level to the next, and one tie fewer about a window does not put
/// one somewhere else.
fn fill_levels(board: &mut Board<'_>, fewest: usize, whole: bool) {
    let mut levels: Vec<Vec<(usize, f64)>> = vec![Vec::new(); 32];
    let h = 2.0 * board.half_h;
    for row in main_rows::of(board) {
        let band = ((board.rows[row].y - board.foot) / (2.0 * board.half_v) + 0.13).floor() as i64;
        for &(lo, hi) in &board.rows[row].runs.0 {
            let mut x = rung_before(board, row, lo) + board.half_h;
            while x <= hi {
                if x >= lo {
                    let bay = ((x - board.axis).abs() / h + 0.13).floor() as i64;
                    let level = LEVELS[band.rem_euclid(8) as usize][bay.rem_euclid(8) as usize];
                    levels[usize::from(level)].push((row, x));
                }
                x += h;
            }
        }
    }
    let mut count = board.count();
    // Where they are filled whole, fewer and larger ones: the larger, the less often one is crossed.
    let least = if whole { (LEVEL * fewest as f64) as usize } else { 0 };
    let mut grouped: Vec<Vec<(usize, f64)>> = Vec::new();
    for level in levels {
        match grouped.last_mut() {
            Some(last) if last.len() < least => last.extend(level),
            _ => grouped.push(level),
        }
    }
    for level in grouped {
        for (row, x) in level {
            if count >= fewest && !whole {
                return;
            }
            if distance_to_ties(board, row, x) >= board.half_h.min(board.half_v) / 2.0
                && board.is_free(row, x)
            {
                board.add(row, x, false);
                count += 1;
            }
        }
        if count >= fewest {
            return;
        }
    }
}

/// Adds ties until there are `fewest`: on levels first, then each where it is furthest from the others. Where `whole`
/// the last level may bring a few more.
pub(super) fn run(board: &mut Board<'_>, fewest: usize, whole: bool) {
    if board.count() < fewest && board.even {
        fill_levels(board, fewest, whole);
    }
    let mut count = board.count();
    let mut step = board.half_h / 2.0;
    while count < fewest {
        let mut places = candidates(board, step);
        if places.is_empty() {
            if step < 2.0 {
                return;
            }
            step /= 3.0;
            continue;
        }
        places.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)).then(a.1.total_cmp(&b.1)));
        let before = count;
        for (row, x, apart) in places {
            if count >= fewest {
                return;
            }
            // Still as far from the others as it was, those just added among them?
            if distance_to_ties(board, row, x) >= apart - 1e-6 && board.is_free(row, x) {
                board.add(row, x, false);
                count += 1;
            }
        }
        if count == before {
            if step < 2.0 {
                return;
            }
            step /= 3.0;
        }
    }
}

/// Places where a tie may stand, with their distance from the nearest tie.
fn candidates(board: &Board<'_>, step: f64) -> Vec<(usize, f64, f64)> {
    let mut out = Vec::new();
    for row in 0..board.rows.len() {
        let runs = &board.rows[row].runs;
        for &(lo, hi) in &board.clear_of_ties(row, runs).0 {
            let n = ((hi - lo) / step).floor() as usize;
            for i in 0..=n {
                let x = if n == 0 { f64::midpoint(lo, hi) } else { lo + (hi - lo) * i as f64 / n as f64 };
                out.push((row, x, distance_to_ties(board, row, x)));
            }
        }
    }
    out
}

/// Distance to the nearest tie, no further than the field spacing, mm.
fn distance_to_ties(board: &Board<'_>, row: usize, x: f64) -> f64 {
    let limit = board.half_h.max(board.half_v) * 2.0;
    let mut best = limit;
    let y = board.rows[row].y;
    let mut look = |other: usize| {
        let dy = (board.rows[other].y - y).abs();
        if dy >= best {
            return false;
        }
        let ties = &board.on_row[other];
        let at = ties.partition_point(|t| t.0 < x);
        for t in ties[at..].iter().take(1).chain(ties[..at].iter().rev().take(1)) {
            best = best.min((t.0 - x).hypot(dy));
        }
        true
    };
    let mut r = row;
    while look(r) && r > 0 {
        r -= 1;
    }
    let mut r = row + 1;
    while r < board.rows.len() && look(r) {
        r += 1;
    }
    best
}

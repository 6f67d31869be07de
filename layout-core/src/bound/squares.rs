//! Squares of the masonry that need a tie each, no two of them the same.
//!
//! Going up, a square can be chosen where the wall is not taken by those chosen below. That changes only where
//! wall begins, and where a chosen duty is left behind: at such heights, and nowhere else, a stretch of wall is
//! looked at.

use super::HAIR;
use super::duty::{Places, courses, first_course, top_of};
use super::rows::Rows;
use super::taken::Taken;
use crate::elevation::Elevation;
use crate::masonry::{Cell, Intervals, Masonry, Spans, Strips};
use crate::rules::RuleSet;
use crate::units::{EPSILON, SLIVER, floor};

/// Where a wall widens going up, it is looked at this often, mm.
const LEVEL_STEP: f64 = 25.0;

/// A stretch to look at, from one x to another, at a height in thousandths of a millimetre.
#[derive(Clone, Copy)]
struct Stretch {
    level: i64,
    from: f64,
    to: f64,
}

/// A height as a level, not below it.
fn level(y: f64) -> i64 {
    -floor(-y * 1000.0) as i64
}

/// A wall to choose squares in.
pub(super) struct Wall<'a> {
    elevation: &'a Elevation,
    masonry: &'a Masonry,
    half_h: f64,
    half_v: f64,
    /// Where wall begins, going up.
    begins: Vec<Stretch>,
}

impl<'a> Wall<'a> {
    pub(super) fn new(elevation: &'a Elevation, masonry: &'a Masonry, rules: &RuleSet) -> Self {
        let (half_h, half_v) = (rules.horizontal.value / 2.0, rules.vertical.value / 2.0);
        let base = masonry.height_range().map_or(0.0, |r| r.0);
        let mut begins = Vec::new();
        for bay in &masonry.bays.bays {
            begins_of(bay, base, &mut begins);
        }
        Self { elevation, masonry, half_h, half_v, begins }
    }

    /// Number of squares that can be chosen beside what is taken, no two of all with a place in common; takes
    /// their places.
    pub(super) fn squares_beside(&self, taken: &mut Taken, rows: &Rows) -> usize {
        let Some((base, top)) = self.masonry.height_range() else { return 0 };
        let mut calendar = Calendar::new(level(base), level(top));
        for &stretch in &self.begins {
            calendar.add(stretch);
        }
        for d in &taken.places {
            calendar.add(self.left_behind(d));
        }
        let mut count = 0;
        let (mut wall, mut holes, mut places) = (Intervals::empty(), Vec::new(), Vec::new());
        // Above an opening or a joint one tie may serve squares on both sides of it.
        let (mut now, mut clear_from) = (i64::MIN, f64::NEG_INFINITY);
        while let Some(stretch) = calendar.next() {
            if stretch.level != now {
                (now, clear_from) = (stretch.level, f64::NEG_INFINITY);
            }
            let y = stretch.level as f64 / 1000.0;
            wall_at(self.masonry, y, stretch.from, stretch.to, &mut wall.0);
            if wall.is_empty() {
                continue;
            }
            let (low, high) = (y - self.half_v - HAIR, y + SLIVER + self.half_v + HAIR);
            let row = courses(self.elevation.coursing, low, high);
            self.holes(taken, &stretch, row, &mut holes);
            for (from, to) in wall.without(&mut holes).0 {
                let mut x = from.max(clear_from);
                while x <= to {
                    let (left, right) = (x - self.half_h - HAIR, x + SLIVER + self.half_h + HAIR);
                    rows.places((left, right), row, &mut places);
                    if places.is_empty() {
                        // No tie serves it: there is no layout without breach.
                        x += 2.0 * self.half_h;
                        continue;
                    }
                    taken.push(&places);
                    for d in &places {
                        calendar.add(self.left_behind(d));
                    }
                    count += 1;
                    let end = places.iter().map(|d| d.right).fold(f64::NEG_INFINITY, f64::max);
                    x = (end + self.half_h + 2.0 * HAIR).max(x + HAIR);
                    clear_from = x;
                }
            }
        }
        count
    }

    /// The stretch that a duty takes, at the first level where it takes it no more.
    fn left_behind(&self, d: &Places) -> Stretch {
        let y = top_of(self.elevation.coursing, d.high) + self.half_v + HAIR;
        let mut level = floor(y * 1000.0) as i64 + 1;
        let reaches = |level: i64| {
            let low = level as f64 / 1000.0 - self.half_v - HAIR;
            first_course(self.elevation.coursing, low) <= d.high
        };
        if reaches(level) {
            level += 1;
        }
        Stretch { level, from: d.left - self.half_h - SLIVER - HAIR, to: d.right + self.half_h + HAIR }
    }

    /// What chosen duties take of a stretch.
    fn holes(&self, taken: &Taken, s: &Stretch, row: (i64, i64), holes: &mut Vec<(f64, f64)>) {
        holes.clear();
        let about = Places {
            left: s.from - self.half_h - HAIR,
            right: s.to + self.half_h + SLIVER + HAIR,
            low: row.0,
            high: row.1,
        };
        taken.each_meeting(&about, |d| {
            holes.push((d.left - self.half_h - SLIVER - HAIR, d.right + self.half_h + HAIR));
        });
    }
}

/// Where wall begins in a bay, going up: over all that is open below, and where it widens.
fn begins_of(bay: &Strips, base: f64, out: &mut Vec<Stretch>) {
    for strip in &bay.strips {
        for cell in &bay.cells[strip.first as usize..strip.last as usize] {
            let below = &bay.cells[cell.down.0 as usize..cell.down.1 as usize];
            let covers = |c: &Cell| c.l1 <= cell.l0 + EPSILON && c.r1 >= cell.r0 - EPSILON;
            if !below.iter().any(covers) {
                out.push(Stretch { level: level(strip.y0), from: cell.left(), to: cell.right() });
            }
            for (from, to) in [(cell.l1, cell.l0), (cell.r0, cell.r1)] {
                if to - from <= EPSILON {
                    continue;
                }
                let first = ((strip.y0 - base) / LEVEL_STEP).floor() as i64 + 1;
                let last = ((strip.y1 - base) / LEVEL_STEP).ceil() as i64 - 1;
                let levels = (first..=last).map(|i| level(base + i as f64 * LEVEL_STEP));
                out.extend(levels.map(|level| Stretch { level, from: from - SLIVER, to }));
            }
        }
    }
}

/// The x between two at which a square's lower left corner may stand on a level.
fn wall_at(masonry: &Masonry, y: f64, left: f64, right: f64, out: &mut Spans) {
    out.truncate(0);
    let bays = &masonry.bays;
    for number in bays.bay_at(left)..=bays.bay_at(right + SLIVER) {
        let (from, to) = bays.ends(number);
        // Across a cut wall goes on: what ends there may begin beyond.
        if let (Some(cut), Some(last)) = (from, out.last_mut())
            && last.1 == cut
        {
            last.1 = cut - SLIVER;
            let ended = out.len();
            wall_in_bay(&bays.bays[number], to, y, (left, right), out);
            if out.get(ended).is_some_and(|next| next.0 == cut) {
                out[ended - 1].1 = out[ended].1;
                out[ended..].rotate_left(1);
                out.truncate(out.len() - 1);
            }
        } else {
            wall_in_bay(&bays.bays[number], to, y, (left, right), out);
        }
    }
    for r in out.iter_mut() {
        *r = (r.0.max(left), r.1.min(right));
    }
    out.retain(|r| r.0 <= r.1);
}

/// As [`wall_at`], in one bay; wall that ends at the cut on its right is not shortened by the square.
fn wall_in_bay(bay: &Strips, cut: Option<f64>, y: f64, (left, right): (f64, f64), out: &mut Spans) {
    let first = bay.strips.partition_point(|s| s.y1 <= y + HAIR);
    let mut open: Option<Intervals> = None;
    let mut reached = y;
    for strip in &bay.strips[first..] {
        if strip.y0 > reached + 1e-6 {
            return;
        }
        let (from, to) = (y.max(strip.y0), (y + SLIVER).min(strip.y1));
        let at =
            |a: f64, b: f64, h: f64| a + (b - a) * ((h - strip.y0) / (strip.y1 - strip.y0)).clamp(0.0, 1.0);
        let cells = &bay.cells[strip.first as usize..strip.last as usize];
        let cells = &cells[cells.partition_point(|c| c.right() < left)..];
        let here = cells.iter().take_while(|c| c.left() <= right + SLIVER).map(|c| {
            let l = at(c.l0, c.l1, from).max(at(c.l0, c.l1, to));
            let r = at(c.r0, c.r1, from).min(at(c.r0, c.r1, to));
            (l, if Some(r) == cut { r } else { r - SLIVER })
        });
        let here = Intervals::from_unsorted(here);
        let both = match open {
            None => here,
            Some(open) => open.meet(&here),
        };
        reached = strip.y1;
        if reached >= y + SLIVER {
            out.extend(both.0);
            return;
        }
        open = Some(both);
    }
}

/// Stretches to come, in fields of one level step each; those of the field at hand sorted.
struct Calendar {
    base: i64,
    fields: Vec<Vec<Stretch>>,
    /// The field at hand, the last first, and its number.
    at_hand: Vec<Stretch>,
    number: usize,
}

/// Height of a field, in thousandths of a millimetre.
const FIELD: i64 = LEVEL_STEP as i64 * 1000;

fn later(a: &Stretch, b: &Stretch) -> std::cmp::Ordering {
    b.level.cmp(&a.level).then(b.from.total_cmp(&a.from)).then(b.to.total_cmp(&a.to))
}

impl Calendar {
    fn new(base: i64, top: i64) -> Self {
        let count = ((top - base) / FIELD) as usize + 1;
        Self { base, fields: vec![Vec::new(); count], at_hand: Vec::new(), number: 0 }
    }

    /// Notes a stretch; one above the wall is dropped, one below what is at hand looked at next.
    fn add(&mut self, s: Stretch) {
        let number = ((s.level - self.base).max(0) / FIELD) as usize;
        if number >= self.fields.len() {
            return;
        }
        if number < self.number {
            let at = self.at_hand.partition_point(|o| later(o, &s).is_lt());
            self.at_hand.insert(at, s);
        } else {
            self.fields[number].push(s);
        }
    }

    /// The next stretch, those that meet it on its level put together with it.
    fn next(&mut self) -> Option<Stretch> {
        while self.at_hand.is_empty() {
            self.at_hand = std::mem::take(self.fields.get_mut(self.number)?);
            self.number += 1;
            self.at_hand.sort_unstable_by(later);
        }
        let mut first = self.at_hand.pop()?;
        while let Some(next) = self.at_hand.pop_if(|n| n.level == first.level && n.from <= first.to) {
            first.to = first.to.max(next.to);
        }
        Some(first)
    }
}

//! The places of the duties chosen so far, found by where they are.

use super::duty::{Places, courses};
use crate::elevation::Elevation;
use crate::masonry::Masonry;
use crate::rules::RuleSet;
use crate::units::SLIVER;

/// No more columns than this, and no more than twice as many rows.
const MOST: f64 = 2048.0;

/// Places over more fields than this are kept apart, and looked at by all.
const LARGE: usize = 64;

/// The field is in the first column that the places come into.
const FIRST_COLUMN: u32 = 1 << 31;

/// The field is in the first row that they come into.
const FIRST_ROW: u32 = 1 << 30;

/// No entry follows.
const NONE: u32 = u32::MAX;

/// Places of chosen duties, in fields of about the field spacing.
#[derive(Clone)]
pub(super) struct Taken {
    /// The places, in the order of their duties.
    pub places: Vec<Places>,
    large: Vec<u32>,
    left: f64,
    /// Columns in a millimetre.
    per_mm: f64,
    columns: usize,
    lowest: i64,
    /// Rows in a course.
    per_course: f64,
    rows: usize,
    /// For each field, row by row, its last entry.
    heads: Vec<u32>,
    /// The entry before in the same field, and the number of the places, with [`FIRST_COLUMN`] and [`FIRST_ROW`].
    entries: Vec<(u32, u32)>,
}

impl Taken {
    /// For the duties of an elevation; none chosen yet.
    pub(super) fn new(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Self {
        let ((left, low), (right, high)) = masonry.boundary.bounds().unwrap_or_default();
        let (h, v) = (rules.horizontal.value, rules.vertical.value);
        let width = (h + SLIVER).max((right - left) / MOST);
        let columns = ((right - left) / width) as usize + 1;
        let (lowest, highest) = courses(elevation.coursing, low - v, high + v);
        let all = (highest - lowest).max(0) + 1;
        let (from, to) = courses(elevation.coursing, low, low + v.max((high - low) / (2.0 * MOST)));
        let per_row = (to - from).max(0) + 1;
        let rows = (all / per_row) as usize + 1;
        Self {
            places: Vec::new(),
            large: Vec::new(),
            left,
            per_mm: 1.0 / width,
            columns,
            lowest,
            per_course: 1.0 / per_row as f64,
            rows,
            heads: vec![NONE; columns * rows],
            entries: Vec::new(),
        }
    }

    fn fields(&self, d: &Places) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let column = |x: f64| (((x - self.left) * self.per_mm) as usize).min(self.columns - 1);
        let row = |k: i64| (((k - self.lowest) as f64 * self.per_course) as usize).min(self.rows - 1);
        (column(d.left)..column(d.right) + 1, row(d.low)..row(d.high) + 1)
    }

    /// Takes all places of a duty.
    pub(super) fn push(&mut self, all: &[Places]) {
        for &d in all {
            self.push_one(d);
        }
    }

    fn push_one(&mut self, d: Places) {
        let number = self.places.len() as u32;
        self.places.push(d);
        let (columns, rows) = self.fields(&d);
        if columns.len() * rows.len() > LARGE {
            self.large.push(number);
            return;
        }
        for row in rows.clone() {
            for column in columns.clone() {
                let head = &mut self.heads[row * self.columns + column];
                let first_column = if column == columns.start { FIRST_COLUMN } else { 0 };
                let first_row = if row == rows.start { FIRST_ROW } else { 0 };
                self.entries.push((*head, number | first_column | first_row));
                *head = self.entries.len() as u32 - 1;
            }
        }
    }

    /// The lowest of the courses up to which places in common with a duty are taken; `None` where it has
    /// none.
    pub(super) fn taken_up_to(&self, all: &[Places]) -> Option<i64> {
        let mut lowest: Option<i64> = None;
        for d in all {
            self.each_meeting(d, |o| lowest = Some(lowest.map_or(o.high, |l| l.min(o.high))));
        }
        lowest
    }

    /// Calls `f` with all taken places that have any in common with some, once with each.
    pub(super) fn each_meeting(&self, d: &Places, mut f: impl FnMut(&Places)) {
        let (columns, rows) = self.fields(d);
        for row in rows.clone() {
            for column in columns.clone() {
                let mut at = self.heads[row * self.columns + column];
                while at != NONE {
                    let (before, number) = self.entries[at as usize];
                    at = before;
                    // In the first field that both come into.
                    if (column == columns.start || number & FIRST_COLUMN != 0)
                        && (row == rows.start || number & FIRST_ROW != 0)
                    {
                        let other = &self.places[(number & !(FIRST_COLUMN | FIRST_ROW)) as usize];
                        if other.meets(d) {
                            f(other);
                        }
                    }
                }
            }
        }
        for other in self.large.iter().map(|&n| &self.places[n as usize]).filter(|o| o.meets(d)) {
            f(other);
        }
    }
}

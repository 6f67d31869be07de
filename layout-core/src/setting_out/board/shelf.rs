//! The ties that serve each cell, in order of x: cells that are wide keep theirs in several lists, so that
//! putting one in takes no longer on a wide wall.

/// Width of what one list is for, mm.
const WIDTH: f64 = 25_000.0;

/// Lists of ties by cell, each tie with its x.
#[derive(Clone, Debug)]
pub(in crate::setting_out) struct Shelf {
    /// For each cell the left end of its first list, and the number of that list; one more at the end.
    cells: Vec<(f64, u32)>,
    lists: Vec<Vec<(f64, u32)>>,
}

impl Shelf {
    /// Empty lists for cells from left to right ends, mm.
    pub(super) fn new(cells: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut count = 0;
        let mut starts: Vec<(f64, u32)> = cells
            .map(|(left, right)| {
                let first = count;
                count += ((right - left) / WIDTH).max(0.0) as u32 + 1;
                (left, first)
            })
            .collect();
        starts.push((0.0, count));
        Self { cells: starts, lists: vec![Vec::new(); count as usize] }
    }

    /// The numbers of a cell's lists, and which of them is for a place.
    fn at(&self, cell: u32, x: f64) -> (usize, usize, usize) {
        let (left, first) = self.cells[cell as usize];
        let (first, end) = (first as usize, self.cells[cell as usize + 1].1 as usize);
        let list = first + (((x - left) / WIDTH).max(0.0) as usize).min(end - first - 1);
        (first, list, end)
    }

    pub(super) fn insert(&mut self, cell: u32, x: f64, id: u32) {
        let list = self.at(cell, x).1;
        super::insert(&mut self.lists[list], x, id);
    }

    pub(super) fn delete(&mut self, cell: u32, x: f64, id: u32) {
        let list = self.at(cell, x).1;
        super::delete(&mut self.lists[list], x, id);
    }

    pub(super) fn shift(&mut self, cell: u32, from: f64, to: f64, id: u32) {
        let (old, new) = (self.at(cell, from).1, self.at(cell, to).1);
        if old == new {
            super::shift(&mut self.lists[old], from, to, id);
        } else {
            super::delete(&mut self.lists[old], from, id);
            super::insert(&mut self.lists[new], to, id);
        }
    }

    /// Where the ties before and after one that serves a cell stand.
    pub(in crate::setting_out) fn beside(&self, cell: u32, x: f64, id: u32) -> (Option<f64>, Option<f64>) {
        let (first, list, end) = self.at(cell, x);
        let own = &self.lists[list];
        let at = own.partition_point(|t| (t.0, t.1) < (x, id));
        let before = own[..at].last().or_else(|| self.lists[first..list].iter().rev().find_map(|l| l.last()));
        let after = own.get(at + 1).or_else(|| self.lists[list + 1..end].iter().find_map(|l| l.first()));
        (before.map(|t| t.0), after.map(|t| t.0))
    }

    /// Where the ties that serve a cell stand, from a place on.
    pub(super) fn from(&self, cell: u32, x: f64) -> impl Iterator<Item = f64> + '_ {
        let (_, list, end) = self.at(cell, x);
        let own = &self.lists[list];
        let at = own.partition_point(|t| t.0 < x);
        own[at..].iter().chain(self.lists[list + 1..end].iter().flatten()).map(|t| t.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cells of 10 and 60 m, the second with ties in each of its three lists and one beyond its end.
    #[test]
    fn neighbours_are_found_across_lists() {
        let mut shelf = Shelf::new([(0.0, 10_000.0), (-500.0, 59_500.0)].into_iter());
        for (x, id) in [(100.0, 0), (24_600.0, 1), (24_400.0, 2), (58_000.0, 3), (59_700.0, 4)] {
            shelf.insert(1, x, id);
        }
        let from = |shelf: &Shelf, x| shelf.from(1, x).collect::<Vec<f64>>();
        assert_eq!(from(&shelf, -900.0), [100.0, 24_400.0, 24_600.0, 58_000.0, 59_700.0]);
        assert_eq!(from(&shelf, 24_500.0), [24_600.0, 58_000.0, 59_700.0]);
        assert_eq!(shelf.beside(1, 24_600.0, 1), (Some(24_400.0), Some(58_000.0)));
        assert_eq!(shelf.beside(1, 59_700.0, 4), (Some(58_000.0), None));
        // From the first list to the second, and away.
        shelf.shift(1, 24_400.0, 24_700.0, 2);
        assert_eq!(shelf.beside(1, 24_600.0, 1), (Some(100.0), Some(24_700.0)));
        shelf.delete(1, 24_700.0, 2);
        assert_eq!(shelf.beside(1, 24_600.0, 1), (Some(100.0), Some(58_000.0)));
        assert_eq!(shelf.from(0, f64::NEG_INFINITY).count(), 0);
    }
}

//! The ties that serve each cell, in order of x: cells that are wide keep theirs in several lists, so that
//! putting one in takes no longer on a wide wall. All lists lie in one block, each with room for as many as it is
//! likely to hold; one that grows beyond that goes to the end of the block.

use std::ops::Range;

/// Width of what one list is for, mm.
const WIDTH: f64 = 6400.0;

/// A list has room for so many entries more than its width is likely to need.
const SPARE: u32 = 4;

/// Lists of ties by cell, each tie with its x.
#[derive(Clone, Debug)]
pub(in crate::setting_out) struct Shelf {
    cells: Vec<Lists>,
    lists: Vec<List>,
    block: Vec<(f64, u32)>,
}

/// The lists of a cell.
#[derive(Clone, Copy, Debug)]
struct Lists {
    /// Left end of the first, mm.
    left: f64,
    /// Number of the first.
    first: u32,
    /// One past that of the last.
    end: u32,
}

/// Where in the block a list lies.
#[derive(Clone, Copy, Debug)]
struct List {
    start: u32,
    count: u32,
    room: u32,
}

impl List {
    fn range(self) -> Range<usize> {
        self.start as usize..(self.start + self.count) as usize
    }
}

impl Shelf {
    /// Empty lists for cells from left to right ends, with a tie about every `step`, mm.
    pub(super) fn new(cells: impl Iterator<Item = (f64, f64)>, step: f64) -> Self {
        let least = cells.size_hint().0;
        let (mut homes, mut lists, mut end) = (Vec::with_capacity(least), Vec::with_capacity(least), 0);
        for (left, right) in cells {
            let first = lists.len() as u32;
            let width = (right - left).max(0.0);
            let room = (width.min(WIDTH) / step) as u32 + SPARE;
            for _ in 0..=(width / WIDTH) as u32 {
                lists.push(List { start: end, count: 0, room });
                end += room;
            }
            homes.push(Lists { left, first, end: lists.len() as u32 });
        }
        Self { cells: homes, lists, block: vec![(0.0, 0); end as usize] }
    }

    /// The number of the list of a cell that is for a place, and of the cell's first, and one past its last.
    fn at(&self, cell: u32, x: f64) -> (usize, Range<usize>) {
        let Lists { left, first, end } = self.cells[cell as usize];
        let (first, end) = (first as usize, end as usize);
        if first + 1 == end {
            return (first, first..end);
        }
        let along = ((x - left) * (1.0 / WIDTH)).max(0.0) as usize;
        (first + along.min(end - first - 1), first..end)
    }

    fn entries(&self, list: usize) -> &[(f64, u32)] {
        &self.block[self.lists[list].range()]
    }

    pub(super) fn insert(&mut self, cell: u32, x: f64, id: u32) {
        let list = self.at(cell, x).0;
        if self.lists[list].count == self.lists[list].room {
            self.give_room(list);
        }
        self.lists[list].count += 1;
        let entries = &mut self.block[self.lists[list].range()];
        // Mostly ties come from left to right.
        let mut at = entries.len() - 1;
        while let Some(&before) = at.checked_sub(1).and_then(|i| entries.get(i))
            && (x < before.0 || (x == before.0 && id < before.1))
        {
            entries[at] = before;
            at -= 1;
        }
        entries[at] = (x, id);
    }

    /// Moves a full list to the end of the block, with twice the room.
    fn give_room(&mut self, list: usize) {
        let List { count, room, .. } = self.lists[list];
        let (from, start) = (self.lists[list].range(), self.block.len());
        self.block.extend_from_within(from);
        self.block.resize(start + 2 * room as usize, (0.0, 0));
        self.lists[list] = List { start: start as u32, count, room: 2 * room };
    }

    pub(super) fn delete(&mut self, cell: u32, x: f64, id: u32) {
        let list = self.at(cell, x).0;
        let range = self.lists[list].range();
        if let Some(at) = self.entries(list).iter().position(|t| t.1 == id) {
            self.block.copy_within(range.start + at + 1..range.end, range.start + at);
            self.lists[list].count -= 1;
        }
    }

    pub(super) fn shift(&mut self, cell: u32, from: f64, to: f64, id: u32) {
        let (old, new) = (self.at(cell, from).0, self.at(cell, to).0);
        if old == new {
            super::shift(&mut self.block[self.lists[old].range()], from, to, id);
        } else {
            self.delete(cell, from, id);
            self.insert(cell, to, id);
        }
    }

    /// Where the ties before and after one that serves a cell stand; infinitely far off where there is none.
    pub(in crate::setting_out) fn beside(&self, cell: u32, x: f64, id: u32) -> (f64, f64) {
        let (list, lists) = self.at(cell, x);
        let own = self.entries(list);
        let at = own.iter().position(|t| t.1 == id).unwrap_or(own.len());
        let before = match own[..at].last() {
            Some(t) => t.0,
            None => self.last_before(lists.start..list),
        };
        let after = own.get(at + 1).map_or_else(|| self.first_beyond(list + 1..lists.end), |t| t.0);
        (before, after)
    }

    /// Where the last tie of some lists stands.
    fn last_before(&self, lists: Range<usize>) -> f64 {
        lists.rev().find_map(|l| self.entries(l).last()).map_or(f64::NEG_INFINITY, |t| t.0)
    }

    /// Where the first tie of some lists stands.
    fn first_beyond(&self, mut lists: Range<usize>) -> f64 {
        lists.find_map(|l| self.entries(l).first()).map_or(f64::INFINITY, |t| t.0)
    }

    /// Tells of each tie that serves a cell where it stands, and where those before and after it do.
    pub(in crate::setting_out) fn each_beside(&self, cell: u32, mut f: impl FnMut(f64, (f64, u32), f64)) {
        let (_, lists) = self.at(cell, 0.0);
        let mut before = f64::NEG_INFINITY;
        for list in lists.clone() {
            let own = self.entries(list);
            for (i, &tie) in own.iter().enumerate() {
                let after = own.get(i + 1).map_or_else(|| self.first_beyond(list + 1..lists.end), |t| t.0);
                f(before, tie, after);
                before = tie.0;
            }
        }
    }

    /// The ties that serve a cell from a place on, list by list; some that stand before it come first.
    pub(super) fn lists_from(&self, cell: u32, x: f64) -> impl Iterator<Item = &[(f64, u32)]> {
        let (list, Range { end, .. }) = self.at(cell, x);
        (list..end).map(|l| self.entries(l))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cells of 2.5 and 15 m, the second with ties in each of its three lists and one beyond its end.
    #[test]
    fn neighbours_are_found_across_lists() {
        let mut shelf = Shelf::new([(0.0, 2500.0), (-500.0, 14_500.0)].into_iter(), 450.0);
        for (x, id) in [(100.0, 0), (6100.0, 1), (5800.0, 2), (14_000.0, 3), (14_700.0, 4)] {
            shelf.insert(1, x, id);
        }
        let from = |shelf: &Shelf, cell, x| {
            let all = shelf.lists_from(cell, x).flatten().map(|t| t.0);
            all.filter(|at| *at >= x).collect::<Vec<f64>>()
        };
        assert_eq!(from(&shelf, 1, -900.0), [100.0, 5800.0, 6100.0, 14_000.0, 14_700.0]);
        assert_eq!(from(&shelf, 1, 6000.0), [6100.0, 14_000.0, 14_700.0]);
        assert_eq!(shelf.beside(1, 6100.0, 1), (5800.0, 14_000.0));
        assert_eq!(shelf.beside(1, 14_700.0, 4), (14_000.0, f64::INFINITY));
        // From the first list to the second, and away.
        shelf.shift(1, 5800.0, 6200.0, 2);
        assert_eq!(shelf.beside(1, 6100.0, 1), (100.0, 6200.0));
        shelf.delete(1, 6200.0, 2);
        assert_eq!(shelf.beside(1, 6100.0, 1), (100.0, 14_000.0));
        let mut all = Vec::new();
        shelf.each_beside(1, |before, (x, id), after| {
            assert_eq!((before, after), shelf.beside(1, x, id));
            all.push(id);
        });
        assert_eq!(all, [0, 1, 3, 4]);
        assert!(from(&shelf, 0, f64::NEG_INFINITY).is_empty());
    }

    /// Far more ties than a cell of its width is likely to have, in no order; those of the next cell stay.
    #[test]
    fn a_list_grows_beyond_its_room() {
        let mut shelf = Shelf::new([(0.0, 1000.0), (1000.0, 2000.0)].into_iter(), 450.0);
        shelf.insert(1, 1500.0, 900);
        for id in 0..100 {
            shelf.insert(0, f64::from(id * 37 % 100), id);
        }
        let all: Vec<(f64, u32)> = shelf.lists_from(0, 0.0).flatten().copied().collect();
        assert!(all.iter().all(|&(x, id)| x == f64::from(id * 37 % 100)));
        let places: Vec<f64> = all.iter().map(|t| t.0).collect();
        assert_eq!(places, (0..100).map(f64::from).collect::<Vec<f64>>());
        assert_eq!(shelf.beside(1, 1500.0, 900), (f64::NEG_INFINITY, f64::INFINITY));
    }
}

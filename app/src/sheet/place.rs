//! Finding room for lettering: what is taken, and how labels along a line are spread.

use super::geom::{PaperPoint, Quad, Rect, overlap, segment};

/// What takes up room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Taken {
    /// Lettering: nothing goes over it.
    Text,
    /// The symbol of a tie: no lettering goes over it.
    Symbol,
    /// What belongs to a symbol: no lettering goes over it.
    Pin,
    /// A leader: neither lettering nor another leader goes over it.
    Leader,
    /// A joint through the wall: better kept clear of, and no leader crosses it.
    Joint,
    /// A drawn line: better kept clear of.
    Line,
    /// A fine line: crossed if need be.
    Fine,
}

/// A place that no symbol has.
pub(super) const NOWHERE: PaperPoint = (f64::NAN, f64::NAN);

/// Side of a cell of the index, mm.
const CELL: f64 = 4.0;

/// Everything on the sheet that lettering keeps clear of, found by place.
pub(super) struct Room {
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
    taken: Vec<(Rect, Quad, Taken)>,
    /// Lettering stays in here.
    bounds: Rect,
}

impl Room {
    /// Room on a sheet of a width and height, lettering kept to `bounds`.
    pub fn new(width: f64, height: f64, bounds: Rect) -> Self {
        let count = |v: f64| ((v / CELL).ceil().max(1.0) as usize).min(1000);
        let (columns, rows) = (count(width), count(height));
        Self { columns, rows, cells: vec![Vec::new(); columns * rows], taken: Vec::new(), bounds }
    }

    /// Cells that a rectangle touches; those at the edge of the sheet for what lies outside it.
    fn cells_of(&self, r: &Rect) -> impl Iterator<Item = usize> + use<> {
        let wide = self.columns;
        let index = |v: f64, n: usize| ((v / CELL).floor().max(0.0) as usize).min(n - 1);
        let (c0, c1) = (index(r.left, self.columns), index(r.right, self.columns));
        let (r0, r1) = (index(r.bottom, self.rows), index(r.top, self.rows));
        (r0..=r1).flat_map(move |r| (c0..=c1).map(move |c| r * wide + c))
    }

    /// Takes a box.
    pub fn take(&mut self, quad: Quad, what: Taken) {
        let Some(bounds) = Rect::round(quad) else { return };
        let id = u32::try_from(self.taken.len()).unwrap_or(u32::MAX);
        for cell in self.cells_of(&bounds) {
            self.cells[cell].push(id);
        }
        self.taken.push((bounds, quad, what));
    }

    /// Takes a segment, cut up so that each piece lies in few cells.
    pub fn take_line(&mut self, a: PaperPoint, b: PaperPoint, what: Taken) {
        let steps = ((a.0 - b.0).abs().min((a.1 - b.1).abs()) / CELL).ceil().clamp(1.0, 1000.0) as usize;
        let at = |i: usize| {
            let t = i as f64 / steps as f64;
            (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t)
        };
        for i in 0..steps {
            self.take(segment(at(i), at(i + 1)), what);
        }
    }

    /// Whether anything of these kinds lies in a box.
    fn any(&self, quad: &Quad, kinds: impl Fn(Taken) -> bool) -> bool {
        let Some(r) = Rect::round(*quad) else { return false };
        self.cells_of(&r).any(|cell| {
            self.cells[cell]
                .iter()
                .filter_map(|&i| self.taken.get(i as usize))
                .any(|(bounds, q, what)| kinds(*what) && near(bounds, &r) && overlap(q, quad))
        })
    }

    /// How badly lettering would sit in a box: 0 clear of everything, `None` not at all.
    pub fn cost(&self, quad: &Quad) -> Option<f64> {
        if !quad.iter().all(|&p| self.bounds.contains(p)) || self.hits(quad) {
            return None;
        }
        self.cost_of_lines(quad)
    }

    /// The cost of every line a box touches.
    fn cost_of_lines(&self, quad: &Quad) -> Option<f64> {
        let r = Rect::round(*quad)?;
        let mut lines: Vec<u32> = Vec::new();
        for cell in self.cells_of(&r) {
            lines.extend(self.cells[cell].iter().filter(|&&i| {
                self.taken.get(i as usize).is_some_and(|(bounds, q, _)| near(bounds, &r) && overlap(q, quad))
            }));
        }
        lines.sort_unstable();
        lines.dedup();
        let each = |i: &u32| match self.taken.get(*i as usize) {
            Some((_, _, Taken::Line | Taken::Joint)) => 10.0,
            _ => 2.0,
        };
        Some(lines.iter().map(each).sum::<f64>() + 0.0)
    }

    /// How far a rectangle is from the nearest symbol but the one about a place, at most `reach`, mm.
    pub fn to_symbol(&self, r: &Rect, reach: f64, but: PaperPoint) -> f64 {
        let round = r.inset(-reach);
        let other = |(bounds, _, what): &&(Rect, Quad, Taken)| {
            let (x, y) = bounds.centre();
            let own = (x - but.0).abs() < 1e-6 && (y - but.1).abs() < 1e-6;
            *what == Taken::Symbol && !own && near(bounds, &round)
        };
        let found = self.cells_of(&round).flat_map(|cell| &self.cells[cell]);
        let others = found.filter_map(|&i| self.taken.get(i as usize)).filter(other);
        others.map(|(bounds, _, _)| bounds.apart(r)).fold(reach, f64::min)
    }

    /// What a leader costs for the lines it crosses; `None` where it would run over what it must not.
    pub fn crossed(&self, leader: &Quad) -> Option<f64> {
        if self.hits(leader) || self.any(leader, |t| t == Taken::Joint) {
            return None;
        }
        self.cost_of_lines(leader).map(|c| c * 0.3)
    }

    /// How many pieces of lettering and symbols a box touches.
    pub fn struck(&self, quad: &Quad) -> usize {
        let Some(r) = Rect::round(*quad) else { return 0 };
        let mut found: Vec<u32> = self.cells_of(&r).flat_map(|cell| &self.cells[cell]).copied().collect();
        found.sort_unstable();
        found.dedup();
        let hit = |(b, q, t): &&(Rect, Quad, Taken)| {
            matches!(t, Taken::Text | Taken::Symbol | Taken::Pin) && near(b, &r) && overlap(q, quad)
        };
        found.iter().filter_map(|&i| self.taken.get(i as usize)).filter(hit).count()
    }

    /// Whether a box or segment runs over lettering, a symbol or a leader.
    pub fn hits(&self, quad: &Quad) -> bool {
        self.any(quad, |t| matches!(t, Taken::Text | Taken::Symbol | Taken::Pin | Taken::Leader))
    }

    /// Whether a box or segment runs over lettering.
    pub fn hits_text(&self, quad: &Quad) -> bool {
        self.any(quad, |t| t == Taken::Text)
    }

    /// The pieces of a straight line that run over no lettering.
    pub fn clear_of_text(&self, a: PaperPoint, b: PaperPoint) -> Vec<(PaperPoint, PaperPoint)> {
        let length = (a.0 - b.0).hypot(a.1 - b.1);
        if !self.hits_text(&segment(a, b)) {
            return vec![(a, b)];
        }
        let steps = (length / 0.5).ceil().clamp(1.0, 4000.0) as usize;
        let at = |i: usize| {
            let t = i as f64 / steps as f64;
            (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t)
        };
        let mut pieces = Vec::new();
        let mut from = None;
        for i in 0..steps {
            let blocked = self.hits_text(&segment(at(i), at(i + 1)));
            match (blocked, from) {
                (false, None) => from = Some(i),
                (true, Some(f)) => {
                    pieces.push((at(f), at(i)));
                    from = None;
                }
                _ => {}
            }
        }
        if let Some(f) = from {
            pieces.push((at(f), at(steps)));
        }
        pieces
    }
}

/// Whether two rectangles may overlap.
fn near(a: &Rect, b: &Rect) -> bool {
    a.left <= b.right && b.left <= a.right && a.bottom <= b.top && b.bottom <= a.top
}

/// Moves positions along a line apart, in order, to at least `pitch` within `low..=high`, as little
/// as it takes; `None` where they do not fit.
pub(super) fn spread(wanted: &[f64], pitch: f64, low: f64, high: f64) -> Option<Vec<f64>> {
    let n = wanted.len();
    if n == 0 {
        return Some(Vec::new());
    }
    if (n - 1) as f64 * pitch > high - low {
        return None;
    }
    // Each group stands at the mean of what its members want; groups that meet are joined.
    let mut groups: Vec<(f64, usize)> = Vec::new(); // sum of wanted start, members
    let start = |g: &(f64, usize)| {
        let span = (g.1 - 1) as f64 * pitch;
        (g.0 / g.1 as f64).clamp(low, (high - span).max(low))
    };
    for &w in wanted {
        let mut group = (w, 1);
        while let Some(last) = groups.last() {
            if start(last) + last.1 as f64 * pitch <= start(&group) + 1e-9 {
                break;
            }
            let shifted = group.0 - group.1 as f64 * last.1 as f64 * pitch;
            group = (last.0 + shifted, last.1 + group.1);
            groups.pop();
        }
        groups.push(group);
    }
    Some(groups.iter().flat_map(|g| (0..g.1).map(|i| start(g) + i as f64 * pitch)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_are_spread_no_further_than_it_takes() {
        // Three that want 10 stand at 7, 10, 13; the one at 30 stays.
        assert_eq!(spread(&[10.0, 10.0, 10.0, 30.0], 3.0, 0.0, 40.0), Some(vec![7.0, 10.0, 13.0, 30.0]));
        assert_eq!(spread(&[0.0, 0.0], 3.0, 0.0, 40.0), Some(vec![0.0, 3.0]));
        assert_eq!(spread(&[0.0, 1.0, 2.0], 3.0, 0.0, 5.0), None);
    }

    #[test]
    fn taken_room_is_refused() {
        let all = Rect::new(0.0, 0.0, 100.0, 100.0);
        let mut room = Room::new(100.0, 100.0, all);
        room.take(Rect::new(10.0, 10.0, 20.0, 12.0).corners(), Taken::Text);
        room.take_line((0.0, 50.0), (100.0, 50.0), Taken::Line);
        assert_eq!(room.cost(&Rect::new(15.0, 11.0, 25.0, 13.0).corners()), None);
        assert_eq!(room.cost(&Rect::new(20.0, 10.0, 25.0, 12.0).corners()), Some(0.0));
        assert_eq!(room.cost(&Rect::new(20.0, 49.0, 25.0, 51.0).corners()), Some(10.0));
        assert_eq!(room.cost(&Rect::new(95.0, 49.0, 105.0, 51.0).corners()), None);
        assert_eq!(
            room.clear_of_text((0.0, 11.0), (30.0, 11.0)),
            vec![((0.0, 11.0), (10.0, 11.0)), ((20.0, 11.0), (30.0, 11.0))]
        );
    }
}

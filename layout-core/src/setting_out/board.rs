//! The board the passes play on: rows, cells, edges, and the ties placed so far.
//!
//! The masonry is cut at every height where the served area of a tie on some row can begin or end, so
//! the served area of any tie is made of whole cells, cut only at its left and right limit. Each cell
//! keeps the ties that serve it in order of x, each edge those that count for it in order of place.

use super::standing::{Standing, reach_at_height};
use crate::elevation::{Elevation, Fix, Pattern, Point, shape_bounds};
use crate::masonry::{BoundaryKind, Edge, EdgeKind, Intervals, Masonry, Measure, Strips, edges, service};
use crate::rules::RuleSet;
use crate::units::{EPSILON, SLIVER};

/// Gaps narrower than this are left alone: no sliver that counts fits in, mm.
pub(super) const LEAST_GAP: f64 = SLIVER - 0.5;

/// Candidate heights where a tie may stand at any height, mm apart.
const ANYWHERE_STEP: f64 = 25.0;

/// A height at which ties may stand.
#[derive(Clone)]
pub(super) struct Row {
    pub y: f64,
    /// Where a tie may stand, other new ties aside; empty on the row of a pinned tie off the courses.
    pub runs: Intervals,
    /// Strips that a tie on this row can serve.
    pub strips: (usize, usize),
    /// Edges a tie on this row can count for, and from where.
    pub near: Vec<Near>,
}

#[derive(Clone)]
pub(super) struct Near {
    pub edge: usize,
    pub runs: Intervals,
}

#[derive(Clone, Debug)]
pub(super) struct BoardTie {
    pub row: usize,
    pub x: f64,
    pub pinned: bool,
    pub alive: bool,
    /// Whether it is one of a long chain at even steps.
    pub in_chain: bool,
    pub cells: Vec<u32>,
    /// Edges it counts for, with the place it serves about.
    pub edges: Vec<(usize, f64)>,
}

#[derive(Clone)]
pub(super) struct EdgeState {
    pub edge: Edge,
    /// Rows a tie that counts for it can stand on, from below.
    pub rows: Vec<usize>,
    /// Places served, in order, with the tie.
    pub served: Vec<(f64, u32)>,
}

#[derive(Clone)]
pub(super) struct Board<'a> {
    pub masonry: &'a Masonry,
    pub half_h: f64,
    pub half_v: f64,
    pub within: f64,
    /// Half the spacing along edges.
    pub half_edge: f64,
    pub between: f64,
    /// Whether rows of long plain stretches are staggered.
    pub staggered: bool,
    /// Step between candidate heights, mm.
    pub pitch: f64,
    pub strips: Strips,
    pub rows: Vec<Row>,
    pub ties: Vec<BoardTie>,
    pub on_row: Vec<Vec<(f64, u32)>>,
    pub serving: Vec<Vec<(f64, u32)>>,
    pub edges: Vec<EdgeState>,
    /// For each row and each cell it reaches straight up or down, from where to where.
    pub columns: Vec<Vec<(u32, f64, f64)>>,
    visited: Vec<u32>,
    visit: u32,
}

impl<'a> Board<'a> {
    /// A board with the pinned ties on it. `h` and `v` are the field spacing to set out by, mm.
    pub(super) fn new(elevation: &Elevation, masonry: &'a Masonry, rules: &RuleSet, h: f64, v: f64) -> Self {
        let standing = Standing::new(elevation, masonry, rules);
        let mut rows: Vec<Row> = heights(elevation, masonry, rules)
            .into_iter()
            .map(|y| Row { y, runs: standing.at(y), strips: (0, 0), near: Vec::new() })
            .filter(|r| !r.runs.is_empty())
            .collect();
        for &(_, y) in &elevation.pinned {
            if !rows.iter().any(|r| (r.y - y).abs() < 1e-9) {
                rows.push(Row { y, runs: Intervals::empty(), strips: (0, 0), near: Vec::new() });
            }
        }
        rows.sort_by(|a, b| a.y.total_cmp(&b.y));
        let cuts: Vec<f64> = rows.iter().flat_map(|r| [r.y - v / 2.0, r.y + v / 2.0]).collect();
        let strips = Strips::new(&masonry.boundary.segments, &cuts);
        let middles: Vec<f64> = strips.strips.iter().map(|s| f64::midpoint(s.y0, s.y1)).collect();
        for r in &mut rows {
            r.strips = (
                middles.partition_point(|&m| m < r.y - v / 2.0),
                middles.partition_point(|&m| m < r.y + v / 2.0),
            );
        }
        let (within, half_edge) =
            rules.edges.as_ref().map_or((0.0, 0.0), |e| (e.within.value - 0.01, e.spacing.value / 2.0));
        let mut board = Self {
            masonry,
            half_h: h / 2.0,
            half_v: v / 2.0,
            within,
            half_edge,
            between: rules.between.value,
            staggered: elevation.pattern == Pattern::Staggered,
            pitch: if elevation.coursing.fix == Fix::Anywhere {
                ANYWHERE_STEP
            } else {
                elevation.coursing.gauge
            },
            on_row: vec![Vec::new(); rows.len()],
            serving: vec![Vec::new(); strips.cells.len()],
            visited: vec![0; strips.cells.len()],
            visit: 0,
            columns: Vec::new(),
            strips,
            rows,
            ties: Vec::new(),
            edges: Vec::new(),
        };
        if let Some(rule) = &rules.edges {
            board.note_edges(edges(masonry, elevation, rule));
        }
        board.note_columns();
        for &(x, y) in &elevation.pinned {
            if let Some(row) = board.rows.iter().position(|r| (r.y - y).abs() < 1e-9) {
                board.add(row, x, true);
            }
        }
        board
    }

    /// Works out for every edge on which rows, and from where, a tie counts for it.
    fn note_edges(&mut self, edges: Vec<Edge>) {
        let joint_ends: Vec<Point> = self
            .masonry
            .boundary
            .segments
            .iter()
            .filter(|s| matches!(s.kind, BoundaryKind::Joint(_)))
            .map(|s| s.a)
            .collect();
        for (number, edge) in edges.into_iter().enumerate() {
            let mut on = Vec::new();
            // Where a joint goes on from the end of a jamb, a tie level with that end or beyond it holds
            // the jamb at best by a point: none is counted on there.
            let goes_on = |y: f64| {
                edge.kind == EdgeKind::Jamb
                    && joint_ends.iter().any(|j| (j.1 - y).abs() < 1e-3 && (j.0 - edge.lo.0).abs() < 1e-3)
            };
            let (joint_below, joint_above) = (goes_on(edge.lo.1), goes_on(edge.hi.1));
            let first = self.rows.partition_point(|r| r.y < edge.lo.1 - self.within);
            for at in first..self.rows.len() {
                let row = &self.rows[at];
                if row.y > edge.hi.1 + self.within {
                    break;
                }
                if (joint_below && row.y <= edge.lo.1 + 1.0) || (joint_above && row.y >= edge.hi.1 - 1.0) {
                    continue;
                }
                let close: Vec<(f64, f64)> =
                    edge.pieces.iter().filter_map(|s| reach_at_height(s, self.within, row.y)).collect();
                let runs = row.runs.meet(&Intervals::from_unsorted(close));
                let runs = self.in_sight(&edge, row.y, &runs);
                if !runs.is_empty() {
                    self.rows[at].near.push(Near { edge: number, runs });
                    on.push(at);
                }
            }
            self.edges.push(EdgeState { edge, rows: on, served: Vec::new() });
        }
    }

    /// The parts of `runs` from which a tie counts for an edge.
    fn in_sight(&self, edge: &Edge, y: f64, runs: &Intervals) -> Intervals {
        let counts = |x: f64| service(self.masonry, edge, (x, y), self.within + 0.005).is_some();
        let mut out = Vec::new();
        for &(lo, hi) in &runs.0 {
            if counts(lo) && counts(hi) && counts(f64::midpoint(lo, hi)) {
                out.push((lo, hi));
                continue;
            }
            // Part of it is hidden: keep the stretches between samples that count.
            const SAMPLES: usize = 16;
            let at = |i: usize| lo + (hi - lo) * i as f64 / SAMPLES as f64;
            let mut from: Option<f64> = None;
            for i in 0..=SAMPLES {
                match (counts(at(i)), from) {
                    (true, None) => from = Some(at(i)),
                    (false, Some(f)) => {
                        out.push((f, at(i - 1)));
                        from = None;
                    }
                    _ => {}
                }
            }
            if let Some(f) = from {
                out.push((f, hi));
            }
        }
        Intervals(out)
    }

    /// Works out for every row which parts of which cells a tie reaches by going straight up or down
    /// and then along the cell.
    fn note_columns(&mut self) {
        for at in 0..self.rows.len() {
            let row = &self.rows[at];
            let mut out = Vec::new();
            let (s0, s1) = row.strips;
            let mid = self.strips.strips.partition_point(|s| s.y1 < row.y).clamp(s0, s1);
            let both = |s: usize| self.strips.strips[s].y1 <= row.y;
            let start = mid + usize::from(mid < s1 && both(mid));
            let mut visible = row.runs.clone();
            for s in start..s1 {
                visible = self.through(s, &visible, &mut out);
            }
            let mut visible = row.runs.clone();
            let mut downs: Vec<usize> = (s0..start).collect();
            if start < s1 && self.strips.strips[start].y0 < row.y - EPSILON {
                // The row runs inside this strip: it is done, but the columns go on below it.
                visible = self.through(start, &visible, &mut Vec::new());
            }
            downs.reverse();
            for s in downs {
                visible = self.through(s, &visible, &mut out);
            }
            out.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
            self.columns.push(out);
        }
    }

    fn through(&self, strip: usize, visible: &Intervals, out: &mut Vec<(u32, f64, f64)>) -> Intervals {
        let s = self.strips.strips[strip];
        let mut on = Vec::new();
        for c in s.first..s.last {
            let cell = &self.strips.cells[c as usize];
            let (lo, hi) = cell.core();
            if lo > hi {
                continue;
            }
            let seen = visible.clipped(lo, hi);
            let reach = Intervals::from_unsorted(
                seen.0
                    .iter()
                    .map(|&(a, b)| ((a - self.half_h).max(cell.left()), (b + self.half_h).min(cell.right())))
                    .collect(),
            );
            out.extend(reach.0.into_iter().map(|(a, b)| (c, a, b)));
            on.extend(seen.0);
        }
        Intervals(on)
    }

    /// The cells a tie would serve.
    pub(super) fn reach(&mut self, row: usize, x: f64) -> Vec<u32> {
        let mut found = Vec::new();
        let r = &self.rows[row];
        let Some(start) = self.strips.cell_at((x, r.y)) else { return found };
        let (s0, s1) = (r.strips.0 as u32, r.strips.1 as u32);
        if self.visit == u32::MAX {
            self.visited.fill(0);
            self.visit = 0;
        }
        self.visit += 1;
        let visit = self.visit;
        let (lo, hi) = (x - self.half_h, x + self.half_h);
        let cells = &self.strips.cells;
        let visited = &mut self.visited;
        let own = cells[start as usize].strip;
        if own < s0 || own >= s1 {
            return found;
        }
        visited[start as usize] = visit;
        found.push(start);
        let mut done = 0;
        while done < found.len() {
            let c = &cells[found[done] as usize];
            done += 1;
            if c.strip + 1 < s1 {
                for d in c.up.0..c.up.1 {
                    let up = &cells[d as usize];
                    let shared = c.r1.min(up.r0).min(hi) - c.l1.max(up.l0).max(lo);
                    if shared > EPSILON && visited[d as usize] != visit {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
            if c.strip > s0 {
                for d in c.down.0..c.down.1 {
                    let down = &cells[d as usize];
                    let shared = c.r0.min(down.r1).min(hi) - c.l0.max(down.l1).max(lo);
                    if shared > EPSILON && visited[d as usize] != visit {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
        }
        found
    }

    /// Ties on the board.
    pub(super) fn count(&self) -> usize {
        self.ties.iter().filter(|t| t.alive).count()
    }

    /// Puts a tie on the board.
    pub(super) fn add(&mut self, row: usize, x: f64, pinned: bool) -> u32 {
        let id = self.ties.len() as u32;
        let holds = !pinned || self.masonry.holds((x, self.rows[row].y));
        let cells = if holds { self.reach(row, x) } else { Vec::new() };
        for &c in &cells {
            insert(&mut self.serving[c as usize], x, id);
        }
        insert(&mut self.on_row[row], x, id);
        let edges = if holds { self.counts_for(row, x, pinned) } else { Vec::new() };
        for &(e, place) in &edges {
            insert(&mut self.edges[e].served, place, id);
        }
        self.ties.push(BoardTie { row, x, pinned, alive: true, in_chain: false, cells, edges });
        id
    }

    /// Takes a tie off the board.
    pub(super) fn remove(&mut self, id: u32) {
        let tie = self.ties[id as usize].clone();
        self.ties[id as usize].alive = false;
        for c in tie.cells {
            delete(&mut self.serving[c as usize], tie.x, id);
        }
        delete(&mut self.on_row[tie.row], tie.x, id);
        for (e, place) in tie.edges {
            delete(&mut self.edges[e].served, place, id);
        }
    }

    /// Puts a tie that was taken off back where it was.
    pub(super) fn put_back(&mut self, id: u32) {
        let tie = self.ties[id as usize].clone();
        self.ties[id as usize].alive = true;
        for c in tie.cells {
            insert(&mut self.serving[c as usize], tie.x, id);
        }
        insert(&mut self.on_row[tie.row], tie.x, id);
        for (e, place) in tie.edges {
            insert(&mut self.edges[e].served, place, id);
        }
    }

    /// The edges a tie would count for, with the places it would serve about.
    fn counts_for(&self, row: usize, x: f64, pinned: bool) -> Vec<(usize, f64)> {
        let y = self.rows[row].y;
        if pinned {
            return (0..self.edges.len())
                .filter_map(|e| {
                    Some((e, service(self.masonry, &self.edges[e].edge, (x, y), self.within)?.place))
                })
                .collect();
        }
        self.rows[row]
            .near
            .iter()
            .filter(|n| n.runs.contains(x))
            .filter_map(|n| {
                let edge = &self.edges[n.edge].edge;
                match edge.measure {
                    Measure::Height => Some((n.edge, y)),
                    Measure::Level => Some((n.edge, 0.0)),
                    Measure::Length { .. } => {
                        Some((n.edge, service(self.masonry, edge, (x, y), self.within + 0.005)?.place))
                    }
                }
            })
            .collect()
    }

    /// Where on a row between `lo` and `hi` a tie may stand, clear of the other new ties.
    pub(super) fn free(&self, row: usize, lo: f64, hi: f64) -> Intervals {
        self.clear_of_ties(row, &self.rows[row].runs.clipped(lo, hi))
    }

    /// The parts of `runs` on a row that are clear of the other new ties.
    pub(super) fn clear_of_ties(&self, row: usize, runs: &Intervals) -> Intervals {
        let (Some(first), Some(last)) = (runs.0.first(), runs.0.last()) else { return Intervals::empty() };
        let (lo, hi) = (first.0, last.1);
        let y = self.rows[row].y;
        let d = self.between;
        let mut taken = Vec::new();
        for other in self.rows_about(row, d) {
            let dy = self.rows[other].y - y;
            let half = (d * d - dy * dy).max(0.0).sqrt();
            let ties = &self.on_row[other];
            let from = ties.partition_point(|t| t.0 <= lo - half);
            taken.extend(
                ties[from..].iter().take_while(|t| t.0 < hi + half).map(|t| (t.0 - half, t.0 + half)),
            );
        }
        runs.minus(&taken)
    }

    /// Whether a tie that counts for an edge would serve a place on it.
    pub(super) fn serves_place(&self, edge: usize, row: usize, x: f64, place: f64) -> bool {
        let e = &self.edges[edge].edge;
        let y = self.rows[row].y;
        let half = self.half_edge + EPSILON;
        match e.measure {
            Measure::Level => true,
            Measure::Height => (y - place).abs() <= half,
            Measure::Length { ring } => {
                service(self.masonry, e, (x, y), self.within + 0.005).is_some_and(|s| {
                    let off = (s.place - place).abs();
                    off <= half || (ring && e.to - off <= half)
                })
            }
        }
    }

    /// New ties too close to a place for another to stand there.
    pub(super) fn too_close(&self, row: usize, x: f64) -> Vec<u32> {
        let mut out = Vec::new();
        for other in self.rows_about(row, self.between) {
            let dy = self.rows[other].y - self.rows[row].y;
            let half = (self.between * self.between - dy * dy).max(0.0).sqrt();
            let ties = &self.on_row[other];
            let from = ties.partition_point(|t| t.0 <= x - half);
            out.extend(ties[from..].iter().take_while(|t| t.0 < x + half).map(|t| t.1));
        }
        out
    }

    /// Rows less than `reach` above or below a row, itself among them.
    pub(super) fn rows_about(&self, row: usize, reach: f64) -> std::ops::Range<usize> {
        let y = self.rows[row].y;
        let first = self.rows[..row].iter().rposition(|r| y - r.y >= reach).map_or(0, |i| i + 1);
        let last =
            self.rows[row..].iter().position(|r| r.y - y >= reach).map_or(self.rows.len(), |i| row + i);
        first..last
    }

    /// Rows from which a strip can be served.
    pub(super) fn rows_serving(&self, strip: usize) -> std::ops::Range<usize> {
        let s = self.strips.strips[strip];
        let middle = f64::midpoint(s.y0, s.y1);
        let first = self.rows.partition_point(|r| r.y + self.half_v < middle);
        let last = self.rows.partition_point(|r| r.y - self.half_v <= middle);
        first..last
    }

    /// The parts of a cell that no tie serves, wide enough to count.
    pub(super) fn unserved(&self, cell: u32) -> Vec<(f64, f64)> {
        let c = &self.strips.cells[cell as usize];
        let (mut from, right) = (c.left(), c.right());
        let mut out = Vec::new();
        for &(x, _) in &self.serving[cell as usize] {
            let start = x - self.half_h;
            if start - from > LEAST_GAP {
                out.push((from, start.min(right)));
            }
            from = from.max(x + self.half_h);
            if from >= right {
                return out;
            }
        }
        if right - from > LEAST_GAP {
            out.push((from, right));
        }
        out
    }

    /// The height of a strip, mm.
    pub(super) fn strip_height(&self, strip: usize) -> f64 {
        let s = self.strips.strips[strip];
        s.y1 - s.y0
    }

    /// Area that a tie would newly serve, as a share of the full served area; roughly.
    pub(super) fn gain(&mut self, row: usize, x: f64) -> f64 {
        let cells = self.reach(row, x);
        let (lo, hi) = (x - self.half_h, x + self.half_h);
        let mut area = 0.0;
        for c in cells {
            let height = self.strip_height(self.strips.cells[c as usize].strip as usize);
            for (a, b) in self.unserved(c) {
                area += (b.min(hi) - a.max(lo)).max(0.0) * height;
            }
        }
        area / (4.0 * self.half_h * self.half_v)
    }

    /// The first place at or after `from` on an edge that has no tie near enough.
    pub(super) fn edge_gap(&self, edge: usize, from: f64) -> Option<f64> {
        let state = &self.edges[edge];
        match state.edge.measure {
            Measure::Level => state.served.is_empty().then_some(0.0),
            Measure::Height | Measure::Length { ring: false } => {
                let mut c = state.edge.from.max(from);
                if c > state.edge.to {
                    return None;
                }
                for &(place, _) in &state.served {
                    if place - self.half_edge > c + EPSILON {
                        return Some(c);
                    }
                    c = c.max(place + self.half_edge);
                }
                // Up to the very end, which may be all there is.
                let end = state.edge.to;
                let near_end =
                    state.served.iter().rev().any(|s| (s.0 - end).abs() <= self.half_edge + EPSILON);
                (c + EPSILON < end || !near_end).then_some(c)
            }
            Measure::Length { ring: true } => {
                let around = state.edge.to;
                let Some(first) = state.served.first() else { return Some(0.0) };
                let next = state.served[1..].iter().map(|s| s.0).chain([first.0 + around]);
                state
                    .served
                    .iter()
                    .zip(next)
                    .find(|(s, n)| n - s.0 > 2.0 * self.half_edge + EPSILON)
                    .map(|(s, _)| (s.0 + self.half_edge) % around)
            }
        }
    }
}

fn insert(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    let at = list.partition_point(|t| (t.0, t.1) < (x, id));
    list.insert(at, (x, id));
}

fn delete(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    let from = list.partition_point(|t| t.0 < x);
    if let Some(i) = list[from..].iter().position(|t| t.1 == id) {
        list.remove(from + i);
    }
}

/// The heights ties may stand at, from below.
fn heights(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<f64> {
    let Some((low, high)) = masonry.height_range() else { return Vec::new() };
    let c = elevation.coursing;
    if c.fix != Fix::Anywhere {
        let first = ((low - c.first_bed) / c.gauge).floor() as i64 - 1;
        let last = ((high - c.first_bed) / c.gauge).ceil() as i64 + 1;
        return (first..=last).map(|k| c.height(k)).filter(|y| (low..=high).contains(y)).collect();
    }
    // Whole steps from the base, and the heights that just clear a level side or a keep-out.
    let steps = ((high - low) / ANYWHERE_STEP) as i64;
    let mut ys: Vec<f64> = (0..=steps).map(|i| low + i as f64 * ANYWHERE_STEP).collect();
    let d = rules.edge_distance.value;
    for s in masonry.boundary.segments.iter().filter(|s| s.a.1 == s.b.1) {
        ys.extend([s.a.1 - d, s.a.1 + d]);
    }
    for k in &elevation.keep_outs {
        let (_, lower, _, upper) = shape_bounds(&k.shape);
        ys.extend([lower - k.clearance, upper + k.clearance]);
    }
    ys.retain(|y| (low..=high).contains(y));
    ys.sort_by(f64::total_cmp);
    ys.dedup_by(|b, a| *b - *a < 1e-3);
    ys
}

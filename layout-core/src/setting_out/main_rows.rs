//! Main rows: those at the full spacing up the wall, from which the field is served.
//!
//! They stand on a ladder of even steps from the base, the same all over the wall. Its lowest rung is as high as still
//! serves the base. Openings may sit badly on that: above a row of heads or below a row of sills a strip too low to
//! be worth a row is left over. So a second ladder, half a step from the first, is weighed against it: up many columns,
//! from each head or base to the sill or eaves above it, the rows that stand there are counted, and one more for a
//! strip left over at either end. The second is taken only where it is clearly the better, so that an opening
//! that moves a little seldom changes which one stands.

use super::board::{Board, LEAST_HEIGHT};
use super::site::Site;
use crate::masonry::{BoundaryKind, Measure};
use crate::units::{EPSILON, floor, round};

/// Columns in a field spacing.
const COLUMNS: f64 = 8.0;

/// A strip left over as high as this takes ties as a whole row does; a lower one, a share of them, mm: others often
/// serve it.
const LOW: f64 = 100.0;

/// The second ladder has to save this share of the ties, and so many ties besides.
const WORTH: (f64, f64) = (0.02, 1.5);

/// A field spacing, and the main rows at it: rungs of the heights that ties may stand at, even steps from the foot.
#[derive(Clone, Copy)]
pub(super) struct MainRows {
    /// Field spacing along the wall, mm.
    pub h: f64,
    /// Field spacing up the wall, mm.
    pub v: f64,
    /// The lowest.
    start: usize,
    /// Steps from one to the next.
    between: usize,
}

impl MainRows {
    /// The main rows of a wall at a field spacing along and up it, mm.
    pub(super) fn new(site: &Site<'_>, (h, v): (f64, f64)) -> Self {
        let rungs = |height: f64| floor((height + 1e-6) / site.pitch).max(0.0) as usize;
        let between = rungs(v).max(1);
        let first = Self { h, v, start: rungs(site.base + v / 2.0 + LEAST_HEIGHT - site.foot), between };
        let half = between / 2;
        // Ties all round an opening serve what is left over above and below it.
        let all_round = site.edges.iter().any(|e| matches!(e.measure, Measure::Length { .. }));
        if half == 0 || site.elevation.openings.is_empty() || all_round {
            return first;
        }
        let second = Self { start: first.start + half, ..first };
        let [one, other] = ties_likely(site, [first, second]);
        if other < one * (1.0 - WORTH.0) - WORTH.1 { second } else { first }
    }

    /// The height of the lowest, mm.
    pub(super) fn lowest(self, site: &Site<'_>) -> f64 {
        site.foot + self.start as f64 * site.pitch
    }

    /// From one to the next, mm.
    pub(super) fn step(self, site: &Site<'_>) -> f64 {
        self.between as f64 * site.pitch
    }
}

/// The main rows of a board, some of which may be missing.
pub(super) fn of(board: &Board<'_>) -> Vec<usize> {
    let MainRows { start, between, .. } = board.main_rows;
    (0..board.rows.len())
        .filter(|&r| {
            let row = &board.rows[r];
            let rung = round((row.y - board.foot) / board.pitch);
            !row.runs.is_empty()
                && (board.own.0 <= row.y && row.y < board.own.1)
                && rung as usize % between == start % between
                && (row.y - board.foot - rung * board.pitch).abs() < 1e-6
        })
        .collect()
}

/// About how many ties the field would have on each of these.
fn ties_likely(site: &Site<'_>, ladders: [MainRows; 2]) -> [f64; 2] {
    let MainRows { h, v, .. } = ladders[0];
    let ladders = ladders.map(|l| (l.lowest(site), l.step(site)));
    let clear = site.rules.edge_distance.value;
    let over = |strip: f64| if strip > LEAST_HEIGHT { (strip / LOW).min(1.0) } else { 0.0 };
    let rows = |(low, high): (f64, f64), (lowest, step): (f64, f64)| {
        let first = ((low + clear - lowest - EPSILON) / step).ceil();
        let last = floor((high - clear - lowest + EPSILON) / step);
        if last < first {
            return ((high - low) / v).ceil();
        }
        let (bottom, top) = (lowest + first * step - v / 2.0, lowest + last * step + v / 2.0);
        last - first + 1.0 + over(bottom - low) + over(high - top)
    };
    let mut out = [0.0; 2];
    for stretch in upright_stretches(site, h / COLUMNS) {
        for (sum, &ladder) in out.iter_mut().zip(&ladders) {
            *sum += rows(stretch, ladder) / COLUMNS;
        }
    }
    out
}

/// Masonry from below to above, mm, up columns so far apart.
fn upright_stretches(site: &Site<'_>, apart: f64) -> Vec<(f64, f64)> {
    let count = (site.width / apart).ceil().max(0.0) as usize;
    // Heights at which a column meets the boundary, and whether masonry begins there.
    let mut met: Vec<Vec<(f64, bool)>> = vec![Vec::new(); count];
    for s in &site.masonry.boundary.segments {
        if s.a.0 == s.b.0 || matches!(s.kind, BoundaryKind::Joint(_)) {
            continue;
        }
        // Columns stand half a step from the datum, and then a step apart.
        let from = |x: f64| ((x - site.datum) / apart - 0.5).ceil().max(0.0) as usize;
        let (left, right) = (from(s.a.0.min(s.b.0)), from(s.a.0.max(s.b.0)).min(count));
        for (at, column) in met.iter_mut().enumerate().take(right).skip(left) {
            let x = site.datum + (at as f64 + 0.5) * apart;
            let y = s.a.1 + (x - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1);
            column.push((y, s.a.0 < s.b.0));
        }
    }
    let mut out = Vec::new();
    for column in &mut met {
        column.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let pairs = column.windows(2).filter(|w| w[0].1 && !w[1].1 && w[1].0 - w[0].0 > LEAST_HEIGHT);
        out.extend(pairs.map(|w| (w[0].0, w[1].0)));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::MainRows;
    use crate::elevation::{Elevation, Opening, Shape};
    use crate::masonry::Masonry;
    use crate::rules::resolve;
    use crate::setting_out::site::Site;

    /// Two storeys of windows 1800 wide, those below from 825 to 2100, those above from `sill` to `head`.
    fn front(sill: f64, head: f64) -> Elevation {
        let mut e = Elevation::new("Front", vec![(0., 0.), (5850., 0.), (5850., 5100.), (0., 5100.)]);
        for x in [900.0, 3600.0] {
            for (low, high) in [(825.0, 2100.0), (sill, head)] {
                let shape = Shape::Rect { x, y: low, w: 1800.0, h: high - low };
                e.openings.push(Opening { name: String::new(), shape });
            }
        }
        e
    }

    fn lowest(e: &Elevation) -> f64 {
        let (masonry, rules) = (Masonry::new(e), resolve(&e.rules).unwrap());
        let site = Site::new(e, &masonry, &rules);
        MainRows::new(&site, (rules.horizontal.value, rules.vertical.value)).lowest(&site)
    }

    // Rows every 450 mm, joints every 75, 75 clear of edges: from 225, or from 450.
    //                             from 225                              from 450
    // base 0 to 825               225 675: all                      2   450: 225 below, 150 above        3
    // 2100 to 3375                2475 2925: 150 below, 225 above   4   2250 2700 3150: all              3
    // 4425 to 5100                4725: 75 below, 150 above      2.75   4500 4950: all                   2
    // up such a column                                           8.75                                    8
    // between windows, 0 to 5100  225 to 4725: 150 above           12   450 to 4950: 225 below          12
    // Four spacings of such columns and 2.5 of plain ones: 65 and 62; 65 less a fiftieth and 1.5 is 62.2.
    #[test]
    fn rows_begin_half_a_step_higher_where_that_saves_a_row_between_storeys() {
        assert!((lowest(&front(3375.0, 4425.0)) - 450.0).abs() < 1e-9);
    }

    // 2100 to 3450: 2475 2925 3375, 150 below: 4; 2250 2700 3150, 75 above: 3.75.
    // 4500 to 5100: 4725, 150 above: 2; 4950, 225 below: 2. In all 8 and 8.75 up a column.
    #[test]
    fn rows_begin_as_high_as_they_can_where_nothing_is_saved() {
        assert!((lowest(&front(3450.0, 4500.0)) - 225.0).abs() < 1e-9);
    }

    #[test]
    fn openings_alone_weigh() {
        let mut e = front(3375.0, 4425.0);
        e.openings.clear();
        assert!((lowest(&e) - 225.0).abs() < 1e-9);
    }
}

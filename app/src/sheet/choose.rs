//! Paper, scale and number of pieces for an elevation.

use super::elevation::{self, Composed};
use super::options::SheetOptions;
use super::paper::{Paper, PaperSize, SCALES, SMALL_SCALES};
use super::split::{self, Grid};
use super::ties;
use super::view::Wall;

/// Up to this much strain a drawing reads well enough: one mark in two led off, or one in twelve left to
/// a detail.
const GOOD: f64 = 0.25;

/// Ties that stand closer than this on paper leave no room for their marks, mm.
const TOO_CLOSE: f64 = 2.0;

/// A way to draw an elevation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Choice {
    paper: Paper,
    scale: u32,
    /// Most pieces it may be cut into.
    most: usize,
}

/// The elevation on the paper, at the scale and in the pieces that read best: the first of the usual
/// choices that shows every mark, else the one that strains least.
pub(super) fn best(wall: &Wall<'_>, options: &SheetOptions) -> Option<Composed> {
    let apart = ties::close_spacing(wall);
    let (roomy, mut close): (Vec<_>, Vec<_>) =
        choices(options).into_iter().partition(|c| apart / f64::from(c.scale) >= TOO_CLOSE);
    let draw = |c: Choice| -> Option<Composed> {
        let grid = if c.most > 1 { split::grid(wall, c.paper, c.scale, c.most)? } else { Grid::ONE };
        // In one piece it has been tried already.
        if c.most > 1 && grid.count() == 1 {
            return None;
        }
        elevation::compose(wall, c.paper, c.scale, &grid, options.include)
    };
    let mut best: Option<Composed> = None;
    for choice in roomy {
        let Some(composed) = draw(choice) else { continue };
        if composed.strain <= GOOD {
            return Some(composed);
        }
        if best.as_ref().is_none_or(|b| composed.strain < b.strain) {
            best = Some(composed);
        }
    }
    if best.is_none() {
        // As large as any paper allows.
        close.sort_by_key(|c| (c.scale, c.most, c.paper.size));
        best = close.into_iter().find_map(draw);
    }
    if best.is_none() && options.scale.is_none() {
        let size = options.sheet.unwrap_or(PaperSize::A1);
        let whole = |scale| move |paper| Choice { paper, scale, most: 1 };
        best = SMALL_SCALES.into_iter().flat_map(|s| ways(size).into_iter().map(whole(s))).find_map(draw);
    }
    best
}

fn ways(size: PaperSize) -> Vec<Paper> {
    let upright = Paper { size, upright: true };
    if size == PaperSize::A4 { vec![Paper::lying(size), upright] } else { vec![Paper::lying(size)] }
}

/// Papers, scales and pieces to try, best first.
///
/// A sheet that a technician can handle comes before a whole view on a large one, and a scale that can be
/// read before both.
fn choices(options: &SheetOptions) -> Vec<Choice> {
    use PaperSize::{A0, A1, A2, A3};
    let mut all = Vec::new();
    let mut add = |size: PaperSize, scale: u32, most: usize| {
        if options.scale.is_some_and(|s| s != scale) || (options.in_one && most > 1) {
            return;
        }
        let papers = if most > 1 { vec![Paper::lying(size)] } else { ways(size) };
        all.extend(papers.into_iter().map(|paper| Choice { paper, scale, most }));
    };
    if let Some(size) = options.sheet {
        let most = if options.scale.is_some() { 24 } else { 12 };
        for scale in [10, 20, 50] {
            add(size, scale, 1);
        }
        add(size, 50, most);
        add(size, 100, 1);
        add(size, 100, most);
        add(size, 200, 1);
        add(size, 200, most);
        // Only where it is asked for: a wall in many pieces at a large scale.
        if options.scale.is_some_and(|s| s < 50) {
            SCALES.into_iter().for_each(|s| add(size, s, most));
        }
        return all;
    }
    let order: &[(PaperSize, &[u32], usize)] = &[
        (A3, &[10, 20, 50], 1),
        (A3, &[50], 3),
        (A2, &[10, 20, 50], 1),
        (A3, &[50], 4),
        (A2, &[50], 4),
        (A1, &[10, 20, 50], 1),
        (A1, &[50], 6),
        (A3, &[100], 1),
        (A2, &[100], 1),
        (A1, &[100], 1),
        (A1, &[50], 12),
        (A1, &[100], 12),
        (A0, &[10, 20, 50, 100], 1),
        (A1, &[200], 1),
        (A0, &[200], 1),
        (A3, &[200], 1),
        (A2, &[200], 1),
    ];
    for (size, scales, most) in order {
        scales.iter().for_each(|&s| add(*size, s, *most));
    }
    all
}

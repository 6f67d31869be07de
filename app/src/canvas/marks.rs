//! Words among the ties: the names of keep-outs and locked areas and the marks of ties, each where there is room for it.

use egui::{Align2, Pos2, Rect, Vec2, vec2};
use layout_core::Tie;
use layout_core::elevation::{Elevation, Point, shape_bounds, shape_ring};

use super::Sheet;
use super::ties::radius;
use super::wall::screen;
use crate::document::Item;
use crate::session::Context;

/// From this scale on (points per mm) ties 300 mm apart leave room for marks.
const MARKS_FROM: f64 = 0.1;

/// Marks drawn at most: more could not be read anyway.
const MOST_MARKS: usize = 1500;

/// Size of marks, points.
const MARK_SIZE: f32 = 10.5;

/// Size of the names of areas, points.
pub(super) const NAME_SIZE: f32 = 11.0;

/// Side of a cell of [`Taken`], points.
const CELL: f32 = 3.0;

/// The names of keep-outs and locked areas, then the marks of `ties`, so strong as their symbols are, 0 to 1.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, ties: &[Tie], strength: f32) {
    let marked = cx.session.layers.marks && sheet.view.scale >= MARKS_FROM;
    if !marked && e.locked.is_empty() && e.keep_outs.is_empty() {
        return;
    }
    let seen = sheet.view.rect.expand(12.0);
    let ties: Vec<&Tie> = ties.iter().filter(|t| seen.contains(sheet.view.to_screen(t.at))).collect();
    let mut board = Board::new(sheet, e, &ties);
    for (i, k) in e.keep_outs.iter().enumerate() {
        let rect = screen(sheet, shape_bounds(&k.shape));
        let c = if k.clearance.is_finite() { k.clearance.max(0.0) } else { 0.0 };
        if !sheet.view.rect.intersects(rect) {
            continue;
        }
        if let Some(reason) = crate::document::struck::reason(k) {
            // Beside the sign for a place struck out, as far as there is room for words.
            if sheet.view.scale > 0.12 {
                board.hazard(Rect::from_center_size(rect.center(), Vec2::splat(17.0)), reason);
            }
        } else if !k.name.is_empty() && !super::wall::holds(sheet, rect, &k.name) {
            let around = rect.expand((c * sheet.view.scale) as f32);
            let chosen = cx.session.item() == Some(Item::KeepOut(i));
            // One that is hardly seen is named where it is chosen.
            let seen = chosen || rect.width().max(rect.height()) > 6.0;
            let named = seen && board.hazard(around, &k.name);
            if chosen && !named {
                board.pointed_at(around, &k.name);
            }
        }
    }
    for (i, l) in e.locked.iter().enumerate() {
        let rect = screen(sheet, shape_bounds(&l.shape));
        let name = Item::Locked(i).label(e);
        board.name(rect, &if l.name.is_empty() { name } else { format!("locked: {name}") });
    }
    if marked {
        ties.iter().take(MOST_MARKS).for_each(|t| board.mark(t, strength));
    }
}

/// A line of words less the room of its own that it has above and below.
fn inside(rect: Rect) -> Rect {
    rect.shrink2(vec2(0.0, 2.5))
}

/// What takes up room on the sheet.
struct Board<'a> {
    sheet: &'a Sheet<'a>,
    /// Radius of the ties' symbols.
    r: f32,
    /// Ties, and words that are put already.
    taken: Taken,
    /// Lines of the wall and its openings.
    lines: Taken,
}

impl<'a> Board<'a> {
    fn new(sheet: &'a Sheet<'a>, e: &Elevation, ties: &[&Tie]) -> Self {
        let r = radius(sheet.view.scale);
        let over = sheet.view.rect.expand(24.0);
        let (mut taken, mut lines) = (Taken::new(over), Taken::new(over));
        let shapes = e.openings.iter().map(|o| &o.shape).chain(e.keep_outs.iter().map(|k| &k.shape));
        let shapes = shapes.chain(e.locked.iter().map(|l| &l.shape)).filter(|s| sheet.sees(shape_bounds(s)));
        let joints = e.movement_joints.iter().map(|j| vec![(j.x, j.from), (j.x, j.to)]);
        let rings = shapes.map(shape_ring).chain(joints).chain([e.outline.clone()]);
        for ring in rings {
            let ring = sheet.points(&ring);
            for (i, p) in ring.iter().enumerate() {
                lines.take_line(*p, ring[(i + 1) % ring.len()]);
            }
        }
        let symbol = |at: Point| Rect::from_center_size(sheet.view.to_screen(at), Vec2::splat(r * 1.6));
        ties.iter().for_each(|t| taken.take(symbol(t.at)));
        e.existing_ties.iter().for_each(|t| taken.take(symbol(t.at)));
        Self { sheet, r, taken, lines }
    }

    /// A mark beside its tie: at one of its corners, else above, below or beside it, clear of ties, words and lines.
    /// Left out where there is no such place, and there as soon as one looks nearer.
    fn mark(&mut self, tie: &Tie, strength: f32) {
        let at = self.sheet.view.to_screen(tie.at);
        let size = self.sheet.text_size(&tie.mark, MARK_SIZE);
        let r = self.r;
        let (right, left, middle) = (r + 2.0, -r - 2.0 - size.x, -size.x / 2.0);
        let (above, below) = (-r * 0.5 - size.y, r * 0.5);
        let places = [
            (right, above),
            (left, above),
            (right, below),
            (left, below),
            (middle, -r - size.y),
            (middle, r),
            (right, -size.y / 2.0),
            (left, -size.y / 2.0),
        ]
        .map(|(x, y)| Rect::from_min_size(at + vec2(x, y), size));
        let clear = |rect: &Rect| self.taken.is_free(inside(*rect)) && self.lines.is_free(inside(*rect));
        if let Some(rect) = places.into_iter().find(clear) {
            let ink = self.sheet.palette.role(tie.role).gamma_multiply(strength);
            self.sheet.text(rect.min, Align2::LEFT_TOP, &tie.mark, MARK_SIZE, ink);
            self.taken.take(inside(rect));
        }
    }

    /// The name of a keep-out beside it, clear of ties, words and lines. Whether there is such a place: if not, it is
    /// left out, and there as soon as one looks nearer.
    fn hazard(&mut self, area: Rect, name: &str) -> bool {
        let size = self.sheet.text_size(name, NAME_SIZE) + vec2(6.0, 1.0);
        let (middle, out) = (area.center(), size / 2.0 + vec2(3.0, 3.0));
        let far = (area.width() + size.x) / 2.0;
        let away = [0.0, 4.0, 8.0, 12.0].into_iter();
        let above_and_below =
            away.flat_map(|by| [area.top() - out.y - by, area.bottom() + out.y + by]).flat_map(|y| {
                [0.0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75].map(|f| Pos2::new(middle.x + f * far, y))
            });
        let aside = [area.right() + out.x, area.left() - out.x].map(|x| Pos2::new(x, middle.y));
        let place = above_and_below
            .chain(aside)
            .map(|at| Rect::from_center_size(at, size))
            .find(|rect| self.taken.is_free(inside(*rect)) && self.lines.is_free(inside(*rect)));
        if let Some(rect) = place {
            let ink = self.sheet.palette.hazard;
            self.sheet.tag(rect.center(), Align2::CENTER_CENTER, name, NAME_SIZE, ink);
            self.taken.take(inside(rect));
        }
        place.is_some()
    }

    /// The name of a keep-out that has no room near it, off to its upper right, with a line to it.
    fn pointed_at(&mut self, area: Rect, name: &str) {
        let ink = self.sheet.palette.hazard;
        let knee = area.right_top() + vec2(16.0, -24.0);
        self.sheet.painter.line_segment([area.right_top(), knee], egui::Stroke::new(1.0, ink));
        let rect = self.sheet.tag(knee, Align2::LEFT_CENTER, name, NAME_SIZE, ink);
        self.taken.take(inside(rect));
    }

    /// The name of an area, at its upper edge from the left, else at its lower one or inside, where it covers no tie.
    fn name(&mut self, area: Rect, name: &str) {
        let size = self.sheet.text_size(name, NAME_SIZE) + vec2(6.0, 1.0);
        if size.x > area.width() + 36.0 || !self.sheet.view.rect.intersects(area) {
            return;
        }
        let steps = ((area.width() - size.x).max(0.0) / 6.0) as usize;
        let rows =
            [area.top() - 3.0 - size.y, area.bottom() + 3.0, area.top() + 3.0, area.bottom() - 3.0 - size.y];
        let place = rows
            .into_iter()
            .flat_map(|y| (0..=steps).map(move |k| Pos2::new(area.left() + 6.0 * k as f32, y)))
            .map(|at| Rect::from_min_size(at, size))
            .find(|rect| self.taken.is_free(*rect) && self.lines.is_free(*rect));
        if let Some(rect) = place {
            let ink = self.sheet.palette.ink_soft;
            self.sheet.tag(rect.center(), Align2::CENTER_CENTER, name, NAME_SIZE, ink);
            self.taken.take(rect);
        }
    }
}

/// Cells of a part of the screen that are taken; what lies beyond it is neither taken nor in the way.
struct Taken {
    over: Rect,
    columns: usize,
    cells: Vec<bool>,
}

impl Taken {
    fn new(over: Rect) -> Self {
        let many = |v: f32| (v / CELL).clamp(0.0, 4096.0) as usize + 1;
        let (columns, rows) = (many(over.width()), many(over.height()));
        Self { over, columns, cells: vec![false; columns * rows] }
    }

    /// The stretches of cells that a rectangle comes into, row by row.
    fn rows(&self, rect: Rect) -> impl Iterator<Item = std::ops::Range<usize>> + use<> {
        let rect = rect.intersect(self.over);
        let (columns, corner) = (self.columns, self.over.min);
        let count = self.cells.len() / columns;
        let cell =
            move |v: f32, from: f32, most: usize| (((v - from) / CELL).max(0.0) as usize).min(most - 1);
        // An empty meeting of the two is turned over.
        let meets = rect.width() >= 0.0 && rect.height() >= 0.0;
        let rows = if meets {
            cell(rect.top(), corner.y, count)..cell(rect.bottom(), corner.y, count) + 1
        } else {
            0..0
        };
        let (l, r) = (cell(rect.left(), corner.x, columns), cell(rect.right(), corner.x, columns));
        rows.map(move |j| j * columns + l..j * columns + r + 1)
    }

    fn take(&mut self, rect: Rect) {
        for row in self.rows(rect) {
            self.cells[row].fill(true);
        }
    }

    fn is_free(&self, rect: Rect) -> bool {
        self.rows(rect).all(|row| self.cells[row].iter().all(|taken| !taken))
    }

    /// Takes the cells along a line, as far as it is seen.
    fn take_line(&mut self, a: Pos2, b: Pos2) {
        let Some([a, b]) = super::labels::clipped(a, b, self.over) else { return };
        let steps = ((b - a).length() / 2.5).ceil().max(1.0) as usize;
        for i in 0..=steps {
            let p = a + (b - a) * (i as f32 / steps as f32);
            self.take(Rect::from_center_size(p, Vec2::ZERO));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    #[test]
    fn what_is_taken_is_not_free() {
        let mut taken = Taken::new(Rect::from_min_max(pos2(100.0, 50.0), pos2(400.0, 250.0)));
        let rect = |l: f32, t: f32| Rect::from_min_size(pos2(l, t), vec2(12.0, 9.0));
        taken.take(rect(150.0, 60.0));
        assert!(!taken.is_free(rect(158.0, 66.0)));
        assert!(taken.is_free(rect(170.0, 60.0)) && taken.is_free(rect(150.0, 80.0)));
        taken.take_line(pos2(0.0, 200.0), pos2(900.0, 200.0));
        assert!(!taken.is_free(rect(300.0, 195.0)));
        // Beyond the part, nothing is in the way.
        taken.take(rect(10.0, 10.0));
        assert!(taken.is_free(rect(10.0, 10.0)) && taken.is_free(rect(500.0, 195.0)));
    }
}

//! The wall itself: masonry, openings, keep-outs, movement joints, what holds its sides.

use super::dims::{self, Bands};
use super::draft::{Draft, MEDIUM, SMALL, THICK, THIN, small};
use super::font::Face;
use super::geom::{PaperPoint, Rect, inside_spans};
use super::model::{Align, Dash, Graphic, Layer, Text};
use super::place::Taken;
use super::view::{View, Wall};
use super::words::{self, Words, fill};
use super::{keep_out, locked};
use layout_core::elevation::{Shape, SideCondition, outline_sides, shape_ring};

/// Grey of masonry: light enough for lettering, and nothing is lost where a copy drops it.
const TINT: f64 = 0.945;

/// Grey of lines of rows.
const ROW_GREY: f64 = 0.5;

/// Draws everything of the wall that is not lettering.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    let e = wall.elevation;
    let masonry: Vec<Vec<PaperPoint>> =
        wall.plan.masonry.iter().map(|r| view.shown.clip_ring(&view.ring(r))).collect();
    draft.push(Layer::Masonry, Graphic::Fill { rings: masonry, grey: TINT });
    locked::draw(draft, wall, view);
    keep_out::draw(draft, wall, view);
    for o in &e.openings {
        opening(draft, view, &o.shape);
    }
    let ring = view.ring(&e.outline);
    for (i, side) in outline_sides(e).into_iter().enumerate() {
        let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
        let (width, dash) = match side {
            SideCondition::Base | SideCondition::FreeEnd => (THICK, Dash::Solid),
            SideCondition::Joint => (MEDIUM, Dash::DashDot),
            SideCondition::Abutment => (MEDIUM, Dash::Dashed),
            SideCondition::Corner | SideCondition::Verge | SideCondition::Eaves => (MEDIUM, Dash::Solid),
        };
        if let Some((a, b)) = view.shown.clip(a, b) {
            draft.styled(Layer::Masonry, a, b, width, dash, 0.0);
            draft.room.take_line(a, b, Taken::Line);
        }
    }
    for j in &e.movement_joints {
        if let Some((a, b)) = view.shown.clip(view.at((j.x, j.from)), view.at((j.x, j.to))) {
            draft.styled(Layer::Masonry, a, b, MEDIUM, Dash::DashDot, 0.0);
            draft.room.take_line(a, b, Taken::Joint);
        }
    }
}

fn opening(draft: &mut Draft, view: &View, shape: &Shape) {
    let ring = view.ring(&shape_ring(shape));
    for (a, b) in diagonals(view, shape) {
        draft.room.take_line(a, b, Taken::Fine);
    }
    if ring.iter().all(|&p| view.shown.contains(p)) {
        let (width, dash) = (MEDIUM, Dash::Solid);
        draft.push(
            Layer::Masonry,
            Graphic::Stroke { points: ring.clone(), closed: true, width, dash, grey: 0.0 },
        );
    } else {
        for (a, b) in view.sides(&ring) {
            draft.line(Layer::Masonry, a, b, MEDIUM);
        }
    }
    for (a, b) in view.sides(&ring) {
        draft.room.take_line(a, b, Taken::Line);
    }
}

/// Diagonals that say that an opening is a hole: inside the shape where it is not a rectangle, none for a polygon.
fn diagonals(view: &View, shape: &Shape) -> Vec<(PaperPoint, PaperPoint)> {
    if matches!(shape, Shape::Polygon(_)) {
        return Vec::new();
    }
    let Some(r) = Rect::round(view.ring(&shape_ring(shape))) else { return Vec::new() };
    let (cx, cy) = r.centre();
    let reach = if matches!(shape, Shape::Circle { .. }) { std::f64::consts::FRAC_1_SQRT_2 } else { 1.0 };
    let top = match *shape {
        Shape::Arched { y, h, .. } => view.y(y + h),
        _ => cy + (r.top - cy) * reach,
    };
    let (left, right) = (cx + (r.left - cx) * reach, cx + (r.right - cx) * reach);
    let bottom = cy + (r.bottom - cy) * reach;
    [((left, bottom), (right, top)), ((left, top), (right, bottom))]
        .into_iter()
        .filter_map(|(a, b)| view.shown.clip(a, b))
        .collect()
}

/// Draws the diagonals of the openings, left out where they would run through lettering: after all of it.
pub(super) fn cross_openings(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    for (a, b) in wall.elevation.openings.iter().flat_map(|o| diagonals(view, &o.shape)) {
        for (from, to) in draft.room.clear_of_text(a, b) {
            let length = (to.0 - from.0).hypot(to.1 - from.1);
            // Nothing between two lines of a label.
            let least = if from == a || to == b { 4.0 * AIR } else { 1.5 * LABEL_PITCH };
            if length < least {
                continue;
            }
            // A little air before and after lettering.
            let trim = |p: PaperPoint, q: PaperPoint, whole: bool| {
                let t = if whole { 0.0 } else { AIR / length };
                (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t)
            };
            let (from, to) = (trim(from, to, from == a), trim(to, from, to == b));
            draft.line(Layer::Masonry, from, to, THIN);
        }
    }
}

/// Openings whose label found no room.
#[derive(Default)]
pub(super) struct Lost {
    /// How many have no label at all.
    pub labels: usize,
    /// Those whose size is not written at them, by index.
    pub sizes: Vec<usize>,
}

/// Names of openings, keep-outs and joints.
pub(super) fn label(draft: &mut Draft, wall: &Wall<'_>, view: &View) -> Lost {
    let (e, style) = (wall.elevation, wall.style);
    let mm = |v| style.mm(v);
    let mut lost = Lost::default();
    for (i, o) in e.openings.iter().enumerate() {
        let size = words::size(&o.shape, style);
        let said = area_label(draft, view, &o.shape, &[o.name.trim(), size.as_str()], Need::Name);
        lost.labels += usize::from(said == Said::Nothing);
        if said != Said::All {
            lost.sizes.push(i);
        }
    }
    for k in &e.keep_outs {
        // What finds no room here stands in the list of keep-outs.
        let clear = fill(style.words.keep_clear, &[&mm(k.clearance)]);
        area_label(draft, view, &k.shape, &[k.name.trim(), clear.as_str()], Need::All);
    }
    for j in &e.movement_joints {
        let (a, b) = (view.at((j.x, j.from.min(j.to))), view.at((j.x, j.from.max(j.to))));
        if let Some((a, b)) = view.shown.clip(a, b) {
            // Where ties leave no room, its dashes and the key say what it is.
            along(draft, a, b, style.words.side_joint, &[(1.2 + SMALL, 90.0), (-1.2, 90.0)]);
        }
    }
    lost
}

/// A shape higher than this has labels level with it tried, mm of paper.
const TALL: f64 = 12.0;

/// A piece that shows less than this share of an opening does not name it.
const SLIVER: f64 = 0.2;

/// White round a label, mm.
const AIR: f64 = 0.4;

/// Least cost of lettering that runs over a line other than a fine one.
const CLEAR: f64 = 10.0;

/// Distance between lines of a label, mm.
const LABEL_PITCH: f64 = SMALL * 1.5;

/// How much of a label it needs.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Need {
    /// Its first line; the others where they sit well.
    Name,
    /// Every line, rather further off than cut short.
    All,
}

/// How much of a label was written.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Said {
    All,
    Name,
    Nothing,
}

/// Lettering in the middle of a shape, level or upright, or beside it with a leader.
fn area_label(draft: &mut Draft, view: &View, shape: &Shape, lines: &[&str], need: Need) -> Said {
    let ring = view.ring(&shape_ring(shape));
    let corners: Vec<PaperPoint> = view.sides(&ring).into_iter().flat_map(|(a, b)| [a, b]).collect();
    let Some(r) = Rect::round(corners) else { return Said::All };
    let whole = Rect::round(ring.iter().copied()).unwrap_or(r);
    if r.width() * r.height() < SLIVER * whole.width() * whole.height() {
        // It is named where more of it is drawn.
        return Said::All;
    }
    let face = Face::Condensed;
    let lines: Vec<String> =
        lines.iter().filter(|l| !l.is_empty()).map(|l| face.shorten(l, SMALL, 60.0)).collect();
    let Some(name) = lines.first() else { return Said::All };
    let one = std::slice::from_ref(name);
    let joined = [lines.join(", ")];
    let short = [face.shorten(name, SMALL, r.width() - 1.6)];
    let full = [lines.as_slice(), &joined];
    let in_full = write_inside(draft, &r, &lines, 0.0)
        || write_inside(draft, &r, &joined, 0.0)
        || write_inside(draft, &r, &joined, 90.0)
        || write_inside(draft, &r, &lines, 90.0)
        || (need == Need::All && beside_with_leader(draft, view, &r, &full, CLEAR).is_some());
    if in_full {
        return Said::All;
    }
    let named = |said: bool| if said && lines.len() > 1 { Said::Name } else { Said::All };
    if write_inside(draft, &r, one, 0.0) || write_inside(draft, &r, one, 90.0) {
        return named(true);
    }
    if let Some(k) = beside_with_leader(draft, view, &r, &[full[0], full[1], one], f64::INFINITY) {
        return named(k >= full.len());
    }
    if r.width() > 16.0 && write_inside(draft, &r, &short, 0.0) { named(true) } else { Said::Nothing }
}

/// Lines of lettering about a point, turned by an angle.
fn stacked((cx, cy): PaperPoint, lines: &[String], angle: f64) -> Vec<Text> {
    let n = lines.len() as f64;
    let (sin, cos) = angle.to_radians().sin_cos();
    let line = |(i, l): (usize, &String)| {
        let up = (n / 2.0 - i as f64 - 1.0) * LABEL_PITCH + (LABEL_PITCH - SMALL) / 2.0;
        small((cx - up * sin, cy + up * cos), l, Align::Centre).turned(angle)
    };
    lines.iter().enumerate().map(line).collect()
}

/// Writes lines in the middle of a rectangle, if they fit and nothing stands there.
fn write_inside(draft: &mut Draft, r: &Rect, lines: &[String], angle: f64) -> bool {
    let texts = stacked(r.centre(), lines, angle);
    let within = r.inset(0.6);
    let free = texts.iter().all(|t| {
        let quad = t.quad();
        quad.iter().all(|&p| within.contains(p)) && draft.room.cost(&quad).is_some()
    });
    if free {
        write_over(draft, texts);
    }
    free
}

/// Lettering on one white ground.
fn write_over(draft: &mut Draft, texts: Vec<Text>) {
    if let Some(r) = Rect::round(texts.iter().flat_map(Text::quad)) {
        draft.fill(Layer::Notes, r.inset(-AIR).corners().to_vec(), 1.0);
    }
    texts.into_iter().for_each(|t| draft.text(Layer::Notes, t));
}

/// What a label costs with a little air round it.
fn airy_cost(draft: &Draft, t: &Text) -> Option<f64> {
    draft.room.cost(&Rect::round(t.quad())?.inset(-AIR).corners())
}

/// A label near a rectangle with a leader to its middle, in the wording that sits best; tries all
/// round it, further and further out.
/// Places whose room costs `limit` or more are left. Returns which wording it is.
fn beside_with_leader(
    draft: &mut Draft,
    view: &View,
    r: &Rect,
    wordings: &[&[String]],
    limit: f64,
) -> Option<usize> {
    let mut best: Option<(Beside, usize)> = None;
    let mut take = |b: Option<Beside>, k: usize| {
        let Some(b) = b.filter(|b| b.room < limit) else { return };
        let cost = b.cost + 2.0 * k as f64;
        if best.as_ref().is_none_or(|(b, _)| cost < b.cost) {
            best = Some((Beside { cost, ..b }, k));
        }
    };
    for (k, lines) in wordings.iter().enumerate() {
        for out in [1.5, 3.0, 5.0, 8.0, 12.0] {
            for turn in 0..24 {
                let middle = r.centre();
                take(beside(draft, view, r, lines, middle, round(r, lines, out, turn), out), k);
            }
            // Beside a tall shape there is room between rows that the round misses.
            for (from, centre) in up_the_sides(r, lines, out) {
                take(beside(draft, view, r, lines, from, centre, out), k);
            }
        }
    }
    let (b, k) = best?;
    draft.leader(Layer::Notes, b.from, b.end);
    write_over(draft, b.texts);
    Some(k)
}

/// A label beside a shape.
struct Beside {
    cost: f64,
    /// What its room costs alone.
    room: f64,
    texts: Vec<Text>,
    /// Where the leader starts.
    from: PaperPoint,
    /// Where the leader ends.
    end: PaperPoint,
}

/// Half the breadth and height of lines of a label, mm.
fn half_size(lines: &[String]) -> (f64, f64) {
    let widest = lines.iter().map(|l| Face::Condensed.width(l, SMALL)).fold(0.0, f64::max);
    (widest / 2.0, lines.len() as f64 * LABEL_PITCH / 2.0)
}

/// The middle of a label beside a rectangle in one of 24 directions.
fn round(r: &Rect, lines: &[String], out: f64, turn: u32) -> PaperPoint {
    let (middle, (half_w, half_h)) = (r.centre(), half_size(lines));
    let (rx, ry) = (r.width() / 2.0 + half_w + out, r.height() / 2.0 + half_h + out);
    let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 24.0).sin_cos();
    // Round the rectangle's edge, not on a circle: corners stay as near as sides.
    let reach = cos.abs().max(sin.abs());
    (middle.0 + rx * cos / reach, middle.1 + ry * sin / reach)
}

/// Places level with a tall rectangle, at its left and right: where the leader starts, and the label's middle.
fn up_the_sides(r: &Rect, lines: &[String], out: f64) -> Vec<(PaperPoint, PaperPoint)> {
    let steps = if r.height() > TALL { (r.height() / 1.5).floor().min(60.0) as u32 } else { 0 };
    let aside = r.width() / 2.0 + half_size(lines).0 + out;
    let x = r.centre().0;
    let level = |k: u32| r.bottom + r.height() * (f64::from(k) + 0.5) / f64::from(steps);
    (0..steps).flat_map(|k| [-aside, aside].map(|dx| ((x, level(k)), (x + dx, level(k))))).collect()
}

/// A label about a place beside a rectangle, with its leader from another, if there is room.
fn beside(
    draft: &Draft,
    view: &View,
    r: &Rect,
    lines: &[String],
    from: PaperPoint,
    c: PaperPoint,
    out: f64,
) -> Option<Beside> {
    let (half_w, half_h) = half_size(lines);
    let end =
        (from.0.clamp(c.0 - half_w - 0.4, c.0 + half_w + 0.4), from.1.clamp(c.1 - half_h, c.1 + half_h));
    let texts = stacked(c, lines, 0.0);
    let inside = texts.iter().all(|t| t.quad().iter().all(|&p| view.window.contains(p)));
    // Below the wall it would stand on the distances of the ties.
    let below = c.1 - half_h < view.wall.bottom && r.top > view.wall.bottom;
    if !inside || below || draft.room.hits(&super::geom::segment(from, end)) {
        return None;
    }
    let costs: Option<f64> = texts.iter().map(|t| airy_cost(draft, t)).sum();
    let costs = costs?;
    // Off the wall it would stand among the dimensions.
    let away = if view.wall.contains(c) { 0.0 } else { 40.0 };
    Some(Beside { cost: costs + out + away, room: costs + away, texts, from, end })
}

/// Lettering along a line, where there is room: `offsets` are distances of the baseline to the right
/// of the direction a to b, with the turn of the lettering in degrees.
pub(super) fn along(
    draft: &mut Draft,
    a: PaperPoint,
    b: PaperPoint,
    text: &str,
    offsets: &[(f64, f64)],
) -> bool {
    let length = (b.0 - a.0).hypot(b.1 - a.1);
    if length < 1e-6 {
        return false;
    }
    let (ux, uy) = ((b.0 - a.0) / length, (b.1 - a.1) / length);
    let mut best: Option<(f64, Text)> = None;
    for (k, t) in [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9].into_iter().enumerate() {
        for &(off, angle) in offsets {
            let at = (a.0 + ux * length * t + uy * off, a.1 + uy * length * t - ux * off);
            let label = small(at, text, Align::Centre).turned(angle);
            if label.width() > length.max(8.0) {
                continue;
            }
            if let Some(cost) = draft.room.cost(&label.quad()) {
                let cost = cost + k as f64 * 0.5;
                if best.as_ref().is_none_or(|b| cost < b.0) {
                    best = Some((cost, label));
                }
            }
        }
    }
    let Some((_, label)) = best else { return false };
    draft.text(Layer::Notes, label);
    true
}

fn side_words(w: &'static Words, side: SideCondition) -> &'static str {
    match side {
        SideCondition::Base => w.side_base,
        SideCondition::Corner => w.side_corner,
        SideCondition::FreeEnd => w.side_free_end,
        SideCondition::Joint => w.side_joint,
        SideCondition::Abutment => w.side_abutment,
        SideCondition::Verge => w.side_verge,
        SideCondition::Eaves => w.side_eaves,
    }
}

/// Says outside each side what holds it. Returns how many found no room.
pub(super) fn label_sides(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands) -> usize {
    let outline = &wall.elevation.outline;
    let ring = view.ring(&wall.elevation.outline);
    let n = ring.len();
    let turn: f64 = (0..n).map(|i| (ring[i], ring[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    let mut lost = 0;
    for (i, side) in outline_sides(wall.elevation).into_iter().enumerate() {
        // Walk every side with the wall on the left, so that right of it is outside.
        let (a, b) = if turn >= 0.0 { (ring[i], ring[(i + 1) % n]) } else { (ring[(i + 1) % n], ring[i]) };
        let Some((a, b)) = view.shown.clip(a, b) else { continue };
        let angle = (b.1 - a.1).atan2(b.0 - a.0).to_degrees();
        // Lettering reads from below or from the right.
        let flip = angle > 90.0 + 1e-6 || angle <= -90.0 + 1e-6;
        let turned = if flip { angle + 180.0 } else { angle };
        let turned = if turned > 180.0 { turned - 360.0 } else { turned };
        // Flipped lettering has the wall below it: its baseline is the side's near edge.
        let off = if flip { 1.3 } else { 1.3 + SMALL };
        let length = (b.0 - a.0).hypot(b.1 - a.1);
        let words = side_words(wall.style.words, side);
        let left = dims::at_left_end(wall, outline[i], outline[(i + 1) % n]);
        if let (true, Some(out)) = (left, bands.side_words) {
            // Beyond the heights of the rows, whose lines would cross it.
            let at = (view.wall.left - out + SMALL / 2.0, f64::midpoint(a.1, b.1));
            let text = small(at, words, Align::Centre).turned(90.0);
            if text.quad().iter().all(|&p| view.window.contains(p)) {
                draft.text(Layer::Notes, text);
            }
            continue;
        }
        let matters = !matches!(side, SideCondition::Base | SideCondition::Corner | SideCondition::Eaves);
        let fits = Face::Condensed.width(words, SMALL) <= length.max(8.0);
        let done = fits && along(draft, a, b, words, &[(off, turned)]);
        lost += usize::from(!done && matters && length > 4.0);
    }
    lost
}

/// Lines of the rows that ties stand on, across the masonry and out to the labels at the left.
pub(super) fn rows(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    for row in &wall.rows {
        let py = view.y(row.y);
        let last = if wall.cuts[2] { view.wall.right } else { view.x(row.last) };
        let mut from = view.wall.left;
        for (i, (x0, x1)) in inside_spans(&wall.plan.masonry, row.y).into_iter().enumerate() {
            let (a, b) = (view.x(x0).max(view.shown.left), view.x(x1).min(last));
            if b <= a && view.x(x0) >= last {
                break;
            }
            if b <= a {
                continue;
            }
            if i == 0 && a - from > 0.5 {
                // From the labels to a wall that starts further in, as under a gable.
                for (a, b) in draft.room.clear_of_text((from, py), (a, py)) {
                    draft.styled(Layer::BedJoints, a, b, THIN, Dash::Dotted, ROW_GREY);
                }
            }
            draft.broken_line(Layer::BedJoints, (a, py), (b, py), THIN, ROW_GREY);
            from = b;
        }
    }
}

/// Takes the room of those lines, before any mark is placed.
pub(super) fn take_rows(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    for row in &wall.rows {
        for (x0, x1) in inside_spans(&wall.plan.masonry, row.y) {
            let (a, b) = (view.x(x0).max(view.shown.left), view.x(x1).min(view.wall.right));
            draft.room.take_line((a, view.y(row.y)), (b, view.y(row.y)), Taken::Fine);
        }
    }
}

//! New and old ties at their places, and the mark beside each new tie.

use super::draft::{Draft, SMALL};
use super::engineering;
use super::font::Face;
use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Layer, Symbol, Text};
use super::place::Taken;
use super::symbols::SIZE;
use super::view::{View, Wall};
use layout_core::Tie;

/// Height of marks, mm.
const MARK: f64 = SMALL;

/// What came of drawing the ties.
#[derive(Default)]
pub(super) struct Outcome {
    /// Indices of ties whose mark found no room.
    pub unmarked: Vec<usize>,
    /// Marks that stand off with a leader.
    pub led: usize,
    /// Indices of ties outside the wall, not drawn.
    pub unseen: Vec<usize>,
}

/// Size of symbols, 1 for full size: smaller where ties stand close on paper.
pub(super) fn symbol_scale(wall: &Wall<'_>, scale: f64) -> f64 {
    let apart = close_spacing(wall) / scale;
    (apart / (SIZE * 1.2)).clamp(0.5, 1.0)
}

/// Distance within which one tie in twenty has its nearest neighbour, mm.
pub(super) fn close_spacing(wall: &Wall<'_>) -> f64 {
    let mut points: Vec<(f64, f64)> = wall.own_ties().map(|t| t.at).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut nearest = vec![f64::INFINITY; points.len()];
    for i in 0..points.len() {
        // A tie with hundreds nearer to the left or right than above or below has said enough.
        for j in i + 1..points.len().min(i + 400) {
            let dx = points[j].0 - points[i].0;
            if dx >= nearest[i].min(2000.0) {
                break;
            }
            let d = dx.hypot(points[j].1 - points[i].1);
            nearest[i] = nearest[i].min(d);
            nearest[j] = nearest[j].min(d);
        }
    }
    nearest.sort_by(f64::total_cmp);
    nearest.get(nearest.len() / 20).copied().unwrap_or(f64::INFINITY)
}

fn boxed((x, y): PaperPoint, half: f64) -> [PaperPoint; 4] {
    Rect::new(x - half, y - half, x + half, y + half).corners()
}

/// Takes the room of every symbol, before any lettering is placed.
pub(super) fn take_room(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64, matched: bool) {
    for t in wall.plan.ties.iter().filter(|t| matched || wall.owns(t.at)) {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.room.take(boxed(at, SIZE / 2.0 * size), Taken::Symbol);
            if t.pinned {
                draft.room.take(boxed((at.0, at.1 + 2.0 * size), 0.6 * size), Taken::Symbol);
            }
        }
    }
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.room.take(boxed(at, 0.9), Taken::Symbol);
        }
    }
}

/// Draws every symbol; those beyond a match line in outline, those beyond the edge of a detail not at all.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64, matched: bool) {
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.symbol(Layer::OldTies, Symbol::OldTie, at, 1.0);
        }
    }
    for t in wall.plan.ties.iter().filter(|t| matched || wall.owns(t.at)) {
        let at = view.at(t.at);
        if !view.shown.contains(at) {
            continue;
        }
        if !wall.owns(t.at) {
            draft.symbol(Layer::Ties, Symbol::Beyond(t.role), at, size);
            continue;
        }
        if t.pinned {
            draft.symbol(Layer::Ties, Symbol::Pin, at, size);
        }
        draft.symbol(Layer::Ties, Symbol::Tie(t.role), at, size);
    }
}

/// The number of an old tie, as drawn and listed.
pub(super) fn old_mark(index: usize) -> String {
    format!("O{}", index + 1)
}

/// Numbers the old ties of this piece. Returns how many found no room.
pub(super) fn mark_old(draft: &mut Draft, wall: &Wall<'_>, view: &View) -> usize {
    let mut lost = 0;
    for (i, t) in wall.elevation.existing_ties.iter().enumerate() {
        let at = view.at(t.at);
        if !view.shown.contains(at) || !wall.owns(t.at) {
            continue;
        }
        let hopeless = lost > 100 && lost * 3 > i;
        let letter = engineering::letter(wall.style.words.engineering, t).unwrap_or_default();
        let said = format!("{} {letter}", old_mark(i));
        let mark = Mark { half: 0.9, ..Mark::new(said.trim(), at, 1.0) };
        lost += usize::from(mark.place(draft, view, Layer::OldTies, hopeless).is_none());
    }
    lost
}

/// Least cost of lettering that runs over a drawn line.
const CLEAR: f64 = 10.0;

/// A symbol closer to a mark than this is taken for its own, mm.
const NEAR: f64 = 1.0;

/// What it costs to stand that close to the symbol of another tie.
const CONFUSED: f64 = 4.0;

/// Directions to try for a mark, best first: off the row line, to the right.
const ROUND: [(f64, f64); 12] = [
    (1.0, 1.0),
    (-1.0, 1.0),
    (1.0, -1.0),
    (-1.0, -1.0),
    (0.0, 1.0),
    (0.0, -1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (1.0, 0.5),
    (-1.0, 0.5),
    (1.0, -0.5),
    (-1.0, -0.5),
];

/// Writes the mark of every tie beside it, or further off with a leader.
pub(super) fn mark(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) -> Outcome {
    let mut out = Outcome::default();
    let ties = || wall.ties.iter().filter_map(|&i| Some((i, wall.plan.ties.get(i)?)));
    if crowded(wall, view) {
        // Marks led all over the sheet tell nobody anything: the schedule has them.
        for (i, t) in ties() {
            let list = if view.shown.contains(view.at(t.at)) { &mut out.unmarked } else { &mut out.unseen };
            list.push(i);
        }
        return out;
    }
    let reach = engineering::reach(wall, size);
    let of = |i: usize, t: &Tie, at: PaperPoint| {
        let mark = Mark::new(&t.mark, at, size);
        Mark { half: reach(i).unwrap_or(mark.half), ..mark }
    };
    // Those with the fewest free places choose first; the others find another.
    let mut order: Vec<(usize, usize, &Tie)> = Vec::new();
    for (i, t) in ties() {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            order.push((of(i, t, at).choices(draft, view), i, t));
        } else {
            out.unseen.push(i);
        }
    }
    order.sort_by_key(|(choices, i, _)| (*choices, *i));
    for (n, (_, i, t)) in order.into_iter().enumerate() {
        let at = view.at(t.at);
        // Where most marks find no room, the drawing is too small for them: look no further for the rest.
        let hopeless = out.unmarked.len() > 100 && out.unmarked.len() * 3 > n;
        match of(i, t, at).place(draft, view, Layer::Marks, hopeless) {
            Some(led) => out.led += usize::from(led),
            None => out.unmarked.push(i),
        }
    }
    out.unmarked.sort_unstable();
    out
}

/// Least room for a tie with its mark, mm² of paper: about a mark's length by two lines.
const LEAST_ROOM: f64 = 26.0;

/// Whether the ties shown stand too close for marks at this scale.
fn crowded(wall: &Wall<'_>, view: &View) -> bool {
    let shown = wall.own_ties().filter(|t| view.shown.contains(view.at(t.at))).count();
    let share = wall.ties.len() as f64 / wall.plan.ties.len().max(1) as f64;
    let (drawn, whole) =
        (wall.window.width() * wall.window.height(), wall.bounds.width() * wall.bounds.height());
    // A piece has its share of the masonry, by its ties or by its size, whichever is more.
    let share = share.max(drawn / whole.max(1.0)).min(1.0);
    let masonry = share * wall.plan.net_area * 1e6 / (view.scale * view.scale);
    shown as f64 * LEAST_ROOM > masonry
}

/// A mark that looks for its place.
struct Mark {
    /// What it says.
    text: String,
    /// Where its tie is.
    tie: PaperPoint,
    /// Half the breadth of the tie's symbol, mm.
    half: f64,
    /// How far it runs, mm.
    width: f64,
    /// Lowest and highest ink, mm.
    ink: (f64, f64),
}

/// A place for a mark: start of its baseline, and where a leader to it ends.
#[derive(Clone, Copy)]
struct Spot {
    start: PaperPoint,
    leader: Option<PaperPoint>,
    cost: f64,
}

impl Mark {
    fn new(text: &str, tie: PaperPoint, size: f64) -> Self {
        let face = Face::Condensed;
        let text = face.clean(text);
        let (width, ink) = (face.width(&text, MARK), face.ink(&text, MARK));
        Self { text, tie, half: SIZE / 2.0 * size, width, ink }
    }

    /// Writes the mark where it sits best; says whether with a leader. `None` where there is no room.
    fn place(&self, draft: &mut Draft, view: &View, layer: Layer, hopeless: bool) -> Option<bool> {
        // Clear of drawn lines first, with a leader if need be; over a line rather than not at all.
        let spot = self
            .beside(draft, view, CLEAR)
            .or_else(|| if hopeless { None } else { self.stood_off(draft, view, CLEAR) })
            .or_else(|| self.beside(draft, view, f64::INFINITY))
            .or_else(|| if hopeless { None } else { self.stood_off(draft, view, f64::INFINITY) })?;
        if let Some(end) = spot.leader {
            let d = (end.0 - self.tie.0).hypot(end.1 - self.tie.1).max(1e-6);
            let share = self.half / d;
            let from = (self.tie.0 + (end.0 - self.tie.0) * share, self.tie.1 + (end.1 - self.tie.1) * share);
            draft.leader(layer, from, end);
        }
        draft.text(layer, Text::new(spot.start, &self.text, MARK, Align::Left, Face::Condensed));
        Some(spot.leader.is_some())
    }

    /// How many of the directions round the tie are free of everything.
    fn choices(&self, draft: &Draft, view: &View) -> usize {
        let free = |d: &(f64, f64)| self.cost(draft, view, self.start(*d, self.half + 0.35));
        ROUND.iter().filter(|d| free(d).is_some_and(|c| c < CLEAR)).count()
    }

    /// What it costs to write the mark from a start of its baseline, with a little air round it.
    fn cost(&self, draft: &Draft, view: &View, (x, y): PaperPoint) -> Option<f64> {
        let ink = Rect::new(x, y + self.ink.0, x + self.width, y + self.ink.1);
        let inside =
            view.window.contains((ink.left, ink.bottom)) && view.window.contains((ink.right, ink.top));
        let airy = Rect::new(ink.left - 0.5, ink.bottom - 0.15, ink.right + 0.5, ink.top + 0.15);
        if !inside {
            return None;
        }
        // Close to another tie it would be read as the mark of that one.
        let others = draft.room.symbols(&ink.inset(-NEAR).corners()).saturating_sub(1);
        draft.room.cost(&airy.corners()).map(|c| c + CONFUSED * others as f64)
    }

    /// Start of the baseline in a direction from the tie, the mark's nearest edge `out` away.
    fn start(&self, (dx, dy): (f64, f64), out: f64) -> PaperPoint {
        let diagonal = dx.abs() > 0.1 && dy.abs() > 0.9;
        let across = if diagonal { out + 0.2 } else { out };
        let x = if dx > 0.1 {
            self.tie.0 + across
        } else if dx < -0.1 {
            self.tie.0 - across - self.width
        } else {
            self.tie.0 - self.width / 2.0
        };
        let up = if diagonal { out * 0.55 } else { out };
        let y = if dy > 0.9 {
            up
        } else if dy < -0.9 {
            -up - MARK
        } else {
            dy * MARK * 1.2 - MARK / 2.0
        };
        (x, self.tie.1 + y)
    }

    fn beside(&self, draft: &Draft, view: &View, limit: f64) -> Option<Spot> {
        let mut best: Option<Spot> = None;
        for (k, direction) in ROUND.into_iter().enumerate() {
            for (extra, penalty) in [(0.35, 0.0), (1.0, 1.5)] {
                let start = self.start(direction, self.half + extra);
                let Some(cost) = self.cost(draft, view, start).filter(|c| *c < limit) else { continue };
                let cost = cost + penalty + k as f64 * 0.1;
                if best.is_none_or(|b| cost < b.cost) {
                    best = Some(Spot { start, leader: None, cost });
                }
            }
            if best.is_some_and(|b| b.cost < 1.0) {
                break;
            }
        }
        best
    }

    fn stood_off(&self, draft: &Draft, view: &View, limit: f64) -> Option<Spot> {
        for out in [2.5, 4.0, 6.0, 8.5, 11.0] {
            let mut best: Option<Spot> = None;
            for turn in 0..16 {
                let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 16.0 + 0.2).sin_cos();
                let along = |d: f64| (self.tie.0 + cos * d, self.tie.1 + sin * d);
                let end = along(self.half + out);
                let x = if cos >= 0.0 { end.0 + 0.4 } else { end.0 - 0.4 - self.width };
                let start = (x, end.1 - MARK / 2.0);
                let Some(cost) = self.cost(draft, view, start).filter(|c| *c < limit) else { continue };
                if best.is_some_and(|b| b.cost <= cost)
                    || draft.room.hits(&segment(along(self.half * 1.5), end))
                {
                    continue;
                }
                best = Some(Spot { start, leader: Some(end), cost });
            }
            if best.is_some() {
                return best;
            }
        }
        None
    }
}

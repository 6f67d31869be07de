//! The mark of every tie beside it, or further off with a leader: never nearer to another tie than to its own.

use super::draft::{Draft, SMALL};
use super::engineering;
use super::font::Face;
use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Layer, Text};
use super::place::NOWHERE;
use super::symbols::SIZE;
use super::ties::{OLD_HALF, old_mark};
use super::view::{View, Wall};
use layout_core::Role;

/// Height of marks, mm.
const MARK: f64 = SMALL;

/// What came of marking the ties.
#[derive(Default)]
pub(super) struct Outcome {
    /// Indices of ties whose mark found no room.
    pub unmarked: Vec<usize>,
    /// Marks that stand off with a leader.
    pub led: usize,
    /// Indices of ties outside the wall, not drawn.
    pub unseen: Vec<usize>,
    /// Old ties whose number found no room.
    pub unnumbered: usize,
}

/// Least cost of lettering that runs over a drawn line.
const CLEAR: f64 = 10.0;

/// How much nearer a mark stands to its own symbol than to any other, mm.
const NEARER: f64 = 0.5;

/// A symbol that is not further off than its own by this may be taken for it, mm.
const LIKELY: f64 = 1.0;

/// What it costs to stand that close to the symbol of another tie.
const CONFUSED: f64 = 4.0;

/// Least distance of a mark with a leader from any other symbol, mm.
const OFF: f64 = 0.7;

/// Lettering in one line with a mark and closer than this is read on with it, mm.
const ABREAST: f64 = 1.8;

/// What it costs to stand off the side that the column of the tie keeps to.
const UNSTEADY: f64 = 2.5;

/// Fewest ties above each other that keep their marks to one side.
const COLUMN: usize = 3;

/// Distances of marks with a leader, mm.
const OUT: [f64; 10] = [2.5, 4.0, 5.5, 7.0, 8.5, 10.0, 12.0, 14.0, 16.0, 18.0];

/// Directions that leaders are tried in.
const TURNS: u32 = 72;

/// Distances for the mark of a tie that stands among few without room, mm.
const FAR: [f64; 4] = [20.0, 23.0, 26.0, 30.0];

/// As many ties without room for their marks so near each other are better drawn larger; number and mm of elevation.
const DENSE: (usize, f64) = (3, 500.0);

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

/// Writes the mark of every tie and the number of every old one.
pub(super) fn mark(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) -> Outcome {
    let mut out = Outcome::default();
    let mut marks = new_marks(wall, view, size, &mut out);
    keep_to_sides(draft, view, &mut marks);
    marks.extend(old_marks(wall, view));
    // Those with the fewest free places choose first; the others find another.
    marks.sort_by_cached_key(|m| m.choices(draft, view));
    let place =
        |draft: &mut Draft, m: &Mark, limit: f64| m.beside(draft, view, limit).map(|s| m.write(draft, &s));
    // Leaders come after all that stand beside their ties, so that they run through none of them.
    marks.retain(|m| place(draft, m, CLEAR).is_none());
    let led = |draft: &mut Draft, m: &Mark, outs: &[f64], limit: f64| {
        m.stood_off(draft, view, outs, limit).map(|s| m.write(draft, &s))
    };
    // Where most marks find no room, the drawing is too small for them: look no further for the rest.
    let hopeless = |lost: usize, n: usize| lost > 100 && lost * 3 > n;
    let mut lost: Vec<Mark> = Vec::new();
    for (n, m) in marks.into_iter().enumerate() {
        let look = !hopeless(lost.len(), n);
        if look && led(draft, &m, &OUT, CLEAR).is_some() {
            out.led += usize::from(m.new.is_some());
        } else if place(draft, &m, f64::INFINITY).is_none() {
            // Over a line rather than not at all.
            if look && led(draft, &m, &OUT, f64::INFINITY).is_some() {
                out.led += usize::from(m.new.is_some());
            } else {
                lost.push(m);
            }
        }
    }
    let places: Vec<PaperPoint> = lost.iter().map(|m| m.tie).collect();
    for m in lost {
        let near = |p: &&PaperPoint| (p.0 - m.tie.0).hypot(p.1 - m.tie.1) * view.scale < DENSE.1;
        let few = places.len() < 200 && places.iter().filter(near).count() < DENSE.0;
        match m.new {
            _ if few && led(draft, &m, &FAR, f64::INFINITY).is_some() => {
                out.led += usize::from(m.new.is_some());
            }
            Some(i) => out.unmarked.push(i),
            None => out.unnumbered += 1,
        }
    }
    out.unmarked.sort_unstable();
    out
}

/// The marks of the new ties that are shown; the others are told of in the outcome.
fn new_marks(wall: &Wall<'_>, view: &View, size: f64, out: &mut Outcome) -> Vec<Mark> {
    let crowded = crowded(wall, view);
    let reach = engineering::reach(wall, size);
    let mut marks = Vec::new();
    for (i, t) in wall.ties.iter().filter_map(|&i| Some((i, wall.plan.ties.get(i)?))) {
        let at = view.at(t.at);
        if !view.shown.contains(at) {
            out.unseen.push(i);
        } else if crowded {
            // Marks led all over the sheet tell nobody anything: the schedule has them.
            out.unmarked.push(i);
        } else {
            let half = reach(i).unwrap_or(SIZE / 2.0 * size);
            marks.push(Mark { role: Some(t.role), ..Mark::new(&t.mark, Some(i), at, half) });
        }
    }
    marks
}

/// The numbers of the old ties of this piece.
fn old_marks(wall: &Wall<'_>, view: &View) -> Vec<Mark> {
    let shown =
        |t: &layout_core::elevation::ExistingTie| view.shown.contains(view.at(t.at)) && wall.owns(t.at);
    let all = wall.elevation.existing_ties.iter().enumerate().filter(|(_, t)| shown(t));
    all.map(|(i, t)| {
        let letter = engineering::letter(wall.style.words.engineering, t).unwrap_or_default();
        let said = format!("{} {letter}", old_mark(i));
        Mark::new(said.trim(), None, view.at(t.at), OLD_HALF)
    })
    .collect()
}

/// Gives the ties of a role that stand above each other the side on which most of their marks find room.
fn keep_to_sides(draft: &Draft, view: &View, marks: &mut [Mark]) {
    let key = |m: &Mark| (m.role, (m.tie.0 * 20.0).round() as i64);
    marks.sort_by_key(key);
    for column in marks.chunk_by_mut(|a, b| key(a) == key(b)).filter(|c| c.len() >= COLUMN) {
        // Ties of the field are read along their rows.
        if column.iter().any(|m| m.role == Some(Role::Field)) {
            continue;
        }
        let cost = |k: usize| -> f64 {
            let of =
                |m: &Mark| m.cost(draft, view, m.start(ROUND[k], m.half + 0.35)).unwrap_or(CLEAR).min(CLEAR);
            column.iter().map(of).sum::<f64>() + 0.1 * k as f64
        };
        let best = (0..ROUND.len()).map(|k| (cost(k), k)).min_by(|a, b| a.0.total_cmp(&b.0));
        column.iter_mut().for_each(|m| m.side = best.map(|(_, k)| k));
    }
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
    /// The new tie, by its number in the layout; none for the number of an old one.
    new: Option<usize>,
    /// What its tie holds; none of an old tie.
    role: Option<Role>,
    /// Where its tie is.
    tie: PaperPoint,
    /// Half the breadth of the tie's symbol, mm.
    half: f64,
    /// How far it runs, mm.
    width: f64,
    /// Lowest and highest ink, mm.
    ink: (f64, f64),
    /// The direction that the marks of its column keep to.
    side: Option<usize>,
}

/// A place for a mark: start of its baseline, and where a leader to it ends.
#[derive(Clone, Copy)]
struct Spot {
    start: PaperPoint,
    leader: Option<PaperPoint>,
    cost: f64,
}

impl Mark {
    fn new(text: &str, new: Option<usize>, tie: PaperPoint, half: f64) -> Self {
        let face = Face::Condensed;
        let text = face.clean(text);
        let (width, ink) = (face.width(&text, MARK), face.ink(&text, MARK));
        Self { text, new, role: None, tie, half, width, ink, side: None }
    }

    fn write(&self, draft: &mut Draft, spot: &Spot) {
        let layer = if self.new.is_some() { Layer::Marks } else { Layer::OldTies };
        if let Some(end) = spot.leader {
            let d = (end.0 - self.tie.0).hypot(end.1 - self.tie.1).max(1e-6);
            let share = self.half / d;
            let from = (self.tie.0 + (end.0 - self.tie.0) * share, self.tie.1 + (end.1 - self.tie.1) * share);
            draft.leader(layer, from, end);
        }
        draft.text(layer, Text::new(spot.start, &self.text, MARK, Align::Left, Face::Condensed));
    }

    /// How many of the directions round the tie are free of everything.
    fn choices(&self, draft: &Draft, view: &View) -> usize {
        let free = |d: &(f64, f64)| self.cost(draft, view, self.start(*d, self.half + 0.35));
        ROUND.iter().filter(|d| free(d).is_some_and(|c| c < CLEAR)).count()
    }

    /// The ink of the mark from a start of its baseline.
    fn inked(&self, (x, y): PaperPoint) -> Rect {
        Rect::new(x, y + self.ink.0, x + self.width, y + self.ink.1)
    }

    /// What it costs to write the mark beside its tie; `None` where another tie is as near.
    fn cost(&self, draft: &Draft, view: &View, start: PaperPoint) -> Option<f64> {
        let ink = self.inked(start);
        let (x, y) = self.tie;
        let own = ink.apart(&Rect::new(x - self.half, y - self.half, x + self.half, y + self.half));
        let other = draft.room.to_symbol(&ink, own + LIKELY, self.tie);
        if other < own + NEARER {
            return None;
        }
        let confused = if other < own + LIKELY { CONFUSED } else { 0.0 };
        room_cost(draft, view, &ink).map(|c| c + confused)
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

    /// What it costs to stand in a direction: little on the side of its column, more on the other.
    fn liking(&self, k: usize) -> f64 {
        let order = 0.1 * k as f64;
        match self.side {
            Some(s) if s == k => 0.0,
            Some(s) if ROUND[s].0 * ROUND[k].0 > 0.0 => UNSTEADY / 2.0 + order,
            Some(_) => UNSTEADY + order,
            None => order,
        }
    }

    fn beside(&self, draft: &Draft, view: &View, limit: f64) -> Option<Spot> {
        let mut best: Option<Spot> = None;
        for k in self.side.into_iter().chain(0..ROUND.len()) {
            for (extra, penalty) in [(0.35, 0.0), (1.0, 1.5)] {
                let start = self.start(ROUND[k], self.half + extra);
                let Some(cost) = self.cost(draft, view, start).filter(|c| *c < limit) else { continue };
                let cost = cost + penalty + self.liking(k);
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

    fn stood_off(&self, draft: &Draft, view: &View, outs: &[f64], limit: f64) -> Option<Spot> {
        for out in outs {
            let mut best: Option<Spot> = None;
            for turn in 0..TURNS {
                let (sin, cos) =
                    (f64::from(turn) * std::f64::consts::TAU / f64::from(TURNS) + 0.02).sin_cos();
                let along = |d: f64| (self.tie.0 + cos * d, self.tie.1 + sin * d);
                let end = along(self.half + out);
                let x = if cos >= 0.0 { end.0 + 0.4 } else { end.0 - 0.4 - self.width };
                let start = (x, end.1 - MARK / 2.0);
                let ink = self.inked(start);
                if draft.room.to_symbol(&ink, OFF, NOWHERE) < OFF {
                    continue;
                }
                let Some(room) = room_cost(draft, view, &ink).filter(|c| *c < limit) else { continue };
                let Some(crossed) = draft.room.crossed(&segment(along(self.half * 1.5), end)) else {
                    continue;
                };
                let cost = room + crossed;
                if cost < limit && best.is_none_or(|b| cost < b.cost) {
                    best = Some(Spot { start, leader: Some(end), cost });
                }
            }
            if best.is_some() {
                return best;
            }
        }
        None
    }
}

/// What the room for the ink of a mark costs, with a little air round it.
fn room_cost(draft: &Draft, view: &View, ink: &Rect) -> Option<f64> {
    let inside = view.window.contains((ink.left, ink.bottom)) && view.window.contains((ink.right, ink.top));
    if !inside {
        return None;
    }
    let airy = Rect::new(ink.left - 0.5, ink.bottom - 0.15, ink.right + 0.5, ink.top + 0.15);
    let line = Rect::new(ink.left - ABREAST, ink.bottom + 0.3, ink.right + ABREAST, ink.top - 0.3);
    let abreast = if draft.room.hits_text(&line.corners()) { CLEAR } else { 0.0 };
    draft.room.cost(&airy.corners()).map(|c| c + abreast)
}

//! Why a place has no tie near enough, as far as the drawing tells: what keeps ties from standing there, by
//! how much, and what would mend it.
//!
//! Words for a message only; nothing is decided by it. Places are tried on every course within reach,
//! 25 mm apart.

use super::Subject;
use super::keep_out::clear_of;
use super::place::{at, mm};
use super::tie_index::TieIndex;
use crate::elevation::{Fix, Point, shape_ring};
use crate::masonry::Bays;
use crate::units::{ANYWHERE_STEP, DISTANCE_TOLERANCE, EPSILON};

/// Step along a row of the places tried, mm.
const STEP: f64 = 25.0;

/// Masonry narrower than this takes no drilled hole, whatever the rules, mm.
const LEAST_PIER: f64 = 40.0;

/// Where a tie would do, if one could stand there.
pub(super) struct Wanted<'a> {
    /// The place that has none near enough, mm.
    pub about: Point,
    /// How far along and up or down a tie may be from it, mm.
    pub reach: (f64, f64),
    /// Whether a tie at a place would do.
    pub serves: &'a dyn Fn(Point) -> bool,
}

/// The place that comes nearest to being clear of something, and how much it lacks, mm.
#[derive(Clone, Debug, Default)]
struct Nearest(Option<(f64, String)>);

impl Nearest {
    fn see(&mut self, lacks: f64, words: impl FnOnce() -> String) {
        if self.0.as_ref().is_none_or(|(least, _)| lacks < *least) {
            self.0 = Some((lacks, words()));
        }
    }
}

/// What stands in the way of a tie, and what would mend it; nothing if some place would do, or the ties were
/// placed by hand.
pub(super) fn reason(s: &Subject<'_>, wanted: &Wanted<'_>) -> Option<String> {
    if !s.elevation.automatic {
        return None;
    }
    let heights = heights(s, wanted.about.1, wanted.reach.1);
    if heights.is_empty() {
        return Some(no_course(s, wanted));
    }
    let limit = s.rules.edge_distance.value;
    let mut widest = 0.0f64;
    let (mut keep_out, mut old, mut new) = (Nearest::default(), Nearest::default(), Nearest::default());
    let mut locked = None;
    let (x, dx) = (wanted.about.0, wanted.reach.0);
    for y in heights {
        for p in (0..=(2.0 * dx / STEP) as i64).map(|i| (x - dx + i as f64 * STEP, y)) {
            if !s.masonry.holds(p) || !(wanted.serves)(p) {
                continue;
            }
            // The nearest side, no further off than asked for.
            let clear = s.masonry.boundary.nearest_within(p, limit).map_or(limit, |n| n.0);
            widest = widest.max(clear);
            if clear < limit - DISTANCE_TOLERANCE {
                continue;
            }
            if let Some((lacks, name)) = s.keep_outs.too_near(p) {
                keep_out.see(lacks, || name);
            } else if let Some((lacks, place)) = near_old_tie(s, p) {
                old.see(lacks, || at(place));
            } else if let Some(name) = locked_at(s, p) {
                locked = Some(name);
            } else if let Some((lacks, place)) = near_new_tie(s, p) {
                new.see(lacks, || at(place));
            } else {
                return None;
            }
        }
    }
    if let Some((lacks, name)) = keep_out.0 {
        return Some(format!(
            "{name} leaves no place for a tie within reach: the best is {} mm too near; make it that much smaller, or \
             restrain the wall otherwise",
            mm(lacks)
        ));
    }
    if let Some((lacks, place)) = old.0 {
        let asked = s.rules.existing_clearance.value;
        return Some(format!(
            "old ties leave no place for a tie: the best is {} mm from the one at {place}, and {} is asked for; take it \
             out or reduce the clearance of old ties",
            mm(asked - lacks),
            mm(asked)
        ));
    }
    if let Some(name) = locked {
        return Some(format!(
            "{name} has no tie within reach and none is added in it; release it, or lock it with more ties"
        ));
    }
    if let Some((lacks, place)) = new.0 {
        let asked = s.rules.between.value;
        return Some(format!(
            "new ties leave no place for one more: the best is {} mm from the one at {place}, and {} is asked for; \
             reduce the distance between ties",
            mm(asked - lacks),
            mm(asked)
        ));
    }
    Some(narrow(s, wanted.about, widest))
}

/// The courses are too coarse.
fn no_course(s: &Subject<'_>, wanted: &Wanted<'_>) -> String {
    let c = s.elevation.coursing;
    let nearest = c.height(c.nearest(wanted.about.1));
    let words = c.fix.words();
    format!(
        "no {words} lies within {} mm up or down of it, and the nearest, at {} mm, is {} away; reduce the gauge or let \
         ties go anywhere",
        mm(wanted.reach.1),
        mm(nearest),
        mm((nearest - wanted.about.1).abs())
    )
}

/// The masonry is too narrow or too low for the edge distance; `widest` is the furthest from any side that a
/// tie could stand, 0 where none could stand on masonry at all.
fn narrow(s: &Subject<'_>, about: Point, widest: f64) -> String {
    let limit = s.rules.edge_distance.value;
    let needs = 2.0 * limit;
    let (width, height) = extent(s, about);
    let (size, across, what) =
        if width < needs { (width, "wide", "pier") } else { (height, "high", "strip of wall") };
    if size < LEAST_PIER {
        return format!(
            "{what} {} mm {across}: no tie can stand in it; draw it as part of what is beside it, or restrain it otherwise",
            mm(size)
        );
    }
    if size < needs - EPSILON {
        // Half its size is what a tie in the middle has.
        return format!(
            "{what} {} mm {across}: a tie needs {} ({} from either side); reduce the edge distance to {}, or restrain \
             the {what} otherwise",
            mm(size),
            mm(needs),
            mm(limit),
            mm((size / 2.0).floor())
        );
    }
    if widest <= 0.0 {
        return format!(
            "no {} with masonry is within reach of it; move a side or change the courses, or restrain the wall otherwise",
            s.elevation.coursing.fix.words()
        );
    }
    format!(
        "a tie within reach can stand no more than {} mm from the nearest side, and {} is asked for; reduce the edge \
         distance or restrain the wall otherwise",
        mm(widest),
        mm(limit)
    )
}

/// Width and height of the masonry through a place, mm.
fn extent(s: &Subject<'_>, p: Point) -> (f64, f64) {
    let bays = &s.masonry.bays;
    let strips = &bays.bays[bays.bay_at(p.0)];
    let Some(at) = strips.cell_at(p) else { return (f64::INFINITY, f64::INFINITY) };
    let strip = strips.strips[strips.cells[at as usize].strip as usize];
    let holds = |c: u32, low: bool| {
        let c = &strips.cells[c as usize];
        let (l, r) = if low { (c.l0, c.r0) } else { (c.l1, c.r1) };
        l <= p.0 && p.0 <= r
    };
    let (mut low, mut high) = (strip.y0, strip.y1);
    let mut up = at;
    while let Some(next) = {
        let (a, b) = strips.cells[up as usize].up;
        (a..b).find(|&c| holds(c, true))
    } {
        up = next;
        high = strips.strips[strips.cells[up as usize].strip as usize].y1;
    }
    let mut down = at;
    while let Some(next) = {
        let (a, b) = strips.cells[down as usize].down;
        (a..b).find(|&c| holds(c, false))
    } {
        down = next;
        low = strips.strips[strips.cells[down as usize].strip as usize].y0;
    }
    (width(bays, p), high - low)
}

/// Width of the masonry through a place, mm, across cuts between bays; to the nearest joint, if there is one.
fn width(bays: &Bays, p: Point) -> f64 {
    let sides = |bay: usize, x: f64| {
        let strips = bays.bays.get(bay)?;
        let cell = &strips.cells[strips.cell_at((x, p.1))? as usize];
        let s = strips.strips[cell.strip as usize];
        let t = if s.y1 > s.y0 { (p.1 - s.y0) / (s.y1 - s.y0) } else { 0.0 };
        Some((cell.l0 + (cell.l1 - cell.l0) * t, cell.r0 + (cell.r1 - cell.r0) * t))
    };
    let (mut first, mut last) = (bays.bay_at(p.0), bays.bay_at(p.0));
    let Some((mut left, mut right)) = sides(first, p.0) else { return f64::INFINITY };
    while bays.ends(first).0 == Some(left)
        && let Some((l, _)) = sides(first - 1, left)
    {
        (left, first) = (l, first - 1);
    }
    while bays.ends(last).1 == Some(right)
        && let Some((_, r)) = sides(last + 1, right)
    {
        (right, last) = (r, last + 1);
    }
    right - left
}

/// Heights within reach at which a tie may stand.
fn heights(s: &Subject<'_>, y: f64, dy: f64) -> Vec<f64> {
    let c = s.elevation.coursing;
    if c.fix == Fix::Anywhere {
        return (0..=(2.0 * dy / ANYWHERE_STEP) as i64).map(|i| y - dy + i as f64 * ANYWHERE_STEP).collect();
    }
    (c.nearest(y - dy) - 1..=c.nearest(y + dy) + 1)
        .map(|k| c.height(k))
        .filter(|h| (h - y).abs() <= dy)
        .collect()
}

/// The old tie a place is too near to, and how much it lacks, mm.
fn near_old_tie(s: &Subject<'_>, p: Point) -> Option<(f64, Point)> {
    let asked = s.rules.existing_clearance.value;
    nearest(s.old_ties, &s.old_index, p, asked)
}

/// The new tie a place is too near to, and how much it lacks, mm.
fn near_new_tie(s: &Subject<'_>, p: Point) -> Option<(f64, Point)> {
    let asked = s.rules.between.value;
    nearest(s.ties, &s.index, p, asked)
}

/// The tie nearest to a place, if that is too near, and how much it lacks, mm.
fn nearest(ties: &[Point], index: &TieIndex<'_>, p: Point, asked: f64) -> Option<(f64, Point)> {
    index
        .within((p.0 - asked, p.1 - asked), (p.0 + asked, p.1 + asked))
        .map(|i| (asked - (ties[i].0 - p.0).hypot(ties[i].1 - p.1), i))
        .filter(|(lacks, _)| *lacks > DISTANCE_TOLERANCE)
        .max_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .map(|(lacks, i)| (lacks, ties[i]))
}

/// A locked area that a place lies in, in words.
fn locked_at(s: &Subject<'_>, p: Point) -> Option<String> {
    let l = s.elevation.locked.iter().find(|l| clear_of(&shape_ring(&l.shape), p) < DISTANCE_TOLERANCE)?;
    Some(if l.name.is_empty() {
        "the locked area".to_owned()
    } else {
        format!("the locked area '{}'", l.name)
    })
}

#[cfg(test)]
mod tests {
    use super::super::Rule;
    use super::super::testing::{broken, found, wall};
    use crate::elevation::{Elevation, KeepOut, Opening, Shape};

    #[test]
    fn a_narrow_nib_says_how_narrow() {
        // A door leaves a nib 100 wide at the right: a tie in it is 50 from either side.
        let mut e = wall();
        e.openings
            .push(Opening { name: "D1".into(), shape: Shape::Rect { x: 700., y: 0., w: 1000., h: 900. } });
        let f = found(Rule::Coverage, &e, &[(350., 225.), (350., 675.)]);
        assert_eq!(f.len(), 1);
        assert!(
            f[0].message.ends_with(
                "pier 100 mm wide: a tie needs 150 (75 from either side); reduce the edge distance to 50, or restrain the \
                 pier otherwise"
            ),
            "{}",
            f[0].message
        );
    }

    #[test]
    fn a_keep_out_is_named() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (600., 0.), (600., 300.), (0., 300.)]);
        let shape = Shape::Rect { x: 0., y: 0., w: 600., h: 300. };
        e.keep_outs.push(KeepOut { name: "Flue".into(), shape, clearance: 50. });
        let f = broken(Rule::Coverage, &e, &[]);
        // The best place is the bed joint at 150, x 75 or 525: 75 inside, and 50 outside is asked for.
        assert!(
            f.message.contains(
                "the keep-out 'Flue' leaves no place for a tie within reach: the best is 125 mm too near"
            ),
            "{}",
            f.message
        );
    }

    #[test]
    fn coarse_courses_are_named() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (600., 0.), (600., 900.), (0., 900.)]);
        e.coursing.gauge = 1000.;
        e.coursing.first_bed = 120.;
        let f = broken(Rule::Coverage, &e, &[(300., 120.)]);
        // Open from 345 to 900, of which the middle is 622.5; bed joints at 120 and 1120.
        assert!(f.message.contains("no bed joint lies within 225 mm"), "{}", f.message);
        assert!(f.message.contains("the nearest, at 1120 mm, is 497.5 away"), "{}", f.message);
    }

    #[test]
    fn nothing_is_said_where_a_place_would_do() {
        let f = broken(Rule::Coverage, &wall(), &[]);
        assert!(!f.message.contains(": "), "{}", f.message);
    }

    #[test]
    fn a_low_strip_says_how_low() {
        // A slot from end to end leaves 120 above it; the strip below is high enough and served.
        let mut e = Elevation::new("Wall", vec![(0., 0.), (900., 0.), (900., 620.), (0., 620.)]);
        e.openings
            .push(Opening { name: "Slot".into(), shape: Shape::Rect { x: 0., y: 450., w: 900., h: 50. } });
        let f = broken(Rule::Coverage, &e, &[(450., 225.)]);
        assert!(f.message.contains("strip of wall 120 mm high: a tie needs 150"), "{}", f.message);
    }

    #[test]
    fn places_across_an_opening_are_no_help() {
        // A slot 100 wide leaves a nib 100 wide; there is room for ties left of it, which do not serve the nib.
        let mut e = wall();
        e.openings
            .push(Opening { name: "Slot".into(), shape: Shape::Rect { x: 1600., y: 0., w: 100., h: 900. } });
        let ties = [(450., 225.), (1350., 225.), (450., 675.), (1350., 675.)];
        let f = broken(Rule::Coverage, &e, &ties);
        assert!(f.message.contains("pier 100 mm wide"), "{}", f.message);
    }

    #[test]
    fn old_ties_are_named_with_their_place() {
        // A pier with room for ties at x 75 alone; bed joints 75 and 225 are 30 and 120 from the old tie at 105.
        let mut e = Elevation::new("Pier", vec![(0., 0.), (150., 0.), (150., 200.), (0., 200.)]);
        e.existing_ties.push(crate::elevation::ExistingTie {
            at: (75., 105.),
            form: crate::elevation::TieForm::Other,
            ..Default::default()
        });
        let f = broken(Rule::Coverage, &e, &[]);
        assert!(
            f.message.contains("the best is 30 mm from the one at (75, 105), and 100 is asked for"),
            "{}",
            f.message
        );
    }
}

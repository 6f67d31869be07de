//! Putting several things in order: aligned, evenly spaced, mirrored, repeated.

use layout_core::elevation::{Elevation, Point};
use layout_core::units::tidy_mm;

use super::edit::Change;
use super::item::{Item, Object};
use super::mirror;

/// Left, lower, right and upper bound, mm.
type Bounds = (f64, f64, f64, f64);

/// How things are put in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Arrange {
    /// Left jambs one above the other.
    Left,
    /// Middles one above the other.
    Centre,
    /// Right jambs one above the other.
    Right,
    /// Heads at one height.
    Head,
    /// Middles at one height.
    Middle,
    /// Sills at one height.
    Sill,
    /// Equal gaps along the wall.
    SpaceAlong,
    /// Equal gaps up the wall.
    SpaceUp,
    /// The other way round, about their own middle.
    Mirror,
    /// Copies on the other side of the middle of the wall.
    MirrorCopies,
}

impl Arrange {
    /// Every way.
    pub const ALL: [Self; 10] = [
        Self::Left,
        Self::Centre,
        Self::Right,
        Self::Head,
        Self::Middle,
        Self::Sill,
        Self::SpaceAlong,
        Self::SpaceUp,
        Self::Mirror,
        Self::MirrorCopies,
    ];

    /// What it is called, and what it does in a sentence.
    #[must_use]
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Left => ("Align left jambs", "Move all to the left jamb of the one selected first"),
            Self::Centre => ("Align centres", "Centre all over the one selected first"),
            Self::Right => ("Align right jambs", "Move all to the right jamb of the one selected first"),
            Self::Head => ("Align heads", "Move all to the head of the one selected first"),
            Self::Middle => ("Align middles", "Move all to half the height of the one selected first"),
            Self::Sill => ("Align sills", "Move all to the sill of the one selected first"),
            Self::SpaceAlong => ("Space evenly along", "Equal piers between them; the outermost stay"),
            Self::SpaceUp => ("Space evenly up", "Equal heights between them; lowest and highest stay"),
            Self::Mirror => ("Mirror in place", "Turn what is selected about its own middle"),
            Self::MirrorCopies => {
                ("Mirror to the other side", "Copy what is selected to the other side of the wall's middle")
            }
        }
    }

    /// How few things it needs.
    #[must_use]
    pub fn needs(self) -> usize {
        match self {
            Self::SpaceAlong | Self::SpaceUp => 3,
            Self::Mirror | Self::MirrorCopies => 1,
            _ => 2,
        }
    }
}

/// The things that can be arranged among some items, first the one selected first.
fn things(e: &Elevation, items: &[Item]) -> Vec<(Item, Object)> {
    let free = items.iter().filter(|i| !matches!(i, Item::Locked(_)));
    free.filter_map(|i| i.object(e).map(|o| (*i, o))).collect()
}

/// Bounds round everything.
fn round_all<'a>(things: impl Iterator<Item = &'a Object>) -> Bounds {
    things
        .map(Object::bounds)
        .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, o| {
            (b.0.min(o.0), b.1.min(o.1), b.2.max(o.2), b.3.max(o.3))
        })
}

/// The change that arranges items; `None` where there are too few of them.
#[must_use]
pub fn arranged(e: &Elevation, items: &[Item], how: Arrange) -> Option<Change> {
    let things = things(e, items);
    if things.len() < how.needs() {
        return None;
    }
    let changes = match how {
        Arrange::Mirror => {
            let b = round_all(things.iter().map(|(_, o)| o));
            let axis = (b.0 + b.2) / 2.0;
            things.iter().map(|(i, o)| Change::Replace(*i, mirror::object(o, axis))).collect()
        }
        Arrange::MirrorCopies => {
            let xs = e.outline.iter().map(|p| p.0);
            let (l, r) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |b, x| (b.0.min(x), b.1.max(x)));
            let axis = (l + r) / 2.0;
            if !axis.is_finite() {
                return None;
            }
            things.iter().map(|(_, o)| Change::Add(nameless(mirror::object(o, axis)))).collect()
        }
        Arrange::SpaceAlong => spaced(&things, |b| (b.0, b.2), |d| (d, 0.0)),
        Arrange::SpaceUp => spaced(&things, |b| (b.1, b.3), |d| (0.0, d)),
        _ => aligned(&things, how),
    };
    let name = how.words().0;
    Some(Change::Group(name.to_owned(), changes))
}

fn aligned(things: &[(Item, Object)], how: Arrange) -> Vec<Change> {
    let Some(to) = things.first().map(|(_, o)| o.bounds()) else { return Vec::new() };
    let by = |b: Bounds| -> Point {
        match how {
            Arrange::Left => (to.0 - b.0, 0.0),
            Arrange::Right => (to.2 - b.2, 0.0),
            Arrange::Centre => ((to.0 + to.2 - b.0 - b.2) / 2.0, 0.0),
            Arrange::Sill => (0.0, to.1 - b.1),
            Arrange::Head => (0.0, to.3 - b.3),
            _ => (0.0, (to.1 + to.3 - b.1 - b.3) / 2.0),
        }
    };
    let moved = |(i, o): &(Item, Object)| {
        let (dx, dy) = by(o.bounds());
        Change::Replace(*i, o.moved(dx, dy))
    };
    things.iter().skip(1).map(moved).collect()
}

/// Equal gaps between things in their order along an axis; first and last stay.
fn spaced(
    things: &[(Item, Object)],
    span: impl Fn(Bounds) -> (f64, f64),
    by: impl Fn(f64) -> Point,
) -> Vec<Change> {
    let mut order: Vec<_> = things.iter().map(|(i, o)| (*i, o, span(o.bounds()))).collect();
    order.sort_by(|a, b| (a.2.0 + a.2.1).total_cmp(&(b.2.0 + b.2.1)));
    let (Some(first), Some(last)) = (order.first(), order.last()) else { return Vec::new() };
    let between: f64 = order[1..order.len() - 1].iter().map(|t| t.2.1 - t.2.0).sum();
    let gap = (last.2.0 - first.2.1 - between) / (order.len() - 1) as f64;
    let mut at = first.2.1;
    let mut changes = Vec::new();
    for (item, object, (lo, hi)) in &order[1..order.len() - 1] {
        let (dx, dy) = by(at + gap - lo);
        changes.push(Change::Replace(*item, object.moved(dx, dy)));
        at += gap + hi - lo;
    }
    changes
}

/// A copy that gets a name of its own.
fn nameless(object: Object) -> Object {
    match object {
        Object::Opening(mut o) => {
            o.name.clear();
            Object::Opening(o)
        }
        other => other,
    }
}

/// Copies of things at a spacing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeat {
    /// How many there are along the wall in the end, the first with them.
    pub along: u32,
    /// From one to the next along the wall, mm.
    pub every: f64,
    /// How many rows there are in the end.
    pub floors: u32,
    /// From one row to the next, mm.
    pub floor: f64,
}

impl Default for Repeat {
    fn default() -> Self {
        Self { along: 3, every: 2250.0, floors: 1, floor: 2625.0 }
    }
}

/// The most copies that one step makes.
const MOST_COPIES: u64 = 2000;

/// The change that repeats items.
///
/// # Errors
///
/// Why it cannot be done, in words.
pub fn repeated(e: &Elevation, items: &[Item], r: Repeat) -> Result<Change, String> {
    let things = things(e, items);
    if things.is_empty() {
        return Err("select what is to be repeated".to_owned());
    }
    let copies = (u64::from(r.along) * u64::from(r.floors)).saturating_sub(1) * things.len() as u64;
    if copies == 0 {
        return Err("one along and one floor is what is there already".to_owned());
    }
    if copies > MOST_COPIES {
        return Err(format!("{copies} copies at once; {MOST_COPIES} are the most"));
    }
    let mut changes = Vec::new();
    for floor in 0..r.floors {
        for along in 0..r.along {
            if floor + along > 0 {
                let (dx, dy) = (tidy_mm(r.every * f64::from(along)), tidy_mm(r.floor * f64::from(floor)));
                changes.extend(things.iter().map(|(_, o)| Change::Add(nameless(o.moved(dx, dy)))));
            }
        }
    }
    Ok(Change::Group(format!("Repeat {}", named(e, items)), changes))
}

/// One thing by its name, several by their number.
#[must_use]
pub fn named(e: &Elevation, items: &[Item]) -> String {
    match items {
        [one] => one.label(e),
        many => format!("{} things", many.len()),
    }
}

/// The change that moves items, mm; `None` where none of them can be moved.
#[must_use]
pub fn moved(e: &Elevation, items: &[Item], (dx, dy): Point) -> Option<Change> {
    let changes: Vec<Change> =
        things(e, items).iter().map(|(i, o)| Change::Replace(*i, o.moved(dx, dy))).collect();
    (!changes.is_empty()).then(|| Change::Group(format!("Move {}", named(e, items)), changes))
}

/// The change that takes items out, in one step; sides stay.
#[must_use]
pub fn removed(e: &Elevation, items: &[Item]) -> Option<Change> {
    let mut going: Vec<Item> = items.iter().copied().filter(|i| !matches!(i, Item::Side(_))).collect();
    // From the end of each list, so that the places of the others stay true.
    going.sort_by_key(|i| std::cmp::Reverse(i.place()));
    going.dedup();
    let changes: Vec<Change> = going.iter().map(|i| Change::Remove(*i)).collect();
    match changes.as_slice() {
        [] => None,
        [one] => Some(one.clone()),
        _ => Some(Change::Group(format!("Delete {}", named(e, &going)), changes)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{Opening, Project, Shape, shape_bounds};

    fn front(openings: &[(f64, f64, f64, f64)]) -> Elevation {
        let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
        e.openings = openings
            .iter()
            .map(|&(x, y, w, h)| Opening { name: format!("{x}"), shape: Shape::Rect { x, y, w, h } })
            .collect();
        e
    }

    fn after(e: &Elevation, change: Change) -> Vec<(f64, f64, f64, f64)> {
        let mut p = Project { elevations: vec![e.clone()], ..Project::default() };
        super::super::Edit::In(0, change).apply(&mut p).expect("a change that can be made");
        p.elevations[0].openings.iter().map(|o| shape_bounds(&o.shape)).collect()
    }

    const THREE: [Item; 3] = [Item::Opening(0), Item::Opening(1), Item::Opening(2)];

    #[test]
    fn aligned_to_the_first() {
        let e = front(&[(900.0, 900.0, 1200.0, 1350.0), (2500.0, 1000.0, 600.0, 600.0)]);
        for (how, left, sill) in [
            (Arrange::Left, 900.0, 1000.0),
            (Arrange::Right, 1500.0, 1000.0),
            // Middle of the first at 1500, the second is 600 wide.
            (Arrange::Centre, 1200.0, 1000.0),
            (Arrange::Sill, 2500.0, 900.0),
            // Head of the first at 2250.
            (Arrange::Head, 2500.0, 1650.0),
            (Arrange::Middle, 2500.0, 1275.0),
        ] {
            let got = after(&e, arranged(&e, &THREE[..2], how).expect("two things"));
            assert_eq!((got[1].0, got[1].1), (left, sill), "{how:?}");
            assert_eq!(got[0], (900.0, 900.0, 2100.0, 2250.0));
        }
        assert!(arranged(&e, &THREE[..1], Arrange::Left).is_none());
        assert!(arranged(&e, &THREE[..2], Arrange::SpaceAlong).is_none());
    }

    #[test]
    fn equal_piers_by_hand() {
        // 1000 to 2000, 3 m wide in the middle somewhere, 8000 to 9000: 6000 less 3000 are two piers of 1500.
        let e = front(&[
            (8000.0, 0.0, 1000.0, 900.0),
            (2100.0, 0.0, 3000.0, 900.0),
            (1000.0, 0.0, 1000.0, 900.0),
        ]);
        let got = after(&e, arranged(&e, &THREE, Arrange::SpaceAlong).expect("three things"));
        assert_eq!((got[1].0, got[1].2), (3500.0, 6500.0));
        let up = front(&[(0.0, 0.0, 900.0, 900.0), (0.0, 1000.0, 900.0, 900.0), (0.0, 4200.0, 900.0, 900.0)]);
        let got = after(&up, arranged(&up, &THREE, Arrange::SpaceUp).expect("three things"));
        // 4200 - 900 - 900 = 2400, halved.
        assert_eq!(got[1].1, 2100.0);
    }

    #[test]
    fn mirrored_in_place_and_across() {
        let e = front(&[(900.0, 900.0, 1200.0, 900.0), (3000.0, 900.0, 600.0, 600.0)]);
        let got = after(&e, arranged(&e, &THREE[..2], Arrange::Mirror).expect("two things"));
        // From 900 to 3600 they turn about 2250.
        assert_eq!((got[0].0, got[1].0), (2400.0, 900.0));
        let got = after(&e, arranged(&e, &THREE[..1], Arrange::MirrorCopies).expect("one thing"));
        assert_eq!((got.len(), got[2].0), (3, 6900.0));
    }

    #[test]
    fn a_block_of_windows() {
        let e = front(&[(900.0, 900.0, 1200.0, 1350.0)]);
        let r = Repeat { along: 3, every: 2700.0, floors: 2, floor: 2625.0 };
        let got = after(&e, repeated(&e, &THREE[..1], r).expect("five copies"));
        let places: Vec<_> = got.iter().map(|b| (b.0, b.1)).collect();
        let expect = [
            (900.0, 900.0),
            (3600.0, 900.0),
            (6300.0, 900.0),
            (900.0, 3525.0),
            (3600.0, 3525.0),
            (6300.0, 3525.0),
        ];
        assert_eq!(places, expect);
        assert!(repeated(&e, &THREE[..1], Repeat { along: 1, floors: 1, ..r }).is_err());
        assert!(repeated(&e, &THREE[..1], Repeat { along: 1000, floors: 1000, ..r }).is_err());
    }

    #[test]
    fn several_are_taken_out_at_once() {
        let e = front(&[
            (900.0, 900.0, 1200.0, 900.0),
            (3000.0, 900.0, 600.0, 600.0),
            (5000.0, 900.0, 600.0, 600.0),
        ]);
        let got = after(&e, removed(&e, &[Item::Opening(0), Item::Opening(2)]).expect("two go"));
        assert_eq!(got, vec![(3000.0, 900.0, 3600.0, 1500.0)]);
        assert!(removed(&e, &[Item::Side(0)]).is_none());
    }
}

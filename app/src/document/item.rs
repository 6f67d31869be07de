//! The things drawn on an elevation: where each is kept, what it is called, how it is moved.

use layout_core::elevation::{
    Elevation, ExistingTie, KeepOut, Locked, MovementJoint, Opening, Point, Shape, shape_bounds,
};
use layout_core::units::tidy_mm;

/// Which thing on an elevation: its kind and its place in the list of its kind, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Item {
    /// A window, door or other hole.
    Opening(usize),
    /// An area where nothing may be drilled.
    KeepOut(usize),
    /// A movement joint inside the outline.
    Joint(usize),
    /// An old tie.
    OldTie(usize),
    /// A tie fixed in place by hand.
    Pinned(usize),
    /// An area whose ties stay as they are.
    Locked(usize),
    /// A corner of the outline.
    Corner(usize),
    /// A side of the outline, from its corner to the next.
    Side(usize),
}

/// One thing as a value of its own, apart from the elevation. Corners and sides are not things: they
/// belong to the outline.
#[derive(Clone, Debug, PartialEq)]
pub enum Object {
    /// A window, door or other hole.
    Opening(Opening),
    /// An area where nothing may be drilled.
    KeepOut(KeepOut),
    /// A movement joint inside the outline.
    Joint(MovementJoint),
    /// An old tie.
    OldTie(ExistingTie),
    /// A tie fixed in place by hand, mm.
    Pinned(Point),
    /// An area whose ties stay as they are.
    Locked(Locked),
}

impl Item {
    /// The thing itself; `None` for corners, sides, and places no longer there.
    #[must_use]
    pub fn object(self, elevation: &Elevation) -> Option<Object> {
        match self {
            Self::Opening(i) => elevation.openings.get(i).cloned().map(Object::Opening),
            Self::KeepOut(i) => elevation.keep_outs.get(i).cloned().map(Object::KeepOut),
            Self::Joint(i) => elevation.movement_joints.get(i).copied().map(Object::Joint),
            Self::OldTie(i) => elevation.existing_ties.get(i).copied().map(Object::OldTie),
            Self::Pinned(i) => elevation.pinned.get(i).copied().map(Object::Pinned),
            Self::Locked(i) => elevation.locked.get(i).cloned().map(Object::Locked),
            Self::Corner(_) | Self::Side(_) => None,
        }
    }

    /// Every thing on an elevation; corners and sides are not things.
    pub fn all(e: &Elevation) -> impl Iterator<Item = Self> + use<> {
        let openings = (0..e.openings.len()).map(Self::Opening);
        let keep_outs = (0..e.keep_outs.len()).map(Self::KeepOut);
        let joints = (0..e.movement_joints.len()).map(Self::Joint);
        let old = (0..e.existing_ties.len()).map(Self::OldTie);
        let pinned = (0..e.pinned.len()).map(Self::Pinned);
        openings.chain(keep_outs).chain(joints).chain(old).chain(pinned)
    }

    /// Its kind and its place in the list of its kind, to sort by.
    #[must_use]
    pub fn place(self) -> (u8, usize) {
        match self {
            Self::Opening(i) => (0, i),
            Self::KeepOut(i) => (1, i),
            Self::Joint(i) => (2, i),
            Self::OldTie(i) => (3, i),
            Self::Pinned(i) => (4, i),
            Self::Corner(i) => (5, i),
            Self::Side(i) => (6, i),
            Self::Locked(i) => (7, i),
        }
    }

    /// Whether the elevation has it.
    #[must_use]
    pub fn exists(self, elevation: &Elevation) -> bool {
        match self {
            Self::Corner(i) | Self::Side(i) => i < elevation.outline.len(),
            _ => self.object(elevation).is_some(),
        }
    }

    /// What a person calls it: its own name, or its kind and number.
    #[must_use]
    pub fn label(self, elevation: &Elevation) -> String {
        let named = |name: Option<&String>, kind: &str, i: usize| match name {
            Some(name) if !name.trim().is_empty() => name.clone(),
            _ => format!("{kind} {}", i + 1),
        };
        match self {
            Self::Opening(i) => named(elevation.openings.get(i).map(|o| &o.name), "opening", i),
            Self::KeepOut(i) => named(elevation.keep_outs.get(i).map(|k| &k.name), "keep-out", i),
            Self::Joint(i) => format!("joint {}", i + 1),
            Self::OldTie(i) => format!("old tie {}", i + 1),
            Self::Pinned(i) => format!("pinned tie {}", i + 1),
            Self::Locked(i) => named(elevation.locked.get(i).map(|l| &l.name), "locked area", i),
            Self::Corner(i) => format!("corner {}", i + 1),
            Self::Side(i) => format!("side {}", i + 1),
        }
    }

    /// Left, lower, right and upper bound, mm; `None` if it is not there.
    #[must_use]
    pub fn bounds(self, elevation: &Elevation) -> Option<(f64, f64, f64, f64)> {
        let ring = &elevation.outline;
        match self {
            Self::Corner(i) => ring.get(i).map(|p| (p.0, p.1, p.0, p.1)),
            Self::Side(i) => {
                let (a, b) = side(ring, i)?;
                Some((a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1)))
            }
            _ => self.object(elevation).map(|o| o.bounds()),
        }
    }
}

/// The ends of side `i` of a ring.
#[must_use]
pub fn side(ring: &[Point], i: usize) -> Option<(Point, Point)> {
    Some((*ring.get(i)?, *ring.get((i + 1) % ring.len().max(1))?))
}

impl Object {
    /// The trade's word for the kind.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Opening(_) => "opening",
            Self::KeepOut(_) => "keep-out",
            Self::Joint(_) => "movement joint",
            Self::OldTie(_) => "old tie",
            Self::Pinned(_) => "pinned tie",
            Self::Locked(_) => "locked area",
        }
    }

    /// Its own name, if its kind has one and it is given.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        match self {
            Self::Opening(o) => Some(o.name.as_str()),
            Self::KeepOut(k) => Some(k.name.as_str()),
            Self::Locked(l) => Some(l.name.as_str()),
            _ => None,
        }
        .filter(|n| !n.trim().is_empty())
    }

    /// Its shape, if it has one.
    #[must_use]
    pub fn shape(&self) -> Option<&Shape> {
        match self {
            Self::Opening(o) => Some(&o.shape),
            Self::KeepOut(k) => Some(&k.shape),
            Self::Locked(l) => Some(&l.shape),
            _ => None,
        }
    }

    /// The same thing with another shape; unchanged if it has none.
    #[must_use]
    pub fn with_shape(&self, shape: Shape) -> Self {
        match self {
            Self::Opening(o) => Self::Opening(Opening { shape, ..o.clone() }),
            Self::KeepOut(k) => Self::KeepOut(KeepOut { shape, ..k.clone() }),
            other => other.clone(),
        }
    }

    /// The same thing moved, mm. A joint moves along the wall and up it; a locked area stays where its ties are.
    #[must_use]
    pub fn moved(&self, dx: f64, dy: f64) -> Self {
        let by = |p: Point| (tidy_mm(p.0 + dx), tidy_mm(p.1 + dy));
        match self {
            Self::Opening(_) | Self::KeepOut(_) => {
                self.shape().map_or_else(|| self.clone(), |s| self.with_shape(moved_shape(s, dx, dy)))
            }
            Self::Joint(j) => Self::Joint(MovementJoint {
                x: tidy_mm(j.x + dx),
                from: tidy_mm(j.from + dy),
                to: tidy_mm(j.to + dy),
            }),
            Self::OldTie(t) => Self::OldTie(ExistingTie { at: by(t.at), ..*t }),
            Self::Pinned(p) => Self::Pinned(by(*p)),
            Self::Locked(_) => self.clone(),
        }
    }

    /// Left, lower, right and upper bound, mm.
    #[must_use]
    pub fn bounds(&self) -> (f64, f64, f64, f64) {
        match self {
            Self::Opening(o) => shape_bounds(&o.shape),
            Self::KeepOut(k) => shape_bounds(&k.shape),
            Self::Locked(l) => shape_bounds(&l.shape),
            Self::Joint(j) => (j.x, j.from, j.x, j.to),
            Self::OldTie(t) => (t.at.0, t.at.1, t.at.0, t.at.1),
            Self::Pinned(p) => (p.0, p.1, p.0, p.1),
        }
    }
}

/// A shape moved, mm.
#[must_use]
pub fn moved_shape(shape: &Shape, dx: f64, dy: f64) -> Shape {
    let (px, py) = (|x: f64| tidy_mm(x + dx), |y: f64| tidy_mm(y + dy));
    match *shape {
        Shape::Rect { x, y, w, h } => Shape::Rect { x: px(x), y: py(y), w, h },
        Shape::Arched { x, y, w, h, rise } => Shape::Arched { x: px(x), y: py(y), w, h, rise },
        Shape::Circle { x, y, r } => Shape::Circle { x: px(x), y: py(y), r },
        Shape::Polygon(ref points) => Shape::Polygon(points.iter().map(|p| (px(p.0), py(p.1))).collect()),
    }
}

/// A name for a new opening that the elevation does not have yet: D for a door (stands on the base and
/// is 1.8 m tall or more), W for a window, and for shapes drawn freely O (round) and P (many-sided).
#[must_use]
pub fn opening_name(elevation: &Elevation, shape: &Shape) -> String {
    let (_, y, _, top) = shape_bounds(shape);
    let base = elevation.outline.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    let letter = match shape {
        Shape::Circle { .. } => 'O',
        Shape::Polygon(_) => 'P',
        _ if y <= base + 150.0 && top - y >= 1800.0 => 'D',
        _ => 'W',
    };
    free_name(letter.to_string().as_str(), elevation.openings.iter().map(|o| o.name.as_str()))
}

/// The stem with the lowest number that none of the names has.
pub fn free_name<'a>(stem: &str, names: impl Iterator<Item = &'a str>) -> String {
    let taken: std::collections::HashSet<&str> = names.collect();
    let mut n: u64 = 1;
    loop {
        let name = format!("{stem}{n}");
        if !taken.contains(name.as_str()) {
            return name;
        }
        n += 1;
    }
}

/// A name for a copy that none of the names has: "X copy", then "X copy 2", whether X or a copy of it is copied.
pub fn copy_name<'a>(name: &str, names: impl Iterator<Item = &'a str>) -> String {
    let numbered = name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let first = [numbered, name].into_iter().find_map(|n| n.strip_suffix(" copy")).unwrap_or(name);
    let first = format!("{first} copy");
    let taken: Vec<&str> = names.collect();
    if taken.contains(&first.as_str()) {
        let counted = (2_u64..).map(|n| format!("{first} {n}"));
        counted.into_iter().find(|n| !taken.contains(&n.as_str())).unwrap_or(first)
    } else {
        first
    }
}

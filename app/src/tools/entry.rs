//! Sizes that are typed for a tool instead of drawn.

use std::collections::BTreeMap;

use layout_core::elevation::{Elevation, ExistingTie, KeepOut, MovementJoint, Opening, Shape, TieForm};

use layout_core::units::tidy_mm;

use super::Tool;
use crate::document::heads::pointed;
use crate::document::{Change, Object};

/// A number typed for a tool, mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Field {
    /// Left edge, or where the thing is along the wall.
    X,
    /// Lower edge, or how high the thing is.
    Y,
    /// Width.
    Width,
    /// Height; of an arched opening, to the springing.
    Height,
    /// Rise of an arched head.
    Rise,
    /// Radius.
    Radius,
    /// Clearance of a keep-out.
    Clearance,
    /// Lower end of a joint.
    From,
    /// Upper end of a joint.
    To,
}

impl Field {
    /// What it is called for a tool.
    #[must_use]
    pub fn label(self, tool: Tool) -> &'static str {
        match (self, tool) {
            (Self::X, Tool::Circle | Tool::RoundKeepOut) => "Centre x",
            (Self::Y, Tool::Circle | Tool::RoundKeepOut) => "Centre y",
            (Self::X, Tool::Rectangle | Tool::Arched | Tool::Pointed | Tool::KeepOut | Tool::Wall) => "Left",
            (Self::Y, Tool::Rectangle | Tool::Arched | Tool::Pointed) => "Sill",
            (Self::Y, Tool::KeepOut | Tool::Wall) => "Foot",
            (Self::X, _) => "x",
            (Self::Y, _) => "y",
            (Self::Width, _) => "Width",
            (Self::Height, Tool::Arched | Tool::Pointed) => "To springing",
            (Self::Height, _) => "Height",
            (Self::Rise, _) => "Rise",
            (Self::Radius, _) => "Radius",
            (Self::Clearance, _) => "Clearance",
            (Self::From, _) => "From",
            (Self::To, _) => "To",
        }
    }

    /// Whether it has to be more than 0.
    #[must_use]
    pub fn is_size(self) -> bool {
        matches!(self, Self::Width | Self::Height | Self::Rise | Self::Radius)
    }

    fn usual(self, tool: Tool) -> f64 {
        match (self, tool) {
            (Self::X | Self::Y, Tool::Wall | Tool::WallCorners | Tool::Polygon | Tool::KeepOutCorners) => 0.0,
            (Self::X, Tool::Circle) => 1500.0,
            (Self::Y, Tool::Circle) => 3600.0,
            (Self::X, _) => 900.0,
            (Self::Y, Tool::Arched) => 0.0,
            (Self::Y, Tool::KeepOut) => 450.0,
            (Self::Y, _) => 900.0,
            (Self::Width, Tool::Wall) => 9000.0,
            (Self::Width, Tool::Arched) => 1000.0,
            (Self::Width, Tool::KeepOut) => 450.0,
            (Self::Width, Tool::Pointed) => 685.0,
            (Self::Rise, Tool::Pointed) => 593.0,
            (Self::Width, _) => 1200.0,
            (Self::Height, Tool::Wall) => 5250.0,
            (Self::Height, Tool::Arched) => 2100.0,
            (Self::Height, Tool::KeepOut) => 600.0,
            (Self::Height, _) => 1350.0,
            (Self::Rise, _) => 150.0,
            (Self::Radius, Tool::RoundKeepOut) => 100.0,
            (Self::Radius, _) => 400.0,
            (Self::Clearance, _) => 50.0,
            (Self::From, _) => 0.0,
            (Self::To, _) => 2400.0,
        }
    }
}

/// Lowest and highest place of the wall at a place along it, to the mm; `None` beside it.
fn wall_at(elevation: &Elevation, x: f64) -> Option<(f64, f64)> {
    let ring = &elevation.outline;
    let sides = (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()]));
    let heights = sides.filter(|(a, b)| a.0 != b.0 && (a.0.min(b.0)..=a.0.max(b.0)).contains(&x));
    let ys: Vec<f64> = heights.map(|(a, b)| (a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1)).floor()).collect();
    let foot = ys.iter().copied().reduce(f64::min)?;
    let top = ys.iter().copied().reduce(f64::max)?;
    (top > foot).then_some((foot, top))
}

/// How far places reach from the least to the greatest; `None` where they reach nowhere.
fn extent(places: impl Iterator<Item = f64> + Clone) -> Option<f64> {
    let (least, greatest) = (places.clone().reduce(f64::min)?, places.reduce(f64::max)?);
    let extent = tidy_mm(greatest - least);
    (extent.is_finite() && extent > 0.0).then_some(extent)
}

/// The numbers typed so far, for each tool.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    typed: BTreeMap<(Tool, Field), f64>,
    /// Form of the next old tie.
    pub form: TieForm,
    /// Name of the next keep-out.
    pub name: String,
}

impl Entry {
    /// The numbers a tool takes.
    #[must_use]
    pub fn fields(tool: Tool) -> &'static [Field] {
        match tool {
            Tool::Select | Tool::Pan | Tool::Lock => &[],
            Tool::Wall => &[Field::Width, Field::Height],
            Tool::WallCorners | Tool::Polygon | Tool::OldTie | Tool::Pin => &[Field::X, Field::Y],
            Tool::Rectangle => &[Field::X, Field::Y, Field::Width, Field::Height],
            Tool::Arched | Tool::Pointed => &[Field::X, Field::Y, Field::Width, Field::Height, Field::Rise],
            Tool::Circle => &[Field::X, Field::Y, Field::Radius],
            Tool::KeepOut => &[Field::X, Field::Y, Field::Width, Field::Height, Field::Clearance],
            Tool::RoundKeepOut => &[Field::X, Field::Y, Field::Radius, Field::Clearance],
            Tool::KeepOutCorners => &[Field::X, Field::Y, Field::Clearance],
            Tool::Joint => &[Field::X, Field::From, Field::To],
        }
    }

    /// The number for a field: as typed, or a usual one. A joint runs the height of the wall unless typed, and a wall
    /// has the size of the one that is drawn.
    #[must_use]
    pub fn get(&self, tool: Tool, field: Field, elevation: Option<&Elevation>) -> f64 {
        if let Some(v) = self.typed.get(&(tool, field)) {
            return *v;
        }
        let ys = || elevation.into_iter().flat_map(|e| &e.outline).map(|p| p.1);
        let xs = || elevation.into_iter().flat_map(|e| &e.outline).map(|p| p.0);
        match field {
            Field::Width if tool == Tool::Wall => extent(xs()),
            Field::Height if tool == Tool::Wall => extent(ys()),
            Field::From => ys().reduce(f64::min),
            Field::To => ys().reduce(f64::max),
            _ => None,
        }
        .unwrap_or_else(|| field.usual(tool))
    }

    /// Drops what was typed for a tool.
    pub fn forget(&mut self, tool: Tool) {
        self.typed.retain(|(of, _), _| *of != tool);
    }

    /// Takes a typed number.
    pub fn set(&mut self, tool: Tool, field: Field, value: f64) {
        self.typed.insert((tool, field), value);
    }

    /// The change that draws the typed sizes at a place; `None` for tools that draw nothing of a size.
    #[must_use]
    pub fn change(&self, tool: Tool, (x, y): (f64, f64), elevation: &Elevation) -> Option<Change> {
        let get = |f| self.get(tool, f, Some(elevation));
        let (w, h) = (get(Field::Width), get(Field::Height));
        let opening = |shape| Some(Change::Add(Object::Opening(Opening { name: String::new(), shape })));
        match tool {
            Tool::Wall => Some(Change::Outline(vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)])),
            Tool::Rectangle => opening(Shape::Rect { x, y, w, h }),
            Tool::Arched => opening(Shape::Arched { x, y, w, h, rise: get(Field::Rise) }),
            Tool::Pointed => opening(Shape::Polygon(pointed(x, y, w, h, get(Field::Rise)))),
            Tool::Circle => opening(Shape::Circle { x, y, r: get(Field::Radius) }),
            Tool::KeepOut => Some(self.keep_out(tool, Shape::Rect { x, y, w, h })),
            Tool::RoundKeepOut => Some(self.keep_out(tool, Shape::Circle { x, y, r: get(Field::Radius) })),
            Tool::Joint => {
                let (foot, top) = wall_at(elevation, x).unzip();
                let end = |f, of_wall: Option<f64>| match of_wall {
                    Some(y) if !self.typed.contains_key(&(tool, f)) => y,
                    _ => get(f),
                };
                let (from, to) = (end(Field::From, foot), end(Field::To, top));
                Some(Change::Add(Object::Joint(MovementJoint { x, from, to })))
            }
            Tool::OldTie => Some(Change::Add(Object::OldTie(ExistingTie {
                at: (x, y),
                form: self.form,
                ..ExistingTie::default()
            }))),
            Tool::Pin => Some(Change::Add(Object::Pinned((x, y)))),
            Tool::Select
            | Tool::Pan
            | Tool::Lock
            | Tool::WallCorners
            | Tool::Polygon
            | Tool::KeepOutCorners => None,
        }
    }

    /// The change that draws a keep-out, with the clearance typed for the tool.
    #[must_use]
    pub fn keep_out(&self, tool: Tool, shape: Shape) -> Change {
        let clearance = self.get(tool, Field::Clearance, None);
        Change::Add(Object::KeepOut(KeepOut { name: self.name.clone(), shape, clearance }))
    }
}

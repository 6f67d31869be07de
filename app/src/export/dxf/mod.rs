//! The sheets of elevations as DXF, in true millimetres of the wall: release 12, which every reader opens.
//!
//! Each sheet is enlarged by its scale, so that a tie stands at the coordinates it has in the project. The first
//! elevation keeps its own coordinates; the others stand to the right of it, moved by whole metres. A layer of
//! the drawing is a layer of the file; a symbol is a block (`TIE_FIELD`, ...), its origin in its middle.
//! Lettering is fitted between two points, so that no reader's font runs over its room. Grounds and tints are
//! left out: everything is lines on one colour.

mod blocks;
mod tags;

use crate::sheet::symbols;
use crate::sheet::{Dash, Graphic, Layer, PaperPoint, Sheet, SheetKind, Shown, Symbol, Text};
use tags::{Tags, layer_name, line_type};

/// Between sheets, mm of wall.
const APART: f64 = 1000.0;

/// Sheets of elevations as one file; empty of drawing where there is none.
///
/// Characters outside the code page of the file are written as their nearest, or as `?`.
#[must_use]
pub fn write(sheets: &[Sheet]) -> Vec<u8> {
    let placed = placed(sheets);
    let mut tags = Tags::default();
    tags::header(&mut tags, &extent(&placed));
    let mut scales: Vec<u32> = placed.iter().map(|p| p.shown.scale).collect();
    scales.sort_unstable();
    scales.dedup();
    tags::tables(&mut tags, &scales);
    blocks::write(&mut tags);
    tags.pair(0, "SECTION");
    tags.pair(2, "ENTITIES");
    for p in &placed {
        for item in &p.sheet.items {
            p.draw(&mut tags, item.layer, &item.graphic);
        }
    }
    tags.pair(0, "ENDSEC");
    tags.pair(0, "EOF");
    tags.bytes()
}

/// A sheet with the place it has in the file.
struct Placed<'a> {
    sheet: &'a Sheet,
    shown: &'a Shown,
    /// How far it is moved to the right, mm.
    moved: f64,
}

/// The sheets that draw an elevation, side by side.
fn placed(sheets: &[Sheet]) -> Vec<Placed<'_>> {
    let mut all: Vec<Placed<'_>> = Vec::new();
    let mut right: Option<f64> = None;
    for sheet in sheets.iter().filter(|s| s.kind == SheetKind::Elevation) {
        let Some(shown) = sheet.shown.first() else { continue };
        let mut p = Placed { sheet, shown, moved: 0.0 };
        if let Some(right) = right {
            p.moved = ((right + APART - p.at((0.0, 0.0)).0) / 1000.0).ceil() * 1000.0;
        }
        right = Some(p.at((sheet.width, 0.0)).0);
        all.push(p);
    }
    all
}

fn extent(placed: &[Placed<'_>]) -> [PaperPoint; 2] {
    let low = placed.iter().map(|p| p.at((0.0, 0.0)));
    let high = placed.iter().map(|p| p.at((p.sheet.width, p.sheet.height)));
    let low = low.reduce(|a, b| (a.0.min(b.0), a.1.min(b.1))).unwrap_or_default();
    let high = high.reduce(|a, b| (a.0.max(b.0), a.1.max(b.1))).unwrap_or_default();
    [low, high]
}

impl Placed<'_> {
    fn scale(&self) -> f64 {
        f64::from(self.shown.scale)
    }

    /// A place on paper, in the file.
    fn at(&self, (x, y): PaperPoint) -> PaperPoint {
        let (s, o, c) = (self.scale(), self.shown.origin, self.shown.corner);
        ((x - o.0) * s + c.0 + self.moved, (y - o.1) * s + c.1)
    }

    fn draw(&self, tags: &mut Tags, layer: Layer, graphic: &Graphic) {
        let name = layer_name(layer);
        match graphic {
            Graphic::Stroke { points, closed, dash, .. } => {
                let points: Vec<PaperPoint> = points.iter().map(|&p| self.at(p)).collect();
                let kind = line_type(*dash, self.shown.scale);
                if let ([a, b], false) = (points.as_slice(), *closed) {
                    tags.line(name, &kind, *a, *b);
                } else {
                    tags.polyline(name, &kind, &points, *closed);
                }
            }
            // What is dark and has few corners is solid; tints and white grounds are left out.
            Graphic::Fill { rings, grey } if *grey < 0.5 => {
                for ring in rings {
                    let ring: Vec<PaperPoint> = ring.iter().map(|&p| self.at(p)).collect();
                    tags.solid(name, &ring);
                }
            }
            Graphic::Fill { .. } => {}
            Graphic::Circle { centre, radius, .. } => {
                tags.circle(name, self.at(*centre), radius * self.scale());
            }
            Graphic::Symbol { kind, at, scale } => {
                tags.insert(name, &self.block(layer, *kind), self.at(*at), scale * self.scale());
            }
            Graphic::Text(text) => self.text(tags, name, text),
            Graphic::Picture { rect, .. } => {
                let points: Vec<PaperPoint> = rect.corners().iter().map(|&p| self.at(p)).collect();
                tags.polyline(name, &line_type(Dash::Solid, self.shown.scale), &points, true);
            }
        }
    }

    fn block(&self, layer: Layer, symbol: Symbol) -> String {
        if matches!(layer, Layer::Ties | Layer::OldTies) {
            symbols::file_name(symbol)
        } else {
            symbols::key_name(symbol)
        }
    }

    fn text(&self, tags: &mut Tags, layer: &str, t: &Text) {
        let start = t.start();
        let (sin, cos) = t.angle.to_radians().sin_cos();
        let end = (start.0 + t.width() * cos, start.1 + t.width() * sin);
        tags.text(layer, self.at(start), self.at(end), t.height * self.scale(), t.angle, &t.text);
    }
}

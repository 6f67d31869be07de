//! A sheet as pixels: the same drawing for PNG files and for the print preview.

use crate::sheet::symbols::{self, LINE, Piece};
use crate::sheet::{Dash, Face, Graphic, PaperPoint, Picture, Rect, Sheet, Text};
use std::collections::HashMap;
use tiny_skia::{
    Color, FillRule, FilterQuality, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, PixmapPaint, Stroke,
    StrokeDash, Transform,
};

/// Longest side of a picture, pixels.
const MOST_SIDE: u32 = 20_000;

/// Draws sheets into pixels; keeps the outlines of letters from one to the next.
#[derive(Default)]
pub struct Raster {
    letters: HashMap<(Face, char), Option<(Path, f32)>>,
}

/// Which part of a sheet is seen, and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Upper left corner of the picture on the sheet, mm.
    pub corner: PaperPoint,
    /// Pixels in a millimetre.
    pub per_mm: f64,
    /// Width and height of the picture, pixels; 1 to 20,000.
    pub size: (u32, u32),
}

impl Raster {
    /// The part of a sheet as rows of RGBA pixels from the upper left; what lies off the paper is clear.
    /// `None` where the size is none or more than can be held.
    pub fn draw(&mut self, sheet: &Sheet, part: &Part) -> Option<Vec<u8>> {
        let (w, h) = part.size;
        if w > MOST_SIDE || h > MOST_SIDE {
            return None;
        }
        let mut pixels = Pixmap::new(w, h)?;
        let s = part.per_mm as f32;
        // Paper y runs up, pixels down.
        let (x, y) = (-part.corner.0 * part.per_mm, part.corner.1 * part.per_mm);
        let to_pixels = Transform::from_row(s, 0.0, 0.0, -s, x as f32, y as f32);
        let paper = Rect::new(0.0, 0.0, sheet.width, sheet.height);
        fill(&mut pixels, &ring(&paper.corners()), 1.0, to_pixels);
        let seen = Rect::new(
            part.corner.0,
            part.corner.1 - f64::from(h) / part.per_mm,
            part.corner.0 + f64::from(w) / part.per_mm,
            part.corner.1,
        )
        .inset(-5.0);
        for item in &sheet.items {
            if touches(&item.graphic, &seen) {
                self.graphic(&mut pixels, &item.graphic, to_pixels);
            }
        }
        Some(pixels.take())
    }

    fn graphic(&mut self, pixels: &mut Pixmap, graphic: &Graphic, t: Transform) {
        match graphic {
            Graphic::Stroke { points, closed, width, dash, grey } => {
                stroke(pixels, &line(points, *closed), *width, *dash, *grey, t);
            }
            Graphic::Fill { rings, grey } => {
                let mut path = PathBuilder::new();
                rings.iter().for_each(|r| add_line(&mut path, r, true));
                fill(pixels, &path.finish(), *grey, t);
            }
            Graphic::Circle { centre, radius, width } => {
                let path = circle(*centre, *radius);
                fill(pixels, &path, 1.0, t);
                stroke(pixels, &path, *width, Dash::Solid, 0.0, t);
            }
            Graphic::Symbol { kind, at, scale } => {
                let s = *scale as f32;
                let t = t.pre_translate(at.0 as f32, at.1 as f32).pre_scale(s, s);
                symbols::pieces(*kind).iter().for_each(|p| piece(pixels, p, t));
            }
            Graphic::Text(text) => self.text(pixels, text, t),
            Graphic::Picture { rect, picture } => draw_picture(pixels, rect, picture, t),
        }
    }

    fn text(&mut self, pixels: &mut Pixmap, text: &Text, t: Transform) {
        let (x, y) = text.start();
        let em = text.face.em(text.height) as f32;
        let turn = Transform::from_rotate(text.angle as f32);
        let mut t = t.pre_translate(x as f32, y as f32).pre_concat(turn).pre_scale(em, em);
        for c in text.text.chars() {
            let known = self.letters.entry((text.face, c)).or_insert_with(|| outline(text.face, c));
            if let Some((path, advance)) = known {
                if !path.is_empty() {
                    pixels.fill_path(path, &paint(0.0), FillRule::Winding, t, None);
                }
                t = t.pre_translate(*advance, 0.0);
            } else {
                // A space, or a letter without an outline.
                t = t.pre_translate((text.face.width(&c.to_string(), text.height) as f32) / em, 0.0);
            }
        }
    }
}

/// Whether something may be seen in a part of the sheet.
fn touches(graphic: &Graphic, seen: &Rect) -> bool {
    let round = match graphic {
        Graphic::Stroke { points, .. } => Rect::round(points.iter().copied()),
        Graphic::Fill { rings, .. } => Rect::round(rings.iter().flatten().copied()),
        Graphic::Circle { centre, radius, .. } => Rect::round([*centre]).map(|r| r.inset(-radius)),
        Graphic::Symbol { at, .. } => Rect::round([*at]),
        Graphic::Text(t) => Rect::round(t.quad()),
        Graphic::Picture { rect, .. } => Some(*rect),
    };
    round.is_some_and(|r| {
        r.left <= seen.right && seen.left <= r.right && r.bottom <= seen.top && seen.bottom <= r.top
    })
}

fn paint(grey: f64) -> Paint<'static> {
    let v = (grey.clamp(0.0, 1.0) * 255.0).round() as u8;
    let mut paint = Paint::default();
    paint.set_color(Color::from_rgba8(v, v, v, 255));
    paint.anti_alias = true;
    paint
}

fn fill(pixels: &mut Pixmap, path: &Option<Path>, grey: f64, t: Transform) {
    if let Some(path) = path {
        pixels.fill_path(path, &paint(grey), FillRule::EvenOdd, t, None);
    }
}

fn stroke(pixels: &mut Pixmap, path: &Option<Path>, width: f64, dash: Dash, grey: f64, t: Transform) {
    let Some(path) = path else { return };
    let pattern: Vec<f32> = dash.pattern().iter().map(|&v| v as f32).collect();
    let stroke = Stroke {
        width: width as f32,
        line_cap: LineCap::Round,
        line_join: LineJoin::Miter,
        dash: if pattern.is_empty() { None } else { StrokeDash::new(pattern, 0.0) },
        ..Stroke::default()
    };
    pixels.stroke_path(path, &paint(grey), &stroke, t, None);
}

fn add_line(path: &mut PathBuilder, points: &[PaperPoint], closed: bool) {
    for (i, p) in points.iter().enumerate() {
        let (x, y) = (p.0 as f32, p.1 as f32);
        if i == 0 {
            path.move_to(x, y);
        } else {
            path.line_to(x, y);
        }
    }
    if closed && !points.is_empty() {
        path.close();
    }
}

fn line(points: &[PaperPoint], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    add_line(&mut path, points, closed);
    path.finish()
}

fn ring(points: &[PaperPoint]) -> Option<Path> {
    line(points, true)
}

fn circle((x, y): PaperPoint, radius: f64) -> Option<Path> {
    PathBuilder::from_circle(x as f32, y as f32, radius as f32)
}

fn piece(pixels: &mut Pixmap, piece: &Piece, t: Transform) {
    let inside = |black: bool| if black { 0.0 } else { 1.0 };
    match piece {
        Piece::Ring { points, black } => {
            let path = ring(points);
            fill(pixels, &path, inside(*black), t);
            stroke(pixels, &path, LINE, Dash::Solid, 0.0, t);
        }
        Piece::Circle { radius } => {
            let path = circle((0.0, 0.0), *radius);
            fill(pixels, &path, 1.0, t);
            stroke(pixels, &path, LINE, Dash::Solid, 0.0, t);
        }
        Piece::Dot { centre, radius, black } => fill(pixels, &circle(*centre, *radius), inside(*black), t),
        Piece::Line { from, to, width } => {
            stroke(pixels, &line(&[*from, *to], false), *width, Dash::Solid, 0.0, t);
        }
    }
}

fn draw_picture(pixels: &mut Pixmap, r: &Rect, picture: &Picture, t: Transform) {
    let Some(mut image) = Pixmap::new(picture.width, picture.height) else { return };
    for (pixel, &grey) in image.data_mut().chunks_exact_mut(4).zip(&picture.grey) {
        pixel.copy_from_slice(&[grey, grey, grey, 255]);
    }
    let (sx, sy) = (r.width() / f64::from(picture.width), r.height() / f64::from(picture.height));
    let t = t.pre_translate(r.left as f32, r.top as f32).pre_scale(sx as f32, -sy as f32);
    let paint = PixmapPaint { quality: FilterQuality::Bilinear, ..PixmapPaint::default() };
    pixels.draw_pixmap(0, 0, image.as_ref(), &paint, t, None);
}

/// The outline of a letter and how far it runs, in em.
fn outline(face: Face, c: char) -> Option<(Path, f32)> {
    let font = ttf_parser::Face::parse(face.bytes(), 0).ok()?;
    let glyph = font.glyph_index(c).or_else(|| font.glyph_index('?'))?;
    let em = 1.0 / f32::from(font.units_per_em());
    let advance = f32::from(font.glyph_hor_advance(glyph).unwrap_or(0)) * em;
    let mut builder = Outline { path: PathBuilder::new(), em };
    font.outline_glyph(glyph, &mut builder)?;
    Some((builder.path.finish()?, advance))
}

struct Outline {
    path: PathBuilder,
    em: f32,
}

impl ttf_parser::OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(x * self.em, y * self.em);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(x * self.em, y * self.em);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let e = self.em;
        self.path.quad_to(x1 * e, y1 * e, x * e, y * e);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let e = self.em;
        self.path.cubic_to(x1 * e, y1 * e, x2 * e, y2 * e, x * e, y * e);
    }

    fn close(&mut self) {
        self.path.close();
    }
}

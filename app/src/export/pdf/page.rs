//! A sheet as operations of a page, and symbols as form XObjects.

use super::{POINTS, fonts, layer_id, points};
use crate::sheet::symbols::{self, LINE, Piece};
use crate::sheet::{Dash, Face, Graphic, Layer, PaperPoint, Picture, Rect, Sheet, SheetKind, Symbol, Text};
use printpdf::{
    Color, DictItem, ExternalStream, ExternalXObject, Greyscale, Line, LineCapStyle, LineDashPattern,
    LinePoint, Op, PaintMode, PdfFontHandle, Point, Polygon, PolygonRing, Pt, TextItem, TextMatrix,
    WindingOrder, XObject, XObjectId, XObjectTransform,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Distance of the handles of a quarter circle, as a share of its radius.
const QUARTER: f64 = 0.552_284_75;

/// Everything on a sheet, in order.
pub(super) fn operations(sheet: &Sheet, pictures: &[Arc<Picture>]) -> Vec<Op> {
    let mut pen = Pen { pictures: pictures.to_vec(), ..Pen::default() };
    let mut layer: Option<Layer> = None;
    for item in &sheet.items {
        if layer != Some(item.layer) {
            if layer.is_some() {
                pen.ops.push(Op::EndLayer);
            }
            pen.ops.push(Op::BeginLayer { layer_id: layer_id(item.layer) });
            layer = Some(item.layer);
        }
        pen.draw(sheet.kind, item.layer, &item.graphic);
    }
    if layer.is_some() {
        pen.ops.push(Op::EndLayer);
    }
    pen.ops
}

/// Operations so far, and the state they leave: only changes are written.
#[derive(Default)]
struct Pen {
    ops: Vec<Op>,
    pictures: Vec<Arc<Picture>>,
    width: Option<f64>,
    dash: Option<Dash>,
    stroke: Option<f64>,
    fill: Option<f64>,
    round: bool,
}

fn corner((x, y): PaperPoint) -> LinePoint {
    LinePoint { p: point(x, y), bezier: false }
}

fn point(x: f64, y: f64) -> Point {
    Point { x: Pt(points(x)), y: Pt(points(y)) }
}

fn grey(v: f64) -> Color {
    Color::Greyscale(Greyscale::new(v.clamp(0.0, 1.0) as f32, None))
}

impl Pen {
    fn style(&mut self, width: f64, dash: Dash, stroke: f64) {
        if !self.round {
            self.round = true;
            self.ops.push(Op::SetLineCapStyle { cap: LineCapStyle::Round });
            self.ops.push(Op::SetLineJoinStyle { join: printpdf::LineJoinStyle::Miter });
        }
        if self.width != Some(width) {
            self.width = Some(width);
            self.ops.push(Op::SetOutlineThickness { pt: Pt(points(width)) });
        }
        if self.dash != Some(dash) {
            self.dash = Some(dash);
            let pattern: Vec<f32> = dash.pattern().iter().map(|&d| points(d)).collect();
            self.ops.push(Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &pattern) });
        }
        if self.stroke != Some(stroke) {
            self.stroke = Some(stroke);
            self.ops.push(Op::SetOutlineColor { col: grey(stroke) });
        }
    }

    fn fill(&mut self, fill: f64) {
        if self.fill != Some(fill) {
            self.fill = Some(fill);
            self.ops.push(Op::SetFillColor { col: grey(fill) });
        }
    }

    fn polygon(&mut self, rings: Vec<Vec<LinePoint>>, mode: PaintMode) {
        let rings = rings.into_iter().map(|points| PolygonRing { points }).collect();
        self.ops
            .push(Op::DrawPolygon { polygon: Polygon { rings, mode, winding_order: WindingOrder::EvenOdd } });
    }

    fn draw(&mut self, kind: SheetKind, layer: Layer, graphic: &Graphic) {
        match graphic {
            Graphic::Stroke { points, closed, width, dash, grey } => {
                self.style(*width, *dash, *grey);
                let points = points.iter().map(|&p| corner(p)).collect();
                self.ops.push(Op::DrawLine { line: Line { points, is_closed: *closed } });
            }
            Graphic::Fill { rings, grey } => {
                self.fill(*grey);
                let rings = rings.iter().map(|r| r.iter().map(|&p| corner(p)).collect()).collect();
                self.polygon(rings, PaintMode::Fill);
            }
            Graphic::Circle { centre, radius, width } => {
                self.style(*width, Dash::Solid, 0.0);
                self.fill(1.0);
                self.polygon(vec![circle(*centre, *radius)], PaintMode::FillStroke);
            }
            Graphic::Symbol { kind: symbol, at, scale } => {
                let drawn = matches!(layer, Layer::Ties | Layer::OldTies);
                let name = match (drawn, kind) {
                    (true, SheetKind::Detail) => symbols::detail_name(*symbol),
                    (true, _) => symbols::file_name(*symbol),
                    (false, _) => symbols::key_name(*symbol),
                };
                self.symbol(name, *at, *scale);
            }
            Graphic::Picture { rect, picture } => self.picture(rect, picture),
            Graphic::Text(text) => self.text(text),
        }
    }

    fn symbol(&mut self, name: String, (x, y): PaperPoint, scale: f64) {
        let scale = (scale * 1000.0).round() as f32 / 1000.0;
        self.ops.push(Op::UseXobject {
            id: XObjectId(name),
            transform: XObjectTransform {
                translate_x: Some(Pt(points(x))),
                translate_y: Some(Pt(points(y))),
                scale_x: Some(scale),
                scale_y: Some(scale),
                no_auto_scale: true,
                ..XObjectTransform::default()
            },
        });
    }

    fn picture(&mut self, r: &Rect, picture: &Arc<Picture>) {
        let Some(index) = self.pictures.iter().position(|p| p == picture) else { return };
        self.ops.push(Op::UseXobject {
            id: picture_id(index),
            transform: XObjectTransform {
                translate_x: Some(Pt(points(r.left))),
                translate_y: Some(Pt(points(r.bottom))),
                // A picture fills a square of one point.
                scale_x: Some(points(r.width())),
                scale_y: Some(points(r.height())),
                no_auto_scale: true,
                ..XObjectTransform::default()
            },
        });
    }

    fn text(&mut self, t: &Text) {
        self.fill(0.0);
        let (x, y) = t.start();
        self.ops.push(Op::StartTextSection);
        self.ops.push(Op::SetFont {
            font: PdfFontHandle::External(fonts::id(t.face)),
            size: Pt(points(t.face.em(t.height))),
        });
        if t.angle.abs() < 1e-9 {
            self.ops.push(Op::SetTextCursor { pos: point(x, y) });
        } else {
            let (sin, cos) = t.angle.to_radians().sin_cos();
            let tidy = |v: f64| ((v * 1e6).round() / 1e6) as f32;
            let (sin, cos) = (tidy(sin), tidy(cos));
            let matrix = TextMatrix::Raw([cos, sin, -sin, cos, points(x), points(y)]);
            self.ops.push(Op::SetTextMatrix { matrix });
        }
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(shown(t.face, &t.text))] });
        self.ops.push(Op::EndTextSection);
    }
}

/// The text with `?` for anything the face cannot show.
fn shown(face: Face, text: &str) -> String {
    text.chars().map(|c| if face.shows(c) { c } else { '?' }).collect()
}

fn circle((x, y): PaperPoint, r: f64) -> Vec<LinePoint> {
    let h = r * QUARTER;
    let handle = |x: f64, y: f64| LinePoint { p: point(x, y), bezier: true };
    vec![
        corner((x + r, y)),
        handle(x + r, y + h),
        handle(x + h, y + r),
        corner((x, y + r)),
        handle(x - h, y + r),
        handle(x - r, y + h),
        corner((x - r, y)),
        handle(x - r, y - h),
        handle(x - h, y - r),
        corner((x, y - r)),
        handle(x + h, y - r),
        handle(x + r, y - h),
        corner((x + r, y)),
    ]
}

/// Name of a picture in the file.
pub(super) fn picture_id(index: usize) -> XObjectId {
    XObjectId(format!("PICTURE_{index}"))
}

/// A picture as an image XObject in shades of grey.
pub(super) fn picture(p: &Picture) -> XObject {
    let name = |s: &str| DictItem::Name(s.as_bytes().to_vec());
    let dict = BTreeMap::from([
        ("Type".to_owned(), name("XObject")),
        ("Subtype".to_owned(), name("Image")),
        ("Width".to_owned(), DictItem::Int(i64::from(p.width))),
        ("Height".to_owned(), DictItem::Int(i64::from(p.height))),
        ("ColorSpace".to_owned(), name("DeviceGray")),
        ("BitsPerComponent".to_owned(), DictItem::Int(8)),
    ]);
    let stream = ExternalStream { dict, content: p.grey.clone(), compress: true };
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}

/// A symbol as a form XObject about its middle.
pub(super) fn symbol(symbol: Symbol) -> XObject {
    let content = symbols::pieces(symbol).iter().map(piece).collect::<String>();
    let name = |s: &str| DictItem::Name(s.as_bytes().to_vec());
    let reach = points(symbols::SIZE * 1.2);
    let bounds = [-reach, -reach, reach, reach].map(DictItem::Real).to_vec();
    let dict = BTreeMap::from([
        ("Type".to_owned(), name("XObject")),
        ("Subtype".to_owned(), name("Form")),
        ("FormType".to_owned(), DictItem::Int(1)),
        ("BBox".to_owned(), DictItem::Array(bounds)),
        ("Resources".to_owned(), DictItem::Dict { map: BTreeMap::new() }),
    ]);
    let stream = ExternalStream { dict, content: content.into_bytes(), compress: true };
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}

/// A number of a content stream, in points.
fn n(mm: f64) -> String {
    format!("{:.3}", mm * POINTS)
}

fn xy((x, y): PaperPoint) -> String {
    format!("{} {}", n(x), n(y))
}

/// One piece as content of a form XObject.
fn piece(piece: &Piece) -> String {
    let line = format!("[] 0 d 0 J 0 j 0 G {} w", n(LINE));
    match piece {
        Piece::Ring { points, black } => {
            let fill = if *black { "0 g" } else { "1 g" };
            let path: Vec<String> = points
                .iter()
                .enumerate()
                .map(|(i, &p)| format!("{} {}", xy(p), if i == 0 { "m" } else { "l" }))
                .collect();
            format!("{line} {fill} {} h B\n", path.join(" "))
        }
        Piece::Circle { radius } => format!("{line} 1 g {} h B\n", circle_path((0.0, 0.0), *radius)),
        Piece::Dot { centre, radius, black } => {
            let fill = if *black { "0 g" } else { "1 g" };
            format!("{fill} {} h f\n", circle_path(*centre, *radius))
        }
        Piece::Line { from, to, width } => {
            format!("[] 0 d 0 J 0 G {} w {} m {} l S\n", n(*width), xy(*from), xy(*to))
        }
    }
}

fn circle_path((x, y): PaperPoint, r: f64) -> String {
    let h = r * QUARTER;
    let curve = |a: PaperPoint, b: PaperPoint, c: PaperPoint| format!("{} {} {} c", xy(a), xy(b), xy(c));
    [
        format!("{} m", xy((x + r, y))),
        curve((x + r, y + h), (x + h, y + r), (x, y + r)),
        curve((x - h, y + r), (x - r, y + h), (x - r, y)),
        curve((x - r, y - h), (x - h, y - r), (x, y - r)),
        curve((x + h, y - r), (x + r, y - h), (x + r, y)),
    ]
    .join(" ")
}

//! A sheet as SVG: millimetres, one group for each run of a layer, symbols defined once and used.
//!
//! Lettering stays text; its length is given, so that a viewer without the drawing's font stretches another
//! to the same room. The same sheet gives the same bytes.

use crate::export::png;
use crate::sheet::symbols::{self, LINE, Piece};
use crate::sheet::{Dash, Face, Graphic, Layer, PaperPoint, Picture, Rect, Sheet, SheetKind, Symbol, Text};
use std::fmt::Write;

/// The sheet as an SVG document.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    let mut pen = Pen { height: sheet.height, out: String::new(), kind: sheet.kind };
    let (w, h) = (number(sheet.width), number(sheet.height));
    pen.add(format_args!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" \
         height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n",
        escaped(&sheet.title)
    ));
    pen.definitions(sheet);
    pen.add(format_args!("<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n"));
    let mut layer: Option<Layer> = None;
    for item in &sheet.items {
        if layer != Some(item.layer) {
            if layer.is_some() {
                pen.out.push_str("</g>\n");
            }
            let class = item.layer.name().to_lowercase().replace(' ', "-");
            pen.add(format_args!("<g class=\"{class}\" stroke-linecap=\"round\">\n"));
            layer = Some(item.layer);
        }
        pen.draw(item.layer, &item.graphic);
    }
    if layer.is_some() {
        pen.out.push_str("</g>\n");
    }
    pen.out.push_str("</svg>\n");
    pen.out
}

struct Pen {
    height: f64,
    out: String,
    kind: SheetKind,
}

/// A length in mm, to a ten-thousandth.
fn number(v: f64) -> String {
    let v = (v * 1e4).round() / 1e4;
    let text = format!("{v:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn shade(grey: f64) -> String {
    let v = (grey.clamp(0.0, 1.0) * 255.0).round() as u8;
    format!("#{v:02x}{v:02x}{v:02x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn family(face: Face) -> (&'static str, &'static str) {
    match face {
        Face::Regular => ("'DejaVu Sans', Verdana, sans-serif", "normal"),
        Face::Bold => ("'DejaVu Sans', Verdana, sans-serif", "bold"),
        Face::Condensed => ("'DejaVu Sans Condensed', 'DejaVu Sans', Arial, sans-serif", "normal"),
        Face::CondensedBold => ("'DejaVu Sans Condensed', 'DejaVu Sans', Arial, sans-serif", "bold"),
    }
}

impl Pen {
    fn add(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.out.write_fmt(text);
    }

    fn name(&self, layer: Layer, symbol: Symbol) -> String {
        match (matches!(layer, Layer::Ties | Layer::OldTies), self.kind) {
            (true, SheetKind::Detail) => symbols::detail_name(symbol),
            (true, _) => symbols::file_name(symbol),
            (false, _) => symbols::key_name(symbol),
        }
    }

    fn definitions(&mut self, sheet: &Sheet) {
        let mut used: Vec<(String, Symbol)> = Vec::new();
        for item in &sheet.items {
            if let Graphic::Symbol { kind, .. } = item.graphic {
                let name = self.name(item.layer, kind);
                if used.iter().all(|(n, _)| *n != name) {
                    used.push((name, kind));
                }
            }
        }
        used.sort();
        self.out.push_str("<defs>\n");
        for (name, symbol) in used {
            self.add(format_args!("<g id=\"{name}\" stroke-width=\"{}\">", number(LINE)));
            for piece in symbols::pieces(symbol) {
                self.piece(&piece);
            }
            self.out.push_str("</g>\n");
        }
        self.out.push_str("</defs>\n");
    }

    /// A piece of a symbol about its middle, y down as in the file.
    fn piece(&mut self, piece: &Piece) {
        let fill = |black: bool| if black { "#000" } else { "#fff" };
        match piece {
            Piece::Ring { points, black } => {
                let d: Vec<String> =
                    points.iter().map(|p| format!("{},{}", number(p.0), number(-p.1))).collect();
                let fill = fill(*black);
                self.add(format_args!(
                    "<polygon points=\"{}\" fill=\"{fill}\" stroke=\"#000\"/>",
                    d.join(" ")
                ));
            }
            Piece::Circle { radius } => {
                self.add(format_args!("<circle r=\"{}\" fill=\"#fff\" stroke=\"#000\"/>", number(*radius)));
            }
            Piece::Dot { centre, radius, black } => {
                let (x, y, r) = (number(centre.0), number(-centre.1), number(*radius));
                let fill = fill(*black);
                self.add(format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{fill}\"/>"));
            }
            Piece::Line { from, to, width } => {
                let [a, b, c, d] = [from.0, -from.1, to.0, -to.1].map(number);
                let w = number(*width);
                self.add(format_args!(
                    "<line x1=\"{a}\" y1=\"{b}\" x2=\"{c}\" y2=\"{d}\" stroke=\"#000\" stroke-width=\"{w}\"/>"
                ));
            }
        }
    }

    /// A ring or line as path data.
    fn path(&self, points: &[PaperPoint], closed: bool) -> String {
        let mut d = String::new();
        for (i, p) in points.iter().enumerate() {
            let _ =
                write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, number(p.0), number(self.height - p.1));
        }
        if closed && !points.is_empty() {
            d.push('Z');
        }
        d
    }

    fn draw(&mut self, layer: Layer, graphic: &Graphic) {
        match graphic {
            Graphic::Stroke { points, closed, width, dash, grey } => {
                let d = self.path(points, *closed);
                let pattern: Vec<String> = dash.pattern().iter().map(|&v| number(v)).collect();
                let dashes = if *dash == Dash::Solid {
                    String::new()
                } else {
                    format!(" stroke-dasharray=\"{}\"", pattern.join(" "))
                };
                self.add(format_args!(
                    "<path d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{dashes}/>\n",
                    shade(*grey),
                    number(*width)
                ));
            }
            Graphic::Fill { rings, grey } => {
                let d: String = rings.iter().map(|r| self.path(r, true)).collect();
                self.add(format_args!("<path d=\"{d}\" fill=\"{}\" fill-rule=\"evenodd\"/>\n", shade(*grey)));
            }
            Graphic::Circle { centre, radius, width } => {
                let [x, y, r, w] = [centre.0, self.height - centre.1, *radius, *width].map(number);
                self.add(format_args!(
                    "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"{w}\"/>\n"
                ));
            }
            Graphic::Symbol { kind, at, scale } => {
                let name = self.name(layer, *kind);
                let [x, y, s] = [at.0, self.height - at.1, *scale].map(number);
                self.add(format_args!(
                    "<use href=\"#{name}\" transform=\"translate({x} {y}) scale({s})\"/>\n"
                ));
            }
            Graphic::Text(text) => self.text(text),
            Graphic::Picture { rect, picture } => self.picture(rect, picture),
        }
    }

    fn text(&mut self, t: &Text) {
        let (x, y) = t.start();
        let [x, y] = [x, self.height - y].map(number);
        let (family, weight) = family(t.face);
        let (size, length) = (number(t.face.em(t.height)), number(t.width()));
        let turn = if t.angle.abs() < 1e-9 {
            String::new()
        } else {
            format!(" transform=\"rotate({} {x} {y})\"", number(-t.angle))
        };
        self.add(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-family=\"{family}\" font-weight=\"{weight}\" font-size=\"{size}\" \
             textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\"{turn} xml:space=\"preserve\">{}</text>\n",
            escaped(&t.text)
        ));
    }

    fn picture(&mut self, r: &Rect, picture: &Picture) {
        let Ok(bytes) = png::grey(picture.width, picture.height, &picture.grey, None) else { return };
        let [x, y, w, h] = [r.left, self.height - r.top, r.width(), r.height()].map(number);
        self.add(format_args!(
            "<image x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" preserveAspectRatio=\"none\" \
             href=\"data:image/png;base64,{}\"/>\n",
            base64(&bytes)
        ));
    }
}

fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let at = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let three = at(0) << 16 | at(1) << 8 | at(2);
        for i in 0..4 {
            let sign = SIGNS[(three >> (18 - 6 * i) & 63) as usize];
            text.push(if i <= chunk.len() { char::from(sign) } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_become_base64() {
        // RFC 4648, section 10.
        for (plain, coded) in
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")]
        {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!([1.0, 0.5, -0.000_01, 12.345_67].map(number), ["1", "0.5", "0", "12.3457"]);
    }
}

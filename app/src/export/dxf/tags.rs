//! The tagged pairs of a DXF file, its header and its tables.

use crate::sheet::{Dash, Layer, PaperPoint};

/// A file so far.
#[derive(Default)]
pub(super) struct Tags {
    text: String,
}

/// A number with no more decimals than it needs, to a ten-thousandth.
fn number(v: f64) -> String {
    let v = if v.is_finite() { (v * 1e4).round() / 1e4 } else { 0.0 };
    let text = format!("{v:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" || text.is_empty() {
        "0.0".to_owned()
    } else if text.contains('.') {
        text.to_owned()
    } else {
        format!("{text}.0")
    }
}

impl Tags {
    pub fn pair(&mut self, code: u16, value: impl std::fmt::Display) {
        self.text += &format!("{code:>3}\r\n{value}\r\n");
    }

    pub fn real(&mut self, code: u16, value: f64) {
        self.pair(code, number(value));
    }

    fn point(&mut self, first: u16, (x, y): PaperPoint) {
        self.real(first, x);
        self.real(first + 10, y);
        self.real(first + 20, 0.0);
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    pub fn line(&mut self, layer: &str, kind: &str, a: PaperPoint, b: PaperPoint) {
        self.entity("LINE", layer);
        self.pair(6, kind);
        self.point(10, a);
        self.point(11, b);
    }

    pub fn circle(&mut self, layer: &str, centre: PaperPoint, radius: f64) {
        self.entity("CIRCLE", layer);
        self.point(10, centre);
        self.real(40, radius);
    }

    pub fn polyline(&mut self, layer: &str, kind: &str, points: &[PaperPoint], closed: bool) {
        if points.len() < 2 {
            return;
        }
        self.entity("POLYLINE", layer);
        self.pair(6, kind);
        self.pair(66, 1);
        self.point(10, (0.0, 0.0));
        self.pair(70, i32::from(closed));
        for &p in points {
            self.entity("VERTEX", layer);
            self.point(10, p);
        }
        self.entity("SEQEND", layer);
    }

    /// A filled dot: a closed ring of two half circles, as wide as its radius.
    pub fn dot(&mut self, layer: &str, centre: PaperPoint, radius: f64) {
        self.entity("POLYLINE", layer);
        self.pair(66, 1);
        self.point(10, (0.0, 0.0));
        self.pair(70, 1);
        self.real(40, radius);
        self.real(41, radius);
        for side in [-0.5, 0.5] {
            self.entity("VERTEX", layer);
            self.point(10, (centre.0 + side * radius, centre.1));
            self.real(42, 1.0);
        }
        self.entity("SEQEND", layer);
    }

    /// A filled triangle or quadrangle.
    pub fn solid(&mut self, layer: &str, ring: &[PaperPoint]) {
        let corners = match *ring {
            [a, b, c] => [a, b, c, c],
            // The third and fourth corners of a solid are crossed.
            [a, b, c, d] => [a, b, d, c],
            _ => return,
        };
        self.entity("SOLID", layer);
        for (i, corner) in (10..14).zip(corners) {
            self.point(i, corner);
        }
    }

    pub fn insert(&mut self, layer: &str, block: &str, at: PaperPoint, scale: f64) {
        self.entity("INSERT", layer);
        self.pair(2, block);
        self.point(10, at);
        for code in [41, 42, 43] {
            self.real(code, scale);
        }
    }

    /// Lettering fitted between the ends of its baseline.
    pub fn text(
        &mut self,
        layer: &str,
        from: PaperPoint,
        to: PaperPoint,
        height: f64,
        angle: f64,
        text: &str,
    ) {
        self.entity("TEXT", layer);
        self.point(10, from);
        self.real(40, height);
        self.pair(1, text.trim_end_matches(|c: char| c.is_control()));
        self.real(50, angle);
        self.pair(72, 5);
        self.point(11, to);
    }

    /// The file in code page 1252.
    pub fn bytes(self) -> Vec<u8> {
        self.text.chars().flat_map(encoded).collect()
    }
}

/// A character in code page 1252; signs that it lacks by what DXF or the trade writes instead.
fn encoded(c: char) -> Vec<u8> {
    match c {
        '\u{80}'..='\u{9f}' => b"?".to_vec(),
        '\0'..='\u{ff}' => vec![c as u8],
        '–' => vec![0x96],
        '—' => vec![0x97],
        '…' => vec![0x85],
        '‘' => vec![0x91],
        '’' => vec![0x92],
        '“' => vec![0x93],
        '”' => vec![0x94],
        '•' => vec![0x95],
        '€' => vec![0x80],
        '⌀' => b"%%c".to_vec(),
        '≤' => b"<=".to_vec(),
        '≥' => b">=".to_vec(),
        '✗' => b"x".to_vec(),
        _ => b"?".to_vec(),
    }
}

/// Name of a layer in the file.
pub(super) fn layer_name(layer: Layer) -> &'static str {
    match layer {
        Layer::Masonry => "MASONRY",
        Layer::BedJoints => "BED_JOINTS",
        Layer::Ties => "TIES",
        Layer::OldTies => "OLD_TIES",
        Layer::Marks => "MARKS",
        Layer::Dimensions => "DIMENSIONS",
        Layer::Notes => "NOTES",
        Layer::Findings => "FINDINGS",
        Layer::Frame => "FRAME",
    }
}

/// Name of a line type: dashes are as long on paper at each scale.
pub(super) fn line_type(dash: Dash, scale: u32) -> String {
    match dash {
        Dash::Solid => "CONTINUOUS".to_owned(),
        Dash::Dashed => format!("DASHED_{scale}"),
        Dash::DashDot => format!("DASHDOT_{scale}"),
        Dash::Dotted => format!("DOTTED_{scale}"),
    }
}

pub(super) fn header(tags: &mut Tags, extent: &[PaperPoint; 2]) {
    tags.pair(0, "SECTION");
    tags.pair(2, "HEADER");
    tags.pair(9, "$ACADVER");
    tags.pair(1, "AC1009");
    tags.pair(9, "$DWGCODEPAGE");
    tags.pair(3, "ANSI_1252");
    for (name, p) in [("$EXTMIN", extent[0]), ("$EXTMAX", extent[1])] {
        tags.pair(9, name);
        tags.point(10, p);
    }
    tags.pair(9, "$LTSCALE");
    tags.real(40, 1.0);
    tags.pair(0, "ENDSEC");
}

pub(super) fn tables(tags: &mut Tags, scales: &[u32]) {
    tags.pair(0, "SECTION");
    tags.pair(2, "TABLES");
    let begin = |tags: &mut Tags, name: &str, count: usize| {
        tags.pair(0, "TABLE");
        tags.pair(2, name);
        tags.pair(70, count);
    };
    let kinds = [Dash::Dashed, Dash::DashDot, Dash::Dotted];
    begin(tags, "LTYPE", 1 + kinds.len() * scales.len());
    line_type_entry(tags, "CONTINUOUS", &[]);
    for &scale in scales {
        for dash in kinds {
            let pattern: Vec<f64> = dash.pattern().iter().map(|v| v * f64::from(scale)).collect();
            line_type_entry(tags, &line_type(dash, scale), &pattern);
        }
    }
    tags.pair(0, "ENDTAB");
    begin(tags, "LAYER", Layer::ALL.len() + 1);
    for name in std::iter::once("0").chain(Layer::ALL.map(layer_name)) {
        tags.pair(0, "LAYER");
        tags.pair(2, name);
        tags.pair(70, 0);
        tags.pair(62, 7);
        tags.pair(6, "CONTINUOUS");
    }
    tags.pair(0, "ENDTAB");
    begin(tags, "STYLE", 1);
    tags.pair(0, "STYLE");
    tags.pair(2, "STANDARD");
    tags.pair(70, 0);
    for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
        tags.real(code, value);
    }
    tags.pair(71, 0);
    tags.real(42, 2.5);
    tags.pair(3, "txt");
    tags.pair(4, "");
    tags.pair(0, "ENDTAB");
    tags.pair(0, "ENDSEC");
}

fn line_type_entry(tags: &mut Tags, name: &str, pattern: &[f64]) {
    tags.pair(0, "LTYPE");
    tags.pair(2, name);
    tags.pair(70, 0);
    tags.pair(3, name);
    tags.pair(72, 65);
    tags.pair(73, pattern.len());
    tags.real(40, pattern.iter().sum());
    for (i, length) in pattern.iter().enumerate() {
        // Gaps are negative.
        tags.real(49, if i % 2 == 0 { *length } else { -length });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_reals() {
        assert_eq!(
            [0.0, -0.000_01, 12.5, 450.0, f64::NAN].map(number),
            ["0.0", "0.0", "12.5", "450.0", "0.0"]
        );
    }

    #[test]
    fn signs_are_in_the_code_page_or_written_out() {
        let all: Vec<u8> = "m² – ≤ ⌀𓂀".chars().flat_map(encoded).collect();
        assert_eq!(all, b"m\xb2 \x96 <= %%c?");
    }
}

//! Lettering: the faces, how wide text runs, wrapping and shortening.
//!
//! A height is the height of a capital letter, as drawing standards give it, mm.

use std::sync::OnceLock;

/// A typeface of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Upright, for titles.
    Regular,
    /// Bold, for titles.
    Bold,
    /// Narrow, for notes, dimensions and marks.
    Condensed,
    /// Narrow and bold, for headings.
    CondensedBold,
}

impl Face {
    /// All faces.
    pub const ALL: [Self; 4] = [Self::Regular, Self::Bold, Self::Condensed, Self::CondensedBold];

    /// The font file.
    #[must_use]
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../../assets/fonts/DejaVuSans.ttf"),
            Self::Bold => include_bytes!("../../../assets/fonts/DejaVuSans-Bold.ttf"),
            Self::Condensed => include_bytes!("../../../assets/fonts/DejaVuSansCondensed.ttf"),
            Self::CondensedBold => include_bytes!("../../../assets/fonts/DejaVuSansCondensed-Bold.ttf"),
        }
    }

    /// PostScript name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Regular => "DejaVuSans",
            Self::Bold => "DejaVuSans-Bold",
            Self::Condensed => "DejaVuSansCondensed",
            Self::CondensedBold => "DejaVuSansCondensed-Bold",
        }
    }

    fn metrics(self) -> Option<&'static Metrics> {
        static METRICS: [OnceLock<Option<Metrics>>; 4] = [const { OnceLock::new() }; 4];
        METRICS[self as usize].get_or_init(|| Metrics::read(self.bytes())).as_ref()
    }

    /// Whether the face can show a character.
    #[must_use]
    pub fn shows(self, c: char) -> bool {
        self.metrics()
            .is_some_and(|m| m.known(c).map_or_else(|| m.face.glyph_index(c).is_some(), |g| g.shown))
    }

    /// Size of the em square for capitals of a height, both mm.
    #[must_use]
    pub fn em(self, height: f64) -> f64 {
        height / self.metrics().map_or(0.729, |m| m.capital)
    }

    /// How far text runs, mm.
    #[must_use]
    pub fn width(self, text: &str, height: f64) -> f64 {
        let Some(m) = self.metrics() else { return text.chars().count() as f64 * height };
        text.chars().map(|c| m.glyph(c).advance).sum::<f64>() * self.em(height)
    }

    /// Lowest and highest ink of text above its baseline, mm.
    #[must_use]
    pub fn ink(self, text: &str, height: f64) -> (f64, f64) {
        let Some(m) = self.metrics() else { return (-0.3 * height, height) };
        let em = self.em(height);
        let (low, high) = text
            .chars()
            .map(|c| m.glyph(c))
            .fold((0.0_f64, 0.0_f64), |r, g| (r.0.min(g.low), r.1.max(g.high)));
        (low * em, high * em)
    }

    /// The text with nothing in it that cannot be shown: line ends and tabs as spaces, unknown
    /// characters as `?`.
    #[must_use]
    pub fn clean(self, text: &str) -> String {
        text.chars()
            .map(|c| match c {
                '\u{a0}' => c,
                c if c.is_whitespace() || c.is_control() => ' ',
                c if self.shows(c) => c,
                _ => '?',
            })
            .collect()
    }

    /// The text, or as much of its start as fits in `room` mm, with an ellipsis.
    #[must_use]
    pub fn shorten(self, text: &str, height: f64, room: f64) -> String {
        let text = self.clean(text);
        if self.width(&text, height) <= room {
            return text;
        }
        let room = room - self.width("…", height);
        let mut kept = String::new();
        let mut run = 0.0;
        for c in text.chars() {
            run += self.width(c.encode_utf8(&mut [0; 4]), height);
            if run > room {
                break;
            }
            kept.push(c);
        }
        if room < 0.0 { String::new() } else { kept.trim_end().to_owned() + "…" }
    }

    /// The text in lines of at most `room` mm, broken between words, and inside a word only where it
    /// is longer than a line. Never empty.
    #[must_use]
    pub fn wrap(self, text: &str, height: f64, room: f64) -> Vec<String> {
        let text = self.clean(text);
        let space = self.width(" ", height);
        let (mut lines, mut line, mut run) = (Vec::new(), String::new(), 0.0);
        for word in text.split(' ').filter(|w| !w.is_empty()) {
            for piece in self.pieces(word, height, room) {
                let w = self.width(&piece, height);
                if !line.is_empty() && run + space + w > room {
                    lines.push(std::mem::take(&mut line));
                }
                if line.is_empty() {
                    run = w;
                } else {
                    line.push(' ');
                    run += space + w;
                }
                line.push_str(&piece);
            }
        }
        lines.push(line);
        lines
    }

    /// A word cut into pieces that fit a line.
    fn pieces(self, word: &str, height: f64, room: f64) -> Vec<String> {
        if self.width(word, height) <= room {
            return vec![word.to_owned()];
        }
        let (mut pieces, mut piece, mut run) = (Vec::new(), String::new(), 0.0);
        for c in word.chars() {
            let w = self.width(c.encode_utf8(&mut [0; 4]), height);
            if run + w > room && !piece.is_empty() {
                pieces.push(std::mem::take(&mut piece));
                run = 0.0;
            }
            piece.push(c);
            run += w;
        }
        pieces.push(piece);
        pieces
    }
}

/// One glyph, in em.
#[derive(Clone, Copy, Default)]
struct Glyph {
    /// Whether the face has it at all.
    shown: bool,
    advance: f64,
    low: f64,
    high: f64,
}

struct Metrics {
    face: ttf_parser::Face<'static>,
    /// Height of a capital letter, em.
    capital: f64,
    /// Glyphs of [`COMMON`], one after another.
    common: Vec<Glyph>,
}

/// Characters whose measures are kept at hand: ASCII, Latin letters, punctuation and signs.
const COMMON: [std::ops::Range<u32>; 2] = [0..0x180, 0x2000..0x2310];

impl Metrics {
    fn read(bytes: &'static [u8]) -> Option<Self> {
        let face = ttf_parser::Face::parse(bytes, 0).ok()?;
        let capital = measure(&face, 'H').high.max(0.1);
        let common =
            COMMON.into_iter().flatten().map(|c| measure(&face, char::from_u32(c).unwrap_or('?'))).collect();
        Some(Self { face, capital, common })
    }

    fn glyph(&self, c: char) -> Glyph {
        self.known(c).unwrap_or_else(|| measure(&self.face, c))
    }

    fn known(&self, c: char) -> Option<Glyph> {
        let c = u32::from(c);
        let mut before = 0;
        for range in COMMON {
            if range.contains(&c) {
                return self.common.get((before + c - range.start) as usize).copied();
            }
            before += range.end - range.start;
        }
        None
    }
}

fn measure(face: &ttf_parser::Face<'_>, c: char) -> Glyph {
    let units = f64::from(face.units_per_em()).max(1.0);
    let found = face.glyph_index(c);
    let id = found.unwrap_or_default();
    let ink = face.glyph_bounding_box(id);
    Glyph {
        shown: found.is_some(),
        advance: face.glyph_hor_advance(id).map_or(0.0, |a| f64::from(a) / units),
        low: ink.map_or(0.0, |b| f64::from(b.y_min) / units),
        high: ink.map_or(0.0, |b| f64::from(b.y_max) / units),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_have_the_height_asked_for() {
        for face in Face::ALL {
            let (low, high) = face.ink("H", 2.5);
            assert!(low.abs() < 0.02 && (high - 2.5).abs() < 0.02, "{face:?}: {low} to {high}");
        }
    }

    #[test]
    fn lines_fit_and_lose_no_letter() {
        let text = "Sizes taken from the notebook; Donaudampfschifffahrtsgesellschaft confirm";
        let lines = Face::Condensed.wrap(text, 2.5, 30.0);
        assert!(lines.iter().all(|l| Face::Condensed.width(l, 2.5) <= 30.0));
        assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
    }

    #[test]
    fn what_cannot_be_shown_is_a_question_mark() {
        assert_eq!(Face::Condensed.clean("12 m² ≤ ⌀4\n𓂀"), "12 m² ≤ ⌀4 ?");
        let short = Face::Regular.shorten("A long name of an elevation", 2.5, 20.0);
        assert!(short.ends_with('…') && Face::Regular.width(&short, 2.5) <= 20.0);
    }
}

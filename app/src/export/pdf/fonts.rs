//! Cuts each face down to the characters that the sheets use, and embeds it.

use super::PdfError;
use crate::sheet::{Face, Graphic, Sheet};
use printpdf::{FontId, FontMetrics, ParsedFont, PdfDocument, PdfFont};
use std::collections::{BTreeMap, BTreeSet};

/// Name of a face in the file.
pub(super) fn id(face: Face) -> FontId {
    FontId(format!("FT{}", face as u8))
}

/// Adds the faces that the sheets use.
pub(super) fn embed(doc: &mut PdfDocument, sheets: &[Sheet]) -> Result<(), PdfError> {
    let mut used: BTreeMap<Face, BTreeSet<char>> = BTreeMap::new();
    for item in sheets.iter().flat_map(|s| &s.items) {
        if let Graphic::Text(t) = &item.graphic {
            used.entry(t.face).or_insert_with(|| BTreeSet::from(['?'])).extend(t.text.chars());
        }
    }
    for (face, chars) in used {
        doc.resources.fonts.map.insert(id(face), PdfFont::new(subset(face, &chars)?));
    }
    Ok(())
}

fn subset(face: Face, chars: &BTreeSet<char>) -> Result<ParsedFont, PdfError> {
    let whole = ttf_parser::Face::parse(face.bytes(), 0).map_err(|e| PdfError::Font(e.to_string()))?;
    let mut mapper = subsetter::GlyphRemapper::new();
    let (mut glyphs, mut widths) = (BTreeMap::new(), BTreeMap::new());
    // A character that the face lacks is shown as `?`, never dropped.
    let fallback = whole.glyph_index('?').unwrap_or_default();
    for &c in chars {
        let glyph = whole.glyph_index(c).unwrap_or(fallback);
        let new = mapper.remap(glyph.0);
        glyphs.insert(u32::from(c), new);
        widths.insert(new, whole.glyph_hor_advance(glyph).unwrap_or(0));
    }
    let bytes = subsetter::subset(face.bytes(), 0, &mapper)
        .map_err(|e| PdfError::Font(format!("{}: {e}", face.name())))?;
    let metrics = FontMetrics { ascent: whole.ascender(), descent: whole.descender() };
    Ok(ParsedFont::with_glyph_data(
        bytes,
        0,
        // Six capitals and a plus say that this is a subset; the last letter tells the faces apart.
        Some(format!("TIEWR{}+{}", char::from(b'A' + face as u8), face.name())),
        glyphs,
        widths,
        whole.units_per_em(),
        metrics,
    ))
}

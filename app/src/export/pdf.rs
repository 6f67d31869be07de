//! PDF 1.7: vector sheets with layers, symbols as form XObjects, subset fonts.
//!
//! Each new tie drawn is a form XObject named by its role (`TIE_FIELD`, `TIE_JAMB`, `TIE_FREE_END`,
//! `TIE_JOINT`, `TIE_VERGE`), its origin in its middle: the translation of the `cm` before its `Do`
//! is where the tie goes, in points of 1/72 inch on the sheet. The same sheets give the same bytes:
//! no clock, no random numbers. Samples in the key have names of their own (`KEY_TIE_FIELD`, ...), and so have
//! ties drawn again on a detail (`DETAIL_TIE_FIELD`) and beyond a match line (`BEYOND_FIELD`).
//!
//! The file states PDF/A-2b and is made to its rules; no validator of that standard has been run on it.

mod catalog;
mod fonts;
mod page;

use crate::sheet::{Graphic, Layer, Picture, Sheet, symbols};
use printpdf::{
    Layer as PdfLayer, LayerIntent, LayerInternalId, LayerSubtype, PdfDocument, PdfPage, PdfSaveOptions, Pt,
    Rect, XObjectId,
};
use std::sync::Arc;

/// Points of a PDF in one millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Why no PDF was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PdfError {
    /// A font could not be cut down to the characters in use.
    Font(String),
    /// There is no sheet to write.
    NoSheets,
    /// The file could not be put together.
    Write(String),
}

impl std::fmt::Display for PdfError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Font(e) => write!(f, "the drawing's font cannot be embedded: {e}"),
            Self::NoSheets => f.write_str("the drawing has no sheets"),
            Self::Write(e) => write!(f, "the drawing cannot be written: {e}"),
        }
    }
}

impl std::error::Error for PdfError {}

/// What a viewer shows about the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PdfInfo {
    /// Title of the job.
    pub title: String,
    /// Who drew it.
    pub author: String,
    /// What it is about, for example the site.
    pub subject: String,
}

/// Writes sheets as a PDF, one page each.
///
/// # Errors
///
/// No sheets; a font that cannot be cut down or a file that cannot be put together.
pub fn write(sheets: &[Sheet], info: &PdfInfo) -> Result<Vec<u8>, PdfError> {
    if sheets.is_empty() {
        return Err(PdfError::NoSheets);
    }
    let mut doc = PdfDocument::new(&info.title);
    for layer in Layer::ALL {
        doc.resources.layers.map.insert(
            layer_id(layer),
            PdfLayer {
                name: layer.name().to_owned(),
                creator: "Tiewright".to_owned(),
                intent: LayerIntent::Design,
                usage: LayerSubtype::Artwork,
            },
        );
    }
    for symbol in symbols::ALL {
        for name in [symbols::file_name(symbol), symbols::detail_name(symbol), symbols::key_name(symbol)] {
            doc.resources.xobjects.map.insert(XObjectId(name), page::symbol(symbol));
        }
    }
    let pictures = pictures(sheets);
    for (i, picture) in pictures.iter().enumerate() {
        doc.resources.xobjects.map.insert(page::picture_id(i), page::picture(picture));
    }
    fonts::embed(&mut doc, sheets)?;
    doc.pages = sheets
        .iter()
        .map(|s| {
            let paper = || Rect::from_wh(Pt(points(s.width)), Pt(points(s.height)));
            PdfPage {
                media_box: paper(),
                trim_box: paper(),
                crop_box: paper(),
                ops: page::operations(s, &pictures),
            }
        })
        .collect();
    save(&doc, sheets, info)
}

/// Every picture of the sheets once.
fn pictures(sheets: &[Sheet]) -> Vec<Arc<Picture>> {
    let mut all: Vec<Arc<Picture>> = Vec::new();
    for item in sheets.iter().flat_map(|s| &s.items) {
        if let Graphic::Picture { picture, .. } = &item.graphic
            && !all.contains(picture)
        {
            all.push(picture.clone());
        }
    }
    all
}

/// Millimetres to points, to a thousandth of a point.
fn points(mm: f64) -> f32 {
    ((mm * POINTS * 1000.0).round() / 1000.0) as f32
}

/// Layers are listed in the order of their ids.
fn layer_id(layer: Layer) -> LayerInternalId {
    LayerInternalId(format!("L{}", layer as u8))
}

/// Puts the file together with nothing in it that changes from run to run.
fn save(doc: &PdfDocument, sheets: &[Sheet], info: &PdfInfo) -> Result<Vec<u8>, PdfError> {
    let options = PdfSaveOptions { subset_fonts: false, ..PdfSaveOptions::default() };
    let mut file = doc.to_lopdf_document(&options, &mut Vec::new());
    "1.7".clone_into(&mut file.version);
    catalog::describe(&mut file, sheets, info);
    file.prune_objects();
    // Numbered through, so that the cross-reference table has one section: some readers take a gap for damage.
    file.renumber_objects();
    file.compress();
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|e| PdfError::Write(e.to_string()))?;
    Ok(bytes)
}

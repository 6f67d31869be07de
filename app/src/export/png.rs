//! A sheet as a PNG in shades of grey, at the true size of its paper.

use crate::export::raster::{Part, Raster};
use crate::sheet::{PaperSize, Sheet};

/// Dots to the inch: fine enough for the thinnest line and the smallest letter, and large paper can still be
/// held in memory.
fn dots_per_inch(paper: PaperSize) -> f64 {
    match paper {
        PaperSize::A4 | PaperSize::A3 | PaperSize::A2 => 200.0,
        PaperSize::A1 => 150.0,
        PaperSize::A0 => 120.0,
    }
}

/// The sheet as the bytes of a PNG file; the same sheet gives the same bytes.
///
/// # Errors
///
/// The picture cannot be held or put together, in a sentence for the user.
pub fn write(sheet: &Sheet, raster: &mut Raster) -> Result<Vec<u8>, String> {
    let per_mm = dots_per_inch(sheet.paper) / 25.4;
    let size = ((sheet.width * per_mm).round() as u32, (sheet.height * per_mm).round() as u32);
    let part = Part { corner: (0.0, sheet.height), per_mm, size };
    let pixels = raster.draw(sheet, &part).ok_or("the picture is too large")?;
    // Everything is drawn in shades of grey, so that red says it all.
    let shades: Vec<u8> = pixels.chunks_exact(4).map(|p| p[0]).collect();
    grey(size.0, size.1, &shades, Some(per_mm))
}

/// Shades of grey, a byte a pixel, as a PNG; with its size if the pixels in a millimetre are given.
///
/// # Errors
///
/// The picture cannot be put together, in a sentence for the user.
pub fn grey(width: u32, height: u32, shades: &[u8], per_mm: Option<f64>) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    if let Some(per_mm) = per_mm {
        let per_metre = (per_mm * 1000.0).round() as u32;
        let unit = png::Unit::Meter;
        encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit }));
    }
    let whole = |e: png::EncodingError| format!("the picture cannot be written: {e}");
    let mut writer = encoder.write_header().map_err(whole)?;
    writer.write_image_data(shades).map_err(whole)?;
    writer.finish().map_err(whole)?;
    Ok(bytes)
}

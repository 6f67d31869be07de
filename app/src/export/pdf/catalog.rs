//! What a viewer and an archive are told about the file: how it opens, bookmarks, layers, and PDF/A-2b.

use super::PdfInfo;
use crate::sheet::{Face, Sheet};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat};

/// Adds all of it to a file that is otherwise complete.
pub(super) fn describe(file: &mut Document, sheets: &[Sheet], info: &PdfInfo) {
    about(file, info);
    one_page_at_a_time(file);
    bookmarks(file, sheets);
    layers(file);
    fonts(file);
    archive(file, info);
    identify(file);
}

/// Text as the file keeps it: plain where it can be, else UTF-16.
fn words(text: &str) -> Object {
    if text.is_ascii() {
        return Object::String(text.as_bytes().to_vec(), StringFormat::Literal);
    }
    let bytes = [0xfe, 0xff].into_iter().chain(text.encode_utf16().flat_map(u16::to_be_bytes)).collect();
    Object::String(bytes, StringFormat::Hexadecimal)
}

fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}

fn dictionary(entries: Vec<(&str, Object)>) -> Dictionary {
    Dictionary::from_iter(entries)
}

/// The document information, without the print standard and the dates that the library states.
fn about(file: &mut Document, info: &PdfInfo) {
    let about = dictionary(vec![
        ("Title", words(&info.title)),
        ("Author", words(&info.author)),
        ("Subject", words(&info.subject)),
        ("Creator", words(PROGRAM)),
        ("Producer", words(PROGRAM)),
    ]);
    let id = file.add_object(about);
    file.trailer.set("Info", Object::Reference(id));
}

const PROGRAM: &str = "Tiewright";

/// Opens on whole single pages, printed at their true size.
fn one_page_at_a_time(file: &mut Document) {
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("PageLayout", name("SinglePage"));
        catalog.set("PageMode", name("UseOutlines"));
        catalog.set("Lang", words("en"));
        let viewer =
            dictionary(vec![("PrintScaling", name("None")), ("DisplayDocTitle", Object::Boolean(true))]);
        catalog.set("ViewerPreferences", viewer);
    }
}

/// A bookmark for each sheet, by its number and name.
fn bookmarks(file: &mut Document, sheets: &[Sheet]) {
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let root = file.new_object_id();
    let ids: Vec<ObjectId> = pages.iter().map(|_| file.new_object_id()).collect();
    for (i, ((&id, &page), sheet)) in ids.iter().zip(&pages).zip(sheets).enumerate() {
        let target = vec![Object::Reference(page), name("Fit")];
        let mut entry = dictionary(vec![
            ("Title", words(&format!("{}  {}", i + 1, sheet.title))),
            ("Parent", Object::Reference(root)),
            ("Dest", Object::Array(target)),
        ]);
        if let Some(&before) = i.checked_sub(1).and_then(|k| ids.get(k)) {
            entry.set("Prev", before);
        }
        if let Some(&after) = ids.get(i + 1) {
            entry.set("Next", after);
        }
        file.set_object(id, entry);
    }
    if let (Some(&first), Some(&last)) = (ids.first(), ids.last()) {
        let count = i64::try_from(ids.len()).unwrap_or(0);
        let outlines = dictionary(vec![
            ("Type", name("Outlines")),
            ("First", first.into()),
            ("Last", last.into()),
            ("Count", Object::Integer(count)),
        ]);
        file.set_object(root, outlines);
        if let Ok(catalog) = file.catalog_mut() {
            catalog.set("Outlines", Object::Reference(root));
        }
    }
}

/// Names the list of layers, as PDF/A-2 asks.
fn layers(file: &mut Document) {
    let place = |file: &Document| match file.catalog().ok()?.get(b"OCProperties").ok()? {
        Object::Reference(id) => Some(*id),
        _ => None,
    };
    let layers = match place(file) {
        Some(id) => file.get_object_mut(id).and_then(Object::as_dict_mut),
        None => file.catalog_mut().and_then(|c| c.get_mut(b"OCProperties")).and_then(Object::as_dict_mut),
    };
    if let Ok(config) = layers.and_then(|l| l.get_mut(b"D")).and_then(Object::as_dict_mut) {
        config.set("Name", words("Layers"));
        config.set("BaseState", name("ON"));
        config.remove(b"RBGroups");
    }
}

/// Bounds and heights of the faces from their files: the library writes those of another.
fn fonts(file: &mut Document) {
    for object in file.objects.values_mut() {
        let Ok(dict) = object.as_dict_mut() else { continue };
        let font =
            dict.get(b"FontName").and_then(Object::as_name).map(|n| String::from_utf8_lossy(n).into_owned());
        let Ok(font) = font else { continue };
        let Some(face) = Face::ALL.into_iter().find(|f| font.ends_with(&format!("+{}", f.name()))) else {
            continue;
        };
        let Ok(whole) = ttf_parser::Face::parse(face.bytes(), 0) else { continue };
        let em = f32::from(whole.units_per_em());
        let thousandths = |v: i16| Object::Integer((f32::from(v) * 1000.0 / em).round() as i64);
        let b = whole.global_bounding_box();
        let bounds = [b.x_min, b.y_min, b.x_max, b.y_max].map(thousandths).to_vec();
        dict.set("FontBBox", Object::Array(bounds));
        dict.set("Ascent", thousandths(whole.ascender()));
        dict.set("Descent", thousandths(whole.descender()));
        dict.set("CapHeight", thousandths(whole.capital_height().unwrap_or(whole.ascender())));
    }
}

/// States PDF/A-2b, with its metadata and a colour profile for the shades of grey that are used.
fn archive(file: &mut Document, info: &PdfInfo) {
    let kind = dictionary(vec![("Type", name("Metadata")), ("Subtype", name("XML"))]);
    // Readable without unpacking, so that an archive can search it.
    let metadata = Stream::new(kind, metadata(info).into_bytes()).with_compression(false);
    let metadata = file.add_object(metadata);
    let profile = Stream::new(dictionary(vec![("N", Object::Integer(1))]), grey_profile());
    let profile = file.add_object(profile);
    let intent = dictionary(vec![
        ("Type", name("OutputIntent")),
        ("S", name("GTS_PDFA1")),
        ("OutputConditionIdentifier", words("Grey, gamma 2.2")),
        ("Info", words("Shades of grey, gamma 2.2")),
        ("DestOutputProfile", Object::Reference(profile)),
    ]);
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("Metadata", Object::Reference(metadata));
        catalog.set("OutputIntents", Object::Array(vec![Object::Dictionary(intent)]));
    }
}

/// The same information as [`about`], in the form that archives read.
fn metadata(info: &PdfInfo) -> String {
    let escaped = |text: &str| -> String {
        let seen: String = text.chars().filter(|c| !c.is_control()).collect();
        seen.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
    };
    let (title, author, subject) = (escaped(&info.title), escaped(&info.author), escaped(&info.subject));
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n\
         <pdfaid:part>2</pdfaid:part>\n\
         <pdfaid:conformance>B</pdfaid:conformance>\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>\n\
         <dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{subject}</rdf:li></rdf:Alt></dc:description>\n\
         <xmp:CreatorTool>{PROGRAM}</xmp:CreatorTool>\n\
         <pdf:Producer>{PROGRAM}</pdf:Producer>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"w\"?>"
    )
}

/// A colour profile (ICC, version 2) for grey of gamma 2.2.
fn grey_profile() -> Vec<u8> {
    // The white of the profile's own space, D50, as fixed-point numbers.
    const WHITE: [u8; 12] = [0, 0, 0xf6, 0xd6, 0, 1, 0, 0, 0, 0, 0xd3, 0x2d];
    let text = b"No copyright, use freely\0";
    let called = b"Grey, gamma 2.2\0";
    let mut description = [&b"desc\0\0\0\0"[..], &(called.len() as u32).to_be_bytes(), called].concat();
    // No name in other scripts.
    description.extend([0; 78]);
    let tags: [(&[u8; 4], Vec<u8>); 4] = [
        (b"desc", description),
        (b"cprt", [&b"text\0\0\0\0"[..], text].concat()),
        (b"wtpt", [&b"XYZ \0\0\0\0"[..], &WHITE].concat()),
        // One number: the gamma, in 256ths.
        (b"kTRC", [&b"curv\0\0\0\0\0\0\0\x01"[..], &[0x02, 0x33]].concat()),
    ];
    let mut table = (tags.len() as u32).to_be_bytes().to_vec();
    let mut data = Vec::new();
    let start = 128 + 4 + 12 * tags.len();
    for (tag, mut bytes) in tags {
        table.extend(tag);
        table.extend(((start + data.len()) as u32).to_be_bytes());
        table.extend((bytes.len() as u32).to_be_bytes());
        bytes.resize(bytes.len().next_multiple_of(4), 0);
        data.extend(bytes);
    }
    let mut header = vec![0; 128];
    let size = (start + data.len()) as u32;
    for (at, bytes) in [
        (0, &size.to_be_bytes()[..]),
        (8, &[2, 0x10, 0, 0]),
        (12, b"mntrGRAYXYZ "),
        // A date is asked for; it is that of the version of the format.
        (24, &[0x07, 0xcf, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0]),
        (36, b"acsp"),
        (68, &WHITE),
    ] {
        header[at..at + bytes.len()].copy_from_slice(bytes);
    }
    [header, table, data].concat()
}

/// An identifier worked out from what is in the file, so that the same drawing has the same one.
fn identify(file: &mut Document) {
    let mut hash = [0xcbf2_9ce4_8422_2325_u64, 0x8422_2325_cbf2_9ce4];
    for object in file.objects.values() {
        if let Object::Stream(stream) = object {
            for (i, &byte) in stream.content.iter().enumerate() {
                let h = &mut hash[i % 2];
                *h = (*h ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
            }
        }
    }
    let id = Object::String(hash.iter().flat_map(|h| h.to_be_bytes()).collect(), StringFormat::Hexadecimal);
    file.trailer.set("ID", Object::Array(vec![id.clone(), id]));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_profile_is_as_long_as_it_says() {
        let profile = grey_profile();
        assert_eq!(profile[..4], (profile.len() as u32).to_be_bytes());
        assert_eq!((&profile[16..20], &profile[36..40]), (&b"GRAY"[..], &b"acsp"[..]));
        // Every tag lies within it.
        for entry in profile[132..132 + 48].chunks_exact(12) {
            let number = |at: usize| {
                u32::from_be_bytes([entry[at], entry[at + 1], entry[at + 2], entry[at + 3]]) as usize
            };
            assert!(number(4) >= 180 && number(4) + number(8) <= profile.len());
        }
    }
}

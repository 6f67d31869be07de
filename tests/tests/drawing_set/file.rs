//! The PDF, read back by another reader than its writer.

use crate::cases;
use crate::sheets::sheets;
use lopdf::content::Content;
use lopdf::{Document, Object};
use std::collections::BTreeMap;
use std::path::Path;
use tiewright::export::drawing::sheets_of;
use tiewright::export::pdf::{PdfError, PdfInfo, write};
use tiewright::sheet::{PaperSize, Rect, SheetKind, SheetOptions};

const POINTS: f64 = 72.0 / 25.4;

fn info() -> PdfInfo {
    PdfInfo {
        title: "Ties, 3 Larkspur Row – m²".into(),
        author: "K. Pell".into(),
        subject: "Hollin Beck".into(),
    }
}

fn number(o: &Object) -> f64 {
    o.as_float().map(f64::from).expect("a number")
}

/// Where each form XObject of a page is drawn, mm, by name.
fn placed(doc: &Document, page: lopdf::ObjectId) -> BTreeMap<String, Vec<(f64, f64)>> {
    let content = Content::decode(&doc.get_page_content(page)).expect("operations");
    let (mut matrix, mut stack) = ([1.0, 0.0, 0.0, 1.0, 0.0, 0.0], Vec::new());
    let mut found: BTreeMap<String, Vec<(f64, f64)>> = BTreeMap::new();
    for op in &content.operations {
        match op.operator.as_str() {
            "q" => stack.push(matrix),
            "Q" => matrix = stack.pop().expect("as many q as Q"),
            "cm" => {
                let m: Vec<f64> = op.operands.iter().map(number).collect();
                let b: [f64; 6] = matrix;
                matrix = [
                    m[0] * b[0] + m[1] * b[2],
                    m[0] * b[1] + m[1] * b[3],
                    m[2] * b[0] + m[3] * b[2],
                    m[2] * b[1] + m[3] * b[3],
                    m[4] * b[0] + m[5] * b[2] + b[4],
                    m[4] * b[1] + m[5] * b[3] + b[5],
                ];
            }
            "Do" => {
                let name = String::from_utf8_lossy(op.operands[0].as_name().expect("a name")).into_owned();
                found.entry(name).or_default().push((matrix[4] / POINTS, matrix[5] / POINTS));
            }
            _ => {}
        }
    }
    assert!(stack.is_empty());
    found
}

#[test]
fn ties_measured_in_the_file_stand_where_the_plan_has_them() {
    for (name, case) in cases::strained() {
        for paper in [None, Some(PaperSize::A4)] {
            let sheets = sheets(&case, paper, None);
            let bytes = write(&sheets, &info()).expect("a file");
            let doc = Document::load_mem(&bytes).expect("a PDF");
            let pages: Vec<_> = doc.get_pages().into_values().collect();
            assert_eq!(pages.len(), sheets.len());
            for (sheet, page) in sheets.iter().zip(pages) {
                let found = placed(&doc, page);
                if sheet.kind != SheetKind::Elevation {
                    let other = |k: &String| k.starts_with("KEY_") || k.starts_with("DETAIL_");
                    assert!(found.keys().all(other), "{name}: no tie off the elevations");
                    continue;
                }
                let shown = &sheet.shown[0];
                let (plan, scale) = (&case.plans[shown.elevation], f64::from(shown.scale));
                let outline = &case.project.elevations[shown.elevation].outline;
                let wall = Rect::round(outline.iter().copied()).expect("an outline").inset(-2.0 * scale);
                // The first tie drawn fixes where the wall stands; every other is measured from it.
                let mut origin: Option<(f64, f64)> = None;
                for role in layout_core::Role::ALL {
                    let key = format!("TIE_{}", role.id().to_uppercase());
                    let on = found.get(&key).cloned().unwrap_or_default();
                    let ties: Vec<_> = shown
                        .ties
                        .iter()
                        .map(|&i| &plan.ties[i])
                        .filter(|t| t.role == role && wall.contains(t.at))
                        .collect();
                    assert_eq!(on.len(), ties.len(), "{name}: {key}");
                    for (p, t) in on.iter().zip(ties) {
                        let o = *origin.get_or_insert((p.0 - t.at.0 / scale, p.1 - t.at.1 / scale));
                        let off = (p.0 - o.0 - t.at.0 / scale).hypot(p.1 - o.1 - t.at.1 / scale);
                        assert!(off < 0.01, "{name}: {} is {off} mm of paper off", t.mark);
                    }
                }
            }
        }
    }
}

/// Ties of an elevation as the result in JSON has them: mark, place, role.
fn ties_in(result: &serde_json::Value) -> Vec<(String, (f64, f64), String)> {
    let of = |t: &serde_json::Value| {
        let at = |key: &str| t[key].as_f64().expect("a coordinate");
        let text = |key: &str| t[key].as_str().expect("a text").to_owned();
        (text("mark"), (at("x"), at("y")), text("role"))
    };
    result["ties"].as_array().expect("ties").iter().map(of).collect()
}

#[test]
fn ties_measured_in_the_file_stand_where_the_result_in_json_has_them() {
    for example in ["larkspur-semi", "thistledown-gable", "ferndale-wind"] {
        let file = format!("{}/../examples/{example}.ron", env!("CARGO_MANIFEST_DIR"));
        let project = tiewright::document::file::read(Path::new(&file)).expect("the example is a project");
        let report = tiewright::report::Report::of(project.clone()).expect("it can be set out");
        let json: serde_json::Value =
            serde_json::from_str(&tiewright::export::json::set_out(&report)).expect("JSON");
        let sheets = sheets_of(&project, &SheetOptions::default()).expect("sheets");
        let doc = Document::load_mem(&write(&sheets, &info()).expect("a file")).expect("a PDF");
        let pages: Vec<_> = doc.get_pages().into_values().collect();
        for (index, elevation) in project.elevations.iter().enumerate() {
            let wanted = ties_in(&json["elevations"][index]);
            let mut seen = 0;
            for (sheet, page) in sheets.iter().zip(&pages).filter(|(s, _)| s.kind == SheetKind::Elevation) {
                let Some((_, scale)) = sheet.elevation.filter(|(i, _)| *i == index) else { continue };
                let found = placed(&doc, *page);
                // The wall's lower left corner on paper is measured from the sheet's own picture of the outline.
                let shown = &sheet.shown[0];
                let left = elevation.outline.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
                let corner = shown.at((left, 0.0));
                for (mark, at, _) in &wanted {
                    let (x, y) =
                        (corner.0 + (at.0 - left) / f64::from(scale), corner.1 + at.1 / f64::from(scale));
                    let on = |(key, p): &(&String, &(f64, f64))| {
                        key.starts_with("TIE_") && (p.0 - x).hypot(p.1 - y) < 0.05
                    };
                    let n =
                        found.iter().flat_map(|(k, all)| all.iter().map(move |p| (k, p))).filter(on).count();
                    assert!(n <= 1, "{example}: {mark} is drawn {n} times");
                    seen += n;
                }
            }
            assert_eq!(seen, wanted.len(), "{example}: every tie is drawn once, within 0.05 mm of paper");
        }
    }
}

#[test]
fn same_sheets_same_bytes() {
    let case = cases::larkspur();
    let once = write(&sheets(&case, None, None), &info()).expect("a file");
    let again = write(&sheets(&case, None, None), &info()).expect("a file");
    assert!(once == again, "two files of one process differ");
}

#[test]
fn the_file_is_vector_with_layers_and_subset_fonts() {
    let bytes = write(&sheets(&cases::larkspur(), None, None), &info()).expect("a file");
    assert!(bytes.starts_with(b"%PDF-1.7"));
    assert!(bytes.len() < 150_000, "fonts are cut down: {} bytes", bytes.len());
    let doc = Document::load_mem(&bytes).expect("a PDF");
    let (mut layers, mut fonts) = (Vec::new(), Vec::new());
    for object in doc.objects.values() {
        let dict = match object {
            Object::Dictionary(d) => d,
            Object::Stream(s) => &s.dict,
            _ => continue,
        };
        let name = |key: &[u8]| dict.get(key).and_then(Object::as_name).map(String::from_utf8_lossy).ok();
        assert_ne!(name(b"Subtype").as_deref(), Some("Image"), "no pictures");
        if name(b"Subtype").as_deref() == Some("Form") {
            assert!(dict.get(b"BBox").is_ok(), "a form without its bounds");
        }
        if name(b"Type").as_deref() == Some("OCG") && dict.get(b"Name").is_ok() {
            let text = dict.get(b"Name").and_then(Object::as_str).expect("a layer's name");
            layers.push(String::from_utf8_lossy(text).into_owned());
        }
        if name(b"Type").as_deref() == Some("FontDescriptor") {
            assert!(dict.get(b"FontFile2").is_ok(), "an embedded font");
            fonts.push(name(b"FontName").expect("a font's name").into_owned());
        }
    }
    layers.sort();
    assert_eq!(
        layers,
        ["Bed joints", "Dimensions", "Findings", "Frame", "Marks", "Masonry", "Notes", "Old ties", "Ties"]
    );
    assert!(!fonts.is_empty() && fonts.iter().all(|f| f.as_bytes().get(6) == Some(&b'+')), "{fonts:?}");
}

/// A dictionary that something refers to, or is.
fn dict<'a>(doc: &'a Document, o: &'a Object) -> &'a lopdf::Dictionary {
    match o {
        Object::Reference(id) => doc.get_object(*id).and_then(Object::as_dict).expect("a dictionary"),
        other => other.as_dict().expect("a dictionary"),
    }
}

#[test]
fn the_file_has_bookmarks_information_and_states_its_standard() {
    let all = sheets(&cases::larkspur(), None, None);
    let bytes = write(&all, &info()).expect("a file");
    let doc = Document::load_mem(&bytes).expect("a PDF");
    let catalog = doc.catalog().expect("a catalog");
    // One bookmark a sheet, in order, each to its page.
    let outlines = dict(&doc, catalog.get(b"Outlines").expect("bookmarks"));
    let pages: Vec<_> = doc.get_pages().into_values().collect();
    let mut next = outlines.get(b"First").ok();
    let mut seen = 0;
    while let Some(o) = next {
        let entry = dict(&doc, o);
        let to = entry.get(b"Dest").and_then(Object::as_array).expect("a place");
        assert_eq!(to[0].as_reference().ok(), Some(pages[seen]));
        let title = entry.get(b"Title").and_then(Object::as_str).expect("a title");
        assert!(title.starts_with(format!("{}  ", seen + 1).as_bytes()));
        seen += 1;
        next = entry.get(b"Next").ok();
    }
    assert_eq!(seen, all.len());
    // The title is not plain ASCII: it is kept as UTF-16 with its mark.
    let about = dict(&doc, doc.trailer.get(b"Info").expect("information"));
    let title: Vec<u8> =
        [0xfe, 0xff].into_iter().chain(info().title.encode_utf16().flat_map(u16::to_be_bytes)).collect();
    assert_eq!(about.get(b"Title").and_then(Object::as_str).ok(), Some(title.as_slice()));
    assert!(about.get(b"CreationDate").is_err() && about.get(b"GTS_PDFXVersion").is_err());
    let Ok(Object::Stream(metadata)) =
        doc.get_object(catalog.get(b"Metadata").and_then(Object::as_reference).expect("metadata"))
    else {
        panic!("metadata is a stream");
    };
    let text = String::from_utf8(metadata.content.clone()).expect("not packed");
    for part in ["<pdfaid:part>2<", "<pdfaid:conformance>B<", "Ties, 3 Larkspur Row – m²", "K. Pell"] {
        assert!(text.contains(part), "{part}");
    }
    let intents = catalog.get(b"OutputIntents").and_then(Object::as_array).expect("an output intent");
    assert!(dict(&doc, &intents[0]).get(b"DestOutputProfile").is_ok());
    let config =
        dict(&doc, catalog.get(b"OCProperties").expect("layers")).get(b"D").expect("a configuration");
    assert!(dict(&doc, config).get(b"Name").is_ok());
    // Two drawings have two identifiers.
    let other = Document::load_mem(&write(&all[..1], &info()).expect("a file")).expect("a PDF");
    assert_ne!(doc.trailer.get(b"ID").ok(), other.trailer.get(b"ID").ok());
}

#[test]
fn pages_have_the_size_of_their_paper() {
    let bytes = write(&sheets(&cases::larkspur(), Some(PaperSize::A4), None), &info()).expect("a file");
    let doc = Document::load_mem(&bytes).expect("a PDF");
    for page in doc.get_pages().into_values() {
        let dict = doc.get_dictionary(page).expect("a page");
        let size: Vec<f64> =
            dict.get(b"MediaBox").and_then(Object::as_array).expect("a box").iter().map(number).collect();
        assert!(
            (size[2] - 297.0 * POINTS).abs() < 0.01 && (size[3] - 210.0 * POINTS).abs() < 0.01,
            "{size:?}"
        );
    }
}

#[test]
fn the_objects_of_the_file_are_numbered_through() {
    // A table in two sections is read as damaged by some readers, a long title making it so.
    let info = PdfInfo { title: "Wall ties, 3 Larkspur Row, Hollin Beck. ".repeat(5), ..info() };
    let bytes = write(&sheets(&cases::larkspur(), None, None), &info).expect("a file");
    let doc = Document::load_mem(&bytes).expect("a PDF");
    let start: usize = {
        let text = String::from_utf8_lossy(&bytes[bytes.len() - 40..]).into_owned();
        let number = text.split("startxref").nth(1).and_then(|t| t.split_whitespace().next());
        number.and_then(|n| n.parse().ok()).expect("where the table starts")
    };
    let table = String::from_utf8_lossy(&bytes[start..]).into_owned();
    let heads: Vec<&str> = table
        .lines()
        .skip(1)
        .take_while(|l| !l.starts_with("trailer"))
        .filter(|l| l.split_whitespace().count() == 2)
        .collect();
    // Object 0 heads the list of free ones; every other is in the file.
    assert_eq!(heads, [format!("0 {}", doc.objects.len() + 1)]);
}

#[test]
fn no_sheets_no_file() {
    assert_eq!(write(&[], &info()), Err(PdfError::NoSheets));
}

#[test]
fn another_reader_finds_no_fault() {
    let Ok(probe) = std::process::Command::new("qpdf").arg("--version").output() else {
        eprintln!("qpdf is not installed; the file is read by lopdf alone in the other tests");
        return;
    };
    assert!(probe.status.success());
    let folder = tempfile::tempdir().expect("a folder");
    for (name, case) in cases::strained() {
        let path = folder.path().join(format!("{name}.pdf"));
        let bytes = write(&sheets(&case, None, None), &info()).expect("a file");
        std::fs::write(&path, bytes).expect("written");
        let said = std::process::Command::new("qpdf").arg("--check").arg(&path).output().expect("qpdf runs");
        let text = String::from_utf8_lossy(&said.stdout);
        assert!(
            said.status.success() && text.contains("No syntax or stream encoding errors"),
            "{name}: {text}"
        );
    }
}

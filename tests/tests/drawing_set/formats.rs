//! SVG, DXF and PNG, read back: the same drawing as the sheets and the PDF.

use crate::cases::{self, Case};
use crate::sheets::sheets;
use std::path::Path;
use tiewright::export::drawing::drawing_files;
use tiewright::export::raster::{Part, Raster};
use tiewright::export::{dxf, png, svg};
use tiewright::sheet::{Graphic, Layer, Outcome, Sheet, SheetKind, SheetOptions, Symbol};

fn files(case: &Case, name: &str) -> Vec<(std::path::PathBuf, Vec<u8>)> {
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    drawing_files(&case.project, &outcomes, &SheetOptions::default(), Path::new(name)).expect("files")
}

#[test]
fn an_svg_has_every_tie_at_its_place_and_every_text() {
    for (name, case) in cases::strained() {
        for sheet in sheets(&case, None, None) {
            let text = svg::write(&sheet);
            let mut depth = 0_i32;
            for tag in text.split('<').skip(1).filter(|t| !t.starts_with('?')) {
                if tag.starts_with('/') {
                    depth -= 1;
                } else if !tag.split('>').next().is_some_and(|t| t.ends_with('/')) {
                    depth += 1;
                }
                assert!(depth >= 0, "{name}: closed before it is opened");
            }
            assert_eq!(depth, 0, "{name}: all that is opened is closed");
            let used: Vec<(String, f64, f64)> = text
                .lines()
                .filter(|l| l.starts_with("<use "))
                .map(|l| {
                    let part = |from: &str, to: char| {
                        l.split(from).nth(1).and_then(|r| r.split(to).next()).expect("a part")
                    };
                    let at: Vec<f64> =
                        part("translate(", ')').split(' ').map(|v| v.parse().expect("a number")).collect();
                    (part("href=\"#", '"').to_owned(), at[0], sheet.height - at[1])
                })
                .collect();
            let drawn: Vec<(f64, f64)> = sheet
                .items
                .iter()
                .filter_map(|i| match i.graphic {
                    Graphic::Symbol { at, .. } => Some(at),
                    _ => None,
                })
                .collect();
            assert_eq!(used.len(), drawn.len(), "{name}");
            for (u, d) in used.iter().zip(&drawn) {
                // Written to a ten-thousandth of a millimetre.
                assert!((u.1 - d.0).hypot(u.2 - d.1) < 0.001, "{name}: {u:?} at {d:?}");
                assert!(text.contains(&format!("<g id=\"{}\"", u.0)), "{name}: {} is defined", u.0);
            }
            let texts = sheet.items.iter().filter(|i| matches!(i.graphic, Graphic::Text(_))).count();
            assert_eq!(text.matches("<text ").count(), texts, "{name}");
        }
    }
}

/// Pairs of a DXF file.
fn pairs(bytes: &[u8]) -> Vec<(u16, String)> {
    let text: String = bytes.iter().map(|&b| char::from(b)).collect();
    let lines: Vec<&str> = text.split("\r\n").collect();
    lines.chunks_exact(2).map(|c| (c[0].trim().parse().expect("a group code"), c[1].to_owned())).collect()
}

#[test]
fn a_dxf_has_every_tie_at_the_coordinates_of_the_project() {
    for (name, case) in cases::strained() {
        if case.plans.is_empty() {
            continue;
        }
        let files = files(&case, "wall.dxf");
        assert_eq!(files.len(), 1);
        let pairs = pairs(&files[0].1);
        assert_eq!(pairs.last().map(|p| p.1.as_str()), Some("EOF"), "{name}");
        // Inserts of ties in the entities, by their elevation: elevations are moved by whole metres alone.
        let begin = pairs.iter().position(|p| p.1 == "ENTITIES").expect("entities");
        let mut inserts = Vec::new();
        for (i, p) in pairs.iter().enumerate().skip(begin) {
            if p.0 == 0 && p.1 == "INSERT" && pairs[i + 2].1.starts_with("TIE_") {
                let number = |k: usize| pairs[i + k].1.parse::<f64>().expect("a number");
                inserts.push((pairs[i + 2].1.clone(), number(3), number(4)));
            }
        }
        let mut next = inserts.iter();
        for (index, (plan, e)) in case.plans.iter().zip(&case.project.elevations).enumerate() {
            let (l, r) = e.outline.iter().fold((f64::MAX, f64::MIN), |m, p| (m.0.min(p.0), m.1.max(p.0)));
            let mut moved = None;
            for t in plan.ties.iter().filter(|t| t.at.0 >= l && t.at.0 <= r) {
                let (block, x, y) = next.next().expect("as many inserts as ties");
                assert_eq!(*block, format!("TIE_{}", t.role.id().to_uppercase()), "{name}");
                let by = *moved.get_or_insert(((x - t.at.0) / 1000.0).round() * 1000.0);
                assert!(index > 0 || by == 0.0, "{name}: the first elevation keeps its coordinates");
                // Written to a ten-thousandth, from paper coordinates that lost less than that.
                assert!((x - by - t.at.0).hypot(y - t.at.1) < 0.01, "{name}: {} at {x}, {y}", t.mark);
            }
        }
        assert_eq!(next.next(), None, "{name}: no more inserts than ties");
        // Every block that is put in is defined, and every layer.
        for want in [2_u16, 8] {
            let defined: Vec<&str> =
                pairs[..begin].iter().filter(|p| p.0 == 2).map(|p| p.1.as_str()).collect();
            for p in pairs[begin + 1..].iter().filter(|p| p.0 == want) {
                assert!(defined.contains(&p.1.as_str()), "{name}: {} is defined", p.1);
            }
        }
    }
}

#[test]
fn a_picture_has_ink_where_the_ties_are() {
    let case = cases::larkspur();
    let all = sheets(&case, None, None);
    let sheet = all.iter().find(|s| s.kind == SheetKind::Elevation).expect("an elevation");
    let per_mm = 8.0;
    let size = ((sheet.width * per_mm) as u32, (sheet.height * per_mm) as u32);
    let part = Part { corner: (0.0, sheet.height), per_mm, size };
    let pixels = Raster::default().draw(sheet, &part).expect("a picture");
    let shade = |(x, y): (f64, f64)| {
        let (column, row) = ((x * per_mm) as usize, ((sheet.height - y) * per_mm) as usize);
        pixels[(row * size.0 as usize + column) * 4]
    };
    let mut seen = 0;
    for item in &sheet.items {
        if let (Layer::Ties, Graphic::Symbol { kind: Symbol::Tie(role), at, scale }) =
            (item.layer, &item.graphic)
        {
            // The dot in the middle is black, and there is white between it and a ring round it.
            let black = *role != layout_core::Role::FreeEnd;
            assert_eq!(shade(*at) < 128, black, "{at:?}");
            assert_eq!(shade((at.0 + 0.5 * scale, at.1)) > 128, black, "{at:?}");
            seen += 1;
        }
    }
    assert_eq!(seen, case.plans[0].ties.len());
    assert!(Raster::default().draw(sheet, &Part { size: (0, 10), ..part }).is_none());
}

#[test]
fn files_are_named_by_their_sheets_and_the_same_each_time() {
    let case = cases::larkspur();
    for ending in ["svg", "png", "dxf", "pdf"] {
        let name = format!("wall.{ending}");
        let once = files(&case, &name);
        assert!(once == files(&case, &name), "{ending}: the same bytes");
        assert_eq!(once[0].0, Path::new(&name));
        if matches!(ending, "svg" | "png") {
            assert_eq!(once.len(), sheets(&case, None, None).len());
            assert_eq!(once[2].0, Path::new(&format!("wall-3.{ending}")));
        } else {
            assert_eq!(once.len(), 1);
        }
    }
}

#[test]
fn a_png_is_as_large_as_its_paper() {
    let sheet: Sheet = sheets(&cases::larkspur(), None, None).swap_remove(0);
    let bytes = png::write(&sheet, &mut Raster::default()).expect("a picture");
    assert_eq!(bytes[1..4], *b"PNG");
    let number = |at: usize| u32::from_be_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]);
    // A3 at 200 dots an inch: 420 / 25.4 x 200 = 3307.1, 297 / 25.4 x 200 = 2338.6.
    assert_eq!((number(16), number(20)), (3307, 2339));
    assert!(bytes.len() < 1_000_000);
}

#[test]
fn no_elevation_no_drawing_but_a_file_that_opens() {
    let bytes = dxf::write(&[]);
    assert_eq!(pairs(&bytes).last().map(|p| p.1.as_str()), Some("EOF"));
}

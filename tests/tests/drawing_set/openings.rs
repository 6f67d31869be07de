//! Openings on the sheets: each has its size at it or in the notes.

use crate::cases::{self, Case};
use crate::sheets::{inspect, sheets, texts};
use layout_core::elevation::{Elevation, Opening, Shape};
use tiewright::sheet::{PaperSize, Sheet, SheetKind};

/// What is said on the sheets of an elevation, with the notes that run over.
fn said(all: &[Sheet]) -> String {
    let drawn = all.iter().filter(|s| matches!(s.kind, SheetKind::Elevation | SheetKind::Notes));
    drawn.flat_map(texts).map(|(t, _)| t.text.as_str()).collect::<Vec<_>>().join(" ")
}

#[test]
fn every_opening_has_its_size_somewhere() {
    let mut e = Elevation::new("Wall", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5000.0), (0.0, 5000.0)]);
    let shapes = [
        // At 1:50 a slit of 3 mm of paper, a hole of 8 mm, an arch of 18 mm, a shape of 12 mm.
        Shape::Rect { x: 900.0, y: 1500.0, w: 150.0, h: 901.0 },
        Shape::Circle { x: 2500.0, y: 2000.0, r: 203.0 },
        Shape::Arched { x: 4000.0, y: 0.0, w: 905.0, h: 2100.0, rise: 155.0 },
        Shape::Polygon(vec![(6500.0, 1000.0), (7107.0, 1000.0), (6800.0, 1609.0)]),
    ];
    e.openings = shapes.into_iter().map(|shape| Opening { name: String::new(), shape }).collect();
    e.openings[0].name = "Slit".into();
    let sizes = ["150 × 901", "⌀ 406", "905 × 2255, rise 155", "607 × 609 overall"];
    let case = Case::of(vec![e]);
    for paper in [PaperSize::A3, PaperSize::A4] {
        let all = sheets(&case, Some(paper), None);
        all.iter().for_each(|s| inspect("openings", s));
        let said = said(&all);
        for size in sizes {
            assert!(said.contains(size), "{paper}: {size} in {said}");
        }
    }
}

#[test]
fn the_doors_and_windows_of_a_house_have_their_sizes() {
    let said = said(&sheets(&cases::larkspur(), None, None));
    for size in ["1000 × 2250, rise 150", "2400 × 1350", "1200 × 1200", "2400 × 1200", "900 × 1050"] {
        assert!(said.contains(size), "{size} in {said}");
    }
}

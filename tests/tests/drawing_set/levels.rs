//! Levels and lengths on the sheets of an elevation: where heights and distances are measured from.

use crate::cases::Case;
use crate::sheets::{inspect, of_kind, sheets, texts};
use layout_core::elevation::Elevation;
use tiewright::sheet::{Graphic, Layer, PaperSize, Sheet, SheetKind};

/// A plain wall whose base is at a height, with a tie near each of two corners.
fn based(base: f64) -> Elevation {
    let mut e = Elevation::new(
        "Wall",
        vec![(0.0, base), (6000.0, base), (6000.0, base + 3000.0), (0.0, base + 3000.0)],
    );
    e.automatic = false;
    e.pinned = vec![(450.0, base + 450.0), (5400.0, base + 2700.0)];
    e
}

fn words(sheet: &Sheet) -> Vec<&str> {
    texts(sheet).iter().map(|(t, _)| t.text.as_str()).collect()
}

/// Where the black triangle of the datum stands on its point.
fn datum(sheet: &Sheet) -> Option<(f64, f64)> {
    sheet.items.iter().find_map(|i| match &i.graphic {
        Graphic::Fill { rings, grey } if i.layer == Layer::Dimensions && *grey == 0.0 => Some(rings[0][0]),
        _ => None,
    })
}

#[test]
fn the_datum_is_marked_beside_the_wall_and_the_base_where_it_is_not_there() {
    // Base, whether height 0 lies on the wall, what is said of the base.
    for (base, within, said) in [
        (0.0, true, None),
        (-450.0, true, Some("BASE -450")),
        (-60.0, true, Some("BASE -60")),
        (600.0, false, Some("BASE 600")),
    ] {
        for paper in [PaperSize::A3, PaperSize::A4] {
            let all = sheets(&Case::of(vec![based(base)]), Some(paper), None);
            all.iter().for_each(|s| inspect("levels", s));
            let sheet = of_kind(&all, SheetKind::Elevation)[0];
            let all = words(sheet);
            assert_eq!(all.contains(&"DATUM 0"), within, "{base}: {all:?}");
            assert_eq!(all.iter().find(|t| t.starts_with("BASE ")).copied(), said, "{base}");
            let mark = datum(sheet);
            assert_eq!(mark.is_some(), within);
            if let Some((x, y)) = mark {
                let end = sheet.shown[0].at((sheet.shown[0].extent.right, 0.0));
                assert!((y - end.1).abs() < 0.01 && x > end.0, "{base}: {y} at {end:?}");
            }
        }
    }
}

//! Levels and lengths on the sheets of an elevation: where heights and distances are measured from.

use crate::cases::{self, Case};
use crate::sheets::{inspect, of_kind, sheets, texts};
use layout_core::Tie;
use layout_core::elevation::{Elevation, Fix};
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

#[test]
fn the_chain_of_a_part_begins_at_a_place_on_the_wall() {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "long").expect("the case is there");
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    // Openings 1210 wide from 900 on, every 2400, and others 1060 wide from 975 on.
    let mut edges: Vec<f64> = (0..12)
        .flat_map(|i| [900.0, 975.0, 2035.0, 2110.0].map(|x| x + 2400.0 * f64::from(i)))
        .chain([0.0, 30_000.0])
        .collect();
    edges.sort_by(f64::total_cmp);
    for part in &of_kind(&all, SheetKind::Elevation)[1..] {
        let shown = &part.shown[0];
        let first = edges.iter().copied().find(|x| *x >= shown.extent.left).expect("an edge");
        let words = format!("x {first}");
        let label = texts(part).into_iter().find(|(t, _)| t.text == words);
        let Some((label, _)) = label else { panic!("{words} in {:?}", self::words(part)) };
        let stop = shown.at((first, 0.0)).0;
        assert!(label.at.0 < stop && label.at.0 > stop - 3.0, "{words} ends at {} before {stop}", label.at.0);
    }
}

#[test]
fn each_part_says_its_unit_where_it_lies_and_how_long_the_wall_is() {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "long").expect("the case is there");
    for paper in [PaperSize::A3, PaperSize::A4] {
        let all = sheets(&case, Some(paper), Some(50));
        let parts = of_kind(&all, SheetKind::Elevation);
        assert!(parts.len() > 2);
        for part in parts {
            let w = &part.shown[0].window;
            let said = words(part).join("    ");
            assert!(said.contains("SCALE 1:50    dimensions in mm"), "{paper}: {said}");
            let along = format!("x {} to {} of 30000", w.left, w.right);
            assert!(said.contains(&along), "{paper}: {along} in {said}");
            if w.height() < 6000.0 {
                let up = format!("y {} to {} of 6000", w.bottom, w.top);
                assert!(said.contains(&up), "{paper}: {up} in {said}");
            }
        }
    }
}

/// What stands among the dimensions of a sheet, turned by so much.
fn dimensions(sheet: &Sheet, angle: f64) -> Vec<&str> {
    let all = texts(sheet).into_iter().filter(|(t, l)| *l == Layer::Dimensions && t.angle == angle);
    all.map(|(t, _)| t.text.as_str()).collect()
}

#[test]
fn distances_are_led_to_where_there_is_room_for_them() {
    // Two lots of 11 ties 35 apart, 0.7 mm of paper at 1:50: 11 labels take 35 mm, so that each is led off by up to
    // 14 mm; between the lots and at the ends of the wall there is room for that.
    let mut e = based(0.0);
    e.coursing.fix = Fix::Anywhere;
    e.pinned = (0..22)
        .map(|i| {
            (1500.0 + 35.0 * f64::from(i % 11) + 2500.0 * f64::from(i / 11), 600.0 + 90.0 * f64::from(i))
        })
        .collect();
    let case = Case::of(vec![e]);
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    all.iter().for_each(|s| inspect("led", s));
    let sheet = of_kind(&all, SheetKind::Elevation)[0];
    for tie in &case.plans[0].ties {
        let distance = format!("{}", tie.at.0);
        let figures = dimensions(sheet, 90.0);
        assert!(figures.contains(&distance.as_str()), "{distance} in {figures:?}");
    }
    assert!(!words(sheet).join(" ").contains("No room"));
}

#[test]
fn ties_and_rows_without_a_figure_are_named() {
    // Rows 30 and ties 23 apart: more than there is room for.
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "close").expect("the case is there");
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    let sheet = of_kind(&all, SheetKind::Elevation)[0];
    let said = words(sheet).join(" ");
    // Distances are turned, heights level.
    let without = |angle: f64, what: fn(&Tie) -> f64| -> Vec<&Tie> {
        let figures = dimensions(sheet, angle);
        case.plans[0].ties.iter().filter(|t| !figures.contains(&what(t).to_string().as_str())).collect()
    };
    // Twelve are named, the rest counted.
    let list = |names: Vec<String>| format!("{} and {} more", names[..12].join(", "), names.len() - 12);
    let marks = without(90.0, |t| t.at.0).iter().map(|t| t.mark.clone()).collect();
    let expected = format!("the distances of {}", list(marks));
    assert!(said.contains(&expected), "{expected} in {said}");
    let heights = without(0.0, |t| t.at.1).iter().map(|t| t.at.1.to_string()).collect();
    let expected = format!("the heights of rows {}", list(heights));
    assert!(said.contains(&expected), "{expected} in {said}");
}

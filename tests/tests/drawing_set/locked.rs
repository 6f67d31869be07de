//! Locked areas and keep-outs on the sheets: outlined, named, told in the key.

use crate::cases::{self, Case};
use crate::sheets::{inspect, of_kind, sheets, texts};
use layout_core::elevation::{Elevation, KeepOut, Locked, MovementJoint, Shape};
use tiewright::sheet::{Dash, Graphic, Layer, PaperSize, Sheet, SheetKind};

/// A plain wall with a locked area of 1800 by 850 whose left lower corner is at 900, 900.
fn with_locked(name: &str) -> Elevation {
    let mut e = Elevation::new("Wall", vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (0.0, 3000.0)]);
    e.locked = vec![Locked {
        name: name.into(),
        shape: Shape::Rect { x: 900.0, y: 900.0, w: 1800.0, h: 850.0 },
        ties: vec![(1125.0, 1125.0)],
    }];
    e
}

fn said(sheet: &Sheet) -> String {
    texts(sheet).iter().map(|(t, _)| t.text.as_str()).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_locked_area_has_its_line_its_name_and_a_row_of_the_key() {
    let case = Case::of(vec![with_locked("Pier 2")]);
    let all = sheets(&case, None, None);
    let sheet = of_kind(&all, SheetKind::Elevation)[0];
    let on = |x: f64, y: f64| sheet.shown[0].at((x, y));
    let lines: Vec<((f64, f64), (f64, f64))> = sheet
        .items
        .iter()
        .filter(|i| i.layer == Layer::Masonry)
        .filter_map(|i| match &i.graphic {
            Graphic::Stroke { points, closed: false, .. } if points.len() == 2 => {
                Some((points[0], points[1]))
            }
            _ => None,
        })
        .collect();
    let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1) < 0.05;
    let corners = [on(900.0, 900.0), on(2700.0, 900.0), on(2700.0, 1750.0), on(900.0, 1750.0)];
    for i in 0..4 {
        let (a, b) = (corners[i], corners[(i + 1) % 4]);
        assert!(
            lines.iter().any(|l| (near(l.0, a) && near(l.1, b)) || (near(l.0, b) && near(l.1, a))),
            "side {i}"
        );
    }
    // Strokes of 1 mm from its lower side stand inside it.
    let (low, left, right) = (corners[0].1, corners[0].0, corners[1].0);
    let strokes: Vec<_> = lines
        .iter()
        .filter(|(a, b)| (a.0 - b.0).abs() < 0.01 && (a.1 - low).abs() < 0.01 && a.0 > left && a.0 < right)
        .collect();
    assert!(
        strokes.len() >= 10 && strokes.iter().all(|(_, b)| (b.1 - low - 1.0).abs() < 0.01),
        "{strokes:?}"
    );
    let said = said(sheet);
    assert!(said.contains("LOCKED: Pier 2") && said.contains("locked area"), "{said}");
    let without = sheets(&Case::of(vec![Elevation { locked: Vec::new(), ..with_locked("") }]), None, None);
    assert!(!self::said(of_kind(&without, SheetKind::Elevation)[0]).contains("locked"));
}

#[test]
fn a_name_too_long_for_its_area_stands_in_the_key() {
    let name = "North pier, as agreed with the consulting engineer of the housing trust";
    let case = Case::of(vec![with_locked(name)]);
    for paper in [None, Some(PaperSize::A4), Some(PaperSize::A1)] {
        let all = sheets(&case, paper, None);
        all.iter().for_each(|s| inspect("locked", s));
        let said = said(of_kind(&all, SheetKind::Elevation)[0]);
        let words: Vec<&str> = said.split_whitespace().map(|w| w.trim_matches(['(', ')'])).collect();
        assert!(words.iter().any(|w| w.starts_with("LOCKED")) && said.contains("locked area"), "{said}");
        for word in name.split_whitespace() {
            assert!(words.contains(&word), "{paper:?}: {word} in {said}");
        }
    }
}

#[test]
fn each_keep_out_says_how_far_to_keep_clear() {
    let mut e = cases::gable();
    e.keep_outs.clear();
    for i in 0..6 {
        e.keep_outs.push(KeepOut {
            name: format!("Unmarked conduit {i}, depth unknown, to be traced before any drilling"),
            shape: Shape::Rect { x: 500.0 + 1200.0 * f64::from(i), y: 2550.0, w: 150.0, h: 300.0 },
            clearance: 61.0 + f64::from(i),
        });
    }
    let case = Case::of(vec![e]);
    for paper in [None, Some(PaperSize::A4), Some(PaperSize::A1)] {
        let all = sheets(&case, paper, None);
        all.iter().for_each(|s| inspect("keep-outs", s));
        // The notes of an elevation may run over onto a sheet of their own.
        let drawn = all.iter().filter(|s| matches!(s.kind, SheetKind::Elevation | SheetKind::Notes));
        let said = drawn.map(said).collect::<Vec<_>>().join(" ");
        for d in 61..67 {
            assert!(
                said.contains(&format!("keep {d} clear")) || said.contains(&format!(" {d} mm")),
                "{paper:?}: {d} in {said}"
            );
        }
    }
}

/// Keep-outs 5 m apart along a wall of 20 m, with joints half way between.
fn with_keep_outs() -> Elevation {
    let mut e =
        Elevation::new("Long", vec![(-500.0, 0.0), (19_500.0, 0.0), (19_500.0, 3000.0), (-500.0, 3000.0)]);
    e.keep_outs = (0..4)
        .map(|i| KeepOut {
            name: if i == 0 { String::new() } else { format!("Box {i}") },
            shape: Shape::Rect { x: 1500.0 + 5000.0 * f64::from(i), y: 900.0, w: 400.0, h: 600.0 },
            clearance: 100.0,
        })
        .collect();
    e.keep_outs[3].shape = Shape::Circle { x: 16_700.0, y: 1200.0, r: 150.0 };
    e.movement_joints =
        (0..3).map(|i| MovementJoint { x: 4200.0 + 5000.0 * f64::from(i), from: 0.0, to: 3000.0 }).collect();
    e
}

#[test]
fn each_part_counts_and_lists_its_own_keep_outs_with_their_places() {
    let all = sheets(&Case::of(vec![with_keep_outs()]), Some(PaperSize::A4), Some(50));
    all.iter().for_each(|s| inspect("parts with keep-outs", s));
    // From the left end, which is at -500; of a circle the middle.
    let places = [
        "Keep-out 1, 400 × 600: lower left 2000 from left, height 900; keep 100 clear.",
        "Box 1, 400 × 600: lower left 7000 from left, height 900; keep 100 clear.",
        "Box 2, 400 × 600: lower left 12000 from left, height 900; keep 100 clear.",
        "Box 3, ⌀ 300: middle 17200 from left, height 1200; keep 100 clear.",
    ];
    let parts: Vec<(usize, &Sheet)> =
        all.iter().enumerate().filter(|(_, s)| s.kind == SheetKind::Elevation).collect();
    assert!(parts.len() > 2);
    for (i, part) in parts {
        let e = &part.shown[0].extent;
        // With the line 100 round them.
        let lefts = [1400.0, 6400.0, 11_400.0, 16_450.0];
        let shown: Vec<usize> = (0..4)
            .filter(|&k| lefts[k] < e.right && lefts[k] + [600.0, 600.0, 600.0, 500.0][k] > e.left)
            .collect();
        let joints =
            (0..3).map(|i| 4200.0 + 5000.0 * f64::from(i)).filter(|x| *x >= e.left && *x <= e.right).count();
        // Its notes may run over onto the next sheet.
        let more = all.get(i + 1).filter(|s| s.kind == SheetKind::Notes).map(said).unwrap_or_default();
        let said = format!("{} {more}", said(part));
        for (k, place) in places.iter().enumerate() {
            assert_eq!(said.contains(place), shown.contains(&k), "{place} on {e:?}: {said}");
        }
        let key = format!("keep-out: drill outside dashed line {}", shown.len());
        assert_eq!(said.contains(&key), !shown.is_empty(), "{key} in {said}");
        assert_eq!(said.contains(&format!("movement joint {joints}")), joints > 0, "{joints} in {said}");
    }
}

#[test]
fn a_dashed_line_stands_as_far_round_a_keep_out_as_is_kept_clear() {
    let mut e = with_keep_outs();
    e.keep_outs.truncate(1);
    let all = sheets(&Case::of(vec![e]), Some(PaperSize::A2), Some(50));
    let sheet = of_kind(&all, SheetKind::Elevation)[0];
    let line = sheet.items.iter().find_map(|i| match &i.graphic {
        Graphic::Stroke { points, dash: Dash::Dashed, .. }
            if i.layer == Layer::Masonry && points.len() > 9 =>
        {
            Some(points)
        }
        _ => None,
    });
    let line = line.expect("a dashed line");
    // 100 mm are 2 mm of paper at 1:50, round 1500 to 1900 by 900 to 1500.
    let (low, high) = (sheet.shown[0].at((1500.0, 900.0)), sheet.shown[0].at((1900.0, 1500.0)));
    for p in line {
        let (dx, dy) = ((low.0 - p.0).max(p.0 - high.0).max(0.0), (low.1 - p.1).max(p.1 - high.1).max(0.0));
        assert!((dx.hypot(dy) - 2.0).abs() < 1e-6, "{p:?}");
    }
}

//! Elevations drawn in parts: where they are cut, and how one finds one's way from part to part.

use crate::cases::{self, Case};
use crate::sheets::{inspect, of_kind, sheets, texts};
use tiewright::sheet::{Dash, Graphic, PaperSize, Sheet, SheetKind};

/// The long wall of 30 m: its sheets on A3 at 1:50.
fn long() -> (Case, Vec<Sheet>) {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "long").expect("the case is there");
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    (case, all)
}

/// The level place of each upright line of long dashes on a sheet.
fn upright_cuts(sheet: &Sheet) -> Vec<f64> {
    let mut all: Vec<f64> = sheet
        .items
        .iter()
        .filter_map(|i| match &i.graphic {
            Graphic::Stroke { points, dash: Dash::DashDot, .. }
                if (points[0].0 - points[1].0).abs() < 1e-9 =>
            {
                Some(points[0].0)
            }
            _ => None,
        })
        .collect();
    all.sort_by(f64::total_cmp);
    all
}

#[test]
fn the_key_plan_is_cut_at_the_match_lines_and_names_the_parts() {
    let (_, all) = long();
    let parts = of_kind(&all, SheetKind::Elevation);
    // Each part but the last ends at its match line, and the next begins there.
    let ends: Vec<f64> = parts[..parts.len() - 1].iter().map(|p| p.shown[0].window.right).collect();
    let begins: Vec<f64> = parts[1..].iter().map(|p| p.shown[0].window.left).collect();
    assert_eq!(ends, begins);
    // The outline on the cover is as many times smaller as 30 m are longer than it.
    let outline = all[0].items.iter().find_map(|i| match &i.graphic {
        Graphic::Fill { rings, grey } if *grey > 0.9 && *grey < 1.0 => Some(rings[0].clone()),
        _ => None,
    });
    let xs: Vec<f64> = outline.expect("the outline").iter().map(|p| p.0).collect();
    let (left, right) =
        (xs.iter().copied().fold(f64::MAX, f64::min), xs.iter().copied().fold(f64::MIN, f64::max));
    let cuts = upright_cuts(&all[0]);
    assert_eq!(cuts.len(), ends.len());
    for (cut, end) in cuts.iter().zip(&ends) {
        assert!((cut - (left + (right - left) * end / 30_000.0)).abs() < 0.01, "{cuts:?} {ends:?}");
    }
    let said: Vec<&str> = texts(&all[0]).iter().map(|(t, _)| t.text.as_str()).collect();
    for (i, _) in parts.iter().enumerate() {
        let sheet = all.iter().position(|s| s == parts[i]).expect("it is one of them") + 1;
        let at = said.iter().position(|t| *t == format!("part {}", i + 1)).expect("the part is named");
        assert_eq!(said[at + 1], format!("sheet {sheet}"));
    }
}

#[test]
fn each_match_line_says_which_sheet_continues() {
    // 30 m by 18 m: parts beside and above each other on A3 at 1:50.
    let mut e = layout_core::elevation::Elevation::new(
        "Silo",
        vec![(0.0, 0.0), (30_000.0, 0.0), (30_000.0, 18_000.0), (0.0, 18_000.0)],
    );
    e.automatic = false;
    e.pinned = vec![(450.0, 450.0), (29_000.0, 17_000.0)];
    for paper in [PaperSize::A3, PaperSize::A4] {
        let all = sheets(&Case::of(vec![e.clone()]), Some(paper), Some(100));
        all.iter().for_each(|s| inspect("silo", s));
        let parts: Vec<(usize, &Sheet)> =
            all.iter().enumerate().filter(|(_, s)| s.kind == SheetKind::Elevation).collect();
        let mut seen = 0;
        for (_, part) in &parts {
            let w = part.shown[0].window;
            let said: Vec<&str> = texts(part).iter().map(|(t, _)| t.text.as_str()).collect();
            for (number, other) in &parts {
                let o = other.shown[0].window;
                let sheet = number + 1;
                let level = o.bottom == w.bottom && o.top == w.top;
                let above = o.left == w.left && o.right == w.right;
                let expected = if level && (o.left == w.right || o.right == w.left) {
                    format!("continues on sheet {sheet}")
                } else if above && o.bottom == w.top {
                    format!("MATCH LINE y {} – continues on sheet {sheet}", w.top)
                } else if above && o.top == w.bottom {
                    format!("MATCH LINE y {} – continues on sheet {sheet}", w.bottom)
                } else {
                    continue;
                };
                assert!(said.contains(&expected.as_str()), "{paper:?}: {expected} in {said:?}");
                seen += 1;
            }
        }
        assert!(seen >= 2, "{paper:?}: it is cut");
    }
}

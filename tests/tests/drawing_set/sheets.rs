//! Lettering on the sheets: inside the frame, over no other lettering, over no tie.

use crate::cases::{self, Case};
use tiewright::sheet::{
    Face, Graphic, Layer, Outcome, PaperSize, Quad, Rect, Sheet, SheetError, SheetOptions, Symbol, Text,
    drawing_set, overlap,
};

pub fn sheets(case: &Case, sheet: Option<PaperSize>, scale: Option<u32>) -> Vec<Sheet> {
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let options = SheetOptions { sheet, scale, date: None };
    drawing_set(&case.project, &outcomes, &options).expect("the case can be drawn")
}

/// The box of a text from the font file itself, not from what the drawing believes.
fn ink(t: &Text) -> Quad {
    let face = ttf_parser::Face::parse(t.face.bytes(), 0).expect("the font is a font");
    let units = f64::from(face.units_per_em());
    let capital = face.glyph_index('H').and_then(|h| face.glyph_bounding_box(h)).expect("a capital");
    let em = t.height / (f64::from(capital.y_max) / units);
    let (mut width, mut low, mut high) = (0.0, 0.0_f64, 0.0_f64);
    for c in t.text.chars() {
        let glyph = face.glyph_index(c).unwrap_or_else(|| panic!("no glyph for {c:?} in '{}'", t.text));
        width += f64::from(face.glyph_hor_advance(glyph).unwrap_or(0)) / units * em;
        if let Some(b) = face.glyph_bounding_box(glyph) {
            low = low.min(f64::from(b.y_min) / units * em);
            high = high.max(f64::from(b.y_max) / units * em);
        }
    }
    let ((x, y), (sin, cos)) = (t.start(), t.angle.to_radians().sin_cos());
    [(0.0, low), (width, low), (width, high), (0.0, high)]
        .map(|(u, v)| (x + u * cos - v * sin, y + u * sin + v * cos))
}

/// Pairs of boxes that overlap, found by sweeping from the left.
fn clashes(boxes: &[(Quad, String)]) -> Vec<String> {
    let mut order: Vec<(Rect, usize)> =
        boxes.iter().enumerate().filter_map(|(i, (q, _))| Some((Rect::round(*q)?, i))).collect();
    order.sort_by(|a, b| a.0.left.total_cmp(&b.0.left));
    let mut found = Vec::new();
    for (k, (a, i)) in order.iter().enumerate() {
        for (b, j) in order[k + 1..].iter().take_while(|(b, _)| b.left < a.right) {
            if a.bottom < b.top && b.bottom < a.top && overlap(&boxes[*i].0, &boxes[*j].0) {
                found.push(format!("'{}' and '{}'", boxes[*i].1, boxes[*j].1));
            }
        }
    }
    found
}

fn texts(sheet: &Sheet) -> Vec<(&Text, Layer)> {
    sheet
        .items
        .iter()
        .filter_map(|i| match &i.graphic {
            Graphic::Text(t) => Some((t, i.layer)),
            _ => None,
        })
        .collect()
}

#[track_caller]
fn inspect(name: &str, sheet: &Sheet) {
    let place = format!("{name}, {} '{}' {:?}", sheet.paper, sheet.title, sheet.elevation);
    let frame = Rect::new(20.0, 10.0, sheet.width - 10.0, sheet.height - 10.0);
    let boxes: Vec<(Quad, String)> = texts(sheet).iter().map(|(t, _)| (ink(t), t.text.clone())).collect();
    for (quad, text) in &boxes {
        assert!(quad.iter().all(|&p| frame.contains(p)), "{place}: '{text}' leaves the frame at {quad:?}");
    }
    let found = clashes(&boxes);
    assert!(found.is_empty(), "{place}: {} overlaps of lettering: {}", found.len(), found.join("; "));
    for (t, layer) in texts(sheet) {
        let usual = [2.5, 3.5, 5.0, 7.0].iter().any(|h| (t.height - h).abs() < 1e-9);
        assert!(
            usual || (layer == Layer::Marks && t.height >= 1.8),
            "{place}: '{}' is {} high",
            t.text,
            t.height
        );
    }
    // Nothing drawn runs off the sheet's frame.
    for item in &sheet.items {
        let points: Vec<(f64, f64)> = match &item.graphic {
            Graphic::Stroke { points, .. } => points.clone(),
            Graphic::Fill { rings, .. } => rings.concat(),
            Graphic::Circle { centre, .. } => vec![*centre],
            Graphic::Symbol { at, .. } => vec![*at],
            Graphic::Text(_) => Vec::new(),
        };
        let edge = frame.inset(-0.01);
        assert!(points.iter().all(|&p| edge.contains(p)), "{place}: {item:?} leaves the frame");
    }
}

#[test]
fn lettering_keeps_clear_of_lettering_and_of_the_frame() {
    for (name, case) in cases::strained() {
        for paper in [None, Some(PaperSize::A4), Some(PaperSize::A1)] {
            for sheet in sheets(&case, paper, None) {
                inspect(name, &sheet);
            }
        }
    }
}

#[test]
fn every_example_is_drawn_cleanly() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).expect("there are examples") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|e| e == "ron") {
            let mut case = cases::load(&path);
            for (plan, e) in case.plans.iter_mut().zip(&case.project.elevations) {
                *plan = layout_core::plan(e).expect("examples can be laid out");
            }
            for paper in [None, Some(PaperSize::A4)] {
                sheets(&case, paper, None).iter().for_each(|s| inspect(&path.display().to_string(), s));
            }
            seen += 1;
        }
    }
    assert!(seen > 0);
}

#[test]
fn marks_stand_over_no_tie_and_none_is_missing() {
    let case = cases::larkspur();
    let all = sheets(&case, None, None);
    let sheet = &all[1];
    let mut marks: Vec<&str> =
        texts(sheet).iter().filter(|(_, l)| *l == Layer::Marks).map(|(t, _)| t.text.as_str()).collect();
    marks.sort_unstable();
    let mut expected: Vec<&str> = case.plans[0].ties.iter().map(|t| t.mark.as_str()).collect();
    expected.sort_unstable();
    assert_eq!(marks, expected);
    for item in &sheet.items {
        if let (Layer::Ties, Graphic::Symbol { at, scale, .. }) = (item.layer, &item.graphic) {
            let half = 1.0 * scale;
            let symbol = Rect::new(at.0 - half, at.1 - half, at.0 + half, at.1 + half).corners();
            for (t, _) in texts(sheet) {
                assert!(!overlap(&ink(t), &symbol), "'{}' runs over the tie at {at:?}", t.text);
            }
        }
    }
}

#[test]
fn ties_stand_to_scale_from_the_wall() {
    for (name, case) in cases::strained() {
        for sheet in sheets(&case, None, None) {
            let Some((index, scale)) = sheet.elevation else { continue };
            let plan = &case.plans[index];
            let drawn: Vec<(f64, f64)> = sheet
                .items
                .iter()
                .filter(|i| i.layer == Layer::Ties)
                .filter_map(|i| match i.graphic {
                    Graphic::Symbol { kind: Symbol::Tie(_), at, .. } => Some(at),
                    _ => None,
                })
                .collect();
            let outline = &case.project.elevations[index].outline;
            let bounds =
                Rect::round(outline.iter().copied()).expect("an outline").inset(-2.0 * f64::from(scale));
            let ties: Vec<(f64, f64)> =
                plan.ties.iter().map(|t| t.at).filter(|&p| bounds.contains(p)).collect();
            assert_eq!(drawn.len(), ties.len(), "{name}: every tie of the wall is drawn");
            for (d, t) in drawn.iter().zip(&ties) {
                let dx = (d.0 - drawn[0].0) * f64::from(scale) - (t.0 - ties[0].0);
                let dy = (d.1 - drawn[0].1) * f64::from(scale) - (t.1 - ties[0].1);
                assert!(dx.hypot(dy) < 0.01, "{name}: {t:?} stands at {d:?}");
            }
        }
    }
}

#[test]
fn the_usual_house_comes_on_a3_at_1_to_50() {
    let all = sheets(&cases::larkspur(), None, None);
    assert_eq!(all.len(), 3, "a summary and two elevations");
    assert_eq!((all[0].paper, all[0].elevation), (PaperSize::A3, None));
    assert_eq!((all[1].paper, all[1].elevation), (PaperSize::A3, Some((0, 50))));
    assert_eq!((all[1].width, all[1].height), (420.0, 297.0));
}

#[test]
fn every_finding_is_listed_and_cautions_are_given() {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "findings").expect("the case is there");
    let all = sheets(&case, None, None);
    let said: Vec<&str> = all.iter().flat_map(texts).map(|(t, _)| t.text.as_str()).collect();
    for n in 1..=60 {
        let number = n.to_string();
        assert!(said.contains(&number.as_str()), "finding {n} has its number");
    }
    assert_eq!(said.iter().filter(|t| t.starts_with("BREACH,")).count(), 40);
    assert_eq!(said.iter().filter(|t| t.starts_with("Note,")).count(), 20);
    let whole = said.join(" ");
    for word in ["silica dust", "asbestos", "competent engineer", "common practice, no source", "SCALE 1:50"]
    {
        assert!(whole.contains(word), "the drawing says '{word}'");
    }
}

#[test]
fn an_elevation_without_a_layout_is_told_on_the_summary() {
    let mut case = Case::of(vec![cases::gable()]);
    let mut broken = cases::gable();
    broken.name = "Bow-tie".into();
    broken.outline = vec![(0.0, 0.0), (1000.0, 1000.0), (1000.0, 0.0), (0.0, 1000.0)];
    broken.sides.clear();
    let faults = layout_core::elevation::validate(&broken);
    case.project.elevations.push(broken);
    let outcomes: Vec<Outcome<'_>> = vec![Ok(&case.plans[0]), Err(&faults)];
    let all = drawing_set(&case.project, &outcomes, &SheetOptions::default()).expect("the rest is drawn");
    let first: Vec<&str> = texts(&all[0]).iter().map(|(t, _)| t.text.as_str()).collect();
    assert!(first.contains(&"not laid out: see the faults below"), "{first:?}");
    assert!(first.iter().any(|t| t.starts_with("Bow-tie: the outline crosses")), "{first:?}");
    assert_eq!(all.iter().filter(|s| s.elevation.is_some()).count(), 1);
    // With no outcome at all for an elevation, the same holds.
    let all =
        drawing_set(&case.project, &outcomes[..1], &SheetOptions::default()).expect("the rest is drawn");
    assert_eq!(all.iter().filter(|s| s.elevation.is_some()).count(), 1);
}

#[test]
fn what_is_asked_for_is_kept_or_refused() {
    let case = cases::larkspur();
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let draw =
        |sheet, scale| drawing_set(&case.project, &outcomes, &SheetOptions { sheet, scale, date: None });
    assert_eq!(draw(None, Some(33)), Err(SheetError::Scale(33)));
    let refused = draw(Some(PaperSize::A4), Some(10)).expect_err("7 m at 1:10 is 700 mm");
    assert!(refused.to_string().contains("does not fit on A4 at 1:10"), "{refused}");
    let drawn = draw(Some(PaperSize::A2), Some(100)).expect("it fits");
    assert_eq!((drawn[1].paper, drawn[1].elevation), (PaperSize::A2, Some((0, 100))));
    // 6.9 m at 1:20 is 345 mm: too wide for the drawing on A3, so A2.
    assert_eq!(draw(None, Some(20)).expect("it fits")[1].paper, PaperSize::A2);
}

#[test]
fn faces_cover_the_signs_of_the_drawing() {
    for face in Face::ALL {
        assert!("m²×≤≥⌀–…°½·".chars().all(|c| face.shows(c)), "{face:?}");
    }
}

#[test]
fn the_test_of_overlaps_finds_one() {
    let boxed = |l: f64, b: f64| (Rect::new(l, b, l + 10.0, b + 3.0).corners(), format!("{l}, {b}"));
    assert_eq!(clashes(&[boxed(0.0, 0.0), boxed(9.9, 2.9), boxed(20.0, 0.0)]), ["'0, 0' and '9.9, 2.9'"]);
    assert!(clashes(&[boxed(0.0, 0.0), boxed(10.0, 0.0), boxed(0.0, 3.0)]).is_empty());
}

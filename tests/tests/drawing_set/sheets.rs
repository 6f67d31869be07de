//! Lettering on the sheets: inside the frame, over no other lettering, over no tie.

use crate::cases::{self, Case};
use tiewright::sheet::{
    Face, Graphic, Layer, Outcome, PaperSize, Quad, Rect, Sheet, SheetError, SheetKind, SheetOptions, Symbol,
    Text, drawing_set, overlap,
};

pub fn sheets(case: &Case, sheet: Option<PaperSize>, scale: Option<u32>) -> Vec<Sheet> {
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let options = SheetOptions { sheet, scale, ..SheetOptions::default() };
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

pub fn texts(sheet: &Sheet) -> Vec<(&Text, Layer)> {
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
pub fn inspect(name: &str, sheet: &Sheet) {
    let place = format!("{name}, {} '{}' {:?}", sheet.paper, sheet.title, sheet.elevation);
    // ISO 5457: 20 mm at the left, 10 mm elsewhere.
    let frame = Rect::new(20.0, 10.0, sheet.width - 10.0, sheet.height - 10.0);
    let boxes: Vec<(Quad, String)> = texts(sheet).iter().map(|(t, _)| (ink(t), t.text.clone())).collect();
    for (quad, text) in &boxes {
        assert!(quad.iter().all(|&p| frame.contains(p)), "{place}: '{text}' leaves the frame at {quad:?}");
    }
    let found = clashes(&boxes);
    assert!(found.is_empty(), "{place}: {} overlaps of lettering: {}", found.len(), found.join("; "));
    for (t, _) in texts(sheet) {
        // ISO 3098, and none below 2.5.
        let usual = [2.5, 3.5, 5.0, 7.0].iter().any(|h| (t.height - h).abs() < 1e-9);
        assert!(usual, "{place}: '{}' is {} high", t.text, t.height);
    }
    // Lettering stands over no tie, however it is drawn.
    for item in &sheet.items {
        if let (Layer::Ties, Graphic::Symbol { at, scale, .. }) = (item.layer, &item.graphic) {
            let half = 1.0 * scale;
            let symbol = Rect::new(at.0 - half, at.1 - half, at.0 + half, at.1 + half);
            for (quad, text) in &boxes {
                let near = Rect::round(*quad).is_some_and(|q| {
                    q.left < symbol.right
                        && symbol.left < q.right
                        && q.bottom < symbol.top
                        && symbol.bottom < q.top
                });
                assert!(
                    !near || !overlap(quad, &symbol.corners()),
                    "{place}: '{text}' runs over the tie at {at:?}"
                );
            }
        }
        // Line widths in the family 1 : 2 : 4.
        if let Graphic::Stroke { width, .. } | Graphic::Circle { width, .. } = &item.graphic {
            assert!([0.18, 0.35, 0.7].contains(width), "{place}: a line {width} wide");
        }
    }
    // Nothing drawn runs off the sheet's frame but the centring marks.
    for item in &sheet.items {
        let points: Vec<(f64, f64)> = match &item.graphic {
            Graphic::Stroke { points, .. } => points.clone(),
            Graphic::Fill { rings, .. } => rings.concat(),
            Graphic::Circle { centre, .. } => vec![*centre],
            Graphic::Symbol { at, .. } => vec![*at],
            Graphic::Picture { rect, .. } => rect.corners().to_vec(),
            Graphic::Text(_) => Vec::new(),
        };
        if item.layer == Layer::Frame && points.len() == 2 {
            continue;
        }
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
fn odd_walls_are_drawn_cleanly_on_every_paper() {
    for (name, case) in cases::odd() {
        for paper in PaperSize::ALL.map(Some).into_iter().chain([None]) {
            sheets(&case, paper, None).iter().for_each(|s| inspect(name, s));
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

/// The marks on the sheets of an elevation, sorted.
fn marks<'a>(sheets: impl IntoIterator<Item = &'a Sheet>) -> Vec<&'a str> {
    let all = sheets.into_iter().flat_map(texts);
    let mut marks: Vec<&str> =
        all.filter(|(_, l)| *l == Layer::Marks).map(|(t, _)| t.text.as_str()).collect();
    marks.sort_unstable();
    marks
}

#[test]
fn every_mark_stands_beside_its_tie() {
    let case = cases::larkspur();
    let all = sheets(&case, None, None);
    let front = all.iter().filter(|s| s.kind == SheetKind::Elevation && s.elevation == Some((0, 50)));
    let mut expected: Vec<&str> = case.plans[0].ties.iter().map(|t| t.mark.as_str()).collect();
    expected.sort_unstable();
    assert_eq!(marks(front), expected);
}

/// Where each tie of the plan is drawn as a tie to drill: sheet and place on paper.
fn ties_drawn(sheet: &Sheet) -> Vec<(f64, f64)> {
    sheet
        .items
        .iter()
        .filter(|i| i.layer == Layer::Ties)
        .filter_map(|i| match i.graphic {
            Graphic::Symbol { kind: Symbol::Tie(_), at, .. } => Some(at),
            _ => None,
        })
        .collect()
}

#[test]
fn every_tie_stands_to_scale_on_one_sheet_of_its_elevation() {
    for (name, case) in cases::strained() {
        for paper in [None, Some(PaperSize::A4), Some(PaperSize::A3)] {
            let all = sheets(&case, paper, None);
            for (index, plan) in case.plans.iter().enumerate() {
                let outline = &case.project.elevations[index].outline;
                let bounds = Rect::round(outline.iter().copied()).expect("an outline");
                let mut drawn = vec![0; plan.ties.len()];
                for sheet in all.iter().filter(|s| s.kind == SheetKind::Elevation) {
                    let Some((_, scale)) = sheet.elevation.filter(|(i, _)| *i == index) else { continue };
                    let shown = &sheet.shown[0];
                    assert_eq!((shown.elevation, shown.scale), (index, scale));
                    // Ties up to 2 mm of paper off the wall are drawn.
                    let near = bounds.inset(-2.0 * f64::from(scale));
                    let own: Vec<usize> =
                        shown.ties.iter().copied().filter(|&i| near.contains(plan.ties[i].at)).collect();
                    let places = ties_drawn(sheet);
                    assert_eq!(places.len(), own.len(), "{name}: {}", sheet.title);
                    for (p, &i) in places.iter().zip(&own) {
                        let e = shown.at(plan.ties[i].at);
                        assert!(
                            (p.0 - e.0).hypot(p.1 - e.1) < 0.01,
                            "{name}: {} at {p:?}",
                            plan.ties[i].mark
                        );
                        // Worked from the scale alone, so that `at` is not taken on trust.
                        let o = plan.ties[own[0]].at;
                        let s = f64::from(scale);
                        let d = (
                            (p.0 - places[0].0) * s - (plan.ties[i].at.0 - o.0),
                            (p.1 - places[0].1) * s - (plan.ties[i].at.1 - o.1),
                        );
                        assert!(d.0.hypot(d.1) < 0.01, "{name}: {} is not to scale", plan.ties[i].mark);
                        drawn[i] += 1;
                    }
                }
                for (t, n) in plan.ties.iter().zip(&drawn) {
                    assert!(
                        *n == usize::from(bounds.contains(t.at)) || !bounds.contains(t.at),
                        "{name}: {t:?}: {n}"
                    );
                }
            }
        }
    }
}

#[test]
fn a_long_wall_is_cut_at_match_lines_that_meet() {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "long").expect("the case is there");
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    let parts: Vec<&Sheet> = all.iter().filter(|s| s.kind == SheetKind::Elevation).collect();
    assert!(parts.len() > 2, "30 m at 1:50 are 600 mm of paper");
    let mut ends = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let lines: Vec<&str> = texts(part)
            .iter()
            .map(|(t, _)| t.text.as_str())
            .filter(|t| t.starts_with("MATCH LINE x"))
            .collect();
        // One at each inner end, none at the ends of the wall.
        assert_eq!(lines.len(), 2 - usize::from(i == 0) - usize::from(i + 1 == parts.len()), "{lines:?}");
        ends.push(lines.into_iter().map(str::to_owned).collect::<Vec<_>>());
    }
    for pair in ends.windows(2) {
        assert_eq!(pair[0].last(), pair[1].first(), "the next part begins where this one ends");
    }
    // Both sheets show a strip beyond the line.
    for pair in parts.windows(2) {
        let (a, b) = (&pair[0].shown[0].extent, &pair[1].shown[0].extent);
        assert!(a.right - b.left > 2.0 * 5.0 * 50.0, "the strips are more than 5 mm of paper each");
    }
}

#[test]
fn marks_without_room_stand_on_a_detail() {
    // Nine ties 75 apart both ways round the middle of a plain wall at 1:50: 1.5 mm apart on paper.
    let mut e = layout_core::elevation::Elevation::new(
        "Wall",
        vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)],
    );
    e.automatic = false;
    e.coursing.fix = layout_core::elevation::Fix::Anywhere;
    for i in 0..30 {
        e.pinned.push((600.0 + 160.0 * f64::from(i), 3500.0));
    }
    for i in 0..25 {
        e.pinned.push((2700.0 + 90.0 * f64::from(i % 5), 1700.0 + 90.0 * f64::from(i / 5)));
    }
    let case = Case::of(vec![e]);
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    let details: Vec<&Sheet> = all.iter().filter(|s| s.kind == SheetKind::Detail).collect();
    assert!(!details.is_empty());
    let elevation = all.iter().filter(|s| s.kind == SheetKind::Elevation);
    let mut seen = marks(elevation.chain(details));
    seen.dedup();
    let mut expected: Vec<&str> = case.plans[0].ties.iter().map(|t| t.mark.as_str()).collect();
    expected.sort_unstable();
    assert_eq!(seen, expected);
}

/// The sheets of a kind.
pub fn of_kind(all: &[Sheet], kind: SheetKind) -> Vec<&Sheet> {
    all.iter().filter(|s| s.kind == kind).collect()
}

#[test]
fn the_usual_house_comes_on_a3_at_1_to_50() {
    let all = sheets(&cases::larkspur(), None, None);
    let elevations = of_kind(&all, SheetKind::Elevation);
    assert_eq!(elevations.len(), 2);
    assert_eq!((all[0].paper, all[0].elevation), (PaperSize::A3, None));
    assert_eq!((elevations[0].paper, elevations[0].elevation), (PaperSize::A3, Some((0, 50))));
    assert_eq!((elevations[0].width, elevations[0].height), (420.0, 297.0));
}

#[test]
fn schedule_and_record_have_every_tie_once() {
    let case = cases::larkspur();
    let all = sheets(&case, None, None);
    let mut expected: Vec<&str> = case.plans.iter().flat_map(|p| &p.ties).map(|t| t.mark.as_str()).collect();
    expected.sort_unstable();
    for kind in [SheetKind::Schedule, SheetKind::Record] {
        let mut found: Vec<&str> = of_kind(&all, kind)
            .into_iter()
            .flat_map(texts)
            .filter(|(t, l)| *l == Layer::Notes && expected.binary_search(&t.text.as_str()).is_ok())
            .map(|(t, _)| t.text.as_str())
            .collect();
        found.sort_unstable();
        assert_eq!(found, expected, "{kind:?}");
    }
}

#[test]
fn marks_of_three_figures_are_written_out_in_the_record() {
    use layout_core::elevation::{Elevation, MovementJoint};
    let mut e = Elevation::new("Stair", vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 20_000.0), (0.0, 20_000.0)]);
    e.movement_joints = vec![MovementJoint { x: 3000.0, from: 0.0, to: 20_000.0 }];
    let case = Case::of(vec![e]);
    // Ties at 300 each side of 20 m of joint: 66 and 66.
    let marks: Vec<&str> =
        case.plans[0].ties.iter().map(|t| t.mark.as_str()).filter(|m| m.starts_with('M')).collect();
    assert!(marks.len() > 100);
    let all = sheets(&case, None, None);
    let said: Vec<&str> =
        of_kind(&all, SheetKind::Record).into_iter().flat_map(texts).map(|(t, _)| t.text.as_str()).collect();
    assert!(marks.iter().all(|m| said.contains(m)), "{said:?}");
}

#[test]
fn steps_of_the_schedule_add_up_to_its_distances() {
    // One row: ties at 250, 1150 and 1900 from an end that stands at -1000, on the third course.
    let mut e = layout_core::elevation::Elevation::new(
        "Wall",
        vec![(-1000.0, 0.0), (2000.0, 0.0), (2000.0, 900.0), (-1000.0, 900.0)],
    );
    e.automatic = false;
    e.pinned = vec![(-750.0, 225.0), (150.0, 225.0), (900.0, 225.0)];
    let all = sheets(&Case::of(vec![e]), None, None);
    let said: Vec<&str> = of_kind(&all, SheetKind::Schedule)
        .into_iter()
        .flat_map(texts)
        .map(|(t, _)| t.text.as_str())
        .collect();
    let from = said.iter().position(|t| *t == "C3").expect("the third course");
    assert_eq!(
        said[from..from + 14],
        [
            "C3",
            "225",
            "mark",
            "F1",
            "F2",
            "F3",
            "from left",
            "250",
            "1150",
            "1900",
            "step",
            "250",
            "900",
            "750"
        ]
    );
}

#[test]
fn sheets_are_made_as_they_are_asked_for() {
    use tiewright::sheet::{DecimalMark, FirmDetails, Include};
    let case = cases::larkspur();
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let draw = |options: &SheetOptions| drawing_set(&case.project, &outcomes, options).expect("sheets");
    let kinds = |all: &[Sheet]| {
        let mut kinds: Vec<SheetKind> = all.iter().map(|s| s.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    };
    use SheetKind::{Cover, Elevation, OldTies, Record, Schedule, Tests};
    assert_eq!(kinds(&draw(&SheetOptions::default())), [Cover, Elevation, Schedule, Record, Tests, OldTies]);
    let include =
        Include { cover: false, record: false, tests: false, old_ties: false, ..Include::default() };
    let few = draw(&SheetOptions { include, ..SheetOptions::default() });
    assert_eq!(kinds(&few), [Elevation, Schedule]);
    let firm =
        FirmDetails { name: "Hollin Beck Masonry Repairs".into(), address: "1 Kiln Lane".into(), logo: None };
    let ours = draw(&SheetOptions { firm, decimal: DecimalMark::Comma, ..SheetOptions::default() });
    for sheet in &ours {
        assert!(
            texts(sheet).iter().any(|(t, _)| t.text.starts_with("Hollin Beck Masonry Repairs, 1 Kiln")),
            "{}",
            sheet.title
        );
    }
    let said: Vec<&str> = texts(&ours[0]).iter().map(|(t, _)| t.text.as_str()).collect();
    let area = format!("{:.2}", case.plans[0].gross_area);
    assert!(said.contains(&area.replace('.', ",").as_str()) && !said.contains(&area.as_str()), "{said:?}");
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
    assert_eq!(of_kind(&all, SheetKind::Elevation).len(), 1);
    // With no outcome at all for an elevation, the same holds.
    let all =
        drawing_set(&case.project, &outcomes[..1], &SheetOptions::default()).expect("the rest is drawn");
    assert_eq!(of_kind(&all, SheetKind::Elevation).len(), 1);
}

#[test]
fn what_is_asked_for_is_kept_or_refused() {
    let case = cases::larkspur();
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let draw = |sheet, scale| {
        drawing_set(&case.project, &outcomes, &SheetOptions { sheet, scale, ..SheetOptions::default() })
    };
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

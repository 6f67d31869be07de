//! Marks on the drawing: whose each is, and what leaders run through.

use crate::cases::{self, Case};
use crate::sheets::{sheets, texts};
use layout_core::Tie;
use tiewright::sheet::{Graphic, Layer, PaperPoint, Rect, Sheet, SheetKind, Shown, Symbol, Text};

/// The examples with their layouts.
pub fn examples() -> Vec<(String, Case)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
    let mut all: Vec<_> = std::fs::read_dir(folder)
        .expect("there are examples")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .map(|path| {
            let mut case = cases::load(&path);
            for (plan, e) in case.plans.iter_mut().zip(&case.project.elevations) {
                *plan = layout_core::plan(e).expect("examples can be laid out");
            }
            (path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default(), case)
        })
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    all
}

/// The symbols of ties on a sheet, new, old and beyond a match line, each as a box with its middle.
fn symbols(sheet: &Sheet) -> Vec<(PaperPoint, Rect)> {
    let boxed = |(x, y): PaperPoint, half: f64| ((x, y), Rect::new(x - half, y - half, x + half, y + half));
    let on_drawing = |item: &&tiewright::sheet::Item| matches!(item.layer, Layer::Ties | Layer::OldTies);
    let all = sheet.items.iter().filter(on_drawing);
    all.filter_map(|item| match item.graphic {
        Graphic::Symbol { kind: Symbol::Tie(_) | Symbol::Beyond(_), at, scale } => Some(boxed(at, scale)),
        Graphic::Symbol { kind: Symbol::OldTie, at, .. } => Some(boxed(at, 0.9)),
        _ => None,
    })
    .collect()
}

/// Leaders of marks, from the tie to the mark.
fn leaders(sheet: &Sheet) -> Vec<(PaperPoint, PaperPoint)> {
    let of = |item: &tiewright::sheet::Item| match (&item.layer, &item.graphic) {
        (Layer::Marks, Graphic::Stroke { points, .. }) if points.len() == 2 => Some((points[0], points[1])),
        _ => None,
    };
    sheet.items.iter().filter_map(of).collect()
}

fn boxed(t: &Text) -> Rect {
    Rect::round(t.quad()).expect("a box")
}

/// How far two boxes are from each other.
fn apart(a: &Rect, b: &Rect) -> f64 {
    let gap = |a: f64, b: f64| a.max(b).max(0.0);
    gap(b.left - a.right, a.left - b.right).hypot(gap(b.bottom - a.top, a.bottom - b.top))
}

fn distance(a: PaperPoint, b: PaperPoint) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// Where the tie of a mark stands on the sheet: of the pictures of the wall, the one that has it nearest.
fn tie_of(case: &Case, sheet: &Sheet, mark: &Text) -> PaperPoint {
    let of = |s: &Shown| {
        let plan = &case.plans[s.elevation];
        let here = |t: &&Tie| t.mark == mark.text;
        s.ties.iter().map(|&i| &plan.ties[i]).find(here).map(|t| s.at(t.at))
    };
    let centre = boxed(mark).centre();
    let all = sheet.shown.iter().filter_map(of);
    all.min_by(|a, b| distance(*a, centre).total_cmp(&distance(*b, centre))).expect("the mark has a tie")
}

#[test]
fn no_mark_without_a_leader_is_nearer_to_another_tie() {
    for (name, case) in examples() {
        for sheet in sheets(&case, None, None).iter().filter(|s| !s.shown.is_empty()) {
            let (symbols, leaders) = (symbols(sheet), leaders(sheet));
            for (mark, _) in texts(sheet).into_iter().filter(|(_, l)| *l == Layer::Marks) {
                let tie = tie_of(&case, sheet, mark);
                let ink = boxed(mark);
                // A leader ends 0.4 mm before the lettering; no other comes so near.
                let ends = |p: PaperPoint| apart(&ink, &Rect::new(p.0, p.1, p.0, p.1)) < 0.5;
                if leaders.iter().any(|(_, to)| ends(*to)) {
                    continue;
                }
                let to = |own: bool| {
                    let found = symbols.iter().filter(|(at, _)| (distance(*at, tie) < 0.01) == own);
                    found.map(|(_, s)| apart(&ink, s)).fold(f64::INFINITY, f64::min)
                };
                let (own, other) = (to(true), to(false));
                // A ring round the tie keeps its mark 0.75 mm further off.
                let ringed = own > 1.0 && own - 0.75 + 0.25 < other;
                assert!(
                    own + 0.25 < other || ringed,
                    "{name}, {}: {} is {own:.2} mm from its tie, {other:.2} from another",
                    sheet.title,
                    mark.text
                );
            }
        }
    }
}

#[test]
fn leaders_run_through_no_mark_and_across_no_joint() {
    for (name, case) in examples() {
        for sheet in sheets(&case, None, None).iter().filter(|s| !s.shown.is_empty()) {
            let marks: Vec<(Rect, &str)> = texts(sheet)
                .into_iter()
                .filter(|(_, l)| matches!(l, Layer::Marks | Layer::OldTies))
                .map(|(t, _)| (boxed(t), t.text.as_str()))
                .collect();
            for (a, b) in leaders(sheet) {
                for (ink, mark) in &marks {
                    let struck = ink.inset(0.1).clip(a, b).is_some();
                    assert!(!struck, "{name}, {}: the leader from {a:?} strikes out {mark}", sheet.title);
                }
                for shown in &sheet.shown {
                    for j in &case.project.elevations[shown.elevation].movement_joints {
                        let x = shown.at((j.x, j.from)).0;
                        let (low, high) = (shown.at((j.x, j.from)).1, shown.at((j.x, j.to)).1);
                        let within = a.1.max(b.1) > low && a.1.min(b.1) < high;
                        let across = (a.0 - x) * (b.0 - x) < 0.0;
                        assert!(!(within && across), "{name}, {}: a leader crosses a joint", sheet.title);
                    }
                }
            }
        }
    }
}

#[test]
fn an_old_tie_beside_a_new_one_keeps_its_own_number() {
    // 1:50: an old tie 3 mm of paper from a new one, just where the mark of the new one would stand.
    let outline = vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (0.0, 3000.0)];
    let mut e = layout_core::elevation::Elevation::new("Wall", outline);
    e.automatic = false;
    e.pinned = vec![(3000.0, 1500.0)];
    let old = |at| layout_core::elevation::ExistingTie { at, ..Default::default() };
    e.existing_ties = vec![old((3150.0, 1590.0)), old((2850.0, 1590.0))];
    let all = sheets(&Case::of(vec![e]), None, None);
    let sheet = all.iter().find(|s| !s.shown.is_empty()).expect("a drawing");
    let old: Vec<Rect> = symbols(sheet).into_iter().map(|(_, s)| s).filter(|s| s.width() < 1.9).collect();
    assert_eq!(old.len(), 2);
    let mark = texts(sheet).into_iter().find(|(_, l)| *l == Layer::Marks).expect("a mark").0;
    assert!(old.iter().all(|o| apart(&boxed(mark), o) > 0.5), "{:?}", boxed(mark));
}

#[test]
fn a_detail_shows_the_ties_about_it_with_level_captions_and_a_key_of_its_own() {
    let mut seen = 0;
    for (name, case) in examples() {
        for sheet in sheets(&case, None, None).iter().filter(|s| s.kind == SheetKind::Detail) {
            for shown in &sheet.shown {
                assert!(shown.ties.len() >= 3, "{name}, {}: {} ties", sheet.title, shown.ties.len());
                seen += 1;
            }
            let texts = texts(sheet);
            let captions: Vec<f64> =
                texts.iter().filter(|(t, _)| t.text.starts_with("DETAIL ")).map(|(t, _)| t.at.1).collect();
            for apart in captions.iter().flat_map(|a| captions.iter().map(move |b| (a - b).abs())) {
                // Those of one shelf are level; the shelves are further apart than a caption is high.
                let stepped = (0.01..20.0).contains(&apart);
                assert!(!stepped, "{name}: captions stand {apart} mm apart in height");
            }
            let drawn = |s: Symbol| {
                let here = |i: &&tiewright::sheet::Item| {
                    i.layer == Layer::Ties && matches!(i.graphic, Graphic::Symbol { kind, .. } if kind == s)
                };
                sheet.items.iter().filter(here).count()
            };
            let roles = layout_core::Role::ALL.into_iter().map(|r| (drawn(Symbol::Tie(r)), r));
            for (n, role) in roles {
                let in_key = sheet.items.iter().any(|i| {
                    i.layer != Layer::Ties
                        && matches!(i.graphic, Graphic::Symbol { kind: Symbol::Tie(r), .. } if r == role)
                });
                assert_eq!(n > 0, in_key, "{name}: {role:?} in the key and on the details");
            }
        }
    }
    assert!(seen > 0, "an example has dense places");
}

#[test]
fn no_mark_reads_on_into_the_name_of_an_opening() {
    // Windows of 600, 12 mm of paper at 1:50: a name in the middle leaves no room for the marks of the jambs.
    let outline = vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 3000.0), (0.0, 3000.0)];
    let mut e = layout_core::elevation::Elevation::new("Wall", outline);
    for i in 0..6 {
        e.openings.push(layout_core::elevation::Opening {
            name: format!("W{}", i + 31),
            shape: layout_core::elevation::Shape::Rect {
                x: 800.0 + 1350.0 * f64::from(i),
                y: 900.0,
                w: 600.0,
                h: 1200.0,
            },
        });
    }
    let mut all = examples();
    all.push(("narrow windows".into(), Case::of(vec![e])));
    for (name, case) in all {
        for sheet in sheets(&case, None, None).iter().filter(|s| s.kind == SheetKind::Elevation) {
            let index = sheet.elevation.expect("an elevation").0;
            let openings = &case.project.elevations[index].openings;
            let named = |t: &Text| openings.iter().any(|o| o.name == t.text && !t.text.is_empty());
            let texts = texts(sheet);
            let names = texts.iter().filter(|(t, l)| *l == Layer::Notes && named(t)).map(|(t, _)| boxed(t));
            for opening in names {
                for (mark, _) in texts.iter().filter(|(_, l)| *l == Layer::Marks) {
                    let ink = boxed(mark);
                    let in_line = ink.bottom + 0.4 < opening.top && opening.bottom + 0.4 < ink.top;
                    // More than a space, which is 1.1 mm at this height.
                    let off = (opening.left - ink.right).max(ink.left - opening.right);
                    assert!(!in_line || off > 1.4, "{name}: {} reads on into an opening's name", mark.text);
                }
            }
        }
    }
}

//! Tables and notes: how they fill their sheets, and what stays beside the drawing.

use crate::cases::Case;
use crate::marks::examples;
use crate::sheets::{of_kind, sheets, texts};
use layout_core::elevation::{Elevation, Fix};
use tiewright::sheet::{PaperSize, Sheet, SheetKind};

fn example(name: &str) -> Case {
    examples().into_iter().find(|(n, _)| n == name).expect("the example is there").1
}

/// Words of a sheet as one text.
fn words(sheet: &Sheet) -> String {
    texts(sheet).iter().map(|(t, _)| t.text.as_str()).collect::<Vec<_>>().join(" ")
}

/// Where a head of a table stands, from the left.
fn heads(sheet: &Sheet, head: &str) -> Vec<f64> {
    let mut all: Vec<f64> =
        texts(sheet).iter().filter(|(t, _)| t.text == head).map(|(t, _)| t.at.0).collect();
    all.sort_by(f64::total_cmp);
    all
}

#[test]
fn the_record_fills_the_breadth_of_its_sheet() {
    // Distances of five figures and marks of three: three tables all the same on A3.
    let all = sheets(&example("ravenhill-flats"), None, None);
    let first = of_kind(&all, SheetKind::Record)[0];
    assert_eq!(first.paper, PaperSize::A3);
    let ties = heads(first, "Tie");
    assert_eq!(ties.len(), 3, "{ties:?}");
    let initials = heads(first, "Initials");
    // Grid references and frame take 14 mm at the edge, then 3 mm of air; a column of 16 mm has its middle 8 further in.
    assert!(initials[2] > first.width - 14.0 - 3.0 - 8.0, "{initials:?}");
}

#[test]
fn a_column_without_anything_is_left_out_of_the_record() {
    let with = |fix| {
        let outline = vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 2500.0), (0.0, 2500.0)];
        let mut e = Elevation::new("Wall", outline);
        e.coursing.fix = fix;
        let all = sheets(&Case::of(vec![e]), None, None);
        heads(of_kind(&all, SheetKind::Record)[0], "Course").len()
    };
    assert_eq!(with(Fix::Anywhere), 0, "set out by height");
    assert!(with(Fix::BedJoint) > 0);
}

#[test]
fn cautions_stand_beside_every_drawing_and_other_notes_once_for_each_elevation() {
    for (name, case) in examples() {
        let all = sheets(&case, Some(PaperSize::A4), None);
        for sheet in of_kind(&all, SheetKind::Elevation) {
            let said = words(sheet);
            assert!(said.contains("CAUTIONS") && said.contains("silica dust"), "{name}, {}", sheet.title);
            assert!(!said.contains("listed below"), "{name}, {}", sheet.title);
        }
        for e in &case.project.elevations {
            let title = format!("{} (notes)", e.name);
            let sheets = all.iter().filter(|s| s.title.ends_with(&title)).count();
            assert!(sheets <= 1, "{name}: {sheets} sheets of notes for {}", e.name);
        }
        // All six cautions stand on the cover's first sheet.
        let cover = words(&all[0]);
        assert!(cover.contains("bulges") && cover.contains("local codes govern"), "{name}: {cover}");
    }
}

#[test]
fn no_entry_of_the_list_of_sheets_stands_alone() {
    for (name, case) in examples() {
        for paper in [None, Some(PaperSize::A4)] {
            for sheet in of_kind(&sheets(&case, paper, None), SheetKind::Cover) {
                // Numbers of sheets, alone or from one to another, at the heads of their lines, by column.
                let numbers = |t: &str| t.chars().all(|c| c.is_ascii_digit() || c == '–') && t != "–";
                let titled = |y: f64, x: f64| {
                    let beside = |(t, _): &(&tiewright::sheet::Text, _)| {
                        (t.at.1 - y).abs() < 0.01 && (t.at.0 - x - 13.0).abs() < 0.01
                    };
                    texts(sheet).iter().any(beside)
                };
                let mut columns: Vec<(f64, usize)> = Vec::new();
                for (t, _) in texts(sheet) {
                    if !numbers(&t.text) || !titled(t.at.1, t.at.0) {
                        continue;
                    }
                    match columns.iter_mut().find(|(x, _)| (x - t.at.0).abs() < 0.01) {
                        Some((_, n)) => *n += 1,
                        None => columns.push((t.at.0, 1)),
                    }
                }
                assert!(columns.iter().all(|(_, n)| *n > 1), "{name}, {paper:?}: {columns:?}");
            }
        }
    }
}

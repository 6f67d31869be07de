//! Time to draw the sheets of a laid-out elevation and write them, and how large the files are.

use criterion::{Criterion, criterion_group, criterion_main};
use layout_core::Plan;
use layout_core::elevation::{Elevation, Opening, Project, Shape};
use std::hint::black_box;
use std::path::Path;
use tiewright::export::drawing::drawing_files;
use tiewright::sheet::{Outcome, PaperSize, SheetOptions};

/// A wall with a grid of windows, 1.2 by 1.35 m, every 3 m along and 3 m up.
fn facade(width: f64, height: f64) -> Elevation {
    let mut e = Elevation::new("Facade", vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]);
    let (columns, rows) = ((width / 3000.0) as u32, (height / 3000.0) as u32);
    for row in 0..rows {
        for column in 0..columns {
            let (x, y) = (900.0 + 3000.0 * f64::from(column), 900.0 + 3000.0 * f64::from(row));
            let shape = Shape::Rect { x, y, w: 1200.0, h: 1350.0 };
            e.openings.push(Opening { name: format!("W{}", row * columns + column + 1), shape });
        }
    }
    e
}

fn drawing(c: &mut Criterion) {
    let a3 = SheetOptions { sheet: Some(PaperSize::A3), ..SheetOptions::default() };
    for (name, width, height, options) in [
        ("house front on A3", 8250.0, 5400.0, a3),
        ("large facade", 66_000.0, 27_000.0, SheetOptions::default()),
    ] {
        let elevation = facade(width, height);
        let plan: Plan = layout_core::plan(&elevation).expect("a wall that can be laid out");
        let project = Project { title: "Bench".into(), elevations: vec![elevation], ..Project::default() };
        let outcomes: [Outcome<'_>; 1] = [Ok(&plan)];
        for ending in ["pdf", "svg", "dxf"] {
            let path = format!("wall.{ending}");
            let draw = || drawing_files(&project, &outcomes, &options, Path::new(&path)).expect("a drawing");
            let files = draw();
            let bytes: usize = files.iter().map(|(_, b)| b.len()).sum();
            println!(
                "{name}: {} ties, {} file(s), {} KB of {ending}",
                plan.ties.len(),
                files.len(),
                bytes / 1000
            );
            c.bench_function(&format!("{name}, {ending}"), |b| b.iter(|| black_box(draw())));
        }
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = drawing
}
criterion_main!(benches);

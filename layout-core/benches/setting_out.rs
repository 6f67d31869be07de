//! How long setting out and checking take. Run with `cargo bench -p layout-core`; under `cargo test --benches` each
//! case runs once.

use criterion::{BatchSize, Criterion};
use layout_core::check::check;
use layout_core::elevation::{Elevation, ExistingTie, KeepOut, Opening, Point, Shape, TieForm};
use layout_core::masonry::Masonry;
use layout_core::plan;
use layout_core::rules::{RuleSet, resolve};
use std::hint::black_box;
use std::time::Duration;

/// The front of a house, about 40 m2 of masonry: a door with an arched head, six windows, a meter box, two rows of old
/// ties. Gauge 75, the default rules.
fn front() -> Elevation {
    let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9600.0, 0.0), (9600.0, 5250.0), (0.0, 5250.0)]);
    e.openings.push(Opening {
        name: "D1".into(),
        shape: Shape::Arched { x: 4300.0, y: 0.0, w: 1000.0, h: 2100.0, rise: 150.0 },
    });
    for (n, (x, y)) in
        [(900., 900.), (7200., 900.), (900., 3450.), (2900., 3450.), (5500., 3450.), (7200., 3450.)]
            .into_iter()
            .enumerate()
    {
        e.openings.push(window(format!("W{}", n + 1), (x, y), (1200.0, 1200.0)));
    }
    let meter = Shape::Rect { x: 6000.0, y: 450.0, w: 450.0, h: 600.0 };
    e.keep_outs.push(KeepOut { name: "Meter".into(), shape: meter, clearance: 100.0 });
    for i in 0..10 {
        for y in [450.0, 2700.0] {
            let at = (450.0 + 900.0 * f64::from(i), y);
            e.existing_ties.push(ExistingTie { at, form: TieForm::VerticalTwist, ..ExistingTie::default() });
        }
    }
    e
}

/// A long block of thirteen storeys, each window like the next: about 10,000 ties.
fn facade() -> Elevation {
    let (bays, storeys) = (32, 13);
    let (w, h) = (3000.0 * f64::from(bays), 2700.0 * f64::from(storeys));
    let mut e = Elevation::new("Court", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]);
    for storey in 0..storeys {
        for bay in 0..bays {
            let at = (900.0 + 3000.0 * f64::from(bay), 900.0 + 2700.0 * f64::from(storey));
            e.openings.push(window(format!("W{storey}.{bay}"), at, (1200.0, 1200.0)));
        }
    }
    e
}

fn window(name: String, (x, y): Point, (w, h): (f64, f64)) -> Opening {
    Opening { name, shape: Shape::Rect { x, y, w, h } }
}

/// A wall with what checking it takes.
struct Case {
    name: &'static str,
    elevation: Elevation,
    masonry: Masonry,
    rules: RuleSet,
    ties: Vec<Point>,
}

impl Case {
    fn new(name: &'static str, elevation: Elevation) -> Result<Self, String> {
        let plan = plan(&elevation).map_err(|faults| format!("{name}: {faults:?}"))?;
        println!("{name}: {:.0} m2 of masonry, {} ties", plan.net_area, plan.ties.len());
        let ties: Vec<Point> = plan.ties.iter().map(|t| t.at).collect();
        Ok(Self {
            name,
            masonry: Masonry::new(&elevation),
            rules: resolve(&elevation.rules)?,
            elevation,
            ties,
        })
    }
}

fn main() -> Result<(), String> {
    let mut criterion = Criterion::default().configure_from_args();
    for case in [Case::new("house-front", front())?, Case::new("block-of-flats", facade())?] {
        let mut group = criterion.benchmark_group(case.name);
        group.sample_size(20).measurement_time(Duration::from_secs(5));
        group.bench_function("set-out-and-checked", |b| {
            b.iter_batched_ref(|| case.elevation.clone(), |e| plan(black_box(e)), BatchSize::LargeInput);
        });
        group.bench_function("checked-alone", |b| {
            b.iter(|| check(black_box(&case.elevation), &case.masonry, &case.rules, &case.ties));
        });
        group.finish();
    }
    criterion.final_summary();
    Ok(())
}

//! How the time to set out and check grows with the wall: a table from 1,000 to 1,000,000 ties, beside a script
//! in Python with numpy and shapely on the same walls, where those are installed.
//!
//! `cargo bench -p layout-core --bench scaling`, or with the largest number of ties and the largest for the script:
//! `cargo bench -p layout-core --bench scaling -- 100000 10000`. Under `cargo test --benches` the least wall alone.
//! Walls are block fronts, each window like the next. Times are medians on the machine as it stands; memory is the
//! largest the process ever held.
#![allow(
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a bench measures time and runs a script; the core does neither"
)]

use layout_core::check::{Severity, check};
use layout_core::elevation::{Elevation, Opening, Point, Shape};
use layout_core::masonry::Masonry;
use layout_core::plan;
use layout_core::rules::resolve;
use layout_core::setting_out::set_out;
use std::fmt::Write as _;
use std::hint::black_box;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;

/// About how many ties each wall of the table needs.
const SIZES: [usize; 7] = [1_000, 3_000, 10_000, 30_000, 100_000, 300_000, 1_000_000];

/// Walls larger than this are not given to the script, which would take minutes.
const SCRIPT_TO: usize = 100_000;

/// Ties that a bay of 3.0 x 2.7 m with a window of 1.2 x 1.2 m needs, about.
const TIES_A_BAY: f64 = 24.1;

/// Each time is the median of so many runs, or of as many as fit into a second.
const RUNS: usize = 9;

/// A block front with about so many ties, two and a half times as many bays as storeys.
fn front(ties: usize) -> Elevation {
    let bays = ties as f64 / TIES_A_BAY;
    let storeys = (bays / 2.5).sqrt().round().max(1.0);
    let bays = (bays / storeys).round().max(1.0);
    let (w, h) = (3000.0 * bays, 2700.0 * storeys);
    let mut e = Elevation::new("Front", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]);
    for storey in 0..storeys as usize {
        for bay in 0..bays as usize {
            let (x, y) = (900.0 + 3000.0 * bay as f64, 900.0 + 2700.0 * storey as f64);
            let shape = Shape::Rect { x, y, w: 1200.0, h: 1200.0 };
            e.openings.push(Opening { name: String::new(), shape });
        }
    }
    e
}

/// What came of a run, and the median time, s.
fn timed<T>(mut run: impl FnMut() -> T) -> (T, f64) {
    let begun = Instant::now();
    let mut once = || {
        let begun = Instant::now();
        let out = black_box(run());
        (out, begun.elapsed().as_secs_f64())
    };
    let (mut out, first) = once();
    let mut times = vec![first];
    while times.len() < RUNS && begun.elapsed().as_secs_f64() < 1.0 {
        let (again, time) = once();
        out = again;
        times.push(time);
    }
    times.sort_by(f64::total_cmp);
    (out, times[times.len() / 2])
}

/// The most memory the process has held so far, MiB; `None` where the system does not tell.
fn peak() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix(" kB")?.trim().parse::<f64>().ok().map(|kb| kb / 1024.0)
}

/// One line of the table.
struct Line {
    ties: usize,
    bound: usize,
    set_out: f64,
    check: f64,
    whole: f64,
}

fn measure(e: &Elevation) -> Result<Line, String> {
    let rules = resolve(&e.rules)?;
    let ((masonry, placed), set_out) = timed(|| {
        let masonry = Masonry::new(e);
        let placed = set_out(e, &masonry, &rules);
        (masonry, placed)
    });
    let ties: Vec<Point> = placed.iter().map(|p| p.at).collect();
    let (_, check) = timed(|| check(e, &masonry, &rules, &ties));
    drop((masonry, placed));
    let (plan, whole) = timed(|| plan(e));
    let plan = plan.map_err(|faults| format!("no usable wall: {faults:?}"))?;
    if plan.has_breach() {
        return Err(format!("the layout breaks a rule: {:?}", plan.findings[0]));
    }
    Ok(Line { ties: plan.ties.len(), bound: plan.lower_bound, set_out, check, whole })
}

/// What the script says of a wall.
struct Scripted {
    seconds: f64,
    ties: Vec<Point>,
}

/// Runs the script on a wall; `None` where it cannot run here.
fn scripted(e: &Elevation) -> Option<Scripted> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/scaling/vectorised.py");
    let mut child = Command::new("python3")
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(as_json(e).as_bytes()).ok()?;
    let out = child.wait_with_output().ok().filter(|o| o.status.success())?;
    let text = String::from_utf8(out.stdout).ok()?;
    let mut lines = text.lines();
    let seconds = lines.next()?.parse().ok()?;
    let tie = |l: &str| l.split_once(' ').and_then(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?)));
    Some(Scripted { seconds, ties: lines.filter_map(tie).collect() })
}

/// The wall as the script reads it: rings of points, mm.
fn as_json(e: &Elevation) -> String {
    let ring = |points: &[Point]| {
        let inner: Vec<String> = points.iter().map(|(x, y)| format!("[{x}, {y}]")).collect();
        format!("[{}]", inner.join(", "))
    };
    let openings: Vec<String> =
        e.openings.iter().map(|o| ring(&layout_core::elevation::shape_ring(&o.shape))).collect();
    format!("{{\"outline\": {}, \"openings\": [{}]}}", ring(&e.outline), openings.join(", "))
}

/// The breaches of the script's layout, by the same checker.
fn breaches(e: &Elevation, ties: &[Point]) -> Result<usize, String> {
    let found = check(e, &Masonry::new(e), &resolve(&e.rules)?, ties);
    Ok(found.iter().filter(|f| f.severity == Severity::Breach).count())
}

fn main() -> Result<(), String> {
    let numbers: Vec<usize> = std::env::args().skip(1).filter_map(|a| a.parse().ok()).collect();
    // cargo says --test where it only wants to see that the bench runs.
    let most = if std::env::args().any(|a| a == "--test") { SIZES[0] } else { usize::MAX };
    let most = numbers.first().copied().unwrap_or(most);
    let script_to = numbers.get(1).copied().unwrap_or(SCRIPT_TO);
    println!(
        "| wall, m | ties | over bound | set out, ms | check, ms | in all, ms | us a tie | exponent | peak, MiB | script, s | script's ties | times as fast |"
    );
    println!("| --- | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: |");
    let mut lines: Vec<Line> = Vec::new();
    let mut script = true;
    for size in SIZES.into_iter().filter(|&n| n <= most) {
        let e = front(size);
        let line = measure(&e)?;
        let (w, h) = e.outline[2];
        let exponent = lines.last().map_or_else(String::new, |b| format!("{:.2}", grown(b, &line)));
        let mut row = format!(
            "| {:.0} x {:.1} | {} | {:.1} % | {:.1} | {:.1} | {:.1} | {:.2} | {exponent} | {} |",
            w / 1000.0,
            h / 1000.0,
            line.ties,
            (line.ties as f64 / line.bound as f64 - 1.0) * 100.0,
            line.set_out * 1e3,
            line.check * 1e3,
            line.whole * 1e3,
            line.whole * 1e6 / line.ties as f64,
            peak().map_or_else(String::new, |m| format!("{m:.0}")),
        );
        let other = if script && size <= script_to { scripted(&e) } else { None };
        script &= other.is_some() || size > script_to;
        if let Some(other) = other {
            let broken = match breaches(&e, &other.ties)? {
                0 => String::new(),
                n => format!(" ({n} breaches)"),
            };
            let ratio = other.seconds / line.whole;
            let _ = write!(row, " {:.2} | {}{broken} | {ratio:.0} |", other.seconds, other.ties.len());
        } else {
            row += " | | |";
        }
        println!("{row}");
        lines.push(line);
    }
    if let (Some(first), Some(last)) = (lines.first(), lines.last())
        && lines.len() > 1
    {
        println!("\nexponent from {} to {} ties: {:.3}", first.ties, last.ties, grown(first, last));
    }
    if !script {
        println!("the script did not run: it needs python3 with numpy and shapely 2");
    }
    Ok(())
}

/// The power of the number of ties by which the time grew.
fn grown(from: &Line, to: &Line) -> f64 {
    (to.whole / from.whole).ln() / (to.ties as f64 / from.ties as f64).ln()
}

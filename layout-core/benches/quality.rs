//! How good layouts are: a table of counts against the bound, of how easy they are to mark out, and of what an opening
//! moved by 25 mm changes further off than two field spacings.
//!
//! `cargo bench -p layout-core --bench quality`, or with words of the names of the walls wanted. Walls are the examples
//! and house fronts drawn by a seeded lot: the same every time, on every machine.
//!
//! Ties are those of even layouts, beside those where the fewest are asked for, and the bound; then how many walls have
//! more than 5 % more ties in the even layout. Rows, steps, grid, plumb jambs, like openings and mirrored ties as in
//! `marking`, fronts whose left half stands in the right one again apart; "their jambs" are like openings whose ties beside the jambs are those of their like, whatever stands over
//! and under them. Breaches count the layouts that have one.
#![allow(
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a bench reads files and what it is asked for; the core does neither"
)]

use layout_core::elevation::{
    Elevation, Fix, Opening, Point, Project, RuleChoice, Shape, SideCondition, Style, shape_bounds,
};
use layout_core::{Plan, plan};
use ron::extensions::Extensions;
use std::collections::{BTreeMap, BTreeSet};

/// Fronts drawn by lot.
const FRONTS: u64 = 60;

/// The figures of a group of walls.
#[derive(Default)]
struct Figures {
    walls: usize,
    even: usize,
    fewest: usize,
    bound: usize,
    rows: usize,
    steps: f64,
    on_grid: usize,
    jambs: (usize, usize),
    alike: (usize, usize),
    like: (usize, usize),
    mirrored: (usize, usize),
    moves: (usize, usize),
    over: usize,
    /// Layouts with a breach.
    broken: usize,
}

fn main() -> Result<(), String> {
    let wanted: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with("--")).collect();
    let testing = std::env::args().any(|a| a == "--test");
    println!(
        "| walls | ties | fewest | bound | over 1.05 | rows | steps a row | on the grid | plumb jambs | like openings alike | their jambs | mirrored | far moves | breaches |"
    );
    println!("| --- | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: |");
    let mut groups = examples()?;
    if !testing {
        groups.push(("fronts by lot".to_owned(), (0..FRONTS).map(front).collect()));
        groups.push(("mirrored fronts".to_owned(), (0..FRONTS).map(|n| mirrored(front(n))).collect()));
    }
    for (name, walls) in groups {
        if !wanted.is_empty() && !wanted.iter().any(|w| name.contains(w.as_str())) {
            continue;
        }
        let mut sum = Figures::default();
        for wall in &walls {
            add(&mut sum, wall)?;
        }
        println!("{}", line(&name, &sum));
        if testing {
            break;
        }
    }
    Ok(())
}

fn line(name: &str, f: &Figures) -> String {
    let of = |(part, all): (usize, usize)| format!("{part} of {all}");
    format!(
        "| {name} | {} | {} | {} | {} | {:.1} | {:.1} | {:.0} % | {} | {} | {} | {} | {} | {} |",
        f.even,
        f.fewest,
        f.bound,
        of((f.over, f.walls)),
        f.rows as f64 / f.walls as f64,
        f.steps / f.walls as f64,
        100.0 * f.on_grid as f64 / f.even as f64,
        of(f.jambs),
        of(f.alike),
        of(f.like),
        of(f.mirrored),
        of(f.moves),
        f.broken,
    )
}

fn laid(e: &Elevation) -> Result<Plan, String> {
    plan(e).map_err(|faults| format!("{}: {faults:?}", e.name))
}

fn add(f: &mut Figures, e: &Elevation) -> Result<(), String> {
    let even = laid(e)?;
    let fewest = laid(&Elevation { style: Style::Fewest, ..e.clone() })?;
    let m = &even.marking;
    f.walls += 1;
    f.even += even.ties.len();
    f.fewest += fewest.ties.len();
    f.bound += even.lower_bound;
    f.over += usize::from(even.ties.len() * 100 > fewest.ties.len() * 105);
    f.broken += usize::from(even.has_breach()) + usize::from(fewest.has_breach());
    f.rows += m.rows;
    f.steps += m.mean_steps;
    f.on_grid += m.on_grid;
    f.alike = (f.alike.0 + m.alike_openings, f.alike.1 + m.repeated_openings);
    if let Some(n) = m.mirrored {
        f.mirrored = (f.mirrored.0 + n, f.mirrored.1 + m.ties);
    }
    f.jambs = (f.jambs.0 + m.plumb_jambs, f.jambs.1 + m.jambs);
    let (like, all) = like_jambs(e, &even);
    f.like = (f.like.0 + like, f.like.1 + all);
    let (far, moves) = moves(e, &even)?;
    f.moves = (f.moves.0 + far, f.moves.1 + moves);
    Ok(())
}

/// Ties told from an opening, mm, and how many openings have them so.
type Arrangements = BTreeMap<Vec<(i64, i64)>, usize>;

/// Rectangular openings whose jambs have the ties most of their like have, told from the opening, and all that have
/// their like; mirror images are alike.
fn like_jambs(e: &Elevation, plan: &Plan) -> (usize, usize) {
    let within = plan.rules.edges.as_ref().map_or(300.0, |r| r.within.value) + 0.5;
    let whole = |v: f64| v.round() as i64;
    let mut groups: BTreeMap<[i64; 3], Arrangements> = BTreeMap::new();
    for o in &e.openings {
        let (l, b, r, t) = shape_bounds(&o.shape);
        let beside = |p: &Point| (l - within..=r + within).contains(&p.0) && (b..=t).contains(&p.1);
        let ties: Vec<Point> = plan.ties.iter().map(|t| t.at).filter(beside).collect();
        let told = |x: &dyn Fn(f64) -> f64| {
            let mut all: Vec<(i64, i64)> = ties.iter().map(|p| (whole(p.1 - b), whole(x(p.0)))).collect();
            all.sort_unstable();
            all
        };
        let arrangement = told(&|x| x - l).min(told(&|x| r - x));
        let like =
            [whole(r - l), whole(t - b), whole((b - e.coursing.first_bed).rem_euclid(e.coursing.gauge))];
        *groups.entry(like).or_default().entry(arrangement).or_default() += 1;
    }
    let of = |g: &Arrangements| g.values().sum::<usize>();
    let like = groups.values().filter(|g| of(g) > 1);
    like.map(|g| (g.values().copied().filter(|&n| n > 1).max().unwrap_or(0), of(g)))
        .fold((0, 0), |sum, g| (sum.0 + g.0, sum.1 + g.1))
}

const MOVES: [Point; 4] = [(25.0, 0.0), (-25.0, 0.0), (0.0, 25.0), (0.0, -25.0)];

/// Openings moved by 25 mm that change a tie more than two field spacings off, and all moves.
fn moves(e: &Elevation, before: &Plan) -> Result<(usize, usize), String> {
    let (mut far, mut all) = (0, 0);
    let base = e.outline.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    for i in 0..e.openings.len() {
        let on_ground = shape_bounds(&e.openings[i].shape).1 <= base;
        for by in MOVES.into_iter().filter(|by| !on_ground || by.1 == 0.0) {
            let mut moved = e.clone();
            shift(&mut moved.openings[i].shape, by);
            let Ok(after) = plan(&moved) else { continue };
            all += 1;
            let shapes = [&e.openings[i].shape, &moved.openings[i].shape];
            let is_far = changed_far(before, &after, shapes);
            far += usize::from(is_far);
            if is_far && std::env::var_os("LIST").is_some() {
                println!("{} {} by {by:?}", e.name, e.openings[i].name);
            }
        }
    }
    Ok((far, all))
}

fn shift(shape: &mut Shape, (dx, dy): Point) {
    match shape {
        Shape::Rect { x, y, .. } | Shape::Arched { x, y, .. } | Shape::Circle { x, y, .. } => {
            *x += dx;
            *y += dy;
        }
        Shape::Polygon(points) => points.iter_mut().for_each(|p| *p = (p.0 + dx, p.1 + dy)),
    }
}

/// Whether a tie differs further from both shapes than two field spacings.
fn changed_far(before: &Plan, after: &Plan, shapes: [&Shape; 2]) -> bool {
    let (h, v) = (before.rules.horizontal.value, before.rules.vertical.value);
    let near = |(x, y): Point, shape: &Shape| {
        let (x0, y0, x1, y1) = shape_bounds(shape);
        let off = |v: f64, lo: f64, hi: f64| (lo - v).max(v - hi).max(0.0) - 1.0;
        off(x, x0, x1) <= 2.0 * h && off(y, y0, y1) <= 2.0 * v
    };
    let places = |plan: &Plan| -> BTreeSet<(i64, i64)> {
        let tenths = |v: f64| (v * 10.0).round() as i64;
        plan.ties.iter().map(|t| (tenths(t.at.0), tenths(t.at.1))).collect()
    };
    places(before)
        .symmetric_difference(&places(after))
        .map(|&(x, y)| (x as f64 / 10.0, y as f64 / 10.0))
        .any(|p| !shapes.iter().any(|s| near(p, s)))
}

/// The examples, each a group of its elevations that are set out automatically.
fn examples() -> Result<Vec<(String, Vec<Elevation>)>, String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
    let mut out = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(|e| e.to_string())? {
        let path = entry.map_err(|e| e.to_string())?.path();
        if path.extension().is_none_or(|e| e != "ron") {
            continue;
        }
        let text = std::fs::read_to_string(&path).map_err(|e| e.to_string())?;
        let extensions = Extensions::IMPLICIT_SOME | Extensions::UNWRAP_VARIANT_NEWTYPES;
        let read = ron::Options::default().with_default_extension(extensions);
        let project: Project = read.from_str(&text).map_err(|e| format!("{}: {e}", path.display()))?;
        // A file of rules is read by the program alone.
        let wanted = |e: &Elevation| e.automatic && !matches!(e.rules, RuleChoice::File(_));
        let walls: Vec<Elevation> = project.elevations.into_iter().filter(wanted).collect();
        if let Some(name) = path.file_stem().filter(|_| !walls.is_empty()) {
            out.push((name.to_string_lossy().into_owned(), walls));
        }
    }
    out.sort_by(|a, b| a.0.cmp(&b.0));
    Ok(out)
}

/// Numbers by lot: the same for the same seed.
struct Lot(u64);

impl Lot {
    fn next(&mut self) -> u64 {
        // A 64-bit linear congruential generator with Knuth's multiplier, from memory.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    /// One of the multiples of a step from a number to another, mm.
    fn length(&mut self, from: u64, to: u64, step: u64) -> f64 {
        (from + step * (self.next() % ((to - from) / step + 1))) as f64
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.next() as usize % all.len()]
    }
}

/// A house front: storeys of like windows over each other, a door, now and then a gable, a free end, a courser gauge,
/// windows that stand in no order.
fn front(seed: u64) -> Elevation {
    let mut lot = Lot(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) + 1);
    for _ in 0..8 {
        lot.next();
    }
    let storeys = lot.one_of(&[1, 2, 2, 2, 3, 4]);
    let bays = lot.one_of(&[1, 2, 2, 3, 3, 4, 6]);
    let bay = lot.length(2400, 4200, 25);
    let storey = lot.one_of(&[2475.0, 2550.0, 2625.0, 2700.0, 2850.0, 3000.0]);
    let (w, h) = (bay * f64::from(bays), storey * f64::from(storeys));
    let mut outline = vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    let gable = lot.next().is_multiple_of(5);
    if gable {
        outline.insert(3, (w / 2.0, h + (w * 0.4).round()));
    }
    let mut e = Elevation::new(format!("front {seed}"), outline);
    let side = lot.one_of(&[SideCondition::Corner, SideCondition::Corner, SideCondition::FreeEnd]);
    e.sides = vec![SideCondition::Base, side];
    e.sides.extend(if gable { vec![SideCondition::Verge; 2] } else { vec![SideCondition::Eaves] });
    e.sides.push(SideCondition::Corner);
    e.coursing.fix = lot.one_of(&[Fix::BedJoint, Fix::BedJoint, Fix::BrickFace]);
    let (width, height) = (lot.length(600, 1800, 75), lot.length(900, 1500, 75));
    let (inset, sill) = (((bay - width) / 2.0 / 25.0).round() * 25.0, lot.one_of(&[600.0, 825.0, 900.0]));
    let ordered = !lot.next().is_multiple_of(3);
    for s in 0..storeys {
        for b in 0..bays {
            let off = |lot: &mut Lot| if ordered { 0.0 } else { lot.length(0, 400, 25) - 200.0 };
            let (dx, dy) = (off(&mut lot), if ordered { 0.0 } else { lot.length(0, 150, 25) });
            let y = storey * f64::from(s) + sill + dy;
            let x = (bay * f64::from(b) + inset + dx).max(300.0).min(w - width - 300.0);
            let door = s == 0 && b == 0 && bays > 1;
            let shape = if door {
                Shape::Rect { x, y: 0.0, w: 900.0, h: 2100.0 }
            } else {
                Shape::Rect { x, y, w: width, h: height.min(storey - sill - dy - 225.0) }
            };
            e.openings.push(Opening { name: format!("W{s}{b}"), shape });
        }
    }
    e
}

/// A front with the openings of its left half again in its right half, and one in the middle kept there.
fn mirrored(mut e: Elevation) -> Elevation {
    let width = e.outline.iter().map(|p| p.0).fold(0.0, f64::max);
    let mut openings = Vec::new();
    for o in e.openings {
        let (l, b, r, t) = shape_bounds(&o.shape);
        let at =
            |x: f64| Opening { name: o.name.clone(), shape: Shape::Rect { x, y: b, w: r - l, h: t - b } };
        if r <= width / 2.0 - 100.0 {
            openings.extend([at(l), at(width - r)]);
        } else if (f64::midpoint(l, r) - width / 2.0).abs() < 13.0 {
            openings.push(at((width - (r - l)) / 2.0));
        }
    }
    e.openings = openings;
    e.sides[1] = SideCondition::Corner;
    e.name = format!("mirrored {}", e.name);
    e
}

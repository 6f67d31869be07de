//! Elevations to draw, and layouts of them made by hand, so that these tests hold whatever the placer does.

use layout_core::check::{Finding, Rule, Severity};
use layout_core::elevation::{
    CustomRules, Elevation, ExistingTie, Fix, KeepOut, MovementJoint, Opening, Point, Project, RuleChoice,
    Shape, SideCondition, TieForm, shape_bounds, shape_ring,
};
use layout_core::engineering::Engineering;
use layout_core::marking::Marking;
use layout_core::source::Source;
use layout_core::{Plan, Role, Tie};

#[derive(Clone)]
pub struct Case {
    pub project: Project,
    pub plans: Vec<Plan>,
}

impl Case {
    pub fn of(elevations: Vec<Elevation>) -> Self {
        let plans = elevations.iter().map(laid_out).collect();
        let project = Project {
            title: "Replacement ties, 14 Sallow Terrace and the workshops behind it".into(),
            reference: "TW-0107".into(),
            site: "14 Sallow Terrace, Netherby".into(),
            client: "Netherby Housing Trust".into(),
            drawn_by: "R. Oakes".into(),
            notes: vec!["Sizes from the survey notebook; confirm on site.".into()],
            elevations,
            ..Project::default()
        };
        Self { project, plans }
    }
}

fn inside(ring: &[Point], (x, y): Point) -> bool {
    let n = ring.len();
    let crosses = |i: &usize| {
        let (a, b) = (ring[*i], ring[(i + 1) % n]);
        (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)
    };
    (0..n).filter(crosses).count() % 2 == 1
}

/// Staggered 900 x 450, ties at 300 beside openings, joints and free ends, along verges; pinned ties.
pub fn laid_out(e: &Elevation) -> Plan {
    let holes: Vec<Vec<Point>> = e.openings.iter().map(|o| shape_ring(&o.shape)).collect();
    let mut ties: Vec<(Point, Role, bool)> = e.pinned.iter().map(|&p| (p, Role::Field, true)).collect();
    let add = |ties: &mut Vec<(Point, Role, bool)>, at: Point, role: Role| {
        let clear = |d: f64| {
            [(0.0, 0.0), (d, 0.0), (-d, 0.0), (0.0, d), (0.0, -d)].iter().all(|(dx, dy)| {
                let p = (at.0 + dx, at.1 + dy);
                inside(&e.outline, p) && !holes.iter().any(|h| inside(h, p))
            })
        };
        let near = |t: &(Point, Role, bool)| (t.0.0 - at.0).hypot(t.0.1 - at.1) < 220.0;
        if clear(70.0) && !ties.iter().any(near) {
            ties.push((at, role, false));
        }
    };
    let (xs, ys): (Vec<f64>, Vec<f64>) = e.outline.iter().copied().unzip();
    let (left, right) =
        (xs.iter().copied().fold(f64::MAX, f64::min), xs.iter().copied().fold(f64::MIN, f64::max));
    let (low, high) =
        (ys.iter().copied().fold(f64::MAX, f64::min), ys.iter().copied().fold(f64::MIN, f64::max));
    if e.automatic {
        for o in &e.openings {
            let (l, b, r, t) = shape_bounds(&o.shape);
            let mut y = (b / 75.0).ceil() * 75.0 + 150.0;
            while y < t {
                add(&mut ties, (l - 150.0, y), Role::Jamb);
                add(&mut ties, (r + 150.0, y), Role::Jamb);
                y += 300.0;
            }
        }
        for j in &e.movement_joints {
            for k in 0..((j.to - j.from) / 300.0) as u32 {
                add(&mut ties, (j.x - 150.0, j.from + 150.0 + f64::from(k) * 300.0), Role::Joint);
                add(&mut ties, (j.x + 150.0, j.from + 150.0 + f64::from(k) * 300.0), Role::Joint);
            }
        }
        for (i, side) in layout_core::elevation::outline_sides(e).into_iter().enumerate() {
            let (a, b) = (e.outline[i], e.outline[(i + 1) % e.outline.len()]);
            let role = match side {
                SideCondition::Verge => Role::Verge,
                SideCondition::FreeEnd => Role::FreeEnd,
                _ => continue,
            };
            let n = ((a.1 - b.1).abs() / 300.0) as u32;
            for k in 0..n {
                let y = ((a.1.min(b.1) + 150.0) / 75.0).round() * 75.0 + f64::from(k) * 300.0;
                let t = (y - a.1) / (b.1 - a.1);
                let x = a.0 + (b.0 - a.0) * t;
                for at in [(x - 200.0, y), (x + 200.0, y)] {
                    add(&mut ties, at, role);
                }
            }
        }
        let mut row = 0;
        let mut y = low + 225.0;
        while y < high {
            let mut x = left + if row % 2 == 0 { 225.0 } else { 675.0 };
            while x < right {
                add(&mut ties, (x, y), Role::Field);
                x += 900.0;
            }
            y += 450.0;
            row += 1;
        }
    }
    ties.sort_by(|a, b| a.0.1.total_cmp(&b.0.1).then(a.0.0.total_cmp(&b.0.0)));
    let mut counts = [0; 5];
    let ties: Vec<Tie> = ties
        .into_iter()
        .map(|(at, role, pinned)| {
            counts[role as usize] += 1;
            Tie {
                mark: format!("{}{}", role.letter(), counts[role as usize]),
                at,
                role,
                pinned,
                locked: false,
            }
        })
        .collect();
    let area = |r: &[Point]| {
        let n = r.len();
        (0..n).map(|i| (r[i], r[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2e6
    };
    let gross = area(&e.outline);
    let net = gross - holes.iter().map(|h| area(h)).sum::<f64>();
    let rules = layout_core::rules::resolve(&e.rules).expect("the cases name rule sets that exist");
    let engineering = Engineering::of(e, &rules, &ties);
    let mut masonry = vec![e.outline.clone()];
    let bounded =
        |h: &[Point]| h.iter().map(|p| (p.0.clamp(left, right), p.1.clamp(low, high))).collect::<Vec<_>>();
    masonry.extend(holes.iter().map(|h| bounded(h)).filter(|h| area(h) > 0.0));
    Plan {
        rules,
        marking: Marking::default(),
        gross_area: gross,
        net_area: net,
        ties,
        lower_bound: 0,
        findings: Vec::new(),
        masonry,
        engineering,
    }
}

pub fn finding(n: usize, at: Point) -> Finding {
    Finding {
        rule: Rule::ALL[n % 8],
        severity: if n % 3 == 2 { Severity::Note } else { Severity::Breach },
        message: format!(
            "no tie within 225 mm of the left jamb of W{n} between 900 and 1350: the nearest stands 310 mm off, \
             because the keep-out 'Meter box' takes the place"
        ),
        at,
        measured: Some(310.0),
        required: Some(225.0),
        source: Source::common_practice(),
    }
}

fn rect(name: &str, x: f64, y: f64, w: f64, h: f64) -> Opening {
    Opening { name: name.into(), shape: Shape::Rect { x, y, w, h } }
}

fn box_of(w: f64, h: f64) -> Vec<Point> {
    vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
}

pub fn larkspur() -> Case {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/larkspur-semi.ron");
    load(std::path::Path::new(file))
}

pub fn load(file: &std::path::Path) -> Case {
    let project = tiewright::document::file::read_checked(file).expect("the example is a project");
    let plans = project.elevations.iter().map(laid_out).collect();
    Case { project, plans }
}

pub fn gable() -> Elevation {
    let mut e = Elevation::new(
        "Gable",
        vec![(0.0, 0.0), (8200.0, 0.0), (8200.0, 5100.0), (4100.0, 8300.0), (0.0, 5100.0)],
    );
    e.sides = vec![
        SideCondition::Base,
        SideCondition::FreeEnd,
        SideCondition::Verge,
        SideCondition::Verge,
        SideCondition::Abutment,
    ];
    e.openings = vec![
        rect("W1", 1100.0, 900.0, 1200.0, 1350.0),
        rect("D1", 6300.0, 0.0, 900.0, 2100.0),
        Opening { name: "O1".into(), shape: Shape::Circle { x: 4100.0, y: 6400.0, r: 450.0 } },
        Opening {
            name: "W2".into(),
            shape: Shape::Arched { x: 1100.0, y: 3300.0, w: 1200.0, h: 900.0, rise: 600.0 },
        },
        Opening {
            name: "P1".into(),
            shape: Shape::Polygon(vec![(5600.0, 3300.0), (6500.0, 3300.0), (6050.0, 4300.0)]),
        },
    ];
    e.movement_joints = vec![MovementJoint { x: 4100.0, from: 0.0, to: 5100.0 }];
    e.keep_outs = vec![
        KeepOut {
            name: "Flue".into(),
            shape: Shape::Circle { x: 5100.0, y: 1500.0, r: 90.0 },
            clearance: 150.0,
        },
        KeepOut {
            name: "Cracked brickwork".into(),
            shape: Shape::Polygon(vec![
                (2700.0, 2400.0),
                (3500.0, 2500.0),
                (3300.0, 3900.0),
                (2900.0, 3500.0),
            ]),
            clearance: 50.0,
        },
    ];
    e.existing_ties = vec![
        ExistingTie { at: (700.0, 450.0), form: TieForm::VerticalTwist, ..ExistingTie::default() },
        ExistingTie { at: (3300.0, 450.0), form: TieForm::Unknown, ..ExistingTie::default() },
    ];
    e.pinned = vec![(4800.0, 2250.0), (7900.0, 3000.0)];
    e
}

/// Walls of unusual size: 60 m long, 40 m to the apex, of one brick, with hundreds of openings.
pub fn odd() -> Vec<(&'static str, Case)> {
    let mut terrace = Elevation::new("Terrace to the street", box_of(60_000.0, 5400.0));
    for i in 0..20 {
        let x = 700.0 + f64::from(i) * 3000.0;
        terrace.openings.push(rect(&format!("W{}", i + 1), x, 900.0, 1200.0, 1350.0));
        terrace.openings.push(rect(&format!("D{}", i + 1), x + 1650.0, 0.0, 900.0, 2100.0));
    }
    terrace.movement_joints =
        (1..5).map(|i| MovementJoint { x: f64::from(i) * 12_000.0, from: 0.0, to: 5400.0 }).collect();
    let mut tall = Elevation::new(
        "Tall gable",
        vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 33_000.0), (4500.0, 40_000.0), (0.0, 33_000.0)],
    );
    tall.openings = (0..11)
        .map(|i| rect(&format!("S{}", i + 1), 3900.0, 1200.0 + 3000.0 * f64::from(i), 1200.0, 1200.0))
        .collect();
    let tiny = Elevation::new("One brick", box_of(215.0, 225.0));
    let mut pierced = Elevation::new("Pierced", box_of(24_000.0, 9000.0));
    for i in 0..300 {
        let (column, row) = (i % 30, i / 30);
        pierced.openings.push(rect(
            &format!("H{}", i + 1),
            200.0 + 795.0 * f64::from(column),
            300.0 + 870.0 * f64::from(row),
            300.0,
            300.0,
        ));
    }
    [("terrace", terrace), ("tall", tall), ("tiny", tiny), ("pierced", pierced)]
        .map(|(name, e)| (name, Case::of(vec![e])))
        .to_vec()
}

/// Elevations that strain the drawing in one way each.
pub fn strained() -> Vec<(&'static str, Case)> {
    let mut long = Elevation::new("Long wall to the service yard", box_of(30_000.0, 6000.0));
    for i in 0..12 {
        let x = 900.0 + f64::from(i) * 2400.0;
        long.openings.push(rect(&format!("W{}", i + 1), x, 900.0, 1210.0, 1350.0));
        long.openings.push(rect(&format!("W{}", i + 13), x + 75.0, 3600.0, 1060.0, 1200.0));
    }
    let mut small = Elevation::new("Pier", box_of(600.0, 600.0));
    small.coursing.fix = Fix::BrickFace;
    let mut arched = Elevation::new("Arcade", box_of(9000.0, 4200.0));
    for i in 0..5 {
        let x = 600.0 + f64::from(i) * 1700.0;
        arched.openings.push(Opening {
            name: format!("A{}", i + 1),
            shape: Shape::Arched { x, y: 0.0, w: 1100.0, h: 2000.0, rise: 550.0 },
        });
    }
    arched.sides =
        vec![SideCondition::Base, SideCondition::Joint, SideCondition::Eaves, SideCondition::FreeEnd];
    let mut pinned = Elevation::new("As built", box_of(12_000.0, 6000.0));
    pinned.automatic = false;
    for i in 0..540 {
        let (c, r) = (i % 36, i / 36);
        pinned.pinned.push((200.0 + 320.0 * f64::from(c), 150.0 + 390.0 * f64::from(r) + f64::from(c % 7)));
    }
    pinned.pinned.push((-40_000.0, 900.0));
    let name =
        "A very long name for the elevation that faces the lane behind the former maltings, north-east part";
    let mut named = gable();
    named.name = name.into();
    for o in &mut named.openings {
        o.name = format!("{} to the upper landing of the second staircase", o.name);
    }
    for k in &mut named.keep_outs {
        k.name = "Unmarked conduit, depth unknown, to be traced before any drilling".into();
    }
    named.rules = RuleChoice::Custom(CustomRules {
        name: "Site rules of the consulting engineer for all of the north-eastern elevations".into(),
        source: "engineer's letter of 3 May, with the appendix on piers and the sketch of the parapet".into(),
        ..CustomRules::default()
    });
    let mut long_names = Case::of(vec![named]);
    long_names.project.title = name.repeat(3);
    long_names.project.site = name.repeat(2);
    long_names.project.client = name.into();
    long_names.project.drawn_by = name.into();
    long_names.project.reference = "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW".into();
    long_names.project.notes = vec![name.repeat(8), "x".repeat(400), "a\tb\nc \u{13080}".into()];
    let mut found = Case::of(vec![gable()]);
    for n in 0..60 {
        let at = (150.0 + 130.0 * n as f64, 200.0 + (n % 9) as f64 * 500.0);
        found.plans[0].findings.push(finding(n, at));
    }
    let mut stray = gable();
    stray.openings.push(rect("Far", 1e6, 1e6, 900.0, 900.0));
    stray.openings.push(rect("Half", -400.0, 2500.0, 900.0, 900.0));
    stray.openings.push(rect("", 7400.0, 2400.0, 60.0, 60.0));
    stray.movement_joints.push(MovementJoint { x: 5000.0, from: -1e7, to: 1e7 });
    stray.outline = stray.outline.iter().map(|p| (p.0 - 5000.0, p.1 + 3000.0)).collect();
    let mut many = Vec::new();
    for i in 0..40 {
        let mut e = Elevation::new(format!("Bay {}", i + 1), box_of(3000.0 + f64::from(i) * 50.0, 2700.0));
        e.coursing.fix = Fix::Anywhere;
        many.push(e);
    }
    let mut close = Elevation::new("Close rows", box_of(4000.0, 5000.0));
    close.automatic = false;
    close.coursing.fix = Fix::Anywhere;
    close.pinned = (0..160).map(|i| (100.0 + 23.0 * f64::from(i), 90.0 + 30.0 * f64::from(i))).collect();
    vec![
        ("larkspur", larkspur()),
        ("gable", Case::of(vec![gable()])),
        ("long", Case::of(vec![long])),
        ("small", Case::of(vec![small])),
        ("arched", Case::of(vec![arched])),
        ("pinned", Case::of(vec![pinned])),
        ("long_names", long_names),
        ("findings", found),
        ("stray", Case::of(vec![stray])),
        ("many", Case::of(many)),
        ("close", Case::of(vec![close])),
        ("none", Case::of(Vec::new())),
    ]
}

//! Random elevations on which a compliant layout exists, from fixed seeds.

use layout_core::elevation::{
    Coursing, CustomEdges, CustomRules, Elevation, ExistingTie, Fix, KeepOut, MovementJoint, Opening,
    RuleChoice, Shape, SideCondition, TieForm,
};

/// A small generator of repeatable numbers (splitmix64).
pub struct Dice(u64);

impl Dice {
    /// Starts from a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x51AB_0C7D)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from `lo` to `hi`, both included.
    pub fn whole(&mut self, lo: i64, hi: i64) -> i64 {
        lo + (self.bits() % (hi - lo + 1) as u64) as i64
    }

    /// A multiple of `step` from `lo` to `hi`.
    pub fn step(&mut self, lo: f64, hi: f64, step: f64) -> f64 {
        lo + self.whole(0, ((hi - lo) / step).floor() as i64) as f64 * step
    }

    /// True `percent` times of a hundred.
    pub fn chance(&mut self, percent: i64) -> bool {
        self.whole(1, 100) <= percent
    }

    /// One of several.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.whole(0, of.len() as i64 - 1) as usize]
    }
}

/// Kinds of wall that are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Plain rectangle.
    Plain,
    /// Gable, its apex anywhere.
    Gable,
    /// L or step.
    Stepped,
    /// Storeys of like windows.
    Windows,
    /// Arched and round openings.
    Arches,
    /// Narrow piers between openings, from 215 mm.
    Piers,
    /// Movement joints.
    Joints,
    /// Free ends and joints at the sides.
    FreeEnds,
    /// Keep-outs between windows.
    KeepOuts,
    /// Old ties on a pattern.
    OldTies,
}

/// All kinds.
pub const FAMILIES: [Family; 10] = [
    Family::Plain,
    Family::Gable,
    Family::Stepped,
    Family::Windows,
    Family::Arches,
    Family::Piers,
    Family::Joints,
    Family::FreeEnds,
    Family::KeepOuts,
    Family::OldTies,
];

/// Gauges that are tried, mm: metric, imperial, US modular, Australian, US queen.
pub const GAUGES: [f64; 5] = [75.0, 76.2, 82.55, 86.0, 67.7];

/// A random elevation of a kind.
#[must_use]
pub fn wall(family: Family, seed: u64) -> Elevation {
    let mut d = Dice::new(seed ^ ((family as u64) << 40));
    let gauge = d.pick(&GAUGES);
    let w = d.step(1800.0, 12_000.0, 75.0);
    let h = d.step(1500.0, 7500.0, 75.0);
    let mut e = Elevation::new(format!("{family:?} {seed}"), rectangle(w, h));
    let first_bed = d.pick(&[0.0, 0.0, 10.0, -30.0]);
    e.coursing = Coursing { gauge, first_bed, fix: Fix::BedJoint, ..Coursing::default() };
    if d.chance(10) {
        e.coursing.fix = Fix::BrickFace;
    } else if d.chance(8) {
        e.coursing.fix = Fix::Anywhere;
    }
    match family {
        Family::Plain => {}
        Family::Gable => gable(&mut e, &mut d, w, h),
        Family::Stepped => stepped(&mut e, &mut d, w, h),
        Family::Windows => windows(&mut e, &mut d, w, h, false),
        Family::Arches => windows(&mut e, &mut d, w, h, true),
        Family::Piers => piers(&mut e, &mut d, w, h),
        Family::Joints => joints(&mut e, &mut d, w, h),
        Family::FreeEnds => free_ends(&mut e, &mut d, w, h),
        Family::KeepOuts => keep_outs(&mut e, &mut d, w, h),
        Family::OldTies => old_ties(&mut e, &mut d, w, h),
    }
    rules(&mut e, &mut d);
    e
}

fn rectangle(w: f64, h: f64) -> Vec<(f64, f64)> {
    vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
}

fn rules(e: &mut Elevation, d: &mut Dice) {
    e.rules = match d.whole(1, 10) {
        1..=5 => return,
        6 => RuleChoice::Named("uk-thin-leaf".to_owned()),
        7 => RuleChoice::Named("uk-older-wide-cavity".to_owned()),
        8 => RuleChoice::Named("ec6-uk-annex".to_owned()),
        9 => RuleChoice::Named("us-irc-2018".to_owned()),
        _ => RuleChoice::Custom(CustomRules {
            horizontal: d.pick(&[600.0, 750.0, 900.0]),
            vertical: d.pick(&[300.0, 450.0, 600.0]),
            per_m2: d.pick(&[0.0, 2.5, 5.0]),
            edges: d
                .chance(80)
                .then_some(CustomEdges { spacing: d.pick(&[225.0, 300.0, 450.0]), ..CustomEdges::default() }),
            ..CustomRules::default()
        }),
    };
}

fn gable(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    let eaves = d.step(0.0, h - 900.0, 75.0);
    let apex = (w * d.step(0.2, 0.8, 0.05)).round();
    let rise = (apex.min(w - apex) * d.step(0.6, 1.3, 0.1)).round().max(600.0);
    e.outline = if eaves > 300.0 {
        vec![(0.0, 0.0), (w, 0.0), (w, eaves), (apex, eaves + rise), (0.0, eaves)]
    } else {
        vec![(0.0, 0.0), (w, 0.0), (apex, rise)]
    };
    if eaves > 2400.0 && w > 3000.0 && d.chance(60) {
        let ww = d.step(600.0, 1200.0, 75.0);
        let x = d.step(600.0, w - ww - 600.0, 25.0);
        e.openings.push(rect("W1", x, 900.0, ww, 1200.0));
    }
}

fn stepped(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    let x = d.step(600.0, w - 600.0, 25.0);
    let y = d.step(600.0, h - 600.0, 25.0);
    e.outline = if d.chance(50) {
        vec![(0.0, 0.0), (w, 0.0), (w, y), (x, y), (x, h), (0.0, h)]
    } else {
        // The ground steps.
        vec![(0.0, 0.0), (x, 0.0), (x, y), (w, y), (w, h), (0.0, h)]
    };
    if d.chance(30) {
        e.outline.reverse();
    }
}

fn rect(name: &str, x: f64, y: f64, w: f64, h: f64) -> Opening {
    Opening { name: name.to_owned(), shape: Shape::Rect { x, y, w, h } }
}

/// Storeys 2550 high of windows, or doors below; masonry between them is 450 or more wide and 450 high.
fn windows(e: &mut Elevation, d: &mut Dice, w: f64, h: f64, arched: bool) {
    let ww = d.step(525.0, 1800.0, 75.0).min(w - 900.0);
    let pier = d.step(450.0, 1500.0, 25.0);
    let count = ((w - 450.0) / (ww + pier)).floor().max(1.0);
    let left = ((w - count * ww - (count - 1.0) * pier) / 2.0).floor();
    let mut n = 0;
    let mut floor = 0.0;
    while floor + 2550.0 <= h.max(2550.0) && floor < 7000.0 {
        if floor + 2550.0 > h {
            break;
        }
        let sill = d.step(600.0, 1050.0, 25.0);
        let head = d.step(900.0, 1200.0, 25.0);
        for i in 0..count as i64 {
            n += 1;
            let x = left + i as f64 * (ww + pier);
            let door = floor == 0.0 && i == 0 && d.chance(40);
            let (y, hh) = if door { (0.0, 2100.0) } else { (floor + sill, head) };
            let name = format!("{}{n}", if door { "D" } else { "W" });
            if arched && !door && d.chance(30) {
                let r = (ww.min(hh) / 2.0).min(600.0);
                let shape = Shape::Circle { x: x + ww / 2.0, y: y + hh / 2.0, r };
                e.openings.push(Opening { name, shape });
            } else if arched {
                let rise = d.step(75.0, (ww / 2.0).min(300.0), 25.0);
                let shape = Shape::Arched { x, y, w: ww, h: hh - rise, rise };
                e.openings.push(Opening { name, shape });
            } else {
                e.openings.push(rect(&name, x, y, ww, hh));
            }
        }
        floor += 2550.0;
    }
}

fn piers(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    let mut x = d.step(450.0, 900.0, 25.0);
    let high = d.step(900.0, (h - 1050.0).clamp(900.0, 1500.0), 75.0);
    let sill = d.step(450.0, (h - high - 450.0).max(450.0), 75.0);
    if sill + high + 450.0 > h {
        return;
    }
    for n in 1..=4 {
        let ww = d.step(450.0, 1200.0, 75.0);
        if x + ww + 450.0 > w {
            break;
        }
        e.openings.push(rect(&format!("W{n}"), x, sill, ww, high));
        x += ww + d.pick(&[215.0, 225.0, 250.0, 327.5, 440.0, 552.5, 665.0]);
    }
}

fn joints(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    let pitch = d.step(1500.0, 4500.0, 75.0);
    let mut x = pitch;
    while x < w - 600.0 {
        let (from, to) = if d.chance(25) { (0.0, (h * 0.6).round()) } else { (0.0, h) };
        e.movement_joints.push(MovementJoint { x, from, to });
        x += pitch;
    }
    // Windows in the middle of the bays.
    if pitch >= 2400.0 && h >= 2400.0 {
        let mut x = 0.0;
        while x + pitch <= w {
            e.openings.push(rect("W", x + pitch / 2.0 - 450.0, 900.0, 900.0, 1050.0));
            x += pitch;
        }
    }
}

fn free_ends(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    let side = |d: &mut Dice| {
        d.pick(&[
            SideCondition::FreeEnd,
            SideCondition::Joint,
            SideCondition::Corner,
            SideCondition::Abutment,
        ])
    };
    let (right, left) = (side(d), side(d));
    let top = if d.chance(30) { SideCondition::FreeEnd } else { SideCondition::Eaves };
    e.sides = vec![SideCondition::Base, right, top, left];
    if w > 3000.0 && h > 2400.0 && d.chance(50) {
        windows(e, d, w, h, false);
    }
}

fn keep_outs(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    for n in 0..d.whole(1, 4) {
        let (kw, kh) = (d.step(75.0, 400.0, 25.0), d.step(75.0, 300.0, 25.0));
        let x = d.step(450.0, (w - kw - 450.0).max(450.0), 25.0);
        let y = d.step(300.0, (h - kh - 300.0).max(300.0), 25.0);
        let shape = if d.chance(25) {
            Shape::Circle { x, y, r: kh / 2.0 }
        } else {
            Shape::Rect { x, y, w: kw, h: kh }
        };
        e.keep_outs.push(KeepOut { name: format!("K{n}"), shape, clearance: d.pick(&[0.0, 25.0, 50.0]) });
    }
}

fn old_ties(e: &mut Elevation, d: &mut Dice, w: f64, h: f64) {
    if d.chance(50) {
        windows(e, d, w, h, false);
    }
    let (dx, dy) = (d.step(-200.0, 200.0, 25.0), d.step(-100.0, 100.0, 5.0));
    let mut y = 300.0 + dy;
    while y < h {
        let mut x = 450.0 + dx;
        while x < w {
            e.existing_ties.push(ExistingTie {
                at: (x, y),
                form: TieForm::VerticalTwist,
                ..ExistingTie::default()
            });
            x += 900.0;
        }
        y += 450.0;
    }
}

//! How long ties have to be where, and how much resin they take.
//!
//! A tie may end anywhere between the pointing of the outer face and the least embedment in the outer leaf, so a
//! length `L` will do at a cavity `c` if `outer + c + inner embedment <= L` and
//! `L <= (outer leaf - pointing) + c + (inner leaf - cover)`; on a fall the cavity is crossed on the slope.

use super::Fixing;
use crate::elevation::{Elevation, Point, Substrate};
use crate::plan::Tie;

/// Depth left at the outer face for pointing, mm. Common practice, no source.
pub const POINTING: f64 = 10.0;

/// Masonry left at the inner face, mm. Common practice, no source.
pub const COVER: f64 = 10.0;

/// Ties of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct LengthGroup {
    /// Length, mm; `None` where no length in stock will do.
    pub length: Option<f64>,
    /// Narrowest and widest cavity they cross, mm.
    pub cavity: (f64, f64),
    /// Least and greatest length that would do at all of those, mm.
    pub range: (f64, f64),
    /// Ties, by their number in the layout.
    pub ties: Vec<usize>,
    /// Why no length will do.
    pub fault: Option<String>,
    /// A place of a reading, mm.
    pub at: Point,
}

/// Lengths of an elevation's ties.
#[derive(Clone, Debug, PartialEq)]
pub struct Lengths {
    /// The fixing they are of.
    pub fixing: Fixing,
    /// Groups, the narrowest cavity first.
    pub groups: Vec<LengthGroup>,
    /// Narrowest, mean and widest cavity measured, mm.
    pub cavity: (f64, f64, f64),
    /// Resin for all ties before waste, ml; 0 where the fixing takes none.
    pub resin_ml: f64,
    /// What is wrong wherever a tie stands.
    pub faults: Vec<String>,
    /// What to mind.
    pub cautions: Vec<String>,
}

/// Resin lost in nozzles, voids and what is wiped off, as a share of what stays: common practice, no source.
const RESIN_WASTE: f64 = 0.2;

impl Lengths {
    /// Resin to order for all ties, whole ml, a fifth for waste in it.
    #[must_use]
    pub fn resin_to_order(&self) -> f64 {
        (self.resin_ml * (1.0 + RESIN_WASTE) - 1e-9).ceil()
    }
}

/// Volume between a bar and its hole over a length, ml; sizes in mm. Nothing for waste.
#[must_use]
pub fn resin_ml(hole: f64, bar: f64, length: f64) -> f64 {
    (std::f64::consts::PI / 4.0 * (hole * hole - bar * bar) * length / 1000.0).max(0.0)
}

/// The lengths of an elevation's ties; `None` where the wall or the fixing is not known, or no cavity was measured.
#[must_use]
pub fn lengths(elevation: &Elevation, fixing: &Fixing, ties: &[Tie]) -> Option<Lengths> {
    let s = elevation.substrate.as_ref()?;
    let readings: Vec<(Point, f64)> = s
        .cavities
        .iter()
        .filter(|r| r.cavity > 0.0 && r.cavity <= 2000.0)
        .map(|r| (r.at, r.cavity))
        .collect();
    if readings.is_empty() {
        return None;
    }
    let widths = || readings.iter().map(|r| r.1);
    let (narrow, wide) = widths().fold((f64::INFINITY, 0.0f64), |a, w| (a.0.min(w), a.1.max(w)));
    let mean = widths().sum::<f64>() / readings.len() as f64;
    let mut groups = groups(s, fixing, &readings);
    for (i, tie) in ties.iter().enumerate() {
        let near = nearest(&readings, tie.at);
        if let Some(g) = groups.iter_mut().find(|g| g.cavity.0 <= near && near <= g.cavity.1) {
            g.ties.push(i);
        }
    }
    let d = fixing.kind.data();
    let bonded =
        if d.resin.0 { fixing.embed_outer } else { 0.0 } + if d.resin.1 { fixing.embed_inner } else { 0.0 };
    Some(Lengths {
        fixing: fixing.clone(),
        groups,
        cavity: (narrow, mean, wide),
        resin_ml: resin_ml(fixing.hole, fixing.bar, bonded) * ties.len() as f64,
        faults: faults(s, fixing),
        cautions: cautions(s, readings.len(), (narrow, wide)),
    })
}

fn nearest(readings: &[(Point, f64)], at: Point) -> f64 {
    let d = |p: Point| (p.0 - at.0).hypot(p.1 - at.1);
    readings.iter().min_by(|a, b| d(a.0).total_cmp(&d(b.0))).map_or(0.0, |r| r.1)
}

/// Least and greatest length that will do at a cavity, mm.
fn range(s: &Substrate, f: &Fixing, cavity: f64) -> (f64, f64) {
    let across = if s.fall.is_finite() { cavity.hypot(s.fall) } else { cavity };
    let outer = if s.rebuilt { s.outer.thickness - COVER } else { s.outer.thickness - POINTING };
    (f.embed_outer + across + f.embed_inner, outer + across + s.inner.thickness - COVER)
}

/// Readings put together as far as one length in stock will do for them.
fn groups(s: &Substrate, f: &Fixing, readings: &[(Point, f64)]) -> Vec<LengthGroup> {
    let mut sorted = readings.to_vec();
    sorted.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut out: Vec<LengthGroup> = Vec::new();
    for (at, cavity) in sorted {
        let own = range(s, f, cavity);
        if let Some(g) = out.last_mut() {
            let both = (g.range.0.max(own.0), g.range.1.min(own.1));
            let same = cavity <= g.cavity.1;
            if same || (g.length.is_some() && stock(f, both).is_some()) {
                g.cavity.1 = g.cavity.1.max(cavity);
                if !same {
                    g.range = both;
                    g.length = stock(f, both);
                }
                continue;
            }
        }
        let length = stock(f, own);
        let fault = length.is_none().then(|| fault(f, own, cavity));
        out.push(LengthGroup { length, cavity: (cavity, cavity), range: own, ties: Vec::new(), fault, at });
    }
    out
}

/// The shortest length in stock within limits.
fn stock(f: &Fixing, (least, most): (f64, f64)) -> Option<f64> {
    f.lengths.iter().copied().find(|&l| l >= least - 1e-6 && l <= most + 1e-6)
}

fn fault(f: &Fixing, (least, most): (f64, f64), cavity: f64) -> String {
    let longest = f.lengths.last().copied().unwrap_or(0.0);
    if longest < least {
        return format!(
            "too short: the longest in stock is {longest:.0} mm and a cavity of {cavity:.0} mm needs {least:.0} mm at least"
        );
    }
    let next = f.lengths.iter().copied().find(|&l| l >= least).unwrap_or(longest);
    format!(
        "through the inner face: at a cavity of {cavity:.0} mm the shortest with its embedment is {next:.0} mm, and {most:.0} mm is the most that stays in the leaf"
    )
}

fn faults(s: &Substrate, f: &Fixing) -> Vec<String> {
    let mut out = Vec::new();
    let room = [
        ("outer", s.outer.thickness - POINTING, f.embed_outer),
        ("inner", s.inner.thickness - COVER, f.embed_inner),
    ];
    for (name, has, needs) in room {
        if has < needs {
            out.push(format!(
                "the {name} leaf leaves {has:.0} mm for the tie, and {needs:.0} mm is its least embedment there"
            ));
        }
    }
    if s.fall < 0.0 {
        out.push("the tie falls inwards: water runs along it to the inner leaf; it has to be level or fall outwards".to_owned());
    }
    out
}

fn cautions(s: &Substrate, readings: usize, (narrow, wide): (f64, f64)) -> Vec<String> {
    let mut out = Vec::new();
    if readings < 3 {
        out.push(format!(
            "The cavity was measured at {readings} {}: measure at more, low and high, left and right.",
            if readings == 1 { "place" } else { "places" }
        ));
    }
    if wide - narrow > 25.0 {
        out.push(format!(
            "The cavity varies by {:.0} mm: look for a leaf out of plumb, and measure where lengths change.",
            wide - narrow
        ));
    }
    if s.outer.render > 0.0 {
        out.push(format!(
            "Holes pass {:.0} mm of render first: lengths are from the face of the brick.",
            s.outer.render
        ));
    }
    out.push(format!("{POINTING:.0} mm for pointing and {COVER:.0} mm of cover at the inner face: common practice, no source."));
    out
}

#[cfg(test)]
mod tests {
    use super::super::Kind;
    use super::*;
    use crate::elevation::CavityReading;
    use crate::plan::Role;

    #[test]
    fn resin_by_geometry() {
        // Check value 22: 10 mm hole, 6 mm bar, 70 mm: 3.52; 12/8/70: 4.40; 8/6/60: 1.32 ml.
        for (hole, bar, length, expect) in
            [(10.0, 6.0, 70.0, 3.52), (12.0, 8.0, 70.0, 4.40), (8.0, 6.0, 60.0, 1.32)]
        {
            assert!((resin_ml(hole, bar, length) - expect).abs() < 0.01, "{hole}/{bar}/{length}");
        }
    }

    fn wall(cavities: &[(f64, f64)]) -> Elevation {
        let mut e = Elevation::new("W", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 900.0), (0.0, 900.0)]);
        let cavities = cavities.iter().map(|&(x, cavity)| CavityReading { at: (x, 450.0), cavity }).collect();
        e.substrate = Some(Substrate { cavities, ..Substrate::default() });
        e
    }

    fn ties() -> Vec<Tie> {
        let at = |i: usize| (450.0 + 900.0 * i as f64, 450.0);
        (0..10)
            .map(|i| Tie {
                mark: format!("F{i}"),
                at: at(i),
                role: Role::Field,
                pinned: false,
                locked: false,
            })
            .collect()
    }

    #[track_caller]
    fn case(cavities: &[(f64, f64)], expect: &[(Option<f64>, usize)]) -> Lengths {
        let l = lengths(&wall(cavities), &Fixing::of(Kind::ResinBonded), &ties()).expect("measured");
        let got: Vec<(Option<f64>, usize)> = l.groups.iter().map(|g| (g.length, g.ties.len())).collect();
        assert_eq!(got, expect);
        l
    }

    #[test]
    fn one_length_where_the_cavity_allows() {
        // Leaves of 102.5; embedments 60 and 70. Cavity 50: 180 to 235; 60: 190 to 245; 65: 195 to 250: 200 does.
        let l = case(&[(0.0, 50.0), (4500.0, 60.0), (9000.0, 65.0)], &[(Some(200.0), 10)]);
        assert_eq!(l.cavity.0, 50.0);
        // Two leaves of resin, 130 mm of a 10 mm hole round a 6 mm bar: 6.535 ml a tie.
        assert!((l.resin_ml - 65.35).abs() < 0.01);
        // 65.35 x 1.2 = 78.4, in whole ml.
        assert_eq!(l.resin_to_order(), 79.0);
    }

    #[test]
    fn a_varying_cavity_takes_two() {
        // 50: 180 to 235, 200 does; 110: 240 to 295: 250. Ties to the left of the middle are nearer the first.
        case(&[(0.0, 50.0), (9000.0, 110.0)], &[(Some(200.0), 5), (Some(250.0), 5)]);
    }

    #[test]
    fn too_wide_a_cavity_is_said() {
        // 60 + 250 + 70 = 380, and 350 is the longest.
        let l = case(&[(0.0, 250.0)], &[(None, 10)]);
        assert!(l.groups[0].fault.as_ref().is_some_and(|f| f.starts_with("too short")));
    }

    #[test]
    fn a_thin_inner_leaf_is_gone_through() {
        let mut e = wall(&[(0.0, 60.0)]);
        if let Some(s) = &mut e.substrate {
            s.inner.thickness = 75.0;
        }
        // At most 92.5 + 60 + 65 = 217.5, at least 190: 200 does, yet 65 is less than the embedment of 70.
        let l = lengths(&e, &Fixing::of(Kind::ResinBonded), &ties()).expect("measured");
        assert_eq!(l.faults.len(), 1);
        // With lengths of 225 alone the tie comes through.
        let fixing = Fixing { lengths: vec![225.0], ..Fixing::of(Kind::ResinBonded) };
        let l = lengths(&e, &fixing, &ties()).expect("measured");
        assert!(l.groups[0].fault.as_ref().is_some_and(|f| f.starts_with("through the inner face")));
    }
}

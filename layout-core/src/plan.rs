//! The whole job for one elevation: validate, set out, check, count.

use crate::bound::lower_bound;
use crate::check::{Counted, Finding, Severity, examine, notes};
use crate::elevation::{Elevation, Fault, FaultKind, Point, validate};
use crate::engineering::Engineering;
use crate::many::each;
use crate::marking::{Marking, marking};
use crate::masonry::{EdgeKind, Masonry};
use crate::rules::{RuleSet, resolve};
use crate::setting_out::{Placed, set_out};
use crate::units::{DISTANCE_TOLERANCE, EPSILON, m2};
use std::fmt::Write as _;

/// A new tie with its place in the schedule.
#[derive(Clone, Debug, PartialEq)]
pub struct Tie {
    /// Mark on the drawing, unique in its elevation: a letter for the role and a number ("J12").
    pub mark: String,
    /// Where it goes, mm.
    pub at: Point,
    /// Which edge it counts for, if any.
    pub role: Role,
    /// Whether the user fixed it in place.
    pub pinned: bool,
    /// Whether it stays because its area is locked.
    pub locked: bool,
}

/// Which edge a tie counts for under the edge rule; the first that matches, in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Counts for a verge.
    Verge,
    /// Counts for a movement joint.
    Joint,
    /// Counts for a free end.
    FreeEnd,
    /// Counts for a jamb of an opening.
    Jamb,
    /// Counts for no edge.
    Field,
}

impl Role {
    /// All roles, in order of precedence.
    pub const ALL: [Self; 5] = [Self::Verge, Self::Joint, Self::FreeEnd, Self::Jamb, Self::Field];

    /// The name in results.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Verge => "verge",
            Self::Joint => "joint",
            Self::FreeEnd => "free_end",
            Self::Jamb => "jamb",
            Self::Field => "field",
        }
    }

    /// The name a person reads.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Verge => "verge",
            Self::Joint => "movement joint",
            Self::FreeEnd => "free end",
            Self::Jamb => "jamb",
            Self::Field => "field",
        }
    }

    /// The letter its marks begin with.
    #[must_use]
    pub fn letter(self) -> char {
        match self {
            Self::Verge => 'V',
            Self::Joint => 'M',
            Self::FreeEnd => 'E',
            Self::Jamb => 'J',
            Self::Field => 'F',
        }
    }
}

/// A checked layout of one elevation.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The rules it was set out and checked by.
    pub rules: RuleSet,
    /// Area inside the outline, m2.
    pub gross_area: f64,
    /// Area of masonry, m2.
    pub net_area: f64,
    /// Every tie, row by row from below, each row from the left.
    pub ties: Vec<Tie>,
    /// The fewest ties any layout without breach can have: see [`crate::bound`]. Where the rules cannot
    /// all be met, no more than the layout's own number.
    pub lower_bound: usize,
    /// How easy it is to mark out.
    pub marking: Marking,
    /// What the checker found, breaches first.
    pub findings: Vec<Finding>,
    /// The masonry as rings: outer rings anticlockwise, holes clockwise, mm.
    pub masonry: Vec<Vec<Point>>,
    /// Wind, fixing, lengths and tests, where the elevation has their data.
    pub engineering: Engineering,
}

impl Plan {
    /// Area of openings inside the outline, m2.
    #[must_use]
    pub fn opening_area(&self) -> f64 {
        (self.gross_area - self.net_area).max(0.0)
    }

    /// Ties per m2 of masonry; 0 where there is no masonry.
    #[must_use]
    pub fn density(&self) -> f64 {
        if self.net_area > 0.0 { self.ties.len() as f64 / self.net_area } else { 0.0 }
    }

    /// Number of ties of a role.
    #[must_use]
    pub fn count(&self, role: Role) -> usize {
        self.ties.iter().filter(|t| t.role == role).count()
    }

    /// The distinct heights ties stand at, from below, mm.
    #[must_use]
    pub fn row_heights(&self) -> Vec<f64> {
        let mut ys: Vec<f64> = self.ties.iter().map(|t| t.at.1).collect();
        ys.sort_by(f64::total_cmp);
        ys.dedup_by(|a, b| (*a - *b).abs() < crate::units::COURSING_TOLERANCE);
        ys
    }

    /// Whether any rule is broken.
    #[must_use]
    pub fn has_breach(&self) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Breach)
    }
}

/// Sets out and checks an elevation.
///
/// # Errors
///
/// The faults that make the drawing unusable, with any notes beside them.
pub fn plan(elevation: &Elevation) -> Result<Plan, Vec<Fault>> {
    let faults = validate(elevation);
    if faults.iter().any(|f| f.kind == FaultKind::Unusable) {
        return Err(faults);
    }
    let rules = resolve(&elevation.rules).map_err(|_| faults.clone())?;
    let masonry = Masonry::new(elevation);
    let (((mut findings, ties), marking), bound) = rayon::join(
        || {
            let placed = set_out(elevation, &masonry, &rules);
            let points: Vec<Point> = placed.iter().map(|p| p.at).collect();
            let schedule =
                |counted: &[Counted]| marked(elevation, &placed, &roles(placed.len(), counted, &rules));
            rayon::join(
                || examine(elevation, &masonry, &rules, &points, schedule),
                || marking(elevation, &masonry.rings, &rules, &points),
            )
        },
        || lower_bound(elevation, &masonry, &rules),
    );
    findings.extend(notes(&faults));
    let engineering = Engineering::of(elevation, &rules, &ties);
    findings.extend(engineering.findings(elevation));
    findings.sort_by_key(|f| f.severity);
    let broken = findings.iter().any(|f| f.severity == Severity::Breach);
    Ok(Plan {
        lower_bound: if broken { bound.min(ties.len()) } else { bound },
        gross_area: m2(masonry.gross_area),
        net_area: m2(masonry.net_area),
        ties,
        marking,
        findings,
        rules,
        masonry: masonry.rings,
        engineering,
    })
}

/// The role of each tie: the first kind of edge it counts for.
fn roles(ties: usize, counted: &[Counted], rules: &RuleSet) -> Vec<Role> {
    let mut roles = vec![Role::Field; ties];
    let Some(rule) = &rules.edges else { return roles };
    let within = rule.within.value + DISTANCE_TOLERANCE;
    for edge in counted {
        let role = match edge.kind {
            EdgeKind::Verge => Role::Verge,
            EdgeKind::Joint => Role::Joint,
            EdgeKind::FreeEnd => Role::FreeEnd,
            EdgeKind::Jamb | EdgeKind::Head => Role::Jamb,
            // No role of their own.
            EdgeKind::Corner | EdgeKind::Top => continue,
        };
        for &(tie, _) in edge.ties.iter().filter(|(_, distance)| *distance <= within) {
            roles[tie as usize] = roles[tie as usize].min(role);
        }
    }
    roles
}

/// The ties with their marks: of each role numbered from 1, in order.
fn marked(elevation: &Elevation, placed: &[Placed], roles: &[Role]) -> Vec<Tie> {
    let by_height = |mut ties: Vec<Point>| {
        ties.sort_by(|a, b| a.1.total_cmp(&b.1));
        ties
    };
    let pinned = by_height(elevation.pinned.clone());
    let locked = by_height(elevation.locked.iter().flat_map(|l| l.ties.iter().copied()).collect());
    let listed = |list: &[Point], p: Point| {
        let from = list.partition_point(|q| q.1 < p.1 - EPSILON);
        list[from..].iter().take_while(|q| q.1 <= p.1 + EPSILON).any(|q| (q.0 - p.0).abs() <= EPSILON)
    };
    let mut counts = [0usize; Role::ALL.len()];
    let mut number = |role: Role| {
        counts[role as usize] += 1;
        counts[role as usize]
    };
    let numbers: Vec<usize> = roles.iter().map(|&r| number(r)).collect();
    each(placed.len(), |i| {
        let (p, role) = (placed[i], roles[i]);
        let locked = p.pinned && listed(&locked, p.at);
        let pinned = p.pinned && (!locked || listed(&pinned, p.at));
        let mut mark = String::with_capacity(8);
        mark.push(role.letter());
        // Writing to a text cannot fail.
        let _ = write!(mark, "{}", numbers[i]);
        Tie { mark, at: p.at, role, pinned, locked }
    })
}

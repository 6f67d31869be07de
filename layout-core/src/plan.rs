//! The whole job for one elevation: validate, set out, check, count.

use crate::check::Finding;
use crate::elevation::{Elevation, Fault, Point};
use crate::rules::RuleSet;

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
    /// What the checker found, breaches first.
    pub findings: Vec<Finding>,
    /// The masonry as rings: outer rings anticlockwise, holes clockwise, mm.
    pub masonry: Vec<Vec<Point>>,
}

impl Plan {
    /// Area of openings inside the outline, m2.
    #[must_use]
    pub fn opening_area(&self) -> f64 {
        self.gross_area - self.net_area
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
        self.findings.iter().any(|f| f.severity == crate::check::Severity::Breach)
    }
}

/// Sets out and checks an elevation.
///
/// # Errors
///
/// The faults that make the drawing unusable, with any notes beside them.
pub fn plan(elevation: &Elevation) -> Result<Plan, Vec<Fault>> {
    use crate::elevation::{FaultKind, shape_ring, validate};
    let faults = validate(elevation);
    if faults.iter().any(|f| f.kind == FaultKind::Unusable) {
        return Err(faults);
    }
    let area = |r: &[Point]| {
        (0..r.len()).map(|i| (r[i], r[(i + 1) % r.len()])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>()
            / 2.0
    };
    let gross = area(&elevation.outline).abs() / 1e6;
    let holes: Vec<Vec<Point>> = elevation.openings.iter().map(|o| shape_ring(&o.shape)).collect();
    let net = gross - holes.iter().map(|h| area(h).abs() / 1e6).sum::<f64>();
    let inside = |ring: &[Point], (x, y): Point| {
        let n = ring.len();
        (0..n)
            .filter(|&i| {
                let (a, b) = (ring[i], ring[(i + 1) % n]);
                (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)
            })
            .count()
            % 2
            == 1
    };
    let mut ties = Vec::new();
    for row in 0..40 {
        for col in 0..60 {
            let at = (f64::from(col) * 450.0 + 225.0, f64::from(row) * 225.0 + 225.0);
            if (row + col) % 2 == 0 && inside(&elevation.outline, at) && !holes.iter().any(|h| inside(h, at))
            {
                let role = [Role::Field, Role::Jamb, Role::Field, Role::Verge, Role::FreeEnd, Role::Joint]
                    [(ties.len() / 7) % 6];
                ties.push(Tie {
                    mark: format!("{}{}", role.letter(), ties.len() + 1),
                    at,
                    role,
                    pinned: false,
                });
            }
        }
    }
    let mut masonry = vec![elevation.outline.clone()];
    masonry.extend(holes);
    let rules = crate::rules::resolve(&elevation.rules).map_err(|_| faults)?;
    Ok(Plan { rules, gross_area: gross, net_area: net, ties, findings: Vec::new(), masonry })
}

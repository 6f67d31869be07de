//! Rule 1: every part of the masonry is served by some tie.
//!
//! A tie serves the connected piece of masonry about it within half the spacing each way. The masonry is
//! a set of trapezoids; within one of them, a tie that serves it serves the whole width within its reach.
//! So in each trapezoid, between the heights where some tie's reach begins or ends, what is unserved are
//! the gaps between intervals on a line: exact, with nothing sampled. Gaps that touch are put together,
//! and a piece in which no square of 4 mm fits is ignored. Wide walls are looked at bay by bay.

use super::gaps::{Piece, pieces, within};
use super::place::mm;
use super::reason::{Wanted, reason};
use super::served::{Reach, gaps_in_bay, serves};
use super::{Finding, Rule, Severity, Subject};
use crate::demand::Part;
use crate::elevation::Point;
use crate::many::{each_large, gather};
use crate::units::{SLIVER, m2};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    for part in &s.parts {
        check_part(s, part, out);
    }
}

/// Half the spacing of a part.
pub(super) fn reach_of(part: &Part) -> Reach {
    Reach { h: part.horizontal / 2.0, v: part.vertical / 2.0 }
}

/// What no tie serves in a part of the elevation, at its own spacing, slivers included.
pub(super) fn open(s: &Subject<'_>, part: &Part) -> Vec<Piece> {
    let reach = reach_of(part);
    let bays = &s.masonry.bays;
    let mut near: Vec<Vec<Point>> = vec![Vec::new(); bays.bays.len()];
    for (&tie, stand) in s.ties.iter().zip(&s.stands) {
        if stand.holds && tie.0 > part.x.0 - reach.h && tie.0 < part.x.1 + reach.h {
            for bay in &mut near[bays.bay_at(tie.0 - reach.h)..=bays.bay_at(tie.0 + reach.h)] {
                bay.push(tie);
            }
        }
    }
    let first = bays.bay_at(part.x.0);
    let last = bays.bay_at(part.x.1).min(near.len().saturating_sub(1));
    let count = (last + 1).saturating_sub(first);
    let gaps = each_large(count, |i| gaps_in_bay(bays, first + i, &near[first + i], reach));
    let mut gaps = gaps.concat();
    if s.parts.len() > 1 {
        gaps = within(&gaps, part.x, part.y);
    }
    pieces(gaps, &bays.cuts)
}

fn check_part(s: &Subject<'_>, part: &Part, out: &mut Vec<Finding>) {
    let pieces = open(s, part);
    // Words take long to find: where a piece lies, and why.
    out.extend(gather(pieces.len(), |some| {
        pieces[some].iter().filter(|p| p.takes_square(SLIVER)).map(|p| finding(s, part, p)).collect()
    }));
}

fn finding(s: &Subject<'_>, part: &Part, piece: &Piece) -> Finding {
    let (lo, hi) = piece.bounds();
    let area = m2(piece.area());
    let (h, v) = (part.horizontal, part.vertical);
    let zone =
        if part.per_m2 > 0.0 { format!(", as the wind asks in {}", part.words()) } else { String::new() };
    let (place, reach) = (piece.place(), reach_of(part));
    let serves = |p: Point| serves(&s.masonry.bays, p, place, reach);
    let wanted = Wanted { about: place, reach: (reach.h, reach.v), serves: &serves };
    let why = reason(s, &wanted).map_or_else(String::new, |r| format!(": {r}"));
    Finding {
        rule: Rule::Coverage,
        severity: Severity::Breach,
        message: format!(
            "{area:.4} m² of masonry between x {} and {}, y {} and {} mm is served by no tie at {} x {} mm{zone}{why}",
            mm(lo.0),
            mm(hi.0),
            mm(lo.1),
            mm(hi.1),
            mm(h),
            mm(v)
        ),
        at: place,
        measured: Some(area),
        required: Some(0.0),
        source: if part.per_m2 > 0.0 { part.source() } else { s.rules.horizontal.source.clone() },
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, found, passes, wall};
    use super::*;
    use crate::elevation::{Elevation, MovementJoint, Opening, Shape};

    const GRID: [Point; 4] = [(450., 225.), (1350., 225.), (450., 675.), (1350., 675.)];

    #[test]
    fn the_plain_grid_serves_the_plain_wall() {
        passes(Rule::Coverage, &wall(), &GRID);
    }

    #[test]
    fn a_missing_tie_is_found_with_its_area() {
        let f = broken(Rule::Coverage, &wall(), &GRID[1..]);
        // 900 x 450 mm.
        assert!((f.measured.unwrap_or(0.) - 0.405).abs() < 1e-9);
        assert_eq!(f.at, (450., 225.));
    }

    #[test]
    fn no_ties_leave_the_whole_wall() {
        let f = broken(Rule::Coverage, &wall(), &[]);
        assert!((f.measured.unwrap_or(0.) - 1.62).abs() < 1e-9);
    }

    #[test]
    fn a_gap_of_three_is_ignored_and_one_of_five_is_not() {
        let shifted = |d: f64| [(450. - d, 225.), (1350., 225.), (450. - d, 675.), (1350., 675.)];
        passes(Rule::Coverage, &wall(), &shifted(3.));
        broken(Rule::Coverage, &wall(), &shifted(5.));
    }

    #[test]
    fn a_staggered_pattern_serves_too() {
        let ties = [(450., 225.), (1350., 225.), (75., 675.), (900., 675.), (1725., 675.)];
        passes(Rule::Coverage, &wall(), &ties);
    }

    #[test]
    fn nothing_is_served_across_an_opening_or_a_joint() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 800., from: 0., to: 900. });
        // Without the joint the tie at 450 reaches to 900; with it, to 800, and 800 to 900 is open.
        let f = broken(Rule::Coverage, &e, &GRID);
        assert!((f.measured.unwrap_or(0.) - 0.09).abs() < 1e-9, "{f:?}");

        let mut e = wall();
        e.openings
            .push(Opening { name: "Slot".into(), shape: Shape::Rect { x: 700., y: 0., w: 100., h: 900. } });
        let f = broken(Rule::Coverage, &e, &GRID);
        assert!((f.measured.unwrap_or(0.) - 0.09).abs() < 1e-9, "{f:?}");
    }

    #[test]
    fn a_tie_serves_round_the_end_of_a_joint() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 800., from: 0., to: 300. });
        // The upper and lower tie on the left: the lower one's piece goes round the joint's top at 300,
        // within its own height of 450.
        passes(Rule::Coverage, &e, &GRID);
    }

    #[test]
    fn a_wide_wall_is_one_wall() {
        // 44 x 900 wide: three bays of 13 200. The tie at 13 050 serves 12 600 to 13 500, across a cut.
        let e = Elevation::new("Long", vec![(0., 0.), (39_600., 0.), (39_600., 450.), (0., 450.)]);
        let ties: Vec<Point> = (0..44).map(|i| (450. + 900. * f64::from(i), 225.)).collect();
        passes(Rule::Coverage, &e, &ties);
        let f = broken(Rule::Coverage, &e, &[&ties[..14], &ties[15..]].concat());
        // 900 x 450 mm, in one piece.
        assert!((f.measured.unwrap_or(0.) - 0.405).abs() < 1e-9, "{f:?}");
        // Three to either side of the cut: 6 mm in all, though 3 in each bay.
        let apart = |d: f64| -> Vec<Point> {
            ties.iter()
                .map(|t| if t.0 < 13_200. { (t.0 - 300. - d, 225.) } else { (t.0 - 300. + d, 225.) })
                .collect()
        };
        assert_eq!(found(Rule::Coverage, &e, &apart(3.)).len(), 2);
        // As far as the end of the wall, which is 303 short.
        assert_eq!(found(Rule::Coverage, &e, &apart(1.)).len(), 1);
    }

    #[test]
    fn a_gable_is_served_up_to_its_apex() {
        let e = Elevation::new("Gable", vec![(0., 0.), (900., 0.), (450., 450.)]);
        passes(Rule::Coverage, &e, &[(450., 225.)]);
        // A tie at (300, 200) reaches x 750 and y 425. Right of 750 a triangle 150 x 150 is open, above
        // 425 one 50 wide and 25 high.
        let f = found(Rule::Coverage, &e, &[(300., 200.)]);
        let areas: Vec<f64> = f.iter().filter_map(|f| f.measured).map(|a| (a * 1e9).round() / 1e9).collect();
        assert_eq!(areas, [0.01125, 0.000625]);
    }
}

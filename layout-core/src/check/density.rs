//! Rule 2: there are enough ties for the area, and where the wind asks for more, for each of its parts.

use super::{Finding, Rule, Severity, Subject};
use crate::demand::Part;
use crate::masonry::{edge_ties_on_top, fewest_ties};
use crate::units::m2;

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    out.extend(s.parts.iter().filter(|p| p.per_m2 > 0.0).filter_map(|p| part(s, p)));
    let area = m2(s.masonry.net_area);
    let fewest = fewest_ties(s.masonry, s.elevation, s.rules);
    let Some(per_m2) = s.rules.density.value.minimum() else { return };
    if s.ties.len() >= fewest {
        return;
    }
    let xs = s.elevation.outline.iter();
    let (lo, hi) = xs.fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(l, h), p| {
        ((l.0.min(p.0), l.1.min(p.1)), (h.0.max(p.0), h.1.max(p.1)))
    });
    let on_top = match edge_ties_on_top(s.masonry, s.elevation, s.rules) {
        0 => String::new(),
        n => format!(", with {n} for the edges on top,"),
    };
    let short = fewest - s.ties.len();
    let mend = if s.elevation.automatic {
        format!("no place was found for {short} more; reduce the edge distance or the distance between ties")
    } else {
        format!("place {short} more")
    };
    out.push(Finding {
        rule: Rule::Density,
        severity: Severity::Breach,
        message: format!(
            "{} ties on {area:.2} m² of masonry; at least {per_m2:.2} per m²{on_top} makes {fewest}: {mend}",
            s.ties.len()
        ),
        at: (f64::midpoint(lo.0, hi.0), f64::midpoint(lo.1, hi.1)),
        measured: Some(s.ties.len() as f64),
        required: Some(fewest as f64),
        source: s.rules.density.source.clone(),
    });
}

/// Too few ties for a part: those in it and those within half its spacing of it, which carry some of it.
fn part(s: &Subject<'_>, part: &Part) -> Option<Finding> {
    let area = m2(s.masonry.bays.area_within(part.x, part.y));
    let fewest = (part.per_m2 * area - 1e-6).ceil().max(0.0) as usize;
    let (h, v) = (part.horizontal / 2.0, part.vertical / 2.0);
    let carries =
        |t: &(f64, f64)| t.0 > part.x.0 - h && t.0 < part.x.1 + h && t.1 > part.y.0 - v && t.1 < part.y.1 + v;
    let n = s.ties.iter().zip(&s.stands).filter(|(t, stand)| carries(t) && stand.holds).count();
    if n >= fewest {
        return None;
    }
    let (lo, hi) =
        s.masonry.rings.iter().flatten().fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(l, h), p| {
            ((l.0.min(p.0), l.1.min(p.1)), (h.0.max(p.0), h.1.max(p.1)))
        });
    let middle = |(from, to): (f64, f64), lo: f64, hi: f64| f64::midpoint(from.max(lo), to.min(hi));
    Some(Finding {
        rule: Rule::Density,
        severity: Severity::Breach,
        message: format!(
            "{n} ties carry {area:.2} m² of masonry in {}; the wind asks for {:.2} per m², which makes {fewest}",
            part.words(),
            part.per_m2
        ),
        at: (middle(part.x, lo.0, hi.0), middle(part.y, lo.1, hi.1)),
        measured: Some(n as f64),
        required: Some(fewest as f64),
        source: part.source(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;
    use crate::elevation::RuleChoice;

    #[test]
    fn enough_ties_pass_and_one_fewer_does_not() {
        let mut e = wall();
        e.rules = RuleChoice::Named("ec6-uk-annex".to_owned());
        // 1.8 x 0.9 m are 1.62 m2; at 2.5 per m2 that is 4.05, so 5 ties.
        let five: Vec<(f64, f64)> = (0..5).map(|i| (200.0 + 300.0 * f64::from(i), 225.0)).collect();
        passes(Rule::Density, &e, &five);
        let f = broken(Rule::Density, &e, &five[..4]);
        assert_eq!((f.measured, f.required), (Some(4.0), Some(5.0)));
    }

    #[test]
    fn an_equivalent_is_no_minimum() {
        // Check value 14: 900 x 450 is 2.469 per m2 and passes the default set, which says 2.5.
        passes(Rule::Density, &wall(), &[(450.0, 225.0), (1350.0, 225.0), (450.0, 675.0), (1350.0, 675.0)]);
    }
}

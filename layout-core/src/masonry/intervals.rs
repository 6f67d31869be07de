//! Sets of closed intervals on a line, kept sorted and apart.

use super::Few;

/// Intervals before they are sorted: mostly there are few.
pub type Spans = Few<(f64, f64), 2>;

/// Sorted, disjoint closed intervals; an interval may be a single point.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Intervals(pub Spans);

impl Intervals {
    /// No interval at all.
    #[must_use]
    pub fn empty() -> Self {
        Self(Few::new())
    }

    /// The place nearest to another, if there is any.
    #[must_use]
    pub fn nearest(&self, x: f64) -> Option<f64> {
        let places = self.0.iter().map(|&(lo, hi)| x.clamp(lo, hi));
        places.min_by(|a, b| (a - x).abs().total_cmp(&(b - x).abs()))
    }

    /// From any intervals: sorted, those that touch joined.
    #[must_use]
    pub fn from_unsorted(v: impl IntoIterator<Item = (f64, f64)>) -> Self {
        let all = v.into_iter();
        let mut v = Spans::with_room(all.size_hint().0);
        v.extend(all.filter(|(a, b)| a <= b));
        if !v.is_sorted_by(|p, q| p.0 < q.0) {
            v.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1)));
        }
        let mut joined = 0;
        for i in 0..v.len() {
            let (a, b) = v[i];
            if joined > 0 && a <= v[joined - 1].1 {
                v[joined - 1].1 = v[joined - 1].1.max(b);
            } else {
                v[joined] = (a, b);
                joined += 1;
            }
        }
        v.truncate(joined);
        Self(v)
    }

    /// Whether there is no interval.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether a value lies in one of the intervals.
    #[must_use]
    #[inline]
    pub fn contains(&self, v: f64) -> bool {
        let i = self.0.partition_point(|p| p.1 < v);
        self.0.get(i).is_some_and(|p| p.0 <= v)
    }

    /// Both ends and the middle of each interval.
    pub fn spread(&self) -> impl Iterator<Item = f64> + '_ {
        self.0.iter().flat_map(|r| [r.0, f64::midpoint(r.0, r.1), r.1])
    }

    /// What lies within `[lo, hi]`.
    #[must_use]
    #[inline]
    pub fn clipped(&self, lo: f64, hi: f64) -> Self {
        let i = self.0.partition_point(|p| p.1 < lo);
        Self(self.0[i..].iter().take_while(|p| p.0 <= hi).map(|p| (p.0.max(lo), p.1.min(hi))).collect())
    }

    /// What is left when the *open* intervals `holes` (in any order) are taken away.
    #[must_use]
    pub fn minus(&self, holes: &[(f64, f64)]) -> Self {
        if holes.is_empty() {
            return self.clone();
        }
        self.without(&mut holes.iter().copied().collect::<Few<_, 4>>())
    }

    /// As [`Self::minus`]; the holes are sorted.
    #[must_use]
    pub fn without(&self, holes: &mut [(f64, f64)]) -> Self {
        if !holes.is_sorted_by(|p, q| p.0 <= q.0) {
            holes.sort_by(|p, q| p.0.total_cmp(&q.0));
        }
        let mut out = Few::new();
        let mut first = 0;
        for &(a, b) in &self.0 {
            // Holes that end before this interval are behind every later interval too.
            while first < holes.len() && holes[first].1 <= a && holes[first].0 < a {
                first += 1;
            }
            let mut from = a;
            let mut open = true;
            for &(h0, h1) in &holes[first..] {
                if h0 >= b {
                    break;
                }
                if h1 <= from || h1 <= h0 {
                    continue;
                }
                if h0 >= from {
                    out.push((from, h0));
                }
                from = from.max(h1);
                if from > b {
                    open = false;
                    break;
                }
            }
            if open && from <= b {
                out.push((from, b));
            }
        }
        Self(out)
    }

    /// What lies in both.
    #[must_use]
    pub fn meet(&self, other: &Self) -> Self {
        let (mut i, mut j, mut out) = (0, 0, Few::new());
        while i < self.0.len() && j < other.0.len() {
            let (a, b) = (self.0[i], other.0[j]);
            let (lo, hi) = (a.0.max(b.0), a.1.min(b.1));
            if lo <= hi {
                out.push((lo, hi));
            }
            if a.1 < b.1 { i += 1 } else { j += 1 }
        }
        Self(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn minus(set: &[(f64, f64)], holes: &[(f64, f64)], expect: &[(f64, f64)]) {
        assert_eq!(*Intervals(set.to_vec().into()).minus(holes).0, *expect);
    }

    #[test]
    fn open_holes_leave_their_ends() {
        minus(&[(0., 10.)], &[(2., 3.)], &[(0., 2.), (3., 10.)]);
        minus(&[(0., 10.)], &[(0., 3.)], &[(0., 0.), (3., 10.)]);
        minus(&[(0., 10.)], &[(-1., 5.), (5., 11.)], &[(5., 5.)]);
        minus(&[(0., 10.)], &[(-1., 11.)], &[]);
        minus(
            &[(0., 1.), (2., 3.), (4., 5.)],
            &[(0.5, 2.5), (4.2, 4.4)],
            &[(0., 0.5), (2.5, 3.), (4., 4.2), (4.4, 5.)],
        );
        minus(&[(0., 10.)], &[(1., 8.), (2., 3.)], &[(0., 1.), (8., 10.)]);
    }

    #[test]
    fn unions_and_meets() {
        assert_eq!(Intervals::from_unsorted(vec![(3., 4.), (0., 1.), (1., 2.)]).0, [(0., 2.), (3., 4.)]);
        let a = Intervals(vec![(0., 2.), (3., 6.)].into());
        let b = Intervals(vec![(1., 4.), (5., 9.)].into());
        assert_eq!(a.meet(&b).0, [(1., 2.), (3., 4.), (5., 6.)]);
        assert!(a.contains(3.0) && !a.contains(2.5));
        assert_eq!(a.clipped(1.5, 3.0).0, [(1.5, 2.0), (3.0, 3.0)]);
    }
}

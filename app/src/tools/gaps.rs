//! Equal gaps: where a thing would stand with the same pier on both sides, or the same pier as before it.

/// A block along a line: from, to, mm.
pub type Span = (f64, f64);

/// Left, lower, right and upper bound, mm.
pub type Bounds = (f64, f64, f64, f64);

/// Where the lower end of a span of this length would give equal gaps among others, near where it is.
/// `ends` are the ends of the wall.
#[must_use]
pub fn equal(at: Span, others: &[Span], ends: Span) -> Vec<f64> {
    let length = at.1 - at.0;
    let middle = (at.0 + at.1) / 2.0;
    let mut row: Vec<Span> = others.iter().copied().filter(|s| s.0 <= s.1).collect();
    row.extend([(ends.0, ends.0), (ends.1, ends.1)]);
    row.retain(|s| s.0.is_finite() && s.1.is_finite());
    row.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    let before: Vec<&Span> = row.iter().filter(|s| (s.0 + s.1) / 2.0 < middle).collect();
    let after: Vec<&Span> = row.iter().filter(|s| (s.0 + s.1) / 2.0 >= middle).collect();
    let mut places = Vec::new();
    if let (Some(l), Some(r)) = (before.last(), after.first())
        && r.0 - l.1 >= length
    {
        places.push(l.1 + (r.0 - l.1 - length) / 2.0);
    }
    if let [.., ll, l] = before.as_slice()
        && l.0 > ll.1
    {
        places.push(l.1 + (l.0 - ll.1));
    }
    if let [r, rr, ..] = after.as_slice()
        && rr.0 > r.1
    {
        places.push(r.0 - (rr.0 - r.1) - length);
    }
    places
}

/// The spans along the wall of the things that stand beside something between two heights.
#[must_use]
pub fn beside(things: &[Bounds], from: f64, to: f64) -> Vec<Span> {
    things.iter().filter(|b| b.1 < to && b.3 > from).map(|b| (b.0, b.2)).collect()
}

/// The spans up the wall of the things that stand above or below something between two places along it.
#[must_use]
pub fn above(things: &[Bounds], from: f64, to: f64) -> Vec<Span> {
    things.iter().filter(|b| b.0 < to && b.2 > from).map(|b| (b.1, b.3)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_two_and_after_two() {
        // Openings 1000-2000 and 3500-4500 on a wall of 9 m; one of 1000 is dragged near 6000.
        let others = [(1000.0, 2000.0), (3500.0, 4500.0)];
        let got = equal((6000.0, 7000.0), &others, (0.0, 9000.0));
        // In the middle between 4500 and 9000: 6250. A pier of 1500 again: 6000.
        assert_eq!(got, vec![6250.0, 6000.0]);
        // Near the left end: 1000 wide does not fit between 0 and 1000.
        let got = equal((2300.0, 3300.0), &others, (0.0, 9000.0));
        // Between 2000 and 3500; the first pier (0 to 1000) again; the pier of 4500 to the right end.
        assert_eq!(got, vec![2250.0, 3000.0, -2000.0]);
    }

    #[test]
    fn neighbours_only_count_where_they_overlap() {
        let things = [(0.0, 0.0, 100.0, 1000.0), (200.0, 2000.0, 300.0, 3000.0)];
        assert_eq!(beside(&things, 500.0, 1500.0), vec![(0.0, 100.0)]);
        assert_eq!(above(&things, 250.0, 280.0), vec![(2000.0, 3000.0)]);
    }
}

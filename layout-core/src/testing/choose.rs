//! Which ties are tested: by lot, one from each patch of the area.

use crate::elevation::Point;
use crate::plan::Tie;

/// Steele, Lea and Flood's generator (`SplitMix64`): small, the same everywhere.
struct Lots(u64);

impl Lots {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }
}

/// Draws `wanted` of the ties numbered `from`: `first` of them spread over the area, then the rest spread over
/// what is left, so that a larger number keeps those drawn before. In order of their numbers.
#[must_use]
pub fn draw(ties: &[Tie], from: &[usize], first: usize, wanted: usize, seed: u64) -> Vec<usize> {
    let mut lots = Lots(seed);
    let mut chosen = Vec::new();
    let at = |i: &usize| ties.get(*i).map_or((0.0, 0.0), |t| t.at);
    let mut left: Vec<usize> = from.iter().copied().filter(|&i| i < ties.len()).collect();
    for number in [first.min(wanted), wanted.saturating_sub(first)] {
        let number = number.min(left.len());
        if number == 0 {
            continue;
        }
        patches(&mut left.clone(), number, &at, &mut |patch| chosen.push(patch[lots.below(patch.len())]));
        left.retain(|i| !chosen.contains(i));
    }
    chosen.sort_unstable();
    chosen
}

/// Cuts ties into patches of about equal numbers, each time across the longer side.
fn patches(
    ties: &mut [usize],
    number: usize,
    at: &impl Fn(&usize) -> Point,
    each: &mut impl FnMut(&[usize]),
) {
    if ties.is_empty() {
        return;
    }
    if number <= 1 {
        each(ties);
        return;
    }
    let range = |of: fn(Point) -> f64| {
        let all = ties.iter().map(|i| of(at(i)));
        let (lo, hi) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |r, v| (r.0.min(v), r.1.max(v)));
        hi - lo
    };
    if range(|p| p.0) >= range(|p| p.1) {
        ties.sort_by(|a, b| at(a).0.total_cmp(&at(b).0).then(a.cmp(b)));
    } else {
        ties.sort_by(|a, b| at(a).1.total_cmp(&at(b).1).then(a.cmp(b)));
    }
    let lower = number / 2;
    let cut = ties.len() * lower / number;
    let (a, b) = ties.split_at_mut(cut);
    patches(a, lower, at, each);
    patches(b, number - lower, at, each);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Role;

    fn row(n: usize) -> Vec<Tie> {
        (0..n)
            .map(|i| Tie {
                mark: i.to_string(),
                at: (100.0 * i as f64, 0.0),
                role: Role::Field,
                pinned: false,
                locked: false,
            })
            .collect()
    }

    #[test]
    fn one_tie_is_drawn_from_each_patch() {
        let ties = row(40);
        let all: Vec<usize> = (0..40).collect();
        for seed in 0..50 {
            let drawn = draw(&ties, &all, 4, 4, seed);
            // 40 ties in a row in four patches of ten.
            let patches: Vec<usize> = drawn.iter().map(|i| i / 10).collect();
            assert_eq!(patches, [0, 1, 2, 3], "seed {seed}");
        }
    }

    #[test]
    fn a_seed_gives_the_same_ties_and_another_gives_others() {
        let ties = row(200);
        let all: Vec<usize> = (0..200).collect();
        assert_eq!(draw(&ties, &all, 5, 5, 7), draw(&ties, &all, 5, 5, 7));
        let different = (1..20).filter(|&s| draw(&ties, &all, 5, 5, s) != draw(&ties, &all, 5, 5, 0)).count();
        assert!(different > 15, "{different} of 19 seeds draw others");
    }

    #[test]
    fn all_ties_are_drawn_where_all_are_wanted() {
        let ties = row(9);
        let all: Vec<usize> = (0..9).collect();
        assert_eq!(draw(&ties, &all, 3, 9, 3), all);
        assert!(draw(&ties, &[], 3, 9, 3).is_empty());
    }
}

//! A small covering problem: pieces, each with the places that serve it; as few places as will do, no two
//! of them too close together.

use std::cmp::Ordering;

/// Pieces and places beyond these are too many to search.
const MOST_PIECES: usize = 128;

/// Turns of the search before it gives up.
const TURNS: u32 = 3000;

/// Places with what matters about them.
pub(super) struct Places {
    /// Where, mm.
    pub at: Vec<(f64, f64)>,
    /// The more, the sooner tried among equals.
    pub favour: Vec<usize>,
    /// No two nearer than this, mm.
    pub between: f64,
}

/// Pieces, each as the places that serve it: a bit for each place.
pub(super) struct Pieces {
    /// Words for each piece.
    words: usize,
    bits: Vec<u64>,
}

impl Pieces {
    /// None yet, for so many places.
    pub(super) fn of(places: usize) -> Self {
        Self { words: places.div_ceil(64).max(1), bits: Vec::new() }
    }

    /// Adds a piece that these places serve.
    pub(super) fn push(&mut self, places: impl Iterator<Item = usize>) {
        let start = self.bits.len();
        self.bits.resize(start + self.words, 0);
        for i in places {
            self.bits[start + i / 64] |= 1 << (i % 64);
        }
    }

    /// The pieces that are not served whenever another is, those with fewest places first; nothing where one has
    /// no place, or these are too many.
    fn least(&self) -> Option<Vec<&[u64]>> {
        let count = |p: &[u64]| p.iter().map(|w| w.count_ones()).sum::<u32>();
        let mut order: Vec<(u32, &[u64])> =
            self.bits.chunks_exact(self.words).map(|p| (count(p), p)).collect();
        order.sort_unstable_by(|p, q| p.0.cmp(&q.0).then_with(|| earlier(p.1, q.1)));
        order.dedup();
        let mut kept: Vec<&[u64]> = Vec::new();
        for (count, p) in order {
            if count == 0 {
                return None;
            }
            if !kept.iter().any(|k| k.iter().zip(p).all(|(k, p)| k & !p == 0)) {
                if kept.len() == MOST_PIECES {
                    return None;
                }
                kept.push(p);
            }
        }
        Some(kept)
    }
}

/// Of two pieces with as many places, the one comes first that has the first place the other has not.
fn earlier(p: &[u64], q: &[u64]) -> Ordering {
    let differ = p.iter().zip(q).find(|(p, q)| p != q);
    differ.map_or(Ordering::Equal, |(p, q)| q.reverse_bits().cmp(&p.reverse_bits()))
}

/// The problem, made small.
pub(super) struct Cover<'a> {
    places: &'a Places,
    /// Places left, with the pieces each serves.
    masks: Vec<(usize, u128)>,
    /// For each piece the places (in `masks`) that serve it.
    by: Vec<Vec<usize>>,
    /// For each piece those that some place serves together with it.
    with: Vec<u128>,
    all: u128,
}

impl<'a> Cover<'a> {
    /// Nothing where a piece has no place, or the problem is too large.
    pub(super) fn new(pieces: &Pieces, places: &'a Places) -> Option<Self> {
        let pieces = pieces.least()?;
        let mut masks = vec![0u128; places.at.len()];
        for (k, piece) in pieces.iter().enumerate() {
            for (i, mask) in masks.iter_mut().enumerate() {
                *mask |= u128::from(piece[i / 64] >> (i % 64) & 1) << k;
            }
        }
        let masks = largest(&masks, &places.favour);
        let by: Vec<Vec<usize>> = (0..pieces.len())
            .map(|k| (0..masks.len()).filter(|&i| masks[i].1 >> k & 1 == 1).collect())
            .collect();
        let with = by.iter().map(|b| b.iter().fold(0, |m, &i| m | masks[i].1)).collect();
        let all = if pieces.len() == MOST_PIECES { u128::MAX } else { (1 << pieces.len()) - 1 };
        Some(Self { places, masks, by, with, all })
    }

    /// So many places or fewer that serve all pieces, if there are such and they are found in time.
    pub(super) fn solve(&self, most: usize) -> Option<Vec<usize>> {
        let mut chosen = Vec::new();
        let mut turns = TURNS;
        self.search(self.all, most, &mut chosen, &mut turns)
            .then(|| chosen.iter().map(|&i| self.masks[i].0).collect())
    }

    fn search(&self, open: u128, left: usize, chosen: &mut Vec<usize>, turns: &mut u32) -> bool {
        if open == 0 {
            return true;
        }
        if left == 0 || *turns == 0 || self.apart(open) > left {
            return false;
        }
        *turns -= 1;
        let Some(piece) = bits(open).min_by_key(|&k| self.by[k].len()) else { return true };
        let mut by: Vec<usize> = self.by[piece].clone();
        by.sort_by_key(|&i| std::cmp::Reverse((self.masks[i].1 & open).count_ones()));
        for i in by {
            if left == 1 && open & !self.masks[i].1 != 0 {
                break;
            }
            if chosen.iter().any(|&c| self.too_close(c, i)) {
                continue;
            }
            chosen.push(i);
            if self.search(open & !self.masks[i].1, left - 1, chosen, turns) {
                return true;
            }
            chosen.pop();
        }
        false
    }

    /// A number of open pieces no two of which one place serves.
    fn apart(&self, open: u128) -> usize {
        let (mut left, mut count) = (open, 0);
        while left != 0 {
            let k = left.trailing_zeros() as usize;
            left &= !self.with[k];
            count += 1;
        }
        count
    }

    fn too_close(&self, a: usize, b: usize) -> bool {
        let (p, q) = (self.places.at[self.masks[a].0], self.places.at[self.masks[b].0]);
        (p.0 - q.0).hypot(p.1 - q.1) < self.places.between
    }
}

fn bits(mut mask: u128) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (mask != 0).then(|| {
            let k = mask.trailing_zeros() as usize;
            mask &= mask - 1;
            k
        })
    })
}

/// Places that serve something and no less than another does; up to two alike, the favoured first.
fn largest(masks: &[u128], favour: &[usize]) -> Vec<(usize, u128)> {
    let mut order: Vec<usize> = (0..masks.len()).filter(|&i| masks[i] != 0).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(masks[i].count_ones()), std::cmp::Reverse(favour[i]), i));
    let mut kept: Vec<(usize, u128)> = Vec::new();
    for i in order {
        let m = masks[i];
        let alike = kept.iter().filter(|k| k.1 == m).count();
        let more = kept.iter().any(|k| k.1 != m && k.1 & m == m);
        if !more && alike < 2 {
            kept.push((i, m));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solve(pieces: &[&[usize]], at: &[(f64, f64)], between: f64, most: usize) -> Option<Vec<usize>> {
        let mut bits = Pieces::of(at.len());
        for piece in pieces {
            bits.push(piece.iter().copied());
        }
        let places = Places { at: at.to_vec(), favour: vec![0; at.len()], between };
        Cover::new(&bits, &places)?.solve(most)
    }

    const APART: [(f64, f64); 4] = [(0., 0.), (500., 0.), (1000., 0.), (1500., 0.)];

    #[test]
    fn a_greedy_choice_is_taken_back() {
        // Place 1 serves most pieces, but then two more are needed; 0 and 2 alone serve all four.
        let pieces: [&[usize]; 4] = [&[0, 1], &[1, 2], &[0, 3], &[2, 3]];
        assert_eq!(
            solve(&pieces, &APART, 100., 2).map(|mut c| {
                c.sort_unstable();
                c
            }),
            Some(vec![0, 2])
        );
        assert_eq!(solve(&pieces, &APART, 100., 1), None);
    }

    #[test]
    fn places_too_close_are_not_taken_together() {
        let close = [(0., 0.), (50., 0.), (1000., 0.)];
        // Piece 0 by place 0 alone, piece 1 by 1 or 2.
        let pieces: [&[usize]; 2] = [&[0], &[1, 2]];
        assert_eq!(solve(&pieces, &close, 100., 2), Some(vec![0, 2]));
        assert_eq!(solve(&[&[0], &[1]], &close, 100., 2), None);
    }

    #[test]
    fn a_piece_without_a_place_cannot_be_served() {
        assert_eq!(solve(&[&[0], &[]], &APART, 100., 3), None);
    }
}

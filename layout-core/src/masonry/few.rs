//! Short lists that lie in place: memory is asked for only where there are more entries than usual.

use std::fmt;
use std::ops::{Deref, DerefMut};

/// A list that holds up to `N` entries in place, and any number elsewhere.
#[derive(Clone)]
pub struct Few<T, const N: usize>(Held<T, N>);

#[derive(Clone)]
enum Held<T, const N: usize> {
    /// How many, and the entries; those beyond are of no account.
    Here(u32, [T; N]),
    Elsewhere(Vec<T>),
}

impl<T: Copy + Default, const N: usize> Few<T, N> {
    /// No entry.
    #[must_use]
    pub fn new() -> Self {
        Self(Held::Here(0, [T::default(); N]))
    }

    /// No entry, with room for so many.
    #[must_use]
    pub fn with_room(count: usize) -> Self {
        if count > N { Self(Held::Elsewhere(Vec::with_capacity(count))) } else { Self::new() }
    }

    /// One entry.
    #[must_use]
    pub fn one(entry: T) -> Self {
        let mut this = Self::new();
        this.push(entry);
        this
    }

    /// Adds an entry at the end.
    #[inline]
    pub fn push(&mut self, entry: T) {
        match &mut self.0 {
            Held::Here(count, here) if (*count as usize) < N => {
                here[*count as usize] = entry;
                *count += 1;
            }
            Held::Here(_, here) => {
                let mut all = Vec::with_capacity(4 * N.max(1));
                all.extend_from_slice(here);
                all.push(entry);
                self.0 = Held::Elsewhere(all);
            }
            Held::Elsewhere(all) => all.push(entry),
        }
    }

    /// Keeps the first entries alone.
    pub fn truncate(&mut self, most: usize) {
        match &mut self.0 {
            Held::Here(count, _) => *count = (*count).min(most as u32),
            Held::Elsewhere(all) => all.truncate(most),
        }
    }

    /// Keeps those entries alone that pass, in their order.
    pub fn retain(&mut self, keep: impl Fn(&T) -> bool) {
        let mut kept = 0;
        for i in 0..self.len() {
            let entry = self[i];
            if keep(&entry) {
                self[kept] = entry;
                kept += 1;
            }
        }
        self.truncate(kept);
    }
}

impl<T: Copy + Default, const N: usize> Default for Few<T, N> {
    fn default() -> Self {
        Self::new()
    }
}

impl<T, const N: usize> Deref for Few<T, N> {
    type Target = [T];

    #[inline]
    fn deref(&self) -> &[T] {
        match &self.0 {
            Held::Here(count, here) => here.get(..*count as usize).unwrap_or(here),
            Held::Elsewhere(all) => all,
        }
    }
}

impl<T, const N: usize> DerefMut for Few<T, N> {
    #[inline]
    fn deref_mut(&mut self) -> &mut [T] {
        match &mut self.0 {
            Held::Here(count, here) => &mut here[..*count as usize],
            Held::Elsewhere(all) => all,
        }
    }
}

impl<T: Copy + Default, const N: usize> Extend<T> for Few<T, N> {
    fn extend<I: IntoIterator<Item = T>>(&mut self, entries: I) {
        entries.into_iter().for_each(|e| self.push(e));
    }
}

impl<T: Copy + Default, const N: usize> FromIterator<T> for Few<T, N> {
    fn from_iter<I: IntoIterator<Item = T>>(entries: I) -> Self {
        let entries = entries.into_iter();
        if entries.size_hint().0 > N {
            return Self(Held::Elsewhere(entries.collect()));
        }
        let mut this = Self::new();
        this.extend(entries);
        this
    }
}

impl<T: Copy + Default, const N: usize> From<Vec<T>> for Few<T, N> {
    fn from(entries: Vec<T>) -> Self {
        Self(Held::Elsewhere(entries))
    }
}

impl<'a, T, const N: usize> IntoIterator for &'a Few<T, N> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

/// The entries of a list, one after another.
pub struct Entries<T, const N: usize> {
    of: Few<T, N>,
    at: usize,
}

impl<T: Copy, const N: usize> Iterator for Entries<T, N> {
    type Item = T;

    fn next(&mut self) -> Option<T> {
        let next = self.of.get(self.at).copied();
        self.at += 1;
        next
    }
}

impl<T: Copy, const N: usize> IntoIterator for Few<T, N> {
    type Item = T;
    type IntoIter = Entries<T, N>;

    fn into_iter(self) -> Entries<T, N> {
        Entries { of: self, at: 0 }
    }
}

impl<T: PartialEq, const N: usize> PartialEq for Few<T, N> {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

impl<T: PartialEq, const N: usize, const M: usize> PartialEq<[T; M]> for Few<T, N> {
    fn eq(&self, other: &[T; M]) -> bool {
        **self == *other
    }
}

impl<T: fmt::Debug, const N: usize> fmt::Debug for Few<T, N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two in place, then five elsewhere; what is dropped leaves the rest in order.
    #[test]
    fn few_or_many_are_the_same_list() {
        let mut list: Few<u8, 2> = [1, 2].into_iter().collect();
        assert_eq!(list, [1, 2]);
        list.extend([3, 4, 5]);
        assert_eq!(list, [1, 2, 3, 4, 5]);
        assert_eq!(list.clone().into_iter().collect::<Vec<u8>>(), [1, 2, 3, 4, 5]);
        list.retain(|e| e % 2 == 1);
        assert_eq!(list, [1, 3, 5]);
        list.truncate(1);
        list.push(7);
        assert_eq!(list, [1, 7]);
        assert_eq!(Few::<u8, 2>::from(vec![9]), Few::one(9));
        assert!(Few::<u8, 2>::new().is_empty());
    }
}

//! Where a value comes from, and how sure we are of it.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How sure we are of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Sureness {
    /// Seen in an official or primary page.
    Published,
    /// Seen second-hand: two or more pages agree, or one good one.
    SecondHand,
    /// From memory, unconfirmed.
    FromMemory,
    /// Worked out from a published formula or from other values here.
    Recomputed,
    /// Taken to be so, for want of anything better.
    Assumed,
    /// A habit of the trade for which no source is known.
    CommonPractice,
    /// Given by the user, for example from an engineer's letter.
    Stated,
}

impl Sureness {
    /// All of them, the surest first.
    pub const ALL: [Self; 7] = [
        Self::Published,
        Self::SecondHand,
        Self::FromMemory,
        Self::Recomputed,
        Self::Stated,
        Self::Assumed,
        Self::CommonPractice,
    ];

    /// The one-letter mark used in listings: P, S, M, R, A (assumed), `-` (common practice), U (given by
    /// the user).
    #[must_use]
    pub fn mark(self) -> char {
        match self {
            Self::Published => 'P',
            Self::SecondHand => 'S',
            Self::FromMemory => 'M',
            Self::Recomputed => 'R',
            Self::Assumed => 'A',
            Self::CommonPractice => '-',
            Self::Stated => 'U',
        }
    }

    /// The words shown wherever the value is shown.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::SecondHand => "seen second-hand",
            Self::FromMemory => "from memory, confirm before use",
            Self::Recomputed => "recomputed",
            Self::Assumed => "assumed, confirm before use",
            Self::CommonPractice => "common practice, no source",
            Self::Stated => "given by the user",
        }
    }
}

impl fmt::Display for Sureness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

/// The document a value was taken from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Title, edition and clause, as a reader would look it up. Empty for common practice.
    pub document: String,
    /// How sure we are.
    pub sureness: Sureness,
}

impl Source {
    /// A source with a document and how it was seen.
    #[must_use]
    pub fn new(document: impl Into<String>, sureness: Sureness) -> Self {
        Self { document: document.into(), sureness }
    }

    /// A habit of the trade without a source.
    #[must_use]
    pub fn common_practice() -> Self {
        Self::new("", Sureness::CommonPractice)
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.document.is_empty() {
            write!(f, "{}", self.sureness)
        } else {
            write!(f, "{} ({})", self.document, self.sureness)
        }
    }
}

/// A value that carries its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value, in the unit its field states.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

impl<T> Sourced<T> {
    /// Pairs a value with its source.
    #[must_use]
    pub fn new(value: T, document: impl Into<String>, sureness: Sureness) -> Self {
        Self { value, source: Source::new(document, sureness) }
    }

    /// A value the trade uses without a source.
    #[must_use]
    pub fn common_practice(value: T) -> Self {
        Self { value, source: Source::common_practice() }
    }
}

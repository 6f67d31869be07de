//! Remedial fixings by kind: where each suits, a ranked choice for a wall, its length, its resin.
//!
//! Kinds are generic and have trade names. What is said of them is common practice without a source unless it says
//! otherwise; a firm adds fixings of its own with the values their makers declare.

mod choice;
mod guidance;
mod kinds;
mod length;
mod suits;

pub use choice::{Choice, Excluded, Ranked, Reason, choose};
pub use guidance::{Stainless, order_of_work, stainless};
pub use kinds::{Kind, KindData, Principle};
pub use length::{LengthGroup, Lengths, lengths, resin_ml};

use crate::elevation::DeclaredFixing;
use crate::source::{Source, Sureness};

/// A fixing that can be chosen: a kind with its usual values, or one of the firm's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    /// The kind's words, or the firm's name for it.
    pub name: String,
    /// What `fixing` in the project file names it by.
    pub id: String,
    /// Which kind it is.
    pub kind: Kind,
    /// Diameter of its hole, mm.
    pub hole: f64,
    /// Diameter of its bar, mm.
    pub bar: f64,
    /// Least embedment in the outer leaf, mm.
    pub embed_outer: f64,
    /// Least embedment in the inner leaf, mm.
    pub embed_inner: f64,
    /// Lengths in stock, mm, the shortest first.
    pub lengths: Vec<f64>,
    /// Where its sizes come from.
    pub source: Source,
}

/// No embedment is taken to be less than this, mm: NHBC Standards 6.1.18.
pub const LEAST_EMBEDMENT: f64 = 50.0;

impl Fixing {
    /// A kind with its usual values.
    #[must_use]
    pub fn of(kind: Kind) -> Self {
        let d = kind.data();
        Self {
            name: kind.words().to_owned(),
            id: kind.id().to_owned(),
            kind,
            hole: d.hole,
            bar: d.bar,
            embed_outer: d.embed_outer,
            embed_inner: d.embed_inner,
            lengths: d.lengths.to_vec(),
            source: Source::common_practice(),
        }
    }

    /// One of the firm's own; `None` where its kind is not known. Values that were left out, or cannot be, are
    /// those of the kind.
    #[must_use]
    pub fn declared(d: &DeclaredFixing) -> Option<Self> {
        let kind = Kind::by_id(&d.kind)?;
        let usual = Self::of(kind);
        let or = |v: f64, usual: f64, most: f64| if v > 0.0 && v <= most { v } else { usual };
        let mut lengths: Vec<f64> = d.lengths.iter().copied().filter(|l| *l > 0.0 && *l <= 5000.0).collect();
        lengths.sort_by(f64::total_cmp);
        let document = if d.source.is_empty() { "the firm, no source stated" } else { d.source.as_str() };
        Some(Self {
            name: d.name.clone(),
            id: d.name.clone(),
            kind,
            hole: or(d.hole, usual.hole, 100.0),
            bar: or(d.bar, usual.bar, 100.0),
            embed_outer: or(d.embed_outer, usual.embed_outer, 1000.0),
            embed_inner: or(d.embed_inner, usual.embed_inner, 1000.0),
            lengths: if lengths.is_empty() { usual.lengths } else { lengths },
            source: Source::new(document, Sureness::Stated),
        })
    }
}

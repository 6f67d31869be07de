//! The shape of each symbol, in mm about its middle at full size.
//!
//! New ties are told apart by outline alone, so that they survive a poor copy: a round field tie, a
//! square jamb tie, a triangle for a verge, a lozenge at a movement joint, and a black triangle
//! standing on its point at a free end. A dot marks the middle: the place to drill. Beyond a match line
//! the outline alone is drawn, without the dot: that tie is drilled from another sheet.

use super::geom::PaperPoint;
use super::model::Symbol;
use layout_core::Role;

/// Breadth of the largest symbol, mm.
pub const SIZE: f64 = 2.6;

/// Line width of symbols, mm.
pub const LINE: f64 = 0.35;

/// One piece of a symbol.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A closed ring with a line round it, black or white inside.
    Ring {
        /// Corners.
        points: Vec<PaperPoint>,
        /// Black inside; else white.
        black: bool,
    },
    /// A circle with a white inside and a line round it.
    Circle {
        /// Radius, mm.
        radius: f64,
    },
    /// A dot without a line.
    Dot {
        /// Its middle.
        centre: PaperPoint,
        /// Radius, mm.
        radius: f64,
        /// Black; else white.
        black: bool,
    },
    /// A straight line.
    Line {
        /// One end.
        from: PaperPoint,
        /// The other end.
        to: PaperPoint,
        /// Width, mm.
        width: f64,
    },
}

const DOT: f64 = 0.24;

/// The pieces of a symbol, lowest first.
#[must_use]
pub fn pieces(symbol: Symbol) -> Vec<Piece> {
    let ring = |points: &[PaperPoint], black: bool| Piece::Ring { points: points.to_vec(), black };
    let dot = |black| Piece::Dot { centre: (0.0, 0.0), radius: DOT, black };
    match symbol {
        Symbol::Tie(Role::Field) => vec![Piece::Circle { radius: 1.1 }, dot(true)],
        Symbol::Tie(Role::Jamb) => {
            vec![ring(&[(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)], false), dot(true)]
        }
        Symbol::Tie(Role::Verge) => {
            vec![ring(&[(-1.25, -0.85), (1.25, -0.85), (0.0, 1.3)], false), dot(true)]
        }
        Symbol::Tie(Role::Joint) => {
            vec![ring(&[(0.0, -1.3), (1.0, 0.0), (0.0, 1.3), (-1.0, 0.0)], false), dot(true)]
        }
        Symbol::Tie(Role::FreeEnd) => {
            vec![ring(&[(-1.25, 0.85), (0.0, -1.3), (1.25, 0.85)], true), dot(false)]
        }
        Symbol::Beyond(role) => pieces(Symbol::Tie(role))
            .into_iter()
            .filter(|p| !matches!(p, Piece::Dot { .. }))
            .map(|p| match p {
                Piece::Ring { points, .. } => Piece::Ring { points, black: false },
                other => other,
            })
            .collect(),
        Symbol::Pin => vec![
            Piece::Line { from: (0.0, 0.3), to: (0.0, 1.9), width: 0.35 },
            Piece::Dot { centre: (0.0, 2.1), radius: 0.45, black: true },
        ],
        Symbol::OldTie => vec![
            Piece::Line { from: (-0.8, -0.8), to: (0.8, 0.8), width: 0.35 },
            Piece::Line { from: (-0.8, 0.8), to: (0.8, -0.8), width: 0.35 },
        ],
    }
}

/// Name of a symbol in files: `TIE_FIELD`, `TIE_JAMB`, ... for new ties.
#[must_use]
pub fn file_name(symbol: Symbol) -> String {
    match symbol {
        Symbol::Tie(role) => format!("TIE_{}", role.id().to_uppercase()),
        Symbol::Beyond(role) => format!("BEYOND_{}", role.id().to_uppercase()),
        Symbol::Pin => "PIN_FLAG".to_owned(),
        Symbol::OldTie => "OLD_TIE".to_owned(),
    }
}

/// Name in files of a symbol on a detail, where its tie is drawn a second time.
#[must_use]
pub fn detail_name(symbol: Symbol) -> String {
    format!("DETAIL_{}", file_name(symbol))
}

/// Name in files of the same symbol in the key, where it stands for no tie.
#[must_use]
pub fn key_name(symbol: Symbol) -> String {
    format!("KEY_{}", file_name(symbol))
}

/// Every symbol.
pub const ALL: [Symbol; 12] = [
    Symbol::Tie(Role::Verge),
    Symbol::Tie(Role::Joint),
    Symbol::Tie(Role::FreeEnd),
    Symbol::Tie(Role::Jamb),
    Symbol::Tie(Role::Field),
    Symbol::Beyond(Role::Verge),
    Symbol::Beyond(Role::Joint),
    Symbol::Beyond(Role::FreeEnd),
    Symbol::Beyond(Role::Jamb),
    Symbol::Beyond(Role::Field),
    Symbol::Pin,
    Symbol::OldTie,
];

//! Symbols as blocks, in mm of paper about their middle.

use super::tags::Tags;
use crate::sheet::symbols::{self, Piece};
use crate::sheet::{PaperPoint, Symbol};

/// Blocks take the layer that they are put on.
const LAYER: &str = "0";

/// Every symbol, once for ties and once for the key.
pub(super) fn write(tags: &mut Tags) {
    tags.pair(0, "SECTION");
    tags.pair(2, "BLOCKS");
    for symbol in symbols::ALL {
        for name in [symbols::file_name(symbol), symbols::key_name(symbol)] {
            block(tags, &name, symbol);
        }
    }
    tags.pair(0, "ENDSEC");
}

fn block(tags: &mut Tags, name: &str, symbol: Symbol) {
    tags.pair(0, "BLOCK");
    tags.pair(8, LAYER);
    tags.pair(2, name);
    tags.pair(70, 0);
    for code in [10, 20, 30] {
        tags.real(code, 0.0);
    }
    tags.pair(3, name);
    for piece in symbols::pieces(symbol) {
        match piece {
            Piece::Ring { points, black } => ring(tags, &points, black),
            Piece::Circle { radius } => tags.circle(LAYER, (0.0, 0.0), radius),
            Piece::Dot { centre, radius, black: true } => tags.dot(LAYER, centre, radius),
            // A white dot in a black shape: a ring marks the middle.
            Piece::Dot { centre, radius, black: false } => tags.circle(LAYER, centre, radius),
            Piece::Line { from, to, .. } => tags.line(LAYER, "CONTINUOUS", from, to),
        }
    }
    tags.pair(0, "ENDBLK");
    tags.pair(8, LAYER);
}

fn ring(tags: &mut Tags, points: &[PaperPoint], black: bool) {
    if black {
        tags.solid(LAYER, points);
    }
    tags.polyline(LAYER, "CONTINUOUS", points, true);
}

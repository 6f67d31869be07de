//! Places remedial wall ties on a drawn elevation, and checks the layout.
//!
//! Pure: values in, values out. Lengths in mm, x to the right, y up, seen from outside; y = 0 is the
//! datum of the elevation.

pub mod bound;
pub mod check;
mod coursing;
pub mod demand;
pub mod elevation;
pub mod engineering;
mod fields;
pub mod fixing;
mod many;
pub mod marking;
pub mod masonry;
pub mod plan;
pub mod rules;
pub mod setting_out;
pub mod source;
pub mod testing;
pub mod units;

pub use plan::{Plan, Role, Tie, plan};

//! The drawing set: nothing overlaps, everything lies inside the frame, ties stand where they should.

mod cases;
mod engineering;
mod file;
mod formats;
mod lists;
mod locked;
mod marks;
mod sheets;

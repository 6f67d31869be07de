//! The drawing set: nothing overlaps, everything lies inside the frame, ties stand where they should.

mod cases;
mod engineering;
mod file;
mod formats;
mod levels;
mod lists;
mod locked;
mod marks;
mod openings;
mod parts;
mod sheets;
mod titles;

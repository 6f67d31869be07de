//! The document: the project being edited, its edits, undo, and its file.

pub mod file;

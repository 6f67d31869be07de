//! The document: the project being edited, its edits, undo, and its file.

mod field_words;
pub mod file;
pub mod locate;
mod read_error;
pub mod replace;
mod save_text;

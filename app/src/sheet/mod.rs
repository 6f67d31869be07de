//! sheet.

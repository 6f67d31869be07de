//! text.

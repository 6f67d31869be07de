//! panels.

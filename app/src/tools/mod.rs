//! tools.

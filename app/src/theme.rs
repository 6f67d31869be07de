//! theme.

//! derived.

//! csv.

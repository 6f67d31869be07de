//! session.

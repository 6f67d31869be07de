//! pdf.

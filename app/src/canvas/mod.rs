//! canvas.

//! Project files: reading with errors that say where, and safe saving.

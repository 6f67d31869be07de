//! What a file that is read holds.

/// What a file holds: its fields have other words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Holds {
    /// A project.
    #[default]
    Project,
    /// Rules of a firm's own.
    Rules,
}

impl Holds {
    /// What it is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Project => "project",
            Self::Rules => "file of rules",
        }
    }
}

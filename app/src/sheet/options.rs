//! What is chosen for the drawing: paper, scale, the firm's own details, which sheets, how numbers are written.

use super::SCALES;
use super::model::Picture;
use super::paper::PaperSize;
use super::words::Language;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What the user chooses for the drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetOptions {
    /// Paper; chosen for each elevation if left out, A3 where it will do.
    pub sheet: Option<PaperSize>,
    /// Denominator of the scale, one of [`SCALES`]; chosen for each elevation if left out.
    pub scale: Option<u32>,
    /// Date to print; none if left out.
    pub date: Option<String>,
    /// Whose drawing it is.
    pub firm: FirmDetails,
    /// Which sheets and parts of sheets are drawn.
    pub include: Include,
    /// What stands between whole numbers and decimals.
    pub decimal: DecimalMark,
    /// Language of the fixed words.
    pub language: Language,
    /// Draw each elevation on one sheet, however large it has to be or small the scale.
    pub in_one: bool,
}

/// The firm whose drawing it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FirmDetails {
    /// Its name; the legal owner of the drawing.
    pub name: String,
    /// Its address and how it is reached, in one line.
    pub address: String,
    /// Its sign.
    pub logo: Option<Arc<Picture>>,
}

/// Which sheets are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Include {
    /// Cover with the key plan, counts, cautions and rules.
    pub cover: bool,
    /// Section through the wall, on the cover.
    pub section: bool,
    /// Details of dense places.
    pub details: bool,
    /// Wind, fixing and tests in full, where they are worked out.
    pub account: bool,
    /// Setting-out schedule, row by row.
    pub schedule: bool,
    /// As-installed record.
    pub record: bool,
    /// Pull-test sheet.
    pub tests: bool,
    /// Old-tie sheet, where there are old ties.
    pub old_ties: bool,
}

impl Default for Include {
    fn default() -> Self {
        Self {
            cover: true,
            section: true,
            details: true,
            account: true,
            schedule: true,
            record: true,
            tests: true,
            old_ties: true,
        }
    }
}

/// What stands between whole numbers and decimals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum DecimalMark {
    /// 12.5
    #[default]
    Point,
    /// 12,5
    Comma,
}

/// Why there is no drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetError {
    /// The scale is not one of [`SCALES`].
    Scale(u32),
    /// An elevation does not fit the paper and scale asked for.
    DoesNotFit {
        /// Name of the elevation.
        name: String,
        /// Paper asked for.
        sheet: Option<PaperSize>,
        /// Scale asked for.
        scale: Option<u32>,
    },
    /// No sheet is left of those asked for.
    Nothing,
}

impl std::fmt::Display for SheetError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Scale(s) => {
                let all: Vec<String> = SCALES.iter().map(|s| format!("1:{s}")).collect();
                write!(f, "1:{s} is not a scale of the drawing; choose {}", all.join(", "))
            }
            Self::DoesNotFit { name, sheet, scale } => {
                write!(f, "elevation '{name}' does not fit")?;
                match sheet {
                    Some(s) => write!(f, " on {s}")?,
                    None => write!(f, " on any sheet up to A0")?,
                }
                if let Some(s) = scale {
                    write!(f, " at 1:{s}")?;
                }
                write!(f, "; choose larger paper or a smaller scale")
            }
            Self::Nothing => f.write_str("none of the sheets asked for has anything to show"),
        }
    }
}

impl std::error::Error for SheetError {}

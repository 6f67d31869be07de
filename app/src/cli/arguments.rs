//! The arguments of the commands.

use crate::sheet::{PaperSize, SCALES};
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Plans replacement wall ties on a drawn elevation.
///
/// With a project file alone, or nothing, opens the window. The commands need no display; "-" as an
/// output file stands for standard output.
///
/// Exit status: 0 done and no breach; 1 done, with breaches; 2 bad usage or bad input, and nothing
/// written.
#[derive(Debug, Parser)]
#[command(
    name = "tiewright",
    version,
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub(super) struct Arguments {
    /// Project to open in the window
    pub file: Option<PathBuf>,
    /// What to do
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What to do without the window.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Set out and check every elevation; print a summary, or write the result as JSON
    SetOut {
        /// Project file
        file: PathBuf,
        /// Write the result as JSON to this file ("-": standard output)
        #[arg(long, value_name = "OUT")]
        json: Option<PathBuf>,
    },
    /// Write the drawing set: cover, each elevation to scale, schedule, record, tests
    Drawing(Drawing),
    /// Count ties, areas and materials
    TakeOff {
        /// Project file
        file: PathBuf,
        /// Write the quantities as comma-separated values to this file ("-": standard output)
        #[arg(long, value_name = "OUT")]
        csv: Option<PathBuf>,
        /// Spare ties to order, per cent
        #[arg(long, value_name = "PER_CENT", default_value = "0", allow_negative_numbers = true, value_parser = per_cent)]
        spare: f64,
    },
    /// Check the ties as they stand and list every breach with its place and source
    Verify {
        /// Project file
        file: PathBuf,
    },
    /// Show wind, fixing, lengths, pull tests, old ties and price with each step and its source
    Engineering {
        /// Project file
        file: PathBuf,
    },
    /// List the rule sets, every value with its source and how sure it is
    Rules {
        /// Only this set, or the rules in this file of a firm's own
        name: Option<String>,
        /// Write the set as a file of rules to begin your own from ("-": standard output)
        #[arg(long, value_name = "OUT", requires = "name")]
        ron: Option<PathBuf>,
    },
}

/// What the drawing set is made of.
#[derive(Debug, Args)]
pub(super) struct Drawing {
    /// Project file
    pub file: PathBuf,
    /// Write to this file: .pdf, .svg, .dxf or .png by its ending ("-": PDF to standard output)
    #[arg(long, value_name = "OUT.pdf")]
    pub out: PathBuf,
    /// Size of the sheets, A4 to A0; chosen for each elevation if left out
    #[arg(long, value_name = "SIZE", value_parser = sheet)]
    pub sheet: Option<PaperSize>,
    /// What the firm puts on all its drawings: a file of settings
    #[arg(long, value_name = "FIRM.ron")]
    pub firm: Option<PathBuf>,
    /// Date to print in the title block; left to fill in by hand if left out
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Scale 1:N of the elevations (10, 20, 50, 100 or 200); chosen if left out
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = scale)]
    pub scale: Option<u32>,
}

fn sheet(text: &str) -> Result<PaperSize, String> {
    PaperSize::named(text)
        .ok_or_else(|| format!("a sheet is {}", PaperSize::ALL.map(PaperSize::name).join(", ")))
}

fn scale(text: &str) -> Result<u32, String> {
    let figure = text.strip_prefix("1:").unwrap_or(text);
    let wanted = figure.parse().ok().filter(|n| SCALES.contains(n));
    wanted
        .ok_or_else(|| format!("a drawing is at a scale of 1:{}", SCALES.map(|n| n.to_string()).join(", 1:")))
}

fn per_cent(text: &str) -> Result<f64, String> {
    let wanted = text.trim_end_matches('%').parse().ok().filter(|v| (0.0..=100.0).contains(v));
    wanted.ok_or_else(|| "spare ties are 0 to 100 per cent".to_owned())
}

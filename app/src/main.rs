//! Tiewright: a command, or the window.

use std::io;
use std::process::ExitCode;
use tiewright::cli::{self, Outcome};

fn main() -> ExitCode {
    match cli::run(std::env::args_os(), &mut io::stdout(), &mut io::stderr()) {
        Outcome::Status(status) => ExitCode::from(status),
        Outcome::Window(file) => window(file),
    }
}

/// Opens the window; `app::run_window` takes over here.
fn window(_file: Option<std::path::PathBuf>) -> ExitCode {
    eprintln!("the window is not part of this build; see tiewright --help for the commands");
    ExitCode::from(cli::REFUSED)
}

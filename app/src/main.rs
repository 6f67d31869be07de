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

/// Opens the window and stays until it is closed.
fn window(file: Option<std::path::PathBuf>) -> ExitCode {
    match tiewright::app::run_window(file, tiewright::export::drawing::export) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(cli::REFUSED)
        }
    }
}

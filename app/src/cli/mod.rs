//! The commands: arguments in, text and an exit status out. None needs a display.
//!
//! Exit status: 0 done and no breach; 1 done, with breaches; 2 bad usage or bad input, nothing written.

mod arguments;
mod commands;
mod drawing;
mod output;

use arguments::{Arguments, Command};
use clap::error::ErrorKind;
use clap::{CommandFactory, Parser};
use output::Console;
use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

/// Status of a command that found no breach.
pub const DONE: u8 = 0;
/// Status of a command that found breaches.
pub const BREACHES: u8 = 1;
/// Status of a command that could not do its work; nothing was written.
pub const REFUSED: u8 = 2;

/// What the arguments ask for.
#[derive(Debug)]
pub enum Outcome {
    /// A command ran; the process ends with this status.
    Status(u8),
    /// The window, with a project if one was named.
    Window(Option<PathBuf>),
}

/// Runs the command that the arguments (the program's name first) ask for.
///
/// Output goes to `out`, errors to `err`; a reader that goes away is no error.
pub fn run(args: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let mut console = Console::new(out, err);
    let arguments = match Arguments::try_parse_from(args) {
        Ok(arguments) => arguments,
        Err(e) => return Outcome::Status(usage(&mut console, &e)),
    };
    let result = match &arguments.command {
        None => return window(arguments.file, &mut console),
        Some(Command::SetOut { file, json }) => commands::set_out(&mut console, file, json.as_deref()),
        Some(Command::Drawing(drawing)) => drawing::run(&mut console, drawing),
        Some(Command::TakeOff { file, csv, spare }) => {
            commands::take_off(&mut console, file, csv.as_deref(), *spare)
        }
        Some(Command::Verify { file }) => commands::verify(&mut console, file),
        Some(Command::Engineering { file }) => commands::engineering(&mut console, file),
        Some(Command::Rules { name, ron }) => commands::rules(&mut console, name.as_deref(), ron.as_deref()),
    };
    Outcome::Status(result.unwrap_or_else(|message| {
        console.error(&message);
        REFUSED
    }))
}

/// Prints the help that was asked for, or what is wrong with the arguments.
fn usage(console: &mut Console<'_>, e: &clap::Error) -> u8 {
    if !e.use_stderr() {
        console.print(&e.render().to_string());
        return DONE;
    }
    if e.kind() == ErrorKind::ArgumentConflict {
        let names: Vec<String> =
            Arguments::command().get_subcommands().map(|c| c.get_name().to_owned()).collect();
        let names = names.join(", ");
        console.error(&format!("error: no such command; there are {names}; see tiewright --help"));
    } else {
        console.error(e.render().to_string().trim_end());
    }
    REFUSED
}

/// The window opens any file that is there and shows itself what is wrong with it.
fn window(file: Option<PathBuf>, console: &mut Console<'_>) -> Outcome {
    match file {
        Some(path) if !path.exists() => {
            console.error(&format!(
                "{}: there is no such file, and no command of this name; see tiewright --help",
                path.display()
            ));
            Outcome::Status(REFUSED)
        }
        file => Outcome::Window(file),
    }
}

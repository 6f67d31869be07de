//! Arguments: what is refused, and that nothing panics or is written then.

use std::ffi::OsString;
use std::io::{self, Write};
use std::path::Path;
use tiewright::cli::{self, Outcome};
use tiewright_tests::console::{example, tiewright};

#[track_caller]
fn refused(args: &[&str], says: &str) {
    let ran = tiewright(args);
    assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{args:?}");
    assert!(ran.err.contains(says), "{args:?}: {}", ran.err);
    assert!(ran.err.ends_with('\n') && !ran.err.contains("panicked"), "{}", ran.err);
}

#[test]
fn bad_usage_is_refused_with_a_line_that_helps() {
    let file = example("larkspur-semi.ron");
    refused(&["set-out"], "<FILE>");
    refused(
        &["setout", &file],
        "no such command; there are set-out, drawing, take-off, verify, engineering, rules",
    );
    refused(&["set-oot"], "no such file, and no command of this name");
    refused(&["set-out", &file, "--jsn", "-"], "--jsn");
    refused(&["set-out", &file, "--json"], "--json");
    refused(&["drawing", &file], "--out");
    refused(&["drawing", &file, "--out", "x.pdf", "--scale", "37"], "a drawing is at a scale of 1:10");
    refused(&["drawing", &file, "--out", "x.pdf", "--scale", "-50"], "--scale");
    refused(&["drawing", &file, "--out", "x.pdf", "--sheet", "B3"], "a sheet is A4, A3, A2, A1");
    refused(&["drawing", &file, "--out", "x.docx"], "end the name in .pdf, .svg, .dxf or .png");
    refused(&["take-off", &file, "--spare", "lots"], "0 to 100 per cent");
    refused(&["take-off", &file, "--spare", "NaN"], "0 to 100 per cent");
    refused(&["verify", "no-such.ron"], "no-such.ron: there is no such file");
    refused(&["verify", "."], ".: this is a folder");
}

#[test]
fn help_and_version_are_no_errors() {
    for args in [&["--help"][..], &["--version"], &["drawing", "--help"], &["-h"]] {
        let ran = tiewright(args);
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{args:?}");
        assert!(ran.out.len() > 10);
    }
}

#[test]
fn a_file_alone_or_nothing_opens_the_window() {
    let run = |args: &[&str]| {
        let args = args.iter().map(OsString::from).collect::<Vec<_>>();
        cli::run(args, &mut io::sink(), &mut io::sink())
    };
    assert!(matches!(run(&["tiewright"]), Outcome::Window(None)));
    let file = example("larkspur-semi.ron");
    assert!(matches!(run(&["tiewright", &file]), Outcome::Window(Some(p)) if p == Path::new(&file)));
}

/// A reader that has gone away.
struct Gone;

impl Write for Gone {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(io::ErrorKind::BrokenPipe.into())
    }
    fn flush(&mut self) -> io::Result<()> {
        Err(io::ErrorKind::BrokenPipe.into())
    }
}

/// A disk with no room left.
struct Full;

impl Write for Full {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(io::ErrorKind::StorageFull.into())
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_goes_away_changes_no_status() {
    let status = |out: &mut dyn Write, args: &[&str]| {
        let args = std::iter::once("tiewright").chain(args.iter().copied()).map(OsString::from);
        match cli::run(args, out, &mut Gone) {
            Outcome::Status(status) => status,
            Outcome::Window(_) => u8::MAX,
        }
    };
    let (whole, broken) = (example("larkspur-semi.ron"), example("garden-wall-by-hand.ron"));
    assert_eq!(status(&mut Gone, &["set-out", &whole]), 0);
    assert_eq!(status(&mut Gone, &["set-out", &whole, "--json", "-"]), 0);
    assert_eq!(status(&mut Gone, &["verify", &broken]), 1);
    assert_eq!(status(&mut Gone, &["rules"]), 0);
    assert_eq!(status(&mut Gone, &["--help"]), 0);
    assert_eq!(status(&mut Gone, &["verify", "no-such.ron"]), 2);
    // Half a result must not pass for a whole one.
    assert_eq!(status(&mut Full, &["set-out", &whole, "--json", "-"]), 2);
}

#[cfg(unix)]
#[test]
fn arguments_that_are_not_text_are_refused() {
    use std::os::unix::ffi::OsStringExt;
    let odd = OsString::from_vec(vec![b'a', 0xff, b'b']);
    for args in
        [vec!["tiewright".into(), odd.clone()], vec!["tiewright".into(), "verify".into(), odd.clone()]]
    {
        assert!(matches!(cli::run(args, &mut io::sink(), &mut io::sink()), Outcome::Status(2)));
    }
}

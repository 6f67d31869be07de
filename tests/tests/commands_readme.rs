//! The README shows what the commands print. `REFRESH_README=1 cargo test readme` writes it anew.

use std::fs;
use tiewright_tests::console::{repository, tiewright};

/// A block of the README that shows a command and all it prints.
const BLOCK: &str = "```console\n$ tiewright ";

#[test]
fn the_readme_shows_what_the_commands_print() {
    // The commands name files from the top of the repository; this is the only test of its process.
    std::env::set_current_dir(repository()).expect("the repository");
    let readme = fs::read_to_string("README.md").expect("the README");
    let mut parts = readme.split(BLOCK);
    let mut fresh = parts.next().unwrap_or("").to_owned();
    let mut shown = 0;
    for part in parts {
        let (command, rest) = part.split_once('\n').expect("a command line");
        let (_, after) = rest.split_once("```").expect("the end of the block");
        let args: Vec<&str> = command.split(' ').collect();
        let ran = tiewright(&args);
        assert!(ran.status < 2, "{command}: {}", ran.err);
        fresh.push_str(&format!("{BLOCK}{command}\n{}```{after}", ran.out));
        shown += 1;
    }
    assert!(shown >= 4, "the README shows {shown} commands");
    if std::env::var_os("REFRESH_README").is_some() {
        fs::write("README.md", &fresh).expect("the README is written");
    } else {
        assert!(fresh == readme, "the README is out of date; run REFRESH_README=1 cargo test readme");
    }
}

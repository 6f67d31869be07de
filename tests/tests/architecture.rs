//! The invariants of DEVELOPERS.md that can be seen in the text of the repository.

use layout_core::rules::{EdgeScope, resolve, sets};
use layout_core::source::{Source, Sureness};
use std::fs;
use std::path::{Path, PathBuf};
use tiewright_tests::console::repository;

/// Longest source file, lines.
const LONGEST: usize = 500;

/// Every file below a folder of the repository whose name ends so, in order.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![repository().join(folder)];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
        for path in entries.map(|e| e.expect("an entry of a folder").path()) {
            let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            if path.is_dir() {
                if name != "target" && name != ".git" {
                    folders.push(path);
                }
            } else if name.ends_with(ending) {
                found.push(path);
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "no {ending} in {folder}");
    found
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn source_files() -> Vec<PathBuf> {
    ["layout-core", "app", "tests"].into_iter().flat_map(|f| files(f, ".rs")).collect()
}

/// The part of a source file before its own tests, without comments.
fn program(path: &Path) -> String {
    let all = text(path);
    let before = all.split("#[cfg(test)]\nmod tests {").next().unwrap_or("");
    let code = before.lines().map(|l| l.split("//").next().unwrap_or(""));
    code.collect::<Vec<_>>().join("\n")
}

/// Whether a file is a module for tests alone.
fn for_tests(path: &Path) -> bool {
    let name = path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let declared = |file: &str| {
        let of = path.with_file_name(file);
        of.exists() && text(&of).contains(&format!("#[cfg(test)]\nmod {name};"))
    };
    declared("mod.rs") || declared("lib.rs")
}

#[track_caller]
fn never(folder: &str, words: &[&str]) {
    for path in files(folder, ".rs").into_iter().filter(|p| !for_tests(p)) {
        let code = program(&path);
        for word in words {
            assert!(!code.contains(word), "{} uses {word}", path.display());
        }
    }
}

#[test]
fn the_core_touches_nothing_outside_itself() {
    never(
        "layout-core/src",
        &[
            "std::fs",
            "std::io",
            "std::env",
            "std::net",
            "std::process",
            "std::time",
            "std::thread",
            "print!",
            "println!",
            "eprintln!",
            "dbg!",
            "Instant",
            "SystemTime",
            "rand::",
            "getrandom",
            "egui",
            "printpdf",
            "static mut",
            "HashMap",
            "HashSet",
            // What comes out must not depend on the number of cores.
            "current_num_threads",
            "ThreadPool",
            "par_bridge",
            "find_any",
        ],
    );
}

#[test]
fn the_core_depends_on_geometry_and_rayon_alone() {
    let manifest = text(&repository().join("layout-core/Cargo.toml"));
    let dependencies =
        manifest.split("[dependencies]").nth(1).unwrap_or("").split("\n[").next().unwrap_or("");
    let names: Vec<&str> = dependencies
        .lines()
        .filter_map(|l| l.split(['.', '=', ' ']).next())
        .filter(|n| !n.is_empty() && !n.starts_with('#'))
        .collect();
    assert!(names.contains(&"serde"), "{names:?}");
    for name in names {
        assert!(["geo", "rayon", "serde"].contains(&name), "layout-core depends on {name}");
    }
}

#[test]
fn placer_and_checker_never_meet() {
    never("layout-core/src/check", &["setting_out"]);
    never("layout-core/src/setting_out", &["check::", "check;", "Finding"]);
    never("layout-core/src/masonry", &["setting_out", "check::"]);
}

#[test]
fn writers_lay_nothing_out_again() {
    never("app/src/export", &["layout_core::plan(", "plan::plan", "set_out(&elevation"]);
    never("app/src/sheet", &["layout_core::plan(", "plan::plan"]);
}

#[test]
fn commands_need_no_window() {
    for folder in ["app/src/cli", "app/src/document", "app/src/export"] {
        never(folder, &["egui", "eframe", "rfd::"]);
    }
    never("app/src/cli", &["SystemTime", "Instant"]);
}

#[test]
fn nothing_that_input_reaches_may_panic() {
    for folder in ["layout-core/src", "app/src/cli", "app/src/document", "app/src/export"] {
        never(folder, &[".unwrap()", ".expect(", "panic!", "unreachable!"]);
    }
}

#[test]
fn files_are_short_and_finished() {
    // Put together here, so that this file does not find itself.
    let unfinished = ["todo", "unimplemented"].map(|w| format!("{w}!("));
    let skipped = format!("#[{}", "ignore");
    for path in source_files() {
        let all = text(&path);
        let lines = all.lines().count();
        assert!(lines <= LONGEST, "{} has {lines} lines; {LONGEST} are the most", path.display());
        for word in unfinished.iter().chain([&skipped]) {
            assert!(!all.contains(word.as_str()), "{} has {word}", path.display());
        }
        assert!(
            all.starts_with("//!") || all.starts_with("#!"),
            "{} does not say what it is",
            path.display()
        );
    }
    let main = text(&repository().join("app/src/main.rs")).lines().count();
    assert!(main < 80, "main.rs has {main} lines");
}

#[test]
fn no_file_names_a_folder_of_one_machine() {
    let homes = ["/home/", "/root/", "/Users/"];
    for ending in [".rs", ".md", ".toml", ".ron", ".desktop", "run", "window", "pdf", ".svg"] {
        for path in files(".", ending) {
            // This file has to name them.
            if path.ends_with("tests/architecture.rs") || path.extension().is_some_and(|e| e == "pdf") {
                continue;
            }
            let all = text(&path);
            assert!(homes.iter().all(|h| !all.contains(h)), "{} names a machine's folder", path.display());
        }
    }
}

#[test]
fn every_value_of_a_rule_set_carries_its_source() {
    let all = text(&repository().join("layout-core/src/rules/mod.rs"));
    for (name, plain) in [("RuleSet", &["id", "title", "remarks", "edges"][..]), ("EdgeRule", &["scope"])] {
        let body = all.split(&format!("pub struct {name} {{")).nth(1).and_then(|b| b.split("\n}").next());
        let fields = body.unwrap_or("").lines().filter_map(|l| l.trim().strip_prefix("pub "));
        let mut values = 0;
        for (field, of) in fields.filter_map(|l| l.split_once(": ")).filter(|(f, _)| !plain.contains(f)) {
            assert!(
                of.starts_with("Sourced<") || of.starts_with("Option<Sourced<"),
                "{name}.{field} carries no source"
            );
            values += 1;
        }
        assert!(values >= 2, "{name} was not found");
    }
    for set in sets::all() {
        let mut sources = vec![&set.horizontal.source, &set.vertical.source, &set.density.source];
        sources.extend([&set.edge_distance.source, &set.between.source, &set.existing_clearance.source]);
        sources.extend(set.edges.iter().flat_map(|e| [&e.within.source, &e.spacing.source]));
        sources.extend(set.edges.iter().filter_map(|e| e.top.as_ref()).map(|t| &t.source));
        for source in sources {
            let named = !source.document.is_empty();
            assert_eq!(named, source.sureness != Sureness::CommonPractice, "{}: {source:?}", set.id);
        }
        if let Some(EdgeScope::OpeningPerimeter { exempt }) = set.edges.as_ref().map(|e| e.scope) {
            // The one value without a source of its own stands in a remark.
            assert!(set.remarks.iter().any(|r| r.contains(&format!("{} in", exempt / 25.4))), "{}", set.id);
        }
    }
}

#[test]
fn unsure_values_say_so_in_words() {
    let shown = |sureness| Source::new("a book", sureness).to_string();
    assert_eq!(Source::common_practice().to_string(), "common practice, no source");
    assert!(shown(Sureness::FromMemory).contains("from memory, confirm before use"));
    assert!(shown(Sureness::SecondHand).contains("second-hand"));
    let custom = layout_core::elevation::RuleChoice::Custom(layout_core::elevation::CustomRules::default());
    let rules = resolve(&custom).expect("the default custom rules");
    assert!(rules.horizontal.source.to_string().contains("given by the user"));
}

/// Fowler, Noll and Vo's hash (FNV-1a, 64 bits): enough to see that a file is another one.
fn hash(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |h, &b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3))
}

#[test]
fn the_fonts_are_the_ones_that_were_measured() {
    // Known value: the hash of "a".
    assert_eq!(hash(b"a"), 0xaf63_dc4c_8601_ec8c);
    let fonts = files("assets/fonts", ".ttf");
    let found: Vec<(String, u64)> = fonts
        .iter()
        .map(|p| {
            (
                p.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                hash(&fs::read(p).expect("a font")),
            )
        })
        .collect();
    let expect = [
        ("DejaVuSans-Bold.ttf", 0x97ab_1e0f_e396_b759),
        ("DejaVuSans.ttf", 0xce25_2980_ec12_55ff),
        ("DejaVuSansCondensed-Bold.ttf", 0xf46c_e905_64d8_2c4b),
        ("DejaVuSansCondensed.ttf", 0x98b8_8529_fa77_bb3e),
    ];
    let expect: Vec<(String, u64)> = expect.map(|(n, h)| (n.to_owned(), h)).into();
    assert_eq!(found, expect, "another version of a font shifts text on every drawing");
    assert!(repository().join("assets/fonts/LICENSE").exists());
}

#[test]
fn the_documents_name_files_that_are_there() {
    for document in ["README.md", "DEVELOPERS.md", "CHANGELOG.md"] {
        let all = text(&repository().join(document));
        let mut named = 0;
        for word in all.split(['`', '(', ')', ' ', '\n']) {
            let word = word.trim_end_matches(['.', ',', ';', ':']);
            let folder = word.split('/').next().unwrap_or("");
            if ["app", "layout-core", "tests", "examples", "assets", ".ci"].contains(&folder)
                && word.contains('/')
            {
                assert!(repository().join(word).exists(), "{document} names {word}, which is not there");
                named += 1;
            }
        }
        assert!(named > 0 || document == "CHANGELOG.md", "{document} names no file");
    }
}

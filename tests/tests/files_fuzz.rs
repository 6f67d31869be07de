//! Spoilt project files: whatever is done to one, it is read or refused with a place, and quickly.

use std::fs;
use std::time::{Duration, Instant};
use tiewright::document::file;
use tiewright::report::Report;
use tiewright_tests::console::examples;

/// A small generator with a seed, so that a failure can be run again.
struct Dice(u64);

impl Dice {
    /// Marsaglia's xorshift.
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }
}

const INSERTED: [&str; 34] = [
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ":",
    "\"",
    "'",
    "\\",
    "//",
    "/*",
    "*/",
    "#",
    "r#\"",
    "b\"",
    "NaN",
    "inf",
    "-1e999",
    "1e308",
    "0x",
    "--",
    ".",
    "None",
    "Some(",
    "Rect",
    "\u{feff}",
    "\u{0}",
    "é",
    "format",
    "name: ",
    "\r",
    "#![enable(",
];

fn spoil(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let at = dice.below(bytes.len());
    let to = (at + 1 + dice.below(40)).min(bytes.len());
    match dice.below(7) {
        0 => bytes.truncate(at),
        1 if !bytes.is_empty() => bytes[at] ^= 1 << dice.below(8),
        2 => drop(bytes.drain(at..to)),
        3 if !bytes.is_empty() => {
            let other = dice.below(bytes.len());
            bytes.swap(at, other);
        }
        4 => drop(bytes.splice(at..at, INSERTED[dice.below(INSERTED.len())].bytes())),
        5 => {
            let piece = bytes[at..to].to_vec();
            let other = dice.below(bytes.len());
            drop(bytes.splice(other..other, piece));
        }
        _ => {
            let figure = bytes.iter().skip(at).position(u8::is_ascii_digit);
            let odd = ["-0", "1e400", "99999999999", "\"7\"", "7.5.1", "true", ""][dice.below(7)];
            if let Some(i) = figure {
                drop(bytes.splice(at + i..=at + i, odd.bytes()));
            }
        }
    }
}

#[test]
fn spoilt_files_are_read_or_refused_with_a_place() {
    let paths = examples().expect("the examples are listed");
    let examples: Vec<_> = paths.iter().map(|p| fs::read(p).expect("an example is read")).collect();
    let mut dice = Dice(0x7121_5eed);
    let (mut refused, mut set_out) = (0, 0);
    let (mut slowest, mut slowest_plan) = (Duration::ZERO, Duration::ZERO);
    for round in 0..6000 {
        let mut bytes = examples[round % examples.len()].clone();
        for _ in 0..=dice.below(3) {
            spoil(&mut bytes, &mut dice);
        }
        let begun = Instant::now();
        let read = file::decode(bytes, "p.ron").and_then(|text| file::checked(&text, "p.ron"));
        slowest = slowest.max(begun.elapsed());
        if let Err(e) = &read {
            refused += 1;
            for line in e.to_string().lines() {
                let mut parts = line.strip_prefix("p.ron:").unwrap_or("").split(':');
                let mut place = || parts.next().and_then(|n| n.parse::<usize>().ok()).is_some_and(|n| n > 0);
                assert!(place() && place(), "round {round}: no place in: {e}");
            }
        }
        // What still reads is set out and checked like any other, however odd the wall has become.
        if let Ok(project) = read {
            let begun = Instant::now();
            assert!(Report::of(project).is_ok(), "round {round}: a checked project has no plan");
            set_out += 1;
            slowest_plan = slowest_plan.max(begun.elapsed());
        }
    }
    assert!(set_out > 300, "only {set_out} could be set out");
    assert!(slowest_plan < HANG, "one plan took {slowest_plan:?}");
    assert!(refused > 3000, "only {refused} of 6000 were refused: the files are not spoilt enough");
    assert!(slowest < HANG, "one file took {slowest:?}");
}

/// The places of the numbers of a text.
fn numbers(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let bytes = text.as_bytes();
    let mut i = 0;
    while i < bytes.len() {
        let begins = bytes[i].is_ascii_digit() && matches!(bytes.get(i.wrapping_sub(1)), Some(b' ' | b'('));
        let length = bytes[i..].iter().take_while(|b| b.is_ascii_digit() || **b == b'.').count();
        if begins {
            found.push((i, i + length));
        }
        i += length.max(1);
    }
    found
}

/// Longer than this is a hang, however busy the machine.
const HANG: Duration = Duration::from_secs(60);

/// Walls made odd by other numbers.
const ROUNDS: usize = 400;

#[test]
fn odd_numbers_make_odd_walls_that_are_set_out_or_refused() {
    let odd = [
        "0",
        "-0",
        "1",
        "-1",
        "0.001",
        "3.3",
        "74.9999999",
        "75",
        "-450",
        "899",
        "5250",
        "1e-9",
        "9999",
        "12345.678",
        "250000",
        "1e7",
        "-9999999",
    ];
    let paths = examples().expect("the examples are listed");
    let examples: Vec<_> = paths.iter().map(|p| fs::read_to_string(p).expect("an example is read")).collect();
    let mut dice = Dice(0x0dd_5eed);
    let (mut set_out, mut slowest) = (0, (Duration::ZERO, 0));
    for round in 0..ROUNDS {
        let mut text = examples[round % examples.len()].clone();
        for _ in 0..=dice.below(2) {
            // Any number but the format.
            let places = numbers(&text);
            let (from, to) = places[1 + dice.below(places.len() - 1)];
            text.replace_range(from..to, odd[dice.below(odd.len())]);
        }
        let begun = Instant::now();
        if let Ok(project) = file::checked(&text, "p.ron") {
            assert!(Report::of(project).is_ok(), "round {round}: a checked project has no plan");
            set_out += 1;
        }
        slowest = slowest.max((begun.elapsed(), round));
    }
    assert!(set_out > ROUNDS / 3, "only {set_out} of {ROUNDS} could be set out");
    assert!(slowest.0 < HANG, "round {} took {:?}", slowest.1, slowest.0);
}

#[test]
fn large_and_deep_files_do_not_hang() {
    let many = "(name: \"A\", outline: [(0, 0), (9, 0), (9, 9)]),".repeat(20_000);
    let commas = ",".repeat(1_000_000);
    let values = "1,".repeat(500_000);
    for (text, fits) in [
        (format!("(format: 1, title: \"T\", elevations: [{many}])"), true),
        (format!("(format: 1, title: \"T\", elevations: [{commas}])"), false),
        (format!("(format: 1, title: \"T\", elevations: [{values}])"), false),
        (format!("(format: 1, title: \"{}", "a".repeat(2_000_000)), false),
        ("[".repeat(2_000_000), false),
        ("/*".repeat(1_000_000), false),
        ("#!".repeat(1_000_000), false),
        ("\n".repeat(2_000_000), false),
        ("r#".repeat(1_000_000), false),
        ("'".repeat(1_000_000), false),
    ] {
        let begun = Instant::now();
        assert_eq!(file::parse(&text, "p.ron").is_ok(), fits);
        let took = begun.elapsed();
        assert!(took < Duration::from_secs(8), "{text:.20}… took {took:?}");
    }
}

//! The bodies of the fuzz targets on every seed of their corpus, and on bytes from a fixed generator.

use std::fs;

use proptest::collection::vec;
use proptest::prelude::any;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use tiewright_tests::console::repository;
use tiewright_tests::fuzz_bodies::{check_ties, load, set_out};

/// Seeds of a target, in order of name.
fn seeds(target: &str) -> Vec<Vec<u8>> {
    let folder = repository().join("tests/fuzz/corpus").join(target);
    let mut paths: Vec<_> =
        fs::read_dir(folder).expect("a corpus").map(|e| e.expect("a seed").path()).collect();
    paths.sort();
    assert!(paths.len() >= 5, "only {} seeds for {target}", paths.len());
    paths.iter().map(|p| fs::read(p).expect("a seed")).collect()
}

/// Runs a body on every seed, on seeds with bytes put over them, and on bytes alone.
fn run(target: &str, cases: u32, body: fn(&[u8])) {
    let seeds = seeds(target);
    seeds.iter().for_each(|s| body(s));
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let edits = vec((any::<u16>(), any::<u8>()), 0..8);
    runner
        .run(&(0..seeds.len(), edits, vec(any::<u8>(), 0..160)), |(seed, edits, tail)| {
            let mut bytes = seeds[seed].clone();
            for (at, byte) in edits {
                let n = bytes.len().max(1);
                if let Some(b) = bytes.get_mut(usize::from(at) % n) {
                    *b = byte;
                }
            }
            body(&bytes);
            body(&tail);
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{target}: {e}"));
}

#[test]
fn project_files() {
    run("load", 400, load);
}

#[test]
fn walls_set_out() {
    run("set_out", 200, set_out);
}

#[test]
fn ties_checked() {
    run("check", 300, check_ties);
}

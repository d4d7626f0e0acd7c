//! The fuzz targets on the files of their corpus: what must hold for any bytes holds for these.
#![cfg(test)]

use std::path::{Path, PathBuf};

#[allow(
    unreachable_pub,
    reason = "the fuzz targets are another crate, to which these are public"
)]
#[path = "../fuzz/src/lib.rs"]
mod targets;

fn files(target: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fuzz/corpus")
        .join(target);
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    files
}

#[test]
fn every_file_of_the_corpus_is_replayed() {
    for (name, any) in targets::TARGETS {
        let files = files(name);
        assert!(files.len() >= 10, "{name} has {} files", files.len());
        for file in &files {
            let shown = file
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let bytes = std::fs::read(file).unwrap();
            let replayed = std::panic::catch_unwind(|| any(&bytes));
            assert!(replayed.is_ok(), "{name} does not hold for {shown}");
        }
        println!("{name}: {} files replayed", files.len());
    }
}

/// Files are of use only if they get past the door.
#[test]
fn half_of_the_checks_come_as_far_as_a_report() {
    let files = files("check");
    let reports = files
        .iter()
        .filter(|file| targets::check::reports(&std::fs::read(file).unwrap()))
        .count();
    assert!(
        2 * reports >= files.len(),
        "{reports} of {} come as far as a report",
        files.len()
    );
}

#[test]
fn half_of_the_benches_come_as_far_as_a_report() {
    let files = files("bench");
    let reports = files
        .iter()
        .filter(|file| targets::bench::reports(&std::fs::read(file).unwrap()))
        .count();
    assert!(
        2 * reports >= files.len(),
        "{reports} of {} come as far as a report",
        files.len()
    );
}

#[test]
fn half_of_the_documents_are_read_as_json_and_as_yaml() {
    let files = files("document");
    let trees = files
        .iter()
        .filter(|file| targets::document::trees(&std::fs::read(file).unwrap()))
        .count();
    assert!(
        2 * trees >= files.len(),
        "{trees} of {} are trees",
        files.len()
    );
}

#[test]
fn most_of_the_plans_that_say_less_are_compared() {
    let files = files("ignorance");
    let compared = files
        .iter()
        .filter(|file| targets::ignorance::holds(&std::fs::read(file).unwrap()).compared > 2)
        .count();
    assert!(
        3 * compared >= 2 * files.len(),
        "{compared} of {} are compared",
        files.len()
    );
}

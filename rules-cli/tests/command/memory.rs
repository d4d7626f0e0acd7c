//! How much memory a stream and a check of many files take, by what Linux keeps of a process.

use std::io::{BufRead, BufReader, Write};
use std::process::Stdio;

use crate::running::{Folder, RULES};

const MIB: usize = 1024 * 1024;

/// The most memory a process had so far, in bytes.
fn peak(process: u32) -> usize {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).expect("a process");
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kibibytes: String = line
        .expect("its peak")
        .chars()
        .filter(char::is_ascii_digit)
        .collect();
    kibibytes.parse::<usize>().expect("a number") * 1024
}

/// The peak of a stream of so many lines of such a size, looked up while it waits for more.
fn peak_of(line: usize, many: usize) -> usize {
    let folder = Folder::with("rules.yaml", RULES);
    let mut child = folder
        .command()
        .args(["stream", "--rules", "rules.yaml"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the command");
    let mut input = child.stdin.take().expect("standard input");
    let output = child.stdout.take().expect("standard output");
    let text = format!("{{\"format\":1,\"title\":\"{}\"}}\n", "x".repeat(line));
    let writer = std::thread::spawn(move || {
        for _ in 0..many {
            input.write_all(text.as_bytes()).expect("it reads");
        }
        input
    });
    let records = BufReader::new(output).lines().take(many).count();
    assert_eq!(records, many);
    let peak = peak(child.id());
    drop(writer.join().expect("the writer"));
    assert_eq!(child.wait().expect("an end").code(), Some(2));
    peak
}

/// Were they taken 64 at a time, they would need 128 MiB. One is worked and one is in the reader's
/// hands; working on one takes a few times its size.
#[test]
fn heavy_lines_do_not_add_up() {
    let (one, many) = (peak_of(2 * MIB, 1), peak_of(2 * MIB, 64));
    assert!(many < one + 32 * MIB, "{many}, of one line {one}");
}

/// The peak of a check of so many copies of a plan, looked up when most of their reports have been
/// read: the rest is more than a pipe holds.
fn peak_of_copies(many: usize) -> usize {
    let folder = Folder::new();
    for number in 0..many {
        let name = folder.path().join(format!("{number:04}.yaml"));
        std::fs::write(name, include_str!("../../demo/helmet-lamp.yaml")).expect("a file");
    }
    let mut child = folder
        .command()
        .args(["check", "--format", "json", "."])
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command");
    let output = BufReader::new(child.stdout.take().expect("standard output"));
    let reports = output.lines().map(|line| line.expect("text"));
    let mut begun = reports.filter(|line| line.starts_with("    \"proposal\":"));
    assert_eq!(begun.by_ref().take(many - 4).count(), many - 4);
    let peak = peak(child.id());
    assert_eq!(begun.count(), 4);
    assert_eq!(child.wait().expect("an end").code(), Some(1));
    peak
}

/// Were all reports kept until the last, these would need some 100 MiB more.
#[test]
fn files_do_not_add_up() {
    let (few, many) = (peak_of_copies(30), peak_of_copies(300));
    assert!(many < few + 8 * MIB, "{many}, of few {few}");
}

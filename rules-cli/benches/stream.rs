//! How fast `cellrules stream` is beside a program that only parses the same lines and writes as many
//! bytes of JSON: one core each.
//!
//! Both are processes of their own that read one file and write to another, kept on one processor by
//! `taskset` (of util-linux). This program is the second one too, when it is started with the word
//! `re-emit` and a record: it parses each line and writes the record again.
#![allow(
    clippy::indexing_slicing,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(clippy::print_stdout, reason = "the table is what it is for")]

use std::fs::File;
use std::io::{self, BufRead, BufReader, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::Value;

/// Lines of a file.
const LINES: usize = 5_000;
/// Runs of each program, in turns; the middle one counts.
const RUNS: usize = 7;

fn main() -> io::Result<()> {
    let words: Vec<String> = std::env::args().collect();
    if let Some(at) = words.iter().position(|word| word == "re-emit") {
        return re_emit(Path::new(&words[at + 1]));
    }
    if Command::new("taskset").arg("--version").output().is_err() {
        println!("nothing is timed: there is no `taskset` here to keep both sides on one core");
        return Ok(());
    }
    let folder = std::env::temp_dir().join(format!("cellrules-stream-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    println!(
        "{LINES} lines, one core each\n\n| what | bytes of a record | lines a second | part |\n| --- | ---: | ---: | ---: |"
    );
    for (name, proposal) in [
        ("one cell", "marshal-torch.json"),
        (
            "four cells, all in order",
            "../../rulesets/benches/twenty/sound.json",
        ),
    ] {
        let lines = written(&folder, proposal)?;
        compare(&format!("{name}, lean records"), &lines, &["stream", "-"])?;
        compare(
            &format!("{name}, whole reports"),
            &lines,
            &["stream", "--full", "-"],
        )?;
    }
    std::fs::remove_dir_all(folder)
}

/// A file of one proposal, again and again.
fn written(folder: &Path, proposal: &str) -> io::Result<PathBuf> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo")
        .join(proposal);
    let value: Value = serde_json::from_str(&std::fs::read_to_string(path)?)?;
    let lines = folder.join("lines");
    std::fs::write(&lines, format!("{value}\n").repeat(LINES))?;
    Ok(lines)
}

fn compare(name: &str, lines: &Path, words: &[&str]) -> io::Result<()> {
    let (this, checker) = (
        std::env::current_exe()?,
        Path::new(env!("CARGO_BIN_EXE_cellrules")),
    );
    let (out, record) = (lines.with_file_name("out"), lines.with_file_name("record"));
    time(checker, words, lines, &out)?;
    let first = BufReader::new(File::open(&out)?).lines().next();
    std::fs::write(&record, first.unwrap_or_else(|| Ok(String::new()))?)?;
    let re_emit = ["re-emit", record.to_str().unwrap_or_default()];
    let programs: [(&str, &Path, &[&str]); 2] = [
        ("parsed, as much written", &this, &re_emit),
        ("checked", checker, words),
    ];
    let mut times = vec![Vec::new(); programs.len()];
    for _ in 0..RUNS {
        for ((_, program, words), times) in programs.iter().zip(&mut times) {
            times.push(time(program, words, lines, &out)?);
        }
    }
    let middle = |times: &mut Vec<Duration>| {
        times.sort();
        times[RUNS / 2].as_secs_f64()
    };
    let seconds: Vec<f64> = times.iter_mut().map(middle).collect();
    let bytes = std::fs::metadata(&record)?.len();
    for ((what, ..), taken) in programs.iter().zip(&seconds) {
        println!(
            "| {name}: {what} | {bytes} | {:.0} | {:.0} % |",
            LINES as f64 / taken,
            100.0 * seconds[0] / taken
        );
    }
    Ok(())
}

fn time(program: &Path, words: &[&str], lines: &Path, out: &Path) -> io::Result<Duration> {
    let start = Instant::now();
    let status = Command::new("taskset")
        .args(["-c", "0"])
        .arg(program)
        .args(words)
        .stdin(File::open(lines)?)
        .stdout(File::create(out)?)
        .stderr(Stdio::null())
        .status()?;
    let taken = start.elapsed();
    // A refusal is an answer; what could not be read is not.
    assert!(
        status.code().is_some_and(|code| code <= 2),
        "{} ended with {status}",
        program.display()
    );
    Ok(taken)
}

fn re_emit(record: &Path) -> io::Result<()> {
    let record: Value = serde_json::from_slice(&std::fs::read(record)?)?;
    let mut out = BufWriter::with_capacity(128 * 1024, io::stdout().lock());
    let mut input = BufReader::with_capacity(128 * 1024, io::stdin().lock());
    let mut line = Vec::new();
    while input.read_until(b'\n', &mut line)? > 0 {
        std::hint::black_box(serde_json::from_slice::<Value>(&line)?);
        serde_json::to_writer(&mut out, &record)?;
        out.write_all(b"\n")?;
        line.clear();
    }
    out.flush()
}

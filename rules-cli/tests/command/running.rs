//! Running the command in a folder of its own.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};

/// The exit status and the output of a run.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    /// All of it, for a snapshot.
    pub(crate) fn whole(&self) -> String {
        format!(
            "exit code {}\n--- standard output\n{}--- standard error\n{}",
            self.code, self.out, self.err
        )
    }
}

/// A folder that goes away with the test.
pub(crate) struct Folder(PathBuf);

static FOLDERS: AtomicUsize = AtomicUsize::new(0);

impl Folder {
    pub(crate) fn new() -> Self {
        let number = FOLDERS.fetch_add(1, Ordering::Relaxed);
        let folder =
            std::env::temp_dir().join(format!("cellrules-test-{}-{number}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        Self(folder)
    }

    /// A folder with one file.
    pub(crate) fn with(name: &str, contents: impl AsRef<[u8]>) -> Self {
        Self::new().and(name, contents)
    }

    pub(crate) fn and(self, name: &str, contents: impl AsRef<[u8]>) -> Self {
        std::fs::write(self.0.join(name), contents).expect("a file");
        self
    }

    pub(crate) fn path(&self) -> &std::path::Path {
        &self.0
    }

    /// Runs the command in the folder, with nothing on standard input.
    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        run(self.command().args(args), b"")
    }

    pub(crate) fn run_with(&self, args: &[&str], stdin: impl AsRef<[u8]>) -> Ran {
        run(self.command().args(args), stdin.as_ref())
    }

    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cellrules"));
        command
            .current_dir(&self.0)
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE")
            .env("TERM", "xterm");
        command
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        drop(std::fs::remove_dir_all(&self.0));
    }
}

/// Runs a command with something on standard input. Whatever happens, it must not have panicked.
pub(crate) fn run(command: &mut Command, stdin: &[u8]) -> Ran {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command");
    let mut input = child.stdin.take().expect("standard input");
    let stdin = stdin.to_vec();
    // The command may stop reading before all is written: that is its right.
    let writer = std::thread::spawn(move || drop(input.write_all(&stdin)));
    let output = child.wait_with_output().expect("its output");
    writer.join().expect("the writer");
    let ran = Ran {
        code: output.status.code().expect("an exit code and no signal"),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        err: String::from_utf8(output.stderr).expect("UTF-8"),
    };
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    ran
}

/// A small ruleset of the tests: a caution that refuses and warns, one that asks yes or no, one
/// about charging.
pub(crate) const RULES: &str = "
format: 1
ruleset: marshal
version: 1.2.0
title: Lamps of the marshals
limits:
  rest_least: { value: 2.50 V, stricter: higher, meaning: Rest voltage under which a cell is retired, basis: [{ common_practice: the club's }] }
cautions:
  - id: rest-low
    title: Rest voltage low
    about: each cell
    refuse_unless: cell.rest_voltage >= limit.rest_least
    warn_unless: cell.rest_voltage >= 3.0 V
    if_unmeasured: warn
    reason: \"{cell.id} rests at {cell.rest_voltage}. Under {limit.rest_least} a cell is retired.\"
    remedy: Retire it. Take it to a collection point.
    basis: [{ common_practice: the club's }]
  - id: bare-cell
    title: Cell without protection
    about: each cell
    refuse_unless: cell.protected
    reason: \"{cell.id} is not protected.\"
    basis: [{ from_memory: as everybody does }]
";

/// A proposal of one cell with the given keys.
pub(crate) fn one_cell(keys: &str) -> String {
    format!(
        "format: 1\ntitle: Marshal's torch\narrangement: 1S1P\ncells:\n  - {{ id: K4, {keys} }}\n"
    )
}

/// A proposal that the small ruleset passes.
pub(crate) fn good() -> String {
    one_cell("protected: yes, rest: { voltage: 3.87 V }")
}

/// Checks what is on standard input against the small ruleset, and shows everything.
pub(crate) fn check(stdin: impl AsRef<[u8]>) -> Ran {
    Folder::with("rules.yaml", RULES).run_with(&["check", "--full", "--rules", "rules.yaml"], stdin)
}

//! Files that are none, and names that are no text. What can be named differs between systems; here
//! it is as on Linux.

use std::ffi::OsStr;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::process::CommandExt;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::running::{Folder, RULES, good, one_cell, run};

/// Runs the command with nothing on standard input, for some seconds at most; its exit code and
/// what it said.
fn in_time(folder: &Folder, args: &[&str]) -> (Option<i32>, String) {
    let mut child = folder
        .command()
        .args(args)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command");
    let started = Instant::now();
    while child.try_wait().expect("a state").is_none() {
        if started.elapsed() > Duration::from_secs(20) {
            child.kill().expect("an end");
            panic!("{args:?} waits for ever");
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    let output = child.wait_with_output().expect("its output");
    let said = [output.stdout, output.stderr].concat();
    (
        output.status.code(),
        String::from_utf8(said).expect("UTF-8"),
    )
}

/// A folder with a pipe that nobody writes to.
fn with_pipe() -> Folder {
    let extends = "format: 1\nruleset: e\nversion: 1\ntitle: E\nextends: [./pipe.yaml]\n";
    let folder = Folder::with("rules.yaml", RULES)
        .and("torch.yaml", good())
        .and("extends.yaml", extends);
    let made = Command::new("mkfifo")
        .arg(folder.path().join("pipe.yaml"))
        .status();
    assert!(made.is_ok_and(|made| made.success()), "a pipe");
    folder
}

#[test]
fn a_pipe_that_nobody_writes_to_is_not_waited_for() {
    let folder = with_pipe();
    for args in [
        ["check", "pipe.yaml"].as_slice(),
        &["check", "--rules", "pipe.yaml", "torch.yaml"],
        &["check", "--rules", "extends.yaml", "torch.yaml"],
        &["figures", "pipe.yaml"],
        &["stream", "pipe.yaml"],
        &["vet", "pipe.yaml"],
        &["cases", "pipe.yaml"],
        &["merged", "pipe.yaml"],
        &["explain", "x", "--rules", "pipe.yaml"],
    ] {
        let (code, said) = in_time(&folder, args);
        assert_eq!(code, Some(2), "{args:?}: {said}");
        assert!(
            said.contains("`pipe.yaml` is a named pipe\n"),
            "{args:?}: {said}"
        );
    }
}

#[test]
fn a_device_or_a_socket_is_not_waited_for() {
    let folder = Folder::with("rules.yaml", RULES);
    let _listens = std::os::unix::net::UnixListener::bind(folder.path().join("socket"));
    for (name, what) in [
        ("/dev/zero", "a device"),
        ("/dev/null", "a device"),
        ("/dev/tty", "a device"),
        ("socket", "a socket"),
        (".", "a folder"),
    ] {
        for command in ["figures", "stream"] {
            // Of a folder the files are read, but for a stream.
            if (command, name) == ("figures", ".") {
                continue;
            }
            let (code, said) = in_time(&folder, &[command, "--rules", "rules.yaml", name]);
            let refused = format!("error: `{name}` is {what}\n");
            assert!(code == Some(2) && said.starts_with(&refused), "{said}");
        }
    }
}

/// That is what a shell gives for `<(...)`: a name of a pipe that is open already.
#[test]
fn a_pipe_that_is_open_already_is_read_by_its_name() {
    let folder = Folder::with("rules.yaml", RULES).and("torch.yaml", good());
    for pipe in ["/dev/stdin", "/dev/fd/0", "/proc/self/fd/0"] {
        let checked = folder.run_with(&["check", "--rules", "rules.yaml", pipe], good());
        assert_eq!((checked.code, checked.err.as_str()), (0, ""), "{pipe}");
        let ruled = folder.run_with(&["check", "--rules", pipe, "torch.yaml"], RULES);
        assert_eq!((ruled.code, ruled.err.as_str()), (0, ""), "{pipe}");
        let streamed = folder.run_with(&["stream", "--rules", "rules.yaml", pipe], "\n");
        assert_eq!(streamed.code, 3, "{pipe}: {}", streamed.err);
    }
}

/// A ruleset may come from elsewhere; it has no say over what this process waits for.
#[test]
fn a_ruleset_cannot_extend_a_pipe() {
    let text = "format: 1\nruleset: e\nversion: 1\ntitle: E\nextends: [/dev/stdin]\n";
    let folder = Folder::with("extends.yaml", text).and("torch.yaml", good());
    let ran = folder.run_with(&["check", "--rules", "extends.yaml", "torch.yaml"], RULES);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(
        ran.err.contains("`/dev/stdin` is a named pipe\n"),
        "{}",
        ran.err
    );
}

const NO_TEXT: &[u8] = b"caf\xe9.yaml";

/// A name is bytes here; messages show of it what can be shown.
#[test]
fn a_file_may_have_a_name_that_is_no_text() {
    let name = OsStr::from_bytes(NO_TEXT);
    let folder = Folder::with("rules.yaml", RULES);
    let asked = |command: &str| {
        let mut asked = folder.command();
        run(
            asked.args([command, "--rules", "rules.yaml"]).arg(name),
            b"",
        )
    };
    std::fs::write(folder.path().join(name), good()).expect("a file");
    for command in ["check", "figures"] {
        let ran = asked(command);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.whole());
    }
    std::fs::write(folder.path().join(name), one_cell("hue: 3")).expect("a file");
    let said = asked("check").err;
    assert!(said.starts_with("caf\u{fffd}.yaml:5:15: error: "), "{said}");
    let ran = asked("stream");
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("5 could not be used"), "{}", ran.err);
}

/// Rulesets are named in texts, by each other and in reports.
#[test]
fn an_argument_that_must_be_a_text_is_said_to_be_none() {
    let folder = Folder::with("rules.yaml", RULES);
    let wrong = OsStr::from_bytes(NO_TEXT);
    for before in [
        ["check", "--rules"].as_slice(),
        &["stream", "--rules"],
        &["vet"],
        &["cases"],
        &["merged"],
        &["explain"],
        &["schema"],
        &["label", "--voltage"],
        &["label", "--code"],
        &["sort"],
        &["sort", "--as-of"],
        &["tag", "bench.yaml"],
    ] {
        let ran = run(folder.command().args(before).arg(wrong), b"");
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
        assert!(
            ran.err.contains("'caf\u{fffd}.yaml'") && ran.err.contains("it is not UTF-8"),
            "{}",
            ran.err
        );
    }
    for before in [["check", "--color"].as_slice(), &[], &["check", "--format"]] {
        let ran = run(folder.command().args(before).arg(wrong), b"");
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    }
}

/// The name by which it is called is an argument too.
#[test]
fn the_command_may_be_called_by_a_name_that_is_no_text() {
    let folder = Folder::with("rules.yaml", RULES);
    let called = |args: &[&str]| {
        let mut command = folder.command();
        command.arg0(OsStr::from_bytes(b"cell\xffrules")).args(args);
        run(&mut command, good().as_bytes())
    };
    assert_eq!(called(&["check", "--rules", "rules.yaml"]).code, 0);
    // A stray ruleset is looked up among the arguments, to give a tip.
    let stray = called(&["cautions", "rules.yaml"]);
    assert_eq!(stray.code, 2, "{}", stray.whole());
    assert!(stray.err.contains("--rules rules.yaml"), "{}", stray.err);
    assert_eq!(called(&["chek"]).code, 2);
    assert_eq!(called(&["--help"]).code, 0);
}

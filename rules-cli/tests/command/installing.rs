//! What a package installs beside the command, given to the programs that read it. Where one of them is
//! not there, the test says so.

use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::running::Folder;

/// What a program makes of arguments; none, if it is not there.
fn run(program: &str, arguments: &[&str], folder: &Path) -> Option<Output> {
    let mut command = Command::new(program);
    command
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null());
    let output = command.env("LC_ALL", "C.UTF-8").output().ok();
    if output.is_none() {
        println!("left out: there is no {program}");
    }
    output
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}

/// A folder with what is printed for a shell, and its name.
fn completions(shell: &str) -> (Folder, String) {
    let folder = Folder::new();
    let ran = folder.run(&["completions", shell]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{shell}");
    let name = format!("cellrules.{shell}");
    (folder.and(&name, &ran.out), name)
}

#[test]
fn shells_can_read_their_completions() {
    for shell in ["bash", "zsh", "fish"] {
        let (folder, name) = completions(shell);
        if let Some(output) = run(shell, &["-n", &name], folder.path()) {
            assert!(output.status.success(), "{shell}: {output:?}");
            assert_eq!(text(&output.stderr), "");
        }
    }
    for shell in ["elvish", "powershell"] {
        let (folder, name) = completions(shell);
        let script = std::fs::read_to_string(folder.path().join(name)).expect("it");
        assert!(script.contains("cellrules;check"), "{shell}");
    }
}

#[test]
fn bash_completes_commands_options_and_forms() {
    let (folder, name) = completions("bash");
    let completed = |words: &[&str]| {
        let last = words.len() - 1;
        let (word, before) = (words[last], words[last - 1]);
        let script = format!(
            "source {name}; COMP_WORDS=({}); COMP_CWORD={last}; \
             _cellrules cellrules '{word}' '{before}'; echo \"${{COMPREPLY[@]}}\"",
            words.join(" ")
        );
        let output = run("bash", &["--norc", "-c", &script], folder.path())?;
        Some(text(&output.stdout).trim().to_owned())
    };
    for (words, expected) in [
        (&["cellrules", "che"][..], "check"),
        (&["cellrules", "check", "--form"], "--format"),
        (&["cellrules", "check", "--format", "sa"], "sarif"),
        (&["cellrules", "start", "be"], "bench"),
    ] {
        if let Some(found) = completed(words) {
            assert_eq!(found, expected, "{words:?}");
        }
    }
}

/// The commands, as the help lists them.
fn commands() -> Vec<String> {
    let help = Folder::new().run(&["help"]).out;
    let listed = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let listed = listed.take_while(|line| line.starts_with("  "));
    let names = listed.filter(|line| !line.starts_with("   "));
    let names = names.filter_map(|line| line.split_whitespace().next());
    names
        .filter(|name| *name != "help")
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_command_has_a_page_that_man_can_show() {
    let folder = Folder::new();
    let ran = folder.run(&["manual", "-o", "share/man1"]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, "", ""));
    let pages = folder.path().join("share/man1");
    let commands = commands();
    assert!(commands.len() > 20, "{commands:?}");
    let mut expected = vec!["cellrules.1".to_owned()];
    expected.extend(commands.iter().map(|name| format!("cellrules-{name}.1")));
    expected.sort();
    let entries = std::fs::read_dir(&pages).expect("a folder");
    let name = |entry: std::fs::DirEntry| entry.file_name().to_string_lossy().into_owned();
    let mut found: Vec<String> = entries.map(|entry| name(entry.expect("it"))).collect();
    found.sort();
    assert_eq!(found, expected);
    for page in &found {
        reads_well(page, &pages);
    }
}

/// A page is shown without a warning of the formatter (`-ww` asks for all), with each line of the examples
/// that the help has.
fn reads_well(page: &str, pages: &Path) {
    let arguments = ["-man", "-Tutf8", "-P-cbou", "-ww", page];
    let Some(output) = run("groff", &arguments, pages) else {
        return;
    };
    assert!(output.status.success(), "{page}: {output:?}");
    assert_eq!(text(&output.stderr), "", "{page}");
    let shown = text(&output.stdout);
    let command = page.trim_end_matches(".1").replacen("cellrules", "help", 1);
    let arguments: Vec<&str> = command.splitn(2, '-').collect();
    let help = Folder::new().run(&arguments).out;
    let lines = help.lines().filter(|line| line.starts_with("  cellrules "));
    let mut count = 0;
    for line in lines {
        let line = line.trim();
        assert!(
            shown.lines().any(|one| one.trim() == line),
            "{page}: {line}: {shown}"
        );
        count += 1;
    }
    assert!(
        count > 0 && shown.contains("DESCRIPTION"),
        "{page}: {shown}"
    );
}

#[test]
fn the_first_page_is_the_one_that_is_written() {
    let folder = Folder::new();
    let ran = folder.run(&["manual"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(
        ran.out.contains(".TH cellrules 1") && ran.out.contains("local"),
        "{}",
        ran.whole()
    );
    let folder = folder.and("taken", "");
    let ran = folder.run(&["manual", "-o", "taken"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(ran.err.contains("`taken`"), "{}", ran.whole());
}

//! Standard input and output, and pipes that close.

use std::process::Stdio;

use crate::running::{Folder, RULES, good, one_cell};

#[test]
fn standard_input_by_dash_or_by_default() {
    let folder = Folder::with("rules.yaml", RULES);
    let by_default = folder.run_with(&["check", "--rules", "rules.yaml"], good());
    let by_dash = folder.run_with(&["check", "--rules", "rules.yaml", "-"], good());
    assert_eq!((by_default.code, &by_default.out), (0, &by_dash.out));
    assert!(by_default.out.contains("(stdin)\n"), "{}", by_default.out);
}

#[test]
fn json_is_read_from_standard_input_too() {
    let json = "{ \"format\": 1, \"title\": \"Torch\", \"arrangement\": \"1S1P\",\n\t\"cells\": [{ \"id\": \"K4\", \"protected\": true, \"rest\": { \"voltage\": \"3.87 V\" } }] }";
    let ran = Folder::with("rules.yaml", RULES).run_with(
        &["check", "--rules", "rules.yaml", "--format", "json"],
        json,
    );
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let report: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(report["verdict"], "pass");
}

#[test]
fn standard_input_and_files_together() {
    let folder = Folder::with("rules.yaml", RULES).and(
        "torch.yaml",
        one_cell("protected: no, rest: { voltage: 3.87 V }"),
    );
    let ran = folder.run_with(
        &["check", "--rules", "rules.yaml", "-", "torch.yaml"],
        good(),
    );
    assert_eq!(ran.code, 1);
    let start = "pass    Marshal's torch: 2 cautions apply, and none speaks against it (stdin)\n\
                 refuse  Marshal's torch: 1 against it (torch.yaml)\n\
                 \n2 proposals: 1 refuse, 0 warn, 1 pass\n";
    assert!(ran.out.starts_with(start), "{}", ran.out);
}

/// The reader has gone before anything is written: the verdict is kept, and there is no message.
#[test]
fn a_closed_pipe_is_no_fault() {
    let folder = Folder::with("rules.yaml", RULES)
        .and("torch.yaml", good())
        .and("refused.yaml", one_cell("protected: no"));
    for (args, code) in [
        (
            ["check", "--rules", "rules.yaml", "torch.yaml"].as_slice(),
            0,
        ),
        (&["check", "--rules", "rules.yaml", "refused.yaml"], 1),
        (&["merged", "rescued-cells"], 0),
        (&["facts", "--format", "json"], 0),
        (&["--help"], 0),
    ] {
        let mut child = folder
            .command()
            .args(args)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the command");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("its output");
        assert_eq!(
            (
                output.status.code(),
                String::from_utf8_lossy(&output.stderr).as_ref()
            ),
            (Some(code), ""),
            "{args:?}"
        );
    }
}

/// A device that takes nothing, where there is one: the verdict cannot be written, and that is an
/// error.
#[cfg(target_os = "linux")]
#[test]
fn an_output_that_cannot_be_written_is_an_error() {
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .expect("the device");
    let folder = Folder::with("rules.yaml", RULES).and("torch.yaml", good());
    let mut command = folder.command();
    let output = command
        .args(["check", "--rules", "rules.yaml", "torch.yaml"])
        .stdin(Stdio::null())
        .stdout(full)
        .output()
        .expect("its output");
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8_lossy(&output.stderr)
            .starts_with("error: the output cannot be written: ")
    );
}

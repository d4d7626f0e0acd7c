//! Parts of a report's text that the demo does not show.

use crate::running::{Folder, RULES, check, good, one_cell};

const LOOSENED: &str = "format: 1\nruleset: relay\nversion: 1.0.0\ntitle: The night relay\nextends: [./rules.yaml]\nadjust:
  limits: { rest_least: { to: 2.20 V, because: the lamps stop by themselves } }
  cautions: { bare-cell: { drop: yes, because: the lamp has a circuit } }\n";

fn settings() -> insta::internals::SettingsBindDropGuard {
    let mut settings = insta::Settings::clone_current();
    settings.add_filter("sha256:[0-9a-f]+", "sha256:[digest]");
    settings.bind_to_scope()
}

/// Cells with the same text are put together; differences are said of each.
#[test]
fn cells_that_say_the_same_are_put_together() {
    let _settings = settings();
    let proposal = "format: 1\ntitle: Helmet lamp\narrangement: 3S1P\ncells:
  - { id: K4, protected: yes, rest: { voltage: 2.31 V } }
  - { id: K7, protected: yes, rest: { voltage: 1.94 V } }
  - { id: K9, protected: yes }\n";
    insta::assert_snapshot!(check(proposal).out);
}

#[test]
fn loosenings_are_shown() {
    let _settings = settings();
    let folder = Folder::with("rules.yaml", RULES).and("local.yaml", LOOSENED);
    let ran = folder.run_with(
        &["check", "--full", "--rules", "local.yaml"],
        one_cell("rest: { voltage: 3.87 V }"),
    );
    assert_eq!(ran.code, 0);
    insta::assert_snapshot!(ran.out);
}

#[test]
fn text_is_wrapped_to_the_width_asked_for() {
    let folder = Folder::with("rules.yaml", RULES);
    for width in [40_usize, 60, 80, 100] {
        let width_text = width.to_string();
        let ran = folder.run_with(
            &["check", "--rules", "rules.yaml", "--width", &width_text],
            one_cell("protected: no, rest: { voltage: 2.31 V }"),
        );
        let widest = ran
            .out
            .lines()
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        assert!(
            widest <= width && widest > width - 15,
            "{width}: {widest}\n{}",
            ran.out
        );
    }
}

/// The first page leaves out reasons and sources, and says how to get at them. JSON has them always.
#[test]
fn the_first_page_says_how_to_get_at_the_rest() {
    let folder = Folder::with("rules.yaml", RULES).and("local.yaml", LOOSENED);
    let ran = |more: &[&str]| {
        folder.run_with(
            &[&["check", "--rules", "local.yaml"], more].concat(),
            one_cell("protected: no"),
        )
    };
    let (page, full) = (ran(&[]), ran(&["--full"]));
    assert_eq!((page.code, full.code, page.err.as_str()), (0, 0, ""));
    assert!(full.out.contains("\nHow it was checked\n"), "{}", full.out);
    assert!(!page.out.contains("How it was checked"), "{}", page.out);
    assert!(page.out.contains("\nLoosened by "), "{}", page.out);
    assert!(
        page.out
            .contains("--full. One caution: cellrules explain NAME\n"),
        "{}",
        page.out
    );
    assert_eq!(
        ran(&["--format", "json"]).out,
        ran(&["--format", "json", "--full"]).out
    );
}

#[test]
fn the_questions_are_asked_by_themselves() {
    let folder = Folder::with("rules.yaml", RULES);
    let ran = |more: &[&str], proposal: String| {
        let args = [&["check", "--rules", "rules.yaml"], more].concat();
        folder.run_with(&args, proposal)
    };
    let asked = ran(&["-q"], one_cell("protected: yes"));
    assert_eq!(asked.code, 0, "{}", asked.whole());
    assert!(
        asked
            .out
            .starts_with(
                "Not known yet: 1 question. With a good answer it warns no more.\n  cells[K4].rest.voltage  "
            ),
        "{}",
        asked.out
    );
    let page = ran(&[], one_cell("protected: yes")).out;
    assert!(
        page.starts_with("WARN until 1 question is answered; nothing is against it yet\n"),
        "{page}"
    );
    let nothing = ran(&["--questions"], good()).out;
    assert_eq!(nothing, "Nothing is missing that a caution asks for\n");
    assert_eq!(ran(&["-q", "-f"], good()).code, 2);
}

#[test]
fn a_pass_keeps_the_notice() {
    let ran =
        Folder::with("rules.yaml", RULES).run_with(&["check", "--rules", "rules.yaml"], good());
    let notice = "No pass overrules them, the makers' sheets, local law or";
    assert!(
        ran.out.starts_with("PASS ") && ran.out.contains(notice),
        "{}",
        ran.out
    );
}

/// What holds the verdict up has the start of its remedy beside it, whether it refuses or warns.
#[test]
fn the_list_says_what_to_do_about_what_holds_the_verdict_up() {
    let warned = check(one_cell("protected: yes, rest: { voltage: 2.81 V }")).out;
    assert!(
        warned.contains("  1  warn   Rest voltage low: cell K4\n              Retire it.\n"),
        "{warned}"
    );
    let both = "format: 1\ntitle: Helmet lamp\narrangement: 2S1P\ncells:
  - { id: K4, protected: yes, rest: { voltage: 2.31 V } }
  - { id: K7, protected: yes, rest: { voltage: 2.81 V } }\n";
    let both = check(both).out;
    assert!(
        both.contains("  1  refuse Rest voltage low: cell K4\n              Retire it.\n"),
        "{both}"
    );
    assert!(
        both.contains("  2  warn   Rest voltage low: cell K7\n\n"),
        "{both}"
    );
}

/// `RULES` with a caution that a list cut short always fails.
fn with_count() -> Folder {
    let count =
        "  - id: count-wrong\n    title: Number of cells does not agree\n    about: build\n    refuse_unless: build.listed == build.cells
    reason: \"{build.listed} of {build.cells} are listed.\"\n    basis: [{ common_practice: count }]\n";
    Folder::with("rules.yaml", format!("{RULES}{count}"))
}

/// The sentences under the title, on one line.
fn said(proposal: &str) -> String {
    let out = with_count()
        .run_with(&["check", "--full", "--rules", "rules.yaml"], proposal)
        .out;
    out.split("\n\n")
        .nth(1)
        .expect("sentences")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn cells_that_are_not_listed_are_to_be_listed_first() {
    let lamp = "format: 1\ntitle: Helmet lamp\narrangement: 2S1P\n";
    assert_eq!(
        said(lamp),
        "2 findings refuse, 1 warns. 2 of them are about what the proposal calls for and does not list: list all of it first, with what is known."
    );
    let sound = "protected: yes, rest: { voltage: 3.87 V }";
    assert_eq!(
        said(&format!("{lamp}cells: [{{ id: K4, {sound} }}]\n")),
        "2 findings refuse, 1 warns. 2 of them are about what the proposal calls for and does not list: list all of it first, with what is known."
    );
    assert!(
        said(&format!(
            "{lamp}cells: [{{ id: K4, {sound} }}, {{ id: K7, {sound} }}]\n"
        ))
        .starts_with("None of the 3 cautions")
    );
}

#[test]
fn listing_cells_does_not_hide_what_has_to_change() {
    let lamp = "format: 1\ntitle: Helmet lamp\narrangement: 2S1P\ncells: [{ id: K4, protected: no, rest: { voltage: 3.87 V } }]\n";
    assert!(
        said(lamp).ends_with("with what is known. No measurement can lift the refusal: what is proposed has to change."),
        "{}",
        said(lamp)
    );
}

/// A hundred cells do not make a report of a thousand lines, and none is left out in silence.
#[test]
fn many_cells_are_counted() {
    let cells: String = (1..=100)
        .map(|number| {
            format!("  - {{ id: K{number}, protected: no, rest: {{ voltage: 3.87 V }} }}\n")
        })
        .collect();
    let ran = check(format!(
        "format: 1\ntitle: Wall of lamps\narrangement: 100S1P\ncells:\n{cells}"
    ));
    assert_eq!(ran.code, 1);
    assert!(
        ran.out.contains("100 findings refuse (1 caution)") && ran.out.contains("K12 and 88 more"),
        "{}",
        ran.out
    );
    assert!(ran.out.lines().count() < 150, "{}", ran.out);
}

/// Results go to a file that is named for them, without colours, and problems where they always go.
#[test]
fn results_are_written_to_a_file() {
    let folder = Folder::with("rules.yaml", RULES);
    let args = ["check", "--rules", "rules.yaml", "--color", "always"];
    let shown = folder.run_with(&["check", "--rules", "rules.yaml"], good());
    let written = folder.run_with(&[&args[..], &["-o", "report.txt"]].concat(), good());
    assert_eq!(
        (written.code, written.out.as_str()),
        (0, ""),
        "{}",
        written.whole()
    );
    let text = std::fs::read_to_string(folder.path().join("report.txt")).expect("the file");
    assert_eq!(text, shown.out);
    let nowhere = folder.run_with(&[&args[..], &["-o", "none/report.txt"]].concat(), good());
    assert_eq!((nowhere.code, nowhere.out.as_str()), (2, ""));
    assert!(nowhere.err.contains("cannot be written"), "{}", nowhere.err);
}

/// What nobody answered has no reason that accuses, and no cure: it is asked, in the keys of the file.
#[test]
fn what_is_not_known_is_asked_in_full_too() {
    let full = check(one_cell("protected: yes")).out;
    assert!(
        full.contains("    Not known:  cells[K4].rest.voltage\n"),
        "{full}"
    );
    assert!(
        !full.contains("(unknown)") && !full.contains("not measured"),
        "{full}"
    );
}

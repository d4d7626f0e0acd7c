//! Parts of a report's text that the demo does not show.

use crate::running::{Folder, RULES, check, one_cell};

fn settings() -> insta::internals::SettingsBindDropGuard {
    let mut settings = insta::Settings::clone_current();
    settings.add_filter("sha256:[0-9a-f]+", "sha256:[digest]");
    settings.bind_to_scope()
}

/// Cells that say the same are put together; what differs is said of each.
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
    let local = "format: 1\nruleset: relay\nversion: 1.0.0\ntitle: The night relay\nextends: [./rules.yaml]\nadjust:
  limits: { rest_least: { to: 2.20 V, because: the lamps stop by themselves } }
  cautions: { bare-cell: { drop: yes, because: the lamp has a circuit } }\n";
    let folder = Folder::with("rules.yaml", RULES).and("local.yaml", local);
    let ran = folder.run_with(&["check", "--rules", "local.yaml"], one_cell("rest: { voltage: 3.87 V }"));
    assert_eq!(ran.code, 0);
    insta::assert_snapshot!(ran.out);
}

#[test]
fn text_is_wrapped_to_the_width_asked_for() {
    let folder = Folder::with("rules.yaml", RULES);
    for width in [40_usize, 60, 80, 100] {
        let width_text = width.to_string();
        let ran = folder
            .run_with(&["check", "--rules", "rules.yaml", "--width", &width_text], one_cell("protected: no, rest: { voltage: 2.31 V }"));
        let widest = ran.out.lines().map(|line| line.chars().count()).max().unwrap_or(0);
        assert!(widest <= width && widest > width - 15, "{width}: {widest}\n{}", ran.out);
    }
}

/// A hundred cells do not make a report of a thousand lines, and none is left out in silence.
#[test]
fn many_cells_are_counted() {
    let cells: String = (1..=100).map(|number| format!("  - {{ id: K{number}, protected: no, rest: {{ voltage: 3.87 V }} }}\n")).collect();
    let ran = check(format!("format: 1\ntitle: Wall of lamps\narrangement: 100S1P\ncells:\n{cells}"));
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("100 findings refuse") && ran.out.contains("K12 and 88 more"), "{}", ran.out);
    assert!(ran.out.lines().count() < 150, "{}", ran.out);
}

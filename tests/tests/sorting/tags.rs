//! Tags have the size of the label, and say what every tag must.

use rulesets::jobs::sort::{Sorting, sort};
use rulesets::jobs::tag::{TagSize, tags, text};
use serde_json::{Value, json};

use super::{club, good_cell, sorted, with};

#[test]
fn every_tag_has_its_lines_its_name_and_that_it_is_no_release() {
    let (bench, rules) = club();
    let report = sort(&bench, &rules, Sorting::default()).expect("sorted");
    for columns in [15, 16, 29, 32, 48, 120] {
        for lines in [4, 5, 6, 9, 30] {
            let tags = tags(&report, TagSize { columns, lines });
            let tags = tags.unwrap_or_else(|problems| panic!("{columns} × {lines}: {problems}"));
            for (tag, cell) in tags.tags.iter().zip(&report.cells) {
                assert_eq!(tag.lines.len(), lines, "{tag:?}");
                let most = tag.lines.iter().map(|line| line.chars().count()).max();
                assert!(most <= Some(columns), "{columns}: {tag:?}");
                let whole = tag.lines.join(" ");
                let grade = cell.grade.words();
                assert!(
                    whole.starts_with(&format!("{} {grade}", cell.id)),
                    "{whole}"
                );
                assert!(whole.ends_with("sorted by rules, not approved"), "{whole}");
            }
            assert_eq!(text(&tags).lines().count(), lines * 24);
        }
    }
}

/// What is known of M2 stands in the club's tables; its lights are as the bench and the rules have it.
#[test]
fn a_tag_says_what_is_known_and_where_it_may_go() {
    let (bench, rules) = club();
    let report = sort(&bench, &rules, Sorting::default()).expect("sorted");
    let tags = tags(
        &report,
        TagSize {
            columns: 40,
            lines: 6,
        },
    )
    .expect("tags");
    let lines = |id: &str| {
        &tags
            .tags
            .iter()
            .find(|tag| tag.id == id)
            .expect("a tag")
            .lines
    };
    assert_eq!(
        lines("M2")[..],
        [
            "M2 sound, read 2026-09-30",
            "2120 mAh, 57 mΩ, 4.167 V",
            "alone: marshal-torch",
            "with others: helmet-lamp, start-hut",
            "",
            "sorted by rules, not approved",
        ]
    );
    assert_eq!(
        lines("T4")[..3],
        ["T4 retire", "not to be used or charged", "found at 1.62 V"]
    );
}

#[test]
fn a_label_that_is_too_small_is_refused() {
    let name = "cell of the long shelf by the door";
    let report = sorted(&[good_cell(name)], json!({})).expect("sorted");
    let fits = |columns, lines| tags(&report, TagSize { columns, lines });
    assert!(fits(15, 6).is_ok());
    let problems = fits(15, 4).expect_err("too small").to_string();
    assert!(
        problems.contains(name) && problems.contains("--lines"),
        "{problems}"
    );
}

/// Where nothing was read there is nothing to print of it.
#[test]
fn a_cell_of_which_nothing_is_known_says_what_is_open() {
    let report = sorted(&[json!({ "id": "A1" })], json!({})).expect("sorted");
    let tags = tags(&report, TagSize::default()).expect("tags");
    let tag = &tags.tags[0];
    assert_eq!(tag.lines[0], "A1 to test");
    assert!(tag.lines[1].starts_with("not known yet: "), "{tag:?}");
    assert!(tag.alone.is_empty() && !tag.questions.is_empty());
    let known = with(good_cell("A1"), "card", Value::Null);
    let report = sorted(&[known], json!({})).expect("sorted");
    assert_eq!(report.cells[0].questions[0].key, "card");
}

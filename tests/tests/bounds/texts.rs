//! Values, cells and texts of one document.

use rules_core::document::{Fault, Syntax};
use rulesets::proposal::Proposal;

use super::setting::{HEAD, caution, rules};

#[test]
fn values_of_a_document_are_bounded() {
    // The map, its one key and the list are three of them.
    let read = |scalars: usize| {
        let text = format!("{{\"a\":[{}1]}}", "1,".repeat(scalars - 1));
        Proposal::read("proposal", text.into_bytes(), Syntax::Json)
            .expect_err("an unknown key, or too many values")
    };
    assert_ne!(read(1_000_000 - 3)[0].fault, Fault::TooLarge);
    assert_eq!(read(1_000_000 - 2)[0].fault, Fault::TooLarge);
}

#[test]
fn cells_are_bounded_as_arranged_and_as_listed() {
    let read = |text: String| Proposal::read("proposal", text.into_bytes(), Syntax::Json);
    let arranged = |arrangement: &str| {
        read(format!(
            "{{\"format\":1,\"arrangement\":\"{arrangement}\"}}"
        ))
    };
    assert!(arranged("10000S").is_ok() && arranged("100S100P").is_ok());
    assert!(arranged("10001S").is_err() && arranged("73S137P").is_err()); // 10,001 = 73 · 137
    let listed = |many: usize| {
        let cells: Vec<String> = (0..many)
            .map(|number| format!("{{\"id\":\"K{number}\"}}"))
            .collect();
        read(format!(
            "{{\"format\":1,\"arrangement\":\"10000S\",\"cells\":[{}]}}",
            cells.join(",")
        ))
    };
    assert!(listed(10_000).is_ok());
    assert!(
        listed(10_001)
            .expect_err("too many")
            .iter()
            .any(|problem| problem.fault == Fault::TooLarge)
    );
}

#[test]
fn texts_are_bounded() {
    let read = |letters: usize| {
        let text = format!(
            "format: 1\narrangement: 1S1P\ncells: [{{ id: {} }}]\n",
            "ä".repeat(letters)
        );
        Proposal::read("proposal", text.into_bytes(), Syntax::Yaml)
    };
    assert!(read(200).is_ok() && read(201).is_err());
}

/// Characters count, not bytes.
#[test]
fn a_text_may_be_long_but_not_endless() {
    let read = |many: usize| {
        let text = caution("light", "light.draw_current <= 1 A")
            .replace("reason: outside", &format!("reason: {}", "Ω".repeat(many)));
        rules(&format!("{HEAD}{text}")).err().map(|problems| {
            problems
                .iter()
                .map(|problem| problem.fault)
                .collect::<Vec<_>>()
        })
    };
    assert_eq!(read(4095), None);
    assert_eq!(read(4096), None);
    assert_eq!(read(4097), Some(vec![Fault::TooLarge]));
    let title = |many: usize| {
        let text = format!(
            "format: 1\ntitle: {}\narrangement: 1S1P\n",
            "Ω".repeat(many)
        );
        Proposal::read("proposal", text.into_bytes(), Syntax::Yaml)
            .err()
            .map(|problems| problems[0].fault)
    };
    assert_eq!((title(4096), title(4097)), (None, Some(Fault::TooLarge)));
}

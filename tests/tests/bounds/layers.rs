//! Rulesets in number and in bytes, and what they define.

use std::cell::Cell;

use rules_core::bounds;
use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Library, Rules, Text, Texts};

use super::setting::{HEAD, caution, rules, told_at};

/// Rulesets by number, each extended by the one before; some padded to a size in bytes.
fn row(many: usize, bytes: Option<usize>) -> Texts {
    let one = |number: usize| {
        let next = if number + 1 < many {
            format!("extends: [./r{}.yaml]\n", number + 1)
        } else {
            String::new()
        };
        let rung = "light.draw_current <= 1 A";
        let mut text = format!(
            "format: 1\nruleset: r{number}\nversion: 1.0.0\ntitle: One of a row\n{next}{}",
            caution("light", rung)
        );
        text = text.replace("id: tested", &format!("id: tested-{number}"));
        if let Some(bytes) = bytes {
            text.push_str(&format!("#{}\n", "x".repeat(bytes - text.len() - 2)));
        }
        (format!("r{number}.yaml"), text)
    };
    Texts::of((0..many).map(one))
}

/// The faults of a row, each with the file and the line it is reported at.
fn faults(row: &Texts) -> Vec<(Fault, String)> {
    match Rules::load(&["r0.yaml"], row, &rulesets::catalogue()) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(told_at).collect(),
    }
}

#[test]
fn rulesets_are_bounded_in_number_and_in_bytes() {
    let faults = |many, bytes| faults(&row(many, bytes));
    let too_large = |place: &str| [(Fault::TooLarge, place.to_owned())];
    assert_eq!(faults(64, None), []);
    // It is reported where the one too many is asked for.
    assert_eq!(faults(65, None), too_large("r63.yaml:5"));
    // Two files of the most bytes are just as many as all may have; three thirds of one byte more
    // are just past it.
    assert_eq!(faults(2, Some(bounds::MOST_RULES_BYTES / 2)), []);
    assert_eq!(
        faults(3, Some(bounds::MOST_RULES_BYTES / 3 + 1)),
        too_large("r1.yaml:5")
    );
}

/// Rulesets that extend as many as they may, each of which cannot be used and has more problems
/// than are reported.
struct Wide {
    asked: Cell<usize>,
}

impl Library for Wide {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        self.asked.set(self.asked.get() + 1);
        let text = if name.ends_with("faulty.yaml") {
            format!("[{}0]", "&a b,".repeat(1_001))
        } else {
            let all = |kind: &str| -> String {
                (0..32)
                    .map(|number| format!("{name}.{number}-{kind}.yaml, "))
                    .collect()
            };
            let extends = all("faulty") + &all("good");
            format!("{HEAD}extends: [{extends}]\n").replace("bounds", &format!("n{}", name.len()))
        };
        Ok(Text {
            name: name.to_owned(),
            bytes: text.into_bytes().into(),
        })
    }
}

/// One that cannot be used is a ruleset too: else problems and reading would have no bound.
#[test]
fn rulesets_that_cannot_be_used_are_counted() {
    let wide = Wide {
        asked: Cell::new(0),
    };
    let problems = Rules::load(&["./r.yaml"], &wide, &rulesets::catalogue());
    let problems = problems.expect_err("problems");
    assert_eq!(wide.asked.get(), 65);
    assert!(problems.len() <= 64 * 1_001 + 1, "{}", problems.len());
    let said = problems
        .iter()
        .filter(|problem| problem.message.ends_with("more than 64 rulesets"));
    assert_eq!(said.count(), 1);
}

/// The fault of rules that define so many of a thing, and where it is reported.
fn defined(section: &str, many: usize, one: fn(usize) -> String) -> Option<(Fault, String)> {
    let lines: String = (0..many).map(one).collect();
    let caution = if section == "cautions" {
        String::new()
    } else {
        caution("light", "light.draw_current <= 1 A")
    };
    rules(&format!("{HEAD}{section}:\n{lines}{caution}"))
        .err()
        .map(|problems| told_at(&problems[0]))
}

#[test]
fn definitions_are_bounded() {
    let fact = |number| format!("  cell.f{number}: {{ kind: text, meaning: A fact }}\n");
    let limit =
        |number| format!("  l{number}: {{ value: 1 V, stricter: lower, meaning: A limit }}\n");
    let figure = |number| {
        format!(
            "  light.f{number}: {{ about: light, is: light.draw_current, meaning: A figure }}\n"
        )
        .replace("light.f", "f")
    };
    let caution = |number| {
        format!(
            "  - {{ id: c{number}, title: One, about: light, warn_unless: light.draw_current <= 1 A, reason: no }}\n"
        )
    };
    type Line = fn(usize) -> String;
    let all: [(&str, usize, Line); 4] = [
        ("facts", bounds::MOST_FACTS, fact),
        ("limits", bounds::MOST_LIMITS, limit),
        ("figures", bounds::MOST_FIGURES, figure),
        ("cautions", bounds::MOST_CAUTIONS, caution),
    ];
    for (section, most, one) in all {
        assert_eq!((section, defined(section, most, one)), (section, None));
        assert_eq!(
            (section, defined(section, most + 1, one)),
            // The head has four lines, and the section one.
            (
                section,
                Some((Fault::TooLarge, format!("rules:{}", 5 + most + 1)))
            )
        );
    }
}

#[test]
fn options_of_a_choice_are_bounded() {
    let read = |many: usize| {
        let options: Vec<String> = (0..many).map(|number| format!("o{number}")).collect();
        let fact = format!(
            "facts:\n  cell.colour: {{ kind: choice, options: [{}], meaning: A choice }}\n",
            options.join(", ")
        );
        rules(&format!(
            "{HEAD}{fact}{}",
            caution("light", "light.draw_current <= 1 A")
        ))
        .err()
        .map(|problems| problems[0].fault)
    };
    assert_eq!(read(64), None);
    assert_eq!(read(65), Some(Fault::TooLarge));
}

#[test]
fn the_rulesets_that_a_merged_file_names_are_bounded() {
    let read = |many: usize| {
        let from: String = (0..many)
            .map(|number| format!("{{ ruleset: r{number}, version: 1 }}, "))
            .collect();
        let caution = caution("light", "light.draw_current <= 1 A");
        rules(&format!("{HEAD}merged: {{ from: [{from}] }}\n{caution}"))
            .map(|rules| rules.layers()[0].claims.len())
            .map_err(|problems| problems[0].fault)
    };
    assert_eq!(read(1000), Ok(1000));
    assert_eq!(read(1001), Err(Fault::TooLarge));
}

//! Each bound at and one past it; what is accepted is checked in bounded stack, and nothing missing
//! goes unnamed however much there is. The bounds of formulas are tested beside their parser, those
//! of steps and findings in `rules-core/src/check/steps.rs`.
#![cfg(test)]

use std::cell::Cell;

use rules_core::bounds;
use rules_core::check::{Options, check};
use rules_core::document::{Fault, Problem, Syntax, read, source};
use rules_core::report::{Report, Verdict};
use rules_core::ruleset::{Library, Rules, Text, Texts};
use rules_core::vetting::{Vetting, vet};
use rulesets::proposal::Proposal;

fn rules(text: &str) -> Result<Rules, Vec<Problem>> {
    Rules::load(
        &["rules"],
        &Texts::of([("rules", text)]),
        &rulesets::catalogue(),
    )
}

const HEAD: &str = "format: 1\nruleset: bounds\nversion: 1.0.0\ntitle: Bounds\n";

fn caution(about: &str, rung: &str) -> String {
    format!(
        "cautions:\n  - {{ id: tested, title: Tested, about: {about}, refuse_unless: \"{rung}\", reason: outside, basis: [{{ common_practice: example }}] }}\n"
    )
}

fn checked(rules_text: &str, proposal: String) -> Report {
    let rules = rules(rules_text).unwrap_or_else(|problems| panic!("{problems:?}"));
    let proposal = Proposal::read("proposal", proposal.into_bytes(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    check(&rules, &proposal, Options::default()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// Figures one on another, each with the given formula, where `{below}` is the one beneath.
fn figures(levels: usize, formula: &str) -> String {
    let one = |level: usize| {
        let below = if level == 0 {
            "light.draw_current".to_owned()
        } else {
            format!("light.f{}", level - 1)
        };
        format!(
            "  f{level}: {{ about: light, is: \"{}\", meaning: A figure }}\n",
            formula.replace("{below}", &below)
        )
    };
    format!("figures:\n{}", (0..levels).map(one).collect::<String>())
}

#[test]
fn the_deepest_figures_fit_a_small_stack() {
    // 1 MiB is the smallest main thread in common use. Unoptimised code takes several times the
    // stack of optimised code, and runs in threads of 2 MiB.
    let stack = if cfg!(debug_assertions) {
        2 << 20
    } else {
        1 << 20
    };
    let deep = "1 A + 1 * max(0 A, ".repeat(30) + "{below}" + &")".repeat(30);
    let text = format!(
        "{HEAD}{}{}",
        figures(8, &deep),
        caution("light", "light.f7 <= 1 A")
    );
    let proposal = "format: 1\narrangement: 1S1P\nlight: { draw: 1 A }\n".to_owned();
    let small = std::thread::Builder::new()
        .stack_size(stack)
        .spawn(move || checked(&text, proposal).verdict);
    assert_eq!(
        small.expect("a thread").join().expect("it ends well"),
        Verdict::Refuse
    );
}

#[test]
fn one_figure_more_is_refused() {
    let text = format!(
        "{HEAD}{}{}",
        figures(9, "{below} + 1 A"),
        caution("light", "light.f8 <= 1 A")
    );
    let problems = rules(&text).expect_err("too deep");
    assert_eq!(problems[0].fault, Fault::TooDeep);
    let text = format!(
        "{HEAD}{}{}",
        figures(8, "{below} + 1 A"),
        caution("light", "light.f7 <= 1 A")
    );
    assert!(rules(&text).is_ok());
}

/// Without sums kept, explaining would walk 10^8 paths; the facts are the same.
#[test]
fn figures_named_many_times_are_explained_once() {
    let ten = ["{below}"; 10].join(" + ");
    let text = format!(
        "{HEAD}{}{}",
        figures(8, &ten),
        caution("light", "light.f7 <= 1 A")
    );
    let report = checked(
        &text,
        "format: 1\narrangement: 1S1P\nlight: { draw: 1 A }\n".to_owned(),
    );
    let facts: Vec<&str> = report.findings[0]
        .facts
        .iter()
        .map(|fact| fact.name.as_str())
        .collect();
    assert_eq!(facts, ["light.draw_current"]);
}

#[test]
fn a_missing_fact_is_named_however_many_are_given() {
    let text = format!(
        "{HEAD}{}",
        caution("build", "spread of cell.rest_voltage <= 10 mV")
    );
    for unread in [1, 15, 30] {
        let cell = |number| {
            if number == unread {
                format!("  - {{ id: K{number} }}\n")
            } else {
                format!("  - {{ id: K{number}, rest: {{ voltage: 3.700 V }} }}\n")
            }
        };
        let cells: String = (1..=30).map(cell).collect();
        let report = checked(
            &text,
            format!("format: 1\narrangement: 30S1P\ncells:\n{cells}"),
        );
        let finding = &report.findings[0];
        assert_eq!(finding.missing, ["cell.rest_voltage"]);
        assert_eq!(report.measure_next.len(), 1);
        assert_eq!(*report.measure_next[0].subject, format!("cell K{unread}"));
        assert_eq!(finding.facts.len() + finding.more_facts, 30);
    }
}

/// Problems of a proposal with so many unknown keys.
fn unknown_keys(many: usize) -> Vec<Problem> {
    let unknown: String = (0..many)
        .map(|number| format!("key{number}: 1\n"))
        .collect();
    Proposal::read(
        "proposal",
        format!("format: 1\narrangement: 1S1P\n{unknown}").into_bytes(),
        Syntax::Yaml,
    )
    .expect_err("problems")
}

#[test]
fn too_many_problems_are_counted_not_kept() {
    assert_eq!(unknown_keys(1_000).len(), 1_000);
    for (many, more) in [(1_001, "1 more"), (5_000, "4000 more")] {
        let problems = unknown_keys(many);
        assert_eq!(problems.len(), 1_001);
        assert!(
            problems[1_000].message.contains(more),
            "{}",
            problems[1_000].message
        );
    }
}

/// What is wrong with the tree of a document is counted from its first byte on, in either syntax.
#[test]
fn problems_of_a_tree_are_counted_not_kept() {
    type Text = fn(usize) -> String;
    let all: [(Syntax, Fault, Text); 6] = [
        (Syntax::Json, Fault::RepeatedKey, |many| {
            format!("{{\"a\":1{}}}", ",\"a\":1".repeat(many))
        }),
        (Syntax::Json, Fault::RepeatedKey, |many| {
            format!("[{}0]", "{\"a\":1,\"a\":1},".repeat(many))
        }),
        (Syntax::Yaml, Fault::RepeatedKey, |many| {
            "a: 1\n".repeat(many + 1)
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "&a b,".repeat(many))
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "!a b,".repeat(many))
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "{<<: 1},".repeat(many))
        }),
    ];
    for (syntax, fault, text) in all {
        for (many, last) in [
            (1_000, None),
            (1_001, Some("1 more")),
            (9_000, Some("8000 more")),
        ] {
            let bytes = text(many).into_bytes();
            let source = source("document", bytes).expect("a text");
            let problems = read(&source, syntax).expect_err("problems");
            let (told, counted) = problems.split_at(1_000);
            assert!(told.iter().all(|problem| problem.fault == fault));
            let said: Vec<bool> = counted
                .iter()
                .map(|problem| last.is_some_and(|last| problem.message.contains(last)))
                .collect();
            assert_eq!(
                said,
                vec![true; usize::from(last.is_some())],
                "{fault:?} {many}"
            );
        }
    }
}

/// What ends the reading of a file is counted with what was found before.
#[test]
fn problems_before_the_end_of_a_tree_are_bounded_too() {
    for (many, told) in [(999, 1_000), (1_000, 1_001), (5_000, 1_001)] {
        let text = format!("{}b: c: d\n", "a: &x 1\n".repeat(many));
        let problems = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml);
        assert_eq!(problems.expect_err("problems").len(), told, "{many}");
    }
}

/// What the user wrote is quoted in part where it is long; the rest of a message still stands.
#[test]
fn a_problem_quotes_a_long_text_in_part() {
    let long = "x".repeat(100_000);
    let digits = "1".repeat(100_000);
    let documents = [
        format!("{long}: 1\n{long}: 2\n"),
        format!("format: 1\narrangement: 1S1P\n{long}: 1\n"),
        format!("format: 1\narrangement: {long}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ drive: {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 1 {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 9{digits}..{digits} A }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 1 A ± 1 {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\ncells: [{{ id: K4, protected: {long} }}]\n"),
        format!("format: 1\narrangement: 1S1P\ncells: [{{ id: K4, designation: {long} }}]\n"),
        format!("format: 1\narrangement: 1S1P\nmeters: {{ voltage: {long} }}\n"),
        format!("a: *{long}\n"),
        format!("a: \"\\{long}\"\n"),
        format!("%{long}\n---\na: 1\n"),
    ];
    for text in documents {
        let start = text.chars().take(60).collect::<String>();
        let problems = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml);
        for problem in problems.expect_err(&start) {
            let help = problem.help.unwrap_or_default();
            assert!(problem.message.chars().count() <= 405, "{start}");
            assert!(help.chars().count() <= 1004, "{start}");
            assert!(problem.line.len() <= 800, "{start}");
        }
    }
    let twice = format!("{{\"{long}\":1,\"{long}\":2}}").into_bytes();
    let problems = Proposal::read("proposal", twice, Syntax::Json).expect_err("problems");
    let quoted = |problem: &Problem| {
        let message = &problem.message;
        message.starts_with("the key `xxx") && message.ends_with("already on line 1")
    };
    assert!(problems.iter().any(quoted), "{problems:?}");
}

/// Cases that come out otherwise than they say, and what else a file lacks, are counted together.
#[test]
fn cases_that_fail_are_counted_not_kept() {
    let of = |many: usize| {
        let cases = "{ given: { cell.wrap: intact }, expect: refuse },".repeat(many);
        let text = format!(
            "{HEAD}cautions:\n  - {{ id: d, title: D, about: each cell, refuse_unless: cell.wrap == intact, reason: r, cases: [{cases}] }}\n"
        );
        vet(&vetted(&text).unwrap_or_else(|problems| panic!("{problems:?}")))
    };
    let lacking = of(1).len() - 1;
    let last = |many: usize| {
        let problems = of(many);
        (
            problems.len(),
            problems.last().map(|problem| problem.message.clone()),
        )
    };
    assert!(lacking > 0);
    assert_eq!(last(1_000 - lacking).0, 1_000);
    let more = |many: usize| Some(format!("`one` has {many} more problems"));
    assert_eq!(last(1_001 - lacking), (1_001, more(1)));
    assert_eq!(last(3_000 - lacking), (1_001, more(2_000)));
}

/// A ruleset with formulas of so many faults each: a choice where a condition belongs.
fn faulty_formulas(formulas: &[usize]) -> String {
    let one = |(at, many): (usize, &usize)| {
        let rung = vec!["cell.wrap"; *many].join(" or ");
        format!(
            "  - {{ id: c{at}, title: One, about: each cell, refuse_unless: \"{rung}\", reason: r }}\n"
        )
    };
    format!(
        "{HEAD}cautions:\n{}",
        formulas.iter().enumerate().map(one).collect::<String>()
    )
}

#[test]
fn the_fullest_formula_tells_all_its_faults() {
    let found = |many: usize| {
        let problems = rules(&faulty_formulas(&[many])).expect_err("problems");
        problems
            .iter()
            .map(|problem| problem.fault)
            .collect::<Vec<_>>()
    };
    assert_eq!(found(256), [Fault::KindsDiffer; 256]);
    assert_eq!(found(257), [Fault::TooLarge]);
}

#[test]
fn too_many_faults_of_formulas_are_counted_not_kept() {
    let of = |formulas: &[usize]| rules(&faulty_formulas(formulas)).expect_err("problems");
    assert_eq!(of(&[250, 250, 250, 250]).len(), 1_000);
    assert!(
        of(&[250, 250, 250, 250])
            .iter()
            .all(|problem| problem.fault == Fault::KindsDiffer)
    );
    for (formulas, more) in [
        ([250, 250, 250, 251], "1 more"),
        ([256, 256, 256, 256], "24 more"),
    ] {
        let problems = of(&formulas);
        assert_eq!(
            (problems.len(), problems[1_000].fault),
            (1_001, Fault::TooLarge)
        );
        assert!(
            problems[1_000].message.contains(more),
            "{}",
            problems[1_000].message
        );
    }
    // One formula each tells no less.
    assert_eq!(of(&[1; 1_001]).len(), 1_001);
}

/// Faults of reading, of formulas and of examples are counted together.
#[test]
fn problems_of_a_file_are_bounded_over_all_stages() {
    let adjusted: String = (0..200)
        .map(|number| format!("    l{number}: {{ to: 1 V }}\n"))
        .collect();
    let of = |unknown: usize, cases: usize| {
        let unknown: String = (0..unknown)
            .map(|number| format!("key{number}: 1\n"))
            .collect();
        let cases = vec!["{ given: { cell.volts: 3 V }, expect: pass }"; cases].join(", ");
        let caution = format!(
            "  - {{ id: d, title: D, about: each cell, warn_unless: cell.wrap == intact, reason: r, cases: [{cases}] }}\n"
        );
        let text = format!(
            "{}{caution}adjust:\n  limits:\n{adjusted}{unknown}",
            faulty_formulas(&[99])
        );
        let found = [
            rules(&text).expect_err("problems"),
            vetted(&text).expect_err("problems"),
        ];
        found.map(|problems| {
            (
                problems.len(),
                problems.last().expect("a problem").message.clone(),
            )
        })
    };
    let [loaded, vetted] = of(700, 1);
    assert_eq!((loaded.0, vetted.0), (999, 1_000));
    let [loaded, vetted] = of(700, 4);
    assert_eq!((loaded.0, vetted.0), (999, 1_001));
    assert!(vetted.1.contains("has 3 more problems"), "{}", vetted.1);
    let [loaded, vetted] = of(1_100, 4);
    assert!(loaded.1.contains("has 399 more problems"), "{}", loaded.1);
    assert!(vetted.1.contains("has 403 more problems"), "{}", vetted.1);
}

/// What cannot be read is counted among what is defined.
#[test]
fn definitions_that_cannot_be_read_are_bounded() {
    for (section, name, most) in [
        ("facts", "cell.x", 1_000),
        ("limits", "x", 20_000),
        ("figures", "x", 2_000),
    ] {
        let too_large = |many: usize| {
            let unread: String = (0..many)
                .map(|number| format!("  {name}{number}: 1\n"))
                .collect();
            let problems = rules(&format!("{HEAD}{section}:\n{unread}")).expect_err("problems");
            problems
                .iter()
                .filter(|problem| {
                    problem.fault == Fault::TooLarge && problem.message.contains("the most is")
                })
                .count()
        };
        assert_eq!((too_large(most), too_large(most + 1)), (0, 1), "{section}");
    }
}

fn vetted(text: &str) -> Result<Vetting, Vec<Problem>> {
    Vetting::load(
        &["one"],
        &Texts::of([("one", text)]),
        &rulesets::catalogue(),
    )
}

/// The bound is of each file; what is counted stands after what is told.
#[test]
fn problems_are_bounded_by_file() {
    let two = ["a", "b"].map(|name| {
        let text = faulty_formulas(&[1; 1_002])
            .replace("ruleset: bounds", &format!("ruleset: {name}"))
            .replace("id: c", &format!("id: {name}"));
        (name, text)
    });
    let problems =
        Rules::load(&["b", "a"], &Texts::of(two), &rulesets::catalogue()).expect_err("problems");
    let files: Vec<String> = problems
        .iter()
        .map(|problem| {
            problem
                .place
                .as_ref()
                .map_or(String::new(), |place| place.file.to_string())
        })
        .collect();
    assert_eq!(files.len(), 2_002);
    assert!(
        files[..1_000].iter().all(|file| file == "a")
            && files[1_000..2_000].iter().all(|file| file == "b")
    );
    assert!(
        problems[2_000..]
            .iter()
            .all(|problem| problem.message.contains("2 more problems"))
    );
}

/// Figures have the same bound as cautions.
#[test]
fn too_many_faulty_figures_are_counted_not_kept() {
    let of = |many: usize| {
        let one = |number: usize| {
            format!("  f{number}: {{ about: light, is: light.drive, meaning: A figure }}\n")
        };
        rules(&format!(
            "{HEAD}figures:\n{}",
            (0..many).map(one).collect::<String>()
        ))
        .expect_err("problems")
        .len()
    };
    assert_eq!((of(1_000), of(1_001), of(2_000)), (1_000, 1_001, 1_001));
}

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

/// The faults of a row, each with the file and the line it is told at.
fn faults(row: &Texts) -> Vec<(Fault, String)> {
    match Rules::load(&["r0.yaml"], row, &rulesets::catalogue()) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(told_at).collect(),
    }
}

fn told_at(problem: &Problem) -> (Fault, String) {
    let place = problem.place.as_ref();
    let place = place.map_or("nowhere".to_owned(), |place| {
        format!("{}:{}", place.file, place.line)
    });
    (problem.fault, place)
}

#[test]
fn rulesets_are_bounded_in_number_and_in_bytes() {
    let faults = |many, bytes| faults(&row(many, bytes));
    let too_large = |place: &str| [(Fault::TooLarge, place.to_owned())];
    assert_eq!(faults(64, None), []);
    // It is told where the one too many is asked for.
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
/// than are told.
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
            bytes: text.into_bytes(),
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
    let said = problems.iter().filter(|problem| {
        problem
            .message
            .ends_with("more than 64 rulesets are layered")
    });
    assert_eq!(said.count(), 1);
}

/// The fault of rules that define so many of a thing, and where it is told.
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

/// The table of LANGUAGE.md, in its order, against the constants.
#[test]
fn the_language_states_every_bound() {
    let language = include_str!("../../rulesets/LANGUAGE.md");
    let table = language
        .split("## 9. Bounds")
        .nth(1)
        .expect("a section on bounds");
    let stated: Vec<usize> = table
        .lines()
        .filter(|line| {
            line.starts_with("| ") && !line.starts_with("| ---") && !line.starts_with("| at most")
        })
        .filter_map(|line| {
            line.trim_end_matches(['|', ' '])
                .rsplit('|')
                .next()?
                .trim()
                .replace(',', "")
                .parse()
                .ok()
        })
        .collect();
    let held = [
        bounds::MOST_BYTES,
        bounds::MOST_LEVELS,
        bounds::MOST_NODES,
        bounds::MOST_PROBLEMS,
        rulesets::bounds::MOST_CELLS,
        bounds::MOST_TEXT,
        bounds::MOST_WORDING,
        bounds::MOST_CHARACTERS,
        bounds::MOST_TOKENS,
        bounds::MOST_NESTING,
        bounds::MOST_FIGURE_LEVELS,
        bounds::MOST_LAYERS,
        bounds::MOST_MERGED,
        bounds::MOST_RULES_BYTES,
        bounds::MOST_FACTS,
        bounds::MOST_OPTIONS,
        bounds::MOST_LIMITS,
        bounds::MOST_FIGURES,
        bounds::MOST_CAUTIONS,
        bounds::MOST_STEPS,
        bounds::MOST_PARTS,
    ];
    assert_eq!(stated, held);
}

//! The page of a check says what the report says.

use std::collections::BTreeMap;

use rules_core::check::{Options, check};
use rulesets::{Acceptance, Proposal, Verdict, pages, shipped_rules};
use serde_json::Value;

use super::setting::{PLANS, all, checked, plan_text, read, words};

#[test]
fn each_finding_is_there_once() {
    for name in PLANS {
        let (report, page) = checked(&plan_text(name));
        let page = read(&page);
        let mut shown: BTreeMap<String, usize> = BTreeMap::new();
        for fold in all(page.root(), "details") {
            if let Some(caution) = fold.attribute("data-caution") {
                let said = words(all(fold, "summary")[0]);
                *shown.entry(format!("{caution} {said}")).or_default() += 1;
            }
        }
        assert_eq!(
            shown.values().sum::<usize>(),
            report.findings.len(),
            "{name}"
        );
        for finding in &report.findings {
            let (word, title) = (finding.verdict.word(), &finding.title);
            let subject = finding.subject.in_words();
            let start = format!("{} {word} {title}, {subject}", finding.caution);
            let found = shown.iter().filter(|(said, _)| {
                let rest = said.strip_prefix(&start);
                rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(" ("))
            });
            assert_eq!(
                found.map(|(_, count)| count).sum::<usize>(),
                1,
                "{name}: {start}"
            );
        }
    }
}

/// The texts of all numbers of a value of JSON.
fn numbers(value: &Value, into: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            if let (Some(Value::String(text)), true) = (map.get("text"), map.contains_key("unit")) {
                into.push(text.clone());
            }
            map.values().for_each(|one| numbers(one, into));
        }
        Value::Array(list) => list.iter().for_each(|one| numbers(one, into)),
        _ => {}
    }
}

#[test]
fn numbers_are_those_of_the_report_in_json() {
    let mut compared = 0;
    for name in PLANS {
        let (report, page) = checked(&plan_text(name));
        let json = serde_json::to_value(&report).expect("the report as JSON");
        let mut texts = Vec::new();
        numbers(&json["findings"], &mut texts);
        let page = read(&page);
        let page = words(page.root());
        for text in texts.iter().filter(|text| *text != "unknown") {
            // Per cent of per cent would be read as the same.
            let points = text.strip_suffix('%');
            let points = points.map(|number| format!("{number}percentage points"));
            let is_told = |text: &str| page.contains(text);
            assert!(
                is_told(text) || points.is_some_and(|text| is_told(&text)),
                "{name}: {text}"
            );
            compared += 1;
        }
    }
    assert!(compared > 50, "{compared}");
}

#[test]
fn plots_have_the_numbers_of_the_figures() {
    let text = plan_text("helmet-lamp.yaml");
    let rules = shipped_rules().expect("the shipped rules load");
    let proposal = Proposal::from_text("plan.yaml", &text).expect("a plan");
    let sheet = rulesets::figures(&rules, &proposal, Options::default()).expect("figures");
    let (_, page) = checked(&text);
    let page = read(&page);
    let sections = all(page.root(), "section").into_iter();
    let mut plots = sections.filter(|one| one.attribute("aria-labelledby") == Some("discharge"));
    let plots = plots.next().expect("the plots");
    let table = words(all(plots, "table")[0]);
    for name in ["start", "mid", "late", "end"] {
        let name = format!("group.{name}_voltage");
        let mut of_groups = 0;
        for figure in sheet.figures.iter().filter(|one| one.name == name) {
            let value = figure.value.as_ref().expect("a number").to_string();
            assert!(table.contains(&value), "{name}: {value}");
            of_groups += 1;
        }
        assert_eq!(of_groups, 2, "{name}");
    }
    assert_eq!(all(plots, "svg").len(), 2);
}

#[test]
fn the_standing_notice_is_there_in_full_whatever_the_verdict() {
    for name in PLANS {
        let (report, page) = checked(&plan_text(name));
        let page = read(&page);
        let footer = words(all(page.root(), "footer")[0]);
        assert!(!report.notice.is_empty());
        for point in &report.notice {
            let said = point.says.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(footer.contains(&said), "{name}");
        }
    }
}

#[test]
fn the_verdict_stands_first_and_is_that_of_the_report() {
    let verdicts = PLANS.map(|name| {
        let (report, page) = checked(&plan_text(name));
        let page = read(&page);
        let header = words(all(page.root(), "header")[0]);
        let (title, verdict) = (&report.title, report.gravest().verdict);
        let start = format!("{title}{}", verdict.word());
        assert!(header.starts_with(&start), "{header}");
        verdict
    });
    assert_eq!(verdicts, [Verdict::Refuse, Verdict::Pass, Verdict::Refuse]);
}

#[test]
fn simple_acceptance_and_stages_that_were_asked_for_are_told() {
    let rules = shipped_rules().expect("the shipped rules load");
    let text = plan_text("marshal-torch.yaml");
    let proposal = Proposal::from_text("plan.yaml", &text).expect("a plan");
    let options = Options {
        acceptance: Some(Acceptance::Simple),
        stages: &["charging"],
        ..Options::default()
    };
    let report = check(&rules, &proposal, options).expect("a report");
    let sheet = rulesets::figures(&rules, &proposal, options).expect("figures");
    let page = pages::check(&report, &sheet, None).document();
    let page = read(&page);
    let header = words(all(page.root(), "header")[0]);
    assert!(header.contains("pass for charging only"), "{header}");
    assert!(
        header.contains("Simple acceptance: nominal values decided"),
        "{header}"
    );
}

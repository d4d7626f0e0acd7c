//! A reader that knows the written form alone finds every finding of every subject, with all that
//! the library says of it.

use rules_core::check::{
    ClauseReport, FactReport, FigureReport, FigureUse, Finding, Margin, MeasureNext, Options,
    Report, ReportedNumber, figures,
};
use rules_core::report::significant;
use rules_core::ruleset::Rules;
use rules_tests::law::{Seen, law};
use rules_tests::read_again::{lean_is_full, lean_needs_no_report, read_again};
use rules_tests::restored;
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use crate::generate::choices::{Choices, broken, three, words};
use crate::generate::document::Style;
use crate::generate::proposal::{Wish, draft_of};
use crate::generate::quantity::Care;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, load_files, proposal};
use crate::generate::sound::{WORDS, near};

/// A number of the library as the written form gives it.
fn number(shows: &ReportedNumber) -> Value {
    let end = |end: Option<f64>| end.map(|end| significant(end, 9));
    let mut told = json!({
        "text": shows.to_string(),
        "low": end(shows.low()),
        "high": end(shows.high()),
    });
    if let Some(limit) = &shows.limit {
        told["limit"] = (&**limit).into();
    }
    if shows.number.missing {
        told["missing"] = true.into();
    }
    told
}

fn margin(margin: &Margin) -> Value {
    let mut told = json!({
        "text": margin.to_string(),
        "amount": significant(margin.amount, 9),
    });
    if let Some(percent) = margin.percent {
        told["percent"] = significant(percent, 9).into();
    }
    told
}

fn clause(clause: &ClauseReport) -> Value {
    let mut told = json!({ "text": &*clause.text, "truth": clause.truth });
    if clause.of_condition {
        told["of_condition"] = true.into();
    }
    if let Some(left) = &clause.left {
        told["left"] = number(left);
    }
    if let Some(right) = &clause.right {
        told["right"] = number(right);
    }
    if let Some(by) = &clause.margin {
        told["margin"] = margin(by);
    }
    told["limits"] = match clause.limits.as_slice() {
        [] => Value::Null,
        limits => json!(limits),
    };
    told
}

fn fact(fact: &FactReport) -> Value {
    let mut told = json!({
        "name": fact.name,
        "subject": fact.subject.in_words(),
        "state": fact.state.word(),
    });
    if let Some(value) = &fact.value {
        told["value"] = value.to_string().into();
    }
    if fact.meter_assumed {
        told["meter_assumed"] = json!(true);
    }
    if let Some(place) = &fact.place {
        (told["line"], told["column"]) = (place.line.into(), place.column.into());
    }
    told
}

fn figure(figure: &FigureUse) -> Value {
    let mut told = json!({
        "name": figure.name,
        "subject": figure.subject.in_words(),
        "value": number(&figure.value),
    });
    if let Some(open) = &figure.open {
        told["open"] = json!(open);
    }
    told
}

fn sorted(mut all: Vec<Value>) -> Vec<Value> {
    all.sort_by_key(Value::to_string);
    all
}

fn finding(finding: &Finding) -> Value {
    json!({
        "caution": &*finding.caution,
        "title": &*finding.title,
        "subject": finding.subject.in_words(),
        "listed": finding.subject.is_listed(),
        "count": finding.subject.count(),
        "verdict": finding.verdict,
        "best": finding.best,
        "worst": finding.worst,
        "status": finding.status,
        "rung": finding.rung,
        "fixed": finding.fixed,
        "reason": finding.reason.to_string(),
        "remedy": finding.remedy.as_ref().map(ToString::to_string),
        "clauses": finding.clauses.iter().map(clause).collect::<Vec<_>>(),
        "figures": sorted(finding.figures.iter().map(|one| figure(one)).collect()),
        "facts": sorted(finding.facts.iter().map(|one| fact(one)).collect()),
        "more_facts": finding.more_facts,
        "missing": finding.missing,
        "basis": &*finding.basis,
        "rule": finding.rule,
    })
}

fn next(next: &MeasureNext) -> Value {
    json!({
        "fact": next.fact,
        "subject": next.subject.in_words(),
        "meaning": next.meaning,
        "missing": next.missing,
        "leaves_open": next.leaves_open,
        "findings": next.findings,
        "could_improve": next.could_improve,
    })
}

/// Parts that are left out when they say nothing are in lists all the same. Units are reported once
/// for all and hang on the kind, which the library has.
fn without_units(mut value: Value) -> Value {
    match &mut value {
        Value::Object(fields) => {
            fields.remove("unit");
            fields.retain(|key, value| *value != json!(false) || key != "missing");
            fields.retain(|key, value| !value.is_null() || key != "percent");
            fields
                .values_mut()
                .for_each(|field| *field = without_units(field.take()));
        }
        Value::Array(items) => items
            .iter_mut()
            .for_each(|item| *item = without_units(item.take())),
        _ => {}
    }
    value
}

fn read_as_meant(report: &Report, rules: &Rules) -> Result<(), String> {
    read_again(report)?;
    lean_is_full(report, rules)?;
    let written = serde_json::to_value(report).unwrap();
    let found = |all: Vec<Value>| sorted(all.into_iter().map(without_units).collect());
    let meant = sorted(report.findings.iter().map(finding).collect());
    same(&found(restored::findings(&written)), &meant)?;
    // What to measure next keeps its order.
    let meant: Vec<Value> = report.measure_next.iter().map(next).collect();
    same(&restored::measure_next(&written), &meant)
}

fn same(found: &[Value], meant: &[Value]) -> Result<(), String> {
    if found == meant {
        return Ok(());
    }
    let one = found.iter().find(|one| !meant.contains(one));
    let other = meant.iter().find(|one| !found.contains(one));
    Err(format!(
        "{} read, {} meant; read {one:#?}, meant {other:#?}",
        found.len(),
        meant.len()
    ))
}

fn figure_report(figure: &FigureReport) -> Value {
    let mut told = json!({
        "name": figure.name,
        "subject": figure.subject.in_words(),
        "meaning": figure.meaning,
        "facts": sorted(figure.facts.iter().map(|one| fact(one)).collect()),
    });
    if let Some(value) = &figure.value {
        told["value"] = number(value);
    }
    if let Some(truth) = figure.truth {
        told["truth"] = json!(truth);
    }
    if let Some(is) = &figure.is {
        told["is"] = is.as_str().into();
    }
    if let Some(open) = &figure.open {
        told["open"] = json!(open);
    }
    if figure.more_facts > 0 {
        told["more_facts"] = figure.more_facts.into();
    }
    told
}

/// What the library says of a proposal beside its report, as it is written.
fn all_as_meant(rules: &Rules, text: &str) -> Result<(), String> {
    let proposal = proposal(text).map_err(|error| error.to_string())?;
    lean_needs_no_report(rules, &proposal)?;
    figures_as_meant(rules, &proposal)
}

fn figures_as_meant(rules: &Rules, proposal: &Proposal) -> Result<(), String> {
    let sheet =
        figures(rules, proposal, Options::default()).map_err(|problems| format!("{problems:?}"))?;
    let written = serde_json::to_value(&sheet).unwrap();
    let found = restored::figures(&written).into_iter().map(without_units);
    let meant = sheet.figures.iter().map(figure_report);
    same(&sorted(found.collect()), &sorted(meant.collect()))
}

#[test]
fn every_finding_can_be_read() {
    law(
        "every finding can be read",
        120,
        three(),
        |[rules, proposal, steps], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&steps);
            let likely = scene.ruleset.facts();
            let wish = Wish {
                likely: &likely,
                complete: false,
                care: Care::Any,
            };
            let arrangement = *choices.pick(&[(9, 1), (1, 9), (4, 3), (1, 40)]);
            let more = draft_of(&mut Choices::of(&proposal), &wish, arrangement);
            for draft in [&scene.draft, &more] {
                let report = scene.report(draft, None)?;
                seen.count(report.findings.len());
                let text = draft.doc().write(Style::Yaml);
                read_as_meant(&report, &scene.rules)
                    .and_then(|()| all_as_meant(&scene.rules, &text))
                    .map_err(|why| scene.broken(why, draft, ""))?;
            }
            Ok(())
        },
    );
}

#[test]
fn every_finding_of_the_shipped_rules_can_be_read() {
    let rules = load_files(&[], &["rescued-cells"]).unwrap();
    law(
        "every finding can be read, shipped",
        30,
        words(WORDS),
        |proposal, seen: &Seen| {
            let text = near(&proposal).doc().write(Style::Yaml);
            let report = checked(&rules, &text, None)?;
            seen.count(report.findings.len());
            read_as_meant(&report, &rules)
                .and_then(|()| all_as_meant(&rules, &text))
                .map_err(|why| broken(why, &[("proposal", &text)]))
        },
    );
}

//! Every finding with what it rests on, each in a fold of its own.

use std::sync::Arc;

use rules_core::check::{FactReport, FactState, FigureUse, Finding, Report};
use rules_core::report::text::{ClauseSaid, FindingSaid, Standing, counted};

use super::html::Html;
use super::paper::{cells, fold, row_head, section, table, verdict};

pub(super) fn write(report: &Report, html: &mut Html) {
    if report.findings.is_empty() {
        return;
    }
    let heading = format!("All {}", counted(report.findings.len(), "finding"));
    section(("findings", &heading), html, |html| {
        for finding in &report.findings {
            let attributes = [("class", "finding"), ("data-caution", &*finding.caution)];
            html.element("details", &attributes, |html| one(finding, report, html));
        }
    });
}

fn one(finding: &Finding, report: &Report, html: &mut Html) {
    let said = FindingSaid::of(finding, report);
    html.element("summary", &[], |html| {
        verdict(finding.verdict, html);
        html.text(" ");
        html.text(&finding.title);
        html.text(", ");
        html.text(&finding.subject.in_words());
        if let Some(doubt) = &said.doubt {
            html.text(&format!(" ({doubt})"));
        }
    });
    words(&said, html);
    clauses(&said.clauses, html);
    figures(&finding.figures, html);
    facts(finding, html);
    rests_on(finding, &said, html);
}

fn words(said: &FindingSaid, html: &mut Html) {
    if let Some(reason) = &said.reason {
        html.told("p", &[], reason);
    }
    if let Some(remedy) = &said.remedy {
        labelled("Do: ", remedy, html);
    }
    if said.standing == Standing::Open {
        labelled("Not known: ", &said.not_known.join(", "), html);
    }
}

fn labelled(label: &str, text: &str, html: &mut Html) {
    html.element("p", &[], |html| {
        html.said("strong", &[], label);
        html.prose(text);
    });
}

fn clauses(clauses: &[ClauseSaid], html: &mut Html) {
    if clauses.is_empty() {
        return;
    }
    let heads = ["Condition", "Came to", "Numbers"];
    table(
        "Conditions that decided",
        &heads,
        html,
        clauses,
        |one, html| {
            row_head(&one.text, html);
            cells(&[one.state, one.numbers.as_deref().unwrap_or("-")], html);
        },
    );
}

fn figures(figures: &[Arc<FigureUse>], html: &mut Html) {
    if figures.is_empty() {
        return;
    }
    let heads = ["Figure", "Of", "Value", "Why it is open"];
    table("Worked out", &heads, html, figures, |one, html| {
        row_head(&one.name, html);
        let open = one.open.as_deref().unwrap_or("-");
        cells(
            &[&one.subject.in_words(), &one.value.to_string(), open],
            html,
        );
    });
}

fn facts(finding: &Finding, html: &mut Html) {
    if finding.facts.is_empty() {
        return;
    }
    let heads = ["Fact", "Of", "Value", "How it is known", "Where"];
    table("Values", &heads, html, &finding.facts, |fact, html| {
        row_head(&fact.name, html);
        let place = fact.place.as_ref().map(ToString::to_string);
        let texts = [
            &fact.subject.in_words(),
            &value(fact),
            known(fact),
            place.as_deref().unwrap_or("-"),
        ];
        cells(&texts, html);
    });
    if finding.more_facts > 0 {
        html.said("p", &[], &format!("And {} more.", finding.more_facts));
    }
}

fn value(fact: &FactReport) -> String {
    match (&fact.value, fact.state) {
        (Some(value), _) => value.to_string(),
        (None, FactState::Missing) => "-".to_owned(),
        (None, _) => "not shown".to_owned(),
    }
}

fn known(fact: &FactReport) -> &'static str {
    match (fact.state, fact.meter_assumed) {
        (FactState::Measured, true) => "measured, by the assumed meter",
        (state, _) => state.word(),
    }
}

fn rests_on(finding: &Finding, said: &FindingSaid, html: &mut Html) {
    let stage = finding.stage.as_ref();
    let stage = stage.map_or_else(String::new, |stage| format!("stage {stage}, "));
    let rung = finding.rung.key();
    let rule = format!("{rung} of {}, {stage}{}", finding.caution, finding.rule);
    fold("Sources and rule", html, |html| {
        html.element("ul", &[], |html| {
            for basis in &said.rests_on {
                html.said("li", &[], basis);
            }
            html.said("li", &[("class", "quiet")], &format!("Rule: {rule}"));
        });
    });
}

//! `rulesets/FACTS.md` is made from the catalogue and must not fall behind it.
#![cfg(test)]

use std::fmt::Write as _;
use std::path::PathBuf;

use rules_core::facts::{Catalogue, FactDef, FactKind, SubjectDef};
use rules_core::quantity::Measure;

#[test]
fn the_page_of_facts_is_fresh() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../rulesets/FACTS.md");
    let page = page(&rulesets::catalogue());
    if std::env::var_os("UPDATE_FACTS").is_some() {
        std::fs::write(&path, &page).expect("the page can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == page,
        "rulesets/FACTS.md is stale; run `UPDATE_FACTS=1 cargo test -p rules-tests --test facts_page`"
    );
}

fn page(catalogue: &Catalogue) -> String {
    let mut page = String::from(
        "# Facts and library figures\n\nWhat formulas can name. Made from `facts.yaml` beside this page, which is the source of facts, ranges and\n\
         relations, and says where each comes from; figures are worked out by the library. `cellrules facts` prints the same. \"In a proposal\" is the\n\
         place in the subject's section, or in an entry of `cells` or `packs`, or the key that the fact is worked out from. The domain is\n\
         the credible range: a value wholly outside is an error. A library figure follows from the facts it names and cannot be given,\n\
         in a case either.\n",
    );
    for (position, subject) in catalogue.subjects().iter().enumerate() {
        section(&mut page, catalogue, position, subject);
    }
    summaries(&mut page, catalogue);
    relations(&mut page, catalogue);
    page
}

fn summaries(page: &mut String, catalogue: &Catalogue) {
    page.push_str(
        "\n## Summaries\n\nKeys of a section whose word says several facts at once.\n\n\
         | of | key | word | says | meaning |\n| --- | --- | --- | --- | --- |\n",
    );
    for summary in catalogue.summaries() {
        for word in &summary.words {
            let key = |fact| catalogue.fact(fact).and_then(|def| def.key.as_deref());
            let says = word.says.iter().map(|(fact, value)| {
                format!("`{}: {}`", key(*fact).unwrap_or_default(), value.written)
            });
            let _ = writeln!(
                page,
                "| {} | `{}` | `{}` | {} | {} |",
                catalogue.subject_name(summary.subject),
                summary.key,
                word.word,
                says.collect::<Vec<_>>().join(", "),
                summary.meaning
            );
        }
    }
}

fn relations(page: &mut String, catalogue: &Catalogue) {
    page.push_str(
        "\n## Relations between facts\n\nThey hold of everything there is, however worn, shorted or dead; facts that surely break one are an error.\n\n\
         | name | about | holds | or else |\n| --- | --- | --- | --- |\n",
    );
    for relation in catalogue.relations() {
        let _ = writeln!(
            page,
            "| `{}` | {} | `{}` | {} |",
            relation.id,
            catalogue.subject_name(relation.about),
            relation.formula(),
            relation.says
        );
    }
}

fn section(page: &mut String, catalogue: &Catalogue, position: usize, subject: &SubjectDef) {
    let many = subject
        .plural
        .as_deref()
        .map(|plural| format!(" (many: `{plural}`)"))
        .unwrap_or_default();
    let _ = write!(
        page,
        "\n## {}{many}\n\n{}.\n\n| name | kind | domain or options | nature | in a proposal | meaning |\n| --- | --- | --- | --- | --- | --- |\n",
        subject.name, subject.meaning
    );
    for (id, fact) in catalogue
        .facts()
        .filter(|(_, fact)| fact.subject.position() == position)
    {
        let nature = fact.nature.word();
        let key = match (&fact.key, &fact.from) {
            (Some(place), _) => format!("`{place}`"),
            (None, Some(from)) => format!("from `{from}`"),
            (None, None) => "-".to_owned(),
        };
        let _ = writeln!(
            page,
            "| `{}` | {} | {} | {nature} | {key} | {} |",
            catalogue.fact_name(id),
            fact.kind.name(),
            values(fact),
            fact.meaning
        );
    }
    for figure in catalogue
        .worked()
        .iter()
        .filter(|figure| figure.subject.position() == position)
    {
        let needs: Vec<String> = catalogue
            .needed(figure.needs)
            .map(|need| format!("`{}`", catalogue.fact_name(need)))
            .collect();
        let _ = writeln!(
            page,
            "| `{}.{}` | {} | - | library figure | from {} | {} |",
            subject.name,
            figure.name,
            figure.kind,
            needs.join(", "),
            figure.meaning
        );
    }
}

fn values(fact: &FactDef) -> String {
    match &fact.kind {
        FactKind::Number(kind) => Measure::of(fact.domain).shown(*kind).as_range().to_string(),
        FactKind::Choice(options) => options
            .iter()
            .map(|option| format!("`{option}`"))
            .collect::<Vec<_>>()
            .join(", "),
        FactKind::YesNo => "`yes`, `no`".to_owned(),
        FactKind::Id | FactKind::Text => "-".to_owned(),
    }
}

/// Name, kind and place of every fact, in order, as the page has them.
fn listed(page: &str) -> Vec<String> {
    let facts = page.lines().filter_map(|line| {
        let columns: Vec<&str> = line.split(" | ").collect();
        let [name, kind, .., nature, place, _] = columns.as_slice() else {
            return None;
        };
        let is_fact = ["measured", "printed", "stated"].contains(nature);
        let name = name.trim_start_matches("| ");
        is_fact.then(|| format!("{name}\t{kind}\t{place}").replace('`', ""))
    });
    facts.collect()
}

/// Another language reads the table in thirty lines, and finds what the page lists.
#[test]
fn another_language_reads_the_same() {
    let project = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let reader = std::process::Command::new("python3")
        .arg(project.join("facts_reader.py"))
        .arg(project.join("../rulesets/facts.yaml"))
        .output();
    let Ok(reader) = reader else {
        println!("skipped: there is no python3 here");
        return;
    };
    let said = String::from_utf8_lossy(&reader.stdout).into_owned();
    assert!(
        reader.status.success(),
        "{}",
        String::from_utf8_lossy(&reader.stderr)
    );
    let kept = std::fs::read_to_string(project.join("../rulesets/FACTS.md")).unwrap_or_default();
    let listed = listed(&kept);
    assert_eq!(said.lines().collect::<Vec<_>>(), listed);
    assert_eq!(listed.len(), rulesets::catalogue().facts().count());
}

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
        "# Facts and library figures\n\nWhat formulas can name. Made from the library's catalogue; `cellrules facts` prints the same. \"In a proposal\" is the place in the subject's\n\
         section, or in an entry of `cells`; what has no place there is worked out from other keys. A library figure follows from the facts it\n\
         names and cannot be given, in a case either.\n",
    );
    for (position, subject) in catalogue.subjects().iter().enumerate() {
        section(&mut page, catalogue, position, subject);
    }
    page
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
        let key = fact
            .key
            .as_ref()
            .map_or_else(|| "-".to_owned(), |key| format!("`{key}`"));
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

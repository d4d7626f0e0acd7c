//! What editors show beside the words and maps of proposals: the table `data/words.yaml`, put into
//! schemas.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rules_core::document::{Content, Entry, Fields, Prepared, Problems, text};
use serde_json::{Value, json};

use crate::prepared::prepared;

pub(crate) const TABLE: Prepared = prepared!("data/words");

/// The table.
#[derive(Debug, Default)]
pub(super) struct Words {
    /// By the name of a fact and an option.
    options: BTreeMap<String, BTreeMap<String, String>>,
    /// By subject and key.
    maps: BTreeMap<String, String>,
}

// The tests read the table too, so that nothing is wrong in it.
static WORDS: LazyLock<Words> = LazyLock::new(|| Words::read(&TABLE).unwrap_or_default());

/// What words and maps mean.
pub(super) fn words() -> &'static Words {
    &WORDS
}

/// What an option of a fact means: `ring` of `light.contacts`; nothing of a fact of others.
#[must_use]
pub fn meaning_of_option(fact: &str, option: &str) -> Option<&'static str> {
    let meanings = words().options.get(fact)?;
    meanings.get(option).map(String::as_str)
}

impl Words {
    fn read(table: &Prepared) -> Option<Self> {
        let source = table.source("words.yaml");
        let tree = table.document(&source).ok()?;
        let mut problems = Problems::new(&source);
        let mut fields = Fields::of(&tree, "a table of words", &mut problems)?;
        fields.need_format(&mut problems);
        let options = fields.may_entries("options", &mut problems).iter();
        let options = options.map(|fact| (fact.key.to_string(), options_of(fact, &mut problems)));
        let options = options.collect();
        let maps = texts(fields.may_entries("maps", &mut problems), &mut problems);
        fields.finish(&mut problems);
        problems.is_empty().then_some(Self { options, maps })
    }

    /// What a map of a section is.
    pub(super) fn map(&self, subject: &str, key: &str) -> Option<&str> {
        self.maps
            .get(&format!("{subject}.{key}"))
            .map(String::as_str)
    }

    /// Puts what each option means beside the options of a fact.
    pub(super) fn add_to_options(&self, fact: &str, schema: &mut Value) {
        let (Some(meanings), Some(keywords)) = (self.options.get(fact), schema.as_object_mut())
        else {
            return;
        };
        let Some(options) = keywords.get("enum").and_then(Value::as_array) else {
            return;
        };
        let meaning = |option: &Value| meanings.get(option.as_str()?);
        let said: Vec<_> = options.iter().map(meaning).collect();
        keywords.insert("markdownEnumDescriptions".to_owned(), json!(said));
    }

    /// The same for every fact of a map whose keys are names of facts, with what stands before them.
    pub(super) fn add_to_facts(&self, before: &str, schema: &mut Value) {
        let keys = schema.get_mut("properties").and_then(Value::as_object_mut);
        for (key, value) in keys.into_iter().flatten() {
            self.add_to_options(&format!("{before}{key}"), value);
        }
    }
}

fn options_of(entry: &Entry<'_>, problems: &mut Problems<'_>) -> BTreeMap<String, String> {
    match &entry.node.content {
        Content::Map(entries) => texts(entries, problems),
        _ => BTreeMap::new(),
    }
}

fn texts(entries: &[Entry<'_>], problems: &mut Problems<'_>) -> BTreeMap<String, String> {
    let said = entries.iter();
    let said =
        said.filter_map(|one| Some((one.key.to_string(), text(&one.node, problems)?.to_owned())));
    said.collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use rules_core::facts::FactKind;

    use super::*;
    use crate::facts::catalogue;

    /// Each option of each choice is told, and nothing else is.
    #[test]
    fn every_option_is_told() {
        let words = Words::read(&TABLE).expect("the table");
        let catalogue = catalogue();
        let choices = catalogue.facts().filter_map(|(id, fact)| match &fact.kind {
            FactKind::Choice(options) => Some((
                catalogue.fact_name(id),
                options.iter().map(String::as_str).collect(),
            )),
            _ => None,
        });
        let choices: BTreeMap<&str, BTreeSet<&str>> = choices.collect();
        let told = words.options.iter();
        let told =
            told.map(|(fact, told)| (fact.as_str(), told.keys().map(String::as_str).collect()));
        assert_eq!(told.collect::<BTreeMap<&str, BTreeSet<&str>>>(), choices);
    }

    #[test]
    fn every_map_is_told() {
        let words = Words::read(&TABLE).expect("the table");
        let catalogue = catalogue();
        let maps = catalogue.facts().filter_map(|(_, fact)| {
            let (map, _) = fact.key.as_deref()?.split_once('.')?;
            Some(format!("{}.{map}", catalogue.subject_name(fact.subject)))
        });
        let maps: BTreeSet<String> = maps.collect();
        assert_eq!(words.maps.keys().cloned().collect::<BTreeSet<_>>(), maps);
    }
}

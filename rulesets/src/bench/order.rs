//! The keys of a proposal in the order in which a person reads them: what it is first, then as the
//! table of facts has them.

use rules_core::document::{Content, Entry, Node};
use rules_core::facts::SubjectId;

use crate::facts::{CELL, CHARGING, CONDITIONS, LIGHT, PACK, PROTECTION, catalogue};

/// The keys at the top, and whose facts stand below each.
const TOP: [(&str, Option<SubjectId>); 13] = [
    ("format", None),
    ("title", None),
    ("bench", None),
    ("as_of", None),
    ("light", Some(LIGHT)),
    ("arrangement", None),
    ("protection", Some(PROTECTION)),
    ("meters", None),
    ("cells", Some(CELL)),
    ("packs", Some(PACK)),
    ("charging", Some(CHARGING)),
    ("conditions", Some(CONDITIONS)),
    ("notes", None),
];

/// What names an entry, or what it takes from.
const NAMES: [&str; 3] = ["id", "of", "at"];

/// A proposal with its keys in the usual order. What has no place in it comes last, as it was.
pub(super) fn in_usual_order(tree: &Node<'static>) -> Node<'static> {
    let at = |entry: &Entry<'_>| {
        let place = TOP.iter().position(|(key, _)| *key == entry.key);
        place.unwrap_or(TOP.len())
    };
    let mut entries = tree.entries().to_vec();
    entries.sort_by_key(at);
    for entry in &mut entries {
        let top = TOP.iter().find(|(key, _)| *key == entry.key);
        if let Some((_, Some(subject))) = top {
            sort_below(&mut entry.node, &keys(*subject), "");
        }
    }
    Node {
        content: Content::Map(entries),
        span: tree.span,
    }
}

/// The keys of a subject's section, with dots between, in the order of the table.
fn keys(subject: SubjectId) -> Vec<&'static str> {
    let facts = catalogue().facts().map(|(_, fact)| fact);
    facts
        .filter(|fact| fact.subject == subject)
        .filter_map(|fact| fact.key.as_deref())
        .collect()
}

fn sort_below(node: &mut Node<'static>, keys: &[&str], above: &str) {
    match &mut node.content {
        Content::List(items) => items
            .iter_mut()
            .for_each(|item| sort_below(item, keys, above)),
        Content::Map(entries) => {
            entries.sort_by_key(|entry| place(&format!("{above}{}", entry.key), keys));
            for entry in entries {
                let above = format!("{above}{}.", entry.key);
                sort_below(&mut entry.node, keys, &above);
            }
        }
        Content::Nothing | Content::Scalar(_) => {}
    }
}

/// Where a key stands, or the first that is below it.
fn place(key: &str, keys: &[&str]) -> usize {
    if NAMES.contains(&key) {
        return 0;
    }
    let is_it = |known: &&str| {
        known
            .strip_prefix(key)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    let found = keys.iter().position(is_it);
    found.map_or(usize::MAX, |at| at + 1)
}

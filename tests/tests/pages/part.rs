//! A page as a part of a notebook: it reads as the page does, and reaches nothing outside of it.

use std::collections::BTreeSet;

use roxmltree::Document;
use rulesets::pages::{self, Page};

use super::setting::{all, checked_page, mapped, plan_text, ranged, sorted, words};

/// A page made anew: it becomes a document or a part.
type Make = fn() -> Page;

const PAGES: [(&str, Make); 4] = [
    ("a report", || {
        checked_page(&plan_text("marshal-torch.yaml")).1
    }),
    ("the map", || pages::map(&mapped())),
    ("the range", || pages::range(&ranged())),
    ("the cells", || pages::sort(&sorted().0, &[])),
];

/// What a part says is what the page says, word by word.
#[test]
fn it_says_what_the_page_says() {
    for (name, page) in PAGES {
        let part = page().part();
        let part = Document::parse(&part).expect(name);
        let page = page().document();
        let page = page.strip_prefix("<!DOCTYPE html>\n").expect("a document");
        let page = Document::parse(page).expect(name);
        let body = all(page.root(), "body")[0];
        let style = all(part.root(), "style")[0];
        let said = words(part.root_element());
        let without_style = said.replacen(&words(style), "", 1);
        assert_eq!(without_style.trim(), words(body).trim(), "{name}");
        assert!(said.contains("Whatever the verdict"), "{name}");
    }
}

/// Nothing that belongs to a document of its own, and nothing that runs.
#[test]
fn it_is_no_document() {
    for (name, page) in PAGES {
        let part = page().part();
        let part = Document::parse(&part).expect(name);
        for element in [
            "html", "head", "body", "meta", "title", "main", "script", "link",
        ] {
            let found = all(part.root(), element);
            // A drawing has a title of its own.
            let found = found.iter().filter(|one| {
                one.parent_element()
                    .is_none_or(|of| !of.has_tag_name("svg"))
            });
            assert_eq!(found.count(), 0, "{name}: {element}");
        }
    }
}

#[test]
fn its_style_reaches_what_is_inside_alone() {
    for (name, page) in PAGES {
        let part = page().part();
        let part = Document::parse(&part).expect(name);
        assert_eq!(part.root_element().attribute("class"), Some("cellrules"));
        let style = all(part.root(), "style")[0].text().expect("a style");
        let mut rules = 0;
        for line in style
            .lines()
            .filter(|line| line.contains('{') && !line.starts_with("@media"))
        {
            let (selectors, _) = line.split_once('{').expect("a rule");
            assert!(
                selectors
                    .split(',')
                    .all(|one| one.trim().starts_with(".cellrules")),
                "{name}: {line}"
            );
            rules += 1;
        }
        assert!(rules > 60, "{rules}");
        assert_eq!(style.matches('{').count(), style.matches('}').count());
        assert!(!style.contains("@page"), "{name}");
    }
}

/// Two parts in one notebook: each name leads to a thing of its own part.
#[test]
fn two_parts_have_no_id_in_common() {
    let mut met = BTreeSet::new();
    for (name, page) in PAGES {
        let part = page().part();
        let part = Document::parse(&part).expect(name);
        let nodes = || part.descendants().filter(roxmltree::Node::is_element);
        let ids: BTreeSet<&str> = nodes().filter_map(|one| one.attribute("id")).collect();
        for named in nodes().filter_map(|one| one.attribute("aria-labelledby")) {
            assert!(
                named.split(' ').all(|id| ids.contains(id)),
                "{name}: {named}"
            );
        }
        for filled in nodes().flat_map(|one| one.attributes()) {
            let Some(id) = filled.value().strip_prefix("url(#") else {
                continue;
            };
            assert!(ids.contains(id.trim_end_matches(')')), "{name}: {id}");
        }
        assert!(!ids.is_empty(), "{name}");
        assert!(ids.iter().all(|id| met.insert((*id).to_owned())), "{name}");
    }
}

//! Whole, within its size, loading nothing, and named for those who hear it.

use std::collections::BTreeSet;

use roxmltree::Document;
use rulesets::pages;

use super::setting::{
    PLANS, all, checked, chosen, labels, mapped, plan_text, ranged, read, sorted, tagged, words,
    worked_out,
};

fn each_page(look: impl Fn(&str, &Document<'_>, &str)) {
    for name in PLANS {
        let (_, page) = checked(&plan_text(name));
        look(name, &read(&page), &page);
    }
    let (cells, limits) = sorted();
    let (figures, run_time) = worked_out();
    for (name, page) in [
        ("the map", pages::map(&mapped()).document()),
        ("the range", pages::range(&ranged()).document()),
        ("the tags", pages::tags(&tagged()).document()),
        ("the cells", pages::sort(&cells, &limits).document()),
        (
            "the choice",
            pages::choose(&chosen(), Some((&cells, &limits))).document(),
        ),
        (
            "a choice without a bench",
            pages::choose(&chosen(), None).document(),
        ),
        (
            "the figures",
            pages::figures(&figures, Some(&run_time)).document(),
        ),
    ] {
        look(name, &read(&page), &page);
    }
    for label in labels() {
        let page = pages::label(&label).document();
        look("a label", &read(&page), &page);
    }
}

#[test]
fn nothing_is_loaded_and_nothing_runs() {
    // Elements that fetch or run something, by the HTML standard; and the ways of a style sheet to.
    const FETCH: [&str; 13] = [
        "script", "link", "img", "image", "iframe", "object", "embed", "audio", "video", "source",
        "use", "form", "base",
    ];
    each_page(|name, page, text| {
        for element in page.descendants().filter(roxmltree::Node::is_element) {
            assert!(!FETCH.contains(&element.tag_name().name()), "{name}");
            for attribute in element.attributes() {
                let key = attribute.name();
                assert!(!key.starts_with("on") && key != "style", "{name}: {key}");
                assert!(
                    !["src", "href", "srcset", "action", "data"].contains(&key),
                    "{name}"
                );
                let fetches = attribute.value().contains("url(");
                assert!(!fetches || attribute.value().starts_with("url(#"), "{name}");
            }
        }
        let style = words(all(page.root(), "style")[0]);
        assert!(
            !style.contains("url(") && !style.contains("@import"),
            "{name}"
        );
        assert!(text.contains("default-src &#39;none&#39;"), "{name}");
    });
}

#[test]
fn a_page_of_four_cells_is_small() {
    each_page(|name, _, text| assert!(text.len() < 300_000, "{name}: {}", text.len()));
}

#[test]
fn there_is_one_heading_of_all_one_main_part_and_the_language() {
    each_page(|name, page, _| {
        for element in ["h1", "main", "footer", "head", "header"] {
            assert_eq!(
                all(page.root(), element).len().min(2),
                1,
                "{name}: {element}"
            );
        }
        assert_eq!(page.root_element().attribute("lang"), Some("en"), "{name}");
    });
}

#[test]
fn ids_are_there_once_and_what_names_something_is_there() {
    each_page(|name, page, _| {
        let ids: Vec<&str> = page
            .descendants()
            .filter_map(|one| one.attribute("id"))
            .collect();
        let set: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), set.len(), "{name}");
        let named = page
            .descendants()
            .filter_map(|one| one.attribute("aria-labelledby"));
        for id in named.flat_map(str::split_whitespace) {
            assert!(set.contains(id), "{name}: {id}");
        }
        for section in all(page.root(), "section") {
            assert!(section.attribute("aria-labelledby").is_some(), "{name}");
        }
    });
}

#[test]
fn every_table_has_a_caption_and_a_header_for_each_column_and_row() {
    each_page(|name, page, _| {
        for table in all(page.root(), "table") {
            assert!(!words(all(table, "caption")[0]).is_empty(), "{name}");
            let rows = all(table, "tr");
            let cells = |row: roxmltree::Node<'_, '_>| {
                row.children()
                    .map(|cell| cell.tag_name().name().to_owned())
                    .collect::<Vec<_>>()
            };
            let heads = cells(rows[0]);
            assert!(heads.iter().all(|cell| cell == "th"), "{name}");
            for row in rows.iter().skip(1) {
                let cells = cells(*row);
                assert_eq!(cells.len(), heads.len(), "{name}: {}", words(*row));
                assert_eq!(cells[0], "th", "{name}");
            }
        }
    });
}

#[test]
fn every_drawing_has_a_title_words_and_a_table_in_its_section() {
    let mut drawings = 0;
    for (_, page) in PLANS.map(|name| checked(&plan_text(name))) {
        drawings += look(&read(&page));
    }
    assert!(drawings >= 6, "{drawings}: groups and run times");
    assert_eq!(look(&read(&pages::map(&mapped()).document())), 1);
    let (cells, limits) = sorted();
    // All cells, their rest voltages and capacities over time.
    assert_eq!(look(&read(&pages::sort(&cells, &limits).document())), 3);
    assert_eq!(look(&read(&pages::range(&ranged()).document())), 1);
    let page = pages::choose(&chosen(), Some((&cells, &limits))).document();
    assert_eq!(look(&read(&page)), 1);
    let (figures, run_time) = worked_out();
    assert_eq!(
        look(&read(&pages::figures(&figures, Some(&run_time)).document())),
        2
    );

    fn look(page: &Document<'_>) -> usize {
        let drawings = all(page.root(), "svg");
        for drawing in &drawings {
            assert_eq!(drawing.attribute("role"), Some("img"));
            for named in ["title", "desc"] {
                assert!(!words(all(*drawing, named)[0]).is_empty());
            }
            let section = drawing.ancestors().find(|one| one.has_tag_name("section"));
            assert!(!all(section.expect("a section"), "table").is_empty());
        }
        drawings.len()
    }
}

#[test]
fn verdicts_are_words_and_no_colour_stands_for_them() {
    each_page(|name, page, _| {
        let marks = page.descendants();
        for mark in marks.filter(|one| one.attribute("class") == Some("mark")) {
            let word = words(mark.parent().expect("a parent"));
            assert!(
                ["pass", "warn", "refuse"].contains(&&*word),
                "{name}: {word}"
            );
            assert_eq!(mark.attribute("aria-hidden"), Some("true"), "{name}");
        }
    });
}

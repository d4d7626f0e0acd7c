//! The pages of jobs say what their reports say.

use std::collections::BTreeSet;

use roxmltree::{Document, Node};
use rulesets::jobs::range::{RangeEnds, meaning};
use rulesets::pages;

use super::setting::{
    all, chosen, labels, mapped, ranged, read, sorted, tagged, words, worked_out,
};

/// How much two stretches have in common.
fn overlap(one: (f64, f64), other: (f64, f64)) -> f64 {
    (one.1.min(other.1) - one.0.max(other.0)).max(0.0)
}

#[test]
fn the_table_of_a_map_covers_every_area_with_what_it_comes_to() {
    let report = mapped();
    let page = pages::map(&report).document();
    let page = read(&page);
    let rows: Vec<Vec<String>> = all(all(page.root(), "table")[0], "tr")
        .into_iter()
        .skip(1)
        .map(|row| row.children().map(words).collect())
        .collect();
    let reach = |cell: &str| -> (f64, f64) {
        let number = |text: &str| -> f64 {
            let number = text.split(' ').next().expect("a number");
            number.parse().expect("a number")
        };
        let (from, to) = cell.split_once(" to ").expect("from where to where");
        (number(from), number(to))
    };
    for area in &report.areas {
        let ends = |ends: &RangeEnds| (ends.from.value, ends.to.value);
        let (across, up) = (ends(&area.across), ends(&area.up));
        let mut covered = 0.0;
        for row in &rows {
            let shared = overlap(reach(&row[0]), up) * overlap(reach(&row[1]), across);
            if shared > 1e-9 {
                assert_eq!(row[2], meaning(area.found.alone), "{row:?}");
                covered += shared;
            }
        }
        let all = overlap(up, up) * overlap(across, across);
        assert!(
            (covered - all).abs() < 1e-6,
            "{covered} of {all}: {across:?}, {up:?}"
        );
    }
    assert!(report.areas.len() > 20, "{}", report.areas.len());
}

#[test]
fn a_map_has_a_pattern_of_its_own_for_each_kind_and_a_line_that_explains_it() {
    let report = mapped();
    let page = pages::map(&report).document();
    let page = read(&page);
    let drawing = all(page.root(), "svg")[0];
    let kinds: BTreeSet<&str> = report
        .areas
        .iter()
        .map(|area| meaning(area.found.alone))
        .collect();
    assert_eq!(kinds, BTreeSet::from(["not shown to pass", "pass", "warn"]));
    let explained: Vec<String> = all(drawing, "text")
        .into_iter()
        .filter(|one| one.attribute("class") == Some("list"))
        .map(words)
        .collect();
    assert_eq!(
        explained,
        ["pass", "warn", "not shown to pass", "what the plan has"]
    );
    let filled: BTreeSet<&str> = all(drawing, "rect")
        .into_iter()
        .filter_map(|one| one.attribute("fill"))
        .collect();
    assert_eq!(
        filled,
        BTreeSet::from(["url(#look-hatch)", "url(#look-specks)"])
    );
    assert!(words(all(page.root(), "footer")[0]).contains("Whatever the verdict"));
}

#[test]
fn each_cell_has_its_tag_with_the_lines_of_its_label() {
    let report = tagged();
    let page = pages::tags(&report).document();
    let page = read(&page);
    let list = all(page.root(), "ul")[0];
    let tags = list.children().collect::<Vec<_>>();
    assert_eq!(tags.len(), report.tags.len());
    for (shown, tag) in tags.into_iter().zip(&report.tags) {
        let lines: Vec<String> = all(shown, "p").into_iter().map(words).collect();
        assert_eq!(lines, tag.lines);
        assert_eq!(
            lines
                .iter()
                .filter(|line| line.contains("not approved"))
                .count(),
            1
        );
    }
    for point in &report.notice {
        let said = point.says.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(all(page.root(), "footer")[0]).contains(&said));
    }
}

#[test]
fn each_cell_has_a_row_and_a_mark_where_both_readings_are_known() {
    let (report, limits) = sorted();
    let page = pages::sort(&report, &limits).document();
    let page = read(&page);
    let rows = rows_of("The cells", &page);
    assert_eq!(rows.len(), report.cells.len() + 1);
    for (row, cell) in rows.into_iter().skip(1).zip(&report.cells) {
        let shown: Vec<String> = row.children().map(words).collect();
        let known = |text: &Option<String>| text.as_deref().unwrap_or("-").to_owned();
        assert_eq!(shown[..2], [cell.id.clone(), cell.grade.words().to_owned()]);
        assert_eq!(
            shown[3..5],
            [known(&cell.known.capacity), known(&cell.known.resistance)]
        );
    }
    let drawing = all(page.root(), "svg")[0];
    let both = report.cells.iter().filter(|cell| {
        let known = &cell.known;
        known.capacity.is_some() && known.resistance.is_some()
    });
    let both = both.count();
    assert!(both > 10, "{both}");
    let said = words(all(drawing, "desc")[0]);
    let start = format!("{both} of {} cells have both readings.", report.cells.len());
    assert!(said.starts_with(&start), "{said}");
    let named = all(drawing, "text").into_iter();
    let named = named
        .filter(|one| one.attribute("class") == Some("name"))
        .map(words);
    for id in named {
        assert!(report.cells.iter().any(|cell| cell.id == id), "{id}");
    }
}

#[test]
fn a_range_has_a_piece_for_each_and_a_row_for_all_that_are_no_limit() {
    let report = ranged();
    let page = pages::range(&report).document();
    let page = read(&page);
    let drawing = all(page.root(), "svg")[0];
    let said = words(all(drawing, "desc")[0]);
    for piece in &report.pieces {
        let (from, to) = (&piece.from.text, &piece.to.text);
        let piece = format!("{from} to {to} {}", meaning(piece.found.alone));
        assert_eq!(said.matches(&piece).count(), 1, "{piece}: {said}");
    }
    let edges = all(drawing, "rect").into_iter();
    let edges = edges
        .filter(|one| one.attribute("class") == Some("edge"))
        .count();
    let classes: BTreeSet<_> = report
        .pieces
        .iter()
        .map(|piece| piece.found.alone)
        .collect();
    assert_eq!(edges, report.pieces.len() + classes.len());
    let rows = all(all(page.root(), "table")[0], "tr").len() - 1;
    let shown = report.pieces.iter();
    let shown = shown.filter(|piece| piece.found.alone != rulesets::jobs::range::Class::Boundary);
    assert_eq!(rows, shown.count());
    assert!(rows > 1, "{rows}");
}

/// The rows of a table by how its caption begins, its heads among them.
fn rows_of<'d>(caption: &str, page: &'d Document<'_>) -> Vec<Node<'d, 'd>> {
    let mut tables = all(page.root(), "table").into_iter();
    let table = tables.find(|one| words(*one).starts_with(caption));
    all(table.expect(caption), "tr")
}

#[test]
fn limits_are_told_of_the_cells_that_have_them_and_drawn_where_they_lie() {
    let (report, limits) = sorted();
    let page = pages::sort(&report, &limits).document();
    let page = read(&page);
    let rows = rows_of("Where the verdict", &page);
    assert_eq!(rows.len(), limits.len() + 1);
    // By the rules a cell of 2600 mAh is refused under 60 % of that, in words of ten; and 80 mΩ and
    // 100 mΩ are limits of any.
    let of_k1 = limits
        .iter()
        .filter(|one| one.cells.contains(&"K1".to_owned()));
    let of_k1: Vec<(&str, f64)> = of_k1.map(|one| (one.fact, one.value)).collect();
    for (fact, value) in [("cell.resistance", 80.0), ("cell.resistance", 100.0)] {
        let near = of_k1
            .iter()
            .any(|(of, at)| *of == fact && (at - value).abs() <= 1.0);
        assert!(near, "{fact} {value}: {of_k1:?}");
    }
    assert!(
        of_k1.iter().any(|(fact, _)| *fact == "cell.capacity"),
        "{of_k1:?}"
    );
    let drawn = all(all(page.root(), "svg")[0], "line").into_iter();
    let drawn = drawn
        .filter(|one| one.attribute("class") == Some("limit"))
        .count();
    assert!(drawn > 0 && drawn <= 8, "{drawn}");
}

#[test]
fn a_choice_has_a_row_for_each_set_and_a_ring_for_each_cell_of_the_best() {
    let (cells, limits) = sorted();
    let choice = chosen();
    let page = pages::choose(&choice, Some((&cells, &limits))).document();
    let page = read(&page);
    let rows = rows_of("Cells of a parallel", &page);
    assert_eq!(rows.len(), choice.sets.len() + 1);
    for (row, set) in rows.into_iter().skip(1).zip(&choice.sets) {
        let shown: Vec<String> = row.children().map(words).collect();
        for cell in set.groups.iter().flatten() {
            assert!(
                shown[0].split_whitespace().any(|one| one == cell),
                "{shown:?}"
            );
        }
        assert_eq!(shown[1], set.outcome.verdict.word());
    }
    let best: Vec<&String> = choice.sets[0].groups.iter().flatten().collect();
    let rings = all(all(page.root(), "svg")[0], "circle").into_iter();
    let rings = rings
        .filter(|one| one.attribute("class") == Some("own"))
        .count();
    assert_eq!((best.len(), rings), (4, 4));
}

#[test]
fn the_run_time_falls_with_the_draw_and_every_number_of_the_plot_is_in_its_table() {
    let (sheet, run_time) = worked_out();
    let page = pages::figures(&sheet, Some(&run_time)).document();
    let page = read(&page);
    let rows: Vec<Vec<String>> = rows_of("The run time", &page)
        .into_iter()
        .skip(1)
        .map(|row| row.children().map(words).collect())
        .collect();
    assert_eq!(rows.len(), run_time.points.len());
    let mut before = f64::INFINITY;
    for (row, point) in rows.iter().zip(&run_time.points) {
        let value = point.value.as_ref().expect("a run time");
        assert_eq!(*row, [point.at.text.clone(), value.to_string()]);
        // More draw is a shorter time at the most.
        let longest = value.high().expect("an end");
        assert!(longest <= before, "{row:?}");
        before = longest;
    }
    assert!(rows.len() > 5, "{}", rows.len());
}

#[test]
fn a_line_over_time_stops_where_the_cell_was_charged() {
    let (report, limits) = sorted();
    let page = pages::sort(&report, &limits).document();
    let page = read(&page);
    let over_time = all(page.root(), "svg")[1];
    let lines = all(over_time, "line").into_iter();
    let lines = lines
        .filter(|one| one.attribute("class") == Some("course"))
        .count();
    let rest = |cell: &&rulesets::jobs::sort::SortedCell| {
        let read = cell.readings.iter().filter(|one| one.key == "rest.voltage");
        let read: Vec<bool> = read.map(|one| one.moved).collect();
        read.iter().skip(1).filter(|moved| !**moved).count()
    };
    let expected: usize = report.cells.iter().map(|cell| rest(&cell)).sum();
    assert_eq!(lines, expected);
    assert!(expected > 5, "{expected}");
    assert!(
        report
            .cells
            .iter()
            .any(|cell| cell.readings.iter().any(|one| one.moved))
    );
}

#[test]
fn a_label_has_a_row_for_each_reading_and_says_what_speaks_against_it() {
    for report in labels() {
        let page = pages::label(&report).document();
        let page = read(&page);
        let tables = all(page.root(), "table");
        let rows = tables.first().map_or(1, |table| all(*table, "tr").len());
        assert_eq!(rows, report.readings.len() + 1);
        let said = words(page.root());
        for one in &report.contradictions {
            assert!(said.contains(&one.says), "{}", one.says);
        }
        assert!(said.contains(report.caution));
    }
}

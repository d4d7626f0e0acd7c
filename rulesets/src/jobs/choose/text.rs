//! What was chosen, as text.

use rules_core::check::Verdict;
use rules_core::report::text::{Page, Part, Role, Style, counted, notice_in_short};

use super::result::{AgainstSet, Choice, ChosenSet, Stands};

const INDENT: usize = 2;
const HANG: usize = 10;
/// So many margins, and so many cautions, are shown; the rest is in the data.
const MARGINS: usize = 3;
const CAUTIONS: usize = 8;
/// So many names of cells are shown.
const NAMES: usize = 12;

/// What was chosen as text, wrapped to a width in columns.
#[must_use]
pub fn text(choice: &Choice, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    opening(choice, &mut page);
    if let Some(first) = choice.sets.first() {
        against(&first.against, &mut page);
        if first.stands != Stands::Passes {
            in_the_way(choice, &mut page);
        }
        margins(first, &mut page);
    } else {
        in_the_way(choice, &mut page);
    }
    others(choice, &mut page);
    left_out(choice, &mut page);
    notice_in_short(&choice.notice, &mut page);
    page.finish()
}

fn opening(choice: &Choice, page: &mut Page<'_>) {
    let parts = match choice.sets.first() {
        Some(set) => heading(set),
        None => vec![Part::new(Role::Heading, nothing(choice))],
    };
    page.item(0, HANG, &parts);
    let plan = format!(
        "{}: {}, of {} offered",
        choice.title,
        choice.arrangement,
        counted(choice.offered, "cell")
    );
    page.paragraph(HANG, &[Part::text(plan)]);
    page.paragraph(HANG, &[Part::text(searched(choice))]);
}

fn nothing(choice: &Choice) -> String {
    match choice.offered {
        0 => format!(
            "No set: {} needs cells, and none is offered.",
            choice.arrangement
        ),
        offered => format!(
            "No set: there are too few cells for {}, {offered} in all.",
            choice.arrangement
        ),
    }
}

/// The set, with what comes of it.
fn heading(set: &ChosenSet) -> Vec<Part<'static>> {
    let cells = cells(set);
    let questions = counted(set.questions, "question");
    let says = match set.stands {
        Stands::Passes => format!("  {cells}"),
        Stands::NothingAgainst => {
            format!(
                " until {questions} answered: {cells}; nothing is against it yet",
                questions = be(set.questions, &questions)
            )
        }
        Stands::Warns => format!("  no set passes; {cells} comes nearest"),
        Stands::NothingRefuses => {
            format!(
                " until {questions} answered, then WARN: {cells}",
                questions = be(set.questions, &questions)
            )
        }
        Stands::Refused => format!("  no set goes; {cells} comes nearest"),
    };
    vec![verdict(set.outcome.verdict), Part::new(Role::Heading, says)]
}

fn be(count: usize, what: &str) -> String {
    let verb = if count == 1 { "is" } else { "are" };
    format!("{what} {verb}")
}

fn verdict(verdict: Verdict) -> Part<'static> {
    Part::new(Role::Verdict(verdict), verdict.word().to_uppercase())
}

/// The cells of a set: `K4 K7`; those of several groups of several as `K4+K7 M2+M5`.
fn cells(set: &ChosenSet) -> String {
    let by = if set.groups.len() > 1 { "+" } else { " " };
    let groups: Vec<String> = set.groups.iter().map(|group| group.join(by)).collect();
    groups.join(" ")
}

/// What was searched and what is proved.
fn searched(choice: &Choice) -> String {
    let searched = &choice.searched;
    let sets = grouped(searched.sets);
    let checked = grouped(searched.checked);
    match (searched.sets, searched.unsearched) {
        (0, _) => "there is no set to check".to_owned(),
        (1, _) => "the only set there is".to_owned(),
        (_, 0) if choice.sets.is_empty() => format!("none of {sets} sets"),
        (_, 0) => format!("none of all {sets} sets is better: proved with {checked} checked whole"),
        (_, left) => format!(
            "the best of {checked} sets checked, of {sets}; {} could be as good and were left \
             unsearched",
            grouped(left)
        ),
    }
}

/// A number with its thousands apart.
fn grouped(number: u64) -> String {
    if number == u64::MAX {
        return "more than can be counted".to_owned();
    }
    let digits = number.to_string();
    let mut all = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            all.push(',');
        }
        all.push(digit);
    }
    all
}

fn section(title: &'static str, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, title)]);
}

fn line(label: Part<'_>, text: String, page: &mut Page<'_>) {
    page.entry(INDENT, &[label], HANG, &[Part::text(text)]);
}

fn against(all: &[AgainstSet], page: &mut Page<'_>) {
    if all.is_empty() {
        return;
    }
    section("Against it", page);
    for one in all.iter().take(CAUTIONS) {
        let label = Part::new(Role::Verdict(one.verdict), one.verdict.word());
        line(label, format!("{}: {}", one.title, one.subject), page);
    }
    more(all.len(), CAUTIONS, page);
}

fn more(all: usize, shown: usize, page: &mut Page<'_>) {
    if all > shown {
        let text = format!("and {} more", all - shown);
        page.paragraph(HANG, &[Part::new(Role::Quiet, text)]);
    }
}

/// What stands in the way of any set.
fn in_the_way(choice: &Choice, page: &mut Page<'_>) {
    let way = &choice.in_the_way;
    if way.any_cells.is_empty() && way.by.is_empty() {
        return;
    }
    section("In the way", page);
    for one in &way.any_cells {
        let label = Part::new(Role::Verdict(one.verdict), one.verdict.word());
        line(label, format!("{}, with any cells", one.title), page);
    }
    if way.refused_cells > 0 {
        let text = format!(
            "{} of {} can go into no set of this light:",
            way.refused_cells,
            counted(choice.offered, "cell")
        );
        page.paragraph(INDENT, &[Part::text(text)]);
    }
    for one in way.by.iter().take(CAUTIONS) {
        let label = Part::new(Role::Label, one.cells.len().to_string());
        line(label, format!("{}: {}", one.title, names(&one.cells)), page);
    }
    more(way.by.len(), CAUTIONS, page);
}

fn names(cells: &[String]) -> String {
    let shown: Vec<&str> = cells.iter().take(NAMES).map(String::as_str).collect();
    match cells.len().saturating_sub(NAMES) {
        0 => shown.join(" "),
        more => format!("{} and {more} more", shown.join(" ")),
    }
}

fn margins(set: &ChosenSet, page: &mut Page<'_>) {
    if set.margins.is_empty() {
        return;
    }
    section("Its narrowest margins", page);
    for one in set.margins.iter().take(MARGINS) {
        let label = Part::new(Role::Label, format!("{} %", one.percent));
        let limit = match &one.limit {
            Some(limit) => format!(", from {limit}"),
            None => String::new(),
        };
        line(
            label,
            format!("{}: {}{limit}", one.title, one.subject),
            page,
        );
    }
}

/// The other sets, one line each.
fn others(choice: &Choice, page: &mut Page<'_>) {
    if choice.sets.len() < 2 {
        return;
    }
    section("Next", page);
    for set in choice.sets.iter().skip(1) {
        let label = Part::new(
            Role::Verdict(set.outcome.verdict),
            set.outcome.verdict.word(),
        );
        line(label, format!("{}: {}", cells(set), in_short(set)), page);
    }
}

/// What comes of a set, in a few words.
fn in_short(set: &ChosenSet) -> String {
    let open = format!("{} open", counted(set.questions, "question"));
    let narrowest = set
        .margins
        .first()
        .map(|margin| format!("{} % from {}", margin.percent, margin.title));
    match set.stands {
        Stands::Passes => narrowest.unwrap_or_else(|| "passes".to_owned()),
        Stands::NothingAgainst => format!("nothing against it, {open}"),
        Stands::Warns => counted(set.warned, "warning"),
        Stands::NothingRefuses => format!("{}, {open}", counted(set.warned, "warning")),
        Stands::Refused => format!("{} against it, {open}", set.refused),
    }
}

fn left_out(choice: &Choice, page: &mut Page<'_>) {
    if choice.in_other_lights.is_empty() && choice.unreadable.is_empty() {
        return;
    }
    section("Not offered", page);
    let elsewhere = choice.in_other_lights.iter();
    let elsewhere: Vec<String> = elsewhere
        .map(|one| format!("{} (in {})", one.cell, one.light))
        .collect();
    if !elsewhere.is_empty() {
        page.item(INDENT, INDENT + 2, &[Part::text(names(&elsewhere))]);
    }
    for one in &choice.unreadable {
        let text = format!("{}: {}", one.cell, one.says.join("; "));
        page.item(INDENT, INDENT + 2, &[Part::text(text)]);
    }
}

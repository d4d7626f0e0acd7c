//! What is said of a choice, for text and pages alike.

use rules_core::report::text::counted;

use super::result::{AgainstSet, Choice, ChosenSet, SetMargin, Stands};

/// What there was to choose from: `Club helmet lamp: 2S1P, of 60 cells offered`.
pub(crate) fn plan_said(choice: &Choice) -> String {
    format!(
        "{}: {}, of {} offered",
        choice.title,
        choice.arrangement,
        counted(choice.offered, "cell")
    )
}

/// That there is no set at all.
pub(crate) fn no_set_said(choice: &Choice) -> String {
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

/// What comes of a set, after the word of its verdict.
pub(crate) fn set_said(set: &ChosenSet) -> String {
    let cells = cells(set);
    let questions = be(set.questions, &counted(set.questions, "question"));
    match set.stands {
        Stands::Passes => format!("  {cells}"),
        Stands::NothingAgainst => {
            format!(" until {questions} answered: {cells}; nothing is against it yet")
        }
        Stands::Warns => format!("  no set passes; {cells} comes nearest"),
        Stands::NothingRefuses => format!(" until {questions} answered, then WARN: {cells}"),
        Stands::Refused => format!("  no set goes; {cells} comes nearest"),
    }
}

fn be(count: usize, what: &str) -> String {
    let verb = if count == 1 { "is" } else { "are" };
    format!("{what} {verb}")
}

/// The cells of a set: `K4 K7`; those of several groups of several as `K4+K7 M2+M5`.
pub(crate) fn cells(set: &ChosenSet) -> String {
    let by = if set.groups.len() > 1 { "+" } else { " " };
    let groups: Vec<String> = set.groups.iter().map(|group| group.join(by)).collect();
    groups.join(" ")
}

/// What was searched and what is proved.
pub(crate) fn searched_said(choice: &Choice) -> String {
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

/// What comes of a set, in a few words.
pub(crate) fn in_short(set: &ChosenSet) -> String {
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

/// How far a set is from a limit.
pub(crate) fn margin_said(margin: &SetMargin) -> String {
    let limit = margin.limit.as_ref();
    let limit = limit.map_or_else(String::new, |limit| format!(", from {limit}"));
    format!("{}: {}{limit}", margin.title, margin.subject)
}

/// What speaks against a set.
pub(crate) fn against_said(against: &AgainstSet) -> String {
    format!("{}: {}", against.title, against.subject)
}

/// How many cells can go into no set, if any.
pub(crate) fn refused_said(choice: &Choice) -> Option<String> {
    let refused = choice.in_the_way.refused_cells;
    (refused > 0).then(|| {
        format!(
            "{refused} of {} can go into no set of this light:",
            counted(choice.offered, "cell")
        )
    })
}

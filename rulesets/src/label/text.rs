//! What a label says, as text.

use rules_core::check::Verdict;
use rules_core::report::text::{Page, Part, Role, Style, counted, notice};

use super::credible::Family;
use super::pack_reading::Plausible;
use super::report::{LabelNumber, LabelReading, LabelReport};

const INDENT: usize = 4;
const HANG: usize = 16;
/// So many readings are shown; the rest is counted.
const MOST_SHOWN: usize = 12;

/// What a label says as text, wrapped to a width in columns.
#[must_use]
pub fn text(report: &LabelReport, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    page.paragraph(0, &[opening(report)]);
    page.gap();
    given(report, &mut page);
    contradictions(report, &mut page);
    readings(report, &mut page);
    page.gap();
    page.paragraph(0, &[Part::text(report.caution)]);
    notice(&report.notice, &mut page);
    page.finish()
}

fn opening(report: &LabelReport) -> Part<'static> {
    match opening_said(report) {
        (true, says) => Part::new(Role::Verdict(Verdict::Refuse), says),
        (false, says) => Part::new(Role::Heading, says),
    }
}

/// What comes of it, in a line, and whether it is against the label.
pub(crate) fn opening_said(report: &LabelReport) -> (bool, String) {
    let count = |plausible: Plausible| {
        let readings = report.readings.iter();
        readings
            .filter(|reading| reading.plausible == plausible)
            .count()
    };
    let suspect = count(Plausible::Suspect);
    let (likely, first) = (count(Plausible::Yes), report.readings.first());
    if !report.contradictions.is_empty() {
        let says = "Do not trust the label: it contradicts itself or the count.";
        return (true, says.to_owned());
    }
    let says = match (likely, suspect, first) {
        (0, 0, _) => {
            let says = "Do not trust the label: no cells can be as it says.";
            return (true, says.to_owned());
        }
        (0, 1, Some(reading)) => format!("{} That is suspect.", in_full(reading)),
        (1, 0, Some(reading)) => in_full(reading),
        (1, _, Some(reading)) => format!("{} Other readings are suspect.", in_full(reading)),
        (0, ..) => format!(
            "The label leaves {suspect} readings, all of them suspect; the likeliest comes first."
        ),
        (likely, ..) => format!("The label leaves {likely} readings; the likeliest comes first."),
    };
    (false, says)
}

fn in_full(reading: &LabelReading) -> String {
    let parallel = match reading.parallel {
        Some(parallel) => format!(", {parallel} in parallel"),
        None => "; nothing says how many are in parallel".to_owned(),
    };
    format!(
        "The label says {}: {} in series{parallel}.",
        reading.arrangement, reading.series
    )
}

fn given(report: &LabelReport, page: &mut Page<'_>) {
    for (label, text) in given_said(report) {
        page.entry(
            INDENT,
            &[Part::new(Role::Label, format!("{label}:"))],
            HANG,
            &[Part::text(text)],
        );
    }
}

/// What the label has, and the count.
pub(crate) fn given_said(report: &LabelReport) -> impl Iterator<Item = (&'static str, String)> {
    let number = |number: &Option<LabelNumber>| number.as_ref().map(of_pack);
    let all = [
        ("Voltage", number(&report.voltage)),
        ("Capacity", number(&report.capacity)),
        ("Energy", number(&report.energy)),
        ("Code", report.code.clone()),
        ("Counted", report.counted.map(|cells| many(cells, "cell"))),
    ];
    all.into_iter()
        .filter_map(|(label, text)| Some((label, text?)))
}

fn of_pack(number: &LabelNumber) -> String {
    let worked = if number.worked_out {
        " (worked out)"
    } else {
        ""
    };
    format!("{}{worked}", number.text)
}

fn many(count: u32, what: &str) -> String {
    counted(usize::try_from(count).unwrap_or(usize::MAX), what)
}

fn contradictions(report: &LabelReport, page: &mut Page<'_>) {
    if report.contradictions.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Contradictions")]);
    for one in &report.contradictions {
        page.item(INDENT, INDENT + 2, &[Part::text(one.says.as_str())]);
    }
}

fn readings(report: &LabelReport, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Readings")]);
    if report.readings.is_empty() {
        page.paragraph(INDENT, &[Part::text("None.")]);
    }
    for one in report.readings.iter().take(MOST_SHOWN) {
        reading(one, page);
    }
    if let Some(more) = report
        .readings
        .len()
        .checked_sub(MOST_SHOWN)
        .filter(|more| *more > 0)
    {
        page.paragraph(
            INDENT,
            &[Part::new(
                Role::Quiet,
                format!("and {more} more, less likely; as JSON all are given"),
            )],
        );
    }
}

fn reading(reading: &LabelReading, page: &mut Page<'_>) {
    let mark = mark(reading.plausible);
    let mut parts = vec![Part::text(cells(reading))];
    parts.extend(
        mark.into_iter().flat_map(|(verdict, word)| {
            [Part::text("; "), Part::new(Role::Verdict(verdict), word)]
        }),
    );
    parts.push(Part::text("."));
    parts.extend(
        reading
            .doubts
            .iter()
            .map(|doubt| Part::text(format!(" {}", doubt.says))),
    );
    page.entry(
        INDENT,
        &[Part::new(Role::Label, reading.arrangement.as_str())],
        HANG,
        &parts,
    );
}

/// The word for a reading that cannot well be true, and how grave it is.
pub(crate) const fn mark(plausible: Plausible) -> Option<(Verdict, &'static str)> {
    match plausible {
        Plausible::Yes => None,
        Plausible::Suspect => Some((Verdict::Warn, "suspect")),
        Plausible::Implausible => Some((Verdict::Refuse, "implausible")),
    }
}

/// The cells of a reading: how many, of what class, each with what.
pub(crate) fn cells(reading: &LabelReading) -> String {
    let what = match (reading.class, reading.family) {
        (Some(class), _) => format!("{} cell", class.name()),
        (None, Family::IronPhosphate) => "iron phosphate cell".to_owned(),
        (None, Family::CobaltNickel | Family::Other) => "cell".to_owned(),
    };
    let cells = reading
        .cells
        .map_or_else(|| format!("{what}s"), |count| many(count, &what));
    let each: Vec<&str> = [&reading.cell_capacity, &reading.cell_voltage]
        .into_iter()
        .flatten()
        .map(|number| number.text.as_str())
        .collect();
    if each.is_empty() {
        cells
    } else {
        format!("{cells} of {}", each.join(" and "))
    }
}

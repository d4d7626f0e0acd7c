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

/// What comes of it, in a line.
fn opening(report: &LabelReport) -> Part<'static> {
    let count = |plausible: Plausible| {
        report
            .readings
            .iter()
            .filter(|reading| reading.plausible == plausible)
            .count()
    };
    let against = |says: &'static str| Part::new(Role::Verdict(Verdict::Refuse), says);
    let suspect = count(Plausible::Suspect);
    match (
        report.contradictions.is_empty(),
        count(Plausible::Yes),
        report.readings.first(),
    ) {
        (false, ..) => against("Do not trust the label: it contradicts itself or the count."),
        (true, 0, _) if suspect == 0 => {
            against("Do not trust the label: no cells can be as it says.")
        }
        (true, 0, Some(reading)) if suspect == 1 => Part::new(
            Role::Heading,
            format!("{} That is suspect.", in_full(reading)),
        ),
        (true, 1, Some(reading)) if suspect == 0 => Part::new(Role::Heading, in_full(reading)),
        (true, 1, Some(reading)) => Part::new(
            Role::Heading,
            format!("{} Other readings are suspect.", in_full(reading)),
        ),
        (true, 0, _) => Part::new(
            Role::Heading,
            format!(
                "The label leaves {suspect} readings, all of them suspect; the likeliest comes first."
            ),
        ),
        (true, likely, _) => Part::new(
            Role::Heading,
            format!("The label leaves {likely} readings; the likeliest comes first."),
        ),
    }
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
    let mut entry = |label: &str, text: Option<String>| {
        if let Some(text) = text {
            page.entry(
                INDENT,
                &[Part::new(Role::Label, label)],
                HANG,
                &[Part::text(text)],
            );
        }
    };
    entry("Voltage:", report.voltage.as_ref().map(of_pack));
    entry("Capacity:", report.capacity.as_ref().map(of_pack));
    entry("Energy:", report.energy.as_ref().map(of_pack));
    entry("Code:", report.code.clone());
    entry("Counted:", report.counted.map(|cells| many(cells, "cell")));
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
    let mark = match reading.plausible {
        Plausible::Yes => None,
        Plausible::Suspect => Some((Role::Verdict(Verdict::Warn), "suspect")),
        Plausible::Implausible => Some((Role::Verdict(Verdict::Refuse), "implausible")),
    };
    let mut parts = vec![Part::text(cells(reading))];
    parts.extend(
        mark.into_iter()
            .flat_map(|(role, word)| [Part::text("; "), Part::new(role, word)]),
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

/// The cells of a reading: how many, of what class, each with what.
fn cells(reading: &LabelReading) -> String {
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

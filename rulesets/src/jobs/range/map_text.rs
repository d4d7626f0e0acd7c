//! A map of two ranges in signs, one for each piece of both.

use rules_core::report::text::{Page, Part, Role, Style};

use super::report::{Class, MapArea, MapReport, RangeFact, RangeSearch};
use super::text::{apart, closing, of_stages, word};

const INDENT: usize = 2;
/// Columns kept for what stands beside the map.
const BESIDE: usize = 4;
/// More rows are put together.
const MOST_ROWS: usize = 40;
/// What stands where several kinds are put together.
const SEVERAL: char = '%';

const ALL: [Class; 7] = [
    Class::Pass,
    Class::Warn,
    Class::Refuse,
    Class::Open,
    Class::Boundary,
    Class::CannotBe,
    Class::NotSearched,
];

const fn sign(class: Class) -> char {
    match class {
        Class::Pass => '.',
        Class::Warn => 'w',
        Class::Refuse => 'R',
        Class::Open => '?',
        Class::Boundary => '/',
        Class::CannotBe => '#',
        Class::NotSearched => '_',
    }
}

/// A map as text, fitted to a width in columns.
#[must_use]
pub fn map_text(report: &MapReport, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    let search = &report.search;
    page.paragraph(
        0,
        &[
            Part::new(Role::Heading, report.across.path.as_str()),
            Part::text(" across, "),
            Part::new(Role::Heading, report.up.path.as_str()),
            Part::text(format!(" up, {}", all_else(search))),
        ],
    );
    if let Some(says) = read_by_none(report) {
        page.paragraph(INDENT, &[Part::text(says)]);
    } else {
        apart(search, "either of them", &mut page);
        page.gap();
        Signs::of(report, width).write(report, &mut page);
    }
    closing(search, &[&report.across, &report.up], &mut page);
    page.finish()
}

/// What is as it was: `all else as in lamp.yaml`.
#[must_use]
pub fn all_else(search: &RangeSearch) -> String {
    format!("all else as in {}{}", search.proposal, of_stages(search))
}

/// What is said where no caution reads what is varied, and nothing contradicts it, so that nothing is to
/// be drawn.
#[must_use]
pub fn read_by_none(report: &MapReport) -> Option<String> {
    let search = &report.search;
    let mut all = report.areas.iter().map(|area| area.found.class);
    let is_free = search.bearing.is_empty() && !all.any(|class| class == Class::CannotBe);
    is_free.then(|| {
        format!(
            "No caution of these rules reads either, directly or through a figure: whatever they are, the verdict is {}.",
            search.apart.verdict.word()
        )
    })
}

/// The signs of a map, rows from the bottom.
struct Signs {
    rows: Vec<Vec<char>>,
    /// So many columns and rows of the data are one of the text.
    scale: (usize, usize),
    labels: Vec<String>,
}

impl Signs {
    fn of(report: &MapReport, width: usize) -> Self {
        let most = |of: fn(&MapArea) -> usize| report.areas.iter().map(of).max().unwrap_or(0);
        let (columns, rows) = (most(|area| area.columns[1]), most(|area| area.rows[1]));
        let starts = starts(&report.up, rows);
        let beside = starts.iter().map(|label| label.chars().count()).max();
        let room = width
            .saturating_sub(beside.unwrap_or(0) + INDENT + BESIDE)
            .max(1);
        let scale = (
            columns.div_ceil(room).max(1),
            rows.div_ceil(MOST_ROWS).max(1),
        );
        let size = (columns.div_ceil(scale.0), rows.div_ceil(scale.1));
        let mut signs = vec![vec![None; size.0]; size.1];
        for area in &report.areas {
            draw(area, scale, &mut signs);
        }
        let shown = |sign: Option<char>| sign.unwrap_or(sign_of_nothing());
        Self {
            rows: signs
                .into_iter()
                .map(|row| row.into_iter().map(shown).collect())
                .collect(),
            scale,
            labels: starts.into_iter().step_by(scale.1).collect(),
        }
    }

    fn write(&self, report: &MapReport, page: &mut Page<'_>) {
        let widest = self.labels.iter().map(|label| label.chars().count()).max();
        let hang = INDENT + widest.unwrap_or(0) + 2;
        let own_row = own_at(&report.up).map(|at| at / self.scale.1);
        for (at, row) in self.rows.iter().enumerate().rev() {
            let label = self.labels.get(at).map_or("", String::as_str);
            let label = format!("{label:>width$}", width = widest.unwrap_or(0));
            let mark = if own_row == Some(at) { " <" } else { "" };
            let signs: String = row.iter().collect();
            let signs = format!("{signs}{mark}").replace(' ', "\u{a0}");
            page.entry(INDENT, &[Part::text(label)], hang, &[Part::text(signs)]);
        }
        self.below(report, hang, page);
        self.legend(page);
    }

    /// The mark of the plan's own column, and the ends across.
    fn below(&self, report: &MapReport, hang: usize, page: &mut Page<'_>) {
        let columns = self.rows.first().map_or(0, Vec::len);
        if let Some(at) = own_at(&report.across).map(|at| at / self.scale.0) {
            page.paragraph(hang + at, &[Part::text("^")]);
        }
        let Some(range) = &report.across.range else {
            return;
        };
        let (from, to) = (&range.from.text, &range.to.text);
        let used = from.chars().count() + to.chars().count();
        let gap = " ".repeat(columns.saturating_sub(used).max(1));
        let line = format!("{from}{gap}{to}").replace(' ', "\u{a0}");
        page.paragraph(hang, &[Part::text(line)]);
    }

    fn legend(&self, page: &mut Page<'_>) {
        page.gap();
        let is_drawn = |sign: char| self.rows.iter().flatten().any(|one| *one == sign);
        let mut said: Vec<String> = ALL
            .into_iter()
            .filter(|class| is_drawn(sign(*class)))
            .map(|class| format!("{} {}", sign(class), meaning(class)))
            .collect();
        if is_drawn(SEVERAL) {
            said.push(format!("{SEVERAL} several of these"));
        }
        said.push("^ and < what the plan has".to_owned());
        let said = said.join(", ");
        page.paragraph(INDENT, &[Part::text(said)]);
    }
}

/// What a part of a map comes to, in words.
#[must_use]
pub const fn meaning(class: Class) -> &'static str {
    match class {
        Class::Open => "not shown to pass",
        Class::Boundary => "a limit lies in it",
        other => word(other),
    }
}

const fn sign_of_nothing() -> char {
    sign(Class::NotSearched)
}

/// The first value of each row.
fn starts(fact: &RangeFact, rows: usize) -> Vec<String> {
    let Some((range, step)) = fact.range.as_ref().zip(fact.step) else {
        return Vec::new();
    };
    let decimals = |text: &str| {
        let number = text.split(' ').next().unwrap_or_default();
        number.split_once('.').map_or(0, |(_, after)| after.len())
    };
    let decimals = decimals(&range.from.text).max(decimals(&range.to.text));
    let start = |row: usize| {
        let steps = f64::from(u32::try_from(row).unwrap_or(u32::MAX));
        let value = step.mul_add(steps, range.from.value);
        format!("{value:.decimals$} {}", fact.unit)
            .trim_end()
            .to_owned()
    };
    (0..rows).map(start).collect()
}

fn draw(area: &MapArea, scale: (usize, usize), signs: &mut [Vec<Option<char>>]) {
    let new = sign(area.found.alone);
    let rows = area.rows[0] / scale.1..area.rows[1].div_ceil(scale.1);
    let columns = area.columns[0] / scale.0..area.columns[1].div_ceil(scale.0);
    for row in signs.get_mut(rows).into_iter().flatten() {
        for place in row.get_mut(columns.clone()).into_iter().flatten() {
            *place = match *place {
                None => Some(new),
                Some(known) if known == new => Some(new),
                Some(_) => Some(SEVERAL),
            };
        }
    }
}

/// The step in which what the plan has begins, if it begins in the range.
fn own_at(fact: &RangeFact) -> Option<usize> {
    let ([own, _], step) = fact.own_range.zip(fact.step)?;
    let range = fact.range.as_ref()?;
    let is_inside = range.from.value <= own && own <= range.to.value;
    let steps = ((own - range.from.value) / step).floor();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "it is not negative, and a range has few steps enough"
    )]
    is_inside.then_some(steps as usize)
}

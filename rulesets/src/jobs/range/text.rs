//! What a range comes to, as text.

use rules_core::check::Verdict;
use rules_core::report::text::{Page, Part, Role, Style, counted, notice_in_short, openly};
use rules_core::ruleset::Acceptance;

use super::report::{
    Class, RangeCaution, RangeFact, RangeFound, RangeOpen, RangeOption, RangePiece, RangeReport,
    RangeSearch,
};
use crate::jobs::without_shipped;

const INDENT: usize = 2;
/// So many cautions or facts are named on one line; the rest is counted.
const MOST_NAMED: usize = 3;
/// So many narrow pieces are named; the rest is counted.
const MOST_NARROW: usize = 4;

/// What a range comes to as text, wrapped to a width in columns.
#[must_use]
pub fn text(report: &RangeReport, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    head(report, &mut page);
    let search = &report.search;
    if let Some(says) = not_read(report) {
        page.paragraph(INDENT, &[Part::text(says)]);
    } else {
        apart(search, "it", &mut page);
        let lines: Vec<Line<'_>> = lines(report);
        write(&lines, &mut page);
        narrow(report, &mut page);
    }
    closing(search, &[&report.fact], &mut page);
    page.finish()
}

fn head(report: &RangeReport, page: &mut Page<'_>) {
    let path = Part::new(Role::Heading, report.fact.path.as_str());
    page.paragraph(0, &[path, Part::text(of_what(report))]);
}

/// What is varied, from where to where, and what is as it was.
#[must_use]
pub fn range_heading(report: &RangeReport) -> String {
    format!("{}{}", report.fact.path, of_what(report))
}

fn of_what(report: &RangeReport) -> String {
    let range = report.fact.range.as_ref();
    let range = range.map_or_else(String::new, |range| {
        format!(" from {} to {}", range.from.text, range.to.text)
    });
    let search = &report.search;
    format!(
        "{range}, all else as in {}{}",
        search.proposal,
        of_stages(search)
    )
}

pub(super) fn of_stages(search: &RangeSearch) -> String {
    match search.stages.as_slice() {
        [] => String::new(),
        stages => format!(", for {} only", stages.join(", ")),
    }
}

/// What is said where no caution reads what is varied, and nothing contradicts it.
#[must_use]
pub fn not_read(report: &RangeReport) -> Option<String> {
    let search = &report.search;
    let pieces = report.pieces.iter().map(|piece| piece.found.class);
    let mut all = pieces.chain(report.options.iter().map(|option| option.found.class));
    let is_free = search.bearing.is_empty() && !all.any(|class| class == Class::CannotBe);
    is_free.then(|| {
        format!(
            "No caution of these rules reads it, directly or through a figure: whatever it is, the verdict is {}.",
            search.apart.verdict.word()
        )
    })
}

/// What is the same whatever is varied, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ApartSaid {
    /// Whatever what is.
    pub whatever: String,
    /// The verdict that follows, where it is settled.
    pub verdict: Option<Verdict>,
    /// What follows.
    pub then: String,
    /// By what the answer is that comes after.
    pub reading: String,
}

/// What is the same whatever `it` is, if it is more than a pass.
#[must_use]
pub fn apart_said(search: &RangeSearch, it: &str) -> Option<ApartSaid> {
    let apart = &search.apart;
    if apart.verdict == Verdict::Pass {
        return None;
    }
    let of_level = |caution: &&RangeCaution| caution.verdict == apart.verdict;
    let cautions: Vec<&RangeCaution> = apart.cautions.iter().filter(of_level).collect();
    let is_settled = apart.best == apart.verdict;
    let then = match is_settled {
        true => format!(": {}.", titles(&cautions)),
        false => format!("{}.", not_shown(apart.best, &apart.open, &cautions)),
    };
    let reading = match search.bearing.len() {
        1 => "By the one caution that reads".to_owned(),
        count => format!("By the {count} cautions that read"),
    };
    Some(ApartSaid {
        whatever: format!("Whatever {it} is, "),
        verdict: is_settled.then_some(apart.verdict),
        then,
        reading: format!("{reading} {it}:"),
    })
}

/// Writes it.
pub(super) fn apart(search: &RangeSearch, it: &str, page: &mut Page<'_>) {
    let Some(said) = apart_said(search, it) else {
        return;
    };
    let verdict = said.verdict;
    let verdict = verdict.map(|one| Part::new(Role::Verdict(one), one.word()));
    let mut parts = vec![Part::text(said.whatever)];
    parts.extend(verdict);
    parts.push(Part::text(said.then));
    page.paragraph(0, &parts);
    page.paragraph(0, &[Part::text(said.reading)]);
}

/// A line of the answer.
struct Line<'r> {
    what: String,
    own: Option<&'r str>,
    found: &'r RangeFound,
}

/// A line of the answer, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RangeLine {
    /// What it comes to, by the cautions that read what is varied.
    pub class: Class,
    /// Which values: `up to 1.62 A`.
    pub what: String,
    /// Why.
    pub says: String,
}

/// The lines of the answer; what is narrower than asked for has none.
#[must_use]
pub fn range_lines(report: &RangeReport) -> Vec<RangeLine> {
    let lines = lines(report).into_iter();
    lines
        .map(|line| RangeLine {
            class: line.found.alone,
            says: says(&line),
            what: line.what,
        })
        .collect()
}

fn lines(report: &RangeReport) -> Vec<Line<'_>> {
    let shown = |piece: &&RangePiece| piece.found.alone != Class::Boundary;
    let pieces = report.pieces.iter().filter(shown).map(|piece| Line {
        what: reach(piece, report),
        own: report.fact.own.as_deref().filter(|_| piece.holds_own),
        found: &piece.found,
    });
    let options = report.options.iter().map(|option: &RangeOption| Line {
        what: option.option.clone(),
        own: report.fact.own.as_deref().filter(|_| option.is_own),
        found: &option.found,
    });
    pieces.chain(options).collect()
}

/// From where to where a piece goes: `up to 1.62 A`.
fn reach(piece: &RangePiece, report: &RangeReport) -> String {
    let is = |other: Option<&RangePiece>| other.is_some_and(|other| std::ptr::eq(other, piece));
    let (first, last) = (is(report.pieces.first()), is(report.pieces.last()));
    let (from, to) = (&piece.from.text, &piece.to.text);
    match (first, last) {
        _ if from == to => from.clone(),
        (true, false) => format!("up to {to}"),
        (false, true) => format!("from {from}"),
        _ => format!("{from} to {to}"),
    }
}

pub(super) const fn word(class: Class) -> &'static str {
    match class {
        Class::Pass => "pass",
        Class::Warn => "warn",
        Class::Refuse => "refuse",
        Class::Open => "open",
        Class::Boundary => "limit",
        Class::CannotBe => "cannot be",
        Class::NotSearched => "not searched",
    }
}

pub(super) const fn role(class: Class) -> Role {
    match class {
        Class::Pass => Role::Verdict(Verdict::Pass),
        Class::Warn => Role::Verdict(Verdict::Warn),
        Class::Refuse => Role::Verdict(Verdict::Refuse),
        _ => Role::Label,
    }
}

fn write(lines: &[Line<'_>], page: &mut Page<'_>) {
    let widest = |of: fn(&Line<'_>) -> usize| lines.iter().map(of).max().unwrap_or(0);
    let words = widest(|line| word(line.found.alone).len());
    let reach = widest(|line| line.what.chars().count());
    let hang = INDENT + words + 2 + reach + 2;
    for line in lines {
        let class = word(line.found.alone);
        let gap = " ".repeat(words + 2 - class.len());
        let label = [
            Part::new(role(line.found.alone), class),
            Part::text(gap),
            Part::text(line.what.as_str()),
        ];
        page.entry(INDENT, &label, hang, &[Part::text(says(line))]);
    }
}

/// What stands beside a piece: whose it is, which cautions speak, what is open.
fn says(line: &Line<'_>) -> String {
    let found = line.found;
    let gravest = found.cautions.iter().map(|one| one.verdict).max();
    let of_level = |caution: &&RangeCaution| Some(caution.verdict) == gravest;
    let cautions: Vec<&RangeCaution> = found.cautions.iter().filter(of_level).collect();
    let why = match found.alone {
        Class::Open => {
            let best = found.cautions.iter().map(|one| one.best).max();
            not_shown(best.unwrap_or(Verdict::Pass), &found.open, &cautions)
        }
        Class::CannotBe => found.contradiction.clone().unwrap_or_default(),
        Class::NotSearched => "the checks ran out".to_owned(),
        _ => titles(&cautions),
    };
    match line.own {
        Some(own) => format!("(the plan has {own}) {why}"),
        None => why,
    }
}

/// What is not shown, of which cautions, and what leaves it open.
fn not_shown(best: Verdict, open: &[RangeOpen], cautions: &[&RangeCaution]) -> String {
    let what = match best {
        Verdict::Pass => "not shown to pass",
        Verdict::Warn | Verdict::Refuse => "a warning at best, not shown to be no more",
    };
    let places = |missing: bool| {
        let of_kind = open.iter().filter(|one| one.missing == missing);
        let places: Vec<String> = of_kind
            .map(|one| one.place.replace(' ', "\u{a0}"))
            .collect();
        let named: Vec<&str> = places.iter().map(String::as_str).collect();
        (!named.is_empty()).then(|| several(&named, ", "))
    };
    let doubtful = places(false).map(|places| format!("in doubt by {places}"));
    let missing = places(true).map(|places| format!("not known yet {places}"));
    let why: Vec<String> = doubtful.into_iter().chain(missing).collect();
    match why.as_slice() {
        [] => format!("{what}: {}", titles(cautions)),
        why => format!("{what}: {}; {}", titles(cautions), why.join("; ")),
    }
}

fn titles(cautions: &[&RangeCaution]) -> String {
    let named: Vec<String> = cautions
        .iter()
        .map(|caution| match caution.subjects.as_slice() {
            [] => caution.title.to_string(),
            subjects => {
                let subjects: Vec<&str> = subjects.iter().map(String::as_str).collect();
                let subjects = several(&subjects, " ");
                // What is called something like `(not listed)` has brackets already.
                match subjects.starts_with('(') {
                    true => format!("{} {subjects}", caution.title),
                    false => format!("{} ({subjects})", caution.title),
                }
            }
        })
        .collect();
    let named: Vec<&str> = named.iter().map(String::as_str).collect();
    several(&named, "; ")
}

fn several(names: &[&str], between: &str) -> String {
    let shown: Vec<&str> = names.iter().take(MOST_NAMED).copied().collect();
    match names.len().saturating_sub(MOST_NAMED) {
        0 => shown.join(between),
        more => format!("{}{between}and {more} more", shown.join(between)),
    }
}

fn narrow(report: &RangeReport, page: &mut Page<'_>) {
    if let Some(says) = narrow_said(report) {
        page.paragraph(INDENT, &[Part::new(Role::Quiet, says)]);
    }
}

/// The pieces that a limit lies in.
#[must_use]
pub fn narrow_said(report: &RangeReport) -> Option<String> {
    let narrow: Vec<String> = report
        .pieces
        .iter()
        .filter(|piece| piece.found.alone == Class::Boundary)
        .map(|piece| format!("{} to {}", piece.from.text, piece.to.text))
        .collect();
    let named: Vec<&str> = narrow.iter().map(String::as_str).collect();
    let (shown, more) = named.split_at(MOST_NARROW.min(named.len()));
    let is = match (shown, more.len()) {
        ([], _) => return None,
        ([one], _) => format!("{one} is"),
        ([first @ .., last], 0) => format!("{} and {last} are", first.join(", ")),
        (shown, more) => format!("{} and {more} more are", shown.join(", ")),
    };
    Some(format!("({is} narrower than asked for)"))
}

/// How it was searched, and the standing notice.
pub(super) fn closing(search: &RangeSearch, facts: &[&RangeFact], page: &mut Page<'_>) {
    page.gap();
    let how = how_searched(search, facts);
    page.paragraph(0, &[Part::new(Role::Quiet, how)]);
    // The range is searched under guarded acceptance, and has said so.
    openly(Acceptance::Guarded, &search.loosened, page);
    notice_in_short(&search.notice, page);
}

/// How finely it was searched, with how many checks, by which rules.
#[must_use]
pub fn how_searched(search: &RangeSearch, facts: &[&RangeFact]) -> String {
    let mut says: Vec<String> = facts.iter().filter_map(|fact| how_fine(fact)).collect();
    let rules: Vec<String> = search
        .rules
        .iter()
        .map(|layer| format!("{} {}", layer.ruleset, layer.version))
        .collect();
    says.push(format!(
        "{}, {} allowed, by {}.",
        counted(search.checks, "check"),
        search.most_checks,
        rules.join(", ")
    ));
    if search.acceptance == Acceptance::Simple {
        says.push("They have simple acceptance; here it is guarded.".to_owned());
    }
    says.extend(without_shipped(&search.rules));
    says.join(" ")
}

fn how_fine(fact: &RangeFact) -> Option<String> {
    let resolution = fact.resolution.as_ref()?;
    Some(format!(
        "{}: {}; resolution {resolution}.",
        fact.path, fact.chosen
    ))
}

//! What is not known yet, as questions in the keys of a proposal: alike subjects joined, and facts
//! that one word can answer asked once.

use std::collections::hash_map::Entry;
use std::collections::{BTreeMap, HashMap, HashSet};

use crate::check::{FactPlace, Finding, InOneWord, MeasureNext, Report, Subject, Verdict};

/// So many entries of a list are named in one place; the rest is counted.
const MOST_NAMED: usize = 4;

/// Something to state or to measure.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Question<'r> {
    /// The key at the top of the proposal: `cables`.
    pub section: &'r str,
    /// Whose entries of the section's list it is about: their names. None where no list stands there.
    pub entries: Option<Vec<&'r str>>,
    /// The key below, with dots between: `rated.current`; that of a word, where one word answers. None
    /// where the section itself is the value.
    pub key: Option<&'r str>,
    /// What can be written.
    pub answers: Answers<'r>,
    /// What is asked.
    pub meaning: &'r str,
    /// The first stage of the work that waits for the answer, by its place in the report.
    pub stage: Option<usize>,
    /// The gravest verdict that it leaves open.
    pub leaves_open: Verdict,
    /// Whether a finding of the gravest verdict waits for it.
    pub holds_the_verdict: bool,
    /// Whether its answers are among those that were found to lift the verdict together.
    pub decides: bool,
}

/// What can be written in answer to a question.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Answers<'r> {
    /// One of these words.
    OneOf(&'r [String]),
    /// One of these words for several facts at once, or each fact by itself.
    InOneWord(&'r InOneWord),
    /// A quantity of this kind, for which there is such a unit.
    Quantity {
        /// The kind: `current`.
        kind: &'r str,
        /// A unit: `A`. Empty for a plain number.
        unit: &'r str,
    },
    /// Something written as this.
    Like(&'r str),
    /// A text.
    Text,
    /// So many more entries of the list.
    MoreEntries(usize),
}

impl Question<'_> {
    /// Where it is answered, for all of whom it is asked: `cables[K4 K7].rated.current`. Of many the
    /// first are named and the rest is counted.
    #[must_use]
    pub fn place(&self) -> String {
        let names = self.entries.as_ref().map(|names| several(names));
        self.path(names.as_deref())
    }

    /// Where it is answered, for each of whom it is asked.
    #[must_use]
    pub fn paths(&self) -> Vec<String> {
        match &self.entries {
            None => vec![self.path(None)],
            Some(names) => names.iter().map(|name| self.path(Some(name))).collect(),
        }
    }

    fn path(&self, entry: Option<&str>) -> String {
        let entry = entry.map_or_else(String::new, |name| format!("[{name}]"));
        let key = self.key.map_or_else(String::new, |key| format!(".{key}"));
        format!("{}{entry}{key}", self.section)
    }
}

/// The names of entries: `K4 K7`, of many `K1 K2 K3 K4 and 96 more`.
pub(super) fn several(names: &[&str]) -> String {
    let (named, more) = names.split_at(MOST_NAMED.min(names.len()));
    match more.len() {
        0 => named.join(" "),
        count => format!("{} and {count} more", named.join(" ")),
    }
}

/// The questions of a report: those first that were found to lift its verdict together, in the order of
/// the work; then those that hold it.
#[must_use]
pub fn questions(report: &Report) -> Vec<Question<'_>> {
    let missing = report.measure_next.iter().filter(|next| next.missing);
    let asked: HashSet<(&str, &Subject)> = missing
        .clone()
        .map(|next| (&*next.fact, &next.subject))
        .collect();
    let mut asking = Asking::of(report);
    let mut unlisted: BTreeMap<&str, usize> = BTreeMap::new();
    for next in missing {
        let Some(place) = report.places.get(&next.fact) else {
            continue;
        };
        if !next.subject.is_listed() && place.is_list {
            unlisted.insert(&place.section, next.subject.count());
            continue;
        }
        let all_asked = |word: &&InOneWord| {
            let mut facts = word.facts.iter();
            facts.all(|fact| asked.contains(&(fact.as_str(), &next.subject)))
        };
        asking.add(next, place, place.in_one_word.as_ref().filter(all_asked));
    }
    let mut all = asking.all;
    all.sort_by_key(|one| match one.decides {
        true => (false, one.stage, false),
        false => (true, None, !one.holds_the_verdict),
    });
    let lists = unlisted.into_iter().map(more_entries);
    lists.chain(all).collect()
}

/// The questions that one word could answer, each by itself: those of whom the question is.
#[must_use]
pub fn each_by_itself<'r>(report: &'r Report, question: &Question<'r>) -> Vec<Question<'r>> {
    let entries = question.entries.as_deref();
    let entries = entries.map(|names| names.iter().copied().collect::<HashSet<&str>>());
    let mut asking = Asking::of(report);
    for next in report.measure_next.iter().filter(|next| next.missing) {
        let Some(place) = report.places.get(&next.fact) else {
            continue;
        };
        let word = place.in_one_word.as_ref();
        let of_word = word.is_some_and(|word| Some(&*word.key) == question.key)
            && place.section == question.section;
        let of_whom = next
            .subject
            .name()
            .is_none_or(|name| entries.as_ref().is_none_or(|all| all.contains(name)));
        if of_word && of_whom {
            asking.add(next, place, None);
        }
    }
    asking.all
}

/// What is alike in one question: section, whether a list stands there, key, what it leaves open, and
/// whether it decides.
type Alike<'r> = (&'r str, bool, Option<&'r str>, Verdict, bool);

/// Questions that are put together, in time linear in what is missing.
struct Asking<'r> {
    all: Vec<Question<'r>>,
    /// Where each is, and whose entries it names.
    known: HashMap<Alike<'r>, (usize, HashSet<&'r str>)>,
    /// The facts that findings of the gravest verdict wait for.
    holding: HashSet<&'r str>,
    /// Where the answers belong that were found to lift the verdict.
    deciding: HashSet<&'r str>,
    /// By fact, the first stage with a finding that waits for it.
    stages: HashMap<&'r str, usize>,
}

impl<'r> Asking<'r> {
    fn of(report: &'r Report) -> Self {
        Self {
            all: Vec::new(),
            known: HashMap::new(),
            holding: holding(report),
            deciding: deciding(report),
            stages: waiting_stages(report),
        }
    }

    /// Adds what is missing, to a question that is alike.
    fn add(
        &mut self,
        next: &'r MeasureNext,
        place: &'r FactPlace,
        in_one_word: Option<&'r InOneWord>,
    ) {
        let question = self.question(next, place, in_one_word);
        let (section, key) = (question.section, question.key);
        let alike = (
            section,
            place.is_list,
            key,
            question.leaves_open,
            question.decides,
        );
        let name = next.subject.name();
        match self.known.entry(alike) {
            Entry::Vacant(new) => {
                new.insert((self.all.len(), name.into_iter().collect()));
                self.all.push(question);
            }
            Entry::Occupied(mut known) => {
                let (at, named) = known.get_mut();
                let new = name.filter(|name| named.insert(name));
                if let Some(like) = self.all.get_mut(*at) {
                    like.entries.iter_mut().for_each(|own| own.extend(new));
                    like.holds_the_verdict |= question.holds_the_verdict;
                    like.stage = like.stage.into_iter().chain(question.stage).min();
                }
            }
        }
    }

    fn question(
        &self,
        next: &'r MeasureNext,
        place: &'r FactPlace,
        in_one_word: Option<&'r InOneWord>,
    ) -> Question<'r> {
        let (key, answers, meaning) = match in_one_word {
            Some(word) => (Some(&*word.key), Answers::InOneWord(word), &*word.meaning),
            None => (place.key.as_deref(), answers(place), &*next.meaning),
        };
        let names = || next.subject.name().into_iter().collect();
        let question = Question {
            section: &place.section,
            entries: place.is_list.then(names),
            key,
            answers,
            meaning,
            stage: self.stages.get(&*next.fact).copied(),
            leaves_open: next.leaves_open,
            holds_the_verdict: self.holding.contains(&*next.fact),
            decides: false,
        };
        let mut paths = question.paths().into_iter();
        Question {
            decides: paths.any(|path| self.deciding.contains(&*path)),
            ..question
        }
    }
}

/// The facts that are missing in findings of the gravest verdict, which answers could lift. What a
/// milder finding misses may come to refuse, and does not hold a refusal before it does.
fn holding(report: &Report) -> HashSet<&str> {
    let verdict = report.gravest().verdict;
    let mut holding = HashSet::new();
    for finding in &report.findings {
        if finding.verdict == verdict && finding.best < verdict {
            holding.extend(finding.missing.iter().map(|fact| &**fact));
        }
    }
    holding
}

/// Where the answers belong that were found to lift the verdict together.
fn deciding(report: &Report) -> HashSet<&str> {
    let answers = report.would_lift.iter().flat_map(|found| &found.answers);
    answers.map(|answer| answer.place.as_str()).collect()
}

/// By fact, the first stage with a finding that waits for it.
fn waiting_stages(report: &Report) -> HashMap<&str, usize> {
    let places = report.stages.iter().enumerate();
    let places: HashMap<&str, usize> = places.map(|(at, one)| (&*one.stage, at)).collect();
    let of_stage = |finding: &Finding| match &finding.stage {
        None => Some(0),
        Some(id) => places.get(&**id).copied(),
    };
    let mut first: HashMap<&str, usize> = HashMap::new();
    for finding in &report.findings {
        let Some(at) = of_stage(finding) else {
            continue;
        };
        for fact in &finding.missing {
            let known = first.entry(fact).or_insert(at);
            *known = at.min(*known);
        }
    }
    first
}

/// That entries of a list are called for and are not there.
fn more_entries((section, count): (&str, usize)) -> Question<'_> {
    Question {
        section,
        entries: None,
        key: None,
        answers: Answers::MoreEntries(count),
        meaning: "What the proposal calls for and does not list",
        stage: Some(0),
        leaves_open: Verdict::Refuse,
        holds_the_verdict: true,
        decides: false,
    }
}

fn answers(place: &FactPlace) -> Answers<'_> {
    if let Some(example) = &place.example {
        return Answers::Like(example);
    }
    match (&place.unit, place.options.as_slice()) {
        (Some(unit), _) => Answers::Quantity {
            kind: &place.kind,
            unit,
        },
        (None, []) if place.kind == "count" => Answers::Quantity {
            kind: &place.kind,
            unit: "",
        },
        (None, []) => Answers::Text,
        (None, options) => Answers::OneOf(options),
    }
}

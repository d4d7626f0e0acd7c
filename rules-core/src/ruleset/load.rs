//! Rulesets from their names to rules: read with all they extend, merged into one view, compiled.

use super::compile::{Draft, compile};
use super::gather::{Purpose, gather};
use super::kept::Done;
use super::layer::Examples;
use super::ledger::Ledger;
use super::library::Library;
use super::reserved::Reserved;
use super::rules::Rules;
use super::stack::Stack;
use super::view::{View, view};
use crate::document::ProblemList;
use crate::facts::Catalogue;

impl Rules {
    /// Loads rulesets by name, with all they extend, against a catalogue of facts.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place; a ruleset with the name of a shipped one that is
    /// not it among them.
    pub fn load(
        names: &[&str],
        library: &dyn Library,
        catalogue: &Catalogue,
    ) -> Result<Self, ProblemList> {
        if let Some(kept) = Self::kept(names, library, catalogue) {
            return Ok(kept);
        }
        if let Some(extended) = extended(names, library, catalogue)? {
            return Ok(extended);
        }
        let nothing_more = |_: &Stack, _: &View, _: &Draft, _: &mut Ledger<'_>| ();
        load(names, library, catalogue, Purpose::Judging, nothing_more).map(|loaded| loaded.rules)
    }
}

/// Rules on top of what was compiled when the program was built. Nothing, if not all that comes first
/// was compiled, or if there is a problem: then the texts are read, for they say more of it.
///
/// # Errors
///
/// Every problem, if a ruleset cannot be read as a whole.
fn extended(
    names: &[&str],
    library: &dyn Library,
    catalogue: &Catalogue,
) -> Result<Option<Rules>, ProblemList> {
    let reserved = Reserved(catalogue.shipped());
    let (stack, findings) = gather(names, library, reserved, Purpose::Extending)?;
    let mut ledger = findings.of(&stack);
    let view = view(&stack, &mut ledger);
    let done = match stack.is_whole() {
        true => Some(Done::default()),
        false => Done::of(&stack, &view, catalogue),
    };
    let only_first = |done: &Done| {
        let mut rest = stack.layers.iter().skip(done.layers);
        rest.all(|layer| layer.examples != Examples::Compiled)
    };
    let Some(done) = done.filter(only_first) else {
        return Ok(None);
    };
    let draft = compile(&stack, &view, catalogue, done, &mut ledger);
    match ledger.settle(draft) {
        Ok(draft) => Ok(Some(draft.rules(stack, view))),
        Err(problems) if stack.is_whole() => Err(problems),
        Err(_) => Ok(None),
    }
}

/// Rules, and what else was made on the way.
pub(crate) struct Loaded<T> {
    pub rules: Rules,
    /// What was read as well.
    pub besides: T,
}

/// Loads rulesets for a purpose. All of them are read before the problems are reported, so that all
/// are reported together.
///
/// # Errors
///
/// Every problem found.
pub(crate) fn load<T>(
    names: &[&str],
    library: &dyn Library,
    catalogue: &Catalogue,
    purpose: Purpose,
    read_besides: impl FnOnce(&Stack, &View, &Draft, &mut Ledger<'_>) -> T,
) -> Result<Loaded<T>, ProblemList> {
    let reserved = Reserved(catalogue.shipped());
    let (stack, findings) = gather(names, library, reserved, purpose)?;
    let mut ledger = findings.of(&stack);
    let view = view(&stack, &mut ledger);
    let draft = compile(&stack, &view, catalogue, Done::default(), &mut ledger);
    let made = draft.map(|draft| {
        let besides = read_besides(&stack, &view, &draft, &mut ledger);
        (draft, besides)
    });
    let (draft, besides) = ledger.settle(made)?;
    let rules = draft.rules(stack, view);
    Ok(Loaded { rules, besides })
}

//! Comparisons of choices, texts and yes-no facts.

use std::ops::Range;

use super::{Resolved, Resolver, Typed};
use crate::document::{Fault, near_miss};
use crate::facts::{FactKind, OptionSet};
use crate::formula::fault::FormulaFault;
use crate::formula::tree::{Comparison, Form, Tree};
use crate::formula::typed::{Condition, FactRef, Test};

impl Resolver<'_, '_> {
    pub(super) fn compare_words(
        &self,
        comparison: Comparison,
        a: (Typed, &Tree),
        b: (Typed, &Tree),
        span: &Range<usize>,
    ) -> Resolved<Test> {
        let same = self.same(a, b, span)?;
        match comparison {
            Comparison::Equal => Ok(same),
            Comparison::NotEqual => Ok(Test::Not(Box::new(Condition { form: same, span: span.clone() }))),
            _ => {
                let message = "choices, texts and conditions have no order";
                Err(FormulaFault::new(Fault::KindsDiffer, span.clone(), message, "compare them with `==`, `!=` or `in`"))
            }
        }
    }

    fn same(&self, a: (Typed, &Tree), b: (Typed, &Tree), span: &Range<usize>) -> Resolved<Test> {
        match (a, b) {
            ((Typed::Choice(fact), _), (Typed::Word(word), at)) | ((Typed::Word(word), at), (Typed::Choice(fact), _)) => {
                Ok(Test::In(fact, self.option(fact, &word, &at.span)?))
            }
            ((Typed::Choice(a), _), (Typed::Choice(b), _)) if self.options(a) == self.options(b) => Ok(Test::SameOption(a, b)),
            ((Typed::Text(a), _), (Typed::Text(b), _)) => Ok(Test::SameText(a, b)),
            ((Typed::Condition(fact), fact_at), (Typed::Condition(said), said_at)) => yes_or_no((fact, fact_at), (said, said_at), span),
            ((a, a_at), (b, b_at)) => Err(differ(&a, a_at, &b, b_at, span)),
        }
    }

    pub(super) fn in_options(&self, left: &Tree, options: &[(String, Range<usize>)]) -> Resolved<Test> {
        let Typed::Choice(fact) = self.value(left)? else {
            return Err(FormulaFault::new(Fault::KindsDiffer, left.span.clone(), "`in` asks about a choice", "write `cell.x in [a, b]`"));
        };
        let mut set = OptionSet::NONE;
        for (word, span) in options {
            set = set.with(self.option(fact, word, span)?);
        }
        Ok(Test::In(fact, set))
    }

    fn options(&self, fact: FactRef) -> &[String] {
        match self.catalogue().fact(fact.id).map(|def| &def.kind) {
            Some(FactKind::Choice(options)) => options,
            _ => &[],
        }
    }

    fn option(&self, fact: FactRef, word: &str, span: &Range<usize>) -> Resolved<OptionSet> {
        let options = self.options(fact);
        if let Some(position) = options.iter().position(|option| option == word) {
            return Ok(OptionSet::one(position));
        }
        let listed = options.iter().map(|option| format!("`{option}`")).collect::<Vec<_>>().join(", ");
        let help = match near_miss(word, options.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the options are {listed}"),
        };
        let message = format!("`{word}` is no option of `{}`", self.catalogue().fact_name(fact.id));
        Err(FormulaFault::new(Fault::UnknownOption, span.clone(), message, help))
    }
}

/// `fact == yes`: a yes-no fact or figure against a written yes or no.
fn yes_or_no(a: (Condition, &Tree), b: (Condition, &Tree), span: &Range<usize>) -> Resolved<Test> {
    let (said, of) = match (&a.1.form, &b.1.form) {
        (Form::YesNo(yes), _) => (*yes, b.0),
        (_, Form::YesNo(yes)) => (*yes, a.0),
        _ => {
            let message = "two conditions are not compared with each other";
            return Err(FormulaFault::new(Fault::KindsDiffer, span.clone(), message, "join them with `and` or `or`"));
        }
    };
    Ok(if said { of.form } else { Test::Not(Box::new(of)) })
}

fn differ(a: &Typed, a_at: &Tree, b: &Typed, b_at: &Tree, span: &Range<usize>) -> FormulaFault {
    for (side, at) in [(a, a_at), (b, b_at)] {
        if let Typed::Word(word) = side {
            let message = format!("`{word}` is no fact, figure or option here");
            return FormulaFault::new(Fault::UnknownName, at.span.clone(), message, "names have two parts, such as `cell.x` or `limit.x`");
        }
    }
    let message = format!("{} and {} do not compare", a.what(), b.what());
    FormulaFault::new(Fault::KindsDiffer, span.clone(), message, "compare values of one kind")
}

//! Comparisons of choices, texts and yes-no facts.

use std::ops::Range;

use super::resolver::{Resolver, Typed};
use crate::document::Fault;
use crate::facts::{FactKind, OptionSet};
use crate::formula::fault::FormulaFault;
use crate::formula::tree::{Comparison, Form, Tree};
use crate::formula::typed::{Condition, FactRef, Test};

/// A side of a comparison, and where it is.
type ComparedWord<'t> = (Typed, &'t Tree);

impl Resolver<'_, '_> {
    pub(super) fn compare_words(
        &mut self,
        comparison: Comparison,
        a: ComparedWord<'_>,
        b: ComparedWord<'_>,
        span: &Range<usize>,
    ) -> Option<Test> {
        // An option that does not exist is one fault, and that options have no order is another.
        let of_option = matches!(
            (&a.0, &b.0),
            (Typed::Choice(_), Typed::Word(_)) | (Typed::Word(_), Typed::Choice(_))
        );
        let same = self.same(a, b, span);
        match comparison {
            Comparison::Equal => same,
            Comparison::NotEqual => Some(Test::Not(Box::new(Condition {
                form: same?,
                span: span.clone(),
            }))),
            _ if same.is_some() || of_option => self.no_order(span),
            _ => None,
        }
    }

    /// A side whose other side is at fault. That a side has no order does not depend on the other
    /// side; everything else does.
    pub(super) fn compare_alone(
        &mut self,
        comparison: Comparison,
        side: &Typed,
        span: &Range<usize>,
    ) -> Option<Test> {
        match (comparison, side) {
            (Comparison::Equal | Comparison::NotEqual, _) | (_, Typed::Number(..)) => None,
            (_, Typed::Word(word)) => self.keep(Err(no_meaning(word, span))),
            _ => self.no_order(span),
        }
    }

    fn no_order(&mut self, span: &Range<usize>) -> Option<Test> {
        let message = "choices, texts and conditions have no order";
        self.fault(
            Fault::KindsDiffer,
            span,
            message,
            "compare them with `==`, `!=` or `in`",
        )
    }

    fn same(
        &mut self,
        a: ComparedWord<'_>,
        b: ComparedWord<'_>,
        span: &Range<usize>,
    ) -> Option<Test> {
        match (a, b) {
            ((Typed::Choice(fact), _), (Typed::Word(word), at))
            | ((Typed::Word(word), at), (Typed::Choice(fact), _)) => {
                Some(Test::In(fact, self.option(fact, &word, &at.span)?))
            }
            ((Typed::Choice(a), _), (Typed::Choice(b), _))
                if self.options(a) == self.options(b) =>
            {
                Some(Test::SameOption(a, b))
            }
            ((Typed::Text(a), _), (Typed::Text(b), _)) => Some(Test::SameText(a, b)),
            ((Typed::Condition(fact), fact_at), (Typed::Condition(said), said_at)) => {
                self.keep(yes_or_no((fact, fact_at), (said, said_at), span))
            }
            (a, b) => self.keep(Err(differ(&a, &b, span))),
        }
    }

    pub(super) fn in_options(
        &mut self,
        left: &Tree,
        options: &[(String, Range<usize>)],
    ) -> Option<Test> {
        let Typed::Choice(fact) = self.value(left)? else {
            return self.fault(
                Fault::KindsDiffer,
                &left.span,
                "`in` asks about a choice",
                "write `subject.fact in [a, b]`",
            );
        };
        let sets: Vec<Option<OptionSet>> = options
            .iter()
            .map(|(word, span)| self.option(fact, word, span))
            .collect();
        let sets: Option<Vec<OptionSet>> = sets.into_iter().collect();
        Some(Test::In(
            fact,
            sets?.into_iter().fold(OptionSet::NONE, OptionSet::with),
        ))
    }

    fn options(&self, fact: FactRef) -> &[String] {
        match self.catalogue().fact(fact.id).map(|def| &def.kind) {
            Some(FactKind::Choice(options)) => options,
            _ => &[],
        }
    }

    fn option(&mut self, fact: FactRef, word: &str, span: &Range<usize>) -> Option<OptionSet> {
        let options = self.options(fact);
        if let Some(position) = options.iter().position(|option| option == word) {
            return Some(OptionSet::one(position));
        }
        let listed = options
            .iter()
            .map(|option| format!("`{option}`"))
            .collect::<Vec<_>>()
            .join(", ");
        let help = match self
            .vocabulary
            .suggestions
            .near(word, options.iter().map(String::as_str))
        {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the options are {listed}"),
        };
        let message = format!(
            "`{word}` is no option of `{}`",
            self.catalogue().fact_name(fact.id)
        );
        self.fault(Fault::UnknownOption, span, message, help)
    }
}

/// `fact == yes`: a yes-no fact or figure against a written yes or no.
fn yes_or_no(
    a: (Condition, &Tree),
    b: (Condition, &Tree),
    span: &Range<usize>,
) -> Result<Test, FormulaFault> {
    let (said, of) = match (&a.1.form, &b.1.form) {
        (Form::YesNo(yes), _) => (*yes, b.0),
        (_, Form::YesNo(yes)) => (*yes, a.0),
        _ => {
            let message = "two conditions cannot be compared with each other";
            return Err(FormulaFault::new(
                Fault::KindsDiffer,
                span.clone(),
                message,
                "join them with `and` or `or`",
            ));
        }
    };
    Ok(if said {
        of.form
    } else {
        Test::Not(Box::new(of))
    })
}

fn differ(a: &ComparedWord<'_>, b: &ComparedWord<'_>, span: &Range<usize>) -> FormulaFault {
    for (side, at) in [a, b] {
        if let Typed::Word(word) = side {
            return no_meaning(word, &at.span);
        }
    }
    let message = format!("{} and {} cannot be compared", a.0.what(), b.0.what());
    FormulaFault::new(
        Fault::KindsDiffer,
        span.clone(),
        message,
        "compare values of one kind",
    )
}

fn no_meaning(word: &str, span: &Range<usize>) -> FormulaFault {
    let message = format!("`{word}` is no fact, figure or option here");
    FormulaFault::new(
        Fault::UnknownName,
        span.clone(),
        message,
        "names have two parts, such as `subject.fact` or `limit.name`",
    )
}

//! One ruleset file, read and not yet merged or compiled.
//!
//! A file that has problems becomes a layer too, so that all that can be read of it is looked at. A
//! text that could not be read is empty, and a part that could not be read is left out; such a
//! layer never becomes rules.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::limit::LimitText;
use super::loosening::Loosening;
use super::meter::MeterText;
use super::model::{
    Acceptance, Basis, Expectation, IfUnmeasured, LayerName, Refused, WrittenSource,
};
use super::standing::Standing;
use crate::document::{Content, Node, Quotes, Scalar, Source, Span};
use crate::facts::{FactDefinition, Notice};
use crate::formula::Tree;
use crate::quantity::Meter;

/// One ruleset file.
#[derive(Debug, Clone)]
pub(crate) struct Layer {
    pub source: Arc<Source>,
    pub name: String,
    /// Where the name is, if there is one.
    pub name_span: Option<Span>,
    pub version: String,
    pub title: String,
    /// The digest of its document.
    pub digest: String,
    pub standing: Standing,
    pub acceptance: Option<(Acceptance, Span)>,
    pub extends: Vec<(String, Span)>,
    /// The stages that it declares.
    pub stages: Vec<Named<DeclaredStage>>,
    pub sources: Vec<Named<WrittenSource>>,
    pub facts: Vec<Named<FactDefinition>>,
    pub notice: Vec<Named<Notice>>,
    /// The meters that it assumes, by kind.
    pub meters: Vec<Named<MeterText>>,
    pub limits: Vec<Named<LimitText>>,
    pub figures: Vec<Named<FigureText>>,
    pub cautions: Vec<Named<CautionText>>,
    pub adjust: Adjust,
    /// What a merged file carries of the layers it was made of.
    pub merged_from: Vec<LayerName>,
    pub merged_loosened: Vec<Loosening>,
    /// Whether its cautions have their cases.
    pub examples: Examples,
    pub unread: Unread,
}

/// The examples of a ruleset, which no check needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Examples {
    /// They were read.
    Read,
    /// They were left out, as far as they were known to be without faults.
    LeftOut,
    /// So were formulas, and texts for people: the rules were compiled when the program was built.
    Compiled,
}

impl Layer {
    /// The layer of a file of which nothing has been read yet.
    pub(super) fn of(source: Arc<Source>) -> Self {
        Self {
            source,
            name: String::new(),
            name_span: None,
            version: String::new(),
            title: String::new(),
            digest: String::new(),
            standing: Standing::Own,
            acceptance: None,
            extends: Vec::new(),
            stages: Vec::new(),
            sources: Vec::new(),
            facts: Vec::new(),
            notice: Vec::new(),
            meters: Vec::new(),
            limits: Vec::new(),
            figures: Vec::new(),
            cautions: Vec::new(),
            adjust: Adjust::default(),
            merged_from: Vec::new(),
            merged_loosened: Vec::new(),
            examples: Examples::Read,
            unread: Unread::default(),
        }
    }
}

/// What a file defines or changes that could not be read. What rests on it is no fault of its own.
#[derive(Debug, Clone, Default)]
pub(crate) struct Unread {
    pub stages: UnreadNames,
    pub sources: UnreadNames,
    pub facts: UnreadNames,
    pub meters: UnreadNames,
    pub limits: UnreadNames,
    pub figures: UnreadNames,
    pub cautions: UnreadNames,
    /// Acceptance, or changes of it.
    pub acceptance: bool,
    /// Changes of limits, of which not even the names could be read.
    pub changes: bool,
}

impl Unread {
    /// Notes that anything may be defined or changed where it could not be read.
    pub(super) fn note_anything(&mut self) {
        for names in [
            &mut self.stages,
            &mut self.sources,
            &mut self.facts,
            &mut self.meters,
            &mut self.limits,
            &mut self.figures,
            &mut self.cautions,
        ] {
            names.nameless = true;
        }
        (self.acceptance, self.changes) = (true, true);
    }
}

/// Definitions of one sort that could not be read.
#[derive(Debug, Clone, Default)]
pub(crate) struct UnreadNames {
    /// Their names, and where these are.
    pub names: BTreeMap<String, Span>,
    /// Whether there may be more, of which not even the names could be read.
    pub nameless: bool,
}

impl UnreadNames {
    /// Whether a name that is not known may be one of these.
    pub(super) fn may_hold(&self, name: &str) -> bool {
        self.nameless || self.names.contains_key(name)
    }

    pub(super) fn join(&mut self, other: &Self) {
        self.names
            .extend(other.names.iter().map(|(name, span)| (name.clone(), *span)));
        self.nameless |= other.nameless;
    }
}

/// Something with a name, and where the name is.
#[derive(Debug, Clone)]
pub(crate) struct Named<T> {
    pub name: String,
    pub span: Span,
    pub body: T,
}

/// A quantity as written, on one line: a report may repeat it.
pub(super) fn written(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A formula as written, and where, with its tree.
#[derive(Debug, Clone)]
pub(crate) struct FormulaText {
    pub text: Arc<str>,
    pub quotes: Quotes,
    pub span: Span,
    pub tree: Tree,
}

impl FormulaText {
    /// Its node, by which faults find their place.
    pub(super) fn node(&self) -> Node<'_> {
        let scalar = Scalar {
            text: Cow::Borrowed(&self.text),
            quotes: self.quotes,
            split: false,
        };
        Node {
            content: Content::Scalar(scalar),
            span: self.span,
        }
    }
}

/// A figure as written.
#[derive(Debug, Clone)]
pub(crate) struct FigureText {
    pub about: Option<AboutText>,
    pub is: Option<FormulaText>,
    pub meaning: String,
}

/// `each cable` or `site`, and where it is.
#[derive(Debug, Clone)]
pub(crate) struct AboutText {
    pub each: bool,
    pub subject: String,
    pub span: Span,
}

impl AboutText {
    pub(super) fn written(&self) -> String {
        if self.each {
            format!("each {}", self.subject)
        } else {
            self.subject.clone()
        }
    }
}

/// A stage as it is declared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct DeclaredStage {
    pub title: String,
    pub refused: Option<Refused>,
}

/// The stage that a caution names, and where.
#[derive(Debug, Clone)]
pub(crate) struct StageText {
    pub id: String,
    pub span: Span,
}

/// A caution as written.
#[derive(Debug, Clone)]
pub(crate) struct CautionText {
    pub title: String,
    pub about: Option<AboutText>,
    pub stage: Option<StageText>,
    pub refused: Option<Refused>,
    pub applies_when: Option<FormulaText>,
    pub refuse_unless: Option<FormulaText>,
    pub warn_unless: Option<FormulaText>,
    pub if_unmeasured: Option<IfUnmeasured>,
    pub fixed: bool,
    pub reason: Node<'static>,
    pub remedy: Option<Node<'static>>,
    pub basis: Vec<(Basis, Span)>,
    /// The names it had before.
    pub formerly: Vec<String>,
    pub cases: Vec<CaseText>,
}

/// A case as written.
#[derive(Debug, Clone)]
pub(crate) struct CaseText {
    pub given: Node<'static>,
    pub expect: Expectation,
    pub doubt: bool,
    pub unmeasured: Vec<(String, Span)>,
    pub note: Option<String>,
    pub span: Span,
}

/// What a ruleset changes in those it extends.
#[derive(Debug, Clone, Default)]
pub(crate) struct Adjust {
    pub limits: Vec<Named<AdjustLimit>>,
    pub meters: Vec<Named<AdjustMeter>>,
    pub cautions: Vec<Named<AdjustCaution>>,
    pub acceptance: Option<AdjustAcceptance>,
}

/// A limit adjusted.
#[derive(Debug, Clone)]
pub(crate) struct AdjustLimit {
    pub to: Option<Node<'static>>,
    pub because: Option<String>,
}

/// The assumed meters of a kind adjusted, and to what, if that could be read.
#[derive(Debug, Clone)]
pub(crate) struct AdjustMeter {
    pub to: Option<Vec<(Meter, String)>>,
    pub because: Option<String>,
}

/// A caution adjusted, and how, if that could be read.
#[derive(Debug, Clone)]
pub(crate) struct AdjustCaution {
    pub change: Option<CautionChange>,
    pub because: Option<String>,
}

/// How a caution is adjusted.
#[derive(Debug, Clone)]
pub(crate) enum CautionChange {
    /// It does not apply any more.
    Drop,
    /// It is of this stage.
    Move(StageText),
}

/// Acceptance adjusted.
#[derive(Debug, Clone)]
pub(crate) struct AdjustAcceptance {
    pub to: Acceptance,
    pub because: Option<String>,
    pub span: Span,
}

//! A shipped ruleset as it is kept beside its compiled rules: what rulesets that extend it have to
//! know of it.

use std::sync::Arc;

use super::layer::{
    AboutText, CautionText, DeclaredStage, Examples, FigureText, Layer, Named, StageText,
};
use super::limit::LimitText;
use super::meter::MeterText;
use super::model::Refused;
use super::standing::Standing;
use crate::document::{Content, Node, Prepared, Span};
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Snapshot, Stored, stored};

stored!(struct LimitText { written, value, kind, unit, basis_at });
stored!(struct MeterText { meters, basis });
stored!(struct DeclaredStage { title, refused });
stored!(struct StageText { id, span });
stored!(struct AboutText { each, subject, span });

impl<T: Stored> Stored for Named<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.name.write(to);
        self.span.write(to);
        self.body.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some(Self {
            name: Stored::read(from)?,
            span: Stored::read(from)?,
            body: Stored::read(from)?,
        })
    }
}

/// What others have to know of a figure.
struct FigureMark {
    about: Option<AboutText>,
}

/// What others have to know of a caution.
struct CautionMark {
    stage: Option<StageText>,
    refused: Option<Refused>,
    fixed: bool,
    formerly: Vec<String>,
}

stored!(struct FigureMark { about });
stored!(struct CautionMark { stage, refused, fixed, formerly });

/// The layer that is kept first in a snapshot.
pub(super) fn read(name: &str, text: Prepared, snapshot: Snapshot) -> Option<Layer> {
    let from = &mut Reader::of(snapshot).part()?;
    let layer = Layer {
        standing: Standing::Shipped,
        examples: Examples::Compiled,
        name: Stored::read(from)?,
        name_span: Stored::read(from)?,
        version: Stored::read(from)?,
        title: Stored::read(from)?,
        digest: Stored::read(from)?,
        acceptance: Stored::read(from)?,
        extends: Stored::read(from)?,
        stages: Stored::read(from)?,
        sources: Stored::read(from)?,
        notice: Stored::read(from)?,
        meters: Stored::read(from)?,
        limits: Stored::read(from)?,
        figures: marked(from, figure)?,
        cautions: marked(from, caution)?,
        ..Layer::of(Arc::new(text.source_without_lines(name)))
    };
    (layer.name == name).then_some(layer)
}

fn marked<M: Stored, T>(from: &mut Reader, of: fn(M) -> T) -> Option<Vec<Named<T>>> {
    let marks = Vec::<Named<M>>::read(from)?;
    let with_body = |Named { name, span, body }| Named {
        name,
        span,
        body: of(body),
    };
    Some(marks.into_iter().map(with_body).collect())
}

fn figure(mark: FigureMark) -> FigureText {
    FigureText {
        about: mark.about,
        is: None,
        meaning: String::new(),
    }
}

fn caution(mark: CautionMark) -> CautionText {
    let nothing = Node {
        content: Content::Nothing,
        span: Span::default(),
    };
    CautionText {
        title: String::new(),
        about: None,
        stage: mark.stage,
        refused: mark.refused,
        applies_when: None,
        refuse_unless: None,
        warn_unless: None,
        if_unmeasured: None,
        fixed: mark.fixed,
        reason: nothing,
        remedy: None,
        basis: Vec::new(),
        formerly: mark.formerly,
        cases: Vec::new(),
    }
}

/// Whether nothing of a layer is lost when it is kept: it declares no facts, and changes nothing.
#[cfg(any(test, feature = "snapshot"))]
pub(super) fn can_be_kept(layer: &Layer) -> bool {
    let adjust = &layer.adjust;
    layer.standing == Standing::Shipped
        && layer.facts.is_empty()
        && adjust.limits.is_empty()
        && adjust.meters.is_empty()
        && adjust.cautions.is_empty()
        && adjust.acceptance.is_none()
        && layer.merged_from.is_empty()
        && layer.merged_loosened.is_empty()
}

/// Writes the layer.
#[cfg(any(test, feature = "snapshot"))]
pub(super) fn write(layer: &Layer, to: &mut Writer) {
    layer.name.write(to);
    layer.name_span.write(to);
    layer.version.write(to);
    layer.title.write(to);
    layer.digest.write(to);
    layer.acceptance.write(to);
    layer.extends.write(to);
    layer.stages.write(to);
    layer.sources.write(to);
    layer.notice.write(to);
    layer.meters.write(to);
    layer.limits.write(to);
    to.number(layer.figures.len());
    for Named { name, span, body } in &layer.figures {
        let about = body.about.clone();
        let (name, span) = (name.clone(), *span);
        let body = FigureMark { about };
        Named { name, span, body }.write(to);
    }
    to.number(layer.cautions.len());
    for Named { name, span, body } in &layer.cautions {
        let mark = CautionMark {
            stage: body.stage.clone(),
            refused: body.refused,
            fixed: body.fixed,
            formerly: body.formerly.clone(),
        };
        let (name, span, body) = (name.clone(), *span, mark);
        Named { name, span, body }.write(to);
    }
}

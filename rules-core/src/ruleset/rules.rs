//! A loaded ruleset: everything a check needs, ready to be used again and again.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::adjustment::Adjustment;
use super::digest::Digests;
use super::fact_place::{FactPlace, LatePlaces};
use super::limit::{LimitInfo, ListedLimit};
use super::loosening::Loosening;
use super::made_of::MadeOf;
use super::meter::AssumedMeter;
use super::model::{Acceptance, Basis, IfUnmeasured, LoadedRuleset, Refused, WrittenSource};
use super::stages::{Stage, StageId};
use super::template::Template;
use super::written::WrittenRuleset;
use crate::document::{Place, json_text};
use crate::facts::{Catalogue, FactId, Notice, SubjectId};
use crate::formula::{Condition, FigureId, LimitId, Program, Relations, Uses};
use crate::snapshot::{Late, stored};

/// Merged and compiled rulesets. They do not change any more and may be shared between threads.
#[derive(Debug, Clone)]
pub struct Rules {
    pub(super) catalogue: Catalogue,
    pub(super) program: Program,
    pub(super) stages: Vec<Stage>,
    pub(super) cautions: Vec<Caution>,
    pub(super) relations: Relations,
    pub(super) meters: Vec<AssumedMeter>,
    pub(super) limits: Late<Vec<LimitInfo>>,
    pub(super) figures: Late<Vec<FigureInfo>>,
    pub(super) layers: Vec<LoadedRuleset>,
    pub(super) loosened: Vec<Loosening>,
    pub(super) notice: Vec<Notice>,
    pub(super) acceptance: Acceptance,
    pub(super) sources: Late<BTreeMap<String, WrittenSource>>,
    pub(super) digests: Digests,
    pub(super) made_of: Arc<MadeOf>,
    pub(super) places: LatePlaces,
}

/// A caution, compiled.
#[derive(Debug, Clone)]
pub struct Caution {
    /// Its name.
    pub id: Arc<str>,
    /// What it is about, in a few words.
    pub title: Late<Arc<str>>,
    /// The subject.
    pub about: SubjectId,
    /// The stage that it is of; none, if it is of every stage.
    pub stage: Option<StageId>,
    /// What becomes of the one that it refuses, by itself or by its stage; none, if neither says.
    pub refused: Option<Refused>,
    /// When it applies.
    pub applies_when: Option<CautionCondition>,
    /// What must hold, or it refuses.
    pub refuse_unless: Option<CautionCondition>,
    /// What must hold, or it warns.
    pub warn_unless: Option<CautionCondition>,
    /// What a missing measurement gives, where the ruleset says.
    pub if_unmeasured: Option<IfUnmeasured>,
    /// Whether no other ruleset may drop it.
    pub fixed: bool,
    /// Why it is not met.
    pub reason: Late<Template>,
    /// What to do.
    pub remedy: Option<Late<Template>>,
    /// What it rests on.
    pub basis: Late<Arc<[Basis]>>,
    /// Where it is.
    pub place: Place,
}

/// A condition of a caution, with its text and place.
#[derive(Debug, Clone)]
pub struct CautionCondition {
    /// The condition.
    pub condition: Condition,
    /// As written.
    pub text: Late<Arc<str>>,
    /// Where it is.
    pub place: Place,
}

/// A figure, for reports and explanations.
#[derive(Debug, Clone)]
pub struct FigureInfo {
    /// Its dotted name.
    pub name: Cow<'static, str>,
    /// Its formula.
    pub is: Arc<str>,
    /// What it means.
    pub meaning: Cow<'static, str>,
    /// Where it is defined.
    pub place: Place,
}

impl Rules {
    /// Subjects, facts and library figures, with the facts that the rulesets declare.
    #[must_use]
    pub fn catalogue(&self) -> &Catalogue {
        &self.catalogue
    }

    /// Limits and figures by number.
    #[must_use]
    pub fn program(&self) -> &Program {
        &self.program
    }

    /// The relations between facts that always hold.
    #[must_use]
    pub const fn relations(&self) -> &Relations {
        &self.relations
    }

    /// The stages, in order.
    #[must_use]
    pub fn stages(&self) -> &[Stage] {
        &self.stages
    }

    /// What the conditions of a caution refer to, through figures to what they rest on.
    #[must_use]
    pub fn uses_of(&self, caution: &Caution) -> Uses {
        let mut uses = Uses::default();
        let conditions = [
            &caution.applies_when,
            &caution.refuse_unless,
            &caution.warn_unless,
        ];
        for one in conditions.into_iter().flatten() {
            uses.add_condition(&one.condition, &self.program, &self.catalogue);
        }
        uses
    }

    /// What the condition refers to under which a caution applies.
    #[must_use]
    pub fn uses_of_its_condition(&self, caution: &Caution) -> Uses {
        let mut uses = Uses::default();
        if let Some(one) = &caution.applies_when {
            uses.add_condition(&one.condition, &self.program, &self.catalogue);
        }
        uses
    }

    /// What each thing refers to that a caution asks for: of `a and b`, where one is enough to object,
    /// first `a` and then `b`.
    #[must_use]
    pub fn uses_of_its_demands(&self, caution: &Caution) -> Vec<Uses> {
        let demands = [&caution.refuse_unless, &caution.warn_unless];
        let demands = demands.into_iter().flat_map(|one| one.as_ref());
        demands
            .flat_map(|one| Uses::of_demands(&one.condition, &self.program, &self.catalogue))
            .collect()
    }

    /// The stage that a caution is of; none, if it is of every stage.
    #[must_use]
    pub fn stage_of(&self, caution: &Caution) -> Option<&Stage> {
        self.stages.get(caution.stage?.0)
    }

    /// The cautions that apply, in order of their names.
    #[must_use]
    pub fn cautions(&self) -> &[Caution] {
        &self.cautions
    }

    /// The meters that readings are taken to be by where none is stated, by kind.
    #[must_use]
    pub fn meters(&self) -> &[AssumedMeter] {
        &self.meters
    }

    /// A limit.
    #[must_use]
    pub fn limit(&self, id: LimitId) -> Option<&LimitInfo> {
        self.limits.get(id.0)
    }

    /// All limits.
    #[must_use]
    pub fn limits(&self) -> &[LimitInfo] {
        &self.limits
    }

    /// What became of the limit of this name after it was defined.
    #[must_use]
    pub fn adjustments(&self, limit: &str) -> &[Adjustment] {
        let seen = self.made_of.parts().view.limits.get(limit);
        seen.map_or(&[], |seen| &seen.adjusted)
    }

    /// A limit as a list says it.
    #[must_use]
    pub fn listed<'r>(&'r self, limit: &'r LimitInfo) -> ListedLimit<'r> {
        limit.written.listed(self.adjustments(&limit.name))
    }

    /// A figure.
    #[must_use]
    pub fn figure(&self, id: FigureId) -> Option<&FigureInfo> {
        self.figures.get(id.0)
    }

    /// All figures of the rulesets.
    #[must_use]
    pub fn figures(&self) -> &[FigureInfo] {
        &self.figures
    }

    /// The published sources, by name.
    #[must_use]
    pub fn sources(&self) -> &BTreeMap<String, WrittenSource> {
        &self.sources
    }

    /// The rulesets that took part.
    #[must_use]
    pub fn layers(&self) -> &[LoadedRuleset] {
        &self.layers
    }

    /// What local practice loosened.
    #[must_use]
    pub fn loosened(&self) -> &[Loosening] {
        &self.loosened
    }

    /// What decides where a value is in doubt.
    #[must_use]
    pub fn acceptance(&self) -> Acceptance {
        self.acceptance
    }

    /// The layers, and what these see together.
    pub(crate) fn made_of(&self) -> &MadeOf {
        &self.made_of
    }

    /// Where a fact is written in a proposal, and what can be written there; none of one that is
    /// written nowhere.
    #[must_use]
    pub fn place_of(&self, id: FactId) -> Option<&Arc<FactPlace>> {
        let are_declared = |name: &str| self.made_of.declares(name);
        self.places.get_or(id, &self.catalogue, || {
            let def = self.catalogue.fact(id)?;
            FactPlace::of(def, &self.catalogue, are_declared)
        })
    }

    /// The merged ruleset as data. It is made when it is first asked for.
    #[must_use]
    pub fn written(&self) -> &WrittenRuleset {
        self.made_of.written(&self.stages)
    }

    /// The merged ruleset as JSON text.
    #[must_use]
    pub fn merged_json(&self) -> String {
        json_text(self.written()).unwrap_or_default()
    }

    /// What every report says: the notice of the trade, and what the rulesets add to it.
    #[must_use]
    pub fn notice(&self) -> &[Notice] {
        &self.notice
    }

    /// The digest of the rules, as LANGUAGE.md section 7 works it out: `sha256:` and 64 hexadecimal
    /// digits.
    #[must_use]
    pub fn digest(&self) -> &str {
        self.digest_under(self.acceptance)
    }

    /// The digest of the rules under an acceptance, be it theirs or that of a check.
    #[must_use]
    pub fn digest_under(&self, acceptance: Acceptance) -> &str {
        self.digests.under(acceptance)
    }
}

stored!(struct Caution { id, title, about, stage, refused, applies_when, refuse_unless, warn_unless, if_unmeasured, fixed, reason, remedy, basis, place });
stored!(struct CautionCondition { condition, text, place });
stored!(struct FigureInfo { name, is, meaning, place });

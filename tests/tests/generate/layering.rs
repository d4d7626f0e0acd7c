//! What local practice does to the rules it extends.

use rules_core::quantity::Kind;

use super::choices::Choices;
use super::document::{Doc, Style, map, text};
use super::meter::Meter;
use super::ruleset::{Limit, Ruleset, STAGES, head, said_of};

/// What a ruleset does to the one it extends.
#[derive(Debug, Clone)]
pub(crate) enum Change {
    Loosen(usize, String),
    Tighten(usize, String),
    Drop(String),
    Move(String, &'static str),
    BetterMeter(Kind, Vec<Meter>),
    WorseMeter(Kind, Vec<Meter>),
    Simple,
}

impl Change {
    pub(crate) fn chosen(choices: &mut Choices<'_>, base: &Ruleset) -> Self {
        let limit = |choices: &mut Choices<'_>| choices.below(base.limits.len());
        match choices.below(7) {
            5 | 6 if !base.meters.is_empty() => Self::of_meter(choices, base),
            0 if !base.limits.is_empty() => {
                let at = limit(choices);
                let other_way = Limit {
                    higher: !base.limits[at].higher,
                    ..base.limits[at].clone()
                };
                // By a step at least: what is equal within rounding loosens nothing.
                Self::Loosen(at, other_way.tightened_by(choices, 1.0).text)
            }
            1 if !base.limits.is_empty() => {
                let at = limit(choices);
                Self::Tighten(at, base.limits[at].tightened(choices).text)
            }
            2 => Self::Simple,
            3 => {
                let caution = choices.pick(&base.cautions);
                let others: Vec<&'static str> = STAGES
                    .into_iter()
                    .filter(|stage| caution.stage != Some(*stage))
                    .collect();
                Self::Move(caution.id.clone(), others[choices.below(others.len())])
            }
            _ => Self::Drop(choices.pick(&base.cautions).id.clone()),
        }
    }

    /// Of a meter in each part of which is nothing there is no better one.
    fn of_meter(choices: &mut Choices<'_>, base: &Ruleset) -> Self {
        let kinds: Vec<Kind> = base.meters.keys().copied().collect();
        let kind = *choices.pick(&kinds);
        let meters = &base.meters[&kind];
        if choices.one_in(2) && meters[0].is_wide() {
            return Self::BetterMeter(kind, vec![meters[0].halved()]);
        }
        let worse = meters.iter().map(|meter| meter.worse(choices));
        Self::WorseMeter(kind, worse.collect())
    }

    /// Whether it lets more pass.
    pub(crate) const fn loosens(&self) -> bool {
        !matches!(self, Self::Tighten(..) | Self::WorseMeter(..))
    }

    /// Whether a base can rule it out: what it changes can be fixed.
    pub(crate) const fn is_of_what_can_be_fixed(&self) -> bool {
        !matches!(self, Self::Simple | Self::BetterMeter(..))
    }

    /// The entry under `adjust`, with a reason or without.
    pub(crate) fn set(&self, doc: &mut Doc, because: bool) {
        let path: Vec<String> = match self {
            Self::Loosen(at, _) | Self::Tighten(at, _) => {
                vec!["adjust".into(), "limits".into(), format!("l{at}")]
            }
            Self::Drop(id) | Self::Move(id, _) => {
                vec!["adjust".into(), "cautions".into(), id.clone()]
            }
            Self::BetterMeter(kind, _) | Self::WorseMeter(kind, _) => {
                vec!["adjust".into(), "meters".into(), kind.name().into()]
            }
            Self::Simple => vec!["adjust".into(), "acceptance".into()],
        };
        let (key, value) = match self {
            Self::Loosen(_, to) | Self::Tighten(_, to) => ("to", text(to)),
            Self::Drop(_) => ("drop", text("yes")),
            Self::Move(_, to) => ("stage", text(*to)),
            Self::BetterMeter(_, to) | Self::WorseMeter(_, to) => ("to", said_of(to)),
            Self::Simple => ("to", text("simple")),
        };
        let reason = because.then(|| ("because", text("the club has its reasons")));
        let entry = map([(key, value)].into_iter().chain(reason));
        doc.set(&path.iter().map(String::as_str).collect::<Vec<_>>(), entry);
    }

    /// What reports call it.
    pub(crate) fn what(&self) -> String {
        match self {
            Self::Loosen(at, _) | Self::Tighten(at, _) => format!("limit l{at}"),
            Self::Drop(id) | Self::Move(id, _) => format!("caution {id}"),
            Self::BetterMeter(kind, _) | Self::WorseMeter(kind, _) => {
                format!("meter {}", kind.name())
            }
            Self::Simple => "acceptance".to_owned(),
        }
    }
}

/// The head of a ruleset that extends others.
pub(crate) fn extending(name: &str, bases: &[&str]) -> Doc {
    map(head(name).into_iter().chain([(
        "extends",
        Doc::List(bases.iter().map(|base| text(*base)).collect()),
    )]))
}

/// Documents as files.
pub(crate) fn files(docs: &[(&str, &Doc)]) -> Vec<(String, Vec<u8>)> {
    docs.iter()
        .map(|(name, doc)| ((*name).to_owned(), doc.write(Style::Yaml).into_bytes()))
        .collect()
}

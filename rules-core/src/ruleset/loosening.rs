//! What local practice loosened.

use std::fmt;

use crate::snapshot::stored;
use serde::{Deserialize, Serialize};

/// A limit loosened, a better meter assumed, or a caution dropped or moved to another stage, by local
/// practice. Every report shows it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(into = "ToldLoosening", try_from = "ToldLoosening")]
pub struct Loosening {
    /// The ruleset that loosens.
    pub by: String,
    /// What it loosens.
    pub what: Loosened,
    /// What it was.
    pub from: String,
    /// What it is now.
    pub to: String,
    /// The reason given.
    pub because: String,
}

/// What a caution is that a ruleset drops.
pub(super) const DROPPED: &str = "dropped";

impl Loosening {
    /// Whether it drops the caution of this name.
    #[must_use]
    pub fn drops(&self, caution: &str) -> bool {
        matches!(&self.what, Loosened::Caution(name) if name == caution) && self.to == DROPPED
    }
}

/// What can be loosened.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Loosened {
    /// What decides where a value is in doubt.
    Acceptance,
    /// The caution of this name.
    Caution(String),
    /// The limit of this name.
    Limit(String),
    /// The meter that is assumed for this kind.
    Meter(String),
}

impl Loosened {
    const fn sort(&self) -> LoosenedSort {
        match self {
            Self::Acceptance => LoosenedSort::Acceptance,
            Self::Caution(_) => LoosenedSort::Caution,
            Self::Limit(_) => LoosenedSort::Limit,
            Self::Meter(_) => LoosenedSort::Meter,
        }
    }

    /// Its name, if it has one.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        match self {
            Self::Acceptance => None,
            Self::Caution(name) | Self::Limit(name) | Self::Meter(name) => Some(name),
        }
    }
}

/// As merged files and texts have it: `limit rest_floor`, `caution torn-wrap`, `acceptance`.
impl fmt::Display for Loosened {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sort = match self.sort() {
            LoosenedSort::Acceptance => "acceptance",
            LoosenedSort::Caution => "caution",
            LoosenedSort::Limit => "limit",
            LoosenedSort::Meter => "meter",
        };
        match self.name() {
            Some(name) => write!(f, "{sort} {name}"),
            None => f.write_str(sort),
        }
    }
}

/// A loosening as reports write it. Every report shows it.
#[derive(Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Loosening"))]
struct ToldLoosening {
    /// The ruleset that loosens.
    by: String,
    /// What it loosens.
    what: LoosenedSort,
    /// The name of the limit or the caution, or the kind of the meter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    /// What it was.
    from: String,
    /// What it is now.
    to: String,
    /// The reason given.
    because: String,
}

/// What can be loosened.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
enum LoosenedSort {
    /// What decides where a value is in doubt.
    Acceptance,
    /// A caution, which is dropped or moved to another stage.
    Caution,
    /// A limit.
    Limit,
    /// The meter that is assumed for a kind.
    Meter,
}

impl From<Loosening> for ToldLoosening {
    fn from(loosening: Loosening) -> Self {
        Self {
            what: loosening.what.sort(),
            name: loosening.what.name().map(str::to_owned),
            by: loosening.by,
            from: loosening.from,
            to: loosening.to,
            because: loosening.because,
        }
    }
}

impl TryFrom<ToldLoosening> for Loosening {
    type Error = &'static str;

    fn try_from(told: ToldLoosening) -> Result<Self, Self::Error> {
        let what = match (told.what, told.name) {
            (LoosenedSort::Acceptance, None) => Loosened::Acceptance,
            (LoosenedSort::Caution, Some(name)) => Loosened::Caution(name),
            (LoosenedSort::Limit, Some(name)) => Loosened::Limit(name),
            (LoosenedSort::Meter, Some(name)) => Loosened::Meter(name),
            (LoosenedSort::Acceptance, Some(_)) => return Err("acceptance has no name"),
            (_, None) => return Err("a limit, a meter or a caution that was loosened has a name"),
        };
        Ok(Self {
            by: told.by,
            what,
            from: told.from,
            to: told.to,
            because: told.because,
        })
    }
}

stored!(struct Loosening { by, what, from, to, because });
stored!(
    enum Loosened {
        Acceptance,
        Caution(name),
        Limit(name),
        Meter(name),
    }
);

//! What a dated reading can be of: the measured facts of a cell that one reading gives.

use std::borrow::Cow;
use std::sync::LazyLock;

use rules_core::facts::{FactKind, OverTime};
use rules_core::quantity::Nature;

use super::columns::split;
use crate::facts::{CELL, catalogue};

/// A fact of a cell that readings over time tell.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Dated {
    /// Its place in a proposal: `rest.voltage`.
    pub key: Cow<'static, str>,
    /// Its full name: `cell.rest_voltage`.
    pub fact: String,
    /// Which of several counts.
    pub over_time: OverTime,
}

impl Dated {
    /// The key of a cell that it stands under, and its own key there, if that is a map.
    pub(super) fn place(&self) -> (&str, Option<&str>) {
        split(&self.key)
    }
}

/// What happened to a cell, or was read of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// It was charged.
    Charged,
    /// It was discharged, or used.
    Discharged,
    /// A reading.
    Read(&'static Dated),
}

impl What {
    /// What is written so.
    pub(super) fn parse(text: &str) -> Option<Self> {
        match text {
            "charged" => Some(Self::Charged),
            "discharged" => Some(Self::Discharged),
            key => DATED.iter().find(|dated| dated.key == key).map(Self::Read),
        }
    }

    /// How it is written.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Charged => "charged",
            Self::Discharged => "discharged",
            Self::Read(dated) => &dated.key,
        }
    }

    /// All that may be written.
    pub(super) fn names() -> impl Iterator<Item = &'static str> {
        let words = [Self::Charged, Self::Discharged].map(Self::name);
        words
            .into_iter()
            .chain(DATED.iter().map(|dated| &*dated.key))
    }

    /// Whether the charge of the cell is another one after it: a capacity test is a discharge, and
    /// mostly a charge too.
    pub(super) fn moves_charge(self) -> bool {
        match self {
            Self::Charged | Self::Discharged => true,
            Self::Read(dated) => dated.key == CAPACITY,
        }
    }
}

/// The key of a capacity test.
pub(super) const CAPACITY: &str = "capacity.value";
/// The key of a reading of resistance.
pub(super) const RESISTANCE: &str = "resistance.value";
/// The key of the voltage at which a cell was found.
pub(super) const FOUND: &str = "found.voltage";
/// The key of a rest voltage.
pub(super) const REST: &str = "rest.voltage";

static DATED: LazyLock<Vec<Dated>> = LazyLock::new(|| {
    let facts = catalogue().facts().filter(|(_, def)| def.subject == CELL);
    let of_fact = |(id, def): (_, &rules_core::facts::FactDef)| {
        let is_number = matches!(def.kind, FactKind::Number(_)) && def.nature == Nature::Measured;
        let key = def.key.clone().filter(|key| is_number && is_whole(key))?;
        let fact = catalogue().fact_name(id).to_owned();
        Some(Dated {
            key,
            fact,
            over_time: def.over_time,
        })
    };
    facts.filter_map(of_fact).collect()
});

/// Whether a key is a reading by itself. Of a watch and of a load it takes two, and further tests are
/// rows of their own.
fn is_whole(key: &str) -> bool {
    match split(key) {
        ("drift" | "loaded", _) => false,
        (outer, Some(_)) if outer.starts_with("capacity") => key == CAPACITY,
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_mend_is_in_the_table_of_facts() {
        let lasting = DATED.iter().filter(|one| one.over_time != OverTime::Newest);
        let lasting: Vec<_> = lasting.map(|one| (&*one.key, one.over_time)).collect();
        let all = [
            ("idle_rise", OverTime::Greatest),
            (FOUND, OverTime::Least),
            ("charge.rise", OverTime::Greatest),
        ];
        assert_eq!(lasting, all);
    }

    #[test]
    fn what_takes_one_reading_has_dates() {
        for (key, fact) in [
            (REST, "cell.rest_voltage"),
            (CAPACITY, "cell.capacity"),
            (RESISTANCE, "cell.resistance"),
            ("found.voltage", "cell.found_voltage"),
            ("idle_rise", "cell.idle_rise"),
        ] {
            let Some(What::Read(dated)) = What::parse(key) else {
                panic!("{key} has no dates");
            };
            assert_eq!((dated.fact.as_str(), What::Read(dated).name()), (fact, key));
        }
        for none in [
            "drift.from",
            "loaded.open",
            "capacity_2.value",
            "capacity.half",
            "wrap",
            "",
        ] {
            assert_eq!(What::parse(none), None, "{none}");
        }
    }
}

//! Facts that the code itself reads or sets: each is looked for by its name once.

use std::sync::LazyLock;

use super::catalogue;

/// One of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NamedFact {
    BuildSeries,
    BuildParallel,
    BuildCells,
    BuildListed,
    GroupId,
    CellGroup,
    CellDesignation,
    CellClass,
    CellSizeCode,
    CellCodeDiameter,
    CellCodeLength,
}

impl NamedFact {
    const ALL: [Self; 11] = [
        Self::BuildSeries,
        Self::BuildParallel,
        Self::BuildCells,
        Self::BuildListed,
        Self::GroupId,
        Self::CellGroup,
        Self::CellDesignation,
        Self::CellClass,
        Self::CellSizeCode,
        Self::CellCodeDiameter,
        Self::CellCodeLength,
    ];

    const fn name(self) -> &'static str {
        match self {
            Self::BuildSeries => "build.series",
            Self::BuildParallel => "build.parallel",
            Self::BuildCells => "build.cells",
            Self::BuildListed => "build.listed",
            Self::GroupId => "group.id",
            Self::CellGroup => "cell.group",
            Self::CellDesignation => "cell.designation",
            Self::CellClass => "cell.class",
            Self::CellSizeCode => "cell.size_code",
            Self::CellCodeDiameter => "cell.code_diameter",
            Self::CellCodeLength => "cell.code_length",
        }
    }

    /// Its slot among the facts of its subject.
    pub(crate) fn slot(self) -> Option<usize> {
        SLOTS.get(self as usize).copied().flatten()
    }
}

static SLOTS: LazyLock<[Option<usize>; NamedFact::ALL.len()]> = LazyLock::new(|| {
    NamedFact::ALL.map(|fact| {
        let (id, _) = catalogue().fact_named(fact.name())?;
        Some(catalogue().slot(id))
    })
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_is_a_fact_and_has_its_own_slot() {
        for fact in NamedFact::ALL {
            let (id, _) = catalogue().fact_named(fact.name()).unwrap();
            assert_eq!(fact.slot(), Some(catalogue().slot(id)), "{fact:?}");
        }
    }
}

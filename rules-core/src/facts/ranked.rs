//! Names by the places that they take in order, so that what has names can be sorted by numbers.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use super::fact::FactId;
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored};

/// The dotted names of the facts of a catalogue. A copy shares them.
#[derive(Debug, Clone, Default)]
pub(super) struct FactNames {
    names: Arc<Vec<Cow<'static, str>>>,
    ranks: OnceLock<Box<[usize]>>,
}

impl FactNames {
    pub(super) fn push(&mut self, name: String) {
        Arc::make_mut(&mut self.names).push(Cow::Owned(name));
        self.ranks = OnceLock::new();
    }

    pub(super) fn name(&self, id: FactId) -> &str {
        self.names.get(id.0 as usize).map_or("", |name| &**name)
    }

    pub(super) fn to_keep(&self, id: FactId) -> Cow<'static, str> {
        self.names.get(id.0 as usize).cloned().unwrap_or_default()
    }

    pub(super) fn rank(&self, id: FactId) -> usize {
        let all = || ranked(self.names.iter().map(|name| &**name));
        let ranks = self.ranks.get_or_init(all);
        ranks.get(id.0 as usize).copied().unwrap_or(0)
    }
}

impl Stored for FactNames {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.names.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let names = Stored::read(from)?;
        Some(Self {
            names,
            ranks: OnceLock::new(),
        })
    }
}

/// Of each name, how many other names come before it. Equal names have one rank.
pub(crate) fn ranked<'n>(names: impl Iterator<Item = &'n str>) -> Box<[usize]> {
    let names: Vec<&str> = names.collect();
    let mut order: Vec<(&str, usize)> = names.iter().copied().zip(0..).collect();
    order.sort_unstable();
    let mut ranks = vec![0; names.len()];
    for (rank, alike) in order.chunk_by(|one, next| one.0 == next.0).enumerate() {
        for (_, at) in alike {
            if let Some(place) = ranks.get_mut(*at) {
                *place = rank;
            }
        }
    }
    ranks.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_names_have_one_rank() {
        let ranks = ranked(["K4", "K1", "", "K4", "K10"].into_iter());
        assert_eq!(*ranks, [3, 1, 0, 3, 2]);
        assert!(ranked(std::iter::empty()).is_empty());
    }
}

//! What is made once for a check and used many times.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::hash::{BuildHasherDefault, Hasher};
use std::sync::Arc;

use crate::facts::MOST_SUBJECTS;
use crate::formula::FactAt;

/// What was made so far, by what it was made of.
#[derive(Debug)]
pub(super) struct Made<K, T>(RefCell<BTreeMap<K, T>>);

impl<K, T> Default for Made<K, T> {
    fn default() -> Self {
        Self(RefCell::default())
    }
}

impl<K: Ord, T: Clone> Made<K, T> {
    /// What was made of this, or else what is made of it now.
    pub(super) fn get_or(&self, of: K, make: impl FnOnce() -> T) -> T {
        if let Some(made) = self.0.borrow().get(&of) {
            return made.clone();
        }
        let made = make();
        self.0.borrow_mut().insert(of, made.clone());
        made
    }
}

/// What was made so far of facts, by subject, position and slot: of what is given, and of what is
/// missing.
#[derive(Debug)]
pub(super) struct MadeOfFacts<T>(RefCell<[Vec<MadeOfOne<T>>; MOST_SUBJECTS]>);

/// What was made of the facts of one of a subject, by slot.
type MadeOfOne<T> = Vec<[Option<T>; 2]>;

impl<T> Default for MadeOfFacts<T> {
    fn default() -> Self {
        Self(RefCell::default())
    }
}

impl<T: Clone> MadeOfFacts<T> {
    /// What was made of this fact, or else what is made of it now. There are `count` of its subject.
    pub(super) fn get_or(&self, of: FactAt, count: usize, make: impl FnOnce() -> T) -> T {
        if let Some(made) = self.made(of) {
            return made;
        }
        let made = make();
        if let Some(place) = place(&mut *self.0.borrow_mut(), of, count) {
            *place = Some(made.clone());
        }
        made
    }

    fn made(&self, of: FactAt) -> Option<T> {
        let all = self.0.borrow();
        let of_one = all.get(of.subject.position())?.get(of.position)?;
        of_one.get(of.slot)?.get(usize::from(of.missing))?.clone()
    }
}

/// Where what is made of a fact is kept.
fn place<T: Clone>(
    all: &mut [Vec<MadeOfOne<T>>],
    of: FactAt,
    count: usize,
) -> Option<&mut Option<T>> {
    let of_subject = all.get_mut(of.subject.position())?;
    if of_subject.is_empty() {
        of_subject.resize(count, Vec::new());
    }
    let of_one = of_subject.get_mut(of.position)?;
    if of_one.len() <= of.slot {
        of_one.resize(of.slot.checked_add(1)?, [None, None]);
    }
    of_one.get_mut(of.slot)?.get_mut(usize::from(of.missing))
}

/// Values by the address of what they are of.
pub(crate) type ByAddress<T> = HashMap<usize, T, BuildHasherDefault<AddressHasher>>;

/// Spreads an address by a multiplication: addresses are apart already, and nobody chooses them.
#[derive(Debug, Default)]
pub(crate) struct AddressHasher(u64);

impl Hasher for AddressHasher {
    fn write(&mut self, bytes: &[u8]) {
        bytes
            .iter()
            .for_each(|byte| self.write_usize(usize::from(*byte)));
    }

    fn write_usize(&mut self, address: usize) {
        /// 2^64 over the golden ratio, made odd.
        const SPREAD: u64 = 0x9E37_79B9_7F4A_7C15;
        self.0 = (self.0 ^ address as u64)
            .wrapping_mul(SPREAD)
            .rotate_left(32);
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

/// Each of many once, where it comes first. Those are the same that are one in memory.
pub(crate) fn each_once<'m, T: 'm>(
    all: impl Iterator<Item = &'m Arc<T>>,
) -> impl Iterator<Item = &'m Arc<T>> {
    let mut seen: ByAddress<()> = HashMap::default();
    all.filter(move |one| seen.insert(Arc::as_ptr(one).addr(), ()).is_none())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_made_is_made_once() {
        let (made, mut times) = (Made::default(), 0);
        for of in [1, 2, 1, 1] {
            assert_eq!(
                made.get_or(of, || {
                    times += 1;
                    of * 10
                }),
                of * 10
            );
        }
        assert_eq!(times, 2);
    }

    #[test]
    fn one_in_memory_is_met_once() {
        let (one, equal) = (Arc::new(1), Arc::new(1));
        let all = [&one, &equal, &one, &equal, &equal];
        let met: Vec<_> = each_once(all.into_iter()).collect();
        assert!(
            matches!(*met, [first, second] if Arc::ptr_eq(first, &one) && Arc::ptr_eq(second, &equal))
        );
    }
}

//! A value for each subject of an entry.

use serde::Serialize;

/// What is the same for all subjects of an entry, or a list with one for each, in their order.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[serde(untagged)]
pub(super) enum Each<T> {
    /// The same for all.
    Same(T),
    /// One for each.
    List(Vec<T>),
}

impl<T: PartialEq + Clone> Each<T> {
    /// Of values in the order of the subjects; nothing of no subjects.
    pub(super) fn of(values: impl IntoIterator<Item = T>) -> Option<Self> {
        let mut values = values.into_iter();
        let first = values.next()?;
        let mut alike = 1;
        let other = values.by_ref().find(|value| {
            let is_alike = *value == first;
            alike += usize::from(is_alike);
            !is_alike
        });
        let Some(other) = other else {
            return Some(Self::Same(first));
        };
        let mut list = Vec::with_capacity(alike + 1 + values.size_hint().0);
        list.resize(alike, first);
        list.push(other);
        list.extend(values);
        Some(Self::List(list))
    }
}

impl<T: PartialEq + Default> Each<T> {
    /// Whether it says nothing of anyone, so that it is left out.
    pub(super) fn is_default(&self) -> bool {
        matches!(self, Self::Same(value) if *value == T::default())
    }
}

/// None of something.
#[cfg(feature = "schema")]
pub(super) const fn zero() -> Each<usize> {
    Each::Same(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_the_same_is_said_once() {
        assert_eq!(Each::of([1, 1, 1]), Some(Each::Same(1)));
        assert_eq!(Each::of([1]), Some(Each::Same(1)));
        assert_eq!(Each::of([1, 2, 1]), Some(Each::List(vec![1, 2, 1])));
        assert_eq!(Each::<u8>::of([]), None);
        assert!(Each::Same(0).is_default() && !Each::Same(1).is_default());
        assert!(!Each::List(vec![0, 1]).is_default());
    }
}

//! Values that are read when somebody asks for them.

use std::fmt;
use std::ops::Deref;
use std::sync::OnceLock;

#[cfg(any(test, feature = "snapshot"))]
use super::Writer;
use super::{Reader, Stored};

/// A value that may be kept in the program and is read when it is first asked for: most checks ask
/// for few of the texts of rules.
pub struct Late<T> {
    value: OnceLock<T>,
    kept: Option<Kept<T>>,
}

/// Where the value is, and how it is read.
struct Kept<T> {
    from: Reader,
    read: fn(&mut Reader) -> Option<T>,
}

impl<T: Default> Default for Late<T> {
    fn default() -> Self {
        T::default().into()
    }
}

impl<T> From<T> for Late<T> {
    fn from(value: T) -> Self {
        Self {
            value: OnceLock::from(value),
            kept: None,
        }
    }
}

impl<T: Default> Late<T> {
    /// The value, which is read if it was not.
    pub(crate) fn into_value(self) -> T {
        let Self { value, kept } = self;
        value.into_inner().unwrap_or_else(|| read(kept.as_ref()))
    }
}

/// Where the bytes are no value, it is the usual one.
fn read<T: Default>(kept: Option<&Kept<T>>) -> T {
    kept.and_then(|kept| (kept.read)(&mut kept.from.clone()))
        .unwrap_or_default()
}

impl<T: Default> Deref for Late<T> {
    type Target = T;

    fn deref(&self) -> &T {
        self.value.get_or_init(|| read(self.kept.as_ref()))
    }
}

impl<T: Default + fmt::Debug> fmt::Debug for Late<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}

impl<T: Clone> Clone for Late<T> {
    fn clone(&self) -> Self {
        let kept = self.kept.as_ref();
        Self {
            value: self.value.clone(),
            kept: kept.map(|kept| Kept {
                from: kept.from.clone(),
                read: kept.read,
            }),
        }
    }
}

/// After the number of its bytes.
impl<T: Stored + Default> Stored for Late<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.measured(|to| (**self).write(to));
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some(Self {
            value: OnceLock::new(),
            kept: Some(Kept {
                from: from.part()?,
                read: T::read,
            }),
        })
    }
}

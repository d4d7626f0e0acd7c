//! How values of the standard library are kept.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use smol_str::SmolStr;

#[cfg(any(test, feature = "snapshot"))]
use super::Writer;
use super::{Reader, Stored};

/// Keeps a type by one way to write it and one to read it.
macro_rules! by {
    ($type:ty, $write:expr, $read:expr) => {
        impl Stored for $type {
            #[cfg(any(test, feature = "snapshot"))]
            fn write(&self, to: &mut Writer) {
                let write: fn(&Self, &mut Writer) = $write;
                write(self, to);
            }

            #[inline]
            fn read(from: &mut Reader) -> Option<Self> {
                let read: fn(&mut Reader) -> Option<Self> = $read;
                read(from)
            }
        }
    };
}

by!(bool, |yes, to| to.byte(u8::from(*yes)), |from| {
    match from.byte()? {
        0 => Some(false),
        1 => Some(true),
        _ => None,
    }
});
by!(u8, |byte, to| to.byte(*byte), Reader::byte);
by!(i8, |byte, to| to.byte(byte.cast_unsigned()), |from| from
    .byte()
    .map(u8::cast_signed));
by!(u16, |small, to| to.number(usize::from(*small)), |from| {
    u16::try_from(from.number()?).ok()
});
by!(
    u32,
    |small, to| to.number(usize::try_from(*small).unwrap_or(usize::MAX)),
    |from| u32::try_from(from.number()?).ok()
);
by!(u64, |bits, to| to.all(&bits.to_le_bytes()), |from| {
    from.eight().map(u64::from_le_bytes)
});
by!(f64, |number, to| to.all(&number.to_le_bytes()), |from| {
    from.eight().map(f64::from_le_bytes)
});
by!(usize, |number, to| to.number(*number), Reader::number);
by!(&'static str, |text, to| to.text(text), Reader::text);
by!(Cow<'static, str>, |text, to| to.text(text), |from| {
    from.text().map(Cow::Borrowed)
});
by!(String, |text, to| to.text(text), |from| {
    from.text().map(str::to_owned)
});
by!(SmolStr, |text, to| to.text(text), |from| {
    from.text().map(SmolStr::new_static)
});
by!(Box<str>, |text, to| to.text(text), |from| {
    from.text().map(Box::from)
});
by!(Arc<str>, |text, to| to.text(text), |from| {
    from.text().map(Arc::from)
});

/// The start and the length.
impl Stored for Range<usize> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.number(self.start);
        to.number(self.end.saturating_sub(self.start));
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let start = from.number()?;
        Some(start..start.checked_add(from.number()?)?)
    }
}

impl<T: Stored> Stored for Option<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.byte(u8::from(self.is_some()));
        if let Some(held) = self {
            held.write(to);
        }
    }

    fn read(from: &mut Reader) -> Option<Self> {
        match from.byte()? {
            0 => Some(None),
            1 => T::read(from).map(Some),
            _ => None,
        }
    }
}

impl<T: Stored> Stored for Box<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        (**self).write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        from.below(T::read).map(Self::new)
    }
}

/// How many there are, and each.
impl<T: Stored> Stored for Vec<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.number(self.len());
        self.iter().for_each(|one| one.write(to));
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let many = from.number()?;
        from.below(|from| {
            let mut all = Self::with_capacity(from.room(many));
            for _ in 0..many {
                all.push(T::read(from)?);
            }
            Some(all)
        })
    }
}

impl<T: Stored + Clone> Stored for Arc<[T]> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.to_vec().write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Vec::read(from).map(Self::from)
    }
}

impl<T: Stored> Stored for Arc<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        (**self).write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        T::read(from).map(Self::new)
    }
}

/// How many entries there are, and each, in the order of the keys.
impl<K: Stored + Ord, V: Stored> Stored for BTreeMap<K, V> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.number(self.len());
        for (key, value) in self {
            key.write(to);
            value.write(to);
        }
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Vec::<(K, V)>::read(from).map(Self::from_iter)
    }
}

impl<A: Stored, B: Stored> Stored for (A, B) {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.0.write(to);
        self.1.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some((A::read(from)?, B::read(from)?))
    }
}

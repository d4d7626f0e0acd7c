//! What can be kept, and how that is said of a type.

use super::Reader;
#[cfg(any(test, feature = "snapshot"))]
use super::Writer;

/// A value that can be kept.
pub(crate) trait Stored: Sized {
    /// Writes it.
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer);

    /// Reads one; nothing, if the bytes are none.
    fn read(from: &mut Reader) -> Option<Self>;
}

/// Keeps a type as its parts in order: `stored!(struct Stage { id, title })`,
/// `stored!(struct StageId(at))`, `stored!(enum Test { Not(a), Compare { left, right } })`.
macro_rules! stored {
    (struct $name:ident { $($field:ident),+ $(,)? }) => {
        impl $crate::snapshot::Stored for $name {
            #[cfg(any(test, feature = "snapshot"))]
            fn write(&self, to: &mut $crate::snapshot::Writer) {
                let Self { $($field),+ } = self;
                $($crate::snapshot::Stored::write($field, to);)+
            }

            fn read(from: &mut $crate::snapshot::Reader) -> Option<Self> {
                Some(Self { $($field: $crate::snapshot::Stored::read(from)?),+ })
            }
        }
    };
    (struct $name:ident ( $($part:ident),+ )) => {
        impl $crate::snapshot::Stored for $name {
            #[cfg(any(test, feature = "snapshot"))]
            fn write(&self, to: &mut $crate::snapshot::Writer) {
                let Self($($part),+) = self;
                $($crate::snapshot::Stored::write($part, to);)+
            }

            fn read(from: &mut $crate::snapshot::Reader) -> Option<Self> {
                $(let $part = $crate::snapshot::Stored::read(from)?;)+
                Some(Self($($part),+))
            }
        }
    };
    (enum $name:ident { $($variant:ident $(( $($part:ident),+ ))? $({ $($field:ident),+ })?),+ $(,)? }) => {
        impl $crate::snapshot::Stored for $name {
            #[cfg(any(test, feature = "snapshot"))]
            #[allow(unused_assignments, reason = "after the last variant nothing is counted")]
            fn write(&self, to: &mut $crate::snapshot::Writer) {
                let mut sort = 0;
                $(
                    if let Self::$variant $(( $($part),+ ))? $({ $($field),+ })? = self {
                        to.byte(sort);
                        $($($crate::snapshot::Stored::write($part, to);)+)?
                        $($($crate::snapshot::Stored::write($field, to);)+)?
                        return;
                    }
                    sort += 1;
                )+
            }

            fn read(from: &mut $crate::snapshot::Reader) -> Option<Self> {
                let mut sort = from.byte()?;
                $(
                    if sort == 0 {
                        $($(let $part = $crate::snapshot::Stored::read(from)?;)+)?
                        $($(let $field = $crate::snapshot::Stored::read(from)?;)+)?
                        return Some(Self::$variant $(( $($part),+ ))? $({ $($field),+ })?);
                    }
                    sort = sort.wrapping_sub(1);
                )+
                let _ = sort;
                None
            }
        }
    };
}

pub(crate) use stored;

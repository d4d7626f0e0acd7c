//! Why a call failed.

use std::any::Any;
use std::cell::RefCell;
use std::ffi::{CStr, CString};
use std::panic::{AssertUnwindSafe, catch_unwind};

use rulesets::ProblemList;

use crate::interface::Status;

/// Why there is no answer.
pub(crate) enum Failure {
    /// The rules or the proposal have problems.
    NotUsable(ProblemList),
    /// The caller broke a promise of the header that can be seen from here.
    BadArgument(&'static str),
    /// A fault of this library.
    Internal,
}

thread_local! {
    /// What the last call of this thread failed of: empty if it did not.
    static LAST: RefCell<CString> = RefCell::default();
}

impl Failure {
    const fn status(&self) -> Status {
        match self {
            Self::NotUsable(_) => Status::NotUsable,
            Self::BadArgument(_) => Status::BadArgument,
            Self::Internal => Status::Internal,
        }
    }

    fn in_words(&self) -> String {
        match self {
            Self::NotUsable(problems) => problems.to_string(),
            Self::BadArgument(what) => (*what).to_owned(),
            Self::Internal => "a fault of this library: please report it".to_owned(),
        }
    }
}

/// Does the work of a call. Its failure becomes a status and the last error of this thread; a panic
/// ends here, because it must not run into frames of C.
pub(crate) fn guarded(work: impl FnOnce() -> Result<(), Failure>) -> Status {
    remember("");
    // What a panic leaves half done is dropped with the call: rules are only read while checking.
    let failure = match catch_unwind(AssertUnwindSafe(work)) {
        Ok(Ok(())) => return Status::Ok,
        Ok(Err(failure)) => failure,
        Err(panic) => {
            drop_quietly(panic);
            Failure::Internal
        }
    };
    remember(&failure.in_words());
    failure.status()
}

/// Frees something, which fails at nothing and leaves the last error as it is.
pub(crate) fn quietly(work: impl FnOnce()) {
    if let Err(panic) = catch_unwind(AssertUnwindSafe(work)) {
        drop_quietly(panic);
    }
}

/// Dropping what a panic carries may panic itself.
fn drop_quietly(panic: Box<dyn Any + Send>) {
    if let Err(again) = catch_unwind(AssertUnwindSafe(|| drop(panic))) {
        std::mem::forget(again);
    }
}

fn remember(words: &str) {
    // A proposal may have any character in it, and so may the message that quotes it.
    let words = CString::new(words.replace('\0', "\u{fffd}")).unwrap_or_default();
    LAST.with(|last| last.replace(words));
}

/// Hands the last error of this thread over; it stays until the next call that can fail.
pub(crate) fn last_error<T>(read: impl FnOnce(&CStr) -> T) -> T {
    LAST.with_borrow(|last| read(last))
}

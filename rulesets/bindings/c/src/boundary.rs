//! What comes over the border between C and Rust, and what goes back.
//!
//! C promises in the header that a pointer is null or points to what its type says. Null, lengths
//! that no memory has and texts that are no UTF-8 are found here and become errors.

use std::ffi::{CStr, c_char};
use std::ptr::{self, NonNull};
use std::slice;

use rulesets::Texts;

use crate::failure::Failure;
use crate::interface::{NamedText, Text};

/// A place that the caller wants written. What stands there may be anything, so that it is never read.
pub(crate) struct Place<T>(NonNull<T>);

// Not derived: that would ask the same of what stands there.
impl<T> Clone for Place<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Place<T> {}

impl<T> Place<T> {
    /// The place at a pointer, or none if it is null.
    ///
    /// # Safety
    ///
    /// `place` is null, or may be written as a `T` during the call, is aligned, and nobody else uses
    /// it meanwhile.
    pub(crate) unsafe fn at(place: *mut T) -> Option<Self> {
        NonNull::new(place).map(Self)
    }

    /// Writes the place over.
    pub(crate) fn put(self, value: T) {
        // SAFETY: whoever made this place promised that it may be written.
        unsafe { self.0.write(value) }
    }
}

/// What a pointer that must not be null points to.
///
/// # Safety
///
/// `pointer` is null, or points to a `T` that nobody changes while `'a` lasts.
pub(crate) unsafe fn given<'a, T>(pointer: *const T, what: &'static str) -> Result<&'a T, Failure> {
    // SAFETY: the caller of this function promises it.
    unsafe { pointer.as_ref() }.ok_or(Failure::BadArgument(what))
}

/// As many values as `length` says. None at all may have any pointer.
///
/// # Safety
///
/// `first` is null, or points to `length` values of `T` that nobody changes while `'a` lasts.
pub(crate) unsafe fn several<'a, T>(
    first: *const T,
    length: usize,
    what: &'static str,
) -> Result<&'a [T], Failure> {
    if length == 0 {
        return Ok(&[]);
    }
    let too_large = length > isize::MAX.unsigned_abs() / size_of::<T>().max(1);
    if first.is_null() || !first.is_aligned() || too_large {
        return Err(Failure::BadArgument(what));
    }
    // SAFETY: not null, aligned and no larger than memory may be, as seen above; the caller of this
    // function promises that so many values are there.
    Ok(unsafe { slice::from_raw_parts(first, length) })
}

/// A text of C.
///
/// # Safety
///
/// `text` is null, or ends with a NUL, and nobody changes it while `'a` lasts.
pub(crate) unsafe fn words<'a>(
    text: *const c_char,
    what: &'static str,
) -> Result<&'a str, Failure> {
    if text.is_null() {
        return Err(Failure::BadArgument(what));
    }
    // SAFETY: not null, as seen above; the caller of this function promises the rest.
    let text = unsafe { CStr::from_ptr(text) };
    text.to_str().map_err(|_| Failure::BadArgument(what))
}

/// As many texts of C as `count` says.
///
/// # Safety
///
/// They are as [`several`] wants them, and each as [`words`] does.
pub(crate) unsafe fn all_words<'a>(
    texts: *const *const c_char,
    count: usize,
) -> Result<Vec<&'a str>, Failure> {
    // SAFETY: the caller of this function promises it.
    let texts = unsafe { several(texts, count, "the names are null, or too many") }?;
    let word = |text: &*const c_char| {
        // SAFETY: as before.
        unsafe { words(*text, "a name is null or not UTF-8") }
    };
    texts.iter().map(word).collect()
}

/// Texts by name, copied.
///
/// # Safety
///
/// Each name and each stretch of bytes is as [`words`] and [`several`] want them.
pub(crate) unsafe fn library(texts: &[NamedText]) -> Result<Texts, Failure> {
    let mut library = Texts::default();
    for text in texts {
        // SAFETY: the caller of this function promises it.
        let name = unsafe { words(text.name, "a text has no name, or one that is not UTF-8") }?;
        // SAFETY: the caller of this function promises it.
        let bytes = unsafe { several(text.bytes, text.length, "a text's bytes are null") }?;
        library.add(name, bytes);
    }
    Ok(library)
}

/// Hands a text over to the caller, who gives it back to [`take_back`]. A NUL stands behind it.
pub(crate) fn hand_over(text: String) -> Text {
    let length = text.len();
    let mut bytes = text.into_bytes();
    bytes.push(0);
    Text {
        bytes: Box::into_raw(bytes.into_boxed_slice()).cast(),
        length,
    }
}

/// Takes a text back that was handed over, frees it, and empties it.
///
/// # Safety
///
/// `text` is null, or points to one that is empty, or comes from [`hand_over`], unchanged, and was
/// not taken back before.
pub(crate) unsafe fn take_back(text: *mut Text) {
    // SAFETY: the caller of this function promises it.
    let Some(text) = (unsafe { text.as_mut() }) else {
        return;
    };
    let Text { bytes, length } = std::mem::replace(text, Text::EMPTY);
    if bytes.is_null() {
        return;
    }
    let all = ptr::slice_from_raw_parts_mut(bytes, length.saturating_add(1));
    // SAFETY: the bytes were a box of so many, with the NUL; it is had back once.
    drop(unsafe { Box::from_raw(all) });
}

//! The functions that C calls. Their documentation is that of the header.
//!
//! Each checks its pointers in [`boundary`](crate::boundary), does its work in
//! [`answer`](crate::answer), and lets no panic out.

#![allow(
    clippy::missing_safety_doc,
    reason = "the promises are the same for all functions and stand once, at the top of the header"
)]

use std::ffi::{CStr, c_char};
use std::ptr;

use rulesets::{Rules, Texts, USUAL_RULESET, Verdict};

use crate::answer::{Detail, answer, load, problems, prose};
use crate::boundary::{Place, all_words, given, hand_over, library, several, take_back, words};
use crate::failure::{Failure, guarded, last_error, quietly};

/// How a call ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(C)]
pub enum Status {
    /// It did what was asked.
    Ok = 0,
    /// The rules or the proposal cannot be used. The text that was asked for holds a JSON object
    /// with `problems`: each has its kind, message, help and place.
    NotUsable = 1,
    /// A pointer is null that must not be, a length is one that no memory has, or a name is not
    /// UTF-8.
    BadArgument = 2,
    /// A fault of this library. Nothing of the caller was changed.
    Internal = 3,
}

/// What an answer comes to. Zero is no verdict, so that forgotten memory never reads as a pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(C)]
pub enum Judgement {
    /// There is none: the call failed.
    None = 0,
    /// No caution of the rules speaks against the plan. This overrules no maker, regulator or local
    /// code.
    Pass = 1,
    /// Something is to be watched.
    Warn = 2,
    /// Something speaks against the plan, or is not known well enough to tell.
    Refuse = 3,
}

/// Rules, loaded. They are never changed, and any number of threads may check by them at once.
pub struct LoadedRules(Rules);

/// A text that this library made. A NUL stands behind it that `length` does not count.
#[derive(Debug)]
#[repr(C)]
pub struct Text {
    /// The first byte, of UTF-8; null if there is no text.
    pub bytes: *mut u8,
    /// How many bytes, without the NUL.
    pub length: usize,
}

/// A ruleset in memory, with the name that others extend it by.
#[derive(Debug)]
#[repr(C)]
pub struct NamedText {
    /// Its name, such as `club.yaml`, which ends with a NUL.
    pub name: *const c_char,
    /// The first byte. It is read during the call alone.
    pub bytes: *const u8,
    /// How many bytes.
    pub length: usize,
}

impl Text {
    /// No text.
    pub(crate) const EMPTY: Self = Self {
        bytes: ptr::null_mut(),
        length: 0,
    };
}

impl From<Verdict> for Judgement {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Pass,
            Verdict::Warn => Self::Warn,
            Verdict::Refuse => Self::Refuse,
        }
    }
}

const NO_RULES: &str = "the rules are null: load some first";
const NO_PLACE: &str = "the place for the rules is null";

/// The version of this library, such as `0.1.0`. It is never freed.
#[unsafe(no_mangle)]
pub extern "C" fn cellrules_version() -> *const c_char {
    const VERSION: &CStr =
        match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
            Ok(version) => version,
            Err(_) => c"",
        };
    VERSION.as_ptr()
}

/// Why the last call of this thread failed, in words; empty if it did not. It lasts until the
/// thread's next call that returns a status, and is never freed.
#[unsafe(no_mangle)]
pub extern "C" fn cellrules_last_error() -> *const c_char {
    last_error(CStr::as_ptr)
}

/// Loads the shipped rules. `rules` gets them, or null.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_load_shipped(rules: *mut *mut LoadedRules) -> Status {
    guarded(|| {
        // SAFETY: the header asks it of the caller.
        let place = unsafe { Place::at(rules) }.ok_or(Failure::BadArgument(NO_PLACE))?;
        place.put(ptr::null_mut());
        place.put(keep(load(&[USUAL_RULESET], Texts::default())?));
        Ok(())
    })
}

/// Loads the rulesets of these names, all of which apply. A name is that of a text given here, or of
/// a shipped ruleset. `rules` gets them, or null; `problems`, which may be null, gets why not.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_load(
    names: *const *const c_char,
    name_count: usize,
    texts: *const NamedText,
    text_count: usize,
    rules: *mut *mut LoadedRules,
    problems: *mut Text,
) -> Status {
    guarded(|| {
        // SAFETY: the header asks it of the caller.
        let told = unsafe { Place::at(problems) };
        empty(told);
        // SAFETY: as before.
        let place = unsafe { Place::at(rules) }.ok_or(Failure::BadArgument(NO_PLACE))?;
        place.put(ptr::null_mut());
        // SAFETY: as before.
        let names = unsafe { all_words(names, name_count) }?;
        // SAFETY: as before.
        let texts = unsafe { several(texts, text_count, "the texts are null, or too many") }?;
        // SAFETY: as before.
        let texts = unsafe { library(texts) }?;
        place.put(keep(
            load(&names, texts).or_else(|failure| tell(failure, told))?,
        ));
        Ok(())
    })
}

/// Frees rules. Null is fine. No call may still be using them.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_free_rules(rules: *mut LoadedRules) {
    quietly(|| {
        if !rules.is_null() {
            // SAFETY: the header asks that they come from a call that loads, and are freed once.
            drop(unsafe { Box::from_raw(rules) });
        }
    });
}

/// Checks a proposal and writes its lean record: one line of JSON of ids and numbers, as
/// `schemas/lean.schema.json` describes it. `name` is what messages call the proposal; one that ends
/// in `.json` is read as JSON, any other as YAML. `verdict` and `record` may be null. If the
/// proposal cannot be used, `record` gets the problems.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_check(
    rules: *const LoadedRules,
    name: *const c_char,
    bytes: *const u8,
    length: usize,
    verdict: *mut Judgement,
    record: *mut Text,
) -> Status {
    let asked = (rules, name, bytes, length);
    // SAFETY: the header asks it of the caller.
    guarded(|| unsafe { check(asked, Detail::Lean, verdict, record) })
}

/// As `cellrules_check`, with the whole report in words, as `schemas/report.schema.json` describes
/// it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_report(
    rules: *const LoadedRules,
    name: *const c_char,
    bytes: *const u8,
    length: usize,
    verdict: *mut Judgement,
    report: *mut Text,
) -> Status {
    let asked = (rules, name, bytes, length);
    // SAFETY: the header asks it of the caller.
    guarded(|| unsafe { check(asked, Detail::Full, verdict, report) })
}

/// Writes the words of the rules, which records leave out, and the standing notice, as JSON. Whoever
/// shows a record shows the notice too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_words(rules: *const LoadedRules, text: *mut Text) -> Status {
    guarded(|| {
        // SAFETY: the header asks it of the caller.
        let place = unsafe { Place::at(text) };
        empty(place);
        // SAFETY: as before.
        let rules = unsafe { given(rules, NO_RULES) }?;
        let place = place.ok_or(Failure::BadArgument("the place for the words is null"))?;
        place.put(hand_over(prose(&rules.0)?));
        Ok(())
    })
}

/// Frees a text that a call wrote, and empties it. Null is fine, and so is an empty text.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn cellrules_free_text(text: *mut Text) {
    // SAFETY: the header asks that it is one that a call wrote.
    quietly(|| unsafe { take_back(text) });
}

/// Checks a proposal, at either detail.
unsafe fn check(
    (rules, name, bytes, length): (*const LoadedRules, *const c_char, *const u8, usize),
    detail: Detail,
    verdict: *mut Judgement,
    text: *mut Text,
) -> Result<(), Failure> {
    // SAFETY: the header asks it of the caller.
    let verdict = unsafe { Place::at(verdict) };
    // SAFETY: as before.
    let text = unsafe { Place::at(text) };
    judge(verdict, None);
    empty(text);
    // SAFETY: as before.
    let rules = unsafe { given(rules, NO_RULES) }?;
    // SAFETY: as before.
    let name = unsafe { words(name, "the proposal's name is null or not UTF-8") }?;
    // SAFETY: as before.
    let bytes = unsafe { several(bytes, length, "the proposal's bytes are null, or too many") }?;
    let answered = answer(&rules.0, (name, bytes.to_vec()), detail);
    let answered = answered.or_else(|failure| tell(failure, text))?;
    judge(verdict, answered.verdict);
    if let Some(text) = text {
        text.put(hand_over(answered.json));
    }
    Ok(())
}

fn keep(rules: Rules) -> *mut LoadedRules {
    Box::into_raw(Box::new(LoadedRules(rules)))
}

fn judge(place: Option<Place<Judgement>>, verdict: Option<Verdict>) {
    if let Some(place) = place {
        place.put(verdict.map_or(Judgement::None, Judgement::from));
    }
}

fn empty(text: Option<Place<Text>>) {
    if let Some(text) = text {
        text.put(Text::EMPTY);
    }
}

/// Writes problems where the caller asked for a text, and passes the failure on.
fn tell<T>(failure: Failure, text: Option<Place<Text>>) -> Result<T, Failure> {
    if let (Failure::NotUsable(found), Some(text)) = (&failure, text) {
        text.put(hand_over(problems(found.clone())?));
    }
    Err(failure)
}

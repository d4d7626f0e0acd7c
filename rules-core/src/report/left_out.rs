//! What the JSON of a report leaves out.
#![allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands fields over by reference"
)]

/// A yes.
pub(super) const fn is_yes(yes: &bool) -> bool {
    *yes
}

/// A no.
pub(super) const fn is_no(yes: &bool) -> bool {
    !*yes
}

/// One of something.
pub(super) const fn is_one(count: &usize) -> bool {
    *count == 1
}

//! What a written ruleset leaves out.

/// A no, where a key that is left out says no.
#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands fields over by reference"
)]
pub(super) const fn is_no(yes: &bool) -> bool {
    !*yes
}

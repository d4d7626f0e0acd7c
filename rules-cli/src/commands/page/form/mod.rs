//! The form of a plan, made of the table of facts and of the rules in force: what these declare appears
//! in it by itself.
//!
//! `top` has what comes first, `next` what is asked next, `part` all that can be said of one thing, by
//! the `places` of its section or of its `meters`. `field` is one question.

mod field;
mod meters;
mod next;
mod part;
mod parts;
mod places;
mod top;

pub(super) use self::next::next;
pub(super) use self::part::part;
pub(super) use self::parts::parts;
pub(super) use self::top::top;

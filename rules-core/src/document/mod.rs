//! Documents: bytes of YAML or JSON to a tree of nodes that know their places, and the problems
//! found on the way.
//!
//! Loading goes in two steps. The bytes become a small tree of maps, lists and scalars, each with
//! its place in the text. Then proposals and rulesets build their models from the tree, and every
//! problem found is collected, not only the first.

mod canonical;
mod entries;
mod fault;
mod fields;
mod growing;
mod harmless;
mod json;
mod json_text;
mod listing;
mod node;
#[cfg(feature = "snapshot")]
mod prepare;
mod prepared;
mod problem;
mod problem_list;
mod problems;
mod read;
mod source;
mod suggestions;
mod syntax;
mod tree;
mod units;
#[cfg_attr(not(feature = "yaml"), path = "no_yaml.rs")]
mod yaml;

pub use canonical::digest;
pub(crate) use entries::key_number;
pub use fault::Fault;
pub use fields::{
    Fields, is_word, list, option, quoted, tell_split, text, texts, unknown_key, word, wrong_shape,
    yes_no,
};
pub use harmless::{acts_on_a_terminal, harmless};
pub use json_text::{json_text, write_json_line};
pub use listing::Listing;
pub use node::{Content, Entry, Node, Scalar};
#[cfg(feature = "snapshot")]
pub use prepare::prepare;
pub use prepared::Prepared;
pub use problem::{Problem, Severity};
pub use problem_list::ProblemList;
pub use problems::{Problems, SetAside};
pub use read::{read, read_on, source};
pub use source::{Place, Source, Span};
pub use suggestions::{Suggestions, near_miss};
pub use syntax::Syntax;
pub use units::Quotes;

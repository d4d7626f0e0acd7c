//! What stands in place of the YAML reader in a build without it: JSON is a part of YAML, and is
//! read whatever a document is called.

use super::fault::Fault;
use super::json;
use super::node::Node;
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::Source;

/// Reads the only document of a source, if it is JSON.
///
/// # Errors
///
/// Every problem found, if the text is no JSON or exceeds a bound.
pub(super) fn tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    match source.text().trim_start().chars().next() {
        // A map or a list, as every format of ours is, or nothing at all.
        Some('{' | '[') | None => json::tree(source),
        Some(_) => Err(Problem::at_start(
            source.name(),
            Fault::Syntax,
            "this is not JSON, and this build reads no YAML",
            "write it as JSON, or build with the feature `yaml`",
        )
        .into()),
    }
}

//! What findings refer to by name, so that a report can be read without the rulesets: limits and
//! published sources.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::finding::Finding;
use crate::ruleset::{Basis, LimitReport, WrittenSource};

/// Limits and sources, by name.
pub(crate) type Cited = (
    BTreeMap<Cow<'static, str>, LimitReport>,
    BTreeMap<String, WrittenSource>,
);

/// The limits that take part in findings, and the sources that findings and these limits rest on.
pub(crate) fn cited<'r>(
    findings: &[Finding],
    limit: impl Fn(&str) -> Option<LimitReport>,
    source: impl Fn(&str) -> Option<&'r WrittenSource>,
) -> Cited {
    let mut limits = BTreeMap::new();
    let of_clauses = findings.iter().flat_map(|finding| &finding.clauses);
    for name in of_clauses.flat_map(|clause| &clause.limits) {
        if !limits.contains_key(name) {
            limits.extend(limit(name).map(|limit| (name.clone(), limit)));
        }
    }
    let mut sources = BTreeMap::new();
    let of_findings = findings.iter().flat_map(|finding| finding.basis.iter());
    for basis in of_findings.chain(limits.values().flat_map(|limit: &LimitReport| &limit.basis)) {
        let Basis::Source { source: name, .. } = basis else {
            continue;
        };
        if !sources.contains_key(&**name) {
            sources.extend(source(name).map(|known| (name.to_string(), known.clone())));
        }
    }
    (limits, sources)
}

//! What findings refer to by name, so that a report can be read without the rulesets: limits and
//! published sources.

use std::collections::BTreeMap;

use super::finding::Finding;
use crate::ruleset::{Basis, LimitReport, Rules, WrittenSource};

/// The limits that take part in findings, and the sources that findings and these limits rest on.
pub(super) fn cited(
    findings: &[Finding],
    rules: &Rules,
) -> (
    BTreeMap<String, LimitReport>,
    BTreeMap<String, WrittenSource>,
) {
    let mut limits = BTreeMap::new();
    for name in findings
        .iter()
        .flat_map(|finding| &finding.clauses)
        .flat_map(|clause| &clause.limits)
    {
        if let Some(limit) = rules
            .limits()
            .iter()
            .find(|limit| limit.name == *name)
            .filter(|_| !limits.contains_key(name))
        {
            limits.insert(name.clone(), limit.written.reported());
        }
    }
    let mut sources = BTreeMap::new();
    let of_findings = findings.iter().flat_map(|finding| finding.basis.iter());
    for basis in of_findings.chain(limits.values().flat_map(|limit: &LimitReport| &limit.basis)) {
        let Basis::Source { source, .. } = basis else {
            continue;
        };
        if let Some(known) = rules
            .sources()
            .get(source)
            .filter(|_| !sources.contains_key(source))
        {
            sources.insert(source.clone(), known.clone());
        }
    }
    (limits, sources)
}

//! Documents for other tools.

use rules_core::facts::Notice;
use rules_core::outputs::{Document, Form, Tool};
use rulesets::shipped_rules;

/// The program that documents say they come from.
const TOOL: Tool<'static> = Tool {
    name: "cellrules",
    version: env!("CARGO_PKG_VERSION"),
};

/// An empty document with the notice.
pub(super) fn document(form: Form, notice: &[Notice]) -> Document<'static> {
    Document::new(form, TOOL, notice)
}

/// The notice of the shipped rules, which stands where nothing else could be read.
pub(super) fn usual_notice() -> Vec<Notice> {
    shipped_rules().map_or_else(|_| Vec::new(), |rules| rules.notice().to_vec())
}

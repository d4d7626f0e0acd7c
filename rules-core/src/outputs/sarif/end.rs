//! The beginning and the end of a run, around its results.

use std::collections::{BTreeMap, BTreeSet};

use super::super::tool::Tool;
use super::besides::Besides;
use super::message::message;
use super::model::{
    BaseOfAddresses, DescriptorReference, Driver, Invocation, Level, Notification, RestOfRun,
    RunProperties, ToolOfRun,
};
use super::results::{SHIPPED, whole};
use crate::facts::Notice;
use crate::report::text::InTheOpen;

/// What comes before the results.
pub(in crate::outputs) const START: &str = r#"{
"$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
"version": "2.1.0",
"runs": [{
"results": [
"#;

/// What comes after them: the tool with its rules, what it was told of its input, the notice.
pub(in crate::outputs) fn end(besides: Besides, tool: Tool<'_>, notice: Vec<Notice>) -> String {
    let openly = besides.in_the_open.iter();
    let openly = openly.map(|(one, proposals)| told_openly(one, proposals));
    let points = notice.iter().map(as_notification);
    let notifications = besides.notifications.into_iter().chain(openly);
    let notifications = notifications.chain(points);
    let rest = RestOfRun {
        tool: ToolOfRun {
            driver: Driver {
                name: tool.name,
                version: tool.version,
                rules: besides.rules.into_values().collect(),
            },
        },
        invocations: [Invocation {
            execution_successful: !besides.unusable,
            tool_execution_notifications: notifications.collect(),
        }],
        column_kind: "unicodeCodePoints",
        original_uri_base_ids: bases(besides.names_shipped),
        properties: RunProperties {
            rulesets: besides.rulesets,
            notice,
        },
    };
    // A record of texts and numbers can always be written.
    let rest = serde_json::to_string(&rest).unwrap_or_default();
    let rest = rest.strip_prefix('{').unwrap_or(&rest);
    format!("\n],\n{rest}\n]\n}}\n")
}

fn bases(names_shipped: bool) -> BTreeMap<&'static str, BaseOfAddresses> {
    let says = "The rulesets that come with the tool. They are no files: the tool prints them.";
    let base = names_shipped.then(|| BaseOfAddresses {
        description: message(says),
    });
    base.map(|base| (SHIPPED, base)).into_iter().collect()
}

/// What weakens checks, with the proposals that it does so of.
fn told_openly(one: &InTheOpen, proposals: &BTreeSet<String>) -> Notification {
    let id = format!("loosened/{}", one.of.replace(' ', "/"));
    Notification {
        level: Level::Note,
        message: message(&one.says),
        descriptor: Some(DescriptorReference { id }),
        locations: proposals.iter().map(|proposal| whole(proposal)).collect(),
    }
}

/// A point of the notice where viewers show it.
fn as_notification(point: &Notice) -> Notification {
    let id = format!("notice/{}", point.id);
    Notification {
        level: Level::Note,
        message: message(&format!("{} ({})", point.says, point.source)),
        descriptor: Some(DescriptorReference { id }),
        locations: Vec::new(),
    }
}

//! Changing a document where it is written: comments, order and everything that is not meant stay.
//!
//! One thing is changed at a time and the text is read again, until it says what it is to say. At the
//! end all of it is compared: a text that says anything else, or lost a comment, is never given.

mod edit;
mod lines;
mod scan;

use rules_core::document::{Fault, Problem, ProblemList, Syntax, read, source};
use rulesets::bench::value;
use serde_json::Value;

use self::edit::{Document, edit};

/// So many changes are made at once.
const MOST_CHANGES: usize = 2_000;

/// The text of a document that says another value, changed where that differs.
///
/// # Errors
///
/// A text that is no document; a change that cannot be made in place.
pub(super) fn changed(text: &str, syntax: Syntax, wanted: &Value) -> Result<String, ProblemList> {
    let comments: Vec<String> = scan::comments(text)
        .into_iter()
        .map(str::to_owned)
        .collect();
    let mut text = text.to_owned();
    for _ in 0..MOST_CHANGES {
        let own = source("", text.clone().into())?;
        let tree = read(&own, syntax)?;
        let said = value(&tree);
        if said == *wanted {
            return match scan::comments(&text) == comments {
                true => Ok(text),
                false => Err(cannot("a comment would be lost").into()),
            };
        }
        let document = Document {
            text: &text,
            syntax,
        };
        let Some(one) = edit(&document, &tree, wanted) else {
            return Err(cannot("what changes is not written on lines of its own").into());
        };
        text.replace_range(one.at, &one.with);
    }
    Err(cannot("there is too much to change").into())
}

fn cannot(why: &str) -> Problem {
    let message = format!("it cannot be changed where it is written: {why}");
    let help = "nothing was written; save it under another name, which keeps no comments";
    Problem::of_file(Fault::Unreadable, message, help)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const PLAN: &str = "\
# Of the club.
format: 1
title: Lamp     # as it stands on the box
light:
  draw: 7.5 W   # at full power
  input: { min: 5.4 V, max: 8.6 V }
arrangement: 2S1P

cells:
  # The better one.
  - id: K4
    rest: { voltage: 3.87 V, after: 24 h }
    wrap: intact
  - { id: K7, wrap: nicked } # to be wrapped anew
ours: [1, 2]
conditions: clubhouse
";

    fn value_of(text: &str) -> Value {
        let own = source("", text.into()).unwrap();
        value(&read(&own, Syntax::Yaml).unwrap())
    }

    /// The text after a change of its value.
    fn after(change: impl FnOnce(&mut Value)) -> Result<String, String> {
        let mut wanted = value_of(PLAN);
        change(&mut wanted);
        changed(PLAN, Syntax::Yaml, &wanted).map_err(|problems| problems.to_string())
    }

    #[track_caller]
    fn is_edited(change: impl FnOnce(&mut Value), pieces: &[(&str, &str)]) {
        let mut expected = PLAN.to_owned();
        for (before, behind) in pieces {
            assert!(expected.contains(before), "{before}");
            expected = expected.replacen(before, behind, 1);
        }
        assert_eq!(after(change), Ok(expected));
    }

    #[test]
    fn a_value_is_changed_in_its_place() {
        let draw = |plan: &mut Value| plan["light"]["draw"] = json!("6 W");
        is_edited(draw, &[("draw: 7.5 W  ", "draw: 6 W  ")]);
        let min = |plan: &mut Value| plan["light"]["input"]["min"] = json!("5.0 V");
        is_edited(min, &[("min: 5.4 V", "min: 5.0 V")]);
        let wrap = |plan: &mut Value| plan["cells"][1]["wrap"] = json!("torn");
        is_edited(wrap, &[("wrap: nicked", "wrap: torn")]);
        let title = |plan: &mut Value| plan["title"] = json!("Lamp: the # first");
        is_edited(title, &[("title: Lamp", "title: \"Lamp: the # first\"")]);
    }

    #[test]
    fn a_key_is_added_behind_its_neighbours() {
        let drive = |plan: &mut Value| plan["light"]["drive"] = json!("buck");
        is_edited(drive, &[("max: 8.6 V }", "max: 8.6 V }\n  drive: buck")]);
        let drift = |plan: &mut Value| plan["cells"][0]["drift"] = json!({ "from": "3.9 V" });
        is_edited(
            drift,
            &[("wrap: intact", "wrap: intact\n    drift: { from: 3.9 V }")],
        );
        let tabs = |plan: &mut Value| plan["cells"][1]["tabs"] = json!("clean");
        is_edited(tabs, &[("nicked }", "nicked, tabs: clean }")]);
        let charging =
            |plan: &mut Value| plan["charging"] = json!({ "timer": "yes", "current": "0.5 A" });
        is_edited(
            charging,
            &[(
                "clubhouse\n",
                "clubhouse\ncharging:\n  current: 0.5 A\n  timer: yes\n",
            )],
        );
        let idle =
            |plan: &mut Value| plan["conditions"] = json!({ "at": "clubhouse", "idle": "9 d" });
        is_edited(idle, &[(": clubhouse", ": { at: clubhouse, idle: 9 d }")]);
    }

    #[test]
    fn a_key_is_taken_away_and_its_neighbours_stay() {
        let take = |section: &'static str, key: &'static str| {
            move |plan: &mut Value| drop(plan[section].as_object_mut().unwrap().remove(key))
        };
        is_edited(
            take("light", "input"),
            &[("  input: { min: 5.4 V, max: 8.6 V }\n", "")],
        );
        // What is said of a value stays, though the value went.
        is_edited(take("light", "draw"), &[("  draw: 7.5 W   # at", "  # at")]);
        let min = |plan: &mut Value| {
            drop(
                plan["light"]["input"]
                    .as_object_mut()
                    .unwrap()
                    .remove("min"),
            )
        };
        is_edited(min, &[("min: 5.4 V, ", "")]);
        let max = |plan: &mut Value| {
            drop(
                plan["light"]["input"]
                    .as_object_mut()
                    .unwrap()
                    .remove("max"),
            )
        };
        is_edited(max, &[(", max: 8.6 V", "")]);
        let whole = |plan: &mut Value| drop(plan.as_object_mut().unwrap().remove("arrangement"));
        is_edited(whole, &[("arrangement: 2S1P\n", "")]);
    }

    #[test]
    fn entries_come_and_go() {
        let more = |plan: &mut Value| {
            plan["cells"]
                .as_array_mut()
                .unwrap()
                .push(json!({ "id": "K9", "wrap": "intact" }))
        };
        is_edited(more, &[("anew\n", "anew\n  - id: K9\n    wrap: intact\n")]);
        let none = |plan: &mut Value| drop(plan["ours"].as_array_mut().unwrap().remove(0));
        is_edited(none, &[("[1, 2]", "[2]")]);
        let first = |plan: &mut Value| drop(plan["cells"].as_array_mut().unwrap().remove(0));
        let lines = "  - id: K4\n    rest: { voltage: 3.87 V, after: 24 h }\n    wrap: intact\n";
        is_edited(first, &[(lines, "")]);
    }

    #[test]
    fn what_cannot_be_changed_in_place_is_not_changed() {
        let turned = after(|plan| plan["cells"].as_array_mut().unwrap().reverse());
        assert!(
            turned
                .unwrap_err()
                .contains("cannot be changed where it is written")
        );
        let lost = after(|plan| drop(plan.as_object_mut().unwrap().remove("light")));
        assert!(lost.unwrap_err().contains("a comment would be lost"));
    }

    #[test]
    fn json_stays_json() {
        let text = "{\n  \"format\": 1,\n  \"light\": { \"draw\": \"7.5 W\" },\n  \"ours\": 3\n}\n";
        let wanted = json!({ "format": 1, "light": { "draw": "6 W", "drive": "buck" }, "ours": 3 });
        let written = changed(text, Syntax::Json, &wanted).unwrap();
        let expected = text.replace("\"7.5 W\"", "\"6 W\", \"drive\": \"buck\"");
        assert_eq!(written, expected);
    }
}

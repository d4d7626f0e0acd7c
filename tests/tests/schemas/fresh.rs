//! The files under `schemas/` are what the code makes, and they are schemas.

use std::fs;

use serde_json::Value;

use super::setting::project;

/// How the files are made again.
const UPDATE: &str = "UPDATE_SCHEMAS=1 cargo test -p rules-tests --test schemas";

fn all() -> Vec<(&'static str, Value)> {
    let library = rulesets::schema::NAMES
        .map(|name| (name, rulesets::schema::by_name(name).expect("a schema")));
    library
        .into_iter()
        .chain([
            ("conformance-case", rules_tests::conformance::schema()),
            ("facts", rules_core::ruleset::schema::facts_table()),
        ])
        .collect()
}

#[test]
fn the_files_are_fresh() {
    let update = std::env::var_os("UPDATE_SCHEMAS").is_some();
    for (name, schema) in all() {
        let path = project()
            .join("schemas")
            .join(format!("{name}.schema.json"));
        let text = serde_json::to_string_pretty(&schema).expect("a value prints") + "\n";
        if update {
            fs::create_dir_all(project().join("schemas")).expect("the folder can be made");
            fs::write(&path, &text).expect("it can be written");
        }
        let found = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            found == text,
            "schemas/{name}.schema.json is not what the code makes; run `{UPDATE}`"
        );
    }
}

#[test]
fn there_are_no_other_files() {
    let mut found: Vec<String> = super::setting::files("schemas", &["json"])
        .iter()
        .map(|path| super::setting::file_name(path).to_owned())
        .collect();
    let mut made: Vec<String> = all()
        .iter()
        .map(|(name, _)| format!("{name}.schema.json"))
        .collect();
    found.sort();
    made.sort();
    assert_eq!(found, made);
    assert_eq!(rulesets::schema::by_name("caution"), None);
}

/// JSON Schema: A Media Type for Describing JSON Documents, draft 2020-12, with its meta-schema.
#[test]
fn they_are_valid_by_the_meta_schema() {
    for (name, schema) in all() {
        assert_eq!(
            schema.get("$schema").and_then(Value::as_str),
            Some("https://json-schema.org/draft/2020-12/schema"),
            "{name}"
        );
        assert_eq!(
            schema.get("$id").and_then(Value::as_str),
            Some(format!("urn:cellrules:schema:{name}:1").as_str())
        );
        if let Err(error) = jsonschema::draft202012::meta::validate(&schema) {
            panic!("{name}: {}: {error}", error.instance_path());
        }
        super::setting::validator(&schema);
    }
}

#[test]
fn the_meta_schema_sees_a_fault() {
    let mut schema = rulesets::schema::proposal();
    schema["properties"]["title"]["type"] = "words".into();
    assert!(!jsonschema::draft202012::meta::is_valid(&schema));
}

#[test]
fn every_property_is_described() {
    for (name, schema) in all() {
        let mut bare = Vec::new();
        undescribed(&schema, "", &mut bare);
        assert_eq!(bare, Vec::<String>::new(), "{name}");
    }
}

/// An editor that shows a pattern tells nobody what to write.
#[test]
fn every_pattern_is_told_in_words() {
    let written_by_people = ["proposal", "bench", "bench-proposal", "ruleset", "facts"];
    for (name, schema) in all() {
        if !written_by_people.contains(&name) {
            continue;
        }
        let mut untold = Vec::new();
        patterns(&schema, "", &mut untold);
        assert_eq!(untold, Vec::<String>::new(), "{name}");
    }
}

/// The places of patterns without words. A condition fails without a message.
fn patterns(schema: &Value, at: &str, untold: &mut Vec<String>) {
    match schema {
        Value::Object(keywords) => {
            let words = &keywords.get("patternErrorMessage");
            let told =
                words.is_some_and(|words| words.as_str().is_some_and(|text| text.len() > 10));
            if keywords.get("pattern").is_some_and(Value::is_string) && !told {
                untold.push(at.to_owned());
            }
            for (keyword, inner) in keywords.iter().filter(|(keyword, _)| *keyword != "if") {
                patterns(inner, &format!("{at}/{keyword}"), untold);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| patterns(item, at, untold)),
        _ => {}
    }
}

/// Every option, subject and fact that a list offers is told, one by one.
#[test]
fn what_is_offered_is_told() {
    let mut told = 0;
    for (name, schema) in all() {
        lists(&schema, &mut |offered, words| {
            assert_eq!(offered.len(), words.len(), "{name}: {offered:?}");
            assert!(
                words
                    .iter()
                    .all(|one| one.as_str().is_some_and(|text| text.len() > 3)),
                "{name}: {words:?}"
            );
            told += 1;
        });
    }
    assert!(told > 100, "{told}");
}

fn lists(schema: &Value, each: &mut impl FnMut(&[Value], &[Value])) {
    let inner: Vec<&Value> = match schema {
        Value::Object(keywords) => keywords.values().collect(),
        Value::Array(items) => items.iter().collect(),
        _ => return,
    };
    let list = |key: &str| schema.get(key).and_then(Value::as_array);
    if let (Some(offered), Some(words)) = (list("enum"), list("markdownEnumDescriptions")) {
        each(offered, words);
    }
    inner.into_iter().for_each(|one| lists(one, each));
}

/// The places of properties without a description. `false` in a condition forbids a key and needs
/// none; a part that is a condition has none, because an editor would show it in place of the key's.
fn undescribed(schema: &Value, at: &str, bare: &mut Vec<String>) {
    let Value::Object(keywords) = schema else {
        return;
    };
    for (keyword, inner) in keywords {
        match (keyword.as_str(), inner) {
            ("properties" | "$defs", Value::Object(members)) => {
                let described = |member: &Value| {
                    *member == Value::Bool(false)
                        || member.get("if").is_some() && member.get("type").is_none()
                        || member["description"]
                            .as_str()
                            .is_some_and(|text| text.ends_with('.') && text.len() > 3)
                };
                bare.extend(
                    members
                        .iter()
                        .filter(|(_, member)| !described(member))
                        .map(|(key, _)| format!("{at}/{key}")),
                );
                members
                    .iter()
                    .for_each(|(key, member)| undescribed(member, &format!("{at}/{key}"), bare));
            }
            ("items" | "additionalProperties", inner) => {
                undescribed(inner, &format!("{at}/{keyword}"), bare)
            }
            ("anyOf" | "oneOf", Value::Array(ways)) => ways
                .iter()
                .for_each(|way| undescribed(way, &format!("{at}/{keyword}"), bare)),
            _ => {}
        }
    }
}

/// Every reference leads somewhere, and every part is used.
#[test]
fn parts_and_references_match() {
    for (name, schema) in all() {
        let mut used = std::collections::BTreeSet::new();
        references(&schema, &mut used);
        let parts = schema["$defs"]
            .as_object()
            .expect("parts")
            .keys()
            .map(|key| format!("#/$defs/{key}"));
        assert_eq!(used, parts.collect(), "{name}");
    }
}

fn references(value: &Value, used: &mut std::collections::BTreeSet<String>) {
    match value {
        Value::Object(members) => {
            used.extend(
                members
                    .get("$ref")
                    .and_then(Value::as_str)
                    .map(str::to_owned),
            );
            members.values().for_each(|member| references(member, used));
        }
        Value::Array(items) => items.iter().for_each(|item| references(item, used)),
        _ => {}
    }
}

#[test]
fn the_codes_are_those_of_the_readme() {
    let readme =
        fs::read_to_string(project().join("tests/conformance/README.md")).expect("it can be read");
    let table = readme
        .split("## Error codes")
        .nth(1)
        .and_then(|rest| rest.split("\n## ").next())
        .expect("the section");
    let codes: Vec<&str> = table
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .collect();
    assert_eq!(codes, rules_tests::conformance::CODES);
}

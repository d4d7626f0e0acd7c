//! Documents as the tests need them: as values for the schemas, as bytes for the loaders.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use jsonschema::{PatternOptions, Validator};
use rules_core::document::{Content, Fault, Node, ProblemList, Syntax, read, source};
use rules_core::quantity::Kind;
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::Vetting;
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;
use serde_json::{Value, json};

/// The project's folder.
pub(crate) fn project() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The files of a folder with an ending, in order of their names.
pub(crate) fn files(folder: &str, endings: &[&str]) -> Vec<PathBuf> {
    let listed = fs::read_dir(project().join(folder))
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").path());
    let wanted = |path: &PathBuf| {
        path.extension()
            .is_some_and(|ending| endings.iter().any(|one| ending == *one))
    };
    let mut files: Vec<PathBuf> = listed.filter(wanted).collect();
    files.sort();
    assert!(!files.is_empty(), "{folder} has files");
    files
}

/// The files of rulesets; the table of facts beside them is no ruleset.
pub(crate) fn ruleset_files() -> Vec<PathBuf> {
    let mut files = files("rulesets", &["yaml", "json"]);
    files.retain(|path| path.file_name().is_some_and(|name| name != "facts.yaml"));
    files
}

/// A validator with an engine that knows no more than plain regular expressions.
pub(crate) fn validator(schema: &Value) -> Validator {
    jsonschema::options()
        .with_pattern_options(PatternOptions::regex())
        .build(schema)
        .expect("a schema")
}

/// The validator of how a ruleset writes a quantity of a kind.
pub(crate) fn quantity_validator(kind: Kind) -> Validator {
    let parts = &rulesets::schema::ruleset()["$defs"];
    let name = kind.name().replace(' ', "-");
    validator(&json!({ "$ref": format!("#/$defs/{name}"), "$defs": parts }))
}

/// The validator of one of the library's schemas.
pub(crate) fn library_validator(name: &str) -> Validator {
    validator(&rulesets::schema::by_name(name).expect("a name of a schema"))
}

/// The validator of one of the library's schemas that allows no further keys, so that whatever is
/// written and not described is seen.
pub(crate) fn strict_validator(name: &str) -> Validator {
    let mut schema = rulesets::schema::by_name(name).expect("a name of a schema");
    rules_tests::strict::close(&mut schema);
    validator(&schema)
}

/// What keeps a value from conforming, one line each.
pub(crate) fn objections(validator: &Validator, value: &Value) -> Vec<String> {
    validator
        .iter_errors(value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect()
}

/// A document as an editor sees it: numbers, booleans and nulls are what YAML makes of bare words.
pub(crate) fn as_yaml_reads(text: &str) -> Value {
    serde_yaml::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

/// A document with every scalar as text: the other way in which a program may hand it over.
pub(crate) fn as_text_only(name: &str, text: &str) -> Value {
    let source = source(name, text.into()).expect("a text");
    value_of(&read(&source, Syntax::of_name(name)).expect("a document"))
}

fn value_of(node: &Node<'_>) -> Value {
    match &node.content {
        Content::Nothing => Value::Null,
        Content::Scalar(scalar) => Value::String(scalar.text.to_string()),
        Content::List(items) => items.iter().map(value_of).collect(),
        Content::Map(entries) => Value::Object(
            entries
                .iter()
                .map(|entry| (entry.key.to_string(), value_of(&entry.node)))
                .collect(),
        ),
    }
}

/// Loads rulesets from a folder.
pub(crate) fn rules(files: BTreeMap<&str, &str>, asked: &[&str]) -> Result<Rules, ProblemList> {
    Rules::load(asked, &Texts::of(files).or(Shipped), &rulesets::catalogue())
}

/// Loads rulesets from a folder with their examples, as vetting does.
pub(crate) fn vetting(files: BTreeMap<&str, &str>, asked: &[&str]) -> Result<Vetting, ProblemList> {
    Vetting::load(asked, &Texts::of(files).or(Shipped), &rulesets::catalogue())
}

/// Loads a proposal.
pub(crate) fn proposal(name: &str, text: &str) -> Result<Proposal, ProblemList> {
    Proposal::read(name, text.into(), Syntax::of_name(name))
}

/// The file's name without its folder.
pub(crate) fn file_name(path: &Path) -> &str {
    path.file_name()
        .and_then(|name| name.to_str())
        .expect("a name")
}

/// Faults that are of a document's shape: its keys, its words, its units.
pub(crate) fn is_of_shape(fault: Fault) -> bool {
    use Fault::{
        BadCharacter, BadCode, BadName, BadNumber, BadTolerance, MissingKey, NoUnit, NotFinite,
        Syntax, UnknownKey, UnknownOption, UnknownUnit, WrongKind, WrongShape,
    };
    let shape = [
        UnknownKey,
        MissingKey,
        WrongShape,
        UnknownOption,
        NoUnit,
        UnknownUnit,
        WrongKind,
        BadName,
        BadCharacter,
        BadNumber,
        BadTolerance,
        BadCode,
        Syntax,
        NotFinite,
    ];
    shape.contains(&fault)
}

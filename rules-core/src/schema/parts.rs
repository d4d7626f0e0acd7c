//! Parts of the ruleset's schema that the derives refer to.

use schemars::{Schema, SchemaGenerator, json_schema};
use serde_json::{Value, json};

use super::values::{self, WORD, WORD_WANTED, part_name, told};
use crate::quantity::Kind;

/// The version of a format.
pub fn format_one(generator: &mut SchemaGenerator) -> Schema {
    if generator.contract().is_serialize() {
        json_schema!({ "const": 1 })
    } else {
        json_schema!({ "enum": [1, "1"] })
    }
}

/// A text, or in a file a number that is kept as it is written.
pub(crate) fn text_or_number(generator: &mut SchemaGenerator) -> Schema {
    if generator.contract().is_serialize() {
        json_schema!({ "type": "string" })
    } else {
        schema(values::wording(generator.definitions_mut()))
    }
}

/// A text on one line, or in a file a number or word that is kept as it is written. Space around it
/// is left out.
pub(crate) fn one_line(generator: &mut SchemaGenerator) -> Schema {
    if generator.contract().is_serialize() {
        return json_schema!({ "type": "string" });
    }
    schema(values::line(generator.definitions_mut()))
}

/// A version.
pub(crate) fn version(generator: &mut SchemaGenerator) -> Schema {
    if generator.contract().is_serialize() {
        return json_schema!({ "type": "string" });
    }
    let version = json!({ "type": ["string", "number", "boolean"], "pattern": "^[A-Za-z0-9][A-Za-z0-9.+-]{0,63}$", "minimum": 0, "examples": ["1.0.0"] });
    schema(told(
        version,
        "use up to 64 letters, digits, `.`, `+` and `-`, as `1.0.0`",
    ))
}

/// The names of the kinds that a meter can read.
fn metered() -> Vec<&'static str> {
    let kinds = Kind::ALL.iter().filter(|kind| **kind != Kind::Count);
    kinds.map(|kind| kind.name()).collect()
}

/// What can be loosened.
pub(crate) fn loosened(generator: &mut SchemaGenerator) -> Schema {
    if generator.contract().is_serialize() {
        return json_schema!({ "type": "string" });
    }
    let pattern = format!(
        "^(acceptance|limit {WORD}|caution [A-Za-z][A-Za-z0-9-]{{0,63}}|meter ({}))$",
        metered().join("|")
    );
    let wanted = "write `acceptance`, `limit NAME`, `caution NAME` or `meter KIND`";
    schema(told(
        json!({ "type": "string", "pattern": pattern }),
        wanted,
    ))
}

/// A name of a ruleset or caution.
pub(crate) fn identifier(generator: &mut SchemaGenerator) -> Schema {
    let types = if generator.contract().is_serialize() {
        json!("string")
    } else {
        json!(["string", "boolean"])
    };
    let name = json!({ "type": types, "pattern": "^[A-Za-z][A-Za-z0-9-]{0,63}$" });
    schema(told(
        name,
        "use up to 64 letters, digits and hyphens, starting with a letter",
    ))
}

/// Names that a limit had.
pub(crate) fn former_words(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "array", "items": word() })
}

/// Names that a caution had.
pub(crate) fn former_identifiers(generator: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "array", "items": identifier(generator) })
}

/// The kind of a declared fact.
pub(crate) fn fact_kind(_: &mut SchemaGenerator) -> Schema {
    let kinds: Vec<&str> = Kind::ALL
        .iter()
        .map(|kind| kind.name())
        .chain(OTHER_KINDS)
        .collect();
    json_schema!({ "enum": kinds })
}

/// The kind of a limit.
pub(crate) fn quantity_kind(_: &mut SchemaGenerator) -> Schema {
    let kinds: Vec<&str> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    json_schema!({ "enum": kinds })
}

/// Kinds of facts that are no numbers.
const OTHER_KINDS: [&str; 3] = ["choice", "yes-no", "text"];

/// Measured or stated.
pub(crate) fn nature(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": ["measured", "stated"] })
}

/// The options of a choice.
pub(crate) fn options(_: &mut SchemaGenerator) -> Schema {
    let option = json!({ "type": ["string", "boolean"], "pattern": "^[A-Za-z][A-Za-z0-9_-]*$" });
    let option = told(
        option,
        "use letters, digits, hyphens and underscores, starting with a letter",
    );
    json_schema!({ "type": "array", "items": option, "minItems": 1, "maxItems": 64, "uniqueItems": true, "examples": [["blue", "yellow"]] })
}

/// A quantity of any kind.
pub(crate) fn quantity(generator: &mut SchemaGenerator) -> Schema {
    let parts = generator.definitions_mut();
    let kinds: Vec<Value> = Kind::ALL
        .iter()
        .map(|kind| values::quantity(*kind, parts))
        .collect();
    let any = json!({ "description": "A quantity of any kind; a plain number is a count or a ratio.", "anyOf": kinds });
    schema(values::part(parts, "quantity", || any))
}

/// Yes or no.
pub(crate) fn yes_no(generator: &mut SchemaGenerator) -> Schema {
    schema(values::yes_no(generator.definitions_mut()))
}

/// Yes.
pub(crate) fn only_yes(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": ["yes", true, "true"] })
}

/// A formula.
pub(crate) fn formula(generator: &mut SchemaGenerator) -> Schema {
    let mut formula = schema(values::wording(generator.definitions_mut()));
    formula.insert(
        "maxLength".to_owned(),
        crate::bounds::MOST_CHARACTERS.into(),
    );
    formula
}

/// A name as of a limit.
pub(crate) fn name(_: &mut SchemaGenerator) -> Schema {
    schema(word())
}

/// A name that formulas use, as a value.
fn word() -> Value {
    told(
        json!({ "type": ["string", "boolean"], "pattern": format!("^{WORD}$") }),
        WORD_WANTED,
    )
}

/// A name that formulas use, as a key.
fn word_as_key() -> Value {
    told(json!({ "pattern": format!("^{WORD}$") }), WORD_WANTED)
}

/// Stages by names, each as this schema has it.
pub(crate) fn stages_by_names(stage: &Schema) -> Schema {
    json_schema!({
        "type": "object",
        "propertyNames": word_as_key(),
        "additionalProperties": stage,
        "maxProperties": crate::bounds::MOST_STAGES,
    })
}

/// A caution is adjusted in one way.
pub(crate) fn dropped_or_moved(schema: &mut Schema) {
    schema.insert(
        "oneOf".to_owned(),
        json!([{ "required": ["drop"] }, { "required": ["stage"] }]),
    );
}

/// A report has a verdict on the whole, or says which stages were asked for.
pub(crate) fn of_all_or_of_stages(schema: &mut Schema) {
    let outcome = ["verdict", "best", "worst", "nothing_checked"];
    let none: serde_json::Map<String, Value> = outcome
        .iter()
        .map(|key| ((*key).to_owned(), false.into()))
        .collect();
    schema.insert(
        "oneOf".to_owned(),
        json!([
            { "required": outcome, "properties": { "asked": false } },
            { "required": ["asked", "stages"], "properties": none },
        ]),
    );
}

/// Keys that formulas can use.
pub(crate) fn named_by_words(schema: &mut Schema) {
    schema.insert("propertyNames".to_owned(), word_as_key());
}

/// Keys that are texts.
pub(crate) fn named_by_texts(schema: &mut Schema) {
    let text = json!({ "$ref": "#/$defs/wording" });
    schema.insert("propertyNames".to_owned(), text);
}

/// A caution has at least one rung.
pub(crate) fn needs_a_rung(schema: &mut Schema) {
    schema.insert(
        "anyOf".to_owned(),
        json!([{ "required": ["refuse_unless"] }, { "required": ["warn_unless"] }]),
    );
}

/// What the kind of a declared fact says of its other keys: options for a choice only, a domain for
/// a number only, of its kind.
pub(crate) fn as_the_kind_says(schema: &mut Schema) {
    let mut all = vec![
        when(
            json!({ "const": "choice" }),
            json!({ "required": ["options"] }),
        ),
        when(
            json!({ "not": { "const": "choice" } }),
            json!({ "properties": { "options": false } }),
        ),
        when(
            json!({ "enum": OTHER_KINDS }),
            json!({ "properties": { "domain": false } }),
        ),
    ];
    all.extend(Kind::ALL.iter().map(|kind| {
        let domain = json!({ "$ref": format!("#/$defs/{}", part_name(*kind)), "pattern": r"\.\.", "patternErrorMessage": "a domain is a range: write its ends, as `0..50 K`" });
        when(
            json!({ "const": kind.name() }),
            json!({ "properties": { "domain": domain } }),
        )
    }));
    schema.insert("allOf".to_owned(), all.into());
}

/// What the kind of a limit says of its value.
pub(crate) fn valued_as_the_kind_says(schema: &mut Schema) {
    let all = Kind::ALL.iter().map(|kind| {
        let value = json!({ "$ref": format!("#/$defs/{}", part_name(*kind)) });
        let kind = json!({ "const": kind.name() });
        when(kind, json!({ "properties": { "value": value } }))
    });
    let all: Vec<Value> = all.collect();
    schema.insert("allOf".to_owned(), all.into());
}

fn when(kind: Value, then: Value) -> Value {
    json!({ "if": { "properties": { "kind": kind }, "required": ["kind"] }, "then": then })
}

/// A schema made as a value.
pub(super) fn schema(value: Value) -> Schema {
    Schema::try_from(value).unwrap_or_default()
}

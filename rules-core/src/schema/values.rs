//! The values of facts, for schemas of rulesets and of plans.

use serde_json::{Value, json};

pub use super::domain::{one_of, within};
pub use super::keywords::{Parts, described, part, titled, told};
pub use super::patterns::spaced;
use super::quantities::quantity_under;
pub use super::quantities::{meter, part_name, quantity};
use super::range::forward;
use crate::bounds::{MOST_TEXT, MOST_WORDING};
use crate::facts::{FactDef, FactKind, OF_IDS};
use crate::quantity::{Kind, Nature};

/// A text of a proposal: characters that can be seen, and spaces between them.
const TEXT: &str = r"^ *[^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}](([^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}]| )*[^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}])? *$";

/// An id: letters, marks after the first, digits, a few signs, and spaces between them. A pattern
/// that every engine knows cannot say that a mark stands on a letter, that none of them shows
/// nothing, and that they are of one script and in form NFC.
const ID: &str = r"^ *[0-9_./#+\p{L}-]([ 0-9_./#+\p{L}\p{M}-]*[0-9_./#+\p{L}\p{M}-])? *$";

/// Text of a ruleset: not blank, without control characters other than tabs and line ends, and
/// without those that turn its direction.
const PRINTING: &str = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[^\s\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff][^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*$";

/// The same on one line, with space around it.
const LINE: &str = r"^[ \t\r\n]*[^\t\r\n\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[^\s\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff][^\t\r\n\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[ \t\r\n]*$";
/// Text of which something shows (`characters::shows_nothing`). Characters past U+FFFF all count as
/// seen: engines that go by UTF-16 have no ranges of them.
pub const NOT_BLANK: &str = r"[^\x00-\x20\x7f-\xa0\xad\u034f\u061c\u115f\u1160\u1680\u17b4\u17b5\u180b-\u180f\u2000-\u200f\u2028-\u202f\u205f-\u206f\u2800\u3000\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufff8]";

/// A word of formulas.
pub const WORD: &str = "[A-Za-z][A-Za-z0-9_]{0,63}";

/// The value of a fact, with what it means.
pub fn fact(fact: &FactDef, parts: &mut Parts) -> Value {
    let schema = match fact.kind {
        FactKind::Number(Kind::Count) => counted(fact, parts),
        _ => value(fact, parts),
    };
    described(schema, meaning(fact))
}

/// A count within what can be.
fn counted(fact: &FactDef, parts: &mut Parts) -> Value {
    let mut schema = quantity_under(json!([forward(parts)]), Kind::Count);
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("minimum".to_owned(), whole(fact.domain.lo()));
        keywords.insert("maximum".to_owned(), whole(fact.domain.hi()));
    }
    schema
}

/// A bound of a count as JSON writes whole numbers.
fn whole(bound: f64) -> Value {
    format!("{bound:.0}")
        .parse::<i64>()
        .map_or(Value::Null, Value::from)
}

/// A text that says something, for editors: what the reader says of one that does not.
pub const SAYS_NOTHING: &str = "the text is empty or cannot be seen";

/// What fits for a name that formulas use.
pub const WORD_WANTED: &str =
    "use up to 64 letters, digits and underscores, starting with a letter";

/// What a fact means, and for a number how it is taken and where it lies.
pub fn meaning(fact: &FactDef) -> String {
    let FactKind::Number(kind) = fact.kind else {
        return format!("{}.", fact.meaning);
    };
    let nature = match fact.nature {
        Nature::Measured => "Measured",
        Nature::Printed => "Printed on a label",
        Nature::Stated => "Stated",
    };
    let unit = if kind == Kind::Count {
        String::new()
    } else {
        format!(" {}", kind.base_unit())
    };
    format!(
        "{}. {nature}, within {}..{}{unit}.",
        fact.meaning,
        fact.domain.lo(),
        fact.domain.hi()
    )
}

fn value(fact: &FactDef, parts: &mut Parts) -> Value {
    match &fact.kind {
        FactKind::Number(kind) => within(fact, *kind, parts),
        FactKind::Choice(options) => json!({ "enum": options }),
        FactKind::YesNo => yes_no(parts),
        FactKind::Id => id(parts),
        FactKind::Text => text(parts),
    }
}

/// Yes or no.
pub fn yes_no(parts: &mut Parts) -> Value {
    part(
        parts,
        "yes-no",
        || json!({ "description": "Yes or no.", "enum": ["yes", "no", true, false, "true", "false"] }),
    )
}

/// A text by which things are told apart.
fn id(parts: &mut Parts) -> Value {
    let description = "A name of 1 to 200 characters: letters of one script in form NFC, digits, spaces and `- _ . / # +`. Spaces around it are left out, and several count as one. A number that is not quoted is kept as it is written.";
    part(parts, "id", || {
        told(
            json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": ID, "maxLength": MOST_TEXT, "examples": ["K4", "P-drill-3"] }),
            OF_IDS,
        )
    })
}

/// The text of a fact.
pub fn text(parts: &mut Parts) -> Value {
    let description = "A text of 1 to 200 characters on one line. A number or a word that is not quoted is kept as it is written.";
    part(parts, "text", || {
        told(
            json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": TEXT, "maxLength": MOST_TEXT }),
            "write 1 to 200 characters on one line, with ordinary spaces",
        )
    })
}

/// A text of which something shows, with what editors say where it has a character that it may not
/// have.
fn shown(mut schema: Value, message: &str) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        let seen = told(json!({ "pattern": NOT_BLANK }), SAYS_NOTHING);
        keywords.insert("allOf".to_owned(), json!([seen]));
    }
    told(schema, message)
}

/// Any text of a ruleset.
pub(super) fn wording(parts: &mut Parts) -> Value {
    let description = "A text without characters that act on what stands around them. A number or a word that is not quoted is kept as it is written.";
    part(parts, "wording", || {
        shown(
            json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": PRINTING, "maxLength": MOST_WORDING }),
            "write a text, without control characters and those that turn its direction",
        )
    })
}

/// A text of a ruleset that is one line.
pub(super) fn line(parts: &mut Parts) -> Value {
    let description = "A text on one line; the space around it is left out.";
    part(parts, "line", || {
        shown(
            json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": LINE, "maxLength": MOST_WORDING }),
            "write one line, without control characters and those that turn its direction",
        )
    })
}

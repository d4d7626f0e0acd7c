//! The kinds of fault.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Makes the kinds of fault with their codes: each stands in one row, so that none can lack its code
/// or be left out of the list of all.
macro_rules! faults {
    ($($(#[$meaning:meta])+ $fault:ident = $code:literal,)+) => {
        /// The kinds of fault, each with a code that is stable for callers and for the conformance files.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Fault {
            $($(#[$meaning])+ $fault,)+
        }

        impl Fault {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$fault,)+];

            /// Its code: words in small letters with hyphens between.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self {
                    $(Self::$fault => $code,)+
                }
            }
        }
    };
}

faults! {
    /// The file cannot be read, is no file, or is not UTF-8.
    Unreadable = "unreadable",
    /// Not YAML, or not JSON where JSON is expected; a formula or an arrangement that cannot be
    /// read.
    Syntax = "syntax",
    /// Nothing in the document.
    Empty = "empty",
    /// More than one document in the file.
    SeveralDocuments = "several-documents",
    /// An anchor, alias, tag or merge key.
    Anchor = "anchor",
    /// More bytes, nodes or items than the stated bound.
    TooLarge = "too-large",
    /// Deeper than the stated bound.
    TooDeep = "too-deep",
    /// A key that has no meaning here.
    UnknownKey = "unknown-key",
    /// The same key twice in one map.
    RepeatedKey = "repeated-key",
    /// A key that must be given.
    MissingKey = "missing-key",
    /// A map where a list belongs, and the like.
    WrongShape = "wrong-shape",
    /// Not a number.
    BadNumber = "bad-number",
    /// Not a date of the calendar, or not written as one.
    BadDate = "bad-date",
    /// Not finite.
    NotFinite = "not-finite",
    /// A number that needs a unit.
    NoUnit = "no-unit",
    /// A unit nobody knows.
    UnknownUnit = "unknown-unit",
    /// A unit of another kind than belongs here.
    WrongKind = "wrong-kind",
    /// An uncertainty that cannot be read.
    BadTolerance = "bad-tolerance",
    /// A range whose low end is above its high end.
    LowAboveHigh = "low-above-high",
    /// A value that cannot be, such as a negative capacity.
    OutOfDomain = "out-of-domain",
    /// Two readings of one thing, or facts in a relation, that cannot all be true.
    Contradiction = "contradiction",
    /// A meter that is worse than the rules allow.
    TooCoarse = "too-coarse",
    /// A word that is none of those that may stand there: an option, yes or no, a format.
    UnknownOption = "unknown-option",
    /// A code that does not follow the standard it is of.
    BadCode = "bad-code",
    /// Parts that do not agree with what they are said to be parts of.
    PartsDisagree = "parts-disagree",
    /// An identifier with characters it may not have.
    BadName = "bad-name",
    /// A text with a character that does not print.
    BadCharacter = "bad-character",
    /// The name of a shipped ruleset on something else.
    ReservedName = "reserved-name",
    /// The same name defined twice.
    DefinedTwice = "defined-twice",
    /// A name that nothing defines.
    UnknownName = "unknown-name",
    /// A fact or figure that cannot be seen from where the formula stands.
    OutOfScope = "out-of-scope",
    /// Two comparisons in a row.
    ChainedComparison = "chained-comparison",
    /// A fold inside a fold.
    NestedFold = "nested-fold",
    /// Kinds that do not go together.
    KindsDiffer = "kinds-differ",
    /// A placeholder that names nothing, or a brace without its partner.
    BadPlaceholder = "bad-placeholder",
    /// A ruleset, or a figure, that rests on itself.
    Cycle = "cycle",
    /// A ruleset that cannot be found.
    UnknownRuleset = "unknown-ruleset",
    /// A loosening that gives no reason.
    LooseningWithoutReason = "loosening-without-reason",
    /// A change to what a base ruleset fixes.
    Fixed = "fixed",
    /// A limit or caution with nothing it rests on.
    MissingBasis = "missing-basis",
    /// A caution whose condition nothing can meet.
    NeverApplies = "never-applies",
    /// A caution that nothing can fail.
    NeverFails = "never-fails",
    /// A caution that nothing can keep.
    NeverKept = "never-kept",
    /// A limit used so that its stricter value is easier to keep.
    AgainstStrictness = "against-strictness",
    /// A warn rung that asks less than the refuse rung.
    LaxWarning = "lax-warning",
    /// An outcome no case shows.
    OutcomeNotShown = "outcome-not-shown",
    /// A case that comes out otherwise than it says.
    CaseFails = "case-fails",
    /// A definition nothing uses.
    Unused = "unused",
    /// A quantity in a condition that is no limit.
    LiteralQuantity = "literal-quantity",
    /// Two cautions that ask the same.
    SameCondition = "same-condition",
    /// A limit of a refusal that rests on one thing from memory.
    RememberedAlone = "remembered-alone",
    /// Readings for which no meter is assumed.
    NoMeter = "no-meter",
    /// A caution that refuses one of many and says neither its stage nor what becomes of it.
    NoStage = "no-stage",
    /// Rules without any of the shipped rulesets.
    WithoutShipped = "without-shipped",
}

impl Fault {
    /// The fault of a code.
    #[must_use]
    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|fault| fault.code() == code)
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

impl Serialize for Fault {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

impl<'de> Deserialize<'de> for Fault {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let code = String::deserialize(deserializer)?;
        Self::of_code(&code)
            .ok_or_else(|| serde::de::Error::custom(format!("`{code}` is no code of a fault")))
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Fault {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Fault".into()
    }

    /// Any code: later versions may have more.
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "The code of a fault.",
            "type": "string",
            "pattern": "^[a-z]+(-[a-z]+)*$",
            "examples": Self::ALL.iter().map(|fault| fault.code()).collect::<Vec<_>>(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_plain_words_and_no_two_are_the_same() {
        assert_eq!(Fault::LowAboveHigh.code(), "low-above-high");
        assert_eq!(Fault::Cycle.code(), "cycle");
        let codes: BTreeSet<&str> = Fault::ALL.iter().map(|fault| fault.code()).collect();
        assert_eq!(codes.len(), Fault::ALL.len());
        for code in codes {
            let plain =
                |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase());
            assert!(code.split('-').all(plain), "{code}");
        }
    }

    #[test]
    fn codes_are_read_back() {
        for fault in Fault::ALL {
            let text = serde_json::to_string(fault).unwrap();
            assert_eq!(text, format!("\"{}\"", fault.code()));
            assert_eq!(serde_json::from_str::<Fault>(&text).unwrap(), *fault);
        }
        assert!(serde_json::from_str::<Fault>("\"no-such-fault\"").is_err());
    }
}

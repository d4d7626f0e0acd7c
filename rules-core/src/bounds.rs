//! How large an input may be. Every bound is here, and each is enforced before memory or time is
//! spent on what is past it.
//!
//! What is past a bound is an error that names it; nothing is cut off in silence. Nothing recurses
//! deeper than the levels given here.

/// Bytes of one document: a proposal, a ruleset, or a line of a stream.
pub const MOST_BYTES: usize = 8 * 1024 * 1024;
/// Levels of maps and lists in one another. The formats need six.
pub const MOST_LEVELS: usize = 32;
/// Maps, lists and scalars (keys included) of one document.
pub const MOST_NODES: usize = 1_000_000;
/// Problems that are kept of one document, those in its formulas among them; those after it are
/// counted.
pub const MOST_PROBLEMS: usize = 1_000;

/// Characters of a fact that is a text, such as a name.
pub const MOST_TEXT: usize = 200;
/// Characters of any other text: a title, a meaning, a reason, a remedy. A report can repeat it for
/// each of its findings.
pub const MOST_WORDING: usize = 4096;

/// Characters of one formula.
pub const MOST_CHARACTERS: usize = 4096;
/// Tokens of one formula: its words and signs. It has no more faults than tokens, because each
/// fault is at a token of its own.
pub const MOST_TOKENS: usize = 512;
/// Levels of parentheses, signs and `not` in a formula.
pub const MOST_NESTING: usize = 32;
/// Figures that rest on one another in a row.
pub const MOST_FIGURE_LEVELS: usize = 8;

/// Rulesets of one check.
pub const MOST_LAYERS: usize = 64;
/// Rulesets that merged files say they were made of, together.
pub const MOST_MERGED: usize = 1_000;
/// Bytes of all of them together.
pub const MOST_RULES_BYTES: usize = 16 * 1024 * 1024;
/// Facts that they declare, together.
pub const MOST_FACTS: usize = 1_000;
/// Options of one choice.
pub const MOST_OPTIONS: usize = 64;
/// Stages of all together.
pub const MOST_STAGES: usize = 64;
/// Meters of one kind that all together assume.
pub const MOST_METERS: usize = 64;
/// Limits of all together.
pub const MOST_LIMITS: usize = 20_000;
/// Figures of all together.
pub const MOST_FIGURES: usize = 2_000;
/// Cautions of all together.
pub const MOST_CAUTIONS: usize = 20_000;

/// Steps of one check: every caution and figure for each of its subject, and every fold for each
/// that it goes over.
pub const MOST_STEPS: usize = 4_000_000;
/// Parts of all findings of one report: each finding, and each comparison, figure and fact that it
/// lists. A finding mostly has five or six.
pub const MOST_PARTS: usize = 1_000_000;

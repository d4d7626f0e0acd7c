//! The reader of the conformance suite: its files, as `tests/conformance/README.md` describes them,
//! for whoever runs them.
//!
//! Their schema, `schemas/conformance-case.schema.json`, is derived from these types.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde_json::{Value, json};

/// Fault codes, as the table of the README lists them.
pub const CODES: &[&str] = &[
    "unreadable",
    "syntax",
    "empty",
    "several-documents",
    "anchor",
    "repeated-key",
    "unknown-key",
    "missing-key",
    "wrong-shape",
    "bad-name",
    "bad-character",
    "bad-code",
    "reserved-name",
    "bad-number",
    "bad-date",
    "not-finite",
    "no-unit",
    "unknown-unit",
    "wrong-kind",
    "bad-tolerance",
    "low-above-high",
    "out-of-domain",
    "contradiction",
    "too-coarse",
    "unknown-option",
    "unknown-name",
    "unknown-ruleset",
    "kinds-differ",
    "chained-comparison",
    "nested-fold",
    "out-of-scope",
    "bad-placeholder",
    "defined-twice",
    "cycle",
    "loosening-without-reason",
    "fixed",
    "parts-disagree",
    "too-deep",
    "too-large",
];

/// One file of the suite: one idea.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CaseFile {
    /// The version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// The idea, in one sentence.
    pub about: String,
    /// The cases.
    #[schemars(length(min = 1))]
    pub cases: Vec<Case>,
}

/// One check, and what must come of it.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = rules_or_rulesets)]
pub struct Case {
    /// Its name, unique over the suite.
    pub name: String,
    /// Why it has this result.
    pub note: Option<String>,
    /// The text of the only ruleset of the check. Messages call it `rules`.
    pub rules: Option<String>,
    /// Instead of `rules`: texts of rulesets by file name. All files are in one folder.
    pub rulesets: Option<BTreeMap<String, String>>,
    /// With `rulesets`: the files given to the check; `main.yaml` if left out.
    #[schemars(length(min = 1))]
    pub check: Option<Vec<String>>,
    /// The stages that the check is asked for; all of the proposal if left out.
    #[serde(default)]
    #[schemars(length(min = 1))]
    pub asked: Vec<String>,
    /// The text of the proposal. Messages call it `proposal`.
    pub proposal: String,
    /// Texts of benches and their tables by file name, in the folder of the proposal.
    pub beside: Option<BTreeMap<String, String>>,
    /// What must come of the check.
    pub expect: Expect,
}

impl Case {
    /// The texts of the rulesets, by the names that messages use.
    #[must_use]
    pub fn files(&self) -> BTreeMap<&str, &str> {
        let only = self.rules.as_deref().map(|text| ("rules", text));
        let several = self
            .rulesets
            .iter()
            .flatten()
            .map(|(name, text)| (name.as_str(), text.as_str()));
        only.into_iter().chain(several).collect()
    }

    /// The stages that the check is asked for.
    #[must_use]
    pub fn stages(&self) -> Vec<&str> {
        self.asked.iter().map(String::as_str).collect()
    }

    /// The names of the rulesets given to the check.
    #[must_use]
    pub fn given(&self) -> Vec<&str> {
        match &self.check {
            _ if self.rules.is_some() => vec!["rules"],
            Some(names) => names.iter().map(String::as_str).collect(),
            None => vec!["main.yaml"],
        }
    }
}

/// What must come of a check.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Expect {
    /// It cannot be made.
    Failure(Failure),
    /// It cannot be made, for several reasons.
    Failures(Failures),
    /// A report.
    Outcome(Outcome),
}

/// A check that cannot be made.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Failure {
    /// The fault that must be reported.
    pub error: Error,
}

/// A check that cannot be made for several reasons.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Failures {
    /// The faults that must be reported, and no others.
    #[schemars(length(min = 1))]
    pub errors: Vec<Error>,
}

/// A fault: its kind, and where it is. What is not given is not compared.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Error {
    /// Its code.
    #[schemars(schema_with = "code")]
    pub about: String,
    /// The file: `rules`, `proposal`, or a file's name.
    #[serde(rename = "in")]
    pub file: Option<String>,
    /// The line, from 1.
    #[schemars(range(min = 1))]
    pub line: Option<usize>,
    /// The column in characters, from 1.
    #[schemars(range(min = 1))]
    pub column: Option<usize>,
}

/// A report, as far as it is compared.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// The verdict; none where stages are asked for.
    pub verdict: Option<Verdict>,
    /// The best that what is known allows; the verdict if left out.
    pub best: Option<Verdict>,
    /// The worst that what is known allows; the verdict if left out.
    pub worst: Option<Verdict>,
    /// Whether the report says that nothing was checked.
    #[serde(default)]
    pub nothing_checked: bool,
    /// What each stage comes to, of those that are asked for, in their order.
    #[serde(default)]
    pub stages: Vec<StageOutcome>,
    /// The digest of the report, where it is compared.
    pub digest: Option<String>,
    /// The cautions that applied to no subject.
    #[serde(default)]
    pub not_applicable: Vec<String>,
    /// Digests of rulesets, by file name: of some of them, or none.
    #[serde(default)]
    pub digests: BTreeMap<String, String>,
    /// Every finding that is not a pass, in any order.
    #[serde(default)]
    pub findings: Vec<Finding>,
    /// The proposal that results, where it takes from a bench, without its notes.
    pub plain: Option<String>,
    /// What the report says without a verdict, in any order; not compared if left out.
    pub remarks: Option<Vec<Remark>>,
}

/// What a stage comes to.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StageOutcome {
    /// Its name.
    pub stage: String,
    /// The verdict.
    pub verdict: Verdict,
    /// The best that what is known allows; the verdict if left out.
    pub best: Option<Verdict>,
    /// The worst that what is known allows; the verdict if left out.
    pub worst: Option<Verdict>,
    /// Whether nothing of it was checked.
    #[serde(default)]
    pub nothing_checked: bool,
}

/// What a report says without a verdict.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Remark {
    /// What it says.
    pub remark: RemarkKind,
    /// What it is about.
    #[schemars(regex(pattern = "^(cell|group|pack|proposal)$"), example = &"cell")]
    pub subject: String,
    /// The names that it is about, in order of their code points.
    #[serde(default)]
    pub names: Vec<String>,
    /// The words of a note.
    #[serde(default)]
    pub says: Option<String>,
}

/// What a remark says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RemarkKind {
    /// The names are easily taken for one another.
    LooksAlike,
    /// The proposal says it of itself.
    Noted,
    /// The proposal brings none of the subject.
    NoneBrought,
}

/// A finding that is not a pass.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// The caution.
    pub caution: String,
    /// `cell`, `group` or `pack` with its name (`?` where it has none), or the name of the single
    /// subject.
    #[schemars(regex(pattern = "^((cell|group|pack) .+|light|build|protection|charging|conditions)$"), example = &"cell K1")]
    pub subject: String,
    /// How many it stands for, where they are cells that are not listed, or groups of such cells.
    #[serde(default = "one")]
    #[schemars(range(min = 1))]
    pub count: usize,
    /// Its verdict.
    pub verdict: Verdict,
    /// How sure it is.
    pub status: Status,
    /// The deciding rung.
    pub rung: Rung,
    /// The deciding facts, in any order.
    pub facts: Vec<String>,
    /// Those of them that are missing.
    pub missing: Vec<String>,
}

const fn one() -> usize {
    1
}

/// What a check says of a use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// No caution objects.
    Pass,
    /// A caution warns.
    Warn,
    /// A caution refuses.
    Refuse,
}

/// How sure a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
pub enum Status {
    /// What is known settles it.
    #[serde(rename = "decided")]
    Decided,
    /// A value that was given is too wide to settle it.
    #[serde(rename = "in doubt")]
    InDoubt,
    /// A missing fact leaves it open.
    #[serde(rename = "unmeasured")]
    Unmeasured,
}

/// The deciding rung.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rung {
    /// What must hold, or the use is refused.
    RefuseUnless,
    /// What must hold, or the report warns.
    WarnUnless,
}

/// A file of the suite, as it is in its folder.
#[derive(Debug, Clone)]
pub struct SuiteFile {
    /// Its name, without the folder.
    pub name: String,
    /// What is written in it.
    pub text: String,
    /// What that says.
    pub content: CaseFile,
}

/// Every file of the suite, in the order of names.
///
/// # Errors
///
/// The folder cannot be read, or something in it is no case file; it is named.
pub fn files() -> Result<Vec<SuiteFile>, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("conformance");
    let listed = fs::read_dir(&folder).and_then(|entries| {
        entries
            .map(|entry| Ok(entry?.path()))
            .collect::<Result<Vec<_>, std::io::Error>>()
    });
    let mut paths = listed.map_err(|error| format!("{}: {error}", folder.display()))?;
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    paths.sort();
    paths.iter().map(|path| file(path)).collect()
}

/// Every case of the suite.
///
/// # Errors
///
/// As of [`files`].
pub fn cases() -> Result<Vec<Case>, String> {
    let cases = |file: SuiteFile| file.content.cases;
    Ok(files()?.into_iter().flat_map(cases).collect())
}

fn file(path: &Path) -> Result<SuiteFile, String> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let told = |error: &dyn std::fmt::Display| format!("{name}: {error}");
    let text = fs::read_to_string(path).map_err(|error| told(&error))?;
    let content = serde_yaml::from_str(&text).map_err(|error| told(&error))?;
    let name = name.into_owned();
    Ok(SuiteFile {
        name,
        text,
        content,
    })
}

/// The schema of a file of the suite.
#[must_use]
pub fn schema() -> Value {
    rules_core::schema::of_input::<CaseFile>("conformance-case", "A file of the conformance suite")
}

fn code(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": CODES })
}

/// A case has one ruleset, or several of which some are checked against.
fn rules_or_rulesets(schema: &mut Schema) {
    let one = json!({ "required": ["rules"], "properties": { "rulesets": false, "check": false } });
    schema.insert(
        "oneOf".to_owned(),
        json!([one, { "required": ["rulesets"], "properties": { "rules": false } }]),
    );
}

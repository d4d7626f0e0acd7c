//! Options that several commands have.

use std::ffi::OsString;
use std::path::PathBuf;

use clap::ValueEnum;
use clap::builder::{OsStringValueParser, PossibleValue, TypedValueParser};
use rules_core::outputs::Form;
use rulesets::USUAL_RULESET;

// Which rulesets to use together.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct RulesOptions {
    /// Ruleset to use: the name of a shipped one, or the path of a file. Give the option several
    /// times to apply several rulesets together; of two values for one limit the stricter counts.
    /// Rulesets that a bench has in force apply with them. Without any it is `rescued-cells`
    #[arg(long = "rules", short = 'r', value_name = "RULESET", value_parser = utf8())]
    pub(crate) asked: Vec<String>,
    #[command(flatten)]
    pub(crate) within: RulesWithin,
}

// Which stages of the work to check.
#[derive(Debug, clap::Args)]
pub(crate) struct StagesOption {
    /// Stage to check: `sorting`, `charging` and so on, as `cellrules cautions` shows them. Give the
    /// option several times for several stages. The verdict is then one of these stages only
    #[arg(long = "stage", short = 's', value_name = "ID", value_parser = utf8())]
    ids: Vec<String>,
}

impl StagesOption {
    /// The names of the stages; none for all of it.
    pub(crate) fn names(&self) -> Vec<&str> {
        self.ids.iter().map(String::as_str).collect()
    }
}

impl RulesOptions {
    /// The rulesets to use where no bench has others in force.
    pub(crate) fn names(&self) -> Vec<String> {
        match self.asked.as_slice() {
            [] => vec![USUAL_RULESET.to_owned()],
            asked => asked.to_vec(),
        }
    }
}

// Which rulesets to look at, each by itself.
#[derive(Debug, clap::Args)]
pub(crate) struct RulesetArguments {
    /// Rulesets: names of shipped ones, or paths of files
    #[arg(required = true, value_name = "RULESET", value_parser = utf8())]
    pub(crate) names: Vec<String>,
    #[command(flatten)]
    pub(crate) within: RulesWithin,
}

// Where ruleset files may be.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct RulesWithin {
    /// Read ruleset files from this folder only, wherever `extends`, `..` or links lead. Use it for
    /// rulesets that others wrote
    #[arg(long = "rules-within", value_name = "FOLDER")]
    pub(crate) folder: Option<String>,
}

// The form of results.
#[derive(Debug, clap::Args)]
pub(crate) struct FormatOption {
    /// `text` for people, or `json` for programs
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM", hide_possible_values = true)]
    pub(crate) format: Format,
    /// File to write results to, which is made anew; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

// The form of results, where there is a page of them too.
#[derive(Debug, clap::Args)]
pub(crate) struct PageFormatOption {
    /// `text` for people, `json` for programs, or `html`: a page to look at and to print
    #[arg(long, value_enum, default_value_t = PageFormat::Text, value_name = "FORM", hide_possible_values = true)]
    pub(crate) format: PageFormat,
    /// File to write results to, which is made anew; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// The form of results, where there is a page of them too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PageFormat {
    /// For people
    Text,
    /// For programs
    Json,
    /// For people who look at it or print it
    Html,
}

impl PageFormat {
    /// The form of what is no page: people are told by messages why there is none.
    pub(crate) const fn or_text(self) -> Format {
        match self {
            Self::Json => Format::Json,
            Self::Text | Self::Html => Format::Text,
        }
    }
}

/// The form of results.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

// The form of findings.
#[derive(Debug, clap::Args)]
pub(crate) struct FindingsOption {
    /// `text` for people, `json` for programs; or for other tools `sarif` (SARIF 2.1.0), `junit` (XML
    /// as servers read results of tests), `csv`, `markdown`, or `annotations` (workflow commands that
    /// mark lines of files)
    #[arg(long, value_enum, default_value_t = FindingsForm::Text, value_name = "FORM", hide_possible_values = true)]
    format: FindingsForm,
    /// File to write results to, which is made anew; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

impl FindingsOption {
    /// The own form; text where the findings are written for other tools.
    pub(crate) const fn own(&self) -> Format {
        self.format.own()
    }

    /// The form for other tools, if one is asked for.
    pub(crate) const fn of_tools(&self) -> Option<Form> {
        self.format.of_tools()
    }
}

// The form of what a check found: that of any findings, or a page.
#[derive(Debug, clap::Args)]
pub(crate) struct CheckFormOption {
    /// `text` for people, `json` for programs, `html` a page with plots; or for other tools `sarif`
    /// (SARIF 2.1.0), `junit` (XML as servers read results of tests), `csv`, `markdown`, or
    /// `annotations` (workflow commands that mark lines of files)
    #[arg(long, value_enum, default_value_t = CheckForm::Findings(FindingsForm::Text), value_name = "FORM", hide_possible_values = true)]
    format: CheckForm,
    /// File to write results to, which is made anew; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

impl CheckFormOption {
    /// The own form; text where it is a page, or written for other tools.
    pub(crate) const fn own(&self) -> Format {
        match self.format {
            CheckForm::Findings(form) => form.own(),
            CheckForm::Page => Format::Text,
        }
    }

    /// The form for other tools, if one is asked for.
    pub(crate) const fn of_tools(&self) -> Option<Form> {
        match self.format {
            CheckForm::Findings(form) => form.of_tools(),
            CheckForm::Page => None,
        }
    }

    /// Whether it is a page.
    pub(crate) const fn is_page(&self) -> bool {
        matches!(self.format, CheckForm::Page)
    }
}

/// The form of what a check found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum CheckForm {
    Findings(FindingsForm),
    Page,
}

impl ValueEnum for CheckForm {
    fn value_variants<'a>() -> &'a [Self] {
        &[
            Self::Findings(FindingsForm::Text),
            Self::Findings(FindingsForm::Json),
            Self::Page,
            Self::Findings(FindingsForm::Sarif),
            Self::Findings(FindingsForm::Junit),
            Self::Findings(FindingsForm::Csv),
            Self::Findings(FindingsForm::Markdown),
            Self::Findings(FindingsForm::Annotations),
        ]
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        match self {
            Self::Findings(form) => form.to_possible_value(),
            Self::Page => Some(PossibleValue::new("html").help("A page with plots, to print")),
        }
    }
}

/// The form of findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum FindingsForm {
    /// For people
    Text,
    /// For programs
    Json,
    /// SARIF 2.1.0
    Sarif,
    /// JUnit XML
    Junit,
    /// For spreadsheets
    Csv,
    /// For code hosts and mail
    Markdown,
    /// Workflow commands of a code host
    Annotations,
}

impl FindingsForm {
    const fn own(self) -> Format {
        match self {
            Self::Json => Format::Json,
            _ => Format::Text,
        }
    }

    const fn of_tools(self) -> Option<Form> {
        match self {
            Self::Text | Self::Json => None,
            Self::Sarif => Some(Form::Sarif),
            Self::Junit => Some(Form::Junit),
            Self::Csv => Some(Form::Csv),
            Self::Markdown => Some(Form::Markdown),
            Self::Annotations => Some(Form::Annotations),
        }
    }
}

/// When to use colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colours {
    /// On a terminal that shows them; `NO_COLOR`, `CLICOLOR` and `CLICOLOR_FORCE` count
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// A text in UTF-8: a name to look up, or a quantity. Files can have any name and are paths instead.
pub(super) fn utf8() -> impl TypedValueParser<Value = String> {
    OsStringValueParser::new().try_map(|given: OsString| {
        given
            .into_string()
            .map_err(|_| "it is not UTF-8; write it in UTF-8, and rename a file that is not")
    })
}

/// Shorter lines than 40 columns cannot hold the labels; nobody reads longer ones than 1,000.
pub(super) fn width(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(width @ 40..=1000) => Ok(width),
        _ => Err("write a number from 40 to 1000".to_owned()),
    }
}

//! Help, and what is wrong with arguments.

use std::ffi::OsString;

use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory};
use rules_core::document::harmless;

use crate::args::Args;
use crate::exit_status::ExitStatus;

/// The option that names rulesets.
const RULES: &str = "rules";

/// Shows why the arguments give nothing to do. Help and version are a success and go to standard
/// output; wrong usage goes to standard error. If nobody reads it, that is no error.
pub(crate) fn explain(error: clap::Error) -> ExitStatus {
    let status = if error.use_stderr() {
        ExitStatus::BadInput
    } else {
        ExitStatus::Success
    };
    drop(made_harmless(with_tip(error)).print());
    status
}

/// Adds a tip if a ruleset is an argument of a command that takes rulesets by an option.
fn with_tip(mut error: clap::Error) -> clap::Error {
    let misplaced = misplaced_word(&error).filter(|_| takes_rules(std::env::args_os()));
    let Some(name) = misplaced else {
        return error;
    };
    let tip = StyledStr::from(format!("name rulesets with an option: `--{RULES} {name}`"));
    error.insert(ContextKind::Suggested, ContextValue::StyledStrs(vec![tip]));
    error
}

/// An argument that is no option where none is expected.
fn misplaced_word(error: &clap::Error) -> Option<String> {
    match error.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(word))
            if error.kind() == ErrorKind::UnknownArgument && !word.starts_with('-') =>
        {
            Some(word.clone())
        }
        _ => None,
    }
}

/// Whether the command among the arguments has the option that names rulesets.
fn takes_rules(mut arguments: impl Iterator<Item = OsString>) -> bool {
    let mut all = Args::command();
    // Without it the arguments of commands are not described yet.
    all.build();
    let command = arguments.find_map(|word| all.find_subcommand(word));
    command.is_some_and(|command: &Command| {
        command
            .get_arguments()
            .any(|argument| argument.get_long() == Some(RULES))
    })
}

/// An error quotes the arguments. Nothing in it may act on the terminal.
fn made_harmless(mut error: clap::Error) -> clap::Error {
    let quoted: Vec<(ContextKind, ContextValue)> = error
        .context()
        .filter_map(|(kind, value)| Some((kind, harmless_value(value)?)))
        .collect();
    for (kind, value) in quoted {
        error.insert(kind, value);
    }
    error
}

/// The same value, if it can quote arguments: usage, numbers and the like cannot.
fn harmless_value(value: &ContextValue) -> Option<ContextValue> {
    let harmless = |text: &str| harmless(text).into_owned();
    match value {
        ContextValue::String(text) => Some(ContextValue::String(harmless(text))),
        ContextValue::Strings(texts) => {
            let texts = texts.iter().map(|text| harmless(text));
            Some(ContextValue::Strings(texts.collect()))
        }
        ContextValue::StyledStrs(texts) => {
            let texts = texts.iter().map(|text| harmless(&text.to_string()).into());
            Some(ContextValue::StyledStrs(texts.collect()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_that_take_rulesets_by_the_option_are_known() {
        let takes = |line: &str| takes_rules(line.split(' ').map(OsString::from));
        assert!(takes("cellrules --width 60 cautions rescued-cells"));
        assert!(takes("cellrules explain rest-low rescued-cells"));
        assert!(takes("cellrules schema ruleset rescued-cells"));
        assert!(!takes("cellrules completions bash"));
        assert!(!takes("cellrules vet rescued-cells"));
    }
}

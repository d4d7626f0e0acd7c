//! Help, and wrong usage with a tip.

use std::ffi::OsString;

use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory};
use rules_core::document::harmless;

use crate::args::Args;
use crate::outcome::Outcome;

/// The option that names rulesets.
const RULES: &str = "rules";

/// Shows help or what was asked wrongly. Help and version go to standard output and are fine; wrong
/// usage goes to standard error. That either is closed is no fault of ours.
pub(crate) fn explain(asked: clap::Error) -> Outcome {
    let outcome = if asked.use_stderr() {
        Outcome::BadInput
    } else {
        Outcome::Fine
    };
    drop(shown(with_tip(asked)).print());
    outcome
}

/// A ruleset given by itself to a command that wants it behind `--rules` gets a tip.
fn with_tip(mut asked: clap::Error) -> clap::Error {
    let Some(name) = stray(&asked).filter(|_| takes_rules(std::env::args_os())) else {
        return asked;
    };
    let tip = StyledStr::from(format!(
        "rulesets are named with an option here: use `--{RULES} {name}`"
    ));
    asked.insert(ContextKind::Suggested, ContextValue::StyledStrs(vec![tip]));
    asked
}

/// The same with nothing that acts on a terminal: it quotes the arguments.
fn shown(mut asked: clap::Error) -> clap::Error {
    let quoted: Vec<(ContextKind, ContextValue)> = asked
        .context()
        .filter_map(|(kind, value)| Some((kind, harmless_value(value)?)))
        .collect();
    for (kind, value) in quoted {
        asked.insert(kind, value);
    }
    asked
}

/// A value that can hold what was asked; usage, numbers and the like cannot.
fn harmless_value(value: &ContextValue) -> Option<ContextValue> {
    let plain = |text: &str| harmless(text).into_owned();
    match value {
        ContextValue::String(text) => Some(ContextValue::String(plain(text))),
        ContextValue::Strings(texts) => {
            let texts = texts.iter().map(|text| plain(text));
            Some(ContextValue::Strings(texts.collect()))
        }
        ContextValue::StyledStrs(texts) => {
            let texts = texts.iter().map(|text| plain(&text.to_string()).into());
            Some(ContextValue::StyledStrs(texts.collect()))
        }
        _ => None,
    }
}

/// An argument that is no option and has no place.
fn stray(asked: &clap::Error) -> Option<String> {
    match asked.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(name))
            if asked.kind() == ErrorKind::UnknownArgument && !name.starts_with('-') =>
        {
            Some(name.clone())
        }
        _ => None,
    }
}

/// Whether the command among the arguments has the option.
fn takes_rules(mut arguments: impl Iterator<Item = OsString>) -> bool {
    let all = Args::command();
    let named = arguments.find_map(|word| all.find_subcommand(word).cloned());
    named.is_some_and(|command: Command| {
        command
            .get_arguments()
            .any(|argument| argument.get_long() == Some(RULES))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_that_take_rulesets_by_the_option_are_known() {
        let takes = |line: &str| takes_rules(line.split(' ').map(OsString::from));
        assert!(takes("cellrules --width 60 cautions rescued-cells"));
        assert!(takes("cellrules explain rest-low rescued-cells"));
        assert!(!takes("cellrules schema proposal report"));
        assert!(!takes("cellrules vet rescued-cells"));
    }
}

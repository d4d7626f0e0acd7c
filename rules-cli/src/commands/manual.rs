//! `manual`: pages for `man`.

use std::fs;
use std::io;
use std::path::Path;

use clap::builder::Resettable;
use clap::{Command, CommandFactory};
use clap_mangen::Man;

use super::written_file::{not_written, replace};
use crate::args::{Args, ManualArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

/// What stands at the foot of each page.
const SOURCE: &str = concat!("cellrules ", env!("CARGO_PKG_VERSION"));

pub(super) fn run(args: &ManualArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let mut command = Args::command().disable_help_subcommand(true);
    // Subcommands learn their whole names.
    command.build();
    let Some(folder) = &args.out else {
        terminal.write(&page(command)?.text)?;
        return Ok(ExitStatus::Success);
    };
    match write_all(command, folder) {
        Ok(()) => Ok(ExitStatus::Success),
        Err(error) => {
            terminal.report_problems(&[not_written(folder, &error)]);
            Ok(ExitStatus::BadInput)
        }
    }
}

fn write_all(command: Command, folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let commands: Vec<Command> = command.get_subcommands().cloned().collect();
    for command in std::iter::once(command).chain(commands) {
        let Page { file, text } = page(command)?;
        replace(&folder.join(file), &text)?;
    }
    Ok(())
}

/// A page with the name of its file.
struct Page {
    file: String,
    text: String,
}

/// The page of a command. What follows the options in the help is laid out here, because the library
/// fills its lines.
fn page(command: Command) -> io::Result<Page> {
    let after = command.get_after_help().map(ToString::to_string);
    let page = Man::new(command.after_help(Resettable::Reset)).source(SOURCE);
    let mut bytes = Vec::new();
    page.render(&mut bytes)?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let after = after.map(|after| section(&after)).unwrap_or_default();
    Ok(Page {
        file: page.get_filename(),
        text: in_ascii(&(text + &after)),
    })
}

/// A section in which an indented line stays as it is, and any other is a paragraph or begins a line.
fn section(text: &str) -> String {
    let lines = text.lines().map(|line| match line {
        "" => ".PP\n".to_owned(),
        line if line.starts_with(' ') => format!(".nf\n{}\n.fi\n", escaped(line)),
        line => format!(".br\n{}\n", escaped(line)),
    });
    format!(".SH NOTES\n{}", lines.collect::<String>())
}

/// A line in which nothing is taken for a request.
fn escaped(line: &str) -> String {
    let line = line.replace('\\', "\\e").replace('-', "\\-");
    match line.starts_with(['.', '\'']) {
        true => format!("\\&{line}"),
        false => line,
    }
}

/// Letters outside of ASCII by their numbers: formatters do not agree on how a file is encoded.
fn in_ascii(page: &str) -> String {
    let mut text = String::with_capacity(page.len());
    for letter in page.chars() {
        if letter.is_ascii() {
            text.push(letter);
        } else {
            text.push_str(&format!("\\[u{:04X}]", u32::from(letter)));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{in_ascii, section};

    #[test]
    fn other_letters_have_their_numbers() {
        assert_eq!(in_ascii("5 Ω ± 1"), "5 \\[u03A9] \\[u00B1] 1");
    }

    #[test]
    fn lines_of_examples_stay_lines_and_nothing_is_a_request() {
        assert_eq!(
            section("Examples:\n  a -b\n.so x\n\nc\\d"),
            ".SH NOTES\n.br\nExamples:\n.nf\n  a \\-b\n.fi\n.br\n\\&.so x\n.PP\n.br\nc\\ed\n"
        );
    }
}

//! Where the interview is held: a terminal with a line editor.

use std::io;

use rustyline::completion::Completer;
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::history::DefaultHistory;
use rustyline::validate::Validator;
use rustyline::{CompletionType, Config, Context, Editor, Helper};

use crate::terminal::Terminal;

const PROMPT: &str = "> ";

/// What an interview needs of where it is held.
pub(super) trait Console {
    /// An answer, of which the words can be completed; none at the end of input.
    fn ask(&mut self, words: &[String]) -> io::Result<Option<String>>;
    /// Shows a text at once.
    fn say(&mut self, text: &str) -> io::Result<()>;
}

/// A terminal in which a line can be edited, recalled and completed.
pub(super) struct LineEditor<'t> {
    editor: Editor<Words, DefaultHistory>,
    terminal: &'t mut Terminal,
}

impl<'t> LineEditor<'t> {
    pub(super) fn new(terminal: &'t mut Terminal) -> io::Result<Self> {
        let config = Config::builder()
            .completion_type(CompletionType::List)
            .build();
        let mut editor = Editor::with_config(config).map_err(io::Error::other)?;
        editor.set_helper(Some(Words::default()));
        Ok(Self { editor, terminal })
    }
}

impl Console for LineEditor<'_> {
    fn ask(&mut self, words: &[String]) -> io::Result<Option<String>> {
        self.editor.set_helper(Some(Words(words.to_vec())));
        match self.editor.readline(PROMPT) {
            Ok(line) => {
                // What cannot be recalled can be typed again.
                drop(self.editor.add_history_entry(line.as_str()));
                Ok(Some(line))
            }
            Err(ReadlineError::Eof | ReadlineError::Interrupted) => Ok(None),
            Err(ReadlineError::Io(error)) => Err(error),
            Err(error) => Err(io::Error::other(error)),
        }
    }

    fn say(&mut self, text: &str) -> io::Result<()> {
        self.terminal.write_now(text.as_bytes())
    }
}

/// The words that can be completed.
#[derive(Default)]
struct Words(Vec<String>);

impl Completer for Words {
    type Candidate = String;

    fn complete(
        &self,
        line: &str,
        position: usize,
        _: &Context<'_>,
    ) -> rustyline::Result<(usize, Vec<String>)> {
        let before = line.get(..position).unwrap_or(line);
        let start = before.rfind([' ', ',']).map_or(0, |at| at + 1);
        let begun = before.get(start..).unwrap_or(before);
        let fit = self.0.iter().filter(|word| word.starts_with(begun));
        Ok((start, fit.cloned().collect()))
    }
}

impl Hinter for Words {
    type Hint = String;
}

impl Highlighter for Words {}
impl Validator for Words {}
impl Helper for Words {}

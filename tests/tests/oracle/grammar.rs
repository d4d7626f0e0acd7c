//! Formulas, read by the grammar of LANGUAGE.md section 5, one function a rule.

use super::number::Joining;
use super::quantity::{MINUS, after_spaces, decimal, unit};

/// A formula as the grammar sees it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tree {
    /// In base units.
    Number(f64),
    /// A name with its subject.
    Name(String, String),
    /// An option of a choice.
    Word(String),
    YesNo(bool),
    Not(Box<Tree>),
    And(Vec<Tree>),
    Or(Vec<Tree>),
    Compare(Sign, Box<Tree>, Box<Tree>),
    In(Box<Tree>, Vec<String>),
    Known(Box<Tree>),
    Plus(Box<Tree>, Box<Tree>),
    Minus(Box<Tree>, Box<Tree>),
    Times(Box<Tree>, Box<Tree>),
    Over(Box<Tree>, Box<Tree>),
    Negative(Box<Tree>),
    Abs(Box<Tree>),
    /// `min(...)` and `max(...)`.
    Joined(Joining, Vec<Tree>),
    Fold(Joining, Box<Tree>),
    Distinct(Box<Tree>),
    /// `count of`, with the subject that is counted.
    Count(String, Box<Tree>),
    Every(String, Box<Tree>),
    Any(String, Box<Tree>),
}

/// A sign of comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sign {
    Below,
    AtMost,
    Above,
    AtLeast,
    Equal,
    NotEqual,
}

const SIGNS: [(&str, Sign); 6] = [
    ("<=", Sign::AtMost),
    (">=", Sign::AtLeast),
    ("==", Sign::Equal),
    ("!=", Sign::NotEqual),
    ("<", Sign::Below),
    (">", Sign::Above),
];

impl Tree {
    /// Every name in it, with its subject.
    pub(crate) fn names(&self) -> Vec<(&str, &str)> {
        match self {
            Self::Number(_) | Self::Word(_) | Self::YesNo(_) => Vec::new(),
            Self::Name(subject, word) => vec![(subject, word)],
            Self::And(parts) | Self::Or(parts) | Self::Joined(_, parts) => {
                parts.iter().flat_map(Self::names).collect()
            }
            Self::Compare(_, a, b)
            | Self::Plus(a, b)
            | Self::Minus(a, b)
            | Self::Times(a, b)
            | Self::Over(a, b) => [a, b].into_iter().flat_map(|side| side.names()).collect(),
            Self::Not(inner)
            | Self::In(inner, _)
            | Self::Known(inner)
            | Self::Negative(inner)
            | Self::Abs(inner) => inner.names(),
            Self::Fold(_, body)
            | Self::Distinct(body)
            | Self::Count(_, body)
            | Self::Every(_, body)
            | Self::Any(_, body) => body.names(),
        }
    }
}

/// Reads a formula, which must be one.
pub(crate) fn read(text: &str) -> Tree {
    let mut reader = Reader { rest: text };
    let tree = reader.or();
    assert!(
        reader.peek().is_empty(),
        "`{}` is left of `{text}`",
        reader.rest
    );
    tree
}

struct Reader<'t> {
    rest: &'t str,
}

fn boxed(tree: Tree) -> Box<Tree> {
    Box::new(tree)
}

impl<'t> Reader<'t> {
    fn peek(&mut self) -> &'t str {
        self.rest = after_spaces(self.rest);
        self.rest
    }

    fn take(&mut self, symbol: &str) -> bool {
        let rest = self.peek().strip_prefix(symbol);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    fn take_minus(&mut self) -> bool {
        let rest = self.peek().strip_prefix(MINUS);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    fn want(&mut self, symbol: &str) {
        assert!(
            self.take(symbol),
            "`{symbol}` is missing before `{}`",
            self.rest
        );
    }

    /// The next word. A hyphen belongs to it between letters or digits.
    fn next_word(&mut self) -> &'t str {
        let text = self.peek();
        if !text.starts_with(|c: char| c.is_ascii_alphabetic()) {
            return "";
        }
        let bytes = text.as_bytes();
        let belongs = |at: usize| match bytes[at] {
            b'-' => {
                bytes[at - 1].is_ascii_alphanumeric()
                    && bytes.get(at + 1).is_some_and(u8::is_ascii_alphanumeric)
            }
            byte => byte.is_ascii_alphanumeric() || byte == b'_',
        };
        text.split_at(
            (1..text.len())
                .find(|at| !belongs(*at))
                .unwrap_or(text.len()),
        )
        .0
    }

    fn word(&mut self) -> String {
        let word = self.next_word();
        assert!(!word.is_empty(), "a word is missing before `{}`", self.rest);
        self.rest = self.rest.split_at(word.len()).1;
        word.to_owned()
    }

    fn take_word(&mut self, wanted: &str) -> bool {
        let found = self.next_word() == wanted;
        if found {
            self.rest = self.rest.split_at(wanted.len()).1;
        }
        found
    }

    fn want_word(&mut self, wanted: &str) {
        assert!(
            self.take_word(wanted),
            "`{wanted}` is missing before `{}`",
            self.rest
        );
    }

    fn or(&mut self) -> Tree {
        let mut parts = vec![self.and()];
        while self.take_word("or") {
            parts.push(self.and());
        }
        if parts.len() == 1 {
            parts.remove(0)
        } else {
            Tree::Or(parts)
        }
    }

    fn and(&mut self) -> Tree {
        let mut parts = vec![self.not()];
        while self.take_word("and") {
            parts.push(self.not());
        }
        if parts.len() == 1 {
            parts.remove(0)
        } else {
            Tree::And(parts)
        }
    }

    fn not(&mut self) -> Tree {
        if self.take_word("not") {
            Tree::Not(boxed(self.not()))
        } else {
            self.relation()
        }
    }

    fn relation(&mut self) -> Tree {
        let left = self.sum();
        if let Some((_, sign)) = SIGNS.iter().find(|(symbol, _)| self.take(symbol)) {
            return Tree::Compare(*sign, boxed(left), boxed(self.sum()));
        }
        if self.take_word("in") {
            self.want("[");
            let mut words = vec![self.word()];
            while self.take(",") {
                words.push(self.word());
            }
            self.want("]");
            return Tree::In(boxed(left), words);
        }
        if self.take_word("is") {
            self.want_word("known");
            return Tree::Known(boxed(left));
        }
        left
    }

    fn sum(&mut self) -> Tree {
        let mut left = self.product();
        loop {
            left = if self.take("+") {
                Tree::Plus(boxed(left), boxed(self.product()))
            } else if self.take_minus() {
                Tree::Minus(boxed(left), boxed(self.product()))
            } else {
                return left;
            };
        }
    }

    fn product(&mut self) -> Tree {
        let mut left = self.sign();
        loop {
            left = if self.take("*") {
                Tree::Times(boxed(left), boxed(self.sign()))
            } else if self.take("/") {
                Tree::Over(boxed(left), boxed(self.sign()))
            } else {
                return left;
            };
        }
    }

    /// A sign directly before a number is the number's.
    fn sign(&mut self) -> Tree {
        if !self.take_minus() {
            return self.primary();
        }
        match self.number() {
            Some(number) => Tree::Number(-number),
            None => Tree::Negative(boxed(self.sign())),
        }
    }

    /// A number with its unit, if there is one here. There is no sign before it.
    fn number(&mut self) -> Option<f64> {
        let text = self.peek();
        if !text.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let (number, rest) = decimal(text)?;
        self.rest = rest;
        Some(number.value * self.unit().unwrap_or(1.0))
    }

    /// The longest unit here.
    fn unit(&mut self) -> Option<f64> {
        let text = self.peek();
        let simple = |text: &str| {
            text.chars()
                .take_while(|c| c.is_alphabetic() || "µΩ\u{2126}°\u{2103}%".contains(*c))
                .map(char::len_utf8)
                .sum::<usize>()
        };
        let short = if text.starts_with("1/h") {
            3
        } else {
            simple(text)
        };
        let long = text
            .split_at(short)
            .1
            .strip_prefix('/')
            .map_or(0, |after| short + 1 + simple(after));
        let found = [long, short]
            .into_iter()
            .filter(|length| *length > 0)
            .find_map(|length| Some((length, unit(text.split_at(length).0)?.1)));
        let (length, worth) = found?;
        self.rest = text.split_at(length).1;
        Some(worth)
    }

    fn primary(&mut self) -> Tree {
        if let Some(number) = self.number() {
            return Tree::Number(number);
        }
        if self.take("(") {
            return self.closed();
        }
        let word = self.word();
        if self.take(".") {
            return Tree::Name(word, self.word());
        }
        match word.as_str() {
            "yes" => Tree::YesNo(true),
            "no" => Tree::YesNo(false),
            "every" | "any" if self.has_ahead() => self.each(word == "every"),
            "count" if self.take_word("of") => self.count(),
            "distinct" if self.take_word("of") => Tree::Distinct(boxed(self.body())),
            "abs" if self.take("(") => Tree::Abs(boxed(self.closed())),
            _ => self.joining(word),
        }
    }

    /// Whether a subject and `has` come next.
    fn has_ahead(&mut self) -> bool {
        let before = self.rest;
        let subject = self.next_word();
        self.rest = self.rest.split_at(subject.len()).1;
        let found = !subject.is_empty() && self.next_word() == "has";
        self.rest = before;
        found
    }

    fn closed(&mut self) -> Tree {
        let tree = self.or();
        self.want(")");
        tree
    }

    fn joining(&mut self, word: String) -> Tree {
        let joining = match word.as_str() {
            "min" => Joining::Least,
            "max" => Joining::Greatest,
            "sum" => Joining::Sum,
            "mean" => Joining::Mean,
            "spread" => Joining::Spread,
            _ => return Tree::Word(word),
        };
        if self.take_word("of") {
            return Tree::Fold(joining, boxed(self.body()));
        }
        if !self.take("(") {
            return Tree::Word(word);
        }
        let mut parts = vec![self.or()];
        while self.take(",") {
            parts.push(self.or());
        }
        self.want(")");
        Tree::Joined(joining, parts)
    }

    /// What a fold goes over: a name, or a formula in parentheses.
    fn body(&mut self) -> Tree {
        if self.take("(") {
            return self.closed();
        }
        let subject = self.word();
        self.want(".");
        Tree::Name(subject, self.word())
    }

    fn each(&mut self, every: bool) -> Tree {
        let subject = self.word();
        self.want_word("has");
        let body = boxed(self.not());
        if every {
            Tree::Every(subject, body)
        } else {
            Tree::Any(subject, body)
        }
    }

    fn count(&mut self) -> Tree {
        let plural = self.word();
        self.want_word("where");
        let subject = plural.trim_end_matches('s').to_owned();
        Tree::Count(subject, boxed(self.not()))
    }
}

//! Text to tokens.

use std::ops::Range;

use super::fault::FormulaFault;
use crate::bounds::{MOST_CHARACTERS, MOST_TOKENS};
use crate::characters::{code_point, is_space, meant_by};
use crate::document::Fault;
use crate::quantity::Unit;

/// A token and where it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Token<'t> {
    pub kind: TokenKind<'t>,
    pub span: Range<usize>,
}

/// What a token is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum TokenKind<'t> {
    Number { value: f64, unit: Option<Unit> },
    Word(&'t str),
    Name { subject: &'t str, word: &'t str },
    Symbol(&'static str),
}

/// Longer symbols first, so that `<=` is not read as `<`.
const SYMBOLS: [&str; 16] = [
    "<=", ">=", "==", "!=", "<", ">", "(", ")", "[", "]", ",", "+", "-", "*", "/", "=",
];

/// The typographic minus sign, which is read as `-`.
const MINUS: char = '\u{2212}';

/// Splits a formula into tokens.
pub(super) fn tokens(text: &str) -> Result<Vec<Token<'_>>, FormulaFault> {
    if text.len() > MOST_CHARACTERS && text.chars().count() > MOST_CHARACTERS {
        let message = format!("a formula of more than {MOST_CHARACTERS} characters");
        return Err(FormulaFault::new(
            Fault::TooLarge,
            0..0,
            message,
            "split it into figures",
        ));
    }
    let mut found = Vec::new();
    let mut at = skip_space(text, 0);
    while at < text.len() {
        let token = next_token(text, at)?;
        at = skip_space(text, token.span.end);
        if found.len() == MOST_TOKENS {
            let message = format!("a formula of more than {MOST_TOKENS} words and signs");
            return Err(FormulaFault::new(
                Fault::TooLarge,
                token.span,
                message,
                "split it into figures",
            ));
        }
        found.push(token);
    }
    Ok(found)
}

fn rest(text: &str, at: usize) -> &str {
    text.get(at..).unwrap_or("")
}

fn skip_space(text: &str, at: usize) -> usize {
    let left = rest(text, at);
    at + (left.len() - left.trim_start_matches(is_space).len())
}

fn next_token(text: &str, at: usize) -> Result<Token<'_>, FormulaFault> {
    let left = rest(text, at);
    let first = left.chars().next().unwrap_or(' ');
    if first.is_ascii_digit() {
        return number(text, at);
    }
    if first.is_ascii_alphabetic() {
        return Ok(word_or_name(text, at));
    }
    if first == MINUS {
        return Ok(Token {
            kind: TokenKind::Symbol("-"),
            span: at..at + MINUS.len_utf8(),
        });
    }
    match SYMBOLS.iter().find(|symbol| left.starts_with(**symbol)) {
        Some(&"=") => Err(FormulaFault::new(
            Fault::Syntax,
            at..at + 1,
            "`=` alone compares nothing",
            "write `==`",
        )),
        Some(symbol) => Ok(Token {
            kind: TokenKind::Symbol(symbol),
            span: at..at + symbol.len(),
        }),
        None => Err(no_meaning(first, at)),
    }
}

fn no_meaning(letter: char, at: usize) -> FormulaFault {
    let help = match letter {
        '&' => "write `and`".to_owned(),
        '|' => "write `or`".to_owned(),
        '!' => "write `not`, or `!=` between two values".to_owned(),
        '%' => "`%` belongs right after a number, as in `80 %`".to_owned(),
        '.' => "write names without spaces: `subject.word`".to_owned(),
        '"' | '\'' => "options are bare words: `subject.fact == word`".to_owned(),
        _ => help_with_odd(letter),
    };
    let named = if letter.is_ascii() {
        format!("`{letter}`")
    } else {
        format!("the character {}", code_point(letter))
    };
    FormulaFault::new(
        Fault::Syntax,
        at..at + letter.len_utf8(),
        format!("{named} has no meaning in a formula"),
        help,
    )
}

/// What to write for a character that looks like one of a formula, or as print has it.
fn help_with_odd(letter: char) -> String {
    let meant = match letter {
        '\u{2264}' => Some("<=".to_owned()),
        '\u{2265}' => Some(">=".to_owned()),
        '\u{2260}' => Some("!=".to_owned()),
        '\u{d7}' | '\u{b7}' | '\u{22c5}' => Some("*".to_owned()),
        '\u{f7}' => Some("/".to_owned()),
        _ => meant_by(letter),
    };
    match meant.as_deref() {
        Some("") => "delete it; it cannot be seen".to_owned(),
        Some(" ") => "write a space".to_owned(),
        Some(meant) => format!("write `{meant}`"),
        None => "see the formulas of the ruleset language".to_owned(),
    }
}

fn number(text: &str, at: usize) -> Result<Token<'_>, FormulaFault> {
    let end = at + number_length(rest(text, at));
    let written = text.get(at..end).unwrap_or("");
    let value: f64 = written.replace(MINUS, "-").parse().unwrap_or(f64::NAN);
    if !value.is_finite() {
        return Err(FormulaFault::new(
            Fault::NotFinite,
            at..end,
            format!("`{written}` is too large for a number"),
            "write a smaller one",
        ));
    }
    let after = skip_space(text, end);
    let (unit, end) = match Unit::longest_prefix(rest(text, after)) {
        Some((unit, length)) => (Some(unit), after + length),
        None => (None, end),
    };
    Ok(Token {
        kind: TokenKind::Number { value, unit },
        span: at..end,
    })
}

/// The length of `12`, `1.5`, `2e-3`: digits, a point with digits, an exponent with digits.
fn number_length(text: &str) -> usize {
    let digits = |from: usize| {
        rest(text, from)
            .bytes()
            .take_while(u8::is_ascii_digit)
            .count()
    };
    let mut end = digits(0);
    if rest(text, end).starts_with('.') && digits(end + 1) > 0 {
        end += 1 + digits(end + 1);
    }
    if rest(text, end).starts_with(['e', 'E']) {
        let sign = match rest(text, end + 1).chars().next() {
            Some(sign @ ('+' | '-' | MINUS)) => sign.len_utf8(),
            _ => 0,
        };
        let exponent = digits(end + 1 + sign);
        if exponent > 0 {
            end += 1 + sign + exponent;
        }
    }
    end
}

fn word_or_name(text: &str, at: usize) -> Token<'_> {
    let first = at + word_length(rest(text, at));
    let subject = text.get(at..first).unwrap_or("");
    let second = if rest(text, first).starts_with('.') {
        word_length(rest(text, first + 1))
    } else {
        0
    };
    if second == 0 {
        return Token {
            kind: TokenKind::Word(subject),
            span: at..first,
        };
    }
    let end = first + 1 + second;
    let word = text.get(first + 1..end).unwrap_or("");
    Token {
        kind: TokenKind::Name { subject, word },
        span: at..end,
    }
}

/// The length of a word: a letter, then letters, digits and underscores, and hyphens between such.
fn word_length(text: &str) -> usize {
    if !text.starts_with(|c: char| c.is_ascii_alphabetic()) {
        return 0;
    }
    let bytes = text.as_bytes();
    let inside = |at: usize, byte: u8| match byte {
        b'-' => bytes.get(at + 1).is_some_and(u8::is_ascii_alphanumeric),
        _ => byte.is_ascii_alphanumeric() || byte == b'_',
    };
    let letters = bytes.iter().enumerate();
    letters.take_while(|(at, byte)| inside(*at, **byte)).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<TokenKind<'_>> {
        tokens(text)
            .expect("tokens")
            .into_iter()
            .map(|token| token.kind)
            .collect()
    }

    fn word(text: &str) -> TokenKind<'_> {
        TokenKind::Word(text)
    }

    #[test]
    fn hyphens_join_words_and_spaced_hyphens_subtract() {
        assert_eq!(kinds("buck-boost"), [word("buck-boost")]);
        assert_eq!(
            kinds("a - b"),
            [word("a"), TokenKind::Symbol("-"), word("b")]
        );
        assert_eq!(
            kinds("a -b"),
            [word("a"), TokenKind::Symbol("-"), word("b")]
        );
        assert_eq!(kinds("dc-10s"), [word("dc-10s")]);
    }

    #[test]
    fn units_belong_to_their_number() {
        let units = |text: &str| -> Vec<Option<String>> {
            kinds(text)
                .into_iter()
                .filter_map(|kind| {
                    if let TokenKind::Number { unit, .. } = kind {
                        Some(unit.map(|u| u.to_string()))
                    } else {
                        None
                    }
                })
                .collect()
        };
        assert_eq!(units("2.5 V"), [Some("V".into())]);
        assert_eq!(units("50mV"), [Some("mV".into())]);
        assert_eq!(units("5 %"), [Some("%".into())]);
        assert_eq!(units("3"), [None]);
        assert_eq!(units("3 and 4"), [None, None]);
        assert_eq!(units("1.5 mV/d"), [Some("mV/d".into())]);
        assert_eq!(kinds("10 V/cable.x").len(), 3);
        assert_eq!(kinds("2e3").len(), 1);
    }

    #[test]
    fn what_has_no_meaning_is_named() {
        assert_eq!(tokens("a = b").expect_err("fault").span, 2..3);
        assert_eq!(tokens("a & b").expect_err("fault").fault, Fault::Syntax);
        assert_eq!(
            tokens("1e400 V").expect_err("fault").fault,
            Fault::NotFinite
        );
        assert_eq!(tokens("a § b").expect_err("fault").span, 2..4);
        let words = [
            ("&", "`and`"),
            ("|", "`or`"),
            ("!", "`not`"),
            ("%", "`80 %`"),
            ("\"", "bare words"),
            ("'", "bare words"),
        ];
        for (sign, meant) in words {
            let fault = tokens(&format!("a {sign} b")).expect_err("fault");
            assert!(
                fault.help.contains(meant) && fault.span == (2..3),
                "{sign}: {}",
                fault.help
            );
        }
    }

    /// LANGUAGE.md, section 1.
    #[test]
    fn minus_and_spaces_are_of_several_characters() {
        let same = kinds("cable.x - 1e-3 V >= -2 V");
        assert_eq!(kinds("cable.x \u{2212} 1e\u{2212}3 V >= \u{2212}2 V"), same);
        assert_eq!(
            kinds("cable.x\u{a0}-\u{202f}1e-3\u{2009}V\t>=\r\n-2 V"),
            same
        );
        assert_eq!(kinds("buck\u{2212}boost").len(), 3);
        assert_eq!(tokens("1 V \u{2212} x").expect("tokens")[1].span, 4..7);
    }

    #[test]
    fn look_alikes_are_named() {
        let table = [
            ('\u{2265}', "`>=`"),
            ('\u{2264}', "`<=`"),
            ('\u{2260}', "`!=`"),
            ('\u{d7}', "`*`"),
            ('\u{f7}', "`/`"),
            ('\u{2013}', "`-`"),
            ('\u{ff1e}', "`>`"),
            ('\u{3000}', "a space"),
            ('\u{200b}', "delete it"),
            ('§', "see the formulas"),
        ];
        for (letter, meant) in table {
            let fault = tokens(&format!("a {letter} b")).expect_err("fault");
            let named = format!("U+{:04X}", u32::from(letter));
            assert!(
                fault.help.contains(meant) && fault.message.contains(&named),
                "{letter}: {fault:?}"
            );
        }
    }

    #[test]
    fn bounds_hold_at_and_past_the_limit() {
        assert_eq!(
            tokens(&"1 ".repeat(MOST_TOKENS)).map(|found| found.len()),
            Ok(MOST_TOKENS)
        );
        assert_eq!(
            tokens(&"1 ".repeat(MOST_TOKENS + 1))
                .expect_err("fault")
                .fault,
            Fault::TooLarge
        );
        assert!(tokens(&" ".repeat(MOST_CHARACTERS)).is_ok());
        assert_eq!(
            tokens(&" ".repeat(MOST_CHARACTERS + 1))
                .expect_err("fault")
                .fault,
            Fault::TooLarge
        );
    }
}

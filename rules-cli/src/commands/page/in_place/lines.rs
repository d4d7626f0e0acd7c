//! The lines of a text, and what is written on lines of its own.

use rulesets::bench::on_one_line;
use serde_json::Value;

/// A line of a text.
pub(super) struct Line<'t> {
    text: &'t str,
    pub(super) start: usize,
    /// Where it ends, before its break.
    pub(super) end: usize,
    /// Where the next one begins.
    pub(super) next: usize,
    /// How the lines of the text are broken.
    pub(super) break_: &'static str,
}

impl<'t> Line<'t> {
    /// The line of a byte.
    pub(super) fn of(text: &'t str, byte: usize) -> Self {
        let before = text.get(..byte).unwrap_or(text);
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let rest = text.get(byte..).unwrap_or_default();
        let next = rest.find('\n').map_or(text.len(), |at| byte + at + 1);
        let line = text.get(start..next).unwrap_or_default();
        let break_ = if text.contains("\r\n") { "\r\n" } else { "\n" };
        Self {
            text,
            start,
            end: start + line.trim_end_matches(['\r', '\n']).len(),
            next,
            break_,
        }
    }

    fn before(&self, byte: usize) -> &'t str {
        self.text.get(self.start..byte).unwrap_or_default()
    }

    pub(super) fn is_blank_before(&self, byte: usize) -> bool {
        self.before(byte).bytes().all(|byte| byte == b' ')
    }

    /// The blanks that it begins with.
    pub(super) fn blank(&self) -> &'t str {
        let line = self.before(self.end);
        let length = line.len() - line.trim_start_matches(' ').len();
        line.get(..length).unwrap_or_default()
    }

    /// How far the first key on it stands from its start, be it behind the dash of a list.
    pub(super) fn indent(&self) -> Option<usize> {
        let line = self.before(self.end);
        let length = line.len() - line.trim_start_matches([' ', '-']).len();
        let before = line.get(..length)?;
        (before.matches('-').count() <= 1).then_some(length)
    }

    /// How far the dash before an entry of a list stands from the start of its line.
    pub(super) fn dash_before(&self, byte: usize) -> Option<usize> {
        let before = self.before(byte).trim_end_matches(' ').strip_suffix('-')?;
        before
            .bytes()
            .all(|byte| byte == b' ')
            .then_some(before.len())
    }
}

/// A key with its value on lines of its own. A whole section has a line for each of its keys.
pub(super) fn indented(indent: usize, key: &str, value: &Value) -> Vec<String> {
    let blank = " ".repeat(indent);
    match value {
        Value::Object(entries) if indent == 0 && !entries.is_empty() => {
            let entries = entries.iter();
            let inner = entries.map(|(key, value)| format!("  {}", pair(key, value)));
            std::iter::once(format!("{key}:")).chain(inner).collect()
        }
        Value::Array(items) if items.iter().any(Value::is_object) => {
            let inner = items.iter().flat_map(|item| list_item(indent + 2, item));
            std::iter::once(format!("{blank}{key}:"))
                .chain(inner)
                .collect()
        }
        _ => vec![format!("{blank}{key}: {}", on_one_line(value))],
    }
}

/// An entry of a list, with a line for each of its keys, its name first.
pub(super) fn list_item(indent: usize, item: &Value) -> Vec<String> {
    let blank = " ".repeat(indent);
    let Some(entries) = item.as_object().filter(|entries| !entries.is_empty()) else {
        return vec![format!("{blank}- {}", on_one_line(item))];
    };
    let mut entries: Vec<(&String, &Value)> = entries.iter().collect();
    entries.sort_by_key(|(key, _)| !matches!(key.as_str(), "id" | "of"));
    let lines = entries.into_iter().enumerate();
    let begins = |at| if at == 0 { "- " } else { "  " };
    lines
        .map(|(at, (key, value))| format!("{blank}{}{}", begins(at), pair(key, value)))
        .collect()
}

fn pair(key: &str, value: &Value) -> String {
    format!("{}: {}", on_one_line(&key.into()), on_one_line(value))
}

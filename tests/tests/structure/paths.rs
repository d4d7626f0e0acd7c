//! What a file names: the paths that it imports, and those in its code.

/// A path that a file imports.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Import {
    /// As written, without what it is renamed to: `super`, `judge`, `Judgement`.
    pub path: Vec<String>,
    /// By what name the file knows it.
    pub name: String,
    /// Whether others can import it from here.
    pub passed_on: bool,
}

/// The code in parts: what it imports, and the rest of it.
pub(crate) fn split(code: &str) -> (Vec<Import>, String) {
    let (mut imports, mut rest, mut statement) = (Vec::new(), String::new(), None::<String>);
    for line in code.lines() {
        if statement.is_none() && is_import(line) {
            statement = Some(String::new());
        }
        let Some(so_far) = &mut statement else {
            rest.push_str(line);
            rest.push('\n');
            continue;
        };
        so_far.push_str(line);
        if line.ends_with(';') {
            imports.extend(imports_of(so_far));
            statement = None;
        }
    }
    (imports, rest)
}

fn is_import(line: &str) -> bool {
    let line = line.trim_start();
    let passed_on = line.strip_prefix("pub").and_then(|rest| {
        let rest = rest.strip_prefix('(').and_then(|rest| rest.split_once(')'));
        rest.map(|(_, rest)| rest).or(line.strip_prefix("pub"))
    });
    passed_on.unwrap_or(line).trim_start().starts_with("use ")
}

fn imports_of(statement: &str) -> Vec<Import> {
    let passed_on = statement.trim_start().starts_with("pub");
    let tree = statement.split_once("use ").map_or("", |(_, tree)| tree);
    let mut found = Vec::new();
    branches(
        tree.trim_end_matches(';').trim(),
        &[],
        passed_on,
        &mut found,
    );
    found
}

/// Every path of a tree such as `crate::{check, facts::{Sheet, Value as Given}}`.
fn branches(tree: &str, before: &[String], passed_on: bool, found: &mut Vec<Import>) {
    let Some((head, inner)) = tree.split_once('{') else {
        let (path, name) = tree.split_once(" as ").unwrap_or((tree, ""));
        let mut all = before.to_vec();
        all.extend(path.split("::").map(|part| part.trim().to_owned()));
        if all.last().is_some_and(|last| last == "self") && all.len() > 1 {
            all.pop();
        }
        let own = all.last().cloned().unwrap_or_default();
        let name = match name.trim() {
            "" => own,
            renamed => renamed.to_owned(),
        };
        return found.push(Import {
            path: all,
            name,
            passed_on,
        });
    };
    let mut path = before.to_vec();
    let parts = head.split("::").map(str::trim);
    path.extend(parts.filter(|part| !part.is_empty()).map(str::to_owned));
    for branch in at_commas(inner.trim_end().trim_end_matches('}')) {
        branches(&branch, &path, passed_on, found);
    }
}

/// The parts between commas that are not in inner braces.
fn at_commas(text: &str) -> Vec<String> {
    let (mut depth, mut parts) = (0, vec![String::new()]);
    for sign in text.chars() {
        match sign {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        match parts.last_mut() {
            Some(part) if sign != ',' || depth > 0 => part.push(sign),
            _ => parts.push(String::new()),
        }
    }
    let parts = parts.iter().map(|part| part.trim().to_owned());
    parts.filter(|part| !part.is_empty()).collect()
}

/// The paths of two names or more in code.
pub(crate) fn in_code(code: &str) -> Vec<Vec<String>> {
    let of_a_path = |sign: char| sign.is_alphanumeric() || sign == '_' || sign == ':';
    let words = code.split(|sign| !of_a_path(sign));
    let paths = words.filter(|word| word.contains("::"));
    paths
        .map(|path| path.split("::").map(str::to_owned).collect())
        .collect()
}

/// Whether a name is in code as a word.
pub(crate) fn stands_in(name: &str, code: &str) -> bool {
    code.split(|sign: char| !sign.is_alphanumeric() && sign != '_')
        .any(|word| word == name)
}

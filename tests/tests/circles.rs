//! The files of the command form no circle: none uses, by whatever way, a file that uses it. A
//! module that is declared is used.
#![cfg(test)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The text of each file, by the path of its module: the root is empty.
type Files = BTreeMap<String, String>;
type Arrows = BTreeMap<String, BTreeSet<String>>;

fn sources(folder: &Path, module: &str, files: &mut Files) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("it can be listed").path();
        let name = path.file_stem().expect("a name").to_string_lossy();
        if path.is_dir() {
            sources(&path, &inside(module, &name), files);
        } else if name != "tests" {
            let module = match &*name {
                "main" | "lib" | "mod" => module.to_owned(),
                name => inside(module, name),
            };
            files.insert(module, fs::read_to_string(&path).expect("text"));
        }
    }
}

fn inside(module: &str, name: &str) -> String {
    if module.is_empty() {
        name.to_owned()
    } else {
        format!("{module}::{name}")
    }
}

/// The code of a file without comments and tests.
fn code(text: &str) -> String {
    let before_tests = text.split("#[cfg(test)]\nmod").next().unwrap_or_default();
    let lines = before_tests
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.fold(String::new(), |code, line| code + line + "\n")
}

/// The paths that follow a word, those in braces one by one: `super::{a, b::C}` names two.
fn paths_after<'t>(word: &str, code: &'t str) -> Vec<&'t str> {
    let starts = code.match_indices(word).filter(|(at, _)| {
        let before = code.get(..*at).and_then(|text| text.chars().next_back());
        !before.is_some_and(|letter| letter.is_alphanumeric() || "_:".contains(letter))
    });
    let follow = starts.filter_map(|(at, _)| code.get(at + word.len()..));
    follow.flat_map(paths).collect()
}

fn paths(text: &str) -> Vec<&str> {
    let braced = text.strip_prefix('{').and_then(|rest| rest.split_once('}'));
    let all = braced.map_or(text, |(inner, _)| inner);
    let all = match braced {
        Some(_) => all.split(',').collect(),
        None => vec![all],
    };
    let ends = |letter: char| !letter.is_alphanumeric() && !"_:".contains(letter);
    all.into_iter()
        .map(|path| path.trim().split(ends).next().unwrap_or_default())
        .collect()
}

fn parent(module: &str) -> &str {
    module.rsplit_once("::").map_or("", |(parent, _)| parent)
}

/// The module that a path leads into: the longest beginning of it that is a file.
fn target(path: &str, files: &Files) -> String {
    let mut module = path.trim_matches(':');
    while !files.contains_key(module) {
        module = parent(module);
    }
    module.to_owned()
}

/// What a file uses.
fn used(module: &str, code: &str, files: &Files) -> BTreeSet<String> {
    let above = parent(module);
    let beginnings = [
        ("crate::", ""),
        ("super::super::", parent(above)),
        ("super::", above),
        ("self::", module),
    ];
    let mut used = BTreeSet::new();
    for (word, from) in beginnings {
        let paths = paths_after(word, code);
        let paths = paths.into_iter().filter(|path| !path.starts_with("super"));
        used.extend(paths.map(|path| target(&inside(from, path), files)));
    }
    let declared = code.lines().filter_map(|line| {
        let name = line.strip_prefix("mod ").or(line.strip_prefix("pub mod "));
        Some(inside(module, name?.strip_suffix(';')?))
    });
    used.extend(declared.filter(|child| files.contains_key(child)));
    used.remove(module);
    used
}

fn arrows(files: &Files) -> Arrows {
    let of =
        |(module, text): (&String, &String)| (module.clone(), used(module, &code(text), files));
    files.iter().map(of).collect()
}

/// The files that lead back to themselves.
fn in_circles(arrows: &Arrows) -> BTreeSet<String> {
    let reach = |from: &String| {
        let mut seen = BTreeSet::new();
        let mut open: Vec<&String> = arrows.get(from).into_iter().flatten().collect();
        while let Some(module) = open.pop() {
            if seen.insert(module) {
                open.extend(arrows.get(module).into_iter().flatten());
            }
        }
        seen.contains(from)
    };
    arrows.keys().filter(|from| reach(from)).cloned().collect()
}

#[test]
fn files_of_the_command_form_no_circle() {
    let folder: PathBuf = [env!("CARGO_MANIFEST_DIR"), "..", "rules-cli", "src"]
        .iter()
        .collect();
    let mut files = Files::new();
    sources(&folder, "", &mut files);
    assert!(
        files.contains_key("") && files.len() > 20,
        "{}",
        files.len()
    );
    assert_eq!(in_circles(&arrows(&files)), BTreeSet::new());
}

/// So that the test above can fail: a circle of two files, and one of a parent and its child.
#[test]
fn circles_are_found() {
    let files = |texts: &[(&str, &str)]| -> Files {
        let owned = |(module, text): &(&str, &str)| ((*module).to_owned(), (*text).to_owned());
        texts.iter().map(owned).collect()
    };
    let found = |texts: &[(&str, &str)]| -> Vec<String> {
        in_circles(&arrows(&files(texts))).into_iter().collect()
    };
    let root = ("", "mod a;\nmod b;\n");
    let straight = [root, ("a", "use crate::b::B;\n"), ("b", "// crate::a\n")];
    assert!(found(&straight).is_empty());
    let round = [
        root,
        ("a", "use crate::b::B;\n"),
        ("b", "use super::{a::A};\n"),
    ];
    assert_eq!(found(&round), ["a", "b"]);
    let child = [
        ("", "mod a;\n"),
        ("a", "mod b;\n"),
        ("a::b", "use super::A;\n"),
    ];
    assert_eq!(found(&child), ["a", "a::b"]);
    let sibling = [
        ("", "mod a;\n"),
        ("a", "mod b;\nmod c;\n"),
        ("a::b", "use super::c::C;\n"),
        ("a::c", ""),
    ];
    assert!(found(&sibling).is_empty());
}

//! Which file of a crate takes something from which, and the circles among them.
//!
//! What is taken from a file that only passes it on is taken from the file that holds it. Declaring
//! a module, and passing on what is in it, takes nothing. So it is by [`Taking::FromHolder`];
//! [`Taking::AsWritten`] is stricter.

use std::collections::{BTreeMap, BTreeSet};

use crate::paths::{Import, in_code, split, stands_in};
use crate::source::Source;

/// A module: the file that holds it and what that imports.
struct Module {
    file: usize,
    imports: Vec<Import>,
    code: String,
}

/// The modules of a crate by their paths from its root.
struct Crate(BTreeMap<Vec<String>, Module>);

/// What counts as taking something from a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Taking {
    /// What is passed on is taken from the file that holds it; a declaration takes nothing.
    FromHolder,
    /// What a path names is taken from the file that the path leads to, though that may only pass it
    /// on; a file takes from each that it declares.
    AsWritten,
}

impl Taking {
    /// How often an import is followed that passes something on; further than any is passed on.
    const fn steps(self) -> usize {
        match self {
            Self::FromHolder => 12,
            Self::AsWritten => 0,
        }
    }
}

impl Crate {
    fn of(sources: &[Source]) -> Self {
        let module = |(file, source): (usize, &Source)| {
            let path = source.module().into_iter().map(str::to_owned).collect();
            let (imports, code) = split(&source.code);
            let module = Module {
                file,
                imports,
                code,
            };
            (path, module)
        };
        Self(sources.iter().enumerate().map(module).collect())
    }

    /// The file that holds what a path names where a module writes it; none for other crates, and
    /// for what is a module as a whole.
    fn holder(&self, module: &[String], path: &[String], steps: usize) -> Option<usize> {
        let (mut at, rest) = self.start(module, path, steps)?;
        let mut rest = rest.iter();
        for name in rest.by_ref() {
            let inner = [&at[..], std::slice::from_ref(name)].concat();
            if self.0.contains_key(&inner) {
                at = inner;
                continue;
            }
            let passed_on = |import: &&Import| import.passed_on && import.name == *name;
            let found = self.0.get(&at)?;
            let import = found.imports.iter().find(passed_on);
            return match import.filter(|_| steps > 0) {
                Some(import) => self.holder(&at, &import.path, steps - 1),
                None => Some(found.file),
            };
        }
        None
    }

    /// The module that a path starts from, and what is left of it.
    fn start<'p>(
        &self,
        module: &[String],
        path: &'p [String],
        steps: usize,
    ) -> Option<(Vec<String>, &'p [String])> {
        let (first, rest) = path.split_first()?;
        match first.as_str() {
            "crate" => return Some((Vec::new(), rest)),
            "self" => return Some((module.to_vec(), rest)),
            "super" => {
                let mut at = module.to_vec();
                at.pop();
                let ups = rest.iter().take_while(|name| *name == "super").count();
                at.truncate(at.len().saturating_sub(ups));
                return Some((at, &rest[ups..]));
            }
            _ => {}
        }
        let inner = [module, std::slice::from_ref(first)].concat();
        if self.0.contains_key(&inner) {
            return Some((inner, rest));
        }
        let imports = &self.0.get(module)?.imports;
        let import = imports.iter().find(|import| import.name == *first)?;
        let place = self.whole(module, &import.path, steps)?;
        Some((place, rest))
    }

    /// The module that a path names as a whole.
    fn whole(&self, module: &[String], path: &[String], steps: usize) -> Option<Vec<String>> {
        let (at, rest) = self.start(module, path, steps.checked_sub(1)?)?;
        let whole = [&at[..], rest].concat();
        self.0.contains_key(&whole).then_some(whole)
    }

    /// The files of the modules directly under one.
    fn declared_by(&self, path: &[String]) -> impl Iterator<Item = usize> {
        let under = move |inner: &[String]| inner.split_last().is_some_and(|(_, own)| own == path);
        let modules = self.0.iter();
        modules
            .filter(move |(inner, _)| under(inner))
            .map(|(_, module)| module.file)
    }

    /// The files that one takes something from.
    fn taken_from(&self, path: &[String], module: &Module, taking: Taking) -> BTreeSet<usize> {
        let is_strict = taking == Taking::AsWritten;
        let used = |import: &&Import| {
            is_strict || !import.passed_on || stands_in(&import.name, &module.code)
        };
        let imports = module.imports.iter().filter(used);
        let imported = imports.map(|import| import.path.clone());
        let mut files: BTreeSet<usize> = imported
            .chain(in_code(&module.code))
            .filter_map(|named| self.holder(path, &named, taking.steps()))
            .collect();
        if is_strict {
            files.extend(self.declared_by(path));
        }
        files.remove(&module.file);
        files
    }
}

/// The circles of files, each with the files that it is made of.
pub(crate) fn circles(sources: &[Source], taking: Taking) -> Vec<Vec<String>> {
    let modules = Crate::of(sources);
    let taken: BTreeMap<usize, BTreeSet<usize>> = (modules.0.iter())
        .map(|(path, module)| (module.file, modules.taken_from(path, module, taking)))
        .collect();
    let reached: BTreeMap<usize, BTreeSet<usize>> = taken
        .keys()
        .map(|file| (*file, reached(*file, &taken)))
        .collect();
    let together = |file: usize| -> BTreeSet<usize> {
        let of_file = reached[&file].iter().copied();
        of_file
            .filter(|other| reached[other].contains(&file))
            .collect()
    };
    let all: BTreeSet<BTreeSet<usize>> = taken.keys().map(|file| together(*file)).collect();
    let names = |circle: BTreeSet<usize>| -> Vec<String> {
        circle
            .into_iter()
            .map(|file| sources[file].path.clone())
            .collect()
    };
    all.into_iter()
        .filter(|circle| !circle.is_empty())
        .map(names)
        .collect()
}

/// Every file that a file leads to. It is among them itself if it is in a circle.
fn reached(from: usize, taken: &BTreeMap<usize, BTreeSet<usize>>) -> BTreeSet<usize> {
    let (mut reached, mut open) = (BTreeSet::new(), vec![from]);
    while let Some(file) = open.pop() {
        let new = taken[&file].iter().filter(|other| reached.insert(**other));
        open.extend(new.copied().collect::<Vec<_>>());
    }
    reached
}

#[test]
fn a_circle_is_found_with_its_files() {
    let all = |right: &str| {
        let root = "mod inner;\nmod other;\n";
        let inner = "mod left;\nmod right;\npub use left::Left;\npub(crate) use right::{Right};\n";
        let left = "use crate::inner::{\n    Right as Other,\n};\npub struct Left(Other);\n";
        [
            ("lib.rs", root),
            ("inner/mod.rs", inner),
            ("inner/left.rs", left),
            ("inner/right.rs", right),
            ("other.rs", "use crate::inner::Left;\n"),
        ]
        .map(|(path, text)| Source::new(path, text))
    };
    let circle = vec![vec![
        "inner/left.rs".to_owned(),
        "inner/right.rs".to_owned(),
    ]];
    let none: Vec<Vec<String>> = Vec::new();
    for (right, expected) in [
        ("pub struct Right;\n", &none),
        ("use super::Left;\npub struct Right(Left);\n", &circle),
        ("pub struct Right(super::left::Left);\n", &circle),
        ("use super::left;\npub struct Right(left::Left);\n", &circle),
        ("// super::left::Left\npub struct Right;\n", &none),
        (
            "pub struct Right;\n#[cfg(test)]\nmod tests {\n    use super::super::Left;\n}\n",
            &none,
        ),
    ] {
        assert_eq!(
            circles(&all(right), Taking::FromHolder),
            *expected,
            "{right}"
        );
    }
}

/// A child that takes a type of its parent, while the parent calls the child.
#[test]
fn a_parent_and_its_child_can_be_a_circle() {
    let child = Source::new(
        "parent/child.rs",
        "use super::Kept;\npub fn call(kept: Kept) {}\n",
    );
    let caller = "mod child;\npub struct Kept;\nfn ask() {\n    child::call(Kept);\n}\n";
    let owner = "mod child;\npub struct Kept;\npub use child::call;\n";
    let files = |parent| {
        [
            Source::new("parent.rs", parent),
            Source::new("parent/child.rs", &child.code),
        ]
    };
    let circle = [["parent.rs", "parent/child.rs"]];
    assert_eq!(circles(&files(caller), Taking::FromHolder), circle);
    assert_eq!(circles(&files(owner), Taking::FromHolder), circle_of_none());
    assert_eq!(circles(&files(owner), Taking::AsWritten), circle);
}

fn circle_of_none() -> Vec<Vec<String>> {
    Vec::new()
}

/// By what is written: two files, a child of a module that declares it, and siblings.
#[test]
fn circles_by_what_is_written_are_found() {
    let found = |texts: &[(&str, &str)]| {
        let source = |(path, text): &(&str, &str)| Source::new(path, text);
        let sources: Vec<Source> = texts.iter().map(source).collect();
        circles(&sources, Taking::AsWritten)
    };
    let root = ("main.rs", "mod a;\nmod b;\n");
    let uses_b = ("a.rs", "use crate::b::B;\n");
    assert_eq!(
        found(&[root, uses_b, ("b.rs", "// crate::a\n")]),
        circle_of_none()
    );
    let round = [root, uses_b, ("b.rs", "use super::{a::A};\n")];
    assert_eq!(found(&round), [["a.rs", "b.rs"]]);
    let declared = [("main.rs", "mod a;\n"), ("a.rs", "mod b;\n")];
    let [main, a] = declared;
    let child = [main, a, ("a/b.rs", "use super::A;\n")];
    assert_eq!(found(&child), [["a.rs", "a/b.rs"]]);
    let siblings = [main, a, ("a/b.rs", "use super::c::C;\n"), ("a/c.rs", "")];
    assert_eq!(found(&siblings), circle_of_none());
    let passed_on = [
        ("main.rs", "mod a;\n"),
        ("a.rs", "mod b;\nmod c;\npub use c::C;\n"),
        ("a/b.rs", "use super::C;\n"),
        ("a/c.rs", "pub struct C;\n"),
    ];
    assert_eq!(found(&passed_on), [["a.rs", "a/b.rs"]]);
}

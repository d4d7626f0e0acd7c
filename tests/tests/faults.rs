//! Faults of rulesets at, just inside and just outside what the language allows, and what is said
//! of them.
#![cfg(test)]

use std::collections::BTreeMap;

use rules_core::check::vet;
use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Library, Rules, Text, Vetting};
use rulesets::shipped::FILES;

/// Rulesets by name.
struct Folder(BTreeMap<String, String>);

impl Library for Folder {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        let name = name.trim_start_matches("./");
        let text = self.0.get(name).ok_or_else(|| {
            Problem::of_file(Fault::UnknownRuleset, format!("there is no `{name}`"), "")
        })?;
        Ok(Text {
            name: name.to_owned(),
            bytes: text.clone().into_bytes(),
        })
    }
}

fn head(name: &str) -> String {
    format!("format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: A ruleset\n")
}

fn load(files: &[(&str, String)], names: &[&str]) -> Result<Rules, Vec<Problem>> {
    let folder = Folder(
        files
            .iter()
            .map(|(name, text)| ((*name).to_owned(), text.clone()))
            .collect(),
    );
    Rules::load(names, &folder, &rulesets::catalogue())
}

/// The faults of one ruleset with these lines.
fn faults(lines: &str) -> Vec<Fault> {
    load(&[("one", format!("{}{lines}", head("one")))], &["one"])
        .map(|_| Vec::new())
        .unwrap_or_else(|problems| of(&problems))
}

fn of(problems: &[Problem]) -> Vec<Fault> {
    problems.iter().map(|problem| problem.fault).collect()
}

fn limit(name: &str, basis: &str) -> String {
    format!(
        "limits:\n  {name}: {{ value: 3 V, stricter: higher, meaning: A limit, basis: [{basis}] }}\n"
    )
}

fn caution(about: &str, rung: &str) -> String {
    format!(
        "cautions:\n  - {{ id: tested, title: T, about: {about}, refuse_unless: \"{rung}\", reason: r, basis: [{{ common_practice: example }}] }}\n"
    )
}

/// The only problem of a caution about each cell with this rung.
fn of_rung(rung: &str) -> (Fault, String, String) {
    let text = format!("{}{}", head("one"), caution("each cell", rung));
    let problems = load(&[("one", text)], &["one"]).expect_err(rung);
    assert_eq!(problems.len(), 1, "{rung}");
    (
        problems[0].fault,
        problems[0].message.clone(),
        problems[0].help.clone().unwrap_or_default(),
    )
}

#[test]
fn a_basis_is_one_thing() {
    let source = "sources:\n  sheet: { title: A sheet, publisher: A supplier, year: 2012, read: second-hand }\n";
    for (basis, fits) in [
        ("{ common_practice: x }", true),
        ("{ from_memory: x }", true),
        ("{ worked_out: x }", true),
        ("{ source: sheet }", true),
        ("{ source: sheet, at: a, note: b }", true),
        ("{ common_practice: x, at: a }", false),
        ("{ common_practice: x, note: b }", false),
        ("{ from_memory: x, at: a }", false),
        ("{ worked_out: x, note: b }", false),
        ("{ common_practice: x, from_memory: y }", false),
        ("{ source: sheet, worked_out: y }", false),
        ("{ at: a }", false),
    ] {
        let expected: &[Fault] = if fits { &[] } else { &[Fault::WrongShape] };
        assert_eq!(
            faults(&format!("{source}{}", limit("floor", basis))),
            expected,
            "{basis}"
        );
    }
}

#[test]
fn names_are_words() {
    let long = |length: usize| "a".repeat(length);
    for (name, fits) in [
        ("floor", true),
        ("floor_2", true),
        ("2_floor", false),
        ("_floor", false),
        ("rest-floor", false),
        ("flöor", false),
        (long(64).as_str(), true),
        (long(65).as_str(), false),
    ] {
        let expected: &[Fault] = if fits { &[] } else { &[Fault::BadName] };
        assert_eq!(
            faults(&limit(name, "{ common_practice: x }")),
            expected,
            "limit {name}"
        );
        let figure = format!(
            "figures:\n  {name}: {{ about: each cell, is: cell.rest_voltage, meaning: A figure }}\n"
        );
        assert_eq!(faults(&figure), expected, "figure {name}");
        let fact = format!("facts:\n  cell.{name}: {{ kind: text, meaning: A fact }}\n");
        assert_eq!(faults(&fact), expected, "fact {name}");
    }
    assert_eq!(
        faults("facts:\n  tag: { kind: text, meaning: A fact }\n").first(),
        Some(&Fault::BadName)
    );
}

#[test]
fn options_of_a_choice() {
    let of_options = |options: &str| {
        faults(&format!(
            "facts:\n  cell.tag: {{ kind: choice, options: [{options}], meaning: A fact }}\n"
        ))
    };
    let many = |count: usize| {
        (0..count)
            .map(|number| format!("o{number}"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    assert_eq!(of_options("red"), []);
    assert_eq!(of_options("red, dark-blue, dark_green, r2"), []);
    assert_eq!(of_options("red, 2r"), [Fault::BadName]);
    assert_eq!(of_options("red, -r"), [Fault::BadName]);
    assert_eq!(of_options("red, dark blue"), [Fault::BadName]);
    assert_eq!(of_options("red, blue, red"), [Fault::DefinedTwice]);
    assert_eq!(of_options(""), [Fault::TooLarge]);
    assert_eq!(of_options(&many(64)), []);
    assert_eq!(of_options(&many(65)), [Fault::TooLarge]);
}

#[test]
fn each_stands_where_there_are_many() {
    assert_eq!(
        faults(&caution("each cell", "cell.rest_voltage >= 3 V")),
        []
    );
    assert_eq!(
        faults(&caution("cell", "cell.rest_voltage >= 3 V")),
        [Fault::OutOfScope]
    );
    assert_eq!(faults(&caution("light", "light.draw_current <= 3 A")), []);
    assert_eq!(
        faults(&caution("each light", "light.draw_current <= 3 A")),
        [Fault::OutOfScope]
    );
}

#[test]
fn a_case_is_open_in_one_way_at_most() {
    let of_case = |rest: &str| {
        let text = caution("each cell", "cell.rest_voltage >= 3 V").replace(
            ", reason",
            &format!(", cases: [{{ given: {{}}, {rest} }}], reason"),
        );
        faults(&text)
    };
    assert_eq!(
        of_case("expect: refuse, unmeasured: [cell.rest_voltage]"),
        []
    );
    assert_eq!(of_case("expect: refuse, doubt: yes"), []);
    assert_eq!(
        of_case("expect: refuse, doubt: yes, unmeasured: [cell.rest_voltage]"),
        [Fault::WrongShape]
    );
    assert_eq!(of_case("expect: not-applicable"), []);
    assert_eq!(
        of_case("expect: not-applicable, doubt: yes"),
        [Fault::WrongShape]
    );
    assert_eq!(
        of_case("expect: not-applicable, unmeasured: [cell.rest_voltage]"),
        [Fault::WrongShape]
    );
}

/// A ruleset that extends so many others.
fn star(others: usize) -> Result<Rules, Vec<Problem>> {
    let names: Vec<String> = (0..others).map(|number| format!("r{number}")).collect();
    let extends = names
        .iter()
        .map(|name| format!("./{name}"))
        .collect::<Vec<_>>()
        .join(", ");
    let mut files: Vec<(&str, String)> = names
        .iter()
        .map(|name| (name.as_str(), head(name)))
        .collect();
    files.push(("top", format!("{}extends: [{extends}]\n", head("top"))));
    load(&files, &["top"])
}

/// A ruleset that extends one that extends one and so on, so many in all.
fn chain(length: usize) -> Result<Rules, Vec<Problem>> {
    let names: Vec<String> = (0..length).map(|number| format!("r{number}")).collect();
    let text = |at: usize| {
        names.get(at + 1).map_or_else(
            || head(&names[at]),
            |next| format!("{}extends: [./{next}]\n", head(&names[at])),
        )
    };
    let files: Vec<(&str, String)> = (0..length)
        .map(|at| (names[at].as_str(), text(at)))
        .collect();
    load(&files, &["r0"])
}

#[test]
fn sixty_four_rulesets_in_all() {
    assert!(star(63).is_ok() && chain(64).is_ok());
    for rules in [star(64), star(65), star(66), chain(65), chain(80)] {
        assert_eq!(
            rules
                .err()
                .and_then(|problems| problems.first().map(|problem| problem.fault)),
            Some(Fault::TooLarge)
        );
    }
}

#[test]
fn two_rulesets_have_two_names() {
    let files = [("a", head("same")), ("b", head("same"))];
    assert_eq!(
        of(&load(&files, &["a", "b"]).expect_err("one name")),
        [Fault::DefinedTwice]
    );
    assert!(load(&[("a", head("one")), ("b", head("other"))], &["a", "b"]).is_ok());
}

#[test]
fn what_is_defined_twice_can_be_adjusted_or_renamed() {
    let help = |what: &str| {
        let files = [
            ("a", format!("{}{what}", head("a"))),
            ("b", format!("{}{what}", head("b"))),
        ];
        let problems = load(&files, &["a", "b"]).expect_err("twice");
        assert_eq!(problems[0].fault, Fault::DefinedTwice);
        problems[0].help.clone().unwrap_or_default()
    };
    assert!(help(&limit("floor", "{ common_practice: x }")).contains("`adjust`"));
    assert!(help(&caution("each cell", "cell.rest_voltage >= 3 V")).contains("`adjust`"));
    assert_eq!(
        help("facts:\n  cell.tag: { kind: text, meaning: A fact }\n"),
        "give it another name"
    );
    assert_eq!(
        help("figures:\n  tag: { about: each cell, is: cell.rest_voltage, meaning: A figure }\n"),
        "give it another name"
    );
}

/// What is defined twice hides no other fault.
#[test]
fn faults_of_all_rulesets_are_reported_together() {
    let limit = limit("floor", "{ common_practice: x }");
    let files = [
        (
            "a",
            format!(
                "{}{limit}{}",
                head("a"),
                caution("each cell", "cell.zzz >= 3 V")
            ),
        ),
        ("b", format!("{}{limit}", head("b"))),
    ];
    let mut found = of(&load(&files, &["a", "b"])
        .map(|_| ())
        .expect_err("two faults"));
    found.sort_by_key(|fault| fault.word());
    assert_eq!(found, [Fault::DefinedTwice, Fault::UnknownName]);
}

/// A figure of a ruleset, about each cell.
fn figure(name: &str, is: &str) -> String {
    format!("  {name}: {{ about: each cell, is: \"{is}\", meaning: A figure }}\n")
}

/// The faults of one ruleset with these lines, each with the word it stands at.
fn faults_at(lines: &str) -> Vec<(Fault, String)> {
    let text = format!("{}{lines}", head("one"));
    let at = |problem: &Problem| {
        let place = problem.place.as_ref().expect("a place");
        let line = text.lines().nth(place.line - 1).expect("a line");
        line.chars()
            .skip(place.column - 1)
            .take_while(|letter| letter.is_alphanumeric() || "_.".contains(*letter))
            .collect()
    };
    let problems = load(&[("one", text.clone())], &["one"])
        .map(|_| ())
        .expect_err("faults");
    problems
        .iter()
        .map(|problem| (problem.fault, at(problem)))
        .collect()
}

fn expected<const MANY: usize>(faults: [(Fault, &str); MANY]) -> Vec<(Fault, String)> {
    faults.map(|(fault, at)| (fault, at.to_owned())).into()
}

#[test]
fn a_formula_tells_all_its_faults() {
    let rung = "cell.rest_voltge >= 3 V and cell.capcity_ratio >= 80 and limit.flor <= 2 A and cell.rest_voltage >= 3";
    let found = faults_at(&format!(
        "{}{}",
        limit("floor", "{ common_practice: x }"),
        caution("each cell", rung)
    ));
    let unknown =
        ["cell.rest_voltge", "cell.capcity_ratio", "limit.flor"].map(|at| (Fault::UnknownName, at));
    assert_eq!(found[..3], expected(unknown));
    assert_eq!(
        found[3..],
        expected([(Fault::KindsDiffer, "cell.rest_voltage")])
    );
}

#[test]
fn every_formula_and_text_of_a_caution_is_looked_at() {
    let text = caution("each cell", "cell.b >= 3 V")
        .replace(
            "refuse_unless",
            "applies_when: cell.a, warn_unless: cell.c > 1 V, refuse_unless",
        )
        .replace(
            "reason: r",
            "reason: \"{cell.d} of {limit.e} } {cell} {cell.id}\", remedy: \"{cell.f}\"",
        );
    let found = faults_at(&text);
    let (names, texts): (Vec<_>, Vec<_>) = found
        .into_iter()
        .partition(|(fault, _)| *fault == Fault::UnknownName);
    assert_eq!(
        names,
        expected([
            (Fault::UnknownName, "cell.a"),
            (Fault::UnknownName, "cell.c"),
            (Fault::UnknownName, "cell.b")
        ])
    );
    let bad = |at| (Fault::BadPlaceholder, at);
    assert_eq!(
        texts,
        expected([
            bad("cell.d"),
            bad("limit.e"),
            bad(""),
            bad("cell"),
            bad("cell.f")
        ])
    );
}

/// What rests on a figure or fact that is at fault is not told again, but its own faults are.
#[test]
fn a_faulty_figure_is_told_once() {
    let figures = [
        figure("broken", "cell.a"),
        figure("above", "cell.broken * 2"),
        figure("top", "cell.above + cell.b"),
    ];
    let text = caution(
        "each cell",
        "cell.broken > 1 V and cell.above == cell.wrap and cell.top > 1 A and cell.c > 1 A",
    )
    .replace("reason: r", "reason: \"{cell.broken} {cell.top}\"");
    let found = faults_at(&format!("figures:\n{}{text}", figures.concat()));
    assert_eq!(
        found,
        expected(["cell.a", "cell.b", "cell.c"].map(|at| (Fault::UnknownName, at)))
    );
}

#[test]
fn a_faulty_fact_is_told_once() {
    let fact = |name: &str| format!("facts:\n  {name}: {{ kind: text, meaning: A fact }}\n");
    for (name, fault) in [
        ("lamp.tag", Fault::UnknownName),
        ("build.tag", Fault::OutOfScope),
        ("cell.wrap", Fault::DefinedTwice),
    ] {
        let text = caution(
            "each cell",
            &format!("{name} == cell.id and {name} is known"),
        )
        .replace("reason: r", &format!("reason: \"{{{name}}}\""));
        assert_eq!(
            faults_at(&format!("{}{text}", fact(name))),
            expected([(fault, name)]),
            "{name}"
        );
    }
}

/// Those that rest on them have no fault of their own, and faults besides are told of all.
#[test]
fn figures_that_rest_on_themselves_are_told_apart_from_those_that_rest_on_them() {
    let figures = |list: &[(&str, &str)]| {
        list.iter()
            .map(|(name, is)| figure(name, is))
            .collect::<String>()
    };
    let of = |list: &[(&str, &str)]| {
        faults_at(&format!(
            "figures:\n{}{}",
            figures(list),
            caution("each cell", "cell.x > 1 V")
        ))
    };
    let unknown = |at| (Fault::UnknownName, at);
    let cycle = |at| (Fault::Cycle, at);
    assert_eq!(of(&[("x", "cell.x + 1 V")]), expected([cycle("x")]));
    let all = [
        ("x", "cell.y + cell.a"),
        ("y", "cell.x"),
        ("on", "cell.x + cell.b"),
        ("top", "cell.on * cell.on + cell.y"),
        ("good", "1 V"),
    ];
    assert_eq!(
        of(&all),
        expected([cycle("x"), unknown("cell.a"), cycle("y"), unknown("cell.b")])
    );
    // Between two that rest on themselves.
    assert_eq!(
        of(&[("x", "cell.x"), ("on", "cell.x"), ("y", "cell.on + cell.y")]),
        expected([cycle("x"), cycle("on"), cycle("y")])
    );
}

/// What stands under a faulty `about` is looked at too.
#[test]
fn a_faulty_about_hides_no_other_fault() {
    let unknown = |at| (Fault::UnknownName, at);
    let rung = "cell.rest_voltage > 3 V and group.x > 1 V";
    assert_eq!(
        faults_at(&caution("each lamp", rung)),
        expected([unknown("each"), unknown("group.x")])
    );
    assert_eq!(
        faults_at(&caution("cell", rung)),
        expected([(Fault::OutOfScope, "cell"), unknown("group.x")])
    );
    let lone = expected([
        (Fault::OutOfScope, "each"),
        (Fault::OutOfScope, "cell.rest_voltage"),
        unknown("group.x"),
    ]);
    assert_eq!(faults_at(&caution("each light", rung)), lone);
    let figures = |about: &str| {
        format!(
            "figures:\n{}",
            figure("low", "cell.rest_voltage + cell.x").replace("each cell", about)
        )
    };
    let uses = |name: &str| caution("each cell", &format!("{name} > 3 V and cell.y"));
    assert_eq!(
        faults_at(&format!("{}{}", figures("each lamp"), uses("lamp.low"))),
        expected(["each", "cell.x", "cell.y"].map(unknown))
    );
    let lone = expected([
        (Fault::OutOfScope, "cell"),
        unknown("cell.x"),
        unknown("cell.y"),
    ]);
    assert_eq!(
        faults_at(&format!("{}{}", figures("cell"), uses("cell.low"))),
        lone
    );
}

/// A figure with the name of a fact is told as such; its formula is looked at, and what names it is
/// left alone.
#[test]
fn a_figure_named_as_a_fact_is_told_once() {
    let text = format!(
        "figures:\n{}{}",
        figure("wrap", "cell.a * 2"),
        caution("each cell", "cell.wrap >= 3 V")
    );
    assert_eq!(
        faults_at(&text),
        expected([
            (Fault::DefinedTwice, "wrap"),
            (Fault::UnknownName, "cell.a")
        ])
    );
    let text = format!(
        "figures:\n{}{}",
        figure("wrap", "cell.wrap + 1 V"),
        caution("each cell", "cell.wrap >= 3 V")
    );
    assert_eq!(faults_at(&text), expected([(Fault::DefinedTwice, "wrap")]));
}

/// One file has one name, however its path is written.
#[test]
fn paths_are_tidied() {
    let folder = env!("CARGO_MANIFEST_DIR");
    let found = FILES
        .find(
            &format!("{folder}/tests/.././../rulesets/rescued-cells.yaml"),
            None,
        )
        .expect("the shipped rules");
    assert!(
        !found.name.contains("..") && found.name.ends_with("rulesets/rescued-cells.yaml"),
        "{}",
        found.name
    );
    let beside = FILES
        .find(
            "../../rulesets/rescued-cells.yaml",
            Some(&format!("{folder}/tests/x.yaml")),
        )
        .expect("from a folder beside");
    assert_eq!(beside, found);
    // A way through a folder that is not there leads nowhere.
    let nowhere = format!("{folder}/no-such-folder/../conformance/files.yaml");
    assert!(FILES.find(&nowhere, None).is_err());
    // There is nothing before the start of a relative path to take out.
    let problem = FILES
        .find("../no-such-folder/x.yaml", None)
        .expect_err("no such file");
    assert!(
        problem.message.contains("../no-such-folder/x.yaml"),
        "{}",
        problem.message
    );
}

#[test]
fn a_near_miss_is_of_its_own_sort() {
    let base = format!(
        "{}{}{}",
        head("base"),
        limit("floor", "{ common_practice: x }"),
        caution("each cell", "cell.rest_voltage >= limit.floor")
    );
    let help = |adjust: &str| {
        let local = format!(
            "{}extends: [./base]\nadjust: {{ {adjust} }}\n",
            head("local")
        );
        load(&[("base", base.clone()), ("local", local)], &["local"]).expect_err(adjust)[0]
            .help
            .clone()
            .unwrap_or_default()
    };
    assert_eq!(
        help("limits: { flor: { to: 4 V } }"),
        "did you mean `floor`?"
    );
    assert_eq!(
        help("cautions: { testd: { drop: yes, because: b } }"),
        "did you mean `tested`?"
    );
    assert!(!help("limits: { testd: { to: 4 V } }").contains("tested"));
    assert!(!help("cautions: { flor: { drop: yes, because: b } }").contains("floor"));
}

/// A rung whose sides are not of one kind, what is said of it, and how it is mended.
const DIFFERENT_KINDS: [(&str, &str, &str); 9] = [
    (
        "cell.rest_voltage >= 2 A",
        "`cell.rest_voltage` is a voltage and this side is a current: they do not compare",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage >= 2",
        "`cell.rest_voltage` is a voltage and this side is a plain number: they do not compare",
        "a voltage needs a unit: V, mV, µV, kV",
    ),
    (
        "2 <= cell.capacity",
        "this side is a plain number and `cell.capacity` is a charge: they do not compare",
        "a charge needs a unit: Ah, mAh",
    ),
    (
        "cell.rest_voltage + 1 A >= 2 V",
        "a voltage and a current do not go together",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage * cell.rest_voltage >= 2 V",
        "this side is a number in V² and this side is a voltage: they do not compare",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage * cell.rest_voltage >= 2",
        "this side is a number in V² and this side is a plain number: they do not compare",
        "both sides must be of one kind",
    ),
    (
        "cell.wrap == cell.rest_voltage",
        "a choice and a voltage do not compare",
        "compare values of one kind",
    ),
    (
        "cell.id == cell.wrap",
        "a text and a choice do not compare",
        "compare values of one kind",
    ),
    (
        "cell.protected == cell.id",
        "a condition and a text do not compare",
        "compare values of one kind",
    ),
];

#[test]
fn kinds_that_differ_are_named() {
    for (rung, message, help) in DIFFERENT_KINDS {
        assert_eq!(
            of_rung(rung),
            (Fault::KindsDiffer, message.to_owned(), help.to_owned()),
            "{rung}"
        );
    }
    assert_eq!(
        of_rung("cell.rest_voltage").1,
        "a condition belongs here; this is a voltage"
    );
    assert_eq!(
        of_rung("cell.wrap").1,
        "a condition belongs here; this is a choice"
    );
}

/// What a case gives is a fact; what was meant is said.
#[test]
fn a_case_gives_facts() {
    let help = |given: &str| {
        let text = caution("each cell", "cell.rest_voltage >= 3 V").replace(
            ", reason",
            &format!(", cases: [{{ given: {{ {given} }}, expect: pass }}], reason"),
        );
        let folder = Folder(BTreeMap::from([(
            "one".to_owned(),
            format!("{}{text}", head("one")),
        )]));
        let problems = Vetting::load(&["one"], &folder, &rulesets::catalogue()).expect_err(given);
        assert_eq!(of(&problems), [Fault::UnknownName], "{given}");
        problems[0].help.clone().unwrap_or_default()
    };
    assert_eq!(
        help("cell.rest_voltag: 3 V"),
        "did you mean `cell.rest_voltage`?"
    );
    assert!(help("cell.zzzzzzzzzzzz: 3 V").contains("figures follow"));
}

/// A case is a proposal too: its readings may not contradict each other.
#[test]
fn a_case_does_not_contradict_itself() {
    let of_case = |ohms: &str| {
        let given = format!(
            "cell.resistance: {ohms}, cell.resistance_method: dc-10s, cell.loaded_open: 4.000 V ± 0 V, cell.loaded_closed: 3.000 V ± 0 V, cell.loaded_resistor: 3 ohm"
        );
        let text = caution("each cell", "cell.resistance >= 1 ohm").replace(
            ", reason",
            &format!(", cases: [{{ given: {{ {given} }}, expect: pass }}], reason"),
        );
        let folder = Folder(BTreeMap::from([(
            "one".to_owned(),
            format!("{}{text}", head("one")),
        )]));
        Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .map_or_else(|problems| of(&problems), |_| Vec::new())
    };
    assert_eq!(of_case("2 ohm ± 0 ohm"), []);
    assert_eq!(of_case("2.001 ohm ± 0 ohm"), [Fault::Contradiction]);
}

/// Cells that name their group alike are in one; a group that is named has that name.
#[test]
fn cases_make_groups() {
    let of_cases = |cases: &str| {
        let text = caution("each group", "spread of cell.rest_voltage <= 10 mV")
            .replace(", reason", &format!(", cases: [{cases}], reason"));
        let folder = Folder(BTreeMap::from([(
            "one".to_owned(),
            format!("{}{text}", head("one")),
        )]));
        let vetting = Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        of(&vet(&vetting)).contains(&Fault::CaseFails)
    };
    let cells = |one: &str, other: &str| {
        format!(
            "given: {{ cells: [{{ rest_voltage: 3.700 V{one} }}, {{ rest_voltage: 3.750 V{other} }}] }}"
        )
    };
    assert!(!of_cases(&format!(
        "{{ {}, expect: refuse }}",
        cells("", "")
    )));
    assert!(!of_cases(&format!(
        "{{ {}, expect: refuse }}",
        cells(", group: A", ", group: A")
    )));
    assert!(!of_cases(&format!(
        "{{ {}, expect: pass }}",
        cells(", group: A", ", group: B")
    )));
    assert!(of_cases(&format!(
        "{{ {}, expect: pass }}",
        cells(", group: A", ", group: A")
    )));
}

/// A group has the name that its cells give; where they give none, its name is missing.
#[test]
fn cases_name_groups() {
    let of_cases = |cases: &str| {
        let text = caution("each group", "group.id is known")
            .replace(", reason", &format!(", cases: [{cases}], reason"));
        let folder = Folder(BTreeMap::from([(
            "one".to_owned(),
            format!("{}{text}", head("one")),
        )]));
        let vetting = Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        of(&vet(&vetting)).contains(&Fault::CaseFails)
    };
    assert!(!of_cases(
        "{ given: { cells: [{ group: A }, { group: B }] }, expect: pass }"
    ));
    assert!(!of_cases(
        "{ given: { cells: [{ group: A }, { group: A }] }, expect: pass }"
    ));
    assert!(of_cases("{ given: { cells: [{}, {}] }, expect: pass }"));
    assert!(!of_cases(
        "{ given: { cells: [{}, {}] }, expect: refuse, unmeasured: [group.id] }"
    ));
}

/// Who adjusts what has another name now is told that name.
#[test]
fn former_names_lead_to_those_of_now() {
    let base = format!(
        "{}limits: {{ rest_floor: {{ value: 3 V, stricter: higher, meaning: Floor, formerly: [minimum] }} }}\n{}",
        head("base"),
        caution("each cell", "cell.rest_voltage >= limit.rest_floor")
            .replace(", reason", ", formerly: [deep-discharge], reason")
    );
    let adjust = "adjust: { limits: { minimum: { to: 3.1 V } }, cautions: { deep-discharge: { drop: yes, because: so } } }\n";
    let club = format!("{}extends: [./base]\n{adjust}", head("club"));
    let problems = load(&[("base", base), ("club", club)], &["club"]).expect_err("problems");
    let helps: Vec<&str> = problems
        .iter()
        .filter_map(|problem| problem.help.as_deref())
        .collect();
    assert_eq!(of(&problems), [Fault::UnknownName, Fault::UnknownName]);
    assert_eq!(helps[0], "it is called `rest_floor` now");
    assert_eq!(helps[1], "it is called `tested` now");
}

/// A limit that does not say which way is stricter is told what either way means.
#[test]
fn a_limit_without_its_direction_is_told_what_they_mean() {
    let text = format!(
        "{}limits: {{ floor: {{ value: 3 V, meaning: Floor }} }}\n",
        head("one")
    );
    let problems = load(&[("one", text)], &["one"]).expect_err("a problem");
    let help = problems[0].help.clone().unwrap_or_default();
    assert!(
        help.contains("`stricter: higher` if a higher value lets fewer pass"),
        "{help}"
    );
}

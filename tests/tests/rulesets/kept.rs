//! The rules that were compiled when the library was built are those that its texts come to: alone,
//! and under files that extend them.

use rules_core::check::{Options, check};
use rules_core::document::{Problem, ProblemList, Syntax};
use rules_core::facts::{Catalogue, ShippedVersion};
use rules_core::report::text::{Plain, USUAL_WIDTH, text};
use rules_core::ruleset::{Acceptance, Library, Rules, Texts};
use rules_core::snapshot::Snapshot;
use rules_tests::conformance::{Case, cases};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// The catalogue, with what is kept of the rules of each version.
fn catalogue_with(rules: impl Fn(&ShippedVersion) -> Option<Snapshot>) -> Catalogue {
    let mut catalogue = rulesets::catalogue();
    let versions = Shipped::versions().iter().map(|version| ShippedVersion {
        rules: rules(version),
        ..*version
    });
    catalogue.reserve(versions.collect::<Vec<_>>().leak());
    catalogue
}

/// Nothing is kept, so that every text is read.
fn without() -> Catalogue {
    catalogue_with(|_| None)
}

/// Everything that a check or a list can take from rules.
fn pieces(rules: &Rules) -> Vec<String> {
    vec![
        format!("{:?}", rules.program()),
        format!("{:?}", rules.stages()),
        format!("{:?}", rules.cautions()),
        format!("{:?}", rules.relations()),
        format!("{:?}", rules.meters()),
        format!("{:?}", rules.limits()),
        format!("{:?}", rules.figures()),
        format!("{:?}", rules.sources()),
        format!("{:?}", rules.layers()),
        format!("{:?}", rules.loosened()),
        format!("{:?}", rules.notice()),
        format!("{:?}", rules.acceptance()),
        rules.digest_under(Acceptance::Guarded).to_owned(),
        rules.digest_under(Acceptance::Simple).to_owned(),
        rules.merged_json(),
        format!("{:?}", rules.catalogue().facts().collect::<Vec<_>>()),
        format!("{:?}", rules.catalogue().names().collect::<Vec<_>>()),
    ]
}

type Loaded = Result<Vec<String>, Vec<Problem>>;

/// The same, whatever the numbers of folds are: they only have to differ.
fn without_numbers(loaded: Loaded) -> Loaded {
    let number = regex::Regex::new(r"number: \d+").expect("a pattern");
    loaded.map(|pieces| {
        let pieces = pieces.iter();
        pieces
            .map(|one| number.replace_all(one, "").into_owned())
            .collect()
    })
}

fn loaded(names: &[&str], library: &dyn Library, catalogue: &Catalogue) -> Loaded {
    let rules = Rules::load(names, library, catalogue);
    rules
        .map(|rules| pieces(&rules))
        .map_err(ProblemList::into_vec)
}

#[test]
fn the_shipped_rules_are_what_their_texts_say() {
    let (kept, read) = (rulesets::catalogue(), without());
    for name in Shipped::names() {
        let rules = loaded(&[name], &Shipped, &kept);
        assert!(rules.is_ok(), "{name}: {rules:?}");
        assert_eq!(rules, loaded(&[name], &Shipped, &read), "{name}");
    }
}

#[test]
fn reports_by_both_are_the_same() {
    let [kept, read] = [rulesets::catalogue(), without()].map(|catalogue| {
        Rules::load(&["rescued-cells-measured"], &Shipped, &catalogue).expect("they load")
    });
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../rules-cli/demo");
    let mut compared = 0;
    for entry in std::fs::read_dir(folder).expect("the demos") {
        let path = entry.expect("an entry").path();
        let Ok(bytes) = std::fs::read(&path) else {
            continue; // a folder
        };
        let name = path.to_string_lossy().into_owned();
        let Ok(proposal) = Proposal::read(&name, bytes, Syntax::of_name(&name)) else {
            continue;
        };
        let report = |rules: &Rules| {
            let report = check(rules, &proposal, Options::default()).expect("a report");
            let json = serde_json::to_string(&report).expect("JSON");
            (json, text(&report, USUAL_WIDTH, &Plain))
        };
        assert_eq!(report(&kept), report(&read), "{name}");
        compared += 1;
    }
    assert!(compared >= 3, "{compared} demos");
}

/// Files that extend the shipped rules, each with others in the way that it needs.
const EXTENDING: [&str; 9] = [
    "extends: [rescued-cells]",
    "extends: [rescued-cells-measured, rescued-cells]",
    "extends: [rescued-cells]\nlimits: { aaa_most: { value: 3 V, stricter: lower, meaning: New } }
figures:
  double:
    about: each cell
    is: 2 * cell.rest_voltage - limit.aaa_most
    meaning: For the test
cautions:
  - { id: aaa, title: A, about: each cell, refuse_unless: cell.double <= 2 * limit.aaa_most, reason: '{cell.double}', remedy: Do }
  - { id: zzz, title: Z, about: build, warn_unless: max of cell.double <= 9 V, reason: Why, remedy: Do }",
    "extends: [rescued-cells]\nadjust: { cautions: { CAUTION: { drop: yes, because: For the test } } }",
    "extends: [rescued-cells]\nadjust: { cautions: { CAUTION: { drop: yes } } }",
    "extends: [rescued-cells]\nadjust: { acceptance: { to: simple, because: For the test } }",
    "extends: [rescued-cells]\nfacts: { cell.colour: { kind: choice, options: [red, blue], meaning: Colour } }",
    "extends: [rescued-cells]\nstages: { aaa: { title: First of all, refused: retire } }
adjust: { cautions: { CAUTION: { stage: aaa, because: For the test } } }",
    "extends: [rescued-cells]\ncautions: [{ id: CAUTION, title: A, about: build, refuse_unless: yes, reason: a, remedy: b }]",
];

fn headed(body: &str) -> String {
    format!("format: 1\nruleset: ours\nversion: 1.0.0\ntitle: Ours\n{body}\n")
}

#[test]
fn files_that_extend_the_shipped_rules_come_to_the_same() {
    let (kept, read) = (rulesets::catalogue(), without());
    let mut failed = Vec::new();
    let mut compare = |what: &str, names: &[&str], library: &dyn Library| {
        let [one, other] = [&kept, &read].map(|catalogue| loaded(names, library, catalogue));
        let (one, other) = (without_numbers(one), without_numbers(other));
        if one != other {
            failed.push(format!("{what}\n{one:.300?}\n{other:.300?}"));
        }
        one.is_ok()
    };
    let usual = Rules::load(&["rescued-cells"], &Shipped, &kept).expect("they load");
    let mut came = [0, 0];
    for body in EXTENDING {
        for (at, caution) in usual.cautions().iter().step_by(16).enumerate() {
            let text = headed(&body.replace("CAUTION", &caution.id));
            let library = Texts::of([("ours.yaml", text.as_str())]).or(Shipped);
            let names = match at {
                0 => &["ours.yaml", "rescued-cells-measured"][..],
                1 => &["rescued-cells", "ours.yaml"],
                _ => &["ours.yaml"],
            };
            came[usize::from(compare(&format!("{names:?} {text}"), names, &library))] += 1;
        }
    }
    for (at, limit) in usual.limits().iter().step_by(5).enumerate() {
        let all = [&*limit.written.value, "0 V", "4 V", "1", "1000 h"];
        let adjust = format!(
            "limits: {{ {}: {{ to: {}, because: A }} }}",
            limit.name,
            all[at % 5]
        );
        let text = headed(&format!("extends: [rescued-cells]\nadjust: {{ {adjust} }}"));
        let library = Texts::of([("ours.yaml", text.as_str())]).or(Shipped);
        came[usize::from(compare(&text, &["ours.yaml"], &library))] += 1;
    }
    // In formulas a ratio written as a whole number is a count.
    let adjust = "adjust: { limits: { health_floor: { to: 1 } } }";
    let text = headed(&format!("extends: [rescued-cells]\n{adjust}"));
    let library = Texts::of([("ours.yaml", text.as_str())]).or(Shipped);
    assert!(compare(&text, &["ours.yaml"], &library));
    assert!(came.iter().all(|count| *count > 9), "{came:?}");
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

/// Those that name a shipped ruleset; the others are read either way.
#[test]
fn conformance_cases_load_the_same() {
    let (kept, read) = (rulesets::catalogue(), without());
    let names_shipped = |case: &Case| case.files().values().any(|text| text.contains("rescued-"));
    for case in cases()
        .expect("the suite")
        .into_iter()
        .filter(names_shipped)
    {
        let library = Texts::of(case.files()).or(Shipped);
        let [one, other] = [&kept, &read]
            .map(|catalogue| without_numbers(loaded(&case.given(), &library, catalogue)));
        assert!(one == other, "{}\n{one:.300?}\n{other:.300?}", case.name);
    }
}

/// A library may give another text for the name of a shipped ruleset, or under another name.
#[test]
fn a_text_of_somebody_else_is_read() {
    let edited = "{ format: 1, ruleset: rescued-cells, version: 9.0.0, title: Edited }";
    let library = Texts::of([("rescued-cells", edited)]).or(Shipped);
    let kept = rulesets::catalogue();
    for name in ["rescued-cells", "rescued-cells-measured"] {
        assert!(loaded(&[name], &library, &kept).is_err(), "{name}");
    }
    let shipped = Shipped.find("rescued-cells", None).expect("it is shipped");
    let library = Texts::of([("copy.yaml", &*shipped.bytes)]).or(Shipped);
    let copy = loaded(&["copy.yaml"], &library, &kept);
    assert_eq!(copy, loaded(&["copy.yaml"], &library, &without()));
    assert!(copy.is_ok());
}

/// Rules are compiled for the numbers of a catalogue's facts.
#[test]
fn under_another_catalogue_texts_are_read() {
    let mut other = rulesets::catalogue();
    let (_, fact) = other.facts().next().expect("a fact");
    let more = rules_core::facts::FactDef {
        name: "of_somebody_else".into(),
        ..fact.clone()
    };
    other.add(more);
    let rules = Rules::load(&["rescued-cells"], &Shipped, &other).expect("they load");
    let last = rules.catalogue().facts().last().expect("a fact");
    assert_eq!(last.1.name, "of_somebody_else");
}

/// Whatever the bytes are, nothing panics; where they are no rules, the text is read.
#[test]
fn bytes_that_are_no_rules_do_no_harm() {
    let usual = Shipped::versions().first().and_then(|one| one.rules);
    let usual = usual.expect("rules are kept");
    let wanted = loaded(&["rescued-cells"], &Shipped, &without());
    for length in (0..usual.bytes.len()).step_by(usual.bytes.len() / 11) {
        let bytes = usual.bytes.get(..length).expect("a part");
        let cut = catalogue_with(|_| Some(Snapshot { bytes, ..usual }));
        assert_eq!(loaded(&["rescued-cells"], &Shipped, &cut), wanted);
    }
    for at in (0..usual.bytes.len()).step_by(usual.bytes.len() / 199) {
        let mut bytes = usual.bytes.to_vec();
        bytes[at] ^= 0x55;
        let bytes = bytes.leak();
        let changed = catalogue_with(|_| Some(Snapshot { bytes, ..usual }));
        drop(Rules::load(&["rescued-cells"], &Shipped, &changed));
    }
}

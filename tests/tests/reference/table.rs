//! Reads a table, runs its rows and says what was run.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::PathBuf;

use serde::de::DeserializeOwned;
use serde_json::Value;

/// Nothing, or the difference of a row from what the table says.
pub(crate) type Outcome = Result<(), String>;

/// A row that cannot be run, by its id, and why.
pub(crate) type LeftOut = (&'static str, &'static str);

/// A row that is run and that the project does not meet.
pub(crate) struct NotMet {
    pub(crate) id: &'static str,
    /// Words of what it comes to instead, so that no other fault hides behind it.
    pub(crate) comes_to: &'static str,
    pub(crate) why: &'static str,
}

/// One list of rows of a table.
pub(crate) struct Part {
    name: String,
    rows: Vec<Value>,
}

/// The rows that do not simply have to hold.
#[derive(Default)]
pub(crate) struct Exceptions<'e> {
    pub(crate) left_out: &'e [LeftOut],
    /// A row that is met has to leave the list.
    pub(crate) not_met: &'e [NotMet],
}

/// A table as JSON.
pub(crate) fn read(table: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("reference")
        .join(format!("{table}.json"));
    let text =
        std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{table}.json: {error}"));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{table}.json: {error}"))
}

impl Part {
    /// A list of a table. `count` is how many rows it has: none may be lost unseen.
    pub(crate) fn read(table: &str, part: &str, count: usize) -> Self {
        let name = format!("{table}.json, {part}");
        let mut table = read(table);
        let Value::Array(rows) = table[part].take() else {
            panic!("{name}: there is no such list")
        };
        assert_eq!(
            rows.len(),
            count,
            "{name}: the number of rows has changed; if that is meant, change it here too"
        );
        Self { name, rows }
    }

    /// The row of an id.
    pub(crate) fn row(&self, id: &str) -> &Value {
        self.rows
            .iter()
            .find(|row| row["id"] == id)
            .unwrap_or_else(|| panic!("{}: there is no row {id}", self.name))
    }

    /// Runs every row that has to hold.
    pub(crate) fn run<R: DeserializeOwned>(&self, check: impl Fn(&R) -> Outcome) {
        self.run_with(&Exceptions::default(), check);
    }

    /// Runs every row that can be run, prints how many those are, and fails if one gives otherwise.
    pub(crate) fn run_with<R: DeserializeOwned>(
        &self,
        exceptions: &Exceptions<'_>,
        check: impl Fn(&R) -> Outcome,
    ) {
        let faults = self.faults(exceptions, check);
        self.say(exceptions);
        assert!(
            faults.is_empty(),
            "{}: {} of {} rows\n{}",
            self.name,
            faults.len(),
            self.rows.len(),
            faults.join("\n")
        );
    }

    fn faults<R: DeserializeOwned>(
        &self,
        exceptions: &Exceptions<'_>,
        check: impl Fn(&R) -> Outcome,
    ) -> Vec<String> {
        let left_out: BTreeSet<&str> = exceptions.left_out.iter().map(|(id, _)| *id).collect();
        let not_met: BTreeMap<&str, &NotMet> =
            exceptions.not_met.iter().map(|row| (row.id, row)).collect();
        let mut unused: BTreeSet<&str> = left_out.iter().chain(not_met.keys()).copied().collect();
        let mut faults = Vec::new();
        for row in &self.rows {
            let id = row["id"].as_str().unwrap_or("(no id)");
            unused.remove(id);
            if !left_out.contains(id) {
                faults.extend(fault(id, not_met.get(id).copied(), one(row, &check)));
            }
        }
        faults.extend(
            unused.into_iter().map(|id| {
                format!("{id}: is listed as an exception, but the table has no such row")
            }),
        );
        faults
    }

    /// Straight to the stream: what the test harness holds back unless a test fails would be
    /// skipping in silence.
    fn say(&self, exceptions: &Exceptions<'_>) {
        let (skipped, not_met) = (exceptions.left_out.len(), exceptions.not_met.len());
        let mut text = format!(
            "reference: {}: {} rows run, {not_met} of them not met, {skipped} skipped",
            self.name,
            self.rows.len() - skipped
        );
        for (why, rows) in by_reason(exceptions.not_met.iter().map(|row| (row.id, row.why))) {
            let _ = write!(text, "\n    not met: {rows}: {why}");
        }
        for (why, rows) in by_reason(exceptions.left_out.iter().copied()) {
            let _ = write!(text, "\n    skipped: {rows}: {why}");
        }
        let _ = writeln!(std::io::stderr().lock(), "{text}");
    }
}

fn one<R: DeserializeOwned>(row: &Value, check: &impl Fn(&R) -> Outcome) -> Outcome {
    let mut row = row.clone();
    if let Some(map) = row.as_object_mut() {
        // What every row may say of itself and no check depends on.
        for key in [
            "id", "known", "source", "sources", "note", "at", "group", "made", "why",
        ] {
            map.remove(key);
        }
    }
    let row =
        serde_json::from_value(row).map_err(|error| format!("the row cannot be read: {error}"))?;
    check(&row)
}

fn fault(id: &str, not_met: Option<&NotMet>, outcome: Outcome) -> Option<String> {
    match (outcome, not_met) {
        (Ok(()), None) => None,
        (Err(what), None) => Some(format!("{id}: {what}")),
        (Ok(()), Some(_)) => Some(format!(
            "{id}: is listed as not met, but it is met: take it off the list"
        )),
        (Err(what), Some(row)) if what.contains(row.comes_to) => None,
        (Err(what), Some(row)) => Some(format!(
            "{id}: is listed as not met because \"{}\", but {what}",
            row.comes_to
        )),
    }
}

/// The ids of each reason, reasons in the order in which they first appear.
fn by_reason<'l>(list: impl Iterator<Item = (&'l str, &'l str)>) -> Vec<(&'l str, String)> {
    let mut reasons: Vec<(&str, String)> = Vec::new();
    for (id, why) in list {
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, ids)) => *ids = format!("{ids}, {id}"),
            None => reasons.push((why, id.to_owned())),
        }
    }
    reasons
}

/// Fails with both sides unless they are equal.
pub(crate) fn same<T: PartialEq + std::fmt::Debug>(what: &str, found: &T, expected: &T) -> Outcome {
    if found == expected {
        Ok(())
    } else {
        Err(format!("{what} is {found:?}, not {expected:?}"))
    }
}

/// A double from the text of a table: a decimal or `p/q`, rounded once.
pub(crate) fn double(text: &str) -> f64 {
    let read = |text: &str| {
        text.parse::<f64>()
            .unwrap_or_else(|_| panic!("`{text}` is no number"))
    };
    // Both parts are whole numbers that doubles hold exactly, so that the quotient is rounded once
    // too.
    text.split_once('/')
        .map_or_else(|| read(text), |(over, under)| read(over) / read(under))
}

/// How many doubles there are from one to the other: 0 for the same, 1 for neighbours. Zero has no
/// sign.
pub(crate) fn doubles_apart(x: f64, y: f64) -> u64 {
    let place = |x: f64| {
        let bits = i64::from_ne_bytes((x + 0.0).to_ne_bytes());
        if bits < 0 { i64::MIN - bits } else { bits }
    };
    place(x).abs_diff(place(y))
}

#[test]
fn exceptions_hide_nothing() {
    let listed = NotMet {
        id: "row",
        comes_to: "says Pass",
        why: "a reason",
    };
    assert_eq!(fault("row", None, Ok(())), None);
    assert!(fault("row", None, Err("says Warn".to_owned())).is_some());
    assert_eq!(
        fault(
            "row",
            Some(&listed),
            Err("it says Pass, not Warn".to_owned())
        ),
        None
    );
    assert!(
        fault(
            "row",
            Some(&listed),
            Err("the row cannot be read".to_owned())
        )
        .is_some()
    );
    assert!(fault("row", Some(&listed), Ok(())).is_some());
}

#[test]
fn an_exception_without_a_row_is_a_fault() {
    let part = Part {
        name: "a table".to_owned(),
        rows: vec![serde_json::json!({ "id": "row" })],
    };
    let listed = |left_out: &[LeftOut]| {
        part.faults(
            &Exceptions {
                left_out,
                ..Exceptions::default()
            },
            |_: &Value| Ok(()),
        )
    };
    assert!(listed(&[("row", "a reason")]).is_empty());
    assert_eq!(listed(&[("another", "a reason")]).len(), 1);
}

#[test]
fn doubles_are_counted() {
    assert_eq!(doubles_apart(0.0, -0.0), 0);
    assert_eq!(doubles_apart(1.0, 1.0_f64.next_up()), 1);
    assert_eq!(doubles_apart(-0.0_f64.next_up(), 0.0_f64.next_up()), 2);
    assert_eq!(doubles_apart(f64::MAX, f64::INFINITY), 1);
    assert_eq!(double("1/3600").to_string(), (1.0 / 3600.0).to_string());
}

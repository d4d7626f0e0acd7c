//! Reading the tables, and telling what came of them.

use std::collections::BTreeMap;
use std::path::PathBuf;

use rules_core::quantity::Interval;
use rulesets::class::Class;

/// A row, by the names of its columns.
pub(crate) type Row = BTreeMap<String, String>;

/// All rows of the tables of a name, of the first sets and of the further ones.
pub(crate) fn rows(name: &str) -> Vec<Row> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/discharge");
    let files = [format!("{name}.csv"), format!("more_{name}.csv")].map(|file| folder.join(file));
    let texts: Vec<String> = files
        .iter()
        .filter(|path| path.exists())
        .map(|path| std::fs::read_to_string(path).unwrap())
        .collect();
    assert!(!texts.is_empty(), "{name}");
    texts.iter().flat_map(|text| parsed(text)).collect()
}

pub(crate) fn parsed(text: &str) -> Vec<Row> {
    let mut lines = text.lines();
    let heads: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            heads
                .iter()
                .map(|head| (*head).to_owned())
                .zip(line.split(',').map(str::to_owned))
                .collect()
        })
        .collect()
}

/// The number of a column; none where it is empty.
pub(crate) fn number(row: &Row, column: &str) -> Option<f64> {
    row[column].parse().ok()
}

/// What a set is.
#[derive(Clone, Copy)]
pub(crate) struct Set {
    pub(crate) class: Class,
    /// 10-second resistance at 25 degC and half charge, in ohms.
    pub(crate) r10: f64,
}

/// All sets by name.
pub(crate) fn sets() -> BTreeMap<String, Set> {
    let class = |row: &Row| match row["class"].as_str() {
        "ICR" => Class::Icr,
        "INR" => Class::Inr,
        _ => Class::Ifr,
    };
    let classes: BTreeMap<String, Class> = rows("sets")
        .iter()
        .map(|row| (row["set"].clone(), class(row)))
        .collect();
    let half = rows("resistance")
        .into_iter()
        .filter(|row| row["temperature_c"] == "25" && row["soc_percent"] == "50");
    let sets: BTreeMap<String, Set> = half
        .map(|row| {
            (
                row["set"].clone(),
                Set {
                    class: classes[&row["set"]],
                    r10: number(&row, "r_10s_mohm").unwrap() / 1000.0,
                },
            )
        })
        .collect();
    assert_eq!(sets.len(), 12);
    sets
}

/// How many values of a group lay inside, and how wide the intervals were.
#[derive(Default)]
struct Group {
    inside: usize,
    all: usize,
    widths: f64,
    below: f64,
    above: f64,
}

/// What came of a table.
#[derive(Default)]
pub(crate) struct Coverage {
    groups: BTreeMap<String, Group>,
    outside: Vec<String>,
}

impl Coverage {
    /// Adds a value with its stated interval, measured by `scale` (a nominal value for parts, 1 for
    /// volts).
    pub(crate) fn add(
        &mut self,
        group: &str,
        what: &str,
        stated: Interval,
        actual: f64,
        scale: f64,
    ) {
        let of = self.groups.entry(group.to_owned()).or_default();
        of.all += 1;
        if stated.contains(actual) {
            of.inside += 1;
        } else {
            self.outside.push(format!(
                "{group}: {what}: {actual} is not in {}..{}",
                stated.lo(),
                stated.hi()
            ));
        }
        of.widths += stated.width().min(1e6) / scale;
        of.below += (actual - stated.lo()) / scale;
        of.above += (stated.hi() - actual).min(1e6) / scale;
    }

    /// Prints the table and fails on any row outside.
    pub(crate) fn finish(self, title: &str, at_least: usize) {
        println!(
            "\n{title}\n{:<44} {:>7} {:>8} {:>9} {:>9} {:>9}",
            "", "rows", "inside", "width", "below", "above"
        );
        for (name, group) in &self.groups {
            let mean = |sum: f64| sum / f64::from(u32::try_from(group.all).unwrap());
            let percent = 100.0 * mean(f64::from(u32::try_from(group.inside).unwrap()));
            println!(
                "{name:<44} {:>7} {percent:>7.1}% {:>9.3} {:>9.3} {:>9.3}",
                group.all,
                mean(group.widths),
                mean(group.below),
                mean(group.above)
            );
        }
        let all: usize = self.groups.values().map(|group| group.all).sum();
        assert!(all >= at_least, "only {all} rows were compared");
        assert!(
            self.outside.is_empty(),
            "{} of {all} outside:\n{}",
            self.outside.len(),
            self.outside[..self.outside.len().min(40)].join("\n")
        );
    }
}

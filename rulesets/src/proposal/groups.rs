//! Which cells form which parallel group.

use std::collections::BTreeMap;

use super::arrangement::Arrangement;

/// A group: its name and the positions of its cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group {
    /// What reports call it.
    pub name: String,
    /// Whether its cells call it so.
    pub stated: bool,
    pub members: Vec<usize>,
    /// How many groups of such members there are.
    pub count: usize,
}

/// The groups of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Grouping {
    /// They are known.
    Settled(Vec<Group>),
    /// It is not known which cells are together.
    Unsettled,
    /// What the cells say does not agree with the arrangement.
    Wrong(String),
}

/// A cell as far as grouping goes, or all that are not listed.
#[derive(Debug, Clone)]
pub(super) struct GroupedCell<'s> {
    pub name: &'s str,
    pub label: Option<&'s str>,
    /// How many it stands for.
    pub count: usize,
}

/// Groups cells by the arrangement and by the groups they name. Their order does not matter.
pub(super) fn group(
    arrangement: Arrangement,
    cells: &[GroupedCell<'_>],
    listed: usize,
) -> Grouping {
    let labels: BTreeMap<&str, Vec<usize>> = labelled(cells);
    if let Some(message) = disagreement(arrangement, &labels) {
        return Grouping::Wrong(message);
    }
    match (arrangement.series, arrangement.parallel) {
        (_, 1) => Grouping::Settled(cells.iter().enumerate().map(alone).collect()),
        _ if listed > arrangement.cells() => Grouping::Unsettled,
        (1, _) => Grouping::Settled(vec![all_in_one(cells, &labels)]),
        _ if listed < arrangement.cells() || cells.iter().any(|cell| cell.label.is_none()) => {
            Grouping::Unsettled
        }
        _ => Grouping::Settled(labels.into_iter().map(named).collect()),
    }
}

/// What the cells say that is impossible with this arrangement, however many of them are listed.
fn disagreement(arrangement: Arrangement, labels: &BTreeMap<&str, Vec<usize>>) -> Option<String> {
    let Arrangement { series, parallel } = arrangement;
    if let Some((label, members)) = labels.iter().find(|(_, cells)| cells.len() > parallel) {
        let members = members.len();
        return Some(format!(
            "group `{label}` has {members} cells, but {arrangement} has {parallel} in each"
        ));
    }
    let groups = labels.len();
    (groups > series)
        .then(|| format!("the cells name {groups} groups, but {arrangement} has {series}"))
}

/// A group of one cell, or for cells that are not listed as many such groups as they are.
fn alone((at, cell): (usize, &GroupedCell<'_>)) -> Group {
    Group {
        name: cell.label.unwrap_or(cell.name).to_owned(),
        stated: cell.label.is_some(),
        members: vec![at],
        count: cell.count,
    }
}

/// The only group, which may have a name.
fn all_in_one(cells: &[GroupedCell<'_>], labels: &BTreeMap<&str, Vec<usize>>) -> Group {
    Group {
        name: labels.keys().next().map_or("1", |label| label).to_owned(),
        stated: !labels.is_empty(),
        members: (0..cells.len()).collect(),
        count: 1,
    }
}

fn named((label, members): (&str, Vec<usize>)) -> Group {
    Group {
        name: label.to_owned(),
        stated: true,
        members,
        count: 1,
    }
}

fn labelled<'s>(cells: &[GroupedCell<'s>]) -> BTreeMap<&'s str, Vec<usize>> {
    let mut labels: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, cell) in cells.iter().enumerate() {
        if let Some(label) = cell.label {
            labels.entry(label).or_default().push(at);
        }
    }
    labels
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells<'s>(labels: &[&'s str]) -> Vec<GroupedCell<'s>> {
        let names = ["K0", "K1", "K2", "K3", "K4"];
        names
            .into_iter()
            .zip(labels)
            .map(|(name, label)| GroupedCell {
                name,
                label: Some(*label).filter(|label| !label.is_empty()),
                count: 1,
            })
            .collect()
    }

    fn grouped(arrangement: &str, labels: &[&str]) -> Grouping {
        group(
            Arrangement::parse(arrangement).expect("an arrangement"),
            &cells(labels),
            labels.len(),
        )
    }

    fn members(grouping: Grouping) -> Vec<Vec<usize>> {
        let Grouping::Settled(groups) = grouping else {
            panic!("{grouping:?}")
        };
        groups.into_iter().map(|group| group.members).collect()
    }

    #[test]
    fn one_in_each_or_all_in_one_needs_no_names() {
        assert_eq!(members(grouped("2S1P", &["", ""])), [vec![0], vec![1]]);
        assert_eq!(members(grouped("1S3P", &["", "", ""])), [vec![0, 1, 2]]);
    }

    #[test]
    fn groups_in_series_need_names() {
        assert_eq!(
            members(grouped("2S2P", &["B", "A", "A", "B"])),
            [vec![1, 2], vec![0, 3]]
        );
        assert_eq!(grouped("2S2P", &["A", "A", "B", ""]), Grouping::Unsettled);
        assert_eq!(grouped("2S2P", &["A", "A", "B"]), Grouping::Unsettled);
    }

    #[test]
    fn cells_that_are_not_listed_form_groups_as_others_do() {
        let mut all = cells(&[""]);
        all.push(GroupedCell {
            name: "(not listed)",
            label: None,
            count: 3,
        });
        let grouped = |arrangement: &str| {
            group(
                Arrangement::parse(arrangement).expect("an arrangement"),
                &all,
                1,
            )
        };
        let told = |grouping: Grouping| match grouping {
            Grouping::Settled(groups) => groups
                .into_iter()
                .map(|group| (group.members, group.count))
                .collect(),
            _ => Vec::new(),
        };
        assert_eq!(told(grouped("4S1P")), [(vec![0], 1), (vec![1], 3)]);
        assert_eq!(told(grouped("1S4P")), [(vec![0, 1], 1)]);
        assert_eq!(grouped("2S2P"), Grouping::Unsettled);
    }

    #[test]
    fn names_that_do_not_agree_are_wrong() {
        assert!(matches!(
            grouped("2S2P", &["A", "A", "A", "B"]),
            Grouping::Wrong(_)
        ));
        assert!(matches!(
            grouped("2S2P", &["A", "B", "C", "A"]),
            Grouping::Wrong(_)
        ));
        assert!(matches!(grouped("2S1P", &["A", "A"]), Grouping::Wrong(_)));
        assert!(matches!(grouped("1S2P", &["A", "B"]), Grouping::Wrong(_)));
    }

    #[test]
    fn too_many_cells_settle_nothing() {
        assert_eq!(grouped("1S2P", &["", "", ""]), Grouping::Unsettled);
        assert_eq!(
            grouped("2S2P", &["A", "A", "B", "B", ""]),
            Grouping::Unsettled
        );
    }

    #[test]
    fn too_many_cells_excuse_no_name() {
        assert!(matches!(
            grouped("2S1P", &["A", "B", "C"]),
            Grouping::Wrong(_)
        ));
        assert!(matches!(
            grouped("1S2P", &["A", "A", "A"]),
            Grouping::Wrong(_)
        ));
        assert_eq!(members(grouped("2S1P", &["A", "B", ""])).len(), 3);
    }
}

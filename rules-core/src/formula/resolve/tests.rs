use super::*;
use crate::formula::parse;
use crate::formula::typed::{FigureId, LimitId};
use crate::quantity::Kind;

/// Resolves formulas against the facts of the trade, a limit `limit.floor` of a voltage, a figure
/// `cell.load` of a current, and `cell.broken` and `lamp.broken`, of which the definitions are at
/// fault.
struct Desk {
    catalogue: Catalogue,
    limits: BTreeMap<String, (LimitId, Kind)>,
    figures: BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    faulty: BTreeSet<String>,
}

impl Desk {
    fn new() -> Self {
        let catalogue = crate::catalogue();
        let cell = catalogue
            .subject_named("cell")
            .expect("a cell is a subject");
        let load = (
            FigureId(0),
            cell,
            FigureSort::Number(Sort::of(Kind::Current)),
        );
        Self {
            limits: BTreeMap::from([("floor".to_owned(), (LimitId(0), Kind::Voltage))]),
            figures: BTreeMap::from([("cell.load".to_owned(), load)]),
            faulty: BTreeSet::from(["cell.broken".to_owned(), "lamp.broken".to_owned()]),
            catalogue,
        }
    }

    fn resolve<T>(
        &self,
        about: &str,
        of: impl FnOnce(Option<SubjectId>, &Vocabulary<'_>) -> T,
    ) -> T {
        let (folds, suggestions) = (Cell::new(0), Suggestions::default());
        let Self {
            catalogue,
            limits,
            figures,
            faulty,
        } = self;
        let vocabulary = Vocabulary {
            catalogue,
            limits,
            figures,
            faulty,
            folds: &folds,
            unread: Unread::default(),
            suggestions: &suggestions,
        };
        of(catalogue.subject_named(about), &vocabulary)
    }

    fn condition(&self, about: &str, text: &str) -> Resolved<Condition> {
        let tree = parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        self.resolve(about, |about, vocabulary| {
            resolve_condition(&tree, about, vocabulary)
        })
    }

    /// The faults of a condition, each with the text it stands at.
    fn faults(&self, about: &str, text: &str) -> Vec<(Fault, String)> {
        let found = self.condition(about, text).err().unwrap_or_default();
        found
            .into_iter()
            .map(|fault| {
                (
                    fault.fault,
                    text.get(fault.span).unwrap_or_default().to_owned(),
                )
            })
            .collect()
    }
}

use Fault::{KindsDiffer, NestedFold, OutOfScope, UnknownName, UnknownOption};

/// A subject, a formula about it, and all its faults.
type Row<'t> = (&'t str, &'t str, &'t [(Fault, &'t str)]);

fn all_as_expected(table: &[Row<'_>]) {
    let desk = Desk::new();
    for (about, text, expected) in table {
        let found = desk.faults(about, text);
        let found: Vec<(Fault, &str)> = found
            .iter()
            .map(|(fault, at)| (*fault, at.as_str()))
            .collect();
        assert_eq!(found, *expected, "{text}");
        assert!(desk.condition(about, text).is_err(), "{text}");
    }
}

#[test]
fn each_fault_is_told_with_what_was_meant() {
    let text = "cell.rest_voltge >= 3 V and cell.capcity_ratio >= 80 and limit.flor <= 2 A";
    let faults = Desk::new()
        .condition("cell", text)
        .expect_err("three faults");
    let told: Vec<(&str, &str)> = faults
        .iter()
        .map(|fault| {
            (
                text.get(fault.span.clone()).unwrap_or_default(),
                fault.help.as_str(),
            )
        })
        .collect();
    let expected = [
        ("cell.rest_voltge", "did you mean `cell.rest_voltage`?"),
        ("cell.capcity_ratio", "did you mean `cell.capacity_ratio`?"),
        ("limit.flor", "did you mean `limit.floor`?"),
    ];
    assert_eq!(told, expected);
}

#[test]
fn every_part_of_a_condition_is_looked_at() {
    all_as_expected(&[
        (
            "cell",
            "cell.a or not cell.b or cell.c",
            &[
                (UnknownName, "cell.a"),
                (UnknownName, "cell.b"),
                (UnknownName, "cell.c"),
            ],
        ),
        (
            "cell",
            "cell.rest_voltage >= 3 and (cell.wrap or cell.id == cell.wrap)",
            &[
                (KindsDiffer, "cell.rest_voltage >= 3"),
                (KindsDiffer, "cell.wrap"),
                (KindsDiffer, "cell.id == cell.wrap"),
            ],
        ),
        (
            "cell",
            "cell.wrap in [intact, gone, lost]",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "cell",
            "cell.wrap == gone or cell.wrap != lost",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "light",
            "cell.rest_voltage > 3 V and cell.load > 1 A",
            &[(OutOfScope, "cell.rest_voltage"), (OutOfScope, "cell.load")],
        ),
    ]);
}

#[test]
fn every_part_of_a_number_is_looked_at() {
    all_as_expected(&[
        (
            "cell",
            "cell.a + limit.b - cell.c > 3 V",
            &[
                (UnknownName, "cell.a"),
                (UnknownName, "limit.b"),
                (UnknownName, "cell.c"),
            ],
        ),
        (
            "cell",
            "cell.a * cell.wrap / cell.c > 3 V",
            &[
                (UnknownName, "cell.a"),
                (KindsDiffer, "cell.wrap"),
                (UnknownName, "cell.c"),
            ],
        ),
        (
            "cell",
            "conditions.ambient * 2 / charging.ambient > 3",
            &[
                (KindsDiffer, "conditions.ambient"),
                (KindsDiffer, "charging.ambient"),
            ],
        ),
        (
            "cell",
            "min(cell.a, 3 V, max(cell.wrap, cell.c)) > -cell.d",
            &[
                (UnknownName, "cell.a"),
                (KindsDiffer, "cell.wrap"),
                (UnknownName, "cell.c"),
                (UnknownName, "cell.d"),
            ],
        ),
    ]);
}

/// One side of it is enough for a part not to be judged.
#[test]
fn what_rests_on_a_fault_is_not_told_again() {
    all_as_expected(&[
        ("cell", "cell.a >= 3 V", &[(UnknownName, "cell.a")]),
        ("cell", "limit.a == intact", &[(UnknownName, "limit.a")]),
        ("cell", "intact == limit.a", &[(UnknownName, "limit.a")]),
        (
            "cell",
            "cell.a in [intact, gone]",
            &[(UnknownName, "cell.a")],
        ),
        ("cell", "cell.a is known", &[(UnknownName, "cell.a")]),
        (
            "cell",
            "3 V + cell.a + 2 A > 1 mm",
            &[(UnknownName, "cell.a")],
        ),
        (
            "cell",
            "min(3 V, cell.a, 2 A) > 1 mm",
            &[(UnknownName, "cell.a")],
        ),
        (
            "cell",
            "(3 V + 2 A) * cell.wrap > (1 mm == 3 V)",
            &[
                (KindsDiffer, "3 V + 2 A"),
                (KindsDiffer, "cell.wrap"),
                (KindsDiffer, "1 mm == 3 V"),
            ],
        ),
        ("cell", "abs(cell.a) > 3 V", &[(UnknownName, "cell.a")]),
        (
            "light",
            "distinct of cell.a > 3 V",
            &[(UnknownName, "cell.a")],
        ),
        ("light", "sum of cell.a > 3 V", &[(UnknownName, "cell.a")]),
        (
            "light",
            "spread of cell.wrap > 3 V",
            &[(KindsDiffer, "cell.wrap")],
        ),
    ]);
}

/// A definition that is at fault is told where it stands.
#[test]
fn what_rests_on_a_faulty_definition_has_no_fault_of_its_own() {
    all_as_expected(&[
        ("cell", "cell.broken >= 3 V", &[]),
        ("light", "cell.broken", &[]),
        ("light", "max of lamp.broken > 3 V", &[]),
        (
            "cell",
            "cell.broken >= 3 V and cell.a >= 3 V",
            &[(UnknownName, "cell.a")],
        ),
    ]);
    let broken = parse("cell.broken").expect("a formula");
    let desk = Desk::new();
    assert_eq!(
        desk.resolve("cell", |about, vocabulary| resolve_figure(
            &broken, about, vocabulary
        )),
        Err(Vec::new())
    );
    assert_eq!(
        desk.resolve("cell", |about, vocabulary| resolve_placeholder(
            &broken, about, vocabulary
        )),
        Err(Vec::new())
    );
}

/// Whatever the other side would be.
#[test]
fn what_has_no_order_is_told_beside_a_fault() {
    for order in ["<", "<=", ">", ">="] {
        all_as_expected(&[
            (
                "cell",
                &format!("cell.a {order} cell.wrap"),
                &[(UnknownName, "cell.a"), (KindsDiffer, "cell.wrap")],
            ),
            (
                "cell",
                &format!("cell.id {order} cell.a"),
                &[(UnknownName, "cell.a"), (KindsDiffer, "cell.id")],
            ),
            (
                "cell",
                &format!("cell.a {order} cell.protected"),
                &[(UnknownName, "cell.a"), (KindsDiffer, "cell.protected")],
            ),
            (
                "cell",
                &format!("cell.a {order} three"),
                &[(UnknownName, "cell.a"), (UnknownName, "three")],
            ),
            (
                "cell",
                &format!("three {order} 3 V"),
                &[(UnknownName, "three")],
            ),
        ]);
    }
    for equal in ["==", "!="] {
        all_as_expected(&[
            (
                "cell",
                &format!("cell.a {equal} cell.wrap"),
                &[(UnknownName, "cell.a")],
            ),
            (
                "cell",
                &format!("cell.protected {equal} cell.a"),
                &[(UnknownName, "cell.a")],
            ),
        ]);
    }
}

#[test]
fn what_has_no_order_is_told_of_choices() {
    for order in ["<", "<=", ">", ">="] {
        all_as_expected(&[
            (
                "cell",
                &format!("cell.wrap {order} gone"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("cell.wrap {order} gone")),
                ],
            ),
            (
                "cell",
                &format!("gone {order} cell.wrap"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("gone {order} cell.wrap")),
                ],
            ),
            (
                "cell",
                &format!("cell.wrap {order} intact"),
                &[(KindsDiffer, &format!("cell.wrap {order} intact"))],
            ),
            (
                "cell",
                &format!("cell.wrap {order} cell.wrap"),
                &[(KindsDiffer, &format!("cell.wrap {order} cell.wrap"))],
            ),
            (
                "cell",
                &format!("cell.wrap {order} 3 V"),
                &[(KindsDiffer, &format!("cell.wrap {order} 3 V"))],
            ),
        ]);
    }
}

#[test]
fn known_is_asked_of_one_fact() {
    all_as_expected(&[
        ("cell", "cell.load is known", &[(KindsDiffer, "cell.load")]),
        (
            "cell",
            "(cell.a + 1 V) is known",
            &[(UnknownName, "cell.a"), (KindsDiffer, "cell.a + 1 V")],
        ),
        (
            "cell",
            "(cell.protected == yes) is known",
            &[(KindsDiffer, "cell.protected == yes")],
        ),
    ]);
}

#[test]
fn the_inside_of_a_faulty_fold_is_looked_at() {
    all_as_expected(&[
        (
            "light",
            "every lamp has cell.a > 3 V",
            &[(UnknownName, "lamp"), (UnknownName, "cell.a")],
        ),
        (
            "light",
            "every light has cell.rest_voltage > 3",
            &[
                (UnknownName, "light"),
                (KindsDiffer, "cell.rest_voltage > 3"),
            ],
        ),
        (
            "light",
            "any lamp has cell.protected",
            &[(UnknownName, "lamp")],
        ),
        (
            "light",
            "(count of lamps where cell.wrap == gone) > 1",
            &[(UnknownName, "lamps"), (UnknownOption, "gone")],
        ),
        (
            "light",
            "(count of lamps where cell.protected) > 1 V",
            &[(UnknownName, "lamps")],
        ),
        (
            "light",
            "every cell has (any cell has cell.a)",
            &[(NestedFold, "any cell has cell.a"), (UnknownName, "cell.a")],
        ),
        (
            "light",
            "every cell has (max of (max of cell.a) > 3 V)",
            &[
                (NestedFold, "max of (max of cell.a)"),
                (NestedFold, "max of cell.a"),
                (UnknownName, "cell.a"),
            ],
        ),
    ]);
}

/// What stands after a fold is seen from outside it again.
#[test]
fn a_fold_ends_where_it_ends() {
    all_as_expected(&[
        (
            "light",
            "max of cell.a > cell.rest_voltage",
            &[(UnknownName, "cell.a"), (OutOfScope, "cell.rest_voltage")],
        ),
        (
            "light",
            "every lamp has cell.protected and cell.protected",
            &[(UnknownName, "lamp"), (OutOfScope, "cell.protected")],
        ),
        (
            "light",
            "every cell has group.a or max of cell.b > 3 V",
            &[(UnknownName, "group.a"), (UnknownName, "cell.b")],
        ),
    ]);
    assert!(
        Desk::new()
            .condition(
                "light",
                "max of cell.rest_voltage > 3 V and any cell has cell.protected"
            )
            .is_ok()
    );
}

/// An unknown subject may be meant for one of many.
#[test]
fn nothing_to_fold_is_told_where_it_is_sure() {
    all_as_expected(&[
        (
            "light",
            "max of light.draw_current > 3 A",
            &[(KindsDiffer, "light.draw_current")],
        ),
        (
            "light",
            "max of limit.a > 3 A",
            &[(KindsDiffer, "limit.a"), (UnknownName, "limit.a")],
        ),
        (
            "light",
            "distinct of light.a > 3",
            &[(KindsDiffer, "light.a"), (UnknownName, "light.a")],
        ),
        (
            "light",
            "max of cel.rest_voltage > 3 V",
            &[(UnknownName, "cel.rest_voltage")],
        ),
        (
            "light",
            "max of (limit.floor + cel.rest_voltage) > 3 V",
            &[(UnknownName, "cel.rest_voltage")],
        ),
    ]);
}

/// Nothing is out of sight of what is not known itself.
#[test]
fn about_nothing_everything_is_seen() {
    all_as_expected(&[(
        "lamp",
        "cell.rest_voltage > group.a and light.b > cell.load",
        &[(UnknownName, "group.a"), (UnknownName, "light.b")],
    )]);
    assert!(
        Desk::new()
            .condition(
                "lamp",
                "cell.rest_voltage > limit.floor and max of cell.load > 1 A"
            )
            .is_ok()
    );
}

/// As many unknown names as fit the words and signs of a formula.
#[test]
fn the_fullest_formula_is_told_whole() {
    let names: Vec<String> = (0..crate::bounds::MOST_TOKENS / 2)
        .map(|number| format!("cell.x{number}"))
        .collect();
    let found = Desk::new().faults("cell", &names.join(" or "));
    assert_eq!(
        found.into_iter().map(|(_, at)| at).collect::<Vec<_>>(),
        names
    );
}

use super::*;
use crate::formula::parse;
use crate::formula::typed::{FigureId, LimitId};
use crate::quantity::Kind;

/// Resolves formulas against the facts of the trade, a limit `limit.floor` of a voltage, a figure
/// `cable.load` of a current, and `cable.broken` and `lamp.broken`, of which the definitions are at
/// fault.
struct Desk {
    catalogue: Catalogue,
    limits: BTreeMap<String, (LimitId, Kind)>,
    figures: BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    faulty: BTreeSet<String>,
}

impl Desk {
    fn new() -> Self {
        let catalogue = crate::heating::catalogue();
        let cable = catalogue
            .subject_named("cable")
            .expect("a cable is a subject");
        let load = (
            FigureId(0),
            cable,
            FigureSort::Number(Sort::of(Kind::Current)),
        );
        Self {
            limits: BTreeMap::from([("floor".to_owned(), (LimitId(0), Kind::Voltage))]),
            figures: BTreeMap::from([("cable.load".to_owned(), load)]),
            faulty: BTreeSet::from(["cable.broken".to_owned(), "lamp.broken".to_owned()]),
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
    let text = "cable.drp >= 3 V and cable.lod_ratio >= 80 and limit.flor <= 2 A";
    let faults = Desk::new()
        .condition("cable", text)
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
        ("cable.drp", "did you mean `cable.drop`?"),
        ("cable.lod_ratio", "did you mean `cable.load_ratio`?"),
        ("limit.flor", "did you mean `limit.floor`?"),
    ];
    assert_eq!(told, expected);
}

#[test]
fn every_part_of_a_condition_is_looked_at() {
    all_as_expected(&[
        (
            "cable",
            "cable.a or not cable.b or cable.c",
            &[
                (UnknownName, "cable.a"),
                (UnknownName, "cable.b"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "cable.drop >= 3 and (cable.sheath or cable.id == cable.sheath)",
            &[
                (KindsDiffer, "cable.drop >= 3"),
                (KindsDiffer, "cable.sheath"),
                (KindsDiffer, "cable.id == cable.sheath"),
            ],
        ),
        (
            "cable",
            "cable.sheath in [intact, gone, lost]",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "cable",
            "cable.sheath == gone or cable.sheath != lost",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "heater",
            "cable.drop > 3 V and cable.load > 1 A",
            &[(OutOfScope, "cable.drop"), (OutOfScope, "cable.load")],
        ),
    ]);
}

#[test]
fn every_part_of_a_number_is_looked_at() {
    all_as_expected(&[
        (
            "cable",
            "cable.a + limit.b - cable.c > 3 V",
            &[
                (UnknownName, "cable.a"),
                (UnknownName, "limit.b"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "cable.a * cable.sheath / cable.c > 3 V",
            &[
                (UnknownName, "cable.a"),
                (KindsDiffer, "cable.sheath"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "heater.ambient * 2 / heater.outside > 3",
            &[
                (KindsDiffer, "heater.ambient"),
                (KindsDiffer, "heater.outside"),
            ],
        ),
        (
            "cable",
            "min(cable.a, 3 V, max(cable.sheath, cable.c)) > -cable.d",
            &[
                (UnknownName, "cable.a"),
                (KindsDiffer, "cable.sheath"),
                (UnknownName, "cable.c"),
                (UnknownName, "cable.d"),
            ],
        ),
    ]);
}

/// One side of it is enough for a part not to be judged.
#[test]
fn what_rests_on_a_fault_is_not_told_again() {
    all_as_expected(&[
        ("cable", "cable.a >= 3 V", &[(UnknownName, "cable.a")]),
        ("cable", "limit.a == intact", &[(UnknownName, "limit.a")]),
        ("cable", "intact == limit.a", &[(UnknownName, "limit.a")]),
        (
            "cable",
            "cable.a in [intact, gone]",
            &[(UnknownName, "cable.a")],
        ),
        ("cable", "cable.a is known", &[(UnknownName, "cable.a")]),
        (
            "cable",
            "3 V + cable.a + 2 A > 1 mm",
            &[(UnknownName, "cable.a")],
        ),
        (
            "cable",
            "min(3 V, cable.a, 2 A) > 1 mm",
            &[(UnknownName, "cable.a")],
        ),
        (
            "cable",
            "(3 V + 2 A) * cable.sheath > (1 mm == 3 V)",
            &[
                (KindsDiffer, "3 V + 2 A"),
                (KindsDiffer, "cable.sheath"),
                (KindsDiffer, "1 mm == 3 V"),
            ],
        ),
        ("cable", "abs(cable.a) > 3 V", &[(UnknownName, "cable.a")]),
        (
            "heater",
            "distinct of cable.a > 3 V",
            &[(UnknownName, "cable.a")],
        ),
        (
            "heater",
            "sum of cable.a > 3 V",
            &[(UnknownName, "cable.a")],
        ),
        (
            "heater",
            "spread of cable.sheath > 3 V",
            &[(KindsDiffer, "cable.sheath")],
        ),
    ]);
}

/// A definition that is at fault is told where it stands.
#[test]
fn what_rests_on_a_faulty_definition_has_no_fault_of_its_own() {
    all_as_expected(&[
        ("cable", "cable.broken >= 3 V", &[]),
        ("heater", "cable.broken", &[]),
        ("heater", "max of lamp.broken > 3 V", &[]),
        (
            "cable",
            "cable.broken >= 3 V and cable.a >= 3 V",
            &[(UnknownName, "cable.a")],
        ),
    ]);
    let broken = parse("cable.broken").expect("a formula");
    let desk = Desk::new();
    assert_eq!(
        desk.resolve("cable", |about, vocabulary| resolve_figure(
            &broken, about, vocabulary
        )),
        Err(Vec::new())
    );
    assert_eq!(
        desk.resolve("cable", |about, vocabulary| resolve_placeholder(
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
                "cable",
                &format!("cable.a {order} cable.sheath"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.sheath")],
            ),
            (
                "cable",
                &format!("cable.id {order} cable.a"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.id")],
            ),
            (
                "cable",
                &format!("cable.a {order} cable.earthed"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.earthed")],
            ),
            (
                "cable",
                &format!("cable.a {order} three"),
                &[(UnknownName, "cable.a"), (UnknownName, "three")],
            ),
            (
                "cable",
                &format!("three {order} 3 V"),
                &[(UnknownName, "three")],
            ),
        ]);
    }
    for equal in ["==", "!="] {
        all_as_expected(&[
            (
                "cable",
                &format!("cable.a {equal} cable.sheath"),
                &[(UnknownName, "cable.a")],
            ),
            (
                "cable",
                &format!("cable.earthed {equal} cable.a"),
                &[(UnknownName, "cable.a")],
            ),
        ]);
    }
}

#[test]
fn what_has_no_order_is_told_of_choices() {
    for order in ["<", "<=", ">", ">="] {
        all_as_expected(&[
            (
                "cable",
                &format!("cable.sheath {order} gone"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("cable.sheath {order} gone")),
                ],
            ),
            (
                "cable",
                &format!("gone {order} cable.sheath"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("gone {order} cable.sheath")),
                ],
            ),
            (
                "cable",
                &format!("cable.sheath {order} intact"),
                &[(KindsDiffer, &format!("cable.sheath {order} intact"))],
            ),
            (
                "cable",
                &format!("cable.sheath {order} cable.sheath"),
                &[(KindsDiffer, &format!("cable.sheath {order} cable.sheath"))],
            ),
            (
                "cable",
                &format!("cable.sheath {order} 3 V"),
                &[(KindsDiffer, &format!("cable.sheath {order} 3 V"))],
            ),
        ]);
    }
}

#[test]
fn known_is_asked_of_one_fact() {
    all_as_expected(&[
        (
            "cable",
            "cable.load is known",
            &[(KindsDiffer, "cable.load")],
        ),
        (
            "cable",
            "(cable.a + 1 V) is known",
            &[(UnknownName, "cable.a"), (KindsDiffer, "cable.a + 1 V")],
        ),
        (
            "cable",
            "(cable.earthed == yes) is known",
            &[(KindsDiffer, "cable.earthed == yes")],
        ),
    ]);
}

#[test]
fn the_inside_of_a_faulty_fold_is_looked_at() {
    all_as_expected(&[
        (
            "heater",
            "every lamp has cable.a > 3 V",
            &[(UnknownName, "lamp"), (UnknownName, "cable.a")],
        ),
        (
            "heater",
            "every heater has cable.drop > 3",
            &[(UnknownName, "heater"), (KindsDiffer, "cable.drop > 3")],
        ),
        (
            "heater",
            "any lamp has cable.earthed",
            &[(UnknownName, "lamp")],
        ),
        (
            "heater",
            "(count of lamps where cable.sheath == gone) > 1",
            &[(UnknownName, "lamps"), (UnknownOption, "gone")],
        ),
        (
            "heater",
            "(count of lamps where cable.earthed) > 1 V",
            &[(UnknownName, "lamps")],
        ),
        (
            "heater",
            "every cable has (any cable has cable.a)",
            &[
                (NestedFold, "any cable has cable.a"),
                (UnknownName, "cable.a"),
            ],
        ),
        (
            "heater",
            "every cable has (max of (max of cable.a) > 3 V)",
            &[
                (NestedFold, "max of (max of cable.a)"),
                (NestedFold, "max of cable.a"),
                (UnknownName, "cable.a"),
            ],
        ),
    ]);
}

/// What stands after a fold is seen from outside it again.
#[test]
fn a_fold_ends_where_it_ends() {
    all_as_expected(&[
        (
            "heater",
            "max of cable.a > cable.drop",
            &[(UnknownName, "cable.a"), (OutOfScope, "cable.drop")],
        ),
        (
            "heater",
            "every lamp has cable.earthed and cable.earthed",
            &[(UnknownName, "lamp"), (OutOfScope, "cable.earthed")],
        ),
        (
            "heater",
            "every cable has group.a or max of cable.b > 3 V",
            &[(UnknownName, "group.a"), (UnknownName, "cable.b")],
        ),
    ]);
    assert!(
        Desk::new()
            .condition(
                "heater",
                "max of cable.drop > 3 V and any cable has cable.earthed"
            )
            .is_ok()
    );
}

/// An unknown subject may be meant for one of many.
#[test]
fn nothing_to_fold_is_told_where_it_is_sure() {
    all_as_expected(&[
        (
            "heater",
            "max of heater.current > 3 A",
            &[(KindsDiffer, "heater.current")],
        ),
        (
            "heater",
            "max of limit.a > 3 A",
            &[(UnknownName, "limit.a")],
        ),
        (
            "heater",
            "distinct of heater.a > 3",
            &[(UnknownName, "heater.a")],
        ),
        (
            "heater",
            "max of cel.rest_voltage > 3 V",
            &[(UnknownName, "cel.rest_voltage")],
        ),
        (
            "heater",
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
        "cable.drop > group.a and heater.b > cable.load",
        &[(UnknownName, "group.a"), (UnknownName, "heater.b")],
    )]);
    assert!(
        Desk::new()
            .condition(
                "lamp",
                "cable.drop > limit.floor and max of cable.load > 1 A"
            )
            .is_ok()
    );
}

/// As many unknown names as fit the words and signs of a formula.
#[test]
fn the_fullest_formula_is_told_whole() {
    let names: Vec<String> = (0..crate::bounds::MOST_TOKENS / 2)
        .map(|number| format!("cable.x{number}"))
        .collect();
    let found = Desk::new().faults("cable", &names.join(" or "));
    assert_eq!(
        found.into_iter().map(|(_, at)| at).collect::<Vec<_>>(),
        names
    );
}

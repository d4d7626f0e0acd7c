use super::*;
use crate::bounds::MOST_NESTING;
use crate::formula::tree::Form;

/// The shape of a tree in prefix form, for comparing precedence.
fn shape(tree: &Tree) -> String {
    let list = |name: &str, parts: &[Tree]| {
        format!(
            "({name} {})",
            parts.iter().map(shape).collect::<Vec<_>>().join(" ")
        )
    };
    let chain = |parts: &[(bool, Tree)], plus: &str, minus: &str| {
        parts
            .iter()
            .map(|(m, t)| format!("{}{}", if *m { minus } else { plus }, shape(t)))
            .collect::<String>()
    };
    match &tree.form {
        Form::Number { value, .. } => format!("{value}"),
        Form::Name { subject, word } => format!("{subject}.{word}"),
        Form::Word(word) => word.clone(),
        Form::YesNo(yes) => format!("{yes}"),
        Form::Or(parts) => list("or", parts),
        Form::And(parts) => list("and", parts),
        Form::Not(inner) => format!("(not {})", shape(inner)),
        Form::Compare(_, a, b) => format!("(cmp {} {})", shape(a), shape(b)),
        Form::In(a, options) => format!("(in {} {})", shape(a), options.len()),
        Form::Known(a) => format!("(known {})", shape(a)),
        Form::Sum(parts) => format!("[{}]", chain(parts, "+", "-")),
        Form::Product(parts) => format!("[{}]", chain(parts, "*", "/")),
        Form::Negative(inner) => format!("(- {})", shape(inner)),
        Form::Call(_, parts) => list("call", parts),
        Form::Fold(_, inner) => format!("(fold {})", shape(inner)),
        Form::Count(_, inner) => format!("(count {})", shape(inner)),
        Form::Every(_, inner) => format!("(every {})", shape(inner)),
        Form::Any(_, inner) => format!("(any {})", shape(inner)),
    }
}

/// A name alone is read by a shorter way. It gives what the longer one does, which brackets make it
/// take.
#[test]
fn a_name_alone_is_read_as_among_others() {
    for name in ["a.x", "limit.v_0", "Cable_1.x9"] {
        let alone = parse(name).expect("a name");
        let Form::Not(among) = parse(&format!("not {name}")).expect("a name").form else {
            panic!("it is negated");
        };
        assert_eq!(alone.form, among.form, "{name}");
        assert_eq!(alone.span, 0..name.len());
    }
    for faulty in ["a.", ".x", "a.x.y", "1.x", "a._x", "a.9"] {
        assert!(parse(faulty).is_err(), "{faulty}");
    }
    let long = format!("a.{}", "x".repeat(MOST_CHARACTERS));
    assert!(parse(&long).is_err());
}

#[test]
fn precedence() {
    for (text, expected) in [
        ("1 + 2 * 3", "[+1+[*2*3]]"),
        ("-a.x * 2", "[*(- a.x)*2]"),
        ("a.x / b.y / c.z", "[*a.x/b.y/c.z]"),
        ("not a.x or b.y and c.z", "(or (not a.x) (and b.y c.z))"),
        ("a.x < 1 and b.y >= 2", "(and (cmp a.x 1) (cmp b.y 2))"),
        ("(a.x or b.y) and c.z", "(and (or a.x b.y) c.z)"),
        (
            "max of cable.x - min of cable.x",
            "[+(fold cable.x)-(fold cable.x)]",
        ),
        ("max(a.x, 2, 3) > 1", "(cmp (call a.x 2 3) 1)"),
        (
            "every cable has cable.x > 2 and a.y",
            "(and (every (cmp cable.x 2)) a.y)",
        ),
        (
            "every cable has (cable.x > 2 and a.y)",
            "(every (and (cmp cable.x 2) a.y))",
        ),
        (
            "count of cables where not cable.x == 1",
            "(count (not (cmp cable.x 1)))",
        ),
        (
            "a.x in [b, c-d] or a.x is known",
            "(or (in a.x 2) (known a.x))",
        ),
        ("a.x == max", "(cmp a.x max)"),
        ("a.x == count", "(cmp a.x count)"),
        (
            "a.x == every or a.x == any",
            "(or (cmp a.x every) (cmp a.x any))",
        ),
        ("a.x- 1", "[+a.x-1]"),
    ] {
        assert_eq!(
            parse(text).map(|tree| shape(&tree)).as_deref(),
            Ok(expected),
            "{text}"
        );
    }
}

#[test]
fn faults_stand_where_they_are() {
    for (text, fault, at) in [
        ("", Fault::Syntax, 0),
        ("a.x <", Fault::Syntax, 5),
        ("a.x < b.y < c.z", Fault::ChainedComparison, 10),
        ("(a.x", Fault::Syntax, 4),
        ("a.x b.y", Fault::Syntax, 4),
        ("a.x and", Fault::Syntax, 7),
        ("abs(1, 2)", Fault::Syntax, 0),
        ("min(1)", Fault::Syntax, 0),
        ("a.x is unknown", Fault::Syntax, 7),
        ("max of 3 V", Fault::Syntax, 7),
        ("a.x == and", Fault::Syntax, 7),
        ("where < 1", Fault::Syntax, 0),
        ("1. + 2", Fault::Syntax, 1),
        ("1.x", Fault::Syntax, 1),
        ("2e + 3", Fault::Syntax, 1),
        ("2e+ 3", Fault::Syntax, 1),
    ] {
        let found = parse(text).expect_err(text);
        assert_eq!((found.fault, found.span.start), (fault, at), "{text}");
    }
}

#[test]
fn nesting_is_bounded() {
    let nest = |levels: usize| format!("{}1{}", "(".repeat(levels), ")".repeat(levels));
    assert!(parse(&nest(MOST_NESTING)).is_ok());
    assert_eq!(
        parse(&nest(MOST_NESTING + 1)).expect_err("fault").fault,
        Fault::TooDeep
    );
    assert_eq!(
        parse(&format!("{}a.x", "-".repeat(MOST_NESTING + 1)))
            .expect_err("fault")
            .fault,
        Fault::TooDeep
    );
    assert_eq!(
        parse(&format!("{}a.x", "not ".repeat(MOST_NESTING + 1)))
            .expect_err("fault")
            .fault,
        Fault::TooDeep
    );
}

/// What is closed counts no more.
#[test]
fn nesting_side_by_side_is_not_deep() {
    let side_by_side = ["(1)"; MOST_NESTING + 1].join(" + ");
    assert!(parse(&side_by_side).is_ok());
    let deep_after = |levels: usize| format!("(1) + {}1{}", "(".repeat(levels), ")".repeat(levels));
    assert!(parse(&deep_after(MOST_NESTING)).is_ok());
    assert_eq!(
        parse(&deep_after(MOST_NESTING + 1))
            .expect_err("fault")
            .fault,
        Fault::TooDeep
    );
}

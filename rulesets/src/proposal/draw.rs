//! `draw` of a light: a current or a power.

use rules_core::document::{Fault, Node, Problems};
use rules_core::facts::{Catalogue, Instance, read_value};
use rules_core::quantity::{Kind, Quantity};

/// Reads `draw` of a light into the fact of its kind.
pub(super) fn read_draw(
    node: &Node<'_>,
    catalogue: &Catalogue,
    light: &mut Instance,
    problems: &mut Problems<'_>,
) {
    let quantity = node.scalar().map(Quantity::parse);
    let unit = quantity
        .and_then(Result::ok)
        .map(|quantity| quantity.unit());
    let name = match unit {
        Some(Some(unit)) if unit.suits(Kind::Power) => "light.draw_power",
        Some(Some(unit)) if !unit.suits(Kind::Current) => {
            return neither_current_nor_power(node, Fault::WrongKind, problems);
        }
        Some(None) => return neither_current_nor_power(node, Fault::NoUnit, problems),
        _ => "light.draw_current",
    };
    let Some((id, def)) = catalogue.fact_named(name) else {
        return;
    };
    let given = read_value(node, "light.draw", def, None, problems);
    if let Some(given) = given {
        light.set(catalogue.slot(id), given);
    }
}

fn neither_current_nor_power(node: &Node<'_>, fault: Fault, problems: &mut Problems<'_>) {
    let written = node.scalar().unwrap_or_default();
    let message = format!("`{written}` is neither a current nor a power");
    problems.add(
        fault,
        node.span,
        message,
        "write it in A or mA, as `2.1 A`, or in W or mW, as `7.5 W`",
    );
}

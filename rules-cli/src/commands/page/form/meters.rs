//! The meters of a plan that takes from no bench, a field for each kind of reading.

use rules_core::quantity::Kind;
use rulesets::pages::html::Html;

use super::field::{Field, Writes};
use crate::commands::page::plan::{AtHand, value_at, written};

/// The key of the meters in a plan.
pub(super) const METERS: &str = "meters";

/// A field for each kind of reading that a meter is stated for.
pub(super) fn meters(at_hand: &AtHand) -> Html {
    let catalogue = at_hand.rules.catalogue();
    let kinds = Kind::ALL.iter();
    let kinds = kinds.filter(|kind| catalogue.read_with(**kind).next().is_some());
    let mut html = Html::default();
    html.element("fieldset", &[], |html| {
        html.said("legend", &[], "How well each reads, by its sheet");
        for kind in kinds {
            field(kind.name(), at_hand).write(html);
        }
    });
    html
}

fn field(kind: &str, at_hand: &AtHand) -> Field {
    let path = format!("{METERS}.{kind}");
    let own = value_at(at_hand.draft.value(), &path);
    Field {
        id: format!("meter-{}", kind.replace(' ', "-")),
        called: path.clone(),
        meaning: format!("The meter for {kind}"),
        writes: Writes::Like("± 3 % or ± (0.5 % + 2 mV)".to_owned()),
        own: own.and_then(written),
        of_bench: None,
        places: vec![path],
    }
}

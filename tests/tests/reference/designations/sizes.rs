//! Sizes alone: which in the trade's form and in the standard's can be one cell.

use rules_core::quantity::Interval;
use rulesets::designation::Designation;
use serde::Deserialize;

use super::range;
use crate::table::{Part, double, same};

/// A size in the standard's form or the trade's, as sizes of a cobalt cell: the letters do not
/// matter to it.
fn sizes(size: &str) -> Result<(Interval, Interval), String> {
    let read =
        Designation::parse(&format!("ICR{size}")).map_err(|fault| format!("`{size}`: {fault}"))?;
    let whole = |(from, to): (u32, u32)| range(f64::from(from), f64::from(to));
    Ok((whole(read.size.diameter), whole(read.size.length)))
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PairRow {
    trade: String,
    standard: Vec<String>,
}

#[test]
fn a_trade_size_and_its_standard_forms_can_be_one_cell() {
    Part::read("designations", "pairs", 3).run(|row: &PairRow| {
        let (diameter, height) = sizes(&row.trade)?;
        row.standard.iter().try_for_each(|standard| {
            let (other_diameter, other_height) = sizes(standard)?;
            let may_be_one =
                diameter.meets(other_diameter).is_some() && height.meets(other_height).is_some();
            same(
                &format!("whether `{}` and `{standard}` can be one cell", row.trade),
                &may_be_one,
                &true,
            )
        })
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RoundingRow {
    max_diameter_mm: String,
    max_height_mm: String,
    standard_sizes: Vec<String>,
}

#[test]
fn a_standard_size_holds_what_rounds_up_to_it() {
    Part::read("designations", "rounding", 8).run(|row: &RoundingRow| {
        row.standard_sizes.iter().try_for_each(|size| {
            let (diameter, height) = sizes(size)?;
            let holds = diameter.contains(double(&row.max_diameter_mm))
                && height.contains(10.0 * double(&row.max_height_mm));
            same(
                &format!(
                    "whether `{size}` holds {} x {} mm",
                    row.max_diameter_mm, row.max_height_mm
                ),
                &holds,
                &true,
            )
        })
    });
}

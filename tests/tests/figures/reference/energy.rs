//! The energy of a test bounds its voltage half way: new cells of the tables, and worn ones
//! (`energy.csv`).

use rules_core::quantity::Interval;
use rulesets::figures::margin::half_by_mean;

use super::aged::ODD;
use super::table::{Coverage, number, rows, sets};

#[test]
fn the_voltage_half_way_lies_near_the_mean() {
    let sets = sets();
    let mut found = Coverage::default();
    for row in ["constant_current", "energy"].into_iter().flat_map(rows) {
        let name = &row["set"];
        let age = row.get("age").map_or("new", String::as_str);
        let charge = number(&row, "capacity_ah").filter(|charge| *charge > 0.0);
        let whole = charge.zip(number(&row, "energy_wh"));
        let (Some((charge, energy)), Some(half)) = (whole, number(&row, "v_at_50pct_v")) else {
            continue;
        };
        if age != "new" && ODD.contains(&name.as_str()) {
            continue;
        }
        let class = sets[name].class;
        let stated = half_by_mean(class, Interval::point(energy / charge));
        let worn = if age == "new" { "new" } else { "worn" };
        let group = format!("{} {worn}", format!("{class:?}").to_uppercase());
        let what = format!("{name} {age} {}C to {} V", row["c_rate"], row["cutoff_v"]);
        found.add(&group, &what, stated, half, 1.0);
    }
    found.finish("voltage half way by the mean voltage (V)", 700);
}

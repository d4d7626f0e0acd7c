//! A proposal that is changed field by field and written again.

use rules_core::document::Syntax;

use crate::bench::{Benches, Plan};

const PLAN: &str = r#"
charging: four-bay
cells: [K4, { wrap: intact, of: K7 }]
conditions: { run_time: 90 min, at: hut, ambient: 5 degC }
light: helmet-lamp
title: "Relay: the second leg"
bench: ./bench.yaml
format: 1
"#;

/// As the table of facts has the keys: `draw` of a light, `ambient` before `run_time`.
const WRITTEN: &str = r#"format: 1
title: "Relay: the second leg"
bench: ./bench.yaml
light:
  of: helmet-lamp
  draw: 7.0 W
cells:
  - K4
  - of: K7
    rest: { voltage: 3.71 V }
    wrap: intact
charging: four-bay
conditions:
  at: hut
  ambient: 5 degC
  run_time: 90 min
"#;

#[test]
fn it_is_written_in_the_order_in_which_a_person_reads_it() {
    let files = super::texts(super::BENCH, super::CELLS, super::READINGS);
    let mut benches = Benches::of(&files);
    let plan = Plan::read("plan.yaml", PLAN.into(), Syntax::Yaml, &mut benches);
    let mut draft = plan.expect("a plan").draft().expect("a draft");
    draft.set("light.draw", "7.0 W").expect("a path");
    draft
        .set("cells[K7].rest.voltage", "3.71 V")
        .expect("a path");
    let plan = Plan::of_draft(&draft, &mut benches).expect("a plan");
    assert_eq!(plan.yaml().expect("its text"), WRITTEN);
    let again = Plan::read("plan.yaml", WRITTEN.into(), Syntax::Yaml, &mut benches);
    assert_eq!(
        again.expect("a plan").draft().expect("a draft").value(),
        draft.value()
    );
}

//! Which cautions of the shipped rules only get worse as cells join.

use rules_core::check::caution_trends;
use rules_core::formula::Joining;
use rulesets::facts::CELL;
use rulesets::shipped_rules;

#[test]
fn of_shipped() {
    let rules = shipped_rules().expect("the shipped rules");
    for apart in [true, false] {
        let listed = rules
            .catalogue()
            .fact_named("build.listed")
            .expect("a fact")
            .0;
        let changing = [listed];
        let joining = Joining::of(rules.catalogue(), rules.program(), CELL, apart, &changing);
        let trends = caution_trends(&rules, &joining);
        for (caution, trend) in rules.cautions().iter().zip(trends) {
            if !trend.stays {
                println!("apart {apart}: {} {trend:?}", caution.id);
            }
        }
    }
}

//! The engine in a trade of its own: heaters, cables and fuses. Loading, checking, vetting and the
//! examples of rules all work on it, and nothing in the engine has to know what a cable is.
#![cfg(test)]

mod catalogue;

use std::borrow::Cow;

use catalogue::{CABLE, FUSE, HEATER, catalogue};
use rules_core::check::{Options, Subject, Verdict, check};
use rules_core::document::Problems;
use rules_core::facts::{Catalogue, Given, Instance, Proposed, Sheet, SubjectId, Value};
use rules_core::quantity::{Kind, Nature, Quantity};
use rules_core::report::text::{Plain, USUAL_WIDTH, text};
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, run_cases};

fn hall() -> Texts {
    Texts::of([("hall", include_str!("hall.yaml"))])
}

/// A plan: what is known of the hall's heater.
struct Plan(Sheet);

impl Proposed for Plan {
    fn title(&self) -> &str {
        "Heater of the hall"
    }

    fn name(&self) -> &str {
        "plan"
    }

    fn facts_and_faults(&self, _: &Catalogue, _: &mut Problems<'_>) -> Cow<'_, Sheet> {
        Cow::Borrowed(&self.0)
    }
}

fn rules() -> Rules {
    Rules::load(&["hall"], &hall(), &catalogue()).expect("the rules load")
}

/// Sets a fact as a reader of plans would.
fn set(instance: &mut Instance, (subject, name): (SubjectId, &str), text: &str, kind: Kind) {
    let catalogue = catalogue();
    let full = catalogue.full_name(subject, name);
    let (id, def) = catalogue.fact_named(&full).expect("a fact of the trade");
    let read = Quantity::read(text, kind, def.nature, None).expect("a quantity");
    let given = Given::new(Value::Number(read), text, None);
    instance.set(catalogue.slot(id), given);
}

/// A heater of so much current on one fuse, through cables with these drops of voltage.
fn plan(current: &str, fuse: &str, drops: &[&str]) -> Plan {
    let mut sheet = Sheet::new(&catalogue());
    let heater = sheet.instance_mut(HEATER, 0).expect("there is one heater");
    set(heater, (HEATER, "current"), current, Kind::Current);
    let mut one = Instance::named("F1");
    set(&mut one, (FUSE, "rating"), fuse, Kind::Current);
    sheet.roster_mut(FUSE).expect("fuses").instances.push(one);
    for (at, drop) in drops.iter().enumerate() {
        let mut cable = Instance::named(&format!("C{at}"));
        set(&mut cable, (CABLE, "drop"), drop, Kind::Voltage);
        let cables = sheet.roster_mut(CABLE).expect("cables");
        cables.instances.push(cable);
    }
    Plan(sheet)
}

fn verdict(plan: &Plan) -> Verdict {
    check(&rules(), plan, Options::default())
        .expect("its facts are known")
        .gravest()
        .verdict
}

/// The limits are 80 % of the fuse and 5 V of drop; each is tried at, inside and outside.
#[test]
fn a_plan_is_checked() {
    assert_eq!(verdict(&plan("12.8 A", "16 A", &["2.0 V"])), Verdict::Pass);
    assert_eq!(verdict(&plan("12.7 A", "16 A", &["2.0 V"])), Verdict::Pass);
    assert_eq!(
        verdict(&plan("12.9 A", "16 A", &["2.0 V"])),
        Verdict::Refuse
    );
    let exactly = ["2.0 V", "5.0 V ± 0 V"];
    assert_eq!(verdict(&plan("10 A", "16 A", &exactly)), Verdict::Pass);
    assert_eq!(verdict(&plan("10 A", "16 A", &["5.0 V"])), Verdict::Warn);
    assert_eq!(verdict(&plan("10 A", "16 A", &["5.1 V"])), Verdict::Warn);
}

#[test]
fn what_is_missing_is_asked_for() {
    let mut plan = plan("10 A", "16 A", &["2.0 V"]);
    let cables = plan.0.roster_mut(CABLE).expect("cables");
    cables.instances.push(Instance::named("C9"));
    let report = check(&rules(), &plan, Options::default()).expect("its facts are known");
    assert_eq!(
        (report.gravest().verdict, report.gravest().best),
        (Verdict::Warn, Verdict::Pass)
    );
    let asked: Vec<&str> = report.measure_next.iter().map(|next| &*next.fact).collect();
    assert_eq!(asked, ["cable.drop"]);
}

/// What the text says of cables that are not listed goes by that, and not by what they are called.
#[test]
fn a_cable_that_is_listed_is_listed_whatever_it_is_called() {
    let told = |cable: Instance| {
        let mut plan = plan("10 A", "16 A", &["2.0 V"]);
        plan.0
            .roster_mut(CABLE)
            .expect("cables")
            .instances
            .push(cable);
        let report = check(&rules(), &plan, Options::default()).expect("its facts are known");
        text(&report, USUAL_WIDTH, &Plain)
    };
    let advice = "list all of it first";
    let named = Instance::named("(not listed 1)");
    assert!(told(named.clone().not_listed()).contains(advice));
    let listed = told(named);
    assert!(!listed.contains(advice), "{listed}");
    assert!(listed.contains("cable (not listed 1)"), "{listed}");
}

#[test]
fn the_rules_are_vetted_and_their_cases_come_out() {
    let vetting = Vetting::load(&["hall"], &hall(), &catalogue()).expect("the rules load");
    let found = rules_core::vetting::vet(&vetting);
    assert!(found.is_empty(), "{found:?}");
    let outcomes: Vec<_> = run_cases(&vetting).collect();
    assert!(outcomes.len() >= 8 && outcomes.iter().all(|case| case.problem.is_none()));
}

#[test]
fn a_stated_current_is_exact_and_a_measured_drop_is_not() {
    let catalogue = catalogue();
    let nature = |name| catalogue.fact_named(name).map(|(_, def)| def.nature);
    assert_eq!(nature("heater.current"), Some(Nature::Stated));
    assert_eq!(nature("cable.drop"), Some(Nature::Measured));
}

/// What is asked for says where it is written, and in what.
#[test]
fn what_is_asked_for_has_its_place() {
    let mut plan = plan("10 A", "16 A", &["2.0 V"]);
    let cables = plan.0.roster_mut(CABLE).expect("cables");
    cables.instances.push(Instance::named("C9"));
    let report = check(&rules(), &plan, Options::default()).expect("its facts are known");
    let next = &report.measure_next[0];
    assert_eq!(report.place_of(next).as_deref(), Some("cables[C9].drop"));
    let place = &report.places["cable.drop"];
    assert_eq!(
        (&*place.kind, place.unit.as_deref()),
        ("voltage", Some("V"))
    );
    let unlisted = Subject::not_listed("cable", "(not listed)", 2);
    assert_eq!(place.path(&unlisted), "cables[].drop");
}

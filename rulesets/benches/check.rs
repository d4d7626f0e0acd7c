//! Times of checking, reading, loading and working out figures. Ratios are in `ratios.rs`, where
//! both sides run in turns.
#![allow(
    clippy::expect_used,
    clippy::unreachable,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(dead_code, reason = "the setting is shared by several benches")]

mod setting;
mod twenty;

use divan::{Bencher, black_box};
use rules_core::check::{Options, check};
use rules_core::document::Syntax;
use rules_core::facts::Proposed;
use rules_core::vetting::{Vetting, vet};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

use setting::{Arrangement, DEMOS};

fn main() {
    divan::main();
}

/// The shipped rules on a demo that is read already: the report as data.
#[divan::bench(args = DEMOS)]
fn shipped_rules(bencher: Bencher<'_, '_>, demo: &str) {
    let (rules, proposal) = (setting::shipped(), setting::demo(demo));
    bencher.bench_local(|| check(&rules, &proposal, Options::default()));
}

/// Twenty simple rules on four cells: the report as data, the answers alone, and the same written
/// by hand.
#[divan::bench_group]
mod twenty_rules {
    use super::*;

    #[divan::bench(args = twenty::BUILDS)]
    fn report(bencher: Bencher<'_, '_>, build: twenty::Example) {
        let (rules, proposal) = (setting::rules_of(twenty::RULES), build.proposal());
        bencher.bench_local(|| check(&rules, &proposal, Options::default()));
    }

    #[divan::bench(args = twenty::BUILDS)]
    fn answers(bencher: Bencher<'_, '_>, build: twenty::Example) {
        let (rules, proposal) = (setting::rules_of(twenty::RULES), build.proposal());
        let sheet = proposal
            .facts(rules.catalogue())
            .expect("its facts are known");
        bencher.bench_local(|| twenty::answers(&rules, &sheet));
    }

    #[divan::bench(args = twenty::BUILDS)]
    fn by_hand(bencher: Bencher<'_, '_>, build: twenty::Example) {
        let build = (build.build)();
        bencher.bench_local(|| twenty::by_hand::check(black_box(&build)));
    }
}

/// From the bytes of a proposal.
#[divan::bench_group]
mod bytes {
    use super::*;

    #[divan::bench]
    fn to_typed_structs(bencher: Bencher<'_, '_>) {
        let bytes = setting::demo_bytes("marshal-torch.json");
        bencher.bench_local(|| {
            serde_json::from_slice::<setting::typed::Proposal>(&bytes).expect("it fits")
        });
    }

    #[divan::bench]
    fn to_facts(bencher: Bencher<'_, '_>) {
        let bytes = setting::demo_bytes("marshal-torch.json");
        bencher
            .with_inputs(|| bytes.clone())
            .bench_local_values(|bytes| Proposal::read("torch.json", bytes, Syntax::Json));
    }

    #[divan::bench]
    fn to_bytes_of_a_report(bencher: Bencher<'_, '_>) {
        let (rules, bytes) = (
            setting::shipped(),
            setting::demo_bytes("marshal-torch.json"),
        );
        bencher
            .with_inputs(|| bytes.clone())
            .bench_local_values(|bytes| {
                let proposal = setting::read("torch.json", bytes);
                let report =
                    check(&rules, &proposal, Options::default()).expect("its facts are known");
                serde_json::to_vec(&report).expect("a report is JSON")
            });
    }
}

/// The shipped rules, from their bytes.
#[divan::bench_group]
mod loading {
    use super::*;

    #[divan::bench]
    fn load() -> rules_core::ruleset::Rules {
        setting::shipped()
    }

    #[divan::bench]
    fn load_and_vet() -> usize {
        let vetting = Vetting::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
            .expect("the shipped rules load");
        vet(&vetting).len()
    }
}

/// Every library figure of a build.
#[divan::bench(args = [Arrangement { series: 1, parallel: 1 }, Arrangement { series: 4, parallel: 2 }])]
fn figures(bencher: Bencher<'_, '_>, arrangement: &Arrangement) {
    let catalogue = rulesets::catalogue();
    let proposal = setting::read("build.json", setting::build_of(*arrangement));
    let sheet = proposal.facts(&catalogue).expect("its facts are known");
    bencher.bench_local(|| setting::every_figure(&catalogue, &sheet));
}

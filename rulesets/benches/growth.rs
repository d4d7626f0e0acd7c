//! Times as cells and cautions grow tenfold: the time per item should stay as it is. The table per
//! item is in `ratios.rs`.
#![allow(
    clippy::expect_used,
    clippy::unreachable,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(dead_code, reason = "the setting is shared by several benches")]

mod setting;
mod twenty;

use divan::Bencher;
use divan::counter::ItemsCount;
use rules_core::check::{Options, check};

use setting::Arrangement;

/// Tenfold steps.
const SIZES: [usize; 4] = [10, 100, 1_000, 10_000];

/// The same for what may take more than its share of memory; `ratios.rs` goes further, and stops
/// where it takes too long.
const FIRST_SIZES: [usize; 2] = [10, 100];

fn main() {
    divan::main();
}

/// Cells in series.
#[divan::bench(args = FIRST_SIZES, max_time = 5)]
fn cells_in_series(bencher: Bencher<'_, '_>, many: usize) {
    let (rules, proposal) = (
        setting::shipped(),
        setting::read(
            "build.json",
            setting::build_of(Arrangement {
                series: many,
                parallel: 1,
            }),
        ),
    );
    bencher
        .counter(ItemsCount::new(many))
        .bench_local(|| check(&rules, &proposal, Options::default()));
}

/// Cells in parallel.
#[divan::bench(args = FIRST_SIZES, max_time = 5)]
fn cells_in_parallel(bencher: Bencher<'_, '_>, many: usize) {
    let (rules, proposal) = (
        setting::shipped(),
        setting::read(
            "build.json",
            setting::build_of(Arrangement {
                series: 1,
                parallel: many,
            }),
        ),
    );
    bencher
        .counter(ItemsCount::new(many))
        .bench_local(|| check(&rules, &proposal, Options::default()));
}

/// Cells in series, by rules that ask for no library figure.
#[divan::bench(args = SIZES, max_time = 5)]
fn cells_by_simple_rules(bencher: Bencher<'_, '_>, many: usize) {
    let (rules, proposal) = (
        setting::rules_of(twenty::RULES),
        setting::read(
            "build.json",
            setting::build_of(Arrangement {
                series: many,
                parallel: 1,
            }),
        ),
    );
    bencher
        .counter(ItemsCount::new(many))
        .bench_local(|| check(&rules, &proposal, Options::default()));
}

/// Cautions about each of four cells.
#[divan::bench(args = SIZES, max_time = 5)]
fn cautions(bencher: Bencher<'_, '_>, many: usize) {
    let (rules, proposal) = (
        setting::rules_of(&setting::cautions(many)),
        twenty::BUILDS[0].proposal(),
    );
    bencher
        .counter(ItemsCount::new(many))
        .bench_local(|| check(&rules, &proposal, Options::default()));
}

/// Loading and compiling cautions.
#[divan::bench(args = SIZES, max_time = 5)]
fn loading(bencher: Bencher<'_, '_>, many: usize) {
    let text = setting::cautions(many);
    bencher
        .counter(ItemsCount::new(many))
        .bench_local(|| setting::rules_of(&text));
}

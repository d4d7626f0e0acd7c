//! How long a choice out of sixty cells takes.

use std::time::Instant;

use rulesets::jobs::choose::{Wish, choose, text};
use rulesets::{Plain, shipped_rules};

use super::setting::{Chance, lamp, like_cells, spread_cells, trial};

/// Run it in release: `cargo test --release -p rules-tests --test choose -- --ignored --nocapture`.
#[test]
#[ignore = "it measures time"]
fn out_of_sixty() {
    let rules = shipped_rules().expect("the shipped rules");
    let benches = [like_cells, spread_cells].map(|cells| cells(60, &mut Chance::of(60)));
    let arrangements = [(2, 1), (1, 4), (2, 2), (3, 2)];
    let all = benches
        .iter()
        .flat_map(|cells| arrangements.map(|one| (cells, one)));
    for (cells, (series, parallel)) in all {
        let trial = trial(lamp(series, parallel, cells.clone()), &rules);
        let begun = Instant::now();
        let choice = choose(&trial, &Wish::default()).expect("a choice");
        println!(
            "{series}S{parallel}P: {:?} {:?}\n{}",
            begun.elapsed(),
            choice.searched,
            text(&choice, 80, &Plain)
        );
    }
}

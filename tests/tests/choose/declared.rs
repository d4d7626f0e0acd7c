//! What is derived or declared to happen as cells join does happen: sheets of generated lamps from
//! which cells are taken away.

use rules_core::check::{CautionTrend, Options, Scales, Verdict, Weighed, caution_trends, given};
use rules_core::facts::{AsMoreJoin, Sheet, WorkedId};
use rules_core::formula::Joining;
use rules_core::ruleset::Rules;
use rulesets::facts::{CELL, GROUP};
use rulesets::shipped_rules;

use super::setting::{Chance, lamp, mixed_cells, trial};

/// The sheets of the first one, two, three and four cells of a lamp: each a group of its own, or all
/// in one group.
fn growing(rules: &Rules, apart: bool, seed: u64) -> Vec<Sheet> {
    let (series, parallel) = if apart { (4, 1) } else { (1, 4) };
    let cells = mixed_cells(4, &mut Chance::of(seed));
    let trial = trial(lamp(series, parallel, cells), rules);
    let proposal = trial.proposal().expect("a proposal");
    let whole = given(rules, &proposal).expect("facts").into_owned();
    (1..=4)
        .map(|count| {
            let mut sheet = whole.clone();
            let cells = sheet.roster_mut(CELL).expect("cells");
            cells.instances.truncate(count);
            let groups = sheet.roster_mut(GROUP).expect("groups");
            if apart {
                groups.instances.truncate(count);
            } else {
                groups.instances[0].members.truncate(count);
            }
            sheet
        })
        .collect()
}

#[test]
fn figures_do_as_the_table_declares() {
    let rules = shipped_rules().expect("the shipped rules");
    let catalogue = rules.catalogue();
    let mut compared = [0; 4];
    for seed in 1..=40 {
        for apart in [true, false] {
            let sheets = growing(&rules, apart, seed);
            for (place, figure) in catalogue.worked().iter().enumerate() {
                let name = catalogue.full_name(figure.subject, figure.name);
                for two in sheets.windows(2) {
                    for position in 0..two[0].count(figure.subject) {
                        let [less, more] = [&two[0], &two[1]].map(|sheet| {
                            let workings = catalogue.figures().open(catalogue.facts_of(sheet));
                            workings.work(WorkedId::new(place), position).value.range()
                        });
                        let shown = || {
                            format!(
                                "{name} of {position}, apart {apart}, {seed}: {less:?} {more:?}"
                            )
                        };
                        assert!(!figure.never_negative || more.lo() >= 0.0, "{}", shown());
                        let (falls, rises) = (more.lo() <= less.lo(), more.hi() >= less.hi());
                        let ok = match figure.as_more_join {
                            AsMoreJoin::Apart => less == more,
                            AsMoreJoin::WithContainer => !apart || less == more,
                            AsMoreJoin::Rises => rises,
                            AsMoreJoin::Widens => falls && rises,
                            AsMoreJoin::Unknown => true,
                        };
                        assert!(ok, "{}", shown());
                        compared[match figure.as_more_join {
                            AsMoreJoin::Apart => 0,
                            AsMoreJoin::WithContainer => 1,
                            AsMoreJoin::Rises => 2,
                            _ => 3,
                        }] += 1;
                    }
                }
            }
        }
    }
    assert!(compared.iter().all(|count| *count >= 100), "{compared:?}");
}

fn trends(rules: &Rules, apart: bool) -> Vec<CautionTrend> {
    let listed = rules
        .catalogue()
        .fact_named("build.listed")
        .expect("a fact");
    let changing = [listed.0];
    let joining = Joining::of(rules.catalogue(), rules.program(), CELL, apart, &changing);
    caution_trends(rules, &joining)
}

/// What became of a caution is what its trend allows.
fn assert_trend(trend: CautionTrend, less: &Weighed, more: &Weighed, shown: &str) {
    let margin = |of: &Weighed| of.leeway.map_or(f64::INFINITY, |leeway| leeway.share);
    if trend.stays {
        assert_eq!(
            (less.judged, less.leeway),
            (more.judged, more.leeway),
            "{shown}"
        );
    }
    if trend.only_worsens {
        assert!(more.least >= less.least.min(Verdict::Warn), "{shown}");
        let both_pass = less.least == Verdict::Pass && more.least == Verdict::Pass;
        assert!(
            !both_pass || margin(more) <= margin(less) + 1e-12,
            "{shown}"
        );
    }
    if trend.settled_stays {
        assert!(more.judged.best >= less.judged.best, "{shown}");
    }
}

#[test]
fn cautions_do_as_is_derived_from_their_formulas() {
    let rules = shipped_rules().expect("the shipped rules");
    let scales = Scales::of(&rules, Options::default()).expect("scales");
    let cautions = scales.cautions();
    let mut worse = 0;
    for apart in [true, false] {
        let trends = trends(&rules, apart);
        for seed in 1..=40 {
            let sheets = growing(&rules, apart, seed);
            let weighed: Vec<Vec<Weighed>> = sheets
                .iter()
                .map(|sheet| scales.part(sheet, &cautions).expect("a check"))
                .collect();
            for two in weighed.windows(2) {
                for less in &two[0] {
                    let like = |more: &&Weighed| {
                        (more.caution, more.position) == (less.caution, less.position)
                    };
                    let more = two[1].iter().find(like).expect("it is still there");
                    let id = &rules.cautions()[less.caution].id;
                    let shown = format!("{id}, apart {apart}, {seed}: {less:?} {more:?}");
                    assert_trend(trends[less.caution], less, more, &shown);
                    worse += usize::from(!trends[less.caution].stays && more.least > less.least);
                }
            }
        }
    }
    assert!(worse >= 50, "{worse}");
}

/// Which cautions no part of a set says anything of.
#[test]
fn few_cautions_are_unknown_until_a_set_is_whole() {
    let rules = shipped_rules().expect("the shipped rules");
    let unknown = |apart| {
        let all = rules.cautions().iter().zip(trends(&rules, apart));
        let unknown = all.filter(|(_, trend)| !trend.stays && !trend.only_worsens);
        unknown
            .map(|(caution, _)| caution.id.to_string())
            .collect::<Vec<_>>()
    };
    // A sum of capacities grows in a group: run time gets better. Cells apart only shorten it.
    assert_eq!(unknown(true), ["cell-count-wrong", "checked-too-late"]);
    assert!(unknown(false).contains(&"run-time-short".to_owned()));
    assert!(!unknown(false).contains(&"parallel-voltages-apart".to_owned()));
}

//! What LANGUAGE.md says of the bounds.

use rules_core::bounds;

/// The table of LANGUAGE.md, in its order, against the constants.
#[test]
fn the_language_states_every_bound() {
    let language = include_str!("../../../rulesets/LANGUAGE.md");
    let table = language
        .split("## 9. Bounds")
        .nth(1)
        .expect("a section on bounds");
    let stated: Vec<usize> = table
        .lines()
        .filter(|line| {
            line.starts_with("| ") && !line.starts_with("| ---") && !line.starts_with("| at most")
        })
        .filter_map(|line| {
            line.trim_end_matches(['|', ' '])
                .rsplit('|')
                .next()?
                .trim()
                .replace(',', "")
                .parse()
                .ok()
        })
        .collect();
    let held = [
        bounds::MOST_BYTES,
        bounds::MOST_LEVELS,
        bounds::MOST_NODES,
        bounds::MOST_PROBLEMS,
        rulesets::bounds::MOST_CELLS,
        rulesets::bounds::MOST_ROWS,
        rulesets::bounds::MOST_COLUMNS,
        bounds::MOST_NODES,
        rulesets::bounds::MOST_CURVES,
        rulesets::bounds::MOST_CURVE_BYTES,
        bounds::MOST_TEXT,
        bounds::MOST_WORDING,
        bounds::MOST_CHARACTERS,
        bounds::MOST_TOKENS,
        bounds::MOST_NESTING,
        bounds::MOST_FIGURE_LEVELS,
        bounds::MOST_LAYERS,
        bounds::MOST_MERGED,
        bounds::MOST_RULES_BYTES,
        bounds::MOST_FACTS,
        bounds::MOST_OPTIONS,
        bounds::MOST_STAGES,
        bounds::MOST_METERS,
        bounds::MOST_LIMITS,
        bounds::MOST_FIGURES,
        bounds::MOST_CAUTIONS,
        bounds::MOST_STEPS,
        bounds::MOST_PARTS,
    ];
    assert_eq!(stated, held);
}

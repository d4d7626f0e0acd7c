//! The cells of a bench, each checked alone and in each light.

use std::sync::Arc;

use rules_core::check::{BriefFinding, Options, Status, Subject, Verdict};
use rules_core::document::{Fault, Problem, ProblemList, near_miss};
use rules_core::report::text::{as_names_count, compared};
use rules_core::ruleset::Rules;
use serde_json::json;

use super::asking::Asking;
use super::grade::{Grade, Graded, deciding};
use super::report::{
    CellKnown, CellReading, DecidedBy, GradeCounts, KeptOutBy, LightEntry, SortReport, SortedCell,
    SortedLight,
};
use super::rules_for::RulesFor;
use super::suits::Suits;
use super::weighed::Weighed;
use crate::bench::{Bench, Date};
use crate::jobs::Trial;
use crate::proposal::{Arrangement, Draft};

/// What to sort.
#[derive(Debug, Clone, Copy, Default)]
pub struct Sorting<'a> {
    /// The day on which readings count; the newest reading's if left out.
    pub as_of: Option<Date>,
    /// The cells; all of the bench if there are none.
    pub cells: &'a [String],
}

/// Sorts cells of a bench by rules.
///
/// # Errors
///
/// Problems of the bench; a cell that it does not have; rules that say nothing of what becomes of a
/// cell.
pub fn sort(
    bench: &Arc<Bench>,
    rules: &Rules,
    sorting: Sorting<'_>,
) -> Result<SortReport, ProblemList> {
    let rules_for = RulesFor::of(rules)?;
    let ids = ids(bench, sorting.cells)?;
    let sorter = Sorter::of(bench, rules, &rules_for, sorting.as_of);
    let cells: Vec<SortedCell> = ids
        .into_iter()
        .map(|id| sorter.cell(id))
        .collect::<Result<_, _>>()?;
    Ok(SortReport {
        format: 1,
        bench: bench.title().to_owned(),
        bench_digest: bench.digest().to_owned(),
        as_of: sorter.day.map(|day| day.to_string()),
        acceptance: rules.acceptance(),
        rules: rules.layers().to_vec(),
        digest: rules.digest().to_owned(),
        loosened: rules.loosened().to_vec(),
        counts: GradeCounts::of(&cells),
        lights: sorter.lights.iter().map(Light::told).collect(),
        cells,
        notice: rules.notice().to_vec(),
    })
}

/// The ids of the cells that are asked for, in the order in which people count.
fn ids<'b>(bench: &'b Bench, asked: &'b [String]) -> Result<Vec<&'b str>, ProblemList> {
    let known: Vec<&str> = bench.cells().collect();
    let unknown = asked.iter().filter(|id| !known.contains(&id.as_str()));
    let problems: Vec<Problem> = unknown.map(|id| no_cell(id, &known)).collect();
    if !problems.is_empty() {
        return Err(problems.into());
    }
    let is_asked = |id: &&str| asked.is_empty() || asked.iter().any(|one| one == id);
    let mut ids: Vec<&str> = known.into_iter().filter(is_asked).collect();
    ids.sort_by(|a, b| as_names_count(a, b));
    Ok(ids)
}

fn no_cell(id: &str, known: &[&str]) -> Problem {
    let help = match near_miss(id, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "the bench lists no cells".to_owned(),
        None => "`cellrules sort` lists all cells of the bench".to_owned(),
    };
    let message = format!("the bench has no cell `{id}`");
    Problem::of_file(Fault::UnknownName, message, help)
}

/// A light, with the plan of a cell in it that is not named yet.
struct Light<'r> {
    name: String,
    /// None if the bench does not say how its cells are joined.
    takes: Option<(Arrangement, Trial<'r>)>,
}

impl Light<'_> {
    fn told(&self) -> SortedLight {
        let takes = self.takes.as_ref().map(|(arrangement, _)| arrangement);
        SortedLight {
            light: self.name.clone(),
            arrangement: takes.map(Arrangement::to_string),
            takes: takes.map(|arrangement| arrangement.cells()),
        }
    }
}

struct Sorter<'r> {
    bench: &'r Arc<Bench>,
    rules: &'r Rules,
    rules_for: &'r RulesFor<'r>,
    day: Option<Date>,
    /// The plan of a cell alone that is not named yet.
    alone: Trial<'r>,
    lights: Vec<Light<'r>>,
}

impl<'r> Sorter<'r> {
    fn of(
        bench: &'r Arc<Bench>,
        rules: &'r Rules,
        rules_for: &'r RulesFor<'r>,
        as_of: Option<Date>,
    ) -> Self {
        let asked = |stages: &'r [&'r str]| Options {
            stages,
            ..Options::default()
        };
        let trial = |draft, stages| Trial::beside(Some(bench), draft, rules, asked(stages));
        let light = |name: &str| Light {
            name: name.to_owned(),
            takes: bench.arrangement_of(name).map(|arrangement| {
                let draft = draft(as_of, arrangement, Some(name));
                (arrangement, trial(draft, &rules_for.fitting))
            }),
        };
        let lights = bench.lights().filter(|_| rules_for.keep_out());
        Self {
            bench,
            rules,
            rules_for,
            day: as_of.or_else(|| bench.newest()),
            alone: trial(draft(as_of, ONE, None), &rules_for.sorting),
            lights: lights.map(light).collect(),
        }
    }

    fn cell(&self, id: &str) -> Result<SortedCell, ProblemList> {
        let report = with_cell(&self.alone, id)?.report()?;
        let findings = Weighed::alone(&report, self.rules_for);
        let is_checked = !report.gravest().nothing_checked || !findings.is_empty();
        let graded = match is_checked {
            true => Graded::of(&findings),
            false => Graded::unchecked(),
        };
        let deciding = deciding(&findings, graded.grade);
        let asking = Asking::of(&report, id);
        let lights = self.lights.iter();
        let lights = lights.map(|light| self.in_light(light, id, graded.grade));
        Ok(SortedCell {
            id: id.to_owned(),
            grade: graded.grade,
            best: graded.best,
            worst: graded.worst,
            decided_by: deciding.first().map(|one| decided_by(one)),
            more: deciding.len().saturating_sub(1),
            next: asking.closing(deciding.first().map(|one| one.finding)),
            questions: asking.missing(&findings),
            in_light: self.bench.light_of(id).map(str::to_owned),
            known: self.known(id),
            readings: self.readings(id),
            lights: lights.collect::<Result<_, _>>()?,
        })
    }

    fn in_light(
        &self,
        light: &Light<'_>,
        id: &str,
        grade: Grade,
    ) -> Result<LightEntry, ProblemList> {
        let entry = |suits, kept_out_by| LightEntry {
            light: light.name.clone(),
            suits,
            kept_out_by,
        };
        let Some((arrangement, trial)) = &light.takes else {
            return Ok(entry(Suits::NotSaid, None));
        };
        if grade.is_out() {
            return Ok(entry(Suits::Refuse, None));
        }
        let trial = with_cell(trial, id)?;
        let (suits, by) = match arrangement.cells() {
            1 => self.alone(&trial, grade)?,
            _ => self.with_others(&trial, id, grade)?,
        };
        Ok(entry(suits, by.map(|by| self.kept_out_by(&by))))
    }

    /// In a light that takes one cell, and the caution that keeps it out for sure.
    fn alone(&self, trial: &Trial<'_>, grade: Grade) -> Result<InLight, ProblemList> {
        let report = trial.report()?;
        let findings = Weighed::in_light(&report, self.rules_for);
        let suits = Suits::alone(grade, &findings);
        let by = findings.iter().find(|one| one.surely_refuses());
        Ok((suits, by.map(|one| Arc::clone(&one.finding.caution))))
    }

    /// In a light that takes several, whatever the others are, and the caution about this one that keeps
    /// it out.
    fn with_others(
        &self,
        trial: &Trial<'_>,
        id: &str,
        grade: Grade,
    ) -> Result<InLight, ProblemList> {
        let cell = Subject::named(CELL, id);
        let keeps_out = |finding: &&BriefFinding| {
            finding.subject == cell
                && self.rules_for.refused_by(&finding.caution).is_some()
                && (finding.verdict, finding.status) == (Verdict::Refuse, Status::Decided)
        };
        let brief = trial.brief()?;
        let by = brief.findings.iter().find(keeps_out);
        let by = by.map(|finding| Arc::clone(&finding.caution));
        Ok((Suits::with_others(grade, by.is_some()), by))
    }

    fn kept_out_by(&self, caution: &str) -> KeptOutBy {
        let mut cautions = self.rules.cautions().iter();
        let known = cautions.find(|known| *known.id == *caution);
        KeptOutBy {
            caution: caution.to_owned(),
            title: known.map_or_else(String::new, |known| known.title.to_string()),
        }
    }

    /// What is known of a cell, as it was written.
    fn known(&self, id: &str) -> CellKnown {
        let written = |section, key| self.bench.written_on(self.day, id, (section, key));
        let readings = self.day.map(|day| self.bench.readings_on(day, id));
        let newest = readings.iter().flatten().map(|reading| reading.date).max();
        CellKnown {
            capacity: written("capacity", "value"),
            resistance: written("resistance", "value"),
            rest_voltage: written("rest", "voltage"),
            found_voltage: written("found", "voltage"),
            read_on: newest.map(|date| date.to_string()),
        }
    }

    /// All that was read of a cell, with the days.
    fn readings(&self, id: &str) -> Vec<CellReading> {
        let all = self.day.map(|day| self.bench.readings_until(day, id));
        let told = all
            .into_iter()
            .flatten()
            .map(|(reading, moved)| CellReading {
                date: reading.date.to_string(),
                key: reading.key.to_owned(),
                value: reading.written,
                moved,
            });
        told.collect()
    }
}

/// What is said of a cell in a light, and the caution that keeps it out.
type InLight = (Suits, Option<Arc<str>>);

const CELL: &str = "cell";

pub(super) const ONE: Arrangement = Arrangement {
    series: 1,
    parallel: 1,
};

/// The plan of a cell that is not named yet.
pub(super) fn draft(as_of: Option<Date>, arrangement: Arrangement, light: Option<&str>) -> Draft {
    let mut plan = json!({
        "format": 1,
        "title": "a cell of a bench",
        "arrangement": arrangement.to_string(),
    });
    if let Some(plan) = plan.as_object_mut() {
        let said = [
            ("light", light.map(str::to_owned)),
            ("as_of", as_of.map(|day| day.to_string())),
        ];
        let said = said
            .into_iter()
            .filter_map(|(key, value)| Some((key.to_owned(), value?.into())));
        plan.extend(said);
    }
    Draft::of("a cell of a bench", plan)
}

pub(super) fn with_cell<'r>(trial: &Trial<'r>, id: &str) -> Result<Trial<'r>, ProblemList> {
    trial.with(|draft| draft.set("cells", vec![id]))
}

fn decided_by(weighed: &Weighed<'_>) -> DecidedBy {
    let finding = weighed.finding;
    let compared = compared(finding);
    DecidedBy {
        caution: finding.caution.to_string(),
        title: finding.title.to_string(),
        stage: finding.stage.as_ref().map(ToString::to_string),
        verdict: weighed.verdict,
        best: weighed.best(),
        value: compared.as_ref().map(|compared| compared.value.clone()),
        limit: compared.and_then(|compared| compared.limit),
        status: finding.status,
    }
}

//! The longer texts of the help.

pub(super) const ABOUT: &str = "\
Checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade cautions. \
Says pass, warn or refuse, with the numbers, what to do about it, and where each caution comes from.

Regulators and makers advise against the use of loose cells. A pass overrules neither them nor local \
codes nor licensed practice.";

/// What follows the list of commands.
pub(super) const FIRST_STEPS: &str = "\
First steps:
  cellrules interview my-torch.yaml              be asked, and get a verdict and the file
  cellrules label --voltage \"14.8 V\" --cells 8   find out which cells a pack has
  cellrules help check                           see how to write a proposal
  cellrules check my-torch.yaml                  get a verdict, and what to measure next
  cellrules explain deeply-discharged            see what a caution asks, and why

The crate `rulesets` has the language of rulesets in LANGUAGE.md, and the facts with their places in \
a proposal in FACTS.md.

Exit status:
  0  pass or warn; nothing wrong was found
  1  refuse, or warn with --strict; or something wrong was found in a ruleset, case or label
  2  bad input or wrong usage: that input was not judged
  3  nothing was checked
If several apply, the gravest counts: 2, then 1, then 3, then 0.";

pub(super) const OF_START: &str = "\
Examples:
  cellrules start plan
  cellrules start bench -o bench.yaml
  cellrules start ruleset --out club-rules.yaml

Exit status: 0, or 2 if the file exists or cannot be written, or for wrong usage.";

pub(super) const OF_INTERVIEW: &str = "\
The file is written as YAML, or as JSON if its name ends in `.json`. Comments cannot be kept: for a \
file with comments name another one with `--out`.

Examples:
  cellrules interview my-torch.yaml
  cellrules interview --bench bench.yaml my-torch.yaml
  cellrules interview my-torch.yaml --out answered.yaml --rules club-practice.yaml

Exit status:
  0  pass or warn, by what is answered so far
  1  refuse, by what is answered so far
  2  bad input, no terminal, or wrong usage: nothing was written
  3  nothing was checked";

/// What follows the options of `check`.
pub(super) const OF_CHECK: &str = "\
In a table of CSV the column `row` says what a row is: `verdict`, `finding`, `problem` or `notice`. A \
field that a spreadsheet would take for a formula has an apostrophe before it.

A proposal can be as short as this. The report says what to measure next:
  format: 1
  title: Torch for the night relay
  arrangement: 1S1P # how many cells in series, how many in parallel
  cells:
    - { id: K4, rest: { voltage: 3.71 V } }
`cellrules facts` lists everything that a proposal can say, and where it is written.

Examples:
  cellrules check helmet-lamp.yaml
  cellrules check --full helmet-lamp.yaml
  cellrules check --questions helmet-lamp.yaml
  cellrules check --stage sorting helmet-lamp.yaml
  cellrules check lamps
  cellrules check lamps/*.yaml --strict --rules club-practice.yaml
  cellrules check --format json < helmet-lamp.yaml
  cellrules check lamps --format sarif -o findings.sarif
  cellrules check lamps --format junit -o findings.xml
  cellrules check --format html -o helmet-lamp.html helmet-lamp.yaml

Exit status:
  0  pass or warn
  1  refuse, or warn with --strict
  2  bad input or wrong usage: that input was not judged
  3  nothing was checked: no caution applied
With several proposals or stages the gravest status counts: 2, then 1, then 3, then 0.";

pub(super) const OF_CHANGED: &str = "\
Examples:
  cellrules check --format json helmet-lamp.yaml > old.json
  cellrules changed old.json new.json
  cellrules check --format json helmet-lamp.yaml | cellrules changed old.json -

Exit status:
  0  no verdict got graver
  1  the verdict, or that of a stage, got graver
  2  bad input or wrong usage";

pub(super) const OF_RANGE: &str = "\
Examples:
  cellrules range my-torch.yaml light.draw
  cellrules range my-torch.yaml light.draw --from \"0.5 W\" --to \"8 W\" --resolution \"0.01 W\"
  cellrules range my-torch.yaml conditions.ambient --format json
  cellrules range my-torch.yaml \"cells[M2].capacity.value\"
  cellrules range my-torch.yaml light.drive
  cellrules range my-torch.yaml light.draw --and conditions.ambient

Exit status: 0 for an answer, whatever it is, or 2 for bad input or wrong usage.";

pub(super) const OF_PLAIN: &str = "\
A proposal that names its bench says only what is its own:
  format: 1
  bench: ./bench.yaml
  light: helmet-lamp
  charging: four-bay
  cells: [K4, K7]

Examples:
  cellrules plain night-relay.yaml
  cellrules plain lamps > all.yaml
  cellrules plain --format json night-relay.yaml > plain.json

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_FIGURES: &str = "\
Examples:
  cellrules figures helmet-lamp.yaml
  cellrules figures lamps
  cellrules figures --format json < helmet-lamp.yaml

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_CHOOSE: &str = "\
Examples:
  cellrules choose helmet-lamp.yaml
  cellrules choose helmet-lamp.yaml --sets 10 --not-passing
  cellrules choose --bench clubhouse.yaml --light start-hut --stage sorting --stage building

Exit status:
  0  the first set passes, or warns without `--strict`
  1  it refuses, or warns with `--strict`; or there is no set
  2  bad input or wrong usage
  3  no caution applied, so that nothing was checked";

pub(super) const OF_LABEL: &str = "\
Examples:
  cellrules label --voltage \"14.8 V\" --capacity \"4.4 Ah\" --energy \"65 Wh\" --cells 8
  cellrules label --voltage \"10.8 V\" --energy \"48 Wh\" --format json
  cellrules label --code 3INR19/66-2

Exit status:
  0  the label can be true
  1  the label contradicts itself or the count, or describes cells that do not exist
  2  bad input or wrong usage";

pub(super) const OF_STREAM: &str = "\
Examples:
  cellrules stream plans.jsonl > records.jsonl
  cellrules stream --full plans.jsonl > reports.jsonl
  cellrules stream --stage sorting < plans.jsonl

Exit status:
  0  pass or warn on every line
  1  refuse, or warn with --strict
  2  bad input or wrong usage: those lines were not judged
  3  nothing was checked: no caution applied, or there was no proposal
With several lines or stages the gravest status counts: 2, then 1, then 3, then 0.";

pub(super) const OF_PROSE: &str = "\
Examples:
  cellrules prose > words.json
  cellrules prose --rules club-practice.yaml

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_CAUTIONS: &str = "\
Examples:
  cellrules cautions
  cellrules cautions --rules club-practice.yaml --format json

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_EXPLAIN: &str = "\
Examples:
  cellrules explain self-discharge-high
  cellrules explain spare-lamp-missing --rules club-practice.yaml

A place such as `rescued-cells:120:5` is a line and a column of what `cellrules ruleset \
rescued-cells` prints.

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_FACTS: &str = "\
Examples:
  cellrules facts
  cellrules facts --rules club-practice.yaml --format json

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_LIMITS: &str = "\
Examples:
  cellrules limits
  cellrules limits --rules club-practice.yaml --format json

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_VET: &str = "\
Examples:
  cellrules vet club-practice.yaml
  cellrules vet rescued-cells --format json
  cellrules vet club-practice.yaml --format sarif -o found.sarif

Exit status:
  0  there is nothing to correct
  1  there is something to correct
  2  a ruleset cannot be used, or wrong usage";

pub(super) const OF_CASES: &str = "\
Examples:
  cellrules cases rescued-cells
  cellrules cases club-practice.yaml --format json
  cellrules cases club-practice.yaml --format junit -o cases.xml

Exit status:
  0  every case gave the verdict that it expects, or there are no cautions that could have any
  1  a case gave another
  2  a ruleset cannot be used, or wrong usage
  3  there are cautions, and no case to run";

pub(super) const OF_RULESET: &str = "\
Examples:
  cellrules ruleset
  cellrules ruleset rescued-cells

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_MERGED: &str = "\
Example:
  cellrules merged rescued-cells club-practice.yaml > all.json

Exit status: 0, or 2 for bad input or wrong usage.";

pub(super) const OF_SCHEMA: &str = "\
Examples:
  cellrules schema
  cellrules schema proposal > proposal.schema.json
  cellrules schema ruleset --rules rescued-cells > ruleset.schema.json

Exit status: 0, or 2 for bad input or wrong usage.";

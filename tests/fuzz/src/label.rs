//! Any text as the label of a pack: a line each for voltage, capacity, energy, code and counted
//! cells. An empty line is not on the label.

use rules_core::quantity::Interval;
use rules_core::report::text::{Plain, USUAL_WIDTH};
use rulesets::facts::catalogue;
use rulesets::label::{Decoded, Label, LabelReport, Printed, decode, text};

/// A label is refused with its faults, or decoded into readings the likeliest first that keep to
/// the count, and written as text and JSON.
pub fn any(bytes: &[u8]) {
    let written = String::from_utf8_lossy(bytes);
    let mut lines = written
        .lines()
        .map(|line| Some(line.trim()).filter(|line| !line.is_empty()));
    let mut number = |printed: Printed| lines.next().flatten().and_then(|text| read(printed, text));
    let (voltage, capacity, energy) = (
        number(Printed::Voltage),
        number(Printed::Capacity),
        number(Printed::Energy),
    );
    let code = lines.next().flatten();
    let cells = lines.next().flatten().and_then(|text| text.parse().ok());
    let label = Label {
        voltage,
        capacity,
        energy,
        code,
        cells,
    };
    match decode(&label) {
        Ok(decoded) => keeps_its_promises(&label, &decoded),
        Err(faults) => assert!(
            !faults.is_empty()
                && faults
                    .iter()
                    .all(|fault| !fault.to_string().is_empty() && !fault.help().is_empty())
        ),
    }
}

fn read(printed: Printed, text: &str) -> Option<Interval> {
    let range = printed
        .read(text)
        .map_err(|error| assert!(text.get(error.span()).is_some()))
        .ok()?;
    assert!(range.lo() <= range.hi());
    Some(range)
}

fn keeps_its_promises(label: &Label<'_>, decoded: &Decoded) {
    let plausible: Vec<_> = decoded
        .readings
        .iter()
        .map(|reading| reading.plausible())
        .collect();
    assert!(
        plausible.is_sorted(),
        "the likeliest come first: {plausible:?}"
    );
    assert!(
        !decoded.readings.is_empty() || !decoded.contradictions.is_empty(),
        "no reading without a contradiction"
    );
    for reading in &decoded.readings {
        assert!(reading.series >= 1 && reading.parallel.is_none_or(|parallel| parallel >= 1));
        assert!(!reading.arrangement().is_empty());
    }
    let report = LabelReport::new(label, decoded, catalogue().notice());
    assert_eq!(report.believable, decoded.is_believable());
    assert!(serde_json::to_vec(&report).is_ok(), "a report is JSON");
    assert!(!text(&report, USUAL_WIDTH, &Plain).is_empty());
}

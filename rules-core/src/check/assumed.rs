//! Readings of which the proposal does not say how good they are: they are taken to be by the meter
//! that the rules assume, and no stated meter may be worse than that.

use std::borrow::Cow;

use crate::document::{Fault, Problems};
use crate::facts::{Given, Sheet, StatedMeter, SubjectId, Value, called};
use crate::quantity::{BareReading, Interval, Kind, Measure, is_wider};
use crate::ruleset::{AssumedMeter, Rules};

/// The sheet with readings as good as the meters that the rules assume, where it states none of their
/// kind. A stated meter that is too coarse is reported.
pub(super) fn by_assumed_meters<'s>(
    rules: &Rules,
    sheet: Cow<'s, Sheet>,
    problems: &mut Problems<'_>,
) -> Cow<'s, Sheet> {
    let mut widened = Vec::new();
    for assumed in rules.meters() {
        match sheet.meters().of(assumed.kind) {
            None => widened.extend(readings(rules, &sheet, assumed.kind).map(|one| {
                let given = one.by_assumed(assumed);
                (one.place, given)
            })),
            Some(stated) if assumed.is_as_wide_as(&stated.meter) => {}
            Some(stated) => {
                let mut all = readings(rules, &sheet, assumed.kind);
                let coarse = all.find(|one| one.is_wider_by(stated, assumed));
                if let Some(reading) = coarse {
                    too_coarse(&reading, (stated, assumed), rules, &sheet, problems);
                }
            }
        }
    }
    if widened.is_empty() {
        return sheet;
    }
    let mut sheet = sheet.into_owned();
    for ((subject, position, slot), given) in widened {
        if let Some(instance) = sheet.instance_mut(subject, position) {
            instance.set(slot, given);
        }
    }
    Cow::Owned(sheet)
}

/// A reading without a tolerance of its own.
struct BareGiven<'s> {
    place: (SubjectId, usize, usize),
    name: &'s str,
    domain: Interval,
    given: &'s Given,
    reading: BareReading,
}

/// The readings of a kind that tell no tolerance.
fn readings<'s>(
    rules: &'s Rules,
    sheet: &'s Sheet,
    kind: Kind,
) -> impl Iterator<Item = BareGiven<'s>> {
    let catalogue = rules.catalogue();
    catalogue.read_with(kind).flat_map(move |(id, def)| {
        let slot = catalogue.slot(id);
        (0..sheet.count(def.subject)).filter_map(move |position| {
            let given = sheet.given(def.subject, position, slot)?;
            Some(BareGiven {
                place: (def.subject, position, slot),
                name: catalogue.fact_name(id),
                domain: def.domain,
                given,
                reading: BareReading::of(&given.written, kind)?,
            })
        })
    })
}

impl BareGiven<'_> {
    /// What the assumed meter makes of it. Such readings need not be by one meter: they share nothing.
    fn by_assumed(&self, assumed: &AssumedMeter) -> Given {
        let read = self.reading.known_to(assumed.half(&self.reading));
        // Its digits reach into the domain, and this is no narrower.
        let value = read.clipped_to(self.domain).unwrap_or(read);
        Given {
            value: Value::Number(value),
            meter_assumed: true,
            ..self.given.clone()
        }
    }

    fn is_wider_by(&self, stated: &StatedMeter, assumed: &AssumedMeter) -> bool {
        let stated = self.reading.half_by(&stated.meter);
        is_wider(stated, assumed.half(&self.reading))
    }

    fn known_to(&self, half: f64) -> Measure {
        self.reading.known_to(half)
    }
}

fn too_coarse(
    reading: &BareGiven<'_>,
    (stated, assumed): (&StatedMeter, &AssumedMeter),
    rules: &Rules,
    sheet: &Sheet,
    problems: &mut Problems<'_>,
) {
    let (subject, position, _) = reading.place;
    let shown = |half: f64| reading.known_to(half).shown(assumed.kind).to_string();
    let message = format!(
        "a meter of `{}` is too coarse for this work: `{}` of {}, `{}`, would be {} by it, and the worst that is allowed is {}",
        stated.written,
        reading.name,
        called(subject, position, rules.catalogue(), sheet),
        reading.given.written,
        shown(reading.reading.half_by(&stated.meter)),
        shown(assumed.half(&reading.reading)),
    );
    let help = format!(
        "take the readings with a meter of {} or better",
        assumed.says()
    );
    problems.add(Fault::TooCoarse, stated.at, message, help);
}

//! Finding the arrangements that a label allows.

use super::code::Code;
use super::credible::{Credible, Family};
use super::fault::LabelFault;
use super::pack::{self, Pack};
use super::pack_reading::{Doubt, PackReading};
use super::printed::{Label, Printed};
use crate::bounds::{MOST_CELLS, MOST_COUNTED};
use rules_core::quantity::{Holds, Interval};

/// What is known of a pack.
pub(super) struct Search {
    pub(super) pack: Pack,
    pub(super) code: Option<Code>,
    pub(super) cells: Option<u32>,
}

impl Search {
    /// What a label says, or all that is wrong with it.
    pub(super) fn of(label: &Label<'_>) -> Result<Self, Vec<LabelFault>> {
        let mut faults = pack::faults(label);
        let code = label
            .code
            .map(Code::read)
            .transpose()
            .unwrap_or_else(|fault| {
                faults.push(LabelFault::Code(fault));
                None
            });
        faults.extend(
            label
                .cells
                .filter(|cells| !is_a_count(*cells))
                .map(LabelFault::Cells),
        );
        let search = Self {
            pack: Pack::of(label),
            code,
            cells: label.cells,
        };
        if faults.is_empty() {
            faults.extend(search.lacks());
        }
        if faults.is_empty() {
            Ok(search)
        } else {
            Err(faults)
        }
    }

    /// What is missing to find the number in series.
    fn lacks(&self) -> Option<LabelFault> {
        match self.code {
            Some(Code {
                series: Some(_), ..
            }) => None,
            _ if self.pack.voltage.is_none() => Some(LabelFault::NoVoltage),
            Some(Code {
                class: Some(class), ..
            }) if class.family() == Family::Other => Some(LabelFault::ClassUnknown(class)),
            _ => None,
        }
    }

    /// Every arrangement that the label allows, the likeliest first. The arrangement that the code
    /// states is one of them, whatever the numbers say. If it states none, or other cells were
    /// counted, those that the voltage allows are included.
    pub(super) fn readings(&self) -> Result<Vec<PackReading>, LabelFault> {
        let mut found = self.by_code()?;
        if self
            .stated_series()
            .is_none_or(|series| !self.agrees(series, self.stated_parallel()))
        {
            found.extend(self.by_voltage()?);
        }
        found.sort_by_cached_key(|reading| self.rank(reading));
        Ok(found)
    }

    pub(super) fn stated_series(&self) -> Option<u32> {
        self.code?.series
    }

    pub(super) fn stated_parallel(&self) -> Option<u32> {
        self.code?.parallel
    }

    pub(super) fn voltage(&self) -> Option<Interval> {
        self.pack.voltage.map(|voltage| voltage.range)
    }

    /// The families that cells can be of: that of the code, or any whose voltage is known.
    pub(super) fn families(&self) -> Vec<Family> {
        self.code.map_or_else(
            || vec![Family::CobaltNickel, Family::IronPhosphate],
            |code| vec![code.family()],
        )
    }

    /// Whether the number of cells counted, if known, fits the arrangement.
    pub(super) fn agrees(&self, series: u32, parallel: Option<u32>) -> bool {
        self.cells.is_none_or(|cells| match parallel {
            Some(parallel) => series.checked_mul(parallel) == Some(cells),
            None => cells.is_multiple_of(series),
        })
    }

    fn by_code(&self) -> Result<Vec<PackReading>, LabelFault> {
        let (Some(code), Some(series)) = (self.code, self.stated_series()) else {
            return Ok(Vec::new());
        };
        let family = code.family();
        let parallel = match code.parallel {
            Some(parallel) => vec![Some(parallel)],
            None if self.agrees(series, None) => self.in_parallel(series, family)?,
            None => self.by_capacity(family)?,
        };
        Ok(parallel
            .into_iter()
            .map(|parallel| self.reading(series, parallel, family))
            .collect())
    }

    fn by_voltage(&self) -> Result<Vec<PackReading>, LabelFault> {
        let mut found = Vec::new();
        for family in self.families() {
            for series in self.in_series(family)? {
                let parallel = if self.agrees(series, None) {
                    self.in_parallel(series, family)?
                } else {
                    Vec::new()
                };
                found.extend(
                    parallel
                        .into_iter()
                        .map(|parallel| self.reading(series, parallel, family)),
                );
            }
        }
        Ok(found)
    }

    /// The numbers in series that give the cells a voltage of their family.
    pub(super) fn in_series(&self, family: Family) -> Result<Vec<u32>, LabelFault> {
        let (Some(voltage), Some(nominal)) = (self.voltage(), family.nominal()) else {
            return Ok(Vec::new());
        };
        if shared(voltage, MOST_COUNTED + 1).below(nominal) != Holds::Yes {
            return Err(LabelFault::TooMany(Printed::Voltage));
        }
        let shares = (1..=MOST_COUNTED).map(|series| (series, shared(voltage, series)));
        let not_too_many = shares.take_while(|(_, share)| share.below(nominal) != Holds::Yes);
        Ok(not_too_many
            .filter(|(_, share)| share.equals(nominal) != Holds::No)
            .map(|(series, _)| series)
            .collect())
    }

    /// The numbers in parallel that go with a number in series which the count allows: that of the
    /// count, or those that the capacity allows.
    fn in_parallel(&self, series: u32, family: Family) -> Result<Vec<Option<u32>>, LabelFault> {
        match self.cells {
            Some(cells) => Ok(vec![cells.checked_div(series)]),
            None => self.by_capacity(family),
        }
    }

    /// The numbers in parallel that leave a cell enough capacity to be one, and one in any case.
    fn by_capacity(&self, family: Family) -> Result<Vec<Option<u32>>, LabelFault> {
        let (Some(capacity), Some(credible)) = (self.pack.capacity, self.credible(family)) else {
            return Ok(vec![None]);
        };
        let too_little = |parallel: u32| {
            shared(capacity.range, parallel).below(Interval::point(credible.followed)) == Holds::Yes
        };
        if !too_little(MOST_COUNTED + 1) {
            return Err(LabelFault::TooMany(Printed::Capacity));
        }
        Ok((1..=MOST_COUNTED)
            .take_while(|parallel| *parallel == 1 || !too_little(*parallel))
            .map(Some)
            .collect())
    }

    pub(super) fn credible(&self, family: Family) -> Option<Credible> {
        Credible::of(family, self.code.map(|code| code.size))
    }

    fn reading(&self, series: u32, parallel: Option<u32>, family: Family) -> PackReading {
        let cell_voltage = self.voltage().map(|voltage| shared(voltage, series));
        let cell_capacity = self
            .pack
            .capacity
            .zip(parallel)
            .map(|(capacity, parallel)| shared(capacity.range, parallel));
        let class = self.code.and_then(|code| code.class);
        let mut reading = PackReading {
            series,
            parallel,
            family,
            class,
            cell_voltage,
            cell_capacity,
            doubts: Vec::new(),
        };
        reading.doubts = self.doubts(&reading).into_iter().flatten().collect();
        reading
    }

    fn doubts(&self, reading: &PackReading) -> [Option<Doubt>; 4] {
        let nominal = reading.family.nominal();
        let apart = nominal
            .zip(reading.cell_voltage)
            .filter(|(nominal, voltage)| nominal.equals(*voltage) == Holds::No);
        let capacity = self.credible(reading.family).zip(reading.cell_capacity);
        [
            apart.map(|(nominal, _)| Doubt::Voltage { nominal }),
            capacity
                .and_then(|(credible, capacity)| credible.doubt(capacity))
                .map(Doubt::Capacity),
            self.cells
                .filter(|_| !self.agrees(reading.series, reading.parallel))
                .map(|cells| Doubt::Cells { cells }),
            nominal.is_none().then_some(Doubt::Class),
        ]
    }

    /// What comes first: the plausible, the family that is commoner, the commonest voltage, the
    /// capacity nearest to what cells of packs have, the fewest cells.
    fn rank(&self, reading: &PackReading) -> impl Ord + use<> {
        let off = |middle: Option<f64>, usual: f64| {
            Nearness(middle.map_or(0.0, |middle| (middle - usual).abs()))
        };
        let voltage = off(
            reading.cell_voltage.map(Interval::middle),
            reading.family.usual_voltage(),
        );
        let usual = self
            .credible(reading.family)
            .map_or(0.0, |credible| credible.middle);
        let capacity = off(reading.cell_capacity.map(Interval::middle), usual);
        (
            reading.plausible(),
            reading.family,
            voltage,
            reading.series,
            capacity,
            reading.parallel,
        )
    }
}

/// How far a number is from the usual one, in an order of all numbers.
#[derive(PartialEq)]
struct Nearness(f64);

impl Eq for Nearness {}

impl PartialOrd for Nearness {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Nearness {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

/// What one of so many has of a whole.
pub(super) fn shared(whole: Interval, count: u32) -> Interval {
    whole / Interval::point(f64::from(count))
}

fn is_a_count(cells: u32) -> bool {
    cells > 0 && usize::try_from(cells).is_ok_and(|cells| cells <= MOST_CELLS)
}

//! Another trade than any that the engine is used for: heaters of a hall, and the cables and fuses
//! that feed them. The engine's own tests speak of nothing else, which shows that it can.

use rules_core::facts::{Catalogue, FactDef, FactKind, OverTime, SubjectDef, SubjectId};
use rules_core::quantity::{Interval, Kind, Nature};

/// The heater.
pub(crate) const HEATER: SubjectId = SubjectId::new(0);
/// All that feeds it, worked out.
pub(crate) const SITE: SubjectId = SubjectId::new(1);
/// Cables that one fuse guards.
pub(crate) const CIRCUIT: SubjectId = SubjectId::new(2);
/// One cable.
pub(crate) const CABLE: SubjectId = SubjectId::new(3);
/// One fuse.
pub(crate) const FUSE: SubjectId = SubjectId::new(4);

fn subjects() -> [SubjectDef; 5] {
    [
        SubjectDef::single("heater", "The heater"),
        SubjectDef::single("site", "All that feeds the heater").without_section(),
        SubjectDef::many("circuit", "circuits", None, "Cables that one fuse guards")
            .without_section(),
        SubjectDef::many("cable", "cables", Some(CIRCUIT), "One cable"),
        SubjectDef::many("fuse", "fuses", None, "One fuse"),
    ]
}

/// The subjects and facts of the trade. It has no figures of a library.
#[must_use]
pub(crate) fn catalogue() -> Catalogue {
    let mut catalogue = Catalogue::of_subjects(&subjects());
    let sheaths = ["intact", "nicked", "torn"].map(str::to_owned).to_vec();
    let facts = [
        number(HEATER, "current", Kind::Current, 0.0..=1e3, Nature::Stated),
        number(
            HEATER,
            "ambient",
            Kind::Temperature,
            -60.0..=120.0,
            Nature::Stated,
        ),
        number(
            HEATER,
            "outside",
            Kind::Temperature,
            -60.0..=120.0,
            Nature::Stated,
        ),
        fact(HEATER, "guarded", FactKind::YesNo),
        number(SITE, "cables", Kind::Count, 0.0..=1e4, Nature::Stated),
        fact(CABLE, "id", FactKind::Id),
        fact(CABLE, "circuit", FactKind::Id),
        fact(CABLE, "earthed", FactKind::YesNo),
        fact(CABLE, "sheath", FactKind::Choice(sheaths)),
        number(CABLE, "drop", Kind::Voltage, 0.0..=1e3, Nature::Measured),
        number(
            CABLE,
            "warmth",
            Kind::Temperature,
            -60.0..=250.0,
            Nature::Measured,
        ),
        number(
            CABLE,
            "load_ratio",
            Kind::Ratio,
            0.0..=10.0,
            Nature::Measured,
        ),
        number(FUSE, "rating", Kind::Current, 0.0..=1e3, Nature::Stated),
    ];
    for fact in facts {
        catalogue.add(fact);
    }
    catalogue
}

fn number(
    subject: SubjectId,
    name: &str,
    kind: Kind,
    domain: std::ops::RangeInclusive<f64>,
    nature: Nature,
) -> FactDef {
    FactDef {
        domain: Interval::new(*domain.start(), *domain.end()).unwrap_or(Interval::WHOLE),
        nature,
        ..fact(subject, name, FactKind::Number(kind))
    }
}

fn fact(subject: SubjectId, name: &str, kind: FactKind) -> FactDef {
    FactDef {
        subject,
        name: name.to_owned().into(),
        kind,
        domain: Interval::WHOLE,
        nature: Nature::Stated,
        meaning: format!("What is known of {name}").into(),
        none_is_zero: false,
        changeable: false,
        over_time: OverTime::Newest,
        key: Some(name.to_owned().into()),
        from: None,
        example: None,
    }
}

//! The standing safety notice. It is on every report, whatever the verdict.

use serde::Serialize;

/// One point of the notice, with who says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Notice {
    /// What is said.
    pub says: &'static str,
    /// Who says it, and where.
    pub source: &'static str,
}

/// The notice.
pub const NOTICE: [Notice; 4] = [
    Notice {
        says: "Consumers are told not to buy or use loose cells: they are parts for packs, without protection, and can catch fire when shorted or wrongly charged.",
        source: "US Consumer Product Safety Commission, safety warning on cells separated from packs, 8 January 2021",
    },
    Notice {
        says: "Makers forbid the use of bare cells as removable power sources of any device; lanterns are named.",
        source: "a cell maker's lithium-ion battery safety guide, web edition",
    },
    Notice {
        says: "Taking computer packs apart is called very dangerous; modified batteries should not be bought, used or passed on.",
        source: "Battery Association of Japan, tips on safe use of lithium-ion batteries",
    },
    Notice {
        says: "A pass means only that these rules found nothing against the use. It does not overrule the above, the makers' sheets, local codes or licensed practice.",
        source: "this checker",
    },
];

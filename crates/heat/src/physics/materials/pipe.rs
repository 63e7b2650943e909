//! Plastic supply pipe, and the rubber of washers. Metal supplies are in the table of metals.

use super::{Class, Material, Spread, Standing, Storage};

const PLASTIC: Option<Spread> = Some(Spread::new(0.80, 0.90, 0.97));

pub(super) const ROWS: &[Material] = &[
    Material {
        key: "pex",
        name: "cross-linked polyethylene (PEX)",
        aliases: &["pe-x", "pex-a", "pex-b", "cross-linked polyethylene"],
        class: Class::SupplyPipe,
        conductivity: Spread::new(0.35, 0.38, 0.46),
        emissivity: PLASTIC,
        source: "makers and EN ISO 15875, 0.35 to 0.41; high: 3.2 Btu·in/(h·ft²·°F) in North American tables (seen)",
        standing: Standing::FromMemory,
        storage: Storage::new(
            940.0,
            2300.0,
            "tables of plastic pipe: 0.94, 0.55 Btu/(lb·°F)",
            Standing::Seen,
        ),
    },
    Material {
        key: "cpvc",
        name: "chlorinated PVC (CPVC)",
        aliases: &["pvc-c"],
        class: Class::SupplyPipe,
        conductivity: Spread::new(0.137, 0.14, 0.16),
        emissivity: PLASTIC,
        source: "makers by ASTM C177, 0.95 Btu·in/(h·ft²·°F); high: other makers (from memory)",
        standing: Standing::Seen,
        storage: Storage::new(
            1550.0,
            900.0,
            "makers 1520 to 1560; tables of plastic pipe 0.20 Btu/(lb·°F), 837 J/(kg·K)",
            Standing::Seen,
        ),
    },
    Material {
        key: "pvc",
        name: "PVC",
        aliases: &["upvc", "pvc-u"],
        class: Class::SupplyPipe,
        conductivity: Spread::new(0.16, 0.17, 0.19),
        emissivity: PLASTIC,
        source: "ISO 10456; makers 0.16 to 0.19",
        standing: Standing::FromMemory,
        storage: Storage::new(
            1390.0,
            900.0,
            "EN 12524, rigid; CIBSE 1380, 1000; tables of plastic pipe 1400, 1047",
            Standing::Seen,
        ),
    },
    Material {
        key: "polyethylene",
        name: "polyethylene pipe",
        aliases: &["pe", "hdpe", "poly", "black poly"],
        class: Class::SupplyPipe,
        conductivity: Spread::new(0.33, 0.40, 0.50),
        emissivity: PLASTIC,
        source: "makers; ISO 10456: 0.33 low, 0.50 high density",
        standing: Standing::FromMemory,
        storage: Storage::new(
            950.0,
            2300.0,
            "tables of plastic pipe: 0.95, 0.55 Btu/(lb·°F); ISO 10456 high density 980, 1800 (from memory)",
            Standing::Seen,
        ),
    },
    RUBBER,
];

/// The rubber of washers and gaskets.
pub const RUBBER: Material = Material {
    key: "rubber",
    name: "rubber washer or gasket (EPDM)",
    aliases: &["epdm", "washer", "rubber washer", "gasket"],
    class: Class::Elastomer,
    conductivity: Spread::new(0.13, 0.25, 0.25),
    emissivity: None,
    source: "ISO 10456, EPDM; low: natural rubber, same table",
    standing: Standing::FromMemory,
    storage: Storage::new(
        1150.0,
        1000.0,
        "ISO 10456, EPDM; rubber tiles by CIBSE Guide A 1600, 2000 (seen)",
        Standing::FromMemory,
    ),
};

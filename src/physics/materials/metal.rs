//! Metals of barrels, stems, flanges, fittings, supplies and siding.
//!
//! Emissivities: bright 0.05, tarnished 0.4 to 0.6, as in [`super::super::air_film`]; a painted part takes paint's.

use super::{Class, Material, Spread, Standing};

const TARNISHING: Option<Spread> = Some(Spread::new(0.05, 0.4, 0.6));

pub(super) const ROWS: &[Material] = &[
    Material {
        key: "copper",
        name: "copper, C12200",
        aliases: &["cu", "c12200", "dhp copper", "copper tube"],
        class: Class::Metal,
        conductivity: Spread::new(220.0, 339.0, 390.0),
        emissivity: TARNISHING,
        source: "Copper Development Association, 196 Btu/(h·ft·°F); low: CRC Handbook, phosphorus deoxidized, 273 K \
                 (seen); high: pure copper as tables print it (ISO 10456 380, 388 at 32 °F)",
        standing: Standing::FromMemory,
    },
    Material {
        key: "brass",
        name: "brass, C36000",
        aliases: &["yellow brass", "c36000", "c37700", "forged brass", "leaded brass"],
        class: Class::Metal,
        conductivity: Spread::new(109.0, 115.0, 123.0),
        emissivity: TARNISHING,
        source: "Copper Development Association, 67 Btu/(h·ft·°F); low: general tables (seen); high: Muntz metal, 71",
        standing: Standing::FromMemory,
    },
    Material {
        key: "red-brass",
        name: "red brass, C23000 (low: cast)",
        aliases: &["c23000", "wrought red brass"],
        class: Class::Metal,
        // "Red brass" alone does not tell wrought pipe from cast bodies, so the spread reaches the cast alloy.
        conductivity: Spread::new(72.0, 159.0, 160.0),
        emissivity: TARNISHING,
        source: "Copper Development Association, 92 Btu/(h·ft·°F); low: cast red brass C83600, 41.6 (seen)",
        standing: Standing::FromMemory,
    },
    Material {
        key: "cast-red-brass",
        name: "cast red brass or bronze, C84400",
        aliases: &["bronze", "cast bronze", "c84400", "c83600", "leaded red brass", "semi-red brass"],
        class: Class::Metal,
        conductivity: Spread::new(65.0, 72.4, 72.5),
        emissivity: TARNISHING,
        source: "foundry sheets after the Copper Development Association: C84400 41.9, C83600 41.6 Btu/(h·ft·°F); low: \
                 ISO 10456, bronze",
        standing: Standing::Seen,
    },
    Material {
        key: "silicon-brass",
        name: "lead-free silicon brass, C69300",
        aliases: &["c69300", "c87850", "lead-free silicon brass"],
        class: Class::Metal,
        conductivity: Spread::new(26.0, 38.0, 38.0),
        emissivity: TARNISHING,
        source: "C69300, about 22 Btu/(h·ft·°F); low: C69430, 15 (seen)",
        standing: Standing::FromMemory,
    },
    Material {
        key: "stainless",
        name: "stainless steel, 304 or 316",
        aliases: &["ss", "stainless steel", "304", "316", "18-8", "austenitic stainless"],
        class: Class::Metal,
        conductivity: Spread::new(13.3, 14.6, 17.0),
        emissivity: Some(Spread::new(0.05, 0.2, 0.6)),
        source: "NIST cryogenic fit for 304 at 0 °C; low: 316 at 0 °C after Incropera; high: ISO 10456 design value",
        standing: Standing::Recomputed,
    },
    Material {
        key: "carbon-steel",
        name: "carbon steel",
        aliases: &["steel", "black steel", "black iron"],
        class: Class::Metal,
        conductivity: Spread::new(50.0, 60.5, 65.0),
        emissivity: Some(Spread::new(0.1, 0.7, 0.9)),
        source: "heat transfer data book, plain carbon steel; low: ISO 10456; high: CRC Handbook, 1020 at 273 K (seen)",
        standing: Standing::Seen,
    },
    Material {
        key: "galvanized-steel",
        name: "galvanized steel",
        aliases: &["galvanised steel", "galvanized", "galv"],
        class: Class::Metal,
        conductivity: Spread::new(50.0, 60.5, 65.0),
        emissivity: Some(Spread::new(0.2, 0.28, 0.6)),
        source: "as carbon steel: the zinc coat is too thin to count",
        standing: Standing::Seen,
    },
    Material {
        key: "zinc-die-cast",
        name: "zinc die casting",
        aliases: &["zinc", "zamak", "pot metal", "die cast zinc"],
        class: Class::Metal,
        conductivity: Spread::new(105.0, 113.0, 113.0),
        emissivity: Some(Spread::new(0.05, 0.25, 0.3)),
        source: "EN 12844 tables: ZP3 113, ZP5 109, ZP2 105",
        standing: Standing::Seen,
    },
    Material {
        key: "aluminum",
        name: "aluminum alloy",
        aliases: &["aluminium", "al", "aluminum siding"],
        class: Class::Metal,
        conductivity: Spread::new(96.0, 160.0, 237.0),
        emissivity: Some(Spread::new(0.04, 0.09, 0.3)),
        source: "ISO 10456, alloys; low: die-casting alloy 380, 96 (seen); high: pure, Incropera table A.1 (seen)",
        standing: Standing::FromMemory,
    },
    Material {
        key: "steel-siding",
        name: "steel siding",
        aliases: &["metal siding", "metal panel", "metal cladding"],
        class: Class::Metal,
        conductivity: Spread::new(45.0, 45.3, 65.0),
        emissivity: Some(Spread::new(0.2, 0.9, 0.97)),
        source: "ASHRAE Fundamentals 2005, ch. 30 table 22, F08 metal surface; high: CRC Handbook, 1020",
        standing: Standing::Seen,
    },
];

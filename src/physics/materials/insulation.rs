//! Insulation, near a mean of 24 °C (75 °F) as it is labelled. Most kinds do up to a tenth better near 0 °C, which is
//! not taken credit for.

use super::{Class, Material, Spread, Standing};

const fn row(
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    conductivity: Spread,
    source: &'static str,
    standing: Standing,
) -> Material {
    Material {
        key,
        name,
        aliases,
        class: Class::Insulation,
        conductivity,
        emissivity: None,
        source,
        standing,
    }
}

pub(super) const ROWS: &[Material] = &[
    row(
        "fiberglass-batt",
        "glass-fiber batt, R-11 to R-13 and R-19",
        &["batt", "fiberglass", "glass fiber batt", "glass-fibre batt", "fibreglass"],
        Spread::new(0.0388, 0.043, 0.048),
        "from labelled R and thickness: R-13 at 3.5 in 0.0388, R-11 0.0459, R-19 at 6.25 in 0.0474; ASHRAE 2017 0.048",
        Standing::Recomputed,
    ),
    row(
        "fiberglass-batt-high-density",
        "glass-fiber batt, R-15 and R-21",
        &["high-density batt", "dense batt"],
        Spread::new(0.033, 0.036, 0.0385),
        "from labelled R and thickness: R-15 at 3.5 in 0.0337, R-21 at 5.5 in 0.0378; ASHRAE 2017 0.033 to 0.039",
        Standing::Recomputed,
    ),
    row(
        "mineral-wool",
        "mineral wool batt",
        &["rock wool", "stone wool", "slag wool", "rockwool"],
        Spread::new(0.033, 0.036, 0.037),
        "ASHRAE Fundamentals 2017, ch. 26 table 1",
        Standing::Seen,
    ),
    row(
        "xps",
        "extruded polystyrene board",
        &["extruded polystyrene"],
        Spread::new(0.026, 0.029, 0.029),
        "ASHRAE Fundamentals 2005, ch. 25 (0.029) and 2017, ch. 26 (0.026 to 0.029)",
        Standing::Seen,
    ),
    row(
        "eps",
        "expanded polystyrene board",
        &["expanded polystyrene", "beadboard", "molded polystyrene"],
        Spread::new(0.033, 0.036, 0.037),
        "ASHRAE Fundamentals 2005, ch. 25: 0.037 at 16 kg/m³ to 0.033 at 32",
        Standing::Seen,
    ),
    row(
        "polyiso",
        "polyisocyanurate board, aged",
        &["pir", "polyisocyanurate", "iso board"],
        Spread::new(0.020, 0.0245, 0.028),
        "ASHRAE Fundamentals 2005, ch. 25: 0.0245 gas-permeable, 0.020 impermeable facers; high: cold-weather label",
        Standing::Seen,
    ),
    row(
        "cellulose",
        "cellulose, loose or dense packed",
        &["dense-pack cellulose", "loose-fill cellulose"],
        Spread::new(0.039, 0.041, 0.049),
        "ASHRAE Fundamentals, ch. 26: loose 0.039 to 0.042, sprayed 0.042 to 0.049",
        Standing::FromMemory,
    ),
    row(
        "spray-foam-closed-cell",
        "spray polyurethane, closed cell",
        &["closed-cell spray foam", "ccspf", "closed cell foam"],
        Spread::new(0.022, 0.025, 0.029),
        "ASHRAE Fundamentals, ch. 26",
        Standing::FromMemory,
    ),
    row(
        "spray-foam-open-cell",
        "spray polyurethane, open cell",
        &["open-cell spray foam", "ocspf", "open cell foam"],
        Spread::new(0.037, 0.040, 0.042),
        "ASHRAE Fundamentals, ch. 26",
        Standing::FromMemory,
    ),
    row(
        "pipe-insulation-rubber",
        "pipe insulation, elastomeric foam",
        &["elastomeric foam", "foam rubber", "rubber pipe insulation"],
        Spread::new(0.032, 0.038, 0.043),
        "ASTM C534 limit 0.28 Btu·in/(h·ft²·°F) (0.040); low: ASHRAE 2005, expanded rubber (seen); high: makers",
        Standing::FromMemory,
    ),
    row(
        "pipe-insulation-polyethylene",
        "pipe insulation, polyethylene foam",
        &["polyethylene foam", "foam pipe sleeve", "pe foam", "foam cover"],
        Spread::new(0.035, 0.040, 0.050),
        "ASTM C1427 limit 0.35 Btu·in/(h·ft²·°F) (0.050); makers from 0.035",
        Standing::FromMemory,
    ),
];

//! The walls built in: one entry each, layers from outside to inside, thickness in inches.

use super::{Layer, Wall};
use crate::physics::materials;
use std::sync::LazyLock;

const INCH: f64 = 0.0254;

struct Entry {
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    space_behind: &'static str,
    /// Material (or `air`), thickness in inches, whether it counts as insulation.
    layers: &'static [(&'static str, f64, bool)],
}

const SIDING: (&str, f64, bool) = ("fiber-cement", 0.3125, false);
const OSB: (&str, f64, bool) = ("osb", 0.4375, false);
const GYPSUM: (&str, f64, bool) = ("gypsum-board", 0.5, false);
const BRICK: (&str, f64, bool) = ("face-brick", 3.625, false);
const AIR_GAP: (&str, f64, bool) = ("air", 1.0, false);
const BATT_2X4: (&str, f64, bool) = ("fiberglass-batt", 3.5, true);
const BATT_2X6: (&str, f64, bool) = ("fiberglass-batt", 5.5, true);
const RIM_BOARD: (&str, f64, bool) = ("softwood", 1.5, false);

const ENTRIES: &[Entry] = &[
    Entry {
        key: "slab-2x4-brick",
        name: "2x4 on a slab, brick veneer",
        aliases: &["slab 2x4 brick", "brick veneer 2x4", "2x4 brick", "slab brick"],
        space_behind: "wall cavity",
        layers: &[BRICK, AIR_GAP, OSB, BATT_2X4, GYPSUM],
    },
    Entry {
        key: "2x4-siding",
        name: "2x4, fiber-cement siding",
        aliases: &["2x4", "2x4 siding", "2x4 wood frame"],
        space_behind: "heated room",
        layers: &[SIDING, OSB, BATT_2X4, GYPSUM],
    },
    Entry {
        key: "2x6-siding",
        name: "2x6, fiber-cement siding",
        aliases: &["2x6", "2x6 siding", "2x6 wood frame"],
        space_behind: "heated room",
        layers: &[SIDING, OSB, BATT_2X6, GYPSUM],
    },
    Entry {
        key: "2x6-brick",
        name: "2x6, brick veneer",
        aliases: &["2x6 brick", "brick veneer 2x6"],
        space_behind: "heated room",
        layers: &[BRICK, AIR_GAP, OSB, BATT_2X6, GYPSUM],
    },
    Entry {
        key: "2x6-exterior-insulation",
        name: "2x6, 2 in exterior extruded polystyrene, furred siding",
        aliases: &["2x6 ci", "2x6 exterior insulation", "2x6 outboard insulation"],
        space_behind: "heated room",
        layers: &[SIDING, ("air", 0.75, false), ("xps", 2.0, true), OSB, BATT_2X6, GYPSUM],
    },
    Entry {
        key: "rim-joist-batt",
        name: "rim joist over a basement, 5 1/2 in batt",
        aliases: &["rim joist", "rim-joist", "band joist", "rim joist batt"],
        space_behind: "basement",
        layers: &[SIDING, OSB, RIM_BOARD, BATT_2X6],
    },
    Entry {
        key: "rim-joist-foam",
        name: "rim joist over a basement, 3 in closed-cell foam",
        aliases: &["rim joist foam", "rim joist spray foam", "foamed rim joist"],
        space_behind: "basement",
        layers: &[SIDING, OSB, RIM_BOARD, ("spray-foam-closed-cell", 3.0, true)],
    },
    Entry {
        key: "block-8-bare",
        name: "8 in hollow block, no insulation",
        aliases: &["8 in block", "8\" cmu", "cmu", "block"],
        space_behind: "heated room",
        layers: &[("concrete-block-hollow", 7.625, false)],
    },
    Entry {
        key: "block-8-insulated",
        name: "8 in hollow block, 2 in extruded polystyrene inside",
        aliases: &["insulated block", "cmu insulated", "insulated cmu"],
        space_behind: "heated room",
        layers: &[
            ("stucco", 0.75, false),
            ("concrete-block-hollow", 7.625, false),
            ("xps", 2.0, true),
            GYPSUM,
        ],
    },
    Entry {
        key: "basement-concrete",
        name: "8 in concrete basement wall, 2 in expanded polystyrene inside",
        aliases: &["concrete basement", "basement wall", "foundation wall"],
        space_behind: "basement",
        layers: &[("concrete", 8.0, false), ("eps", 2.0, true), GYPSUM],
    },
    Entry {
        key: "log-8",
        name: "8 in log",
        aliases: &["log", "log wall", "8 in log"],
        space_behind: "heated room",
        layers: &[("log", 8.0, true)],
    },
    Entry {
        key: "metal-panel-4",
        name: "insulated metal panel, 4 in",
        aliases: &["insulated metal panel", "imp", "sandwich panel"],
        space_behind: "heated room",
        layers: &[("steel-siding", 0.03, false), ("polyiso", 3.94, true), ("steel-siding", 0.03, false)],
    },
];

/// Every wall built in, in the order they are listed.
pub static BUILT_IN: LazyLock<Vec<Wall>> = LazyLock::new(|| ENTRIES.iter().map(Entry::wall).collect());

impl Entry {
    fn wall(&self) -> Wall {
        Wall {
            key: self.key.into(),
            name: self.name.into(),
            aliases: self.aliases.iter().map(|it| (*it).into()).collect(),
            layers: self
                .layers
                .iter()
                .filter_map(|(name, inches, insulation)| layer(name, *inches, *insulation))
                .collect(),
            space_behind: self.space_behind,
            built_in: true,
        }
    }
}

fn layer(name: &str, inches: f64, insulation: bool) -> Option<Layer> {
    if name == "air" {
        return Layer::of_air(inches * INCH);
    }
    Some(Layer::of_material(materials::find(name)?, inches * INCH, insulation))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_layer_of_every_entry_names_a_material_that_exists() {
        for (entry, wall) in ENTRIES.iter().zip(BUILT_IN.iter()) {
            assert_eq!(entry.layers.len(), wall.layers.len(), "{}", entry.key);
        }
    }
}

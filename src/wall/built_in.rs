//! The walls built in: how an entry is written and made a wall. The entries stand in two files, by how they are built.

mod framed;
mod solid;

use super::{Layer, VENTED_AIR, Wall};
use crate::physics::materials;
use std::sync::LazyLock;

const INCH: f64 = 0.0254;

/// A layer: material (or `air`, [`VENTED_AIR`]), thickness in inches, whether it counts as insulation.
type Row = (&'static str, f64, bool);

struct Entry {
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    space_behind: &'static str,
    /// From outside to inside.
    layers: &'static [Row],
}

const fn entry(
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    space_behind: &'static str,
    layers: &'static [Row],
) -> Entry {
    Entry { key, name, aliases, space_behind, layers }
}

const SIDING: Row = ("fiber-cement", 0.3125, false);
const WOOD_SIDING: Row = ("wood-siding", 0.5, false);
/// Three coats.
const STUCCO: Row = ("stucco", 0.875, false);
/// Base and finish coat of an exterior insulation and finish system.
const LAMINA: Row = ("stucco", 0.1875, false);
const BRICK: Row = ("face-brick", 3.625, false);
/// Behind weeped brick, stone or panels.
const AIR_GAP: Row = (VENTED_AIR, 1.0, false);
const OSB: Row = ("osb", 0.4375, false);
const GYPSUM: Row = ("gypsum-board", 0.5, false);
const SHEATHING_GYPSUM: Row = ("gypsum-board", 0.5, false);
const BATT_2X4: Row = ("fiberglass-batt", 3.5, true);
const BATT_2X6: Row = ("fiberglass-batt", 5.5, true);
const RIM_BOARD: Row = ("softwood", 1.5, false);
/// 8 in block is 7 5/8 in.
const BLOCK: Row = ("concrete-block-hollow", 7.625, false);

const HEATED: &str = "heated room";
const CAVITY: &str = "wall cavity";
const BASEMENT: &str = "basement";
const CRAWLSPACE: &str = "crawlspace";
const GARAGE: &str = "garage";

/// Every wall built in, in the order they are listed.
pub static BUILT_IN: LazyLock<Vec<Wall>> =
    LazyLock::new(|| [framed::ENTRIES, solid::ENTRIES].into_iter().flatten().map(Entry::wall).collect());

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
            under_flange: None,
            built_in: true,
            place: None,
        }
    }
}

fn layer(name: &str, inches: f64, insulation: bool) -> Option<Layer> {
    if super::is_air(name) {
        return Layer::of_air(name, inches * INCH);
    }
    Some(Layer::of_material(materials::find(name)?, inches * INCH, insulation))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_layer_of_every_entry_names_a_material_that_exists() {
        let entries = [framed::ENTRIES, solid::ENTRIES].into_iter().flatten();
        for (entry, wall) in entries.zip(BUILT_IN.iter()) {
            assert_eq!(entry.layers.len(), wall.layers.len(), "{}", entry.key);
        }
    }

    #[test]
    fn every_usual_space_is_one_there_can_be() {
        for wall in BUILT_IN.iter() {
            assert!(super::super::SPACES.contains(&wall.space_behind), "{}", wall.key);
        }
    }

    #[test]
    fn layers_of_insulating_materials_are_insulation_and_no_others_but_logs() {
        for entry in [framed::ENTRIES, solid::ENTRIES].into_iter().flatten() {
            for (name, _, insulation) in entry.layers {
                let insulates = materials::find(name)
                    .is_some_and(|it| it.class == materials::Class::Insulation || it.key == "log");
                assert_eq!(*insulation, insulates, "{}: {name}", entry.key);
            }
        }
    }
}

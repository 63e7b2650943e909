//! Built-in walls. The entries are in two files, by how the walls are built.

mod framed;
mod solid;

use super::{Layer, VENTED_AIR, Wall};
use crate::physics::materials;
use crate::units::INCH;
use std::sync::LazyLock;

/// A layer of a built-in wall.
#[derive(Clone, Copy)]
struct Row {
    /// A material, `air` or [`VENTED_AIR`].
    material: &'static str,
    inches: f64,
    is_insulation: bool,
}

const fn layer(material: &'static str, inches: f64) -> Row {
    Row { material, inches, is_insulation: false }
}

const fn insulation(material: &'static str, inches: f64) -> Row {
    Row { material, inches, is_insulation: true }
}

struct Entry {
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    /// The space usually behind it.
    space: &'static str,
    /// From outside to inside.
    layers: &'static [Row],
}

const SIDING: Row = layer("fiber-cement", 0.3125);
const WOOD_SIDING: Row = layer("wood-siding", 0.5);
/// Three coats.
const STUCCO: Row = layer("stucco", 0.875);
/// Base and finish coat of an exterior insulation and finish system.
const LAMINA: Row = layer("stucco", 0.1875);
const BRICK: Row = layer("face-brick", 3.625);
/// Behind weeped brick, stone or panels.
const AIR_GAP: Row = layer(VENTED_AIR, 1.0);
const OSB: Row = layer("osb", 0.4375);
const GYPSUM: Row = layer("gypsum-board", 0.5);
const SHEATHING_GYPSUM: Row = layer("gypsum-board", 0.5);
const BATT_2X4: Row = insulation("fiberglass-batt", 3.5);
const BATT_2X6: Row = insulation("fiberglass-batt", 5.5);
const RIM_BOARD: Row = layer("softwood", 1.5);
/// 8 in block is 7 5/8 in.
const BLOCK: Row = layer("concrete-block-hollow", 7.625);

const HEATED: &str = "heated room";
const CAVITY: &str = "wall cavity";
const BASEMENT: &str = "basement";
const CRAWLSPACE: &str = "crawlspace";
const GARAGE: &str = "garage";

/// The built-in walls, in the order they are listed.
pub static BUILT_IN: LazyLock<Vec<Wall>> = LazyLock::new(|| entries().map(Entry::wall).collect());

fn entries() -> impl Iterator<Item = &'static Entry> {
    framed::ENTRIES.iter().chain(solid::ENTRIES)
}

impl Entry {
    fn wall(&self) -> Wall {
        Wall {
            key: self.key.into(),
            name: self.name.into(),
            aliases: self.aliases.iter().map(|alias| (*alias).into()).collect(),
            layers: self.layers.iter().filter_map(Row::layer).collect(),
            space_behind: self.space,
            under_flange: None,
            built_in: true,
            location: None,
        }
    }
}

impl Row {
    fn layer(&self) -> Option<Layer> {
        let thickness = self.inches * INCH;
        if super::is_air(self.material) {
            return Layer::of_air(self.material, thickness);
        }
        Some(Layer::of_material(materials::find(self.material)?, thickness, self.is_insulation))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_layer_names_a_known_material() {
        for (entry, wall) in entries().zip(BUILT_IN.iter()) {
            assert_eq!(entry.layers.len(), wall.layers.len(), "{}", entry.key);
        }
    }

    #[test]
    fn every_usual_space_is_a_known_space() {
        for wall in BUILT_IN.iter() {
            assert!(super::super::SPACES.contains(&wall.space_behind), "{}", wall.key);
        }
    }

    #[test]
    fn only_insulating_materials_and_logs_are_insulation() {
        for entry in entries() {
            for row in entry.layers {
                let insulates = materials::find(row.material)
                    .is_some_and(|it| it.class == materials::Class::Insulation || it.key == "log");
                assert_eq!(row.is_insulation, insulates, "{}: {}", entry.key, row.material);
            }
        }
    }
}

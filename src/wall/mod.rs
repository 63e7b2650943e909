//! Walls: layers from outside to inside, those built in and those a job brings.

mod built_in;
mod read;

pub use built_in::BUILT_IN;
pub use read::read_walls;

use crate::physics::air_film::STILL_AIR_CAPACITY;
use crate::physics::materials::{Material, Storage, air_layer_resistance, lightest_of_conductivity};
use std::sync::Arc;

/// The spaces an outlet may have behind it.
pub const SPACES: [&str; 7] =
    ["heated room", "basement", "unheated basement", "wall cavity", "crawlspace", "garage", "attic"];

/// One layer of a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// What it is, as it is printed.
    pub name: Arc<str>,
    /// m, above zero.
    pub thickness: f64,
    /// W/mK; of an air layer its thickness over its resistance.
    pub conductivity: f64,
    /// Where the conductivity is from.
    pub source: Arc<str>,
    /// Whether it counts as insulation.
    pub insulation: bool,
    /// Heat capacity by volume, J/(m³·K); of an air layer that of still air.
    pub heat_capacity: f64,
    /// Where the heat capacity is from; where it is assumed, why.
    pub capacity_source: Arc<str>,
    /// Whether the heat capacity is the lightest plausible one instead of a known one.
    pub capacity_assumed: bool,
}

/// A wall, layers from outside to inside. What stands between studs is taken as filled; framing is not counted.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// What a schedule calls it.
    pub key: Arc<str>,
    /// In words.
    pub name: Arc<str>,
    /// Other names for it, lower case.
    pub aliases: Vec<Arc<str>>,
    /// From outside to inside; at least one.
    pub layers: Vec<Layer>,
    /// The space its outlets usually have behind them.
    pub space_behind: &'static str,
    /// Whether it is one of those built in.
    pub built_in: bool,
}

impl Wall {
    /// Exterior finished face to interior surface, m.
    pub fn thickness(&self) -> f64 {
        self.layers.iter().map(|layer| layer.thickness).sum()
    }

    /// Resistance of all layers without the films, m²K/W.
    pub fn resistance(&self) -> f64 {
        self.layers.iter().map(|layer| layer.thickness / layer.conductivity).sum()
    }

    /// Depth from the exterior finished face of the inner face of the innermost insulation layer, m. `None` for a
    /// wall without insulation.
    pub fn inside_face_of_insulation(&self) -> Option<f64> {
        let last = self.layers.iter().rposition(|layer| layer.insulation)?;
        Some(self.layers[..=last].iter().map(|layer| layer.thickness).sum())
    }

    /// How much of the resistance of the wall's insulation lies outboard of a depth, 0 to 1. `None` for a wall without
    /// insulation.
    pub fn insulation_outboard_of(&self, depth: f64) -> Option<f64> {
        let (mut outer, mut all, mut at) = (0.0, 0.0, 0.0);
        for layer in &self.layers {
            if layer.insulation {
                all += layer.thickness / layer.conductivity;
                outer += (depth - at).clamp(0.0, layer.thickness) / layer.conductivity;
            }
            at += layer.thickness;
        }
        (all > 0.0).then(|| outer / all)
    }
}

impl Layer {
    fn of_material(material: &Material, thickness: f64, insulation: bool) -> Self {
        Self {
            name: material.name.into(),
            thickness,
            conductivity: material.conductivity.used,
            source: format!("{} ({})", material.source, material.standing.words()).into(),
            insulation,
            heat_capacity: material.heat_capacity(),
            capacity_source: capacity_source(&material.storage),
            capacity_assumed: false,
        }
    }

    /// A layer of which a job states the conductivity alone: its heat capacity is the least a solid of that
    /// conductivity can have, with which the wall cools soonest.
    fn of_conductivity(name: &str, thickness: f64, conductivity: f64) -> Self {
        let (class, heat_capacity) = lightest_of_conductivity(conductivity);
        Self {
            name: name.into(),
            thickness,
            conductivity,
            source: "stated in the job".into(),
            insulation: false,
            heat_capacity,
            capacity_source: format!(
                "neither density nor specific heat is stated: the least that {} can store, so that the wall cools \
                 soonest",
                class.words()
            )
            .into(),
            capacity_assumed: true,
        }
    }

    /// The same layer with a known heat capacity by volume, J/(m³·K).
    fn storing(self, heat_capacity: f64, source: impl Into<Arc<str>>) -> Self {
        Self { heat_capacity, capacity_source: source.into(), capacity_assumed: false, ..self }
    }

    /// An air layer, by resistance. `None` beyond 300 mm.
    fn of_air(thickness: f64) -> Option<Self> {
        let resistance = air_layer_resistance(thickness).ok().filter(|it| *it > 0.0)?;
        Some(Self {
            name: "air space".into(),
            thickness,
            conductivity: thickness / resistance,
            source: "ISO 6946, unventilated air layer, by resistance (from memory)".into(),
            insulation: false,
            heat_capacity: STILL_AIR_CAPACITY,
            capacity_source: "dry air at 0 °C: 1.292 kg/m³, 1006 J/kgK (recomputed)".into(),
            capacity_assumed: false,
        })
    }
}

fn capacity_source(storage: &Storage) -> Arc<str> {
    format!("{} ({})", storage.source, storage.standing.words()).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layer(thickness: f64, conductivity: f64, insulation: bool) -> Layer {
        Layer { insulation, ..Layer::of_conductivity("x", thickness, conductivity) }
    }

    fn wall(layers: Vec<Layer>) -> Wall {
        let (key, name) = ("w".into(), "w".into());
        Wall { key, name, aliases: Vec::new(), layers, space_behind: "heated room", built_in: false }
    }

    #[test]
    fn the_inside_face_is_that_of_the_innermost_insulation() {
        let layers = vec![
            layer(0.05, 0.03, true),
            layer(0.10, 0.2, false),
            layer(0.14, 0.04, true),
            layer(0.01, 0.2, false),
        ];
        assert!((wall(layers).inside_face_of_insulation().unwrap() - 0.29).abs() < 1e-12);
        assert_eq!(wall(vec![layer(0.2, 1.0, false)]).inside_face_of_insulation(), None);
    }

    #[test]
    fn insulation_outboard_of_a_depth_goes_by_resistance() {
        // 2 m²K/W outside, 4 inside: at the middle of the inner layer two thirds are outboard.
        let it = wall(vec![layer(0.1, 0.05, true), layer(0.1, 0.5, false), layer(0.2, 0.05, true)]);
        assert!((it.insulation_outboard_of(0.3).unwrap() - 4.0 / 6.0).abs() < 1e-12);
        assert_eq!(it.insulation_outboard_of(0.0), Some(0.0));
        assert_eq!(it.insulation_outboard_of(9.0), Some(1.0));
    }

    #[test]
    fn every_built_in_wall_stands_and_its_layers_are_of_a_sensible_thickness() {
        assert!(BUILT_IN.len() >= 8);
        for wall in BUILT_IN.iter() {
            assert!(!wall.layers.is_empty(), "{}", wall.key);
            assert!((0.08..=0.6).contains(&wall.thickness()), "{}: {}", wall.key, wall.thickness());
            assert!(wall.layers.iter().all(|it| it.thickness > 0.0 && it.conductivity > 0.0), "{}", wall.key);
        }
    }

    #[test]
    fn built_in_walls_store_heat_of_known_source() {
        for wall in BUILT_IN.iter() {
            for layer in &wall.layers {
                assert!(
                    layer.heat_capacity > 1000.0 && !layer.capacity_assumed,
                    "{}: {}",
                    wall.key,
                    layer.name
                );
                assert!(!layer.capacity_source.is_empty(), "{}: {}", wall.key, layer.name);
            }
        }
    }

    #[test]
    fn walls_store_by_the_square_metre_what_their_weight_stores() {
        // By hand from weights of the trade, lb/ft²: 3 5/8 in brick about 38, 7/16 in OSB 1.5, 1/2 in gypsum 2.1, an
        // 8 in concrete wall 96 to 100; at 0.2 to 0.26 Btu/(lb·°F), 0.4 for OSB. 1 Btu/(ft²·°F) is 20.44 kJ/(m²·K).
        let stored = |key: &str| -> f64 {
            let wall = BUILT_IN.iter().find(|it| &*it.key == key).unwrap();
            wall.layers.iter().map(|it| it.heat_capacity * it.thickness).sum()
        };
        let unit = 20_440.0;
        let by_hand = (38.0 * 0.22 + 1.5 * 0.4 + 2.1 * 0.26) * unit;
        assert!((stored("2x6-brick") / by_hand - 1.0).abs() < 0.05, "{} {by_hand}", stored("2x6-brick"));
        let concrete = (97.0 * 0.21 + 2.1 * 0.26) * unit;
        assert!((stored("basement-concrete") / concrete - 1.0).abs() < 0.05, "{concrete}");
    }

    #[test]
    fn no_name_stands_for_two_built_in_walls() {
        let mut names: Vec<&str> =
            BUILT_IN.iter().flat_map(|it| it.aliases.iter().chain([&it.key])).map(AsRef::as_ref).collect();
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all);
    }
}

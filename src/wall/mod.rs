//! Walls: layers from outside to inside, built in or described in a job.

mod batts;
mod built_in;
mod error;
mod family;
mod labeled;
mod read;

pub use built_in::BUILT_IN;
pub use family::{members, says_studs_only};
pub use read::read_walls;

use crate::diag::{Diagnostic, Location};
use crate::physics::air_film::{ASHRAE_WIND_WINTER, STILL_AIR_CAPACITY};
use crate::physics::materials::{Material, Storage, air_layer_resistance, lightest_of_conductivity};
use std::sync::Arc;

/// Resistance of the indoor surface film for horizontal flow, m²K/W: ISO 6946 (from memory).
pub const INDOOR_FILM: f64 = 0.13;
/// Resistance of the outdoor surface film, m²K/W: the handbook's winter wind.
pub const OUTDOOR_FILM: f64 = 1.0 / ASHRAE_WIND_WINTER.coefficient;
/// The note on framing for listings and sheets.
pub const FRAMING: &str = "The section passes between studs: near a barrel the filled cavity is what matters. Framing is not \
    counted, so the resistances are not those of the whole wall.";

/// Names of air layers: closed, and behind cladding that is open to the outdoors at weeps and laps.
pub(crate) const AIR: [&str; 2] = ["air", VENTED_AIR];
const VENTED_AIR: &str = "vented air";
/// The thickest air space, m.
const MOST_AIR: f64 = 0.3;

/// The spaces that may be behind an outlet.
pub const SPACES: [&str; 7] =
    ["heated room", "basement", "unheated basement", "wall cavity", "crawlspace", "garage", "attic"];

/// One layer of a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Its printed name.
    pub name: Arc<str>,
    /// m, above zero.
    pub thickness: f64,
    /// W/mK; for an air layer, thickness over resistance.
    pub conductivity: f64,
    /// Source of the conductivity.
    pub source: Arc<str>,
    /// Whether it counts as insulation.
    pub insulation: bool,
    /// Heat capacity by volume, J/(m³·K); for an air layer, that of still air.
    pub heat_capacity: f64,
    /// Source of the heat capacity, or why it is assumed.
    pub capacity_source: Arc<str>,
    /// Whether the heat capacity is assumed: the least plausible one.
    pub capacity_assumed: bool,
}

/// A block, trim or wedge between a wall's finished face and a flange; reduces the depth of the seat.
#[derive(Clone, Debug, PartialEq)]
pub struct UnderFlange {
    /// m, 0 to 0.3048 (12 in).
    pub thickness: f64,
    /// As it is written.
    pub text: Arc<str>,
    /// Its location.
    pub location: Location,
}

/// A wall, layers from outside to inside, as the section passes between studs: see [`FRAMING`].
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// Its key in schedules.
    pub key: Arc<str>,
    /// Its name in words.
    pub name: Arc<str>,
    /// Other names for it, lower case.
    pub aliases: Vec<Arc<str>>,
    /// From outside to inside; at least one.
    pub layers: Vec<Layer>,
    /// The space usually behind its outlets.
    pub space_behind: &'static str,
    /// Block, trim or wedge under every flange, if the job states one.
    pub under_flange: Option<UnderFlange>,
    /// Whether it is one of those built in.
    pub built_in: bool,
    /// Its location in a job.
    pub location: Option<Location>,
}

/// The first wall with this key or name.
pub fn find<'w, W: AsRef<Wall>>(walls: &'w [W], word: &str) -> Option<&'w W> {
    walls.iter().find(|wall| (*wall).as_ref().is_called(word))
}

/// The error of an unknown wall, with the nearest known one, or with those that the word may mean.
pub fn unknown<W: AsRef<Wall>>(walls: &[W], word: &str, at: &Location) -> Diagnostic {
    let members = members(word);
    // "block-8-baer" is a key misspelled, not words.
    let is_like_key = word.contains('-') && !word.contains(char::is_whitespace) && !family::is_word(word);
    if !members.is_empty() && !is_like_key {
        return Diagnostic::new(at.clone(), "does not say how the wall is built and insulated")
            .text(word)
            .expected(format!("a wall such as {}", members.join(", ")));
    }
    let walls = walls.iter().map(AsRef::as_ref);
    let names = walls.flat_map(|wall| std::iter::once(&wall.key).chain(&wall.aliases)).map(AsRef::as_ref);
    let names = names.chain(family::words());
    Diagnostic::new(at.clone(), "is not a known wall")
        .text(word)
        .expected("a wall that `coldsill walls` lists or the job describes")
        .nearest_instead(word, names)
}

/// Whether two names differ only by case, hyphens and spaces.
fn is_one_name(one: &str, other: &str) -> bool {
    fn plain(text: &str) -> impl Iterator<Item = char> {
        text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase)
    }
    plain(one).eq(plain(other))
}

impl AsRef<Wall> for Wall {
    fn as_ref(&self) -> &Wall {
        self
    }
}

impl Wall {
    /// Exterior finished face to interior surface, m.
    pub fn thickness(&self) -> f64 {
        self.layers.iter().map(|layer| layer.thickness).sum()
    }

    /// Resistance of all layers without the films, m²K/W.
    pub fn resistance(&self) -> f64 {
        self.layers.iter().map(Layer::resistance).sum()
    }

    /// Depth of the insulation's inside face from the exterior finished face, m. `None` for a wall without insulation.
    pub fn inside_face_of_insulation(&self) -> Option<f64> {
        let last = self.layers.iter().rposition(|layer| layer.insulation)?;
        Some(self.layers[..=last].iter().map(|layer| layer.thickness).sum())
    }

    /// Whether a word is its key, its name or an alias. Ignores case, hyphens and spaces.
    pub fn is_called(&self, word: &str) -> bool {
        [&self.key, &self.name].into_iter().chain(&self.aliases).any(|name| is_one_name(name, word))
    }

    /// Steady temperatures, K, at the outer surface, between the layers and at the inner surface: one more than there are
    /// layers. With the films [`OUTDOOR_FILM`] and [`INDOOR_FILM`].
    pub fn temperatures(&self, outdoors: f64, indoors: f64) -> Vec<f64> {
        let flow = (indoors - outdoors) / (OUTDOOR_FILM + self.resistance() + INDOOR_FILM);
        let mut at = outdoors + flow * OUTDOOR_FILM;
        let mut all = vec![at];
        for layer in &self.layers {
            at += flow * layer.resistance();
            all.push(at);
        }
        all
    }

    /// The share of the insulation's resistance on the cold side of a depth, 0 to 1. `None` for a wall without insulation.
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

const CLOSED: &str = "ISO 6946, unventilated air layer, by resistance (from memory)";
const VENTED: &str = "ISO 6946, slightly ventilated air layer, half the resistance of a closed one: cladding is open at \
    weeps and laps (from memory)";

/// Whether a word is one of [`AIR`].
fn is_air(word: &str) -> bool {
    AIR.iter().any(|it| word.eq_ignore_ascii_case(it))
}

impl Layer {
    /// m²K/W
    pub fn resistance(&self) -> f64 {
        self.thickness / self.conductivity
    }

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

    /// A layer of a stated conductivity. Assumes the least heat capacity of a solid of that conductivity, with which the
    /// wall cools soonest.
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
                "density and specific heat are not stated: the least that {} can store, with which the wall cools \
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

    /// An air layer by its name in [`AIR`]. `None` if thicker than [`MOST_AIR`].
    fn of_air(word: &str, thickness: f64) -> Option<Self> {
        let closed = air_layer_resistance(thickness).ok().filter(|it| *it > 0.0)?;
        let (name, resistance, source) = if word.eq_ignore_ascii_case(VENTED_AIR) {
            ("vented air space", closed / 2.0, VENTED)
        } else {
            ("air space", closed, CLOSED)
        };
        Some(Self {
            name: name.into(),
            thickness,
            conductivity: thickness / resistance,
            source: source.into(),
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
        let (space_behind, under_flange) = ("heated room", None);
        let aliases = Vec::new();
        Wall { key, name, aliases, layers, space_behind, under_flange, built_in: false, location: None }
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
        assert!(BUILT_IN.len() >= 20);
        for wall in BUILT_IN.iter() {
            assert!(!wall.layers.is_empty(), "{}", wall.key);
            // A bare rim joist is 2 1/4 in.
            assert!((0.057..=0.6).contains(&wall.thickness()), "{}: {}", wall.key, wall.thickness());
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
        let names = BUILT_IN.iter().flat_map(|it| it.aliases.iter().chain([&it.key, &it.name]));
        for name in names {
            let called: Vec<&str> =
                BUILT_IN.iter().filter(|it| it.is_called(name)).map(|it| &*it.key).collect();
            assert_eq!(called.len(), 1, "{name}: {called:?}");
        }
    }

    #[test]
    fn temperatures_fall_by_resistance_from_the_room_to_outdoors() {
        // 0.1/0.05 = 2 and 0.1/0.5 = 0.2 m²K/W between films of 1/34 and 0.13: of 40 K, by hand.
        let it = wall(vec![layer(0.1, 0.05, true), layer(0.1, 0.5, false)]);
        let all = 1.0 / 34.0 + 2.0 + 0.2 + 0.13;
        let found = it.temperatures(253.15, 293.15);
        let wanted = [1.0 / 34.0, 1.0 / 34.0 + 2.0, all - 0.13].map(|below| 253.15 + 40.0 * below / all);
        assert_eq!(found.len(), 3);
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
        }
    }
}

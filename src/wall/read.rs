//! Reads the walls of a job: `walls: { key: { name: …, layers: [ … ] } }`. A layer is keys with values, or a text such as
//! `R-20 batt in 2x6`.

use super::error::WallError;
use super::labeled::{self, lumber};
use super::{Layer, SPACES, UnderFlange, Wall, capacity_source, is_air, is_one_name};
use crate::diag::Diagnostics;
use crate::input::{Fields, Key, Kind, Node};
use crate::physics::materials::{self, Class};
use crate::units::{self, Dim, Measure, Quantity, Show, System};

/// Thinnest and thickest layer, m.
pub(super) const THICKNESS: [f64; 2] = [0.0002, 1.0];
/// Thickness of a block, trim or wedge under a flange, m (12 in).
const UNDER_FLANGE: [f64; 2] = [0.0, 0.3048];
/// Conductivity, W/mK: from the best insulation to silver.
const CONDUCTIVITY: [f64; 2] = [0.004, 430.0];
/// Resistance of a layer, m²K/W: from a sheet of metal to R-100.
const RESISTANCE: [f64; 2] = [1e-6, 17.7];
/// Density, kg/m³: from a gas to lead.
const DENSITY: [f64; 2] = [1.0, 11_500.0];
/// Specific heat, J/kgK: from lead to water.
const SPECIFIC_HEAT: [f64; 2] = [120.0, 4300.0];
/// Product of the two, J/m³K: from still air to water, which no solid of a building exceeds.
const CAPACITY: [f64; 2] = [1.0e3, 4.3e6];

/// Reads every wall of a `walls:` mapping. Skips a wall with an error.
pub fn read_walls(node: &Node, errors: &mut Diagnostics) -> Vec<Wall> {
    let entries = node.map("walls", errors).unwrap_or_default();
    for (index, (key, _)) in entries.iter().enumerate() {
        // A schedule that says `W 9` may mean `W9` and `W-9`.
        if entries[..index].iter().any(|(before, _)| is_one_name(&before.text, &key.text)) {
            errors.push(WallError::DuplicateWall.at_key(key));
        }
    }
    entries.iter().filter_map(|(key, node)| read_wall(key, node, errors)).collect()
}

fn read_wall(key: &Key, node: &Node, errors: &mut Diagnostics) -> Option<Wall> {
    let mut fields = Fields::of(node, &format!("wall \"{}\"", key.text), errors)?;
    let name = match fields.optional("name") {
        Some(node) => node.text("name", errors)?,
        None => &key.text,
    };
    let space = fields.optional_choice("space behind", &SPACES.map(|space| (space, space)), errors);
    let layers = fields.required_list("layers", errors);
    let under_flange = fields.optional("under the flange").and_then(|node| read_under_flange(node, errors));
    if fields.has("framing")
        && let Some(node) = fields.optional("framing")
    {
        errors.push(WallError::Framing.at_whole(node));
    }
    fields.finish(errors);
    let nodes = layers?;
    let layers: Vec<Layer> = nodes.iter().filter_map(|node| read_layer(node, errors)).collect();
    if nodes.is_empty() {
        errors.push(WallError::NoLayers.at_key(key));
    }
    (layers.len() == nodes.len() && !layers.is_empty()).then(|| Wall {
        key: key.text.as_str().into(),
        name: name.into(),
        aliases: Vec::new(),
        layers,
        space_behind: space.unwrap_or("heated room"),
        under_flange,
        built_in: false,
        location: Some(key.location.clone()),
    })
}

/// Reads a thickness, with what it is: `1-1/2 in block`.
fn read_under_flange(node: &Node, errors: &mut Diagnostics) -> Option<UnderFlange> {
    const WORDS: [&str; 5] = ["mounting block", "block", "trim", "wedge", "veneer"];
    let text = node.text("thickness under the flange", errors)?.trim();
    let lower = text.to_lowercase();
    let figure = WORDS.iter().find_map(|word| lower.strip_suffix(word)).unwrap_or(&lower).trim();
    let thickness = match units::parse(figure, Measure::Of(Dim::LENGTH)) {
        _ if figure == "none" => Ok(0.0),
        Ok(it) if units::contains(UNDER_FLANGE, it.is) => Ok(it.is),
        Ok(_) => Err(WallError::OutOfRange("0 to 12 in".into())),
        Err(_) => Err(WallError::NoThicknessUnderFlange),
    };
    let thickness = errors.ok(thickness.map_err(|error| error.at(node)))?;
    Some(UnderFlange { thickness, text: text.into(), location: node.location.clone() })
}

/// A layer as its keys state it.
struct RawLayer<'n> {
    node: &'n Node,
    material: Option<&'n Node>,
    name: Option<&'n str>,
    thickness: f64,
    /// The studs it is in.
    studs: Option<&'n str>,
    resistance: Option<(f64, &'n Node)>,
    conductivity: Option<f64>,
    /// Heat capacity by volume.
    capacity: Option<f64>,
    is_insulation: Option<bool>,
}

fn read_layer(node: &Node, errors: &mut Diagnostics) -> Option<Layer> {
    if let Kind::Scalar { text, .. } = &node.kind {
        return errors.ok(labeled::parse_layer(text).map_err(|error| error.at(node)));
    }
    let raw = RawLayer::read(node, errors)?;
    let layer = raw.layer(errors)?;
    let layer = match raw.capacity {
        Some(capacity) => layer.storing(capacity, "density and specific heat stated in the job"),
        None => layer,
    };
    Some(Layer {
        name: raw.name.map_or(layer.name, Into::into),
        insulation: raw.is_insulation.unwrap_or(layer.insulation),
        ..layer
    })
}

impl<'n> RawLayer<'n> {
    fn read(node: &'n Node, errors: &mut Diagnostics) -> Option<Self> {
        let before = errors.len();
        let mut fields = Fields::of(node, "layer", errors)?;
        let material = fields.optional("material");
        let name = fields.optional_text("name", errors);
        let mut studs = None;
        let thickness = fields.required("thickness", errors).and_then(|node| {
            if let Kind::Scalar { text, .. } = &node.kind
                && let Some(depth) = lumber(text)
            {
                studs = Some(text.as_str());
                return Some(depth);
            }
            quantity(node, Dim::LENGTH, THICKNESS, errors)
        });
        let resistance = fields.optional("resistance");
        let resistance =
            resistance.and_then(|node| Some((quantity(node, Dim::RESISTANCE, RESISTANCE, errors)?, node)));
        let conductivity = fields.optional("conductivity");
        let conductivity =
            conductivity.and_then(|node| quantity(node, Dim::CONDUCTIVITY, CONDUCTIVITY, errors));
        let (density, specific_heat) = (fields.optional("density"), fields.optional("specific heat"));
        let capacity = read_capacity(density, specific_heat, errors);
        let is_insulation =
            fields.optional("insulation").and_then(|node| node.yes_no("the layer is insulation", errors));
        fields.finish(errors);
        (errors.len() == before).then_some(())?;
        let thickness = thickness?;
        Some(Self {
            node,
            material,
            name,
            thickness,
            studs,
            resistance,
            conductivity,
            capacity,
            is_insulation,
        })
    }

    /// The layer, by its resistance, its conductivity or its material.
    fn layer(&self, errors: &mut Diagnostics) -> Option<Layer> {
        let word = match self.material {
            Some(node) => Some(node.text("material", errors)?),
            None => None,
        };
        let layer = match (self.resistance, self.conductivity, self.material) {
            (Some(_), Some(_), _) => Err(WallError::ConductivityAndResistance.at_whole(self.node)),
            (Some((resistance, node)), None, _) => {
                self.of_resistance(word, resistance).map_err(|error| error.at(node))
            }
            (None, Some(conductivity), Some(node)) => check_class(word, conductivity)
                .map_err(|error| error.at(node))
                .map(|()| of_conductivity(word, self.thickness, conductivity)),
            (None, Some(conductivity), None) => Ok(of_conductivity(None, self.thickness, conductivity)),
            (None, None, Some(node)) => {
                let word = word.unwrap_or_default();
                layer_of(word, self.thickness).ok_or_else(|| {
                    if is_air(word) {
                        return WallError::ThickAir.at(node);
                    }
                    let keys = materials::all().map(|known| known.key).chain(super::AIR);
                    WallError::UnknownMaterial.at(node).nearest(word, keys)
                })
            }
            (None, None, None) => Err(WallError::NoMaterial.at_whole(self.node)),
        };
        errors.ok(layer)
    }

    fn of_resistance(&self, word: Option<&str>, resistance: f64) -> Result<Layer, WallError> {
        let labeled = labeled::layer_of_resistance(word, resistance, self.thickness, self.studs)?;
        let conductivity = self.thickness / resistance;
        if !units::contains(CONDUCTIVITY, conductivity) {
            return Err(WallError::ResistanceForThickness);
        }
        Ok(labeled.unwrap_or_else(|| of_conductivity(word, self.thickness, conductivity)))
    }
}

/// Reads density times specific heat, if both are stated.
fn read_capacity(
    density: Option<&Node>,
    specific_heat: Option<&Node>,
    errors: &mut Diagnostics,
) -> Option<f64> {
    let (density_node, specific_heat) = match (density, specific_heat) {
        (Some(density), Some(specific_heat)) => (density, specific_heat),
        (None, None) => return None,
        (Some(alone), None) | (None, Some(alone)) => {
            errors.push(WallError::HalfACapacity.at(alone));
            return None;
        }
    };
    let density = quantity(density_node, Dim::DENSITY, DENSITY, errors);
    let specific_heat = quantity(specific_heat, Dim::SPECIFIC_HEAT, SPECIFIC_HEAT, errors);
    let capacity = density? * specific_heat?;
    if !units::contains(CAPACITY, capacity) {
        errors.push(WallError::CapacityOutOfRange.at(density_node));
    }
    Some(capacity)
}

/// An error if a built-in material is stated beside a conductivity that its class does not have: copper at 1 W/mK is a
/// mistake of the name or of the figure.
fn check_class(word: Option<&str>, conductivity: f64) -> Result<(), WallError> {
    let Some(material) = word.and_then(materials::find) else { return Ok(()) };
    let range: [f64; 2] = material.class.plausible().into();
    if units::contains(range, conductivity) {
        return Ok(());
    }
    let measure = Measure::Of(Dim::CONDUCTIVITY);
    let stated = Show::usual(measure).value(&Quantity::of(conductivity, Dim::CONDUCTIVITY), System::Si);
    Err(WallError::OtherClass(material.class.words(), units::limits(range, measure), stated))
}

/// A layer of a stated conductivity. A built-in material beside it adds its name and its heat capacity.
fn of_conductivity(word: Option<&str>, thickness: f64, conductivity: f64) -> Layer {
    let layer = Layer::of_conductivity(word.unwrap_or("layer"), thickness, conductivity);
    let (least, most) = Class::Insulation.plausible();
    match word.and_then(materials::find) {
        Some(material) => {
            Layer { name: material.name.into(), insulation: material.class == Class::Insulation, ..layer }
                .storing(material.heat_capacity(), capacity_source(&material.storage))
        }
        // Anything but an air space that insulates like insulation is insulation.
        None => {
            Layer { insulation: (least..=most).contains(&conductivity) && !word.is_some_and(is_air), ..layer }
        }
    }
}

/// A layer of a built-in material or of air. It is insulation if its class is.
pub(super) fn layer_of(word: &str, thickness: f64) -> Option<Layer> {
    if is_air(word) {
        return Layer::of_air(word, thickness);
    }
    let material = materials::find(word)?;
    Some(Layer::of_material(material, thickness, material.class == Class::Insulation))
}

fn quantity(node: &Node, dim: Dim, range: [f64; 2], errors: &mut Diagnostics) -> Option<f64> {
    node.quantity("quantity", Measure::Of(dim), range, errors).map(|quantity| quantity.is)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::yaml;

    fn read(layer: &str) -> (Vec<Layer>, Vec<String>) {
        let mut problems = Diagnostics::new();
        let text = format!("w:\n  layers:\n    - {{ thickness: 100 mm, {layer} }}\n");
        let walls = read_walls(&yaml::parse("job.yaml", &text).unwrap(), &mut problems);
        let layers = walls.into_iter().flat_map(|it| it.layers).collect();
        (layers, problems.iter().map(ToString::to_string).collect())
    }

    fn one(layer: &str) -> Layer {
        let (layers, problems) = read(layer);
        assert!(problems.is_empty(), "{problems:?}");
        layers.into_iter().next().unwrap()
    }

    #[test]
    fn a_material_brings_its_heat_capacity_and_a_job_may_state_another() {
        // ASHRAE 1989 face brick: 125 lb/ft³ at 0.22 Btu/(lb·°F), each a figure rounded.
        let brick = one("material: face brick");
        assert!((brick.heat_capacity / (125.0 * 16.018_46 * 0.22 * 4186.8) - 1.0).abs() < 0.001);
        assert!(!brick.capacity_assumed && brick.capacity_source.contains("ASHRAE"));
        let own = one("material: face brick, density: 1800 kg/m³, specific heat: 0.88 kJ/kgK");
        assert!((own.heat_capacity - 1_584_000.0).abs() < 1.0);
        assert!((own.conductivity - brick.conductivity).abs() < 1e-12 && !own.capacity_assumed);
        assert_eq!(&*own.capacity_source, "density and specific heat stated in the job");
    }

    #[test]
    fn a_bare_conductivity_takes_the_lightest_solid_that_has_it_and_says_so() {
        let batt = one("conductivity: 0.043 W/mK");
        assert!(
            batt.capacity_assumed && batt.capacity_source.contains("the least that insulation can store")
        );
        // lighter than the lightest batt there is, 0.4 lb/ft³ (6.4 kg/m³) at 0.2 Btu/(lb·°F) and the air in it
        assert!(batt.heat_capacity <= 6.4 * 840.0 + 1300.0);
        let known = one("conductivity: 0.043 W/mK, density: 0.6 lb/ft3, specific heat: 0.2 Btu/lb-F");
        assert!((known.heat_capacity - 0.6 * 16.018_46 * 837.36).abs() < 1.0 && !known.capacity_assumed);
        let stone = one("conductivity: 2 W/mK");
        assert!(stone.capacity_assumed && stone.capacity_source.contains("masonry"));
    }

    #[test]
    fn a_material_beside_a_conductivity_lends_what_it_stores() {
        let board = one("material: gypsum board, conductivity: 0.19 W/mK");
        assert!((board.conductivity - 0.19).abs() < 1e-12 && !board.capacity_assumed);
        assert_eq!(&*board.name, "gypsum board");
        let straw = one("material: straw, conductivity: 0.06 W/mK");
        assert!(straw.capacity_assumed);
        assert_eq!(&*straw.name, "straw");
    }

    #[test]
    fn an_air_layer_stores_what_still_air_stores() {
        let air = one("material: air");
        assert!((air.heat_capacity / 1300.0 - 1.0).abs() < 0.01 && !air.capacity_assumed);
    }

    #[test]
    fn half_a_heat_capacity_or_an_impossible_one_is_a_located_problem() {
        for (layer, what) in [
            ("conductivity: 0.04 W/mK, density: 30 kg/m³", "is stated without the other"),
            ("material: xps, specific heat: 1450 J/kgK", "is stated without the other"),
            ("material: xps, density: 30000 kg/m³, specific heat: 1450 J/kgK", "is out of range"),
            ("material: xps, density: 30 kg/m³, specific heat: 1450 kJ/kgK", "is out of range"),
            ("material: brass, density: 8500 kg/m³, specific heat: 3800 J/kgK", "more than water"),
            ("material: xps, density: 30, specific heat: 1450 J/kgK", "has no unit"),
            (
                "material: xps, density: 30 W/mK, specific heat: 1450 J/kgK",
                "is a conductivity, not a density",
            ),
        ] {
            let (layers, problems) = read(layer);
            assert!(layers.is_empty(), "{layer}");
            assert_eq!(problems.len(), 1, "{layer}: {problems:?}");
            assert!(
                problems[0].starts_with("job.yaml, line 3") && problems[0].contains(what),
                "{}",
                problems[0]
            );
        }
    }
}

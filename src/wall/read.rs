//! Reads the walls of a job: `walls: { key: { name: …, layers: [ … ] } }`. A layer is keys with values, or a text such as
//! `R-20 batt in 2x6`.

use super::labelled::{self, lumber};
use super::{FRAMING, Layer, UnderFlange, Wall, capacity_source};
use crate::diag::{Diagnostic, Diagnostics};
use crate::input::{Fields, Key, Kind, Node};
use crate::physics::materials::{self, Class};
use crate::units::{self, Dim, Measure, Quantity, Show, System};

/// Thinnest and thickest layer accepted, m.
pub(super) const THICKNESS: [f64; 2] = [0.0002, 1.0];
/// Most a block, trim or wedge under a flange is thick, m (12 in).
const UNDER_FLANGE: [f64; 2] = [0.0, 0.3048];
/// Least and greatest conductivity accepted, W/mK: from the best insulation to silver.
const CONDUCTIVITY: [f64; 2] = [0.004, 430.0];
/// Least and greatest resistance of a layer accepted, m²K/W: a sheet of metal to R-100.
const RESISTANCE: [f64; 2] = [1e-6, 17.7];
/// Least and greatest density accepted, kg/m³: from a gas to lead.
const DENSITY: [f64; 2] = [1.0, 11_500.0];
/// Least and greatest specific heat accepted, J/kgK: from lead to water.
const SPECIFIC_HEAT: [f64; 2] = [120.0, 4300.0];
/// Least and greatest product of the two, J/m³K: from still air to water, which no solid of a building exceeds.
const CAPACITY: [f64; 2] = [1.0e3, 4.3e6];

/// Every wall of a `walls:` mapping. A wall with a problem is left out; all problems are told.
pub fn read_walls(node: &Node, problems: &mut Diagnostics) -> Vec<Wall> {
    let entries = node.map("walls", problems).unwrap_or_default();
    let alike = |a: &str, b: &str| a.eq_ignore_ascii_case(b);
    for (index, (key, _)) in entries.iter().enumerate() {
        if entries[..index].iter().any(|(before, _)| alike(&before.text, &key.text)) {
            problems.push(
                Diagnostic::new(key.place.clone(), "is a second wall of that name")
                    .text(&key.text)
                    .expected("a name for each wall"),
            );
        }
    }
    entries.iter().filter_map(|(key, node)| read_wall(key, node, problems)).collect()
}

fn read_wall(key: &Key, node: &Node, problems: &mut Diagnostics) -> Option<Wall> {
    let what = format!("wall \"{}\"", key.text);
    let mut fields = Fields::of(node, &what, problems)?;
    let name = match fields.take("name") {
        Some(node) => node.text("name", problems)?.to_owned(),
        None => key.text.clone(),
    };
    let space = fields.take("space behind").map(|node| {
        let words = super::SPACES.map(|it| (it, it));
        node.one_of("space behind", &words, problems)
    });
    let layers = fields.need("layers", problems).and_then(|node| node.list("layers", problems));
    let under_flange = fields.take("under the flange").and_then(|node| under_flange(node, problems));
    if fields.has("framing")
        && let Some(node) = fields.take("framing")
    {
        problems.push(
            Diagnostic::new(node.place.clone(), "framing is not asked for")
                .expected(format!("layers as they are between studs, and no framing. {FRAMING}")),
        );
    }
    fields.finish(problems);
    let layers = layers?;
    let before = problems.len();
    let read: Vec<Layer> = layers.iter().filter_map(|node| read_layer(node, problems)).collect();
    if layers.is_empty() {
        problems.push(
            Diagnostic::new(key.place.clone(), "has no layers")
                .text(&key.text)
                .expected("layers from outside to inside"),
        );
    }
    (problems.len() == before && !read.is_empty()).then(|| Wall {
        key: key.text.as_str().into(),
        name: name.into(),
        aliases: Vec::new(),
        layers: read,
        space_behind: space.flatten().unwrap_or("heated room"),
        under_flange,
        built_in: false,
        place: Some(key.place.clone()),
    })
}

/// `1-1/2 in`, with what it is behind it: `1-1/2 in block`.
fn under_flange(node: &Node, problems: &mut Diagnostics) -> Option<UnderFlange> {
    const WORDS: [&str; 5] = ["mounting block", "block", "trim", "wedge", "veneer"];
    let text = node.text("thickness under the flange", problems)?.trim();
    let lower = text.to_lowercase();
    let figure = WORDS.iter().find_map(|word| lower.strip_suffix(word)).unwrap_or(&lower).trim();
    let of = |thickness| UnderFlange { thickness, text: text.into(), place: node.place.clone() };
    if figure == "none" {
        return Some(of(0.0));
    }
    match units::parse(figure, Measure::Of(Dim::LENGTH)) {
        Ok(it) if (UNDER_FLANGE[0]..=UNDER_FLANGE[1]).contains(&it.is) => Some(of(it.is)),
        Ok(_) => {
            let problem = node.problem("is not how thick a block, trim or wedge under a flange can be");
            problems.push(problem.expected("0 to 12 in"));
            None
        }
        Err(_) => {
            let problem = node.problem("does not say how thick what stands under the flange is");
            problems.push(problem.expected("a thickness such as 1-1/2 in block"));
            None
        }
    }
}

fn read_layer(node: &Node, problems: &mut Diagnostics) -> Option<Layer> {
    if let Kind::Scalar { text, .. } = &node.kind {
        return labelled::layer(text).map_err(|refused| problems.push(refused.at(node))).ok();
    }
    let mut fields = Fields::of(node, "layer", problems)?;
    let material = fields.take("material");
    let name = fields.take("name").and_then(|node| node.text("name", problems)).map(str::to_owned);
    let mut studs = None;
    let thickness = fields.need("thickness", problems).and_then(|node| {
        if let Kind::Scalar { text, .. } = &node.kind
            && let Some(depth) = lumber(text)
        {
            studs = Some(text.as_str());
            return Some(depth);
        }
        quantity(node, Dim::LENGTH, THICKNESS, "is not a thickness a layer can have", problems)
    });
    let labelled = fields.take("resistance").map(|node| {
        let what = "is not a resistance a layer can have";
        quantity(node, Dim::RESISTANCE, RESISTANCE, what, problems).map(|it| (it, node))
    });
    let conductivity = fields.take("conductivity").map(|node| {
        quantity(node, Dim::CONDUCTIVITY, CONDUCTIVITY, "is not a conductivity a material can have", problems)
    });
    let stated = stated_capacity(fields.take("density"), fields.take("specific heat"), problems);
    let insulation = fields.take("insulation").map(|node| node.yes_no("the layer is insulation", problems));
    let place = node.place.clone();
    fields.finish(problems);
    let (thickness, stated) = (thickness?, stated?);
    let mut of_label = None;
    let conductivity = match (labelled, conductivity) {
        (Some(labelled), None) => {
            let (resistance, node) = labelled?;
            let word = match material {
                Some(node) => Some(node.text("material", problems)?),
                None => None,
            };
            of_label = labelled::keyed(word, resistance, thickness, studs)
                .map_err(|refused| problems.push(refused.at(node)))
                .ok()?;
            let conductivity = thickness / resistance;
            if !(CONDUCTIVITY[0]..=CONDUCTIVITY[1]).contains(&conductivity) {
                problems.push(node.problem("is not what a layer of that thickness can have"));
                return None;
            }
            Some(Some(conductivity))
        }
        (Some(_), Some(_)) => {
            let what = "a layer has a conductivity or a resistance, not both";
            problems.push(Diagnostic::new(place, what));
            return None;
        }
        (None, conductivity) => conductivity,
    };
    let mut layer = match (of_label, material, conductivity) {
        (Some(layer), ..) => layer,
        (None, material, Some(conductivity)) => {
            let word = material.map(|it| it.text("material", problems));
            let (word, conductivity) = (word.flatten(), conductivity?);
            if let (Some(node), Some((class, range))) = (material, of_another_class(word, conductivity)) {
                let measure = Measure::Of(Dim::CONDUCTIVITY);
                let stated =
                    Show::usual(measure).value(&Quantity::of(conductivity, Dim::CONDUCTIVITY), System::Si);
                let what =
                    format!("is {class}, which conducts {}, not {stated}", units::limits(range, measure));
                let expected = format!(
                    "no conductivity beside it, or the name of what conducts {stated}, which may be one of your own"
                );
                problems.push(node.problem(what).expected(expected));
                return None;
            }
            of_conductivity(word, thickness, conductivity)
        }
        (None, Some(material), None) => {
            let word = material.text("material", problems)?;
            layer_of(word, thickness).or_else(|| {
                let keys = materials::all().map(|it| it.key).chain(super::AIR);
                let problem = material.problem("is not a built-in material").nearest(word, keys);
                problems
                    .push(problem.expected("a material that `coldsill materials` lists, or a conductivity"));
                None
            })?
        }
        (None, None, None) => {
            problems.push(
                Diagnostic::new(place, "the layer does not say what it is of")
                    .expected("a material that `coldsill materials` lists, a conductivity or a resistance"),
            );
            return None;
        }
    };
    if let Some(capacity) = stated {
        layer = layer.storing(capacity, "density and specific heat stated in the job");
    }
    if let Some(name) = name {
        layer.name = name.into();
    }
    if let Some(insulation) = insulation {
        layer.insulation = insulation?;
    }
    Some(layer)
}

/// Density times specific heat where both are stated, `Some(None)` where neither is, `None` where they are wrong.
fn stated_capacity(
    density: Option<&Node>,
    specific_heat: Option<&Node>,
    problems: &mut Diagnostics,
) -> Option<Option<f64>> {
    let (density, specific_heat) = match (density, specific_heat) {
        (None, None) => return Some(None),
        (Some(density), Some(specific_heat)) => (density, specific_heat),
        (Some(alone), None) | (None, Some(alone)) => {
            let problem = alone.problem("says what the layer stores only together with the other");
            problems.push(problem.expected("both density and specific heat, or neither"));
            return None;
        }
    };
    let mass = quantity(density, Dim::DENSITY, DENSITY, "is not a density a layer can have", problems);
    let what = "is not a specific heat a material can have";
    let heat = quantity(specific_heat, Dim::SPECIFIC_HEAT, SPECIFIC_HEAT, what, problems);
    let capacity = mass? * heat?;
    if !(CAPACITY[0]..=CAPACITY[1]).contains(&capacity) {
        let what = "together with the specific heat is more than water or less than air can store";
        problems.push(density.problem(what).expected("1 to 4300 kJ/m³K of the two multiplied"));
        return None;
    }
    Some(Some(capacity))
}

/// The class of a built-in material and its conductivities, W/mK, where a stated one is none of them: copper at 1 W/mK
/// is a slip of the name or of the figure.
fn of_another_class(word: Option<&str>, conductivity: f64) -> Option<(&'static str, [f64; 2])> {
    let class = word.and_then(materials::find)?.class;
    let (least, most) = class.plausible();
    (!(least..=most).contains(&conductivity)).then(|| (class.words(), [least, most]))
}

/// A layer of a stated conductivity. A built-in material beside it lends its name and its heat capacity.
fn of_conductivity(word: Option<&str>, thickness: f64, conductivity: f64) -> Layer {
    let layer = Layer::of_conductivity(word.unwrap_or("layer"), thickness, conductivity);
    let (least, most) = Class::Insulation.plausible();
    match word.and_then(materials::find) {
        Some(material) => {
            Layer { name: material.name.into(), insulation: material.class == Class::Insulation, ..layer }
                .storing(material.heat_capacity(), capacity_source(&material.storage))
        }
        // Whatever insulates as insulation does is insulation, bar an air space.
        None => Layer {
            insulation: (least..=most).contains(&conductivity) && !word.is_some_and(super::is_air),
            ..layer
        },
    }
}

/// A built-in material counts as insulation where its class does.
pub(super) fn layer_of(word: &str, thickness: f64) -> Option<Layer> {
    if super::is_air(word) {
        return Layer::of_air(word, thickness);
    }
    let material = materials::find(word)?;
    Some(Layer::of_material(material, thickness, material.class == Class::Insulation))
}

fn quantity(
    node: &Node,
    dim: Dim,
    [least, most]: [f64; 2],
    what: &str,
    problems: &mut Diagnostics,
) -> Option<f64> {
    let text = node.text("quantity", problems)?;
    match units::parse(text, Measure::Of(dim)) {
        Ok(quantity) if (least..=most).contains(&quantity.is) => Some(quantity.is),
        Ok(_) => {
            problems.push(node.problem(what).expected(units::limits([least, most], Measure::Of(dim))));
            None
        }
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text));
            None
        }
    }
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
            ("conductivity: 0.04 W/mK, density: 30 kg/m³", "only together with the other"),
            ("material: xps, specific heat: 1450 J/kgK", "only together with the other"),
            (
                "material: xps, density: 30000 kg/m³, specific heat: 1450 J/kgK",
                "is not a density a layer can have",
            ),
            ("material: xps, density: 30 kg/m³, specific heat: 1450 kJ/kgK", "is not a specific heat"),
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

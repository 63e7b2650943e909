//! Reads the walls of a job: `walls: { key: { name: …, layers: [ … ] } }`.

use super::{Layer, Wall};
use crate::diag::Problem;
use crate::input::{Fields, Key, Node};
use crate::physics::materials;
use crate::units::{self, Dim, Measure};

/// Thinnest and thickest layer accepted, m.
const THICKNESS: [f64; 2] = [0.0002, 1.0];
/// Least and greatest conductivity accepted, W/mK: from the best insulation to silver.
const CONDUCTIVITY: [f64; 2] = [0.004, 430.0];

/// Every wall of a `walls:` mapping. A wall with a problem is left out; all problems are told.
pub fn read_walls(node: &Node, problems: &mut Vec<Problem>) -> Vec<Wall> {
    let entries = node.map("walls", problems).unwrap_or_default();
    let alike = |a: &str, b: &str| a.eq_ignore_ascii_case(b);
    for (index, (key, _)) in entries.iter().enumerate() {
        if entries[..index].iter().any(|(before, _)| alike(&before.text, &key.text)) {
            problems.push(Problem::new(key.place.clone(), "is a second wall of that name").text(&key.text));
        }
    }
    entries.iter().filter_map(|(key, node)| read_wall(key, node, problems)).collect()
}

fn read_wall(key: &Key, node: &Node, problems: &mut Vec<Problem>) -> Option<Wall> {
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
    fields.finish(problems);
    let layers = layers?;
    let before = problems.len();
    let read: Vec<Layer> = layers.iter().filter_map(|node| read_layer(node, problems)).collect();
    if layers.is_empty() {
        problems.push(
            Problem::new(key.place.clone(), "has no layers")
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
        built_in: false,
    })
}

fn read_layer(node: &Node, problems: &mut Vec<Problem>) -> Option<Layer> {
    let mut fields = Fields::of(node, "layer", problems)?;
    let material = fields.take("material");
    let name = fields.take("name").and_then(|node| node.text("name", problems)).map(str::to_owned);
    let thickness = fields.need("thickness", problems).and_then(|node| {
        quantity(node, Dim::LENGTH, THICKNESS, "is not a thickness a layer can have", problems)
    });
    let conductivity = fields.take("conductivity").map(|node| {
        quantity(node, Dim::CONDUCTIVITY, CONDUCTIVITY, "is not a conductivity a material can have", problems)
    });
    let insulation = fields.take("insulation").map(|node| node.yes_no("the layer is insulation", problems));
    let place = node.place.clone();
    fields.finish(problems);
    let thickness = thickness?;
    let mut layer = match (material, conductivity) {
        (_, Some(conductivity)) => Layer {
            name: name.clone().unwrap_or_else(|| "layer".into()).into(),
            thickness,
            conductivity: conductivity?,
            source: "stated in the job".into(),
            insulation: false,
        },
        (Some(material), None) => {
            let word = material.text("material", problems)?;
            layer_of(word, thickness).or_else(|| {
                let keys = materials::all().map(|it| it.key).chain(["air"]);
                problems.push(
                    material
                        .problem("is not a built-in material; a conductivity can be given instead")
                        .nearest(word, keys),
                );
                None
            })?
        }
        (None, None) => {
            problems.push(Problem::new(place, "a layer needs a material or a conductivity"));
            return None;
        }
    };
    if let Some(name) = name {
        layer.name = name.into();
    }
    if let Some(insulation) = insulation {
        layer.insulation = insulation?;
    }
    Some(layer)
}

/// A built-in material counts as insulation where its class does.
fn layer_of(word: &str, thickness: f64) -> Option<Layer> {
    if word.eq_ignore_ascii_case("air") {
        return Layer::of_air(thickness);
    }
    let material = materials::find(word)?;
    Some(Layer::of_material(material, thickness, material.class == materials::Class::Insulation))
}

fn quantity(
    node: &Node,
    dim: Dim,
    [least, most]: [f64; 2],
    what: &str,
    problems: &mut Vec<Problem>,
) -> Option<f64> {
    let text = node.text("quantity", problems)?;
    match units::parse(text, Measure::Of(dim)) {
        Ok(quantity) if (least..=most).contains(&quantity.is) => Some(quantity.is),
        Ok(_) => {
            problems.push(node.problem(what));
            None
        }
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text));
            None
        }
    }
}

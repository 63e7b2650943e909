//! Layers as people write them: `R-20 batt in 2x6`, `R-5 foam 1 in`, `2 in XPS`, `1/2 in gypsum board`. Studs state the
//! thickness; a batt compressed to less than its own thickness loses resistance.

use super::Layer;
use super::batts::{Batt, GLASS, WOOL};
use super::error::WallError;
use super::read::{THICKNESS, layer_of};
use crate::physics::materials::{self, Class};
use crate::units::{self, Dim, INCH, Measure, Quantity, Rounding, Show, System};

/// 1 h·ft²·°F/Btu in m²K/W.
const R: f64 = 0.176_110_2;

/// Nominal lumber and its depth, in: American Softwood Lumber Standard, dry (from memory).
const LUMBER: [(&str, f64); 7] =
    [("2x2", 1.5), ("2x3", 2.5), ("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25)];

const GLASS_KEY: &str = "fiberglass-batt";
const WOOL_KEY: &str = "mineral-wool";
/// The source of a batt's resistance.
const CHART: &str =
    "compression charts of glass-fiber batts, the lesser where they differ (one seen, one from memory)";

/// Names of insulation of no particular material: label and thickness are enough.
const ANY_INSULATION: [&str; 9] = [
    "foam",
    "foam board",
    "board",
    "rigid",
    "rigid foam",
    "rigid board",
    "spray foam",
    "continuous",
    "loose fill",
];
/// Words beside a material that do not change what it is.
const FILLERS: [&str; 8] =
    ["insulation", "insulated", "kraft", "kraft-faced", "foil-faced", "paper-faced", "faced", "unfaced"];
/// Words that leave a layer out, undecided or to others.
#[rustfmt::skip]
const NOT_BUILT: [&str; 24] = [
    "no", "not", "none", "without", "w/o", "omit", "omitted", "delete", "deleted", "excluded", "others", "owner", "nic",
    "n.i.c", "optional", "alternate", "future", "or", "tbd", "verify", "vif", "min", "minimum", "max",
];
/// Most resistance of an air space, m²K/W, one face bright, heat flowing across (handbook, from memory).
const AIR_MOST: f64 = 0.65;
/// How near a label in another unit comes to the one printed on a batt, h·ft²·°F/Btu: RSI has two decimals.
const SAME_LABEL: f64 = 0.05;

/// Depth of nominal lumber, m: `2x6`.
pub(super) fn lumber(text: &str) -> Option<f64> {
    let plain = text.trim().to_lowercase().replace('×', "x").replace(' ', "");
    LUMBER.iter().find(|(name, _)| *name == plain).map(|(_, inches)| inches * INCH)
}

/// The parts of a text.
#[derive(Debug, Default)]
struct Parts {
    /// h·ft²·°F/Btu
    label: Option<f64>,
    /// Depth of the studs, m, and their name.
    studs: Option<(f64, String)>,
    /// m
    thickness: Option<f64>,
    /// The rest: the material.
    material: String,
}

/// Parses a layer.
pub(super) fn parse_layer(text: &str) -> Result<Layer, WallError> {
    check_built(text)?;
    let parts = parse_parts(text)?;
    if parts.studs.is_some() && parts.thickness.is_some() {
        return Err(WallError::ThicknessAndStuds);
    }
    let depth = parts.thickness.or(parts.studs.as_ref().map(|(depth, _)| *depth));
    if depth.is_some_and(|depth| !units::contains(THICKNESS, depth)) {
        let range = units::limits(THICKNESS, Measure::Of(Dim::LENGTH));
        return Err(WallError::ThicknessOutOfRange(range));
    }
    if let Some(label) = parts.label {
        return labeled_layer(text, label, depth, &parts);
    }
    let Some(depth) = depth else {
        return Err(WallError::NoThickness("such as 1/2 in gypsum board or R-20 batt in 2x6"));
    };
    layer_of(&parts.material, depth).ok_or_else(|| match super::is_air(&parts.material) {
        true => WallError::ThickAir,
        false => WallError::NoKnownMaterial(parts.material),
    })
}

/// An error if a text says that the layer is left out, not decided or by others.
fn check_built(text: &str) -> Result<(), WallError> {
    let is_excluded = |word: &str| is_any(word.trim_matches(['(', ')', ',', ';', '.']), &NOT_BUILT);
    if text.contains('?') || text.split_whitespace().any(is_excluded) {
        return Err(WallError::NotBuilt);
    }
    Ok(())
}

/// A layer of keys with a resistance \[m²K/W\] and a thickness \[m\], that of the studs if they are named. `None` if no
/// chart or class applies: then only the resistance counts.
pub(super) fn layer_of_resistance(
    word: Option<&str>,
    resistance: f64,
    thickness: f64,
    studs: Option<&str>,
) -> Result<Option<Layer>, WallError> {
    let text = word.unwrap_or_default();
    check_built(text)?;
    let material = parse_material(text.split_whitespace().map(str::to_owned).collect());
    let is_known = materials::find(&material).is_some() || super::is_air(&material);
    if !is_known && !material.to_lowercase().contains("batt") && studs.is_none() {
        return Ok(None);
    }
    let label = libm::round(resistance / R * 100.0) / 100.0;
    let studs = studs.map(|name| (thickness, name.trim().to_lowercase()));
    let parts = Parts { label: Some(label), studs, thickness: None, material };
    let text = format!("R-{label} {}", word.unwrap_or("batt"));
    labeled_layer(&text, label, Some(thickness), &parts).map(Some)
}

/// A layer of a labeled resistance.
fn labeled_layer(text: &str, label: f64, depth: Option<f64>, parts: &Parts) -> Result<Layer, WallError> {
    if super::is_air(&parts.material) {
        return labeled_air(label, depth, &parts.material);
    }
    let material = materials::find(&parts.material);
    if material.is_none() && !parts.material.is_empty() && !is_any(&parts.material, &ANY_INSULATION) {
        return Err(WallError::NoKnownMaterial(parts.material.clone()));
    }
    let chart = match material.map(|material| material.key) {
        Some(WOOL_KEY) => Some((WOOL, WOOL_KEY)),
        Some(GLASS_KEY | "fiberglass-batt-high-density") => Some((GLASS, GLASS_KEY)),
        // A bare label, and one in studs, is a batt's.
        None if parts.material.is_empty() => Some((GLASS, GLASS_KEY)),
        _ => None,
    };
    let (thickness, resistance, key) = match (chart, depth) {
        (Some((chart, key)), depth) => {
            let (thickness, resistance) = compressed(chart, key, label, depth, parts)?;
            (thickness, resistance, Some(key))
        }
        (None, Some(depth)) if parts.studs.is_none() || material.is_some() => {
            (depth, label, material.map(|material| material.key))
        }
        (None, _) => return Err(WallError::NoThickness("a thickness, such as R-5 foam 1 in")),
    };
    let conductivity = thickness / (resistance * R);
    let class = material.map_or(Class::Insulation, |material| material.class);
    let (least, most) = class.plausible();
    if !units::contains([least, most], conductivity) {
        let what = format!("{:.2} in of {}", thickness / INCH, class.words());
        let of = |conductivity: f64, places, toward| shown(thickness / conductivity, places, toward);
        let range = format!("{} to {}", of(most, 2, Rounding::Up), of(least, 1, Rounding::Down));
        return Err(WallError::LabelOutOfRange(what, range));
    }
    let name = if (resistance - label).abs() < SAME_LABEL {
        text.trim().to_owned()
    } else {
        format!("{}, R-{resistance} as compressed", text.trim())
    };
    let layer = Layer::of_conductivity(&name, thickness, conductivity);
    let layer = match key.and_then(materials::find) {
        Some(known) => layer.storing(known.heat_capacity(), super::capacity_source(&known.storage)),
        None => layer,
    };
    let source = if chart.is_some() {
        format!("R-{label} as labeled; {CHART}")
    } else {
        format!("R-{label} as labeled in the job")
    };
    Ok(Layer { insulation: class == Class::Insulation, source: source.into(), ..layer })
}

/// A resistance that a label may still state, as labels are written.
fn shown(resistance: f64, places: usize, toward: Rounding) -> String {
    let label = Show::new(("R", places), ("m²K/W", places), toward);
    label.value(&Quantity::of(resistance, Dim::RESISTANCE), System::Us)
}

/// An air space of a labeled resistance; not insulation.
fn labeled_air(label: f64, depth: Option<f64>, word: &str) -> Result<Layer, WallError> {
    let air = depth.and_then(|depth| Layer::of_air(word, depth));
    let Some(air) = air.filter(|_| label * R <= AIR_MOST) else {
        let range = format!("at most {}, or the name of the insulation", shown(AIR_MOST, 1, Rounding::Down));
        return Err(WallError::LabelOutOfRange("an air space".into(), range));
    };
    let source = format!("R-{label} as labeled in the job").into();
    Ok(Layer { conductivity: air.thickness / (label * R), source, ..air })
}

/// Thickness \[m\] and R-value of a batt in the depth it is in.
fn compressed(
    chart: &[Batt],
    key: &str,
    label: f64,
    depth: Option<f64>,
    parts: &Parts,
) -> Result<(f64, f64), WallError> {
    let Some(batt) = chart.iter().find(|batt| (batt.label - label).abs() < SAME_LABEL) else {
        // Another label fills the depth stated beside it.
        return match depth {
            Some(depth) if parts.studs.is_none() => Ok((depth, label)),
            _ => {
                let labels: Vec<String> = chart.iter().map(|batt| format!("R-{}", batt.label)).collect();
                Err(WallError::UnknownBatt(labels.join(", ")))
            }
        };
    };
    let Some(depth) = depth else {
        // A label alone states the depth of a batt that is made to fill studs.
        let own = batt.compressed.iter().find(|(inches, _)| (inches - batt.made).abs() < 1e-9);
        return own.map(|(inches, r)| (inches * INCH, *r)).ok_or(WallError::NoStuds(label));
    };
    let is_depth = |inches: f64| (inches * INCH - depth).abs() < 0.0016;
    if let Some((_, r)) = batt.compressed.iter().find(|(inches, _)| is_depth(*inches)) {
        return Ok((depth, *r));
    }
    if is_depth(batt.made) {
        return Ok((depth, batt.label));
    }
    let place = match &parts.studs {
        Some((_, name)) => name.clone(),
        None => format!("{:.2} in", depth / INCH),
    };
    if depth > batt.made * INCH {
        return Err(WallError::TooThin(place, label, batt.made, depth / INCH - batt.made));
    }
    let fits = |batt: &&Batt| batt.compressed.iter().any(|(inches, _)| is_depth(*inches));
    let fitting: Vec<String> = chart.iter().filter(fits).map(|batt| format!("R-{}", batt.label)).collect();
    let fitting =
        if fitting.is_empty() { "the depth of studs, or a conductivity".into() } else { fitting.join(", ") };
    let why = if key == WOOL_KEY { "is not compressed" } else { "is not made to be compressed so far" };
    Err(WallError::TooThick(place, label, batt.made, why, fitting))
}

fn parse_parts(text: &str) -> Result<Parts, WallError> {
    let mut parts = Parts::default();
    let mut words: Vec<String> =
        text.replace('×', "x").replace(',', " ").split_whitespace().map(str::to_owned).collect();
    if let Some(at) = words.iter().position(|word| lumber(word).is_some()) {
        let name = words.remove(at).to_lowercase();
        parts.studs = lumber(&name).map(|depth| (depth, name));
        // "in", "in a" before it; "studs", "cavity", "wall" after it.
        let after = ["stud", "studs", "cavity", "wall", "framing", "bay"];
        while words.get(at).is_some_and(|word| is_any(word, &after)) {
            words.remove(at);
        }
        let mut before = at;
        while before > 0 && is_any(&words[before - 1], &["in", "a", "between", "into"]) {
            before -= 1;
            words.remove(before);
        }
    }
    if let Some(at) = words.iter().position(|word| parse_label(word).is_some()) {
        parts.label = parse_label(&words.remove(at));
    }
    if words.iter().any(|word| parse_label(word).is_some()) {
        return Err(WallError::TwoResistances);
    }
    if let Some((from, to, thickness)) = find_length(&words) {
        parts.thickness = Some(thickness);
        words.drain(from..to);
    }
    parts.material = parse_material(words);
    Ok(parts)
}

/// The material of the remaining words: unchanged if they name one, otherwise without words that add nothing.
fn parse_material(mut words: Vec<String>) -> String {
    words.retain(|word| !is_any(word, &["of", "thick", "the"]));
    let whole = words.join(" ");
    if materials::find(&whole).is_some() {
        return whole;
    }
    words.retain(|word| !is_any(word.trim_matches(['(', ')']), &FILLERS));
    for word in &mut words {
        if is_any(word, &["batts", "boards"]) {
            word.pop();
        }
    }
    words.join(" ")
}

fn is_any(word: &str, words: &[&str]) -> bool {
    words.iter().any(|other| other.eq_ignore_ascii_case(word))
}

/// `R-20`, `R20`, `r-20.5`; above zero.
fn parse_label(word: &str) -> Option<f64> {
    let number = word.strip_prefix(['R', 'r'])?.trim_start_matches('-');
    let label = number.parse::<f64>().ok().filter(|_| number.starts_with(|c: char| c.is_ascii_digit()))?;
    (label.is_finite() && label > 0.0).then_some(label)
}

/// The longest run of words that is a length: where it starts and ends, and the length, m.
fn find_length(words: &[String]) -> Option<(usize, usize, f64)> {
    // "1 1/2 inches" has three words; no length has more.
    const MOST: usize = 3;
    let counts = (1..=MOST.min(words.len())).rev();
    let runs = counts.flat_map(|count| (0..=words.len() - count).map(move |from| (from, from + count)));
    runs.into_iter().find_map(|(from, to)| {
        let quantity = units::parse(&words[from..to].join(" "), Measure::Of(Dim::LENGTH)).ok()?;
        Some((from, to, quantity.is))
    })
}

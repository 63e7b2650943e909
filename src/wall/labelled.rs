//! A layer as people write it: `R-20 batt in 2x6`, `R-5 foam 1 in`, `2 in XPS`, `1/2 in gypsum board`. Thickness follows
//! from the studs where they are named; a batt pressed into less than it is made for loses resistance.

use super::Layer;
use super::batts::{Batt, GLASS, WOOL};
use super::read::{THICKNESS, layer_of};
use crate::diag::{Diagnostic, nearest};
use crate::input::Node;
use crate::physics::materials::{self, Class};
use crate::units::{self, Dim, Measure};

const INCH: f64 = 0.0254;
/// 1 h·ft²·°F/Btu in m²K/W.
const R: f64 = 0.176_110_2;

/// Nominal lumber and its depth, in: American Softwood Lumber Standard, dry (from memory).
const LUMBER: [(&str, f64); 7] =
    [("2x2", 1.5), ("2x3", 2.5), ("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25)];

const GLASS_KEY: &str = "fiberglass-batt";
const WOOL_KEY: &str = "mineral-wool";
/// Said of a batt's resistance.
const CHART: &str =
    "compression charts of glass-fiber batts, the lesser where they differ (one seen, one from memory)";

/// Insulation of no one kind: a label and a thickness say what matters of it.
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
/// Words that leave a layer out, or open.
const DENIALS: [&str; 24] = [
    "no",
    "not",
    "none",
    "without",
    "w/o",
    "omit",
    "omitted",
    "delete",
    "deleted",
    "excluded",
    "others",
    "owner",
    "nic",
    "n.i.c",
    "optional",
    "alternate",
    "future",
    "or",
    "tbd",
    "verify",
    "vif",
    "min",
    "minimum",
    "max",
];
/// Most an air space can have, m²K/W, one face bright, heat flowing across (handbook, from memory).
const AIR_MOST: f64 = 0.65;
/// How near a label in another unit comes to the one printed on a batt, h·ft²·°F/Btu: RSI has two decimals.
const SAME_LABEL: f64 = 0.05;

/// Why a text is no layer.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Refused {
    what: String,
    expected: Option<String>,
    nearest: Option<String>,
}

impl Refused {
    pub(super) fn at(self, node: &Node) -> Diagnostic {
        let problem = node.problem(self.what);
        Diagnostic { expected: self.expected, nearest: self.nearest, ..problem }
    }
}

fn refused<T>(what: impl Into<String>, expected: impl Into<String>) -> Result<T, Refused> {
    Err(Refused { what: what.into(), expected: Some(expected.into()), nearest: None })
}

/// Depth of nominal lumber, m: `2x6`.
pub(super) fn lumber(text: &str) -> Option<f64> {
    let plain = text.trim().to_lowercase().replace('×', "x").replace(' ', "");
    LUMBER.iter().find(|(name, _)| *name == plain).map(|(_, inches)| inches * INCH)
}

/// What a text says, before it is a layer.
#[derive(Debug, Default)]
struct Said {
    /// h·ft²·°F/Btu
    label: Option<f64>,
    /// Depth of the studs it stands in, m, and their name.
    studs: Option<(f64, String)>,
    /// m
    thickness: Option<f64>,
    /// What is left: the material.
    material: String,
}

/// Reads a layer.
pub(super) fn layer(text: &str) -> Result<Layer, Refused> {
    denied(text)?;
    let said = said(text)?;
    if said.studs.is_some() && said.thickness.is_some() {
        return refused("gives a thickness and the studs as well", "one of the two");
    }
    let depth = said.thickness.or(said.studs.as_ref().map(|(depth, _)| *depth));
    if depth.is_some_and(|it| !(THICKNESS[0]..=THICKNESS[1]).contains(&it)) {
        return refused("is not a thickness a layer can have", "a thickness such as 5-1/2 in");
    }
    match said.label {
        Some(label) => of_label(text, label, depth, &said),
        None => of_material(depth, &said),
    }
}

fn of_material(depth: Option<f64>, said: &Said) -> Result<Layer, Refused> {
    let Some(depth) = depth else {
        return refused(
            "does not say how thick the layer is",
            "such as 1/2 in gypsum board or R-20 batt in 2x6",
        );
    };
    layer_of(&said.material, depth).ok_or_else(|| no_material(&said.material))
}

fn no_material(word: &str) -> Refused {
    let names = materials::all().flat_map(|it| it.aliases.iter().copied().chain([it.key])).chain(super::AIR);
    let nearest = nearest(word, names).map(str::to_owned);
    let expected = nearest
        .is_none()
        .then(|| "a material that `coldsill materials` lists, or keys with a conductivity".to_owned());
    Refused { what: "names no built-in material".into(), expected, nearest }
}

/// A text that says the layer is not there, is somebody else's or is not decided gives none.
fn denied(text: &str) -> Result<(), Refused> {
    let is_denial = |word: &str| is_one(word.trim_matches(['(', ')', ',', ';', '.']), &DENIALS);
    if text.contains('?') || text.split_whitespace().any(is_denial) {
        return refused(
            "leaves the layer out, open or to others",
            "a layer as it will be built, such as R-20 batt in 2x6",
        );
    }
    Ok(())
}

/// A layer of keys with a resistance \[m²K/W\] and a thickness \[m\], which is that of the studs where they are named.
/// `None` where no chart or class holds for it: then the resistance alone counts.
pub(super) fn keyed(
    word: Option<&str>,
    resistance: f64,
    thickness: f64,
    studs: Option<&str>,
) -> Result<Option<Layer>, Refused> {
    let text = word.unwrap_or_default();
    denied(text)?;
    let material = material(text.split_whitespace().map(str::to_owned).collect());
    let is_known = materials::find(&material).is_some() || super::is_air(&material);
    if !is_known && !material.to_lowercase().contains("batt") && studs.is_none() {
        return Ok(None);
    }
    let label = libm::round(resistance / R * 100.0) / 100.0;
    let studs = studs.map(|name| (thickness, name.trim().to_lowercase()));
    let said = Said { label: Some(label), studs, thickness: None, material };
    let text = format!("R-{label} {}", word.unwrap_or("batt"));
    of_label(&text, label, Some(thickness), &said).map(Some)
}

/// A layer of a labelled resistance.
fn of_label(text: &str, label: f64, depth: Option<f64>, said: &Said) -> Result<Layer, Refused> {
    if super::is_air(&said.material) {
        return of_air(label, depth, &said.material);
    }
    let material = materials::find(&said.material);
    if material.is_none() && !said.material.is_empty() && !is_one(&said.material, &ANY_INSULATION) {
        return Err(no_material(&said.material));
    }
    let chart = match material.map(|it| it.key) {
        Some(WOOL_KEY) => Some((WOOL, WOOL_KEY)),
        Some(GLASS_KEY | "fiberglass-batt-high-density") => Some((GLASS, GLASS_KEY)),
        // A bare label, and one in studs, is a batt's.
        None if said.material.is_empty() => Some((GLASS, GLASS_KEY)),
        _ => None,
    };
    let (thickness, resistance, key) = match (chart, depth) {
        (Some((chart, key)), depth) => {
            let (thickness, resistance) = pressed(chart, key, label, depth, said)?;
            (thickness, resistance, Some(key))
        }
        (None, Some(depth)) if said.studs.is_none() || material.is_some() => {
            (depth, label, material.map(|it| it.key))
        }
        (None, _) => {
            return refused("does not say how thick the layer is", "a thickness, such as R-5 foam 1 in");
        }
    };
    let conductivity = thickness / (resistance * R);
    let class = material.map_or(Class::Insulation, |it| it.class);
    let (least, most) = class.plausible();
    if !(least..=most).contains(&conductivity) {
        let inches = thickness / INCH;
        let bounds = [most, least].map(|it| thickness / it / R);
        return refused(
            format!("is not what {inches:.2} in of {} can be labelled", class.words()),
            format!("R-{:.2} to R-{:.1}", bounds[0], bounds[1]),
        );
    }
    let name = if (resistance - label).abs() < SAME_LABEL {
        text.trim().to_owned()
    } else {
        format!("{}, R-{resistance} as pressed", text.trim())
    };
    let layer = Layer::of_conductivity(&name, thickness, conductivity);
    let layer = match key.and_then(materials::find) {
        Some(it) => layer.storing(it.heat_capacity(), super::capacity_source(&it.storage)),
        None => layer,
    };
    let source = if chart.is_some() {
        format!("R-{label} as labelled; {CHART}")
    } else {
        format!("R-{label} as labelled in the job")
    };
    Ok(Layer { insulation: class == Class::Insulation, source: source.into(), ..layer })
}

/// An air space keeps a label that one can have, and is no insulation.
fn of_air(label: f64, depth: Option<f64>, word: &str) -> Result<Layer, Refused> {
    let air = depth.and_then(|it| Layer::of_air(word, it));
    let Some(air) = air.filter(|_| label * R <= AIR_MOST) else {
        return refused(
            "is not what an air space has",
            format!("R-{:.1} at the most, or the insulation by its name", AIR_MOST / R),
        );
    };
    let source = format!("R-{label} as labelled in the job").into();
    Ok(Layer { conductivity: air.thickness / (label * R), source, ..air })
}

/// Thickness \[m\] and R of a batt in the depth it stands in.
fn pressed(
    chart: &[Batt],
    key: &str,
    label: f64,
    depth: Option<f64>,
    said: &Said,
) -> Result<(f64, f64), Refused> {
    let labels: Vec<String> = chart.iter().map(|it| format!("R-{}", it.label)).collect();
    let Some(batt) = chart.iter().find(|it| (it.label - label).abs() < SAME_LABEL) else {
        // Another label fills the depth it is given with, where there is one.
        return match depth {
            Some(depth) if said.studs.is_none() => Ok((depth, label)),
            _ => {
                refused("is not a batt there is", format!("{}, or a thickness beside it", labels.join(", ")))
            }
        };
    };
    let Some(depth) = depth else {
        // By itself a label says the depth of a batt that is made to fill studs.
        return match batt.pressed.iter().find(|(inches, _)| (inches - batt.made).abs() < 1e-9) {
            Some((inches, r)) => Ok((inches * INCH, *r)),
            None => refused("does not say in which studs", format!("such as R-{label} batt in 2x6")),
        };
    };
    let same = |inches: f64| (inches * INCH - depth).abs() < 0.0016;
    let found = batt.pressed.iter().find(|(inches, _)| same(*inches));
    if let Some((_, r)) = found {
        return Ok((depth, *r));
    }
    if same(batt.made) {
        return Ok((depth, batt.label));
    }
    let place =
        said.studs.as_ref().map_or_else(|| format!("{:.2} in", depth / INCH), |(_, name)| name.clone());
    if depth > batt.made * INCH {
        let gap = depth / INCH - batt.made;
        return refused(
            format!("does not fill {place}: an R-{label} batt is made {} in thick", batt.made),
            format!("a batt that fills it, or two layers: R-{label} batt {} in, and air {gap} in", batt.made),
        );
    }
    let deepest =
        chart.iter().filter_map(|it| it.pressed.iter().find(|(inches, _)| same(*inches)).map(|_| it.label));
    let fits: Vec<String> = deepest.map(|it| format!("R-{it}")).collect();
    let why = if key == WOOL_KEY { "is not pressed" } else { "is not made to be pressed so far" };
    refused(
        format!("does not go into {place}: an R-{label} batt is made {} in thick and {why}", batt.made),
        if fits.is_empty() { "a depth that studs have, or a conductivity".into() } else { fits.join(", ") },
    )
}

fn said(text: &str) -> Result<Said, Refused> {
    let mut said = Said::default();
    let mut words: Vec<String> =
        text.replace('×', "x").replace(',', " ").split_whitespace().map(str::to_owned).collect();
    if let Some(at) = words.iter().position(|it| lumber(it).is_some()) {
        let name = words.remove(at).to_lowercase();
        said.studs = lumber(&name).map(|depth| (depth, name));
        // "in", "in a" before it; "studs", "cavity", "wall" after it.
        while words
            .get(at)
            .is_some_and(|it| is_one(it, &["stud", "studs", "cavity", "wall", "framing", "bay"]))
        {
            words.remove(at);
        }
        let mut before = at;
        while before > 0 && is_one(&words[before - 1], &["in", "a", "between", "into"]) {
            before -= 1;
            words.remove(before);
        }
    }
    if let Some(at) = words.iter().position(|it| label(it).is_some()) {
        said.label = label(&words.remove(at));
    }
    if words.iter().any(|it| label(it).is_some()) {
        return refused("gives two resistances", "a layer for each");
    }
    if let Some((from, to, thickness)) = length(&words) {
        said.thickness = Some(thickness);
        words.drain(from..to);
    }
    said.material = material(words);
    Ok(said)
}

/// The material of the words left: as they stand where they name one, else without the words that add nothing.
fn material(mut words: Vec<String>) -> String {
    words.retain(|it| !is_one(it, &["of", "thick", "the"]));
    let whole = words.join(" ");
    if materials::find(&whole).is_some() {
        return whole;
    }
    words.retain(|it| !is_one(it.trim_matches(['(', ')']), &FILLERS));
    for word in &mut words {
        if is_one(word, &["batts", "boards"]) {
            word.pop();
        }
    }
    words.join(" ")
}

fn is_one(word: &str, words: &[&str]) -> bool {
    words.iter().any(|it| it.eq_ignore_ascii_case(word))
}

/// `R-20`, `R20`, `r-20.5`; above zero.
fn label(word: &str) -> Option<f64> {
    let number = word.strip_prefix(['R', 'r'])?.trim_start_matches('-');
    number
        .parse::<f64>()
        .ok()
        .filter(|it| it.is_finite() && *it > 0.0 && number.starts_with(|c: char| c.is_ascii_digit()))
}

/// The longest run of words that is a length, with the words it takes up.
fn length(words: &[String]) -> Option<(usize, usize, f64)> {
    // "1 1/2 inches" is three words; more are no length.
    const MOST: usize = 3;
    for count in (1..=MOST.min(words.len())).rev() {
        for from in 0..=words.len() - count {
            let text = words[from..from + count].join(" ");
            if let Ok(quantity) = units::parse(&text, Measure::Of(Dim::LENGTH)) {
                return Some((from, from + count, quantity.is));
            }
        }
    }
    None
}

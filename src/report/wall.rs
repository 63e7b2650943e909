//! A wall drawn to scale, outdoors at the left: layers, depths from the face, resistances, and temperatures where
//! asked.

use super::WIDTH;
use super::climates::low_text;
use super::page::{labelled, table, wrapped};
use super::words::listed;
use crate::units::{Dim, Quantity, Rounding, Show, System};
use crate::wall::{FRAMING, Layer, Wall};
use std::fmt::Write;

const TEMPERATURE: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);
/// Columns of the drawing.
const COLUMNS: usize = 72;
/// Before each line of it.
const MARGIN: &str = "  ";
/// Lines in which the layers are drawn.
const LINES: usize = 3;

/// The air on both sides, K, and what outdoors is.
pub struct Between<'t> {
    /// Outdoors.
    pub outdoors: f64,
    /// Indoors.
    pub indoors: f64,
    /// What the outdoor temperature is.
    pub what: &'t str,
}

/// A wall on a page.
pub fn wall(wall: &Wall, between: Option<&Between<'_>>, system: System) -> String {
    let mut out = String::new();
    out.push_str(&wrapped(&format!("Wall {}: {}", wall.key, wall.name), WIDTH, ""));
    out.push('\n');
    drawing(&mut out, wall, system);
    out.push('\n');
    layers(&mut out, wall, between, system);
    out.push('\n');
    notes(&mut out, wall, between, system);
    out
}

/// Walls, one a row.
pub fn walls<'w>(walls: impl Iterator<Item = &'w Wall>, system: System) -> String {
    let rows = walls.map(|wall| {
        let inside = wall.inside_face_of_insulation().map_or_else(|| "none".into(), |it| length(it, system));
        vec![
            wall.key.to_string(),
            wall.name.to_string(),
            length(wall.thickness(), system),
            inside,
            resistance(wall.resistance(), system),
        ]
    });
    let headings = ["Wall", "Description", "Thickness", "Inside face of insulation", "Resistance"];
    format!("{}\n\n{}", table(&headings, rows.collect(), WIDTH), wrapped(FRAMING, WIDTH, ""))
}

fn drawing(out: &mut String, wall: &Wall, system: System) {
    let ends = ends(wall);
    let room = COLUMNS.saturating_sub("outdoors".len());
    let _ = writeln!(out, "{MARGIN}outdoors{:>room$}", wall.space_behind);
    let mut strip = vec![' '; COLUMNS + 1];
    let mut letters = vec![' '; COLUMNS + 1];
    let mut from = 0;
    for (index, (layer, end)) in wall.layers.iter().zip(&ends).enumerate() {
        strip[from..=*end].fill(if layer.insulation { ':' } else { ' ' });
        // Its letter under its middle, or the next free column of a layer too thin for one.
        let middle = from.midpoint(*end);
        if let Some(at) = (middle..=COLUMNS).find(|it| letters[*it] == ' ') {
            letters[at] = letter(index);
        }
        from = *end;
    }
    for at in std::iter::once(&0).chain(&ends) {
        strip[*at] = '|';
    }
    for _ in 0..LINES {
        line(out, &strip);
    }
    line(out, &letters);
    ruler(out, wall, system);
    if let Some(depth) = wall.inside_face_of_insulation() {
        let at = column(depth, wall);
        let text = format!("inside face of insulation, {}", length(depth, system));
        // The words stand on the side that has room for them.
        let words = text.chars().count() + 1;
        let text = if at > words {
            format!("{text:>width$} ^", width = at - 1)
        } else {
            format!("{:>at$}^ {text}", "", at = at)
        };
        let _ = writeln!(out, "{MARGIN}{text}");
    }
}

fn line(out: &mut String, characters: &[char]) {
    let text: String = characters.iter().collect();
    let _ = writeln!(out, "{MARGIN}{}", text.trim_end());
}

/// Ticks at whole steps of the reader's unit.
fn ruler(out: &mut String, wall: &Wall, system: System) {
    /// Columns a number needs, with a space beside it.
    const NUMBER: usize = 5;
    let (unit, name, steps): (f64, &str, &[f64]) = match system {
        System::Us => (0.0254, "in", &[1.0, 2.0, 5.0]),
        System::Si => (0.001, "mm", &[20.0, 50.0, 100.0]),
    };
    let fits = |step: &&f64| column(**step * unit, wall) >= NUMBER;
    let step = steps.iter().find(fits).or(steps.last()).copied().unwrap_or(1.0);
    let (mut ticks, mut numbers) = (vec![' '; COLUMNS + 1], vec![' '; COLUMNS + 8]);
    let mut count = 0.0;
    while count * step * unit <= wall.thickness() + 1e-9 {
        let at = column(count * step * unit, wall);
        ticks[at] = '\'';
        for (place, digit) in numbers[at..].iter_mut().zip(format!("{}", count * step).chars()) {
            *place = digit;
        }
        count += 1.0;
    }
    line(out, &ticks);
    let text: String = numbers.iter().collect();
    let _ = writeln!(out, "{MARGIN}{} {name}", text.trim_end());
}

/// The column in which each layer ends.
fn ends(wall: &Wall) -> Vec<usize> {
    let mut at = 0.0;
    let depths = wall.layers.iter().map(|layer| {
        at += layer.thickness;
        column(at, wall)
    });
    depths.collect()
}

fn column(depth: f64, wall: &Wall) -> usize {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "from 0 to the drawing's width"
    )]
    let column = (depth / wall.thickness() * COLUMNS as f64).round() as usize;
    column.min(COLUMNS)
}

/// A, B … Z, then a to z; beyond that many layers letters repeat.
fn letter(index: usize) -> char {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
    LETTERS.get(index % LETTERS.len()).copied().map_or('?', char::from)
}

fn layers(out: &mut String, wall: &Wall, between: Option<&Between<'_>>, system: System) {
    let faces = between.map(|it| wall.temperatures(it.outdoors, it.indoors));
    let (mut at, mut sum) = (0.0, 0.0);
    let rows = wall.layers.iter().enumerate().map(|(index, layer)| {
        let from = at;
        at += layer.thickness;
        sum += layer.resistance();
        let mut row = vec![
            letter(index).to_string(),
            format!("{} to {}", length(from, system), length(at, system)),
            layer.name.to_string(),
            resistance(layer.resistance(), system),
            resistance(sum, system),
        ];
        row.extend(faces.as_ref().and_then(|it| it.get(index + 1)).map(|it| temperature(*it, system)));
        row
    });
    let headings = ["", "From face", "Layer", "Resistance", "Total", "Inner face"];
    let columns = if faces.is_some() { 6 } else { 5 };
    out.push_str(&table(&headings[..columns], rows.collect(), WIDTH));
    out.push('\n');
}

fn notes(out: &mut String, wall: &Wall, between: Option<&Between<'_>>, system: System) {
    out.push_str(&labelled("Space", &format!("{}, unless stated", wall.space_behind), WIDTH));
    let insulation = match wall.inside_face_of_insulation() {
        Some(depth) => format!("{} from the face to its inside face", length(depth, system)),
        None => "none".into(),
    };
    out.push_str(&labelled("Insulation", &insulation, WIDTH));
    if let Some(block) = &wall.under_flange {
        let text = format!(
            "{} under every flange: depths from the flange's face are that much less from the wall's",
            length(block.thickness, system)
        );
        out.push_str(&labelled("Block", &text, WIDTH));
    }
    if !wall.aliases.is_empty() {
        out.push_str(&labelled("Also", &listed(&wall.aliases, usize::MAX), WIDTH));
    }
    out.push_str(&labelled("Framing", FRAMING, WIDTH));
    if let (Some(between), Some(face)) =
        (between, between.map(|it| wall.temperatures(it.outdoors, it.indoors)))
        && let Some(face) = face.first()
    {
        let text = format!(
            "steady, between {} outdoors ({}) and {} indoors; {} at the outer face. Away from the faucet, whose \
             metal changes these temperatures.",
            low_text(between.outdoors, system),
            between.what,
            temperature(between.indoors, system),
            temperature(*face, system)
        );
        out.push_str(&labelled("Heat", &text, WIDTH));
    }
    for (index, layer) in wall.layers.iter().enumerate() {
        // Two layers of one material have one source.
        if !wall.layers[..index].iter().any(|it| is_alike(it, layer)) {
            let label = if index == 0 { "Sources" } else { "" };
            out.push_str(&labelled(label, &format!("{}: {}", layer.name, layer.source), WIDTH));
        }
    }
}

fn is_alike(a: &Layer, b: &Layer) -> bool {
    a.name == b.name && a.source == b.source
}

fn length(si: f64, system: System) -> String {
    LENGTH.value(&Quantity::of(si, Dim::LENGTH), system)
}

fn temperature(kelvin: f64, system: System) -> String {
    TEMPERATURE.value(&Quantity::temperature(kelvin), system)
}

/// m²K/W as people know it.
pub(super) fn resistance(si: f64, system: System) -> String {
    Show::new(("R", 1), ("m²K/W", 2), Rounding::Nearest).value(&Quantity::of(si, Dim::RESISTANCE), system)
}

//! The mesh of a section: every radius and depth that matters is a line of it.

use super::paint::{FLANGE_RADIUS, FLANGE_THICKNESS, HEAD_LENGTH, HEAD_RADIUS, RIM, Shape};
use super::solve::SectionError;
use super::spec::{POCKET_RADIUS, WASHER_LENGTH};
use crate::thermal::{Axis, Grid, Line, Network, graded};

/// How fine the mesh is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fineness {
    /// What reviews use.
    #[default]
    Usual,
    /// Every spacing halved, to show what the usual mesh is worth.
    Halved,
    /// A third of the cells: temperatures are off by degrees, but what uncertain inputs move them is not.
    Coarse,
}

impl Fineness {
    /// What spacings beside the lines are multiplied by.
    fn scale(self) -> f64 {
        match self {
            Self::Usual => 1.0,
            Self::Halved => 0.5,
            Self::Coarse => 4.0,
        }
    }

    /// By how much a cell is wider than the one beside it, at the usual mesh or at this.
    fn growth(self, usual: f64) -> f64 {
        match self {
            Self::Usual | Self::Halved => usual,
            Self::Coarse => 3.0,
        }
    }
}

/// The water whose mean is the seat temperature reaches this far inboard of the washer, m.
pub const SEAT_READING: f64 = 0.003;

pub(super) fn grid(shape: &Shape, fineness: Fineness) -> Result<Grid, SectionError> {
    let spaced = |mut lines: Vec<Line>, growth: f64, widest: f64, together: f64| {
        tidy(&mut lines, together);
        graded(&lines, fineness.growth(growth), widest * fineness.scale())
    };
    let radii = spaced(radii(shape, fineness), 1.9, 0.060, TOGETHER[0])?;
    let depths = spaced(depths(shape, fineness), 1.6, 0.080, TOGETHER[1])?;
    Ok(Grid::cylindrical(radii, depths)?)
}

/// The mesh of one shape stretched onto another that differs in a size: every line of the mesh moves along, so that the two
/// have the same cells. `None` where lines meet, part or pass one another, or where cells get much narrower or wider.
pub(super) fn stretched(grid: &Grid, own: &Shape, other: &Shape) -> Option<Grid> {
    let usual = Fineness::Usual;
    let axis = |axis: Axis, lines: [Vec<Line>; 2], together| stretch(grid.edges(axis), lines, together);
    let radii = axis(Axis::First, [radii(own, usual), radii(other, usual)], TOGETHER[0])?;
    let depths = axis(Axis::Second, [depths(own, usual), depths(other, usual)], TOGETHER[1])?;
    Grid::cylindrical(radii, depths).ok()
}

/// Moves edges as the lines among them move from their first places to their second.
fn stretch(edges: &[f64], [from, to]: [Vec<Line>; 2], together: f64) -> Option<Vec<f64>> {
    /// What is between two lines may get this many times as long. Of 60 movements, each with a mesh of its own beside it, none
    /// was off by more than 0.2 °F (`each_input_moves_the_seat_as_a_section_built_with_its_end_does`).
    const LONGEST: f64 = 5.0;
    const SHORTEST: f64 = 0.04;
    if from.len() != to.len() {
        return None;
    }
    let mut moves: Vec<[f64; 2]> = from.iter().zip(&to).map(|(from, to)| [from.at, to.at]).collect();
    moves.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut kept: Vec<[f64; 2]> = Vec::new();
    for next in moves {
        let Some(last) = kept.last() else {
            kept.push(next);
            continue;
        };
        let [was, is] = [0, 1].map(|place| next[place] - last[place]);
        if was < together {
            // Drawn together in one shape, it has no line of its own for the other.
            if is.abs() >= together {
                return None;
            }
        } else if is >= together && (SHORTEST..=LONGEST).contains(&(is / was)) {
            kept.push(next);
        } else {
            return None;
        }
    }
    let mut stretches = kept.windows(2);
    let mut stretch = stretches.next()?;
    let moved = edges.iter().map(|&edge| {
        while edge > stretch[1][0] {
            let Some(next) = stretches.next() else { break };
            stretch = next;
        }
        let [[from, to], [end_from, end_to]] = [stretch[0], stretch[1]];
        to + (edge - from) * (end_to - to) / (end_from - from)
    });
    Some(moved.collect())
}

/// The cells whose water is read at the seat, with their share of its volume.
pub(super) fn reading(network: &Network, grid: &Grid, shape: &Shape) -> Vec<(usize, f64)> {
    let mut cells = Vec::new();
    for number in 0..grid.cells() {
        let at = grid.position(number);
        let [r, z, _] = grid.center(at);
        let read = r < shape.supply_bore && z > shape.seat && z < shape.seat + SEAT_READING;
        if read && let Some(cell) = network.cell_at(number) {
            cells.push((cell, grid.volume(at)));
        }
    }
    let all: f64 = cells.iter().map(|(_, volume)| volume).sum();
    cells.into_iter().map(|(cell, volume)| (cell, volume / all)).collect()
}

/// Radii and depths nearer than this are drawn together, m: no part is that thin.
const TOGETHER: [f64; 2] = [1e-5, 1e-4];

fn radii(shape: &Shape, fineness: Fineness) -> Vec<Line> {
    let spacing = |fine: f64| fine * fineness.scale();
    let mut lines = vec![
        Line::new(0.0, spacing(0.004)),
        Line::new(shape.stem, spacing(0.004)),
        Line::new(shape.supply_bore, spacing(0.003)),
        // A plastic supply through a metal skin takes its heat in a ring as narrow as the skin is thick.
        Line::new(shape.supply, spacing(0.0015)),
        Line::new(shape.barrel_bore, spacing(0.003)),
        Line::new(shape.barrel, spacing(0.003)),
        Line::new(HEAD_RADIUS, spacing(0.004)),
        // Where metal siding, flange and film meet, a coarser ring leaves a copper seat 0.5 °F off.
        Line::new(FLANGE_RADIUS, spacing(0.004)),
        Line::new(RIM, spacing(0.050)),
    ];
    lines.extend(shape.stem_ends.map(|end| Line::new(end, spacing(0.004))));
    lines.extend(shape.has_pocket().then(|| Line::new(POCKET_RADIUS, spacing(0.010))));
    lines.extend(shape.sleeve.map(|outer| Line::new(outer, spacing(0.006))));
    lines
}

fn depths(shape: &Shape, fineness: Fineness) -> Vec<Line> {
    let spacing = |fine: f64| fine * fineness.scale();
    let flange = -shape.gasket - FLANGE_THICKNESS;
    let mut lines = vec![
        Line::new(flange - HEAD_LENGTH, spacing(0.02)),
        Line::new(flange, spacing(0.004)),
        Line::new(-shape.gasket, spacing(0.004)),
        Line::new(0.0, spacing(0.004)),
        Line::new(shape.seat - WASHER_LENGTH, spacing(0.004)),
        Line::new(shape.seat, spacing(0.002)),
        Line::new(shape.seat + SEAT_READING, spacing(0.003)),
        // The supply's heat narrows into the fitting here: at 4 mm a stainless seat within the wall is 0.9 °F off.
        Line::new(shape.fitting_end, spacing(0.0012)),
    ];
    lines.extend(shape.supply_end.map(|end| Line::new(end, spacing(0.08))));
    // Where water stands in the barrel its first plug, at the cold head, ends on a line: a coarser mesh there brings it
    // 3 % too soon.
    lines.extend(shape.is_full().then(|| Line::new(SEAT_READING - shape.gasket, spacing(0.0015))));
    for &[outer, inner] in &shape.layers {
        // Beside a metal skin heat turns from the skin into the pipe within a few thicknesses of it.
        let beside = spacing(f64::min(0.006, 2.0 * (inner - outer)));
        lines.extend([outer, inner].map(|face| Line::new(face, beside)));
    }
    lines
}

/// Sorts the lines and drops those that lie on another, keeping the finer spacing.
fn tidy(lines: &mut Vec<Line>, together: f64) {
    lines.retain(|line| line.at.is_finite());
    lines.sort_by(|a, b| a.at.total_cmp(&b.at));
    lines.dedup_by(|next, kept| {
        let same = next.at - kept.at < together;
        if same {
            kept.spacing = kept.spacing.min(next.spacing);
        }
        same
    });
}

#[cfg(test)]
mod tests {
    use super::super::tail::tests::spec;
    use super::*;

    #[test]
    fn insulation_that_is_held_back_ends_on_a_line_of_the_mesh() {
        let mut spec = spec(&[[0.012, 0.1], [0.09, 0.03], [0.012, 0.16]], 0.06, 0.008, 34.0);
        spec.held_back = Some(1);
        let grid = grid(&Shape::of(&spec), Fineness::Usual).unwrap();
        assert!(grid.edges(Axis::First).iter().any(|radius| (radius - POCKET_RADIUS).abs() < 1e-9));
    }
}

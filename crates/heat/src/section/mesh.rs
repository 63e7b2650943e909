//! The mesh of a section: every radius and depth that matters is a line of it.

use super::paint::{FLANGE_RADIUS, FLANGE_THICKNESS, HEAD_LENGTH, HEAD_RADIUS, RIM, Shape};
use super::solve::SectionError;
use super::spec::{POCKET_RADIUS, WASHER_LENGTH};
use crate::thermal::{Grid, Line, Network, graded};

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
    let radii = radii(shape, fineness)?;
    let depths = depths(shape, fineness)?;
    Ok(Grid::cylindrical(radii, depths)?)
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

fn radii(shape: &Shape, fineness: Fineness) -> Result<Vec<f64>, SectionError> {
    /// Lines nearer than this are drawn together: no part is that thin.
    const TOGETHER: f64 = 1e-5;
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
    tidy(&mut lines, TOGETHER);
    Ok(graded(&lines, fineness.growth(1.9), spacing(0.060))?)
}

fn depths(shape: &Shape, fineness: Fineness) -> Result<Vec<f64>, SectionError> {
    const TOGETHER: f64 = 1e-4;
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
    tidy(&mut lines, TOGETHER);
    Ok(graded(&lines, fineness.growth(1.6), spacing(0.08))?)
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

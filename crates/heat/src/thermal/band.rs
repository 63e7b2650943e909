//! The equations of a network as a symmetric positive definite band matrix and its LDLᵀ factors. Cells are ordered slice
//! by slice along the last axis of the grid, so that no entry lies further from the diagonal than a slice has cells.
//!
//! Columns are of different heights: column k holds rows k to `last(k)`, where `last` never decreases, so that the factor
//! fits where the matrix does (George and Liu 1981, ch. 4). The factorization is left-looking: a column depends on the
//! columns before it only, and a change of the matrix from some column on leaves the columns before it as they are.
//!
//! Every sum is written in the order in which it is taken, and nothing is fused: the bits do not depend on the processor.

use super::network::Network;
use super::refusal::Refusal;
use std::ops::Range;

/// Where the entries of a network stand in its band matrix.
#[derive(Debug)]
pub(super) struct Pattern {
    /// Position in the elimination order of each cell.
    order: Vec<usize>,
    /// The last row of each column.
    last: Vec<usize>,
    /// The first column that reaches each row.
    first: Vec<usize>,
    /// Where each column begins in the values: at its diagonal.
    starts: Vec<usize>,
    /// Where the off-diagonal entry of each link stands.
    entries: Vec<usize>,
    /// The two cells of each link and the cell and boundary of each surface, as analyzed.
    links: Vec<[usize; 2]>,
    surfaces: Vec<[usize; 2]>,
}

impl Pattern {
    /// Orders the cells of a network and lays out its band.
    pub(super) fn new(network: &Network) -> Result<Self, Refusal> {
        let links: Vec<[usize; 2]> = network.links().iter().map(|link| link.cells).collect();
        let surfaces = network.surfaces().iter().map(|surface| [surface.cell, surface.boundary]).collect();
        let order = elimination_order(network.cells(), network.grid_cells(), &links);
        let mut last: Vec<usize> = (0..order.len()).collect();
        for cells in &links {
            let [a, b] = cells.map(|cell| order[cell]);
            let (column, row) = (a.min(b), a.max(b));
            last[column] = last[column].max(row);
        }
        for column in 1..last.len() {
            last[column] = last[column].max(last[column - 1]);
        }
        let mut first = vec![0; last.len()];
        let mut column = 0;
        for (row, first) in first.iter_mut().enumerate() {
            while last[column] < row {
                column += 1;
            }
            *first = column;
        }
        let mut starts = Vec::with_capacity(last.len() + 1);
        let mut length = 0_usize;
        for (column, last) in last.iter().enumerate() {
            starts.push(length);
            length = length.checked_add(last - column + 1).ok_or(Refusal::Memory)?;
        }
        starts.push(length);
        let entry = |cells: &[usize; 2]| {
            let [a, b] = cells.map(|cell| order[cell]);
            starts[a.min(b)] + a.abs_diff(b)
        };
        let entries = links.iter().map(entry).collect();
        Ok(Self { order, last, first, starts, entries, links, surfaces })
    }

    /// Whether a network has the cells, links and surfaces that were analyzed.
    pub(super) fn is_of(&self, network: &Network) -> bool {
        let links = network.links().iter().map(|link| link.cells);
        let surfaces = network.surfaces().iter().map(|surface| [surface.cell, surface.boundary]);
        self.order.len() == network.cells()
            && links.eq(self.links.iter().copied())
            && surfaces.eq(self.surfaces.iter().copied())
    }

    /// The band matrix with the values of the links \[W/K\]. `losses` holds what each cell exchanges other than through
    /// links, W/K.
    pub(super) fn assemble(&self, links: &[f64], losses: &[f64]) -> Result<Band, Refusal> {
        let mut values = Vec::new();
        values.try_reserve_exact(self.length()).map_err(|_| Refusal::Memory)?;
        values.resize(self.length(), 0.0);
        let mut band = Band { values };
        band.fill(self, links, losses);
        Ok(band)
    }

    fn length(&self) -> usize {
        self.starts.last().copied().unwrap_or_default()
    }

    /// Rows of a column below its diagonal.
    fn below(&self, column: usize) -> usize {
        self.last[column] - column
    }
}

/// A symmetric band matrix, lower half.
#[derive(Clone, Debug)]
pub(super) struct Band {
    values: Vec<f64>,
}

impl Band {
    /// Puts in new values of links and losses.
    pub(super) fn fill(&mut self, pattern: &Pattern, links: &[f64], losses: &[f64]) {
        self.values.fill(0.0);
        for (&position, &loss) in pattern.order.iter().zip(losses) {
            self.values[pattern.starts[position]] = loss;
        }
        for ((&value, &entry), cells) in links.iter().zip(&pattern.entries).zip(&pattern.links) {
            self.values[entry] -= value;
            for cell in cells {
                self.values[pattern.starts[pattern.order[*cell]]] += value;
            }
        }
    }

    /// The factors of this matrix with `added` \[W/K\] on the diagonal, by cell.
    pub(super) fn factorize(&self, pattern: &Pattern, added: Option<&[f64]>) -> Result<Factor, Refusal> {
        let mut values = Vec::new();
        values.try_reserve_exact(self.values.len()).map_err(|_| Refusal::Memory)?;
        values.resize(self.values.len(), 0.0);
        let mut factor = Factor { values };
        factor.refactorize(pattern, self, added, 0)?;
        Ok(factor)
    }

    /// The largest entry of the diagonal: everything one cell exchanges, W/K.
    pub(super) fn largest(&self, pattern: &Pattern) -> f64 {
        let diagonal = pattern.starts[..pattern.order.len()].iter().map(|&start| self.values[start]);
        diagonal.fold(0.0, f64::max)
    }
}

/// L and D of a matrix: each column begins with the reciprocal of its entry of D, and L's own diagonal of 1 is not kept.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    values: Vec<f64>,
}

impl Factor {
    /// Factorizes anew from a column on, for a matrix that is as it was in the columns before.
    pub(super) fn refactorize(
        &mut self,
        pattern: &Pattern,
        matrix: &Band,
        added: Option<&[f64]>,
        from: usize,
    ) -> Result<(), Refusal> {
        let begin = pattern.starts[from];
        self.values[begin..].copy_from_slice(&matrix.values[begin..]);
        if let Some(added) = added {
            for (&position, &more) in pattern.order.iter().zip(added) {
                if position >= from {
                    self.values[pattern.starts[position]] += more;
                }
            }
        }
        for column in from..pattern.order.len() {
            let (before, rest) = self.values.split_at_mut(pattern.starts[column]);
            let target = &mut rest[..=pattern.below(column)];
            subtract_columns(pattern, before, pattern.first[column]..column, target);
            let pivot = target[0];
            if !(pivot.is_normal() && pivot > 0.0) {
                return Err(Refusal::Factorisation);
            }
            let inverse = 1.0 / pivot;
            target[0] = inverse;
            for value in &mut target[1..] {
                *value *= inverse;
            }
        }
        Ok(())
    }

    /// Solves for right-hand sides that follow one another, by cell, in place.
    pub(super) fn solve(&self, pattern: &Pattern, sides: &mut [f64]) {
        let cells = pattern.order.len();
        let mut ordered = vec![0.0; cells];
        for side in sides.chunks_exact_mut(cells) {
            for (&position, value) in pattern.order.iter().zip(&*side) {
                ordered[position] = *value;
            }
            self.substitute(pattern, &mut ordered);
            for (&position, value) in pattern.order.iter().zip(side) {
                *value = ordered[position];
            }
        }
    }

    fn substitute(&self, pattern: &Pattern, x: &mut [f64]) {
        for column in 0..x.len() {
            let below = pattern.below(column);
            let start = pattern.starts[column];
            let entries = &self.values[start + 1..=start + below];
            let (here, rest) = x[column..=column + below].split_at_mut(1);
            let value = here[0];
            for (x, entry) in rest.iter_mut().zip(entries) {
                *x -= entry * value;
            }
        }
        for column in (0..x.len()).rev() {
            let below = pattern.below(column);
            let start = pattern.starts[column];
            let entries = &self.values[start + 1..=start + below];
            let (here, rest) = x[column..=column + below].split_at_mut(1);
            here[0] = here[0] * self.values[start] - dot(entries, rest);
        }
    }
}

/// Subtracts what earlier columns take from a column: `before` holds the factors of the columns before it.
fn subtract_columns(pattern: &Pattern, before: &[f64], columns: Range<usize>, target: &mut [f64]) {
    let column = columns.end;
    // The part of an earlier column from the target's diagonal down, and what it is multiplied by.
    let part = |earlier: usize| {
        let start = pattern.starts[earlier];
        let rows = &before[start + column - earlier..pattern.starts[earlier + 1]];
        (rows, rows[0] / before[start])
    };
    let mut earlier = columns.start;
    // Four at a time, so that the target is read and written once for four columns. Heights grow from one to the next.
    while earlier + 4 <= columns.end {
        let [(a, fa), (b, fb), (c, fc), (d, fd)] =
            [part(earlier), part(earlier + 1), part(earlier + 2), part(earlier + 3)];
        let (la, lb, lc) = (a.len(), b.len(), c.len());
        let all = target[..la].iter_mut().zip(&a[..la]).zip(&b[..la]).zip(&c[..la]).zip(&d[..la]);
        for ((((target, a), b), c), d) in all {
            *target = (*target - fa * a - fb * b) - (fc * c + fd * d);
        }
        subtract(&mut target[la..lb], &b[la..], fb);
        subtract(&mut target[la..lc], &c[la..], fc);
        subtract(&mut target[la..d.len()], &d[la..], fd);
        earlier += 4;
    }
    for earlier in earlier..columns.end {
        let (rows, factor) = part(earlier);
        subtract(&mut target[..rows.len()], rows, factor);
    }
}

fn subtract(target: &mut [f64], rows: &[f64], factor: f64) {
    for (target, row) in target.iter_mut().zip(rows) {
        *target -= factor * row;
    }
}

/// A sum of products in four strands, so that it need not wait for itself.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut strands = [0.0; 4];
    let (quads, others) = (a.chunks_exact(4).zip(b.chunks_exact(4)), a.len() / 4 * 4);
    for (a, b) in quads {
        for (strand, (a, b)) in strands.iter_mut().zip(a.iter().zip(b)) {
            *strand += a * b;
        }
    }
    let rest: f64 = a[others..].iter().zip(&b[others..]).map(|(a, b)| a * b).sum();
    (strands[0] + strands[1]) + (strands[2] + strands[3]) + rest
}

/// The position of each cell: cells of the grid as they are numbered, slice by slice; a chain hung on the grid runs along
/// with the slices from where it hangs, so that it does not widen the band by its length.
fn elimination_order(cells: usize, grid_cells: usize, links: &[[usize; 2]]) -> Vec<usize> {
    let in_grid = links.iter().filter(|link| link.iter().all(|cell| *cell < grid_cells));
    let slice = in_grid.map(|[a, b]| a.abs_diff(*b)).max().unwrap_or(1);
    let mut along: Vec<usize> = (0..cells).collect();
    let mut hung: Vec<usize> = vec![usize::MAX; cells];
    for link in links {
        let (on, hanging) = (link[0].min(link[1]), link[0].max(link[1]));
        if hanging >= grid_cells {
            hung[hanging] = hung[hanging].min(on);
        }
    }
    for cell in grid_cells..cells {
        if hung[cell] < cell {
            along[cell] = along[hung[cell]] + slice;
        }
    }
    let mut sorted: Vec<usize> = (0..cells).collect();
    sorted.sort_by_key(|&cell| (along[cell], cell));
    let mut order = vec![0; cells];
    for (position, cell) in sorted.into_iter().enumerate() {
        order[cell] = position;
    }
    order
}

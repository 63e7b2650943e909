//! The band that the equations of a network fill, and one-sided LDLᵀ elimination in it.
//!
//! Cells are ordered slice by slice along the last axis of the grid, so that no entry lies further from the diagonal than a
//! slice has cells. Columns differ in height: column k holds rows k to `last[k]`, and `last` never decreases, so that the
//! factors fit where the matrix does (George and Liu 1981, ch. 4). Elimination is left-looking: a column depends only on
//! the columns before it.
//!
//! Every sum is written in the order in which it is taken and nothing is fused, so that the bits do not depend on the
//! processor.

use super::error::NetworkError;
use super::network::Network;
use std::ops::Range;

/// The band of a network, analyzed once.
#[derive(Debug)]
pub(super) struct Pattern {
    /// Position in the order of elimination of each cell.
    pub(super) order: Vec<usize>,
    /// The lower and the higher position of each link.
    pub(super) positions: Vec<[usize; 2]>,
    /// From the first position on.
    pub(super) forward: Layout,
    /// From the last position on: column k is position n - 1 - k.
    pub(super) backward: Layout,
    /// The links by the lower of their two positions, with both: links of position p are those from `link_starts[p]` on.
    pub(super) placed: Vec<Placed>,
    pub(super) link_starts: Vec<usize>,
    /// The two cells of each link and the cell and boundary of each surface, as analyzed.
    links: Vec<[usize; 2]>,
    surfaces: Vec<[usize; 2]>,
}

/// A link by its positions in the order of elimination.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    pub(super) link: usize,
    pub(super) positions: [usize; 2],
}

/// Where the columns of a band begin and end.
#[derive(Debug)]
pub(super) struct Layout {
    /// The last row of each column.
    pub(super) last: Vec<usize>,
    /// The first column that reaches each row.
    pub(super) first: Vec<usize>,
    /// Where each column begins in the values: at its diagonal. [`PAD`] zeros follow its last row.
    pub(super) starts: Vec<usize>,
}

/// Zeros behind each column, so that a few columns may be read as if they were as long as the longest of them.
const PAD: usize = 3;
/// A band of more entries than this is refused: it would take 4 GB.
const MOST_ENTRIES: usize = 1 << 29;

impl Pattern {
    /// Orders the cells of a network and lays out its band.
    pub(super) fn new(network: &Network) -> Result<Self, NetworkError> {
        let links: Vec<[usize; 2]> = network.links().iter().map(|link| link.cells).collect();
        let surfaces = network.surfaces().iter().map(|surface| [surface.cell, surface.boundary]).collect();
        let order = elimination_order(network.cells(), network.grid_cells(), &links);
        let by_position = |cells: &[usize; 2]| {
            let [a, b] = cells.map(|cell| order[cell]);
            [a.min(b), a.max(b)]
        };
        let positions: Vec<[usize; 2]> = links.iter().map(by_position).collect();
        let mut placed: Vec<Placed> =
            (0..).zip(&positions).map(|(link, &positions)| Placed { link, positions }).collect();
        placed.sort_unstable_by_key(|placed| (placed.positions, placed.link));
        let mut last: Vec<usize> = (0..order.len()).collect();
        for Placed { positions: [column, row], .. } in &placed {
            last[*column] = last[*column].max(*row);
        }
        for column in 1..last.len() {
            last[column] = last[column].max(last[column - 1]);
        }
        let mut link_starts = vec![0; order.len() + 1];
        for Placed { positions: [column, _], .. } in &placed {
            link_starts[column + 1] += 1;
        }
        for position in 1..link_starts.len() {
            link_starts[position] += link_starts[position - 1];
        }
        let forward = Layout::new(last)?;
        let end = order.len() - 1;
        let backward = Layout::new(forward.first.iter().rev().map(|first| end - first).collect())?;
        Ok(Self { order, positions, forward, backward, placed, link_starts, links, surfaces })
    }

    /// Whether a network has the cells, links and surfaces that were analyzed.
    pub(super) fn is_of(&self, network: &Network) -> bool {
        let links = network.links().iter().map(|link| link.cells);
        let surfaces = network.surfaces().iter().map(|surface| [surface.cell, surface.boundary]);
        self.order.len() == network.cells()
            && links.eq(self.links.iter().copied())
            && surfaces.eq(self.surfaces.iter().copied())
    }

    pub(super) fn cells(&self) -> usize {
        self.order.len()
    }
}

impl Layout {
    /// `last` never decreases.
    fn new(last: Vec<usize>) -> Result<Self, NetworkError> {
        let mut column = 0;
        let first = (0..last.len()).map(|row| {
            while last[column] < row {
                column += 1;
            }
            column
        });
        let first = first.collect();
        let mut starts = Vec::with_capacity(last.len() + 1);
        let mut length = 0_usize;
        for (column, last) in last.iter().enumerate() {
            starts.push(length);
            length = length.checked_add(last - column + 1 + PAD).ok_or(NetworkError::Memory)?;
        }
        starts.push(length);
        Ok(Self { last, first, starts })
    }

    /// Room for every entry of the band, in the memory of another and with its values.
    fn room(&self, mut memory: Vec<f64>) -> Result<Vec<f64>, NetworkError> {
        let length = self.starts.last().copied().unwrap_or_default();
        if length > MOST_ENTRIES {
            return Err(NetworkError::Memory);
        }
        memory.resize(length, 0.0);
        Ok(memory)
    }

    /// Zeros for every entry of the band, in the memory of another.
    pub(super) fn zeros(&self, mut memory: Vec<f64>) -> Result<Vec<f64>, NetworkError> {
        memory.clear();
        self.room(memory)
    }

    /// Where the values of a range of columns stand.
    pub(super) fn columns(&self, columns: Range<usize>) -> Range<usize> {
        self.starts[columns.start]..self.starts[columns.end]
    }
}

/// Columns of L and D. Each column of `lower` begins with the reciprocal of its pivot; L's own diagonal of 1 is not kept.
#[derive(Clone, Debug, Default)]
pub(super) struct Columns {
    pub(super) lower: Vec<f64>,
    /// The entries of D.
    pub(super) pivots: Vec<f64>,
}

impl Columns {
    /// Columns of a layout in the memory of others. Elimination writes every entry; only what follows a column has to be zero.
    pub(super) fn renewed(self, layout: &Layout) -> Result<Self, NetworkError> {
        let mut lower = layout.room(self.lower)?;
        for end in &layout.starts[1..] {
            lower[end - PAD..*end].fill(0.0);
        }
        Ok(Self { lower, pivots: vec![0.0; layout.last.len()] })
    }

    /// Eliminates a range of columns of which only rows up to `end` count. All columns before are eliminated. `fill` puts
    /// the values of the matrix into a column, less what other columns than these take from it.
    pub(super) fn eliminate(
        &mut self,
        layout: &Layout,
        columns: Range<usize>,
        end: usize,
        fill: impl Fn(usize, &mut [f64]),
    ) -> Result<(), NetworkError> {
        for column in columns {
            let start = layout.starts[column];
            let height = layout.last[column].min(end) - column + 1;
            let (before, rest) = self.lower.split_at_mut(start);
            let target = &mut rest[..height];
            fill(column, target);
            let earlier = Earlier { layout, lower: before, pivots: &self.pivots, column, height };
            earlier.take_from(target);
            let pivot = target[0];
            if !(pivot.is_normal() && pivot > 0.0) {
                return Err(NetworkError::Factorization);
            }
            let inverse = 1.0 / pivot;
            self.pivots[column] = pivot;
            target[0] = inverse;
            for value in &mut target[1..] {
                *value *= inverse;
            }
        }
        Ok(())
    }

    /// Solves L y = x in a range of columns, in place: their rows up to `end` are brought along. `x` holds `N`
    /// right-hand sides side by side.
    pub(super) fn forward<const N: usize>(
        &self,
        layout: &Layout,
        columns: Range<usize>,
        end: usize,
        x: &mut [[f64; N]],
    ) {
        for column in columns {
            let (value, rest, lower) = self.column(layout, column, end, x);
            let value = *value;
            for (x, entry) in rest.iter_mut().zip(lower) {
                for (x, value) in x.iter_mut().zip(&value) {
                    *x -= entry * value;
                }
            }
        }
    }

    /// Solves D Lᵀ x = y in a range of columns, in place, where all rows after it are solved.
    pub(super) fn backward<const N: usize>(
        &self,
        layout: &Layout,
        columns: Range<usize>,
        end: usize,
        x: &mut [[f64; N]],
    ) {
        for column in columns.rev() {
            let inverse = self.lower[layout.starts[column]];
            let (value, rest, lower) = self.column(layout, column, end, x);
            let (Some((entry, lower)), Some((next, rest))) = (lower.split_first(), rest.split_first()) else {
                value.iter_mut().for_each(|value| *value *= inverse);
                continue;
            };
            // The row next to it comes last, as it has only just been solved.
            let sums = dot(lower, rest);
            for ((value, sum), next) in value.iter_mut().zip(sums).zip(next) {
                *value = (*value * inverse - sum) - entry * next;
            }
        }
    }

    #[inline(always)]
    fn column<'x, const N: usize>(
        &self,
        layout: &Layout,
        column: usize,
        end: usize,
        x: &'x mut [[f64; N]],
    ) -> (&'x mut [f64; N], &'x mut [[f64; N]], &[f64]) {
        let below = layout.last[column].min(end) - column;
        let start = layout.starts[column];
        let (value, rest) = x[column..=column + below].split_at_mut(1);
        (&mut value[0], rest, &self.lower[start + 1..=start + below])
    }
}

/// The columns before one that reach it.
struct Earlier<'c> {
    layout: &'c Layout,
    lower: &'c [f64],
    pivots: &'c [f64],
    column: usize,
    height: usize,
}

impl<'c> Earlier<'c> {
    /// What one of them holds from the column's diagonal down, and what it is multiplied by.
    #[inline(always)]
    fn part(&self, earlier: usize) -> (&'c [f64], f64) {
        let start = self.layout.starts[earlier] + self.column - earlier;
        let end = (self.layout.starts[earlier + 1] - PAD).min(start + self.height);
        let rows = &self.lower[start..end];
        (rows, rows[0] * self.pivots[earlier])
    }

    /// Takes what they take from the column. Four at a time, so that it is read and written once for four: all are read as
    /// long as the last, which is the longest, where no other is shorter than the zeros behind it make good.
    fn take_from(&self, target: &mut [f64]) {
        let mut earlier = self.layout.first[self.column];
        while earlier + 4 <= self.column {
            let starts = &self.layout.starts[earlier..earlier + 5];
            let row = self.column - earlier;
            let [a, b, c, d] =
                [starts[0] + row, starts[1] + row - 1, starts[2] + row - 2, starts[3] + row - 3];
            let shortest = (starts[1] - PAD - a).min(self.height);
            let longest = (starts[4] - PAD - d).min(self.height);
            if longest - shortest > PAD {
                for earlier in earlier..earlier + 4 {
                    let (rows, by) = self.part(earlier);
                    subtract(&mut target[..rows.len()], rows, by);
                }
            } else {
                let pivots = &self.pivots[earlier..earlier + 4];
                let a = &self.lower[a..a + longest];
                let b = &self.lower[b..b + longest];
                let c = &self.lower[c..c + longest];
                let d = &self.lower[d..d + longest];
                let (by_a, by_b, by_c, by_d) =
                    (a[0] * pivots[0], b[0] * pivots[1], c[0] * pivots[2], d[0] * pivots[3]);
                let rows = target[..longest].iter_mut().zip(a).zip(b).zip(c).zip(d);
                for ((((target, a), b), c), d) in rows {
                    *target -= (by_a * a + by_b * b) + (by_c * c + by_d * d);
                }
            }
            earlier += 4;
        }
        for earlier in earlier..self.column {
            let (rows, by) = self.part(earlier);
            subtract(&mut target[..rows.len()], rows, by);
        }
    }
}

fn subtract(target: &mut [f64], rows: &[f64], by: f64) {
    for (target, row) in target.iter_mut().zip(rows) {
        *target -= by * row;
    }
}

/// A sum of products in four strands, so that one need not wait for the other. The far end comes first: what stands next
/// to the diagonal is the last to be known.
#[inline(always)]
fn dot<const N: usize>(a: &[f64], b: &[[f64; N]]) -> [f64; N] {
    let mut strands = [[0.0; N]; 4];
    for (a, b) in a.rchunks_exact(4).zip(b.rchunks_exact(4)) {
        for (strand, (a, b)) in strands.iter_mut().zip(a.iter().zip(b)) {
            for (sum, b) in strand.iter_mut().zip(b) {
                *sum += a * b;
            }
        }
    }
    // The rest has a sum of its own, so that the strands stay where they are.
    let mut near = [0.0; N];
    for (a, b) in a.iter().zip(b).take(a.len() % 4) {
        for (sum, b) in near.iter_mut().zip(b) {
            *sum += a * b;
        }
    }
    std::array::from_fn(|side| {
        (strands[3][side] + strands[2][side]) + (strands[1][side] + strands[0][side]) + near[side]
    })
}

/// The position of each cell: cells of the grid as they are numbered, slice by slice. A chain of cells hung on the grid
/// runs along with the slices from where it hangs, so that it does not widen the band by its length.
fn elimination_order(cells: usize, grid_cells: usize, links: &[[usize; 2]]) -> Vec<usize> {
    let in_grid = links.iter().filter(|link| link.iter().all(|cell| *cell < grid_cells));
    let slice = in_grid.map(|[a, b]| a.abs_diff(*b)).max().unwrap_or(1);
    let mut hangs_on: Vec<Option<usize>> = vec![None; cells];
    for [a, b] in links {
        let (on, hanging) = (*a.min(b), *a.max(b));
        if hanging >= grid_cells {
            hangs_on[hanging] = Some(hangs_on[hanging].map_or(on, |before| before.min(on)));
        }
    }
    let mut along: Vec<usize> = (0..cells).collect();
    for cell in grid_cells..cells {
        if let Some(on) = hangs_on[cell] {
            along[cell] = along[on] + slice;
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

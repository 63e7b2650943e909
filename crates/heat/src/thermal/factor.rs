//! The factorization of a network's equations, updated where few of them change.
//!
//! Elimination runs from both ends of the band toward a middle: neither side depends on the middle. If entries change, the
//! middle is put there, and both sides keep the columns that did not change. A front of ice, or films at one end of a
//! section, then costs a few slices instead of the whole network.

use super::band::{Columns, Layout, Pattern};
use super::error::NetworkError;
use std::ops::Range;

/// The equations of a network at some conductances, factorized.
#[derive(Clone, Debug, Default)]
pub(super) struct Factorization {
    /// The conductance of each link, W/K, as factorized.
    links: Vec<f64>,
    /// Each cell's term of the diagonal beside those of its links, W/K.
    diagonal: Vec<f64>,
    /// The matrix, from the first position on.
    matrix: Vec<f64>,
    before: Side,
    /// `None` until it is first needed.
    behind: Option<Side>,
    /// The positions between the two sides.
    middle: Range<usize>,
}

/// Working memory of a solution, by position from either end.
#[derive(Clone, Debug, Default)]
pub(super) struct Scratch {
    forth: Vec<[f64; 1]>,
    back: Vec<[f64; 1]>,
}

/// Columns eliminated from one end.
#[derive(Clone, Debug, Default)]
struct Side {
    columns: Columns,
    /// How many columns are eliminated and up to date.
    done: usize,
}

impl Factorization {
    /// Factorizes the matrix of these conductances of links and terms of the diagonal \[W/K\].
    pub(super) fn new(pattern: &Pattern, links: Vec<f64>, diagonal: Vec<f64>) -> Result<Self, NetworkError> {
        Self::default().renewed(pattern, links, diagonal)
    }

    /// As [`Self::new`], in the memory of another factorization, which may be of another pattern.
    pub(super) fn renewed(
        self,
        pattern: &Pattern,
        links: Vec<f64>,
        diagonal: Vec<f64>,
    ) -> Result<Self, NetworkError> {
        let whole = 0..pattern.cells();
        let before = self.before.renewed(&pattern.forward)?;
        let behind = self.behind.map(|side| side.renewed(&pattern.backward)).transpose()?;
        let matrix = pattern.forward.zeros(self.matrix)?;
        let mut factorization = Self { links, diagonal, matrix, before, behind, middle: whole.clone() };
        factorization.fill(pattern, whole.clone());
        factorization.eliminate(pattern, whole)?;
        Ok(factorization)
    }

    /// Updates the factorization to new values of some links and terms of the diagonal \[W/K\]; all others stay as they are.
    /// Returns whether any changed.
    pub(super) fn update(
        &mut self,
        pattern: &Pattern,
        links: impl IntoIterator<Item = (usize, f64)>,
        diagonal: impl IntoIterator<Item = (usize, f64)>,
    ) -> Result<bool, NetworkError> {
        let mut changed: Option<[usize; 2]> = None;
        let mut widen = |low: usize, high: usize| {
            changed = Some(changed.map_or([low, high], |[from, to]| [from.min(low), to.max(high)]));
        };
        for (link, value) in links {
            if std::mem::replace(&mut self.links[link], value) != value {
                let [low, high] = pattern.positions[link];
                widen(low, high);
            }
        }
        for (cell, value) in diagonal {
            if std::mem::replace(&mut self.diagonal[cell], value) != value {
                widen(pattern.order[cell], pattern.order[cell]);
            }
        }
        let Some([from, to]) = changed else { return Ok(false) };
        let changed = from..to + 1;
        self.matrix[pattern.forward.columns(changed.clone())].fill(0.0);
        self.fill(pattern, changed.clone());
        self.eliminate(pattern, changed)?;
        Ok(true)
    }

    /// Writes the values of a range of positions into the matrix, which is zero there.
    fn fill(&mut self, pattern: &Pattern, range: Range<usize>) {
        let starts = &pattern.forward.starts;
        let matrix = &mut self.matrix;
        for (&term, &position) in self.diagonal.iter().zip(&pattern.order) {
            if range.contains(&position) {
                matrix[starts[position]] = term;
            }
        }
        // Links that end within the range begin no earlier than the first column that reaches it.
        let from = pattern.link_starts[pattern.forward.first[range.start]];
        for placed in &pattern.placed[from..pattern.link_starts[range.end]] {
            let value = self.links[placed.link];
            let [low, high] = placed.positions;
            if range.contains(&low) {
                matrix[starts[low]] += value;
                matrix[starts[low] + high - low] -= value;
            }
            if range.contains(&high) {
                matrix[starts[high]] += value;
            }
        }
    }

    /// Eliminates both sides up to a range that has changed, and then the range.
    fn eliminate(&mut self, pattern: &Pattern, changed: Range<usize>) -> Result<(), NetworkError> {
        let cells = pattern.cells();
        let (forward, backward) = (&pattern.forward, &pattern.backward);
        // No column before the middle may reach behind it.
        let reach = changed.start.checked_sub(1).map_or(0, |column| forward.last[column] + 1);
        let middle = changed.start..changed.end.max(reach);
        self.before.done = self.before.done.min(changed.start);
        let matrix = &self.matrix;
        let column_of = |column: usize, target: &mut [f64]| {
            let start = forward.starts[column];
            target.copy_from_slice(&matrix[start..start + target.len()]);
        };
        self.before.advance(forward, middle.start, column_of)?;
        if let Some(behind) = &mut self.behind {
            behind.done = behind.done.min(cells - changed.end);
        }
        let end = middle.end - 1;
        self.middle = middle.clone();
        let Side { columns, done } = &mut self.before;
        if middle.end == cells {
            columns.eliminate(forward, middle, end, column_of)?;
            *done = cells;
            return Ok(());
        }
        let behind = match &mut self.behind {
            Some(behind) => behind,
            none => none.insert(Side::default().renewed(backward)?),
        };
        behind.advance(backward, cells - middle.end, |column, target| {
            let position = cells - 1 - column;
            for (offset, value) in target.iter_mut().enumerate() {
                *value = matrix[forward.starts[position - offset] + offset];
            }
        })?;
        let other = &behind.columns;
        columns.eliminate(forward, middle, end, |column, target| {
            column_of(column, target);
            for row in end + 1..=forward.last[column] {
                let start = backward.starts[cells - 1 - row];
                let rows = &other.lower[start + row - end..=start + row - column];
                let by = rows[rows.len() - 1] * other.pivots[cells - 1 - row];
                for (target, row) in target.iter_mut().zip(rows.iter().rev()) {
                    *target -= by * row;
                }
            }
        })
    }

    /// Solves for right-hand sides that follow one another, by cell, in place; two at a time.
    pub(super) fn solve(&self, pattern: &Pattern, sides: &mut [f64]) {
        let cells = pattern.cells();
        let whole = 0..cells;
        let mut pairs = sides.chunks_exact_mut(2 * cells);
        for pair in &mut pairs {
            let mut x = vec![[0.0; 2]; cells];
            let (one, other) = pair.split_at_mut(cells);
            for (cell, &position) in pattern.order.iter().enumerate() {
                x[position] = [one[cell], other[cell]];
            }
            self.substitute(pattern, &mut x, &mut vec![[0.0; 2]; cells], whole.clone());
            for (cell, &position) in pattern.order.iter().enumerate() {
                [one[cell], other[cell]] = x[position];
            }
        }
        let single = pairs.into_remainder();
        if !single.is_empty() {
            self.solve_within(pattern, single, whole, &mut Scratch::default());
        }
    }

    /// Solves for a right-hand side, by cell, in place, that is zero outside a range of positions.
    pub(super) fn solve_within(
        &self,
        pattern: &Pattern,
        side: &mut [f64],
        within: Range<usize>,
        room: &mut Scratch,
    ) {
        let (x, y) = (&mut room.forth, &mut room.back);
        x.resize(pattern.cells(), [0.0]);
        y.resize(pattern.cells(), [0.0]);
        for (value, &position) in side.iter().zip(&pattern.order) {
            x[position] = [*value];
        }
        self.substitute(pattern, x, y, within);
        for (value, &position) in side.iter_mut().zip(&pattern.order) {
            *value = x[position][0];
        }
    }

    /// Solves for `N` right-hand sides side by side, by position, in place. `y` is room for as many.
    fn substitute<const N: usize>(
        &self,
        pattern: &Pattern,
        x: &mut [[f64; N]],
        y: &mut [[f64; N]],
        within: Range<usize>,
    ) {
        let (cells, middle) = (pattern.cells(), self.middle.clone());
        let (forward, backward) = (&pattern.forward, &pattern.backward);
        let (last, whole) = (middle.end.saturating_sub(1), cells - 1);
        let behind = cells - middle.end;
        let ahead = &self.before.columns;
        let start = within.start.min(middle.start);
        let Some(other) = self.behind.as_ref().map(|side| &side.columns).filter(|_| behind > 0) else {
            ahead.forward(forward, start..cells, whole, x);
            ahead.backward(forward, 0..cells, whole, x);
            return;
        };
        ahead.forward(forward, start..middle.start, whole, x);
        copy_reversed(&x[middle.start..], &mut y[..cells - middle.start]);
        other.forward(backward, (cells - within.end).min(behind)..behind, whole, y);
        copy_reversed(&y[behind..cells - middle.start], &mut x[middle.clone()]);
        ahead.forward(forward, middle.clone(), last, x);
        ahead.backward(forward, middle.clone(), last, x);
        copy_reversed(&x[middle.clone()], &mut y[behind..cells - middle.start]);
        other.backward(backward, 0..behind, whole, y);
        ahead.backward(forward, 0..middle.start, whole, x);
        copy_reversed(&y[..behind], &mut x[middle.end..]);
    }

    /// The largest entry of the diagonal: everything one cell exchanges, W/K.
    pub(super) fn largest(&self, pattern: &Pattern) -> f64 {
        let starts = &pattern.forward.starts[..pattern.cells()];
        starts.iter().map(|&start| self.matrix[start]).fold(0.0, f64::max)
    }
}

impl Side {
    fn renewed(self, layout: &Layout) -> Result<Self, NetworkError> {
        Ok(Self { columns: self.columns.renewed(layout)?, done: 0 })
    }

    /// Eliminates columns until so many are done. Beyond them none counts as done: the middle is written there.
    fn advance(
        &mut self,
        layout: &Layout,
        columns: usize,
        fill: impl Fn(usize, &mut [f64]),
    ) -> Result<(), NetworkError> {
        let from = self.done.min(columns);
        self.done = columns;
        self.columns.eliminate(layout, from..columns, layout.last.len() - 1, fill)
    }
}

fn copy_reversed<T: Copy>(from: &[T], to: &mut [T]) {
    for (to, from) in to.iter_mut().zip(from.iter().rev()) {
        *to = *from;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::thermal::network::{Link, Network};
    use proptest::prelude::*;

    /// Of a solution of order one, for matrices whose entries differ by up to 1e4.
    const ROUNDING: f64 = 1e-9;

    /// Cells in slices of a few, each linked to some before it, as in a grid with a chain hung on it.
    fn network(width: usize, cells: usize, chords: &[[usize; 2]]) -> Network {
        let mut network = Network::new(1);
        for _ in 0..cells {
            network.add_cell(1.0).unwrap();
        }
        let regular = (1..cells).flat_map(|cell| [[cell - 1, cell], [cell.saturating_sub(width), cell]]);
        let chords = chords.iter().map(|[a, b]| [a % cells, b % cells]);
        for cells in regular.chain(chords).filter(|[a, b]| a != b) {
            network.link(Link { cells, half: [1.0; 2], extra: 0.0 }).unwrap();
        }
        network
    }

    /// Gaussian elimination without any of this file's ideas.
    fn dense(network: &Network, links: &[f64], diagonal: &[f64], side: &[f64]) -> Vec<f64> {
        let cells = diagonal.len();
        let mut rows: Vec<Vec<f64>> = (0..cells).map(|_| vec![0.0; cells + 1]).collect();
        for (cell, row) in rows.iter_mut().enumerate() {
            (row[cell], row[cells]) = (diagonal[cell], side[cell]);
        }
        for (link, value) in network.links().iter().zip(links) {
            let [a, b] = link.cells;
            rows[a][a] += value;
            rows[b][b] += value;
            rows[a][b] -= value;
            rows[b][a] -= value;
        }
        for pivot in 0..cells {
            for row in (0..cells).filter(|row| *row != pivot) {
                let by = rows[row][pivot] / rows[pivot][pivot];
                let by_pivot = rows[pivot].clone();
                for (value, taken) in rows[row].iter_mut().zip(by_pivot) {
                    *value -= by * taken;
                }
            }
        }
        (0..cells).map(|cell| rows[cell][cells] / rows[cell][cell]).collect()
    }

    fn assert_near(found: &[f64], expected: &[f64]) {
        let scale = expected.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
        for (found, expected) in found.iter().zip(expected) {
            assert!((found - expected).abs() <= ROUNDING * scale, "{found} {expected}");
        }
    }

    proptest! {
        #[test]
        fn factors_solve_as_dense_elimination_does_after_each_change(
            width in 1_usize..6,
            cells in 2_usize..40,
            chords in prop::collection::vec([0_usize..40, 0_usize..40], 0..6),
            values in prop::collection::vec(0.01_f64..100.0, 200),
            changes in prop::collection::vec((0_usize..200, 0_usize..40, 0.01_f64..100.0), 1..12),
            at in [0_usize..40, 0_usize..40],
        ) {
            let network = network(width, cells, &chords);
            let pattern = Pattern::new(&network).unwrap();
            let count = network.links().len();
            let mut links: Vec<f64> = values.iter().copied().cycle().take(count).collect();
            let mut diagonal: Vec<f64> = values.iter().rev().copied().cycle().take(cells).collect();
            let mut factorization = Factorization::new(&pattern, links.clone(), diagonal.clone()).unwrap();
            for (link, cell, value) in changes {
                links[link % count] = value;
                diagonal[cell % cells] = value;
                let changed = factorization.update(
                    &pattern,
                    links.iter().copied().enumerate(),
                    diagonal.iter().copied().enumerate(),
                );
                changed.unwrap();
                let mut sides: Vec<f64> = values.iter().copied().cycle().take(3 * cells).collect();
                let expected: Vec<f64> =
                    sides.chunks(cells).flat_map(|side| dense(&network, &links, &diagonal, side)).collect();
                factorization.solve(&pattern, &mut sides);
                assert_near(&sides, &expected);
                // Zero but at two places.
                let places = at.map(|place| place % cells);
                let mut side: Vec<f64> =
                    (0..cells).map(|cell| if places.contains(&cell) { value } else { 0.0 }).collect();
                let expected = dense(&network, &links, &diagonal, &side);
                let [low, high] = places.map(|cell| pattern.order[cell]);
                let within = low.min(high)..low.max(high) + 1;
                factorization.solve_within(&pattern, &mut side, within, &mut Scratch::default());
                assert_near(&side, &expected);
            }
        }
    }

    #[test]
    fn a_matrix_that_is_not_positive_is_refused() {
        let network = network(1, 3, &[]);
        let pattern = Pattern::new(&network).unwrap();
        let links = vec![1.0; network.links().len()];
        let refused = Factorization::new(&pattern, links, vec![0.0, -5.0, 0.0]);
        assert_eq!(refused.unwrap_err(), NetworkError::Factorization);
    }
}

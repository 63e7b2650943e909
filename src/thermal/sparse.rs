//! The equations of a network as a sparse symmetric positive definite matrix: the pattern is analysed once, its
//! values are refilled and factorised as often as conductivities or films change.

use super::network::Network;
use super::refusal::Refusal;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, LltRef, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::{FaerError, SparseColMatRef, SymbolicSparseColMat};
use faer::{Conj, MatMut, Par, Side};

/// Where the values of a network stand in its matrix, and the symbolic factorisation of that pattern. Only the
/// lower triangle is held; the diagonal comes first in each column.
#[derive(Debug)]
pub(super) struct Pattern {
    matrix: SymbolicSparseColMat<usize>,
    /// Where the off-diagonal entry of each link stands.
    entries: Vec<usize>,
    /// The two cells of each link and the cell and boundary of each surface, as analysed.
    links: Vec<[usize; 2]>,
    surfaces: Vec<[usize; 2]>,
    cholesky: SymbolicCholesky<usize>,
}

impl Pattern {
    /// Analyses a network: its pattern, an ordering with little fill, and the factor's pattern.
    pub(super) fn new(network: &Network) -> Result<Self, Refusal> {
        let cells = network.cells();
        let links: Vec<[usize; 2]> = network.links().iter().map(|link| link.cells).collect();
        let surfaces = network.surfaces().iter().map(|it| [it.cell, it.boundary]).collect();
        // Links sorted by column (the lower cell), then row; parallel links share one entry.
        let mut order: Vec<(usize, usize, usize)> = links
            .iter()
            .enumerate()
            .map(|(number, cells)| (cells[0].min(cells[1]), cells[0].max(cells[1]), number))
            .collect();
        order.sort_unstable();
        let mut starts = Vec::with_capacity(cells + 1);
        let mut rows = Vec::with_capacity(cells + links.len());
        let mut entries = vec![0; links.len()];
        let mut rest = order.as_slice();
        for column in 0..cells {
            starts.push(rows.len());
            rows.push(column);
            while let Some((&(low, high, number), more)) = rest.split_first() {
                if low != column {
                    break;
                }
                if rows.last() != Some(&high) {
                    rows.push(high);
                }
                entries[number] = rows.len() - 1;
                rest = more;
            }
        }
        starts.push(rows.len());
        let matrix = SymbolicSparseColMat::new_checked(cells, cells, starts, None, rows);
        let cholesky = factorize_symbolic_cholesky(
            matrix.as_ref(),
            Side::Lower,
            SymmetricOrdering::Amd,
            CholeskySymbolicParams::default(),
        )
        .map_err(|error| match error {
            FaerError::OutOfMemory => Refusal::Memory,
            _ => Refusal::Factorisation,
        })?;
        Ok(Self { matrix, entries, links, surfaces, cholesky })
    }

    /// Whether a network has the cells, links and surfaces that were analysed.
    pub(super) fn is_of(&self, network: &Network) -> bool {
        let links = network.links().iter().map(|link| link.cells);
        let surfaces = network.surfaces().iter().map(|it| [it.cell, it.boundary]);
        self.matrix.ncols() == network.cells()
            && links.eq(self.links.iter().copied())
            && surfaces.eq(self.surfaces.iter().copied())
    }

    /// Fills in the values of the links and of the diagonal \[W/K\] and factorises. `diagonal` holds what each cell
    /// loses other than through links.
    pub(super) fn factorise(&self, links: &[f64], diagonal: &[f64]) -> Result<Factor<'_>, Refusal> {
        let mut values = vec![0.0; self.matrix.row_idx().len()];
        let starts = self.matrix.col_ptr();
        for (&start, &value) in starts.iter().zip(diagonal) {
            values[start] = value;
        }
        for ((&value, &entry), cells) in links.iter().zip(&self.entries).zip(&self.links) {
            values[entry] -= value;
            values[starts[cells[0]]] += value;
            values[starts[cells[1]]] += value;
        }
        let largest = starts[..diagonal.len()].iter().map(|&at| values[at]).fold(0.0, f64::max);
        let mut lower = vec![0.0; self.cholesky.len_val()];
        let scratch = self.cholesky.factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default());
        let mut memory = MemBuffer::try_new(scratch).map_err(|_| Refusal::Memory)?;
        self.cholesky
            .factorize_numeric_llt(
                &mut lower,
                SparseColMatRef::new(self.matrix.as_ref(), &values),
                Side::Lower,
                LltRegularization::default(),
                Par::Seq,
                MemStack::new(&mut memory),
                Default::default(),
            )
            .map_err(|_| Refusal::Factorisation)?;
        Ok(Factor { pattern: self, lower, largest })
    }
}

/// A factorised matrix.
pub(super) struct Factor<'a> {
    pattern: &'a Pattern,
    lower: Vec<f64>,
    /// The largest entry of the diagonal: everything one cell exchanges, W/K.
    pub(super) largest: f64,
}

impl Factor<'_> {
    /// Solves for right-hand sides that follow one another, in place.
    pub(super) fn solve(&self, sides: &mut [f64]) -> Result<(), Refusal> {
        let cholesky = &self.pattern.cholesky;
        let rows = cholesky.nrows();
        let columns = sides.len() / rows;
        let scratch = cholesky.solve_in_place_scratch::<f64>(columns, Par::Seq);
        let mut memory = MemBuffer::try_new(scratch).map_err(|_| Refusal::Memory)?;
        LltRef::new(cholesky, &self.lower).solve_in_place_with_conj(
            Conj::No,
            MatMut::from_column_major_slice_mut(sides, rows, columns),
            Par::Seq,
            MemStack::new(&mut memory),
        );
        Ok(())
    }
}

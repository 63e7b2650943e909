//! Edges of an axis from the lines it must keep: fine at chosen lines, coarser between them.

use super::error::NetworkError;
use super::grid::{MOST_CELLS, ascending};

/// A line the mesh keeps, and the cell width wanted beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Where it lies, m.
    pub at: f64,
    /// The width of the cells beside it, m.
    pub spacing: f64,
}

impl Line {
    /// A line at a coordinate, with the cell width wanted beside it, both in m.
    pub const fn new(at: f64, spacing: f64) -> Self {
        Self { at, spacing }
    }
}

/// Edges from the first line to the last, keeping every line exactly. Cells are as wide as asked beside a line, grow
/// from one to the next by no more than `growth`, and are never wider than `coarsest` \[m\]. To end on the lines,
/// the cells between two lines are made a little narrower together, never wider. `growth` 1 keeps each stretch even.
pub fn graded(lines: &[Line], growth: f64, coarsest: f64) -> Result<Vec<f64>, NetworkError> {
    let at: Vec<f64> = lines.iter().map(|line| line.at).collect();
    ascending(0, &at)?;
    let positive = |x: f64| x.is_finite() && x > 0.0;
    if !lines.iter().all(|line| positive(line.spacing)) || !positive(coarsest) {
        return Err(NetworkError::Spacing);
    }
    if !(growth.is_finite() && growth >= 1.0) {
        return Err(NetworkError::Spacing);
    }
    // Widths grow by `growth` a cell where the local width rises by ln(growth) a meter; the first cell beside a line
    // is then wider than the width at the line by (growth - 1) / ln(growth).
    let slope = libm::log(growth);
    let first = if slope > 0.0 { slope / (growth - 1.0) } else { 1.0 };
    let width_at = |x: f64| {
        let reach = lines.iter().map(|line| line.spacing * first + slope * (x - line.at).abs());
        reach.fold(coarsest, f64::min)
    };
    let mut edges = vec![at[0]];
    for pair in at.windows(2) {
        let (low, high) = (pair[0], pair[1]);
        let stretch = if slope > 0.0 {
            Stretch::new(high - low, width_at(low), width_at(high), slope, coarsest)
        } else {
            let ends = lines.iter().filter(|line| line.at == low || line.at == high);
            let width = ends.map(|line| line.spacing).fold(coarsest, f64::min);
            Stretch::new(high - low, width, width, 0.0, width)
        };
        let wanted = stretch.cells_before(high - low);
        // A cast saturates, and takes a NaN for 0.
        if wanted.is_nan() || edges.len().saturating_add(wanted as usize) > MOST_CELLS {
            return Err(NetworkError::TooManyCells { most: MOST_CELLS });
        }
        // A stretch that fits but for rounding is not given one more cell.
        let cells = (wanted - 1e-9).ceil().max(1.0);
        edges.extend((1..cells as usize).map(|i| low + stretch.offset(i as f64 * wanted / cells)));
        edges.push(high);
    }
    ascending(0, &edges)?;
    Ok(edges)
}

/// The cell width along a stretch between two lines: rising from the low end, level, falling to the high end.
struct Stretch {
    length: f64,
    slope: f64,
    /// Widths at the low end, on the level and at the high end, m.
    width: [f64; 3],
    /// Where the level begins and ends, m from the low end.
    level: [f64; 2],
}

impl Stretch {
    fn new(length: f64, low: f64, high: f64, slope: f64, coarsest: f64) -> Self {
        if slope == 0.0 {
            return Self { length, slope, width: [low; 3], level: [0.0, length] };
        }
        // Where the two slopes meet, unless the level cuts them off before that.
        let peak = 0.5 * (low + high + slope * length);
        let top = peak.min(coarsest);
        let rise = ((top - low) / slope).clamp(0.0, length);
        let fall = ((top - high) / slope).clamp(0.0, length - rise);
        Self { length, slope, width: [low, top, high], level: [rise, length - fall] }
    }

    /// Cells between the low end and a point, as a real number: the integral of 1 / width.
    fn cells_before(&self, x: f64) -> f64 {
        let [begin, end] = self.level;
        let up = if begin > 0.0 { self.growing(x.min(begin)) } else { 0.0 };
        let flat = (x.min(end) - begin).max(0.0) / self.width[1];
        let down = if x > end {
            self.growing_back(self.length - end) - self.growing_back(self.length - x)
        } else {
            0.0
        };
        up + flat + down
    }

    /// The point with a number of cells before it: the inverse of [`Self::cells_before`].
    fn offset(&self, cells: f64) -> f64 {
        let [begin, end] = self.level;
        let (to_begin, to_end) = (self.cells_before(begin), self.cells_before(end));
        if cells < to_begin {
            self.width[0] * (libm::exp(self.slope * cells) - 1.0) / self.slope
        } else if cells <= to_end {
            begin + (cells - to_begin) * self.width[1]
        } else {
            let left = self.cells_before(self.length) - cells;
            self.length - self.width[2] * (libm::exp(self.slope * left) - 1.0) / self.slope
        }
    }

    fn growing(&self, x: f64) -> f64 {
        libm::log(1.0 + self.slope * x / self.width[0]) / self.slope
    }

    fn growing_back(&self, x: f64) -> f64 {
        libm::log(1.0 + self.slope * x / self.width[2]) / self.slope
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Widths are differences of coordinates of order 0.1 m.
    const ROUNDING: f64 = 1e-12;

    #[test]
    fn every_line_is_kept_exactly_and_no_cell_breaks_its_bounds() {
        let lines = [
            Line::new(-0.013, 0.002),
            Line::new(0.1, 0.0005),
            Line::new(0.1007, 0.001),
            Line::new(1.0 / 3.0, 0.02),
        ];
        let edges = graded(&lines, 1.3, 0.015).unwrap();
        for line in lines {
            assert!(edges.contains(&line.at), "{line:?} in {edges:?}");
        }
        let widths: Vec<f64> = edges.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(widths.iter().all(|&width| width <= 0.015 + ROUNDING), "{widths:?}");
        for line in lines {
            let i = edges.iter().position(|&edge| edge == line.at).unwrap();
            let beside = [i.checked_sub(1), Some(i)];
            for width in beside.into_iter().flatten().filter_map(|i| widths.get(i)) {
                assert!(*width <= line.spacing + ROUNDING, "{width} beside {line:?}");
            }
        }
    }

    #[test]
    fn cells_grow_by_the_ratio_and_symmetrically() {
        let lines = [Line::new(0.0, 0.001), Line::new(0.2, 0.001)];
        let edges = graded(&lines, 1.2, 1.0).unwrap();
        let widths: Vec<f64> = edges.windows(2).map(|pair| pair[1] - pair[0]).collect();
        for i in 0..widths.len() {
            assert!((widths[i] - widths[widths.len() - 1 - i]).abs() < ROUNDING, "{widths:?}");
        }
        assert!(widths.windows(2).all(|pair| pair[1] / pair[0] < 1.2 + 1e-9), "{widths:?}");
        // Sum of a geometric series up to the middle: 0.001 (1.2^n - 1) / 0.2 = 0.1 at n = 16.7.
        assert!((34..=36).contains(&widths.len()), "{}", widths.len());
    }

    #[test]
    fn an_even_mesh_has_the_cells_that_fit() {
        let lines = [Line::new(0.0, 0.1), Line::new(1.0, 0.1), Line::new(1.05, 0.1)];
        let edges = graded(&lines, 1.0, 0.1).unwrap();
        assert_eq!(edges.len(), 12);
        assert!((edges[3] - 0.3).abs() < ROUNDING);
    }

    #[test]
    fn spacings_no_mesh_can_have_are_refused() {
        let ends = |spacing| [Line::new(0.0, spacing), Line::new(1.0, 0.1)];
        for (spacing, growth, coarsest) in
            [(0.0, 1.2, 1.0), (f64::NAN, 1.2, 1.0), (0.1, 0.9, 1.0), (0.1, 1.2, -1.0)]
        {
            assert_eq!(graded(&ends(spacing), growth, coarsest), Err(NetworkError::Spacing));
        }
        let crowd = graded(&ends(1e-300), 1.0, 1.0);
        assert_eq!(crowd, Err(NetworkError::TooManyCells { most: MOST_CELLS }));
        let line = Line::new(0.5, 0.1);
        assert_eq!(
            graded(&[line, line], 1.2, 1.0),
            Err(NetworkError::EdgesNotAscending { axis: 0, edge: 1 })
        );
    }
}

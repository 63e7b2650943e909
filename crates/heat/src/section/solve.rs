//! Solves a section: films held at the critical state (seat at the ice point), then the weights.

use super::bare::Bare;
use super::faces::{Tag, meets};
use super::mesh::{self, Fineness};
use super::paint::{self, Part, Shape};
use super::solved::{Boundary, Share, Solved, Station};
use super::spec::{Inlet, Spec};
use super::tail;
use super::vary::Varied;
use crate::thermal::{self, Factors, Film, Grid, Network, Solver, Weights};
use std::cell::Cell;
use std::sync::Arc;

pub(super) const OUTDOORS: usize = 0;
pub(super) const SPACE_BEHIND: usize = 1;
pub(super) const PASSES: usize = 4;
/// Films are found when a pass moves the seat by no more than this, as a share of indoors less outdoors.
const FOUND: f64 = 2e-4;
/// Films are evaluated between these, K; beyond them the properties of air are not tabulated.
pub(super) const FILM_RANGE: [f64; 2] = [223.2, 330.0];

/// Why a section is not solved.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SectionError {
    /// Dimensions that cannot be built.
    #[error("{0}")]
    DoesNotFit(&'static str),
    /// A film outside the range of its correlation.
    #[error(transparent)]
    Film(#[from] crate::physics::OutOfRange),
    /// The network was refused.
    #[error(transparent)]
    Network(#[from] thermal::NetworkError),
}

/// Whether the spread of what is uncertain is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Uncertainty {
    /// Each factor is solved for at either end.
    Carried,
    /// The same on a coarse mesh, only to bound what it is on the usual one ([`Solved::seat_temperature_within`]).
    Rough,
    /// Only the values used, as a search for a depth wants it.
    LeftOut,
}

/// Solves a section at the usual mesh.
pub fn solve(spec: &Spec, uncertainty: Uncertainty) -> Result<Solved, SectionError> {
    let fineness = if uncertainty == Uncertainty::Rough { Fineness::Coarse } else { Fineness::Usual };
    solve_at(spec, uncertainty, fineness)
}

/// Solves a section at a stated mesh.
pub fn solve_at(spec: &Spec, uncertainty: Uncertainty, fineness: Fineness) -> Result<Solved, SectionError> {
    let mut section = Section::build(spec, fineness)?;
    let weights = section.find_films(None)?;
    let varied = match uncertainty {
        Uncertainty::Carried | Uncertainty::Rough => section.vary(&weights)?,
        Uncertainty::LeftOut => Vec::new(),
    };
    section.solved(&weights, varied)
}

/// Temperature at the seat with the films found at a stated state instead of the critical one, K: what holding them
/// there is worth.
pub fn seat_with_films_at(spec: &Spec, at: &Boundary) -> Result<f64, SectionError> {
    let mut section = Section::build(spec, Fineness::Usual)?;
    let weights = section.find_films(Some(*at))?;
    Ok(section.seat(weights.of_boundary(SPACE_BEHIND)).temperature(at))
}

pub(super) struct Section<'s> {
    pub(super) spec: &'s Spec,
    pub(super) fineness: Fineness,
    pub(super) shape: Shape,
    pub(super) grid: Grid,
    pub(super) network: Network,
    pub(super) solver: Arc<Solver>,
    pub(super) factors: Factors,
    /// Part of each cell of the grid; the tail's cells follow.
    pub(super) parts: Vec<Part>,
    /// Cells of the bore and their radii, m: the stem's ends are lines of the mesh.
    pub(super) bore: Vec<(usize, f64)>,
    /// Cells of a supply that turns down, each with its ends along the pipe from the fitting, m.
    pub(super) tail: Vec<(usize, [f64; 2])>,
    /// Cells whose water is read at the seat, with their share of its volume.
    pub(super) reading: Vec<(usize, f64)>,
    /// Bare surfaces in the space behind.
    pub(super) bare: Vec<Bare>,
    imbalance: f64,
    pub(super) solves: usize,
}

thread_local! {
    /// The factors of the section that a thread was done with last: the next is factorized in their memory.
    static SPARE: Cell<Factors> = Cell::default();
}

impl Drop for Section<'_> {
    fn drop(&mut self) {
        if self.factors.has_memory() {
            SPARE.set(std::mem::take(&mut self.factors));
        }
    }
}

impl<'s> Section<'s> {
    pub(super) fn build(spec: &'s Spec, fineness: Fineness) -> Result<Self, SectionError> {
        let shape = Shape::of(spec);
        shape.fits(spec).map_err(SectionError::DoesNotFit)?;
        let grid = mesh::grid(&shape, fineness)?;
        Self::over(spec, fineness, shape, grid, None)
    }

    /// The same for a specification that differs in a size, on this section's mesh stretched onto it; `None` where that has
    /// other cells or surfaces.
    pub(super) fn stretched<'o>(&self, spec: &'o Spec) -> Result<Option<Section<'o>>, SectionError> {
        let shape = Shape::of(spec);
        shape.fits(spec).map_err(SectionError::DoesNotFit)?;
        // A coarse mesh is cheap to make anew, and too coarse to be stretched.
        let is_coarse = self.fineness == Fineness::Coarse;
        let grid = if is_coarse { None } else { mesh::stretched(&self.grid, &self.shape, &shape) };
        let Some(grid) = grid else { return Ok(None) };
        let other = Section::over(spec, self.fineness, shape, grid, Some(&self.solver))?;
        let is_alike = self.solver.is_of(&other.network)
            && self.parts == other.parts
            && self.reading.len() == other.reading.len();
        Ok(is_alike.then_some(other))
    }

    /// A section over a grid, solved by a solver of the same cells if there is one.
    fn over(
        spec: &'s Spec,
        fineness: Fineness,
        shape: Shape,
        grid: Grid,
        solver: Option<&Arc<Solver>>,
    ) -> Result<Self, SectionError> {
        let (mut parts, mut bore) = (Vec::new(), Vec::new());
        let mut bare = Vec::new();
        let paint = |_: [usize; 3], [r, z, _]: [f64; 3]| {
            let part = shape.part(r, z)?;
            if shape.in_bore(r, z) {
                bore.push((parts.len(), r));
            }
            parts.push(part);
            Some(paint::conductivity(part, spec))
        };
        let mut network = Network::over(&grid, 2, paint, |face| {
            let (tag, resistance) = meets(&shape, spec, &grid, face)?;
            let indoors = matches!(tag, Tag::WallInside | Tag::Metal | Tag::Pipe | Tag::Sleeve);
            if Bare::is_tagged(tag as u32) {
                bare.push(Bare::of(&grid, face));
            }
            let boundary = if indoors { SPACE_BEHIND } else { OUTDOORS };
            Some(Film { boundary, resistance, tag: tag as u32 })
        })?;
        let tail = match spec.inlet {
            Inlet::InWall => tail::hang(&mut network, &grid, &shape, spec)?,
            Inlet::InSpace => Vec::new(),
        };
        // Surfaces are numbered in the order their faces were met.
        let tagged = network.surfaces().iter().enumerate().filter(|(_, it)| Bare::is_tagged(it.tag));
        for (bare, (number, _)) in bare.iter_mut().zip(tagged) {
            bare.surface = number;
        }
        let reading = mesh::reading(&network, &grid, &shape);
        let (solver, factors) = match solver {
            Some(solver) => (Arc::clone(solver), Factors::default()),
            None => (Arc::new(Solver::analyse(&network)?), SPARE.take().renewed()),
        };
        Ok(Self {
            spec,
            fineness,
            shape,
            grid,
            network,
            solver,
            factors,
            parts,
            bore,
            tail,
            reading,
            bare,
            imbalance: 0.0,
            solves: 0,
        })
    }

    /// Solves for the weight of the space behind in each cell alone.
    pub(super) fn weight_of_space(&mut self) -> Result<Vec<f64>, SectionError> {
        let (weights, imbalance) = self.solver.solve_one(&self.network, SPACE_BEHIND, &mut self.factors)?;
        self.imbalance = self.imbalance.max(imbalance);
        self.solves += 1;
        Ok(weights)
    }

    pub(super) fn weights(&mut self) -> Result<Weights, SectionError> {
        let weights = self.solver.solve_again(&self.network, &mut self.factors)?;
        self.imbalance = self.imbalance.max(weights.imbalance());
        self.solves += 1;
        Ok(weights)
    }

    /// Share of the heated room at the seat, by the weight of the space behind in each cell.
    pub(super) fn seat(&self, weights: &[f64]) -> Share {
        let behind: f64 = self.reading.iter().map(|&(cell, part)| part * weights[cell]).sum();
        Share(behind * self.spec.behind.weight())
    }

    /// Repeats solving and setting films until they agree with the temperatures at `state`, or at the critical state.
    pub(super) fn find_films(&mut self, state: Option<Boundary>) -> Result<Weights, SectionError> {
        self.settle_films(state, FOUND)?;
        self.weights()
    }

    /// The same until a pass moves the seat by no more than `found`. Gives the weight of the space behind in each cell.
    pub(super) fn settle_films(
        &mut self,
        state: Option<Boundary>,
        found: f64,
    ) -> Result<Vec<f64>, SectionError> {
        let mut weights = self.weight_of_space()?;
        let mut seat = self.seat(&weights);
        for _ in 0..PASSES {
            let at = state.unwrap_or_else(|| self.critical(seat));
            self.set_bare_films(&self.bare_weights(&weights), &at, self.spec)?;
            weights = self.weight_of_space()?;
            let before = std::mem::replace(&mut seat, self.seat(&weights));
            if (seat.0 - before.0).abs() <= found {
                break;
            }
        }
        Ok(weights)
    }

    pub(super) fn critical(&self, seat: Share) -> Boundary {
        let room = self.spec.behind.room.si();
        Boundary { outdoors: seat.good_to(room).unwrap_or(FILM_RANGE[0]), room }
    }

    fn solved(&self, weights: &Weights, varied: Vec<Varied>) -> Result<Solved, SectionError> {
        let [seat, coldest_water] = self.both(weights.of_boundary(SPACE_BEHIND));
        let films = self.bare.iter().map(|it| it.convection + it.radiation);
        let range = films.fold(None, |range: Option<[f64; 2]>, film| {
            Some(range.map_or([film, film], |[least, most]| [least.min(film), most.max(film)]))
        });
        Ok(Solved {
            seat,
            coldest_water,
            behind: Share(self.spec.behind.share.si()),
            varied,
            stations: self.stations(weights),
            indoor_films: range,
            bare: self.bare_surfaces(weights),
            point_transmittance: self.point_transmittance(weights)?,
            imbalance: self.imbalance,
            cells: self.network.cells(),
            solves: self.solves,
        })
    }

    /// The cell of the coldest water, by the weight of the space behind in each cell, if there is any.
    pub(super) fn coldest_water(&self, weights: &[f64]) -> Option<usize> {
        let wet = self.parts.iter().zip(0..).filter(|(part, _)| **part == Part::Water).map(|(_, cell)| cell);
        let wet = wet.chain(self.tail.iter().map(|(cell, _)| *cell));
        wet.min_by(|a, b| weights[*a].total_cmp(&weights[*b]))
    }

    /// The outermost metal (or pipe) at each depth.
    fn stations(&self, weights: &Weights) -> Vec<Station> {
        let [across, along, _] = self.grid.shape();
        let mut stations = Vec::new();
        for j in 0..along {
            let metal = (0..across).rev().find_map(|i| {
                let at = [i, j, 0];
                let [r, z, _] = self.grid.center(at);
                let metal = matches!(
                    self.shape.part(r, z),
                    Some(Part::Head | Part::Barrel | Part::Fitting | Part::Supply)
                );
                metal.then(|| self.network.cell_at(self.grid.number(at)).map(|cell| (z, cell))).flatten()
            });
            if let Some((depth, cell)) = metal {
                let share = Share(weights.cell_weight(cell, SPACE_BEHIND) * self.spec.behind.weight());
                stations.push(Station { depth, share });
            }
        }
        stations
    }
}

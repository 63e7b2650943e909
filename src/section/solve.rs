//! Solves a section: films held at the critical state (seat at the ice point), then the weights, then the same again
//! with each uncertain factor at either end.

use super::mesh::{self, Fineness, SEAT_READING};
use super::paint::{self, COVER_RADIUS, FLANGE_RADIUS, HEAD_RADIUS, Part, RIM, Shape};
use super::solved::{Boundary, Factor, Share, Solved, Station};
use super::spec::{Inlet, Micro, Ranged, Spec, WASHER_LENGTH};
use super::tail;
use crate::physics::air_film::{PAINTED, natural_convection_cylinder, radiation};
use crate::thermal::{self, Axis, Face, Film, Grid, Network, Side, Solver, Weights};

pub(super) const OUTDOORS: usize = 0;
pub(super) const INDOORS: usize = 1;
/// Rsi of a wall's interior surface, horizontal flow, m²K/W (ISO 6946, table of surface resistances; from memory).
pub(super) const WALL_FILM_INSIDE: f64 = 0.13;
/// Film on bare metal before the first pass, W/m²K.
const FIRST_FILM: f64 = 8.0;
const PASSES: usize = 4;
/// Films are found when a pass moves the seat by no more than this, as a share of indoors less outdoors.
const FOUND: f64 = 2e-4;
/// Films are evaluated between these, K; beyond them the properties of air are not tabulated.
const FILM_RANGE: [f64; 2] = [223.2, 330.0];

/// Why a section is not solved.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// Dimensions that cannot be built.
    #[error("{0}")]
    DoesNotFit(&'static str),
    /// A film outside the range of its correlation.
    #[error(transparent)]
    Film(#[from] crate::physics::Refusal),
    /// The network was refused.
    #[error(transparent)]
    Network(#[from] thermal::Refusal),
}

/// Whether the spread of what is uncertain is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Uncertainty {
    /// Each factor is solved for at either end.
    Carried,
    /// Only the values used, as a search for a depth wants it.
    LeftOut,
}

/// What a surface is, to find it again.
#[repr(u32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tag {
    Outdoors,
    UnderCover,
    WallInside,
    Metal,
    Pipe,
    Sleeve,
    Tail,
}

/// Solves a section at the usual mesh.
pub fn solve(spec: &Spec, uncertainty: Uncertainty) -> Result<Solved, Refusal> {
    solve_at(spec, uncertainty, Fineness::Usual)
}

/// Solves a section at a stated mesh.
pub fn solve_at(spec: &Spec, uncertainty: Uncertainty, fineness: Fineness) -> Result<Solved, Refusal> {
    let mut section = Section::build(spec, fineness)?;
    let weights = section.find_films(None)?;
    let varied = match uncertainty {
        Uncertainty::Carried => section.vary(&weights)?,
        Uncertainty::LeftOut => Vec::new(),
    };
    Ok(section.solved(&weights, varied))
}

/// Temperature at the seat with the films found at a stated state instead of the critical one, K: what holding them
/// there is worth.
pub fn seat_with_films_at(spec: &Spec, at: &Boundary) -> Result<f64, Refusal> {
    let mut section = Section::build(spec, Fineness::Usual)?;
    let weights = section.find_films(Some(*at))?;
    Ok(section.seat(&weights).temperature(at))
}

/// A section being solved.
pub(super) struct Section<'s> {
    pub(super) spec: &'s Spec,
    pub(super) shape: Shape,
    grid: Grid,
    pub(super) network: Network,
    solver: Solver,
    /// Part of each cell; the tail's cells follow.
    pub(super) parts: Vec<Part>,
    pub(super) tail: Vec<usize>,
    /// Cells whose water is read at the seat, with their share of its volume.
    reading: Vec<(usize, f64)>,
    /// Bare surfaces in the space behind: surface and diameter, m.
    pub(super) bare: Vec<(usize, f64)>,
    imbalance: f64,
    solves: usize,
}

impl<'s> Section<'s> {
    fn build(spec: &'s Spec, fineness: Fineness) -> Result<Self, Refusal> {
        let shape = Shape::of(spec);
        fits(spec, &shape)?;
        let grid = mesh::grid(&shape, fineness)?;
        let mut parts = Vec::new();
        let mut bare_diameters = Vec::new();
        let paint = |_: [usize; 3], [r, z, _]: [f64; 3]| {
            let part = shape.part(r, z)?;
            parts.push(part);
            Some(paint::conductivity(part, spec))
        };
        let mut network = Network::over(&grid, 2, paint, |face| {
            let (tag, resistance) = meets(&shape, spec, &grid, face)?;
            let indoors = matches!(tag, Tag::WallInside | Tag::Metal | Tag::Pipe | Tag::Sleeve);
            if matches!(tag, Tag::Metal | Tag::Pipe | Tag::Sleeve) {
                bare_diameters.push(2.0 * face.centre[0]);
            }
            let boundary = if indoors { INDOORS } else { OUTDOORS };
            Some(Film { boundary, resistance, tag: tag as u32 })
        })?;
        let tail = match spec.inlet {
            Inlet::InWall => tail::hang(&mut network, &grid, &shape, spec)?,
            Inlet::InSpace => Vec::new(),
        };
        let is_bare = |tag: u32| [Tag::Metal, Tag::Pipe, Tag::Sleeve].iter().any(|it| *it as u32 == tag);
        let bare =
            network.surfaces().iter().enumerate().filter(|(_, it)| is_bare(it.tag)).map(|(number, _)| number);
        let bare = bare.zip(bare_diameters).collect();
        let reading = reading(&network, &grid, &shape);
        let solver = Solver::analyse(&network)?;
        Ok(Self { spec, shape, grid, network, solver, parts, tail, reading, bare, imbalance: 0.0, solves: 0 })
    }

    pub(super) fn weights(&mut self) -> Result<Weights, Refusal> {
        let weights = self.solver.solve(&self.network)?;
        self.imbalance = self.imbalance.max(weights.imbalance());
        self.solves += 1;
        Ok(weights)
    }

    /// Share of the heated room at the seat.
    pub(super) fn seat(&self, weights: &Weights) -> Share {
        let behind: f64 =
            self.reading.iter().map(|&(cell, part)| part * weights.cell_weight(cell, INDOORS)).sum();
        Share(behind * self.spec.behind.share.si())
    }

    /// Repeats solving and setting films until they agree with the temperatures at `state`, or at the critical state.
    fn find_films(&mut self, state: Option<Boundary>) -> Result<Weights, Refusal> {
        let mut weights = self.weights()?;
        let mut seat = self.seat(&weights);
        for _ in 0..PASSES {
            let at = state.unwrap_or_else(|| self.critical(seat));
            self.set_bare_films(&weights, &at, |range| range.used)?;
            weights = self.weights()?;
            let before = std::mem::replace(&mut seat, self.seat(&weights));
            if (seat.0 - before.0).abs() <= FOUND {
                break;
            }
        }
        Ok(weights)
    }

    pub(super) fn critical(&self, seat: Share) -> Boundary {
        let room = self.spec.behind.room.si();
        Boundary { outdoors: seat.holds_to(room).unwrap_or(FILM_RANGE[0]), room }
    }

    /// Natural convection and radiation on every bare surface in the space behind, at its own temperature.
    pub(super) fn set_bare_films(
        &mut self,
        weights: &Weights,
        at: &Boundary,
        end: impl Fn(Ranged) -> Micro,
    ) -> Result<(), Refusal> {
        let [coldest, warmest] = FILM_RANGE;
        let outdoors = at.outdoors.clamp(coldest, warmest);
        let space = Share(self.spec.behind.share.si()).temperature(&Boundary { outdoors, ..*at });
        let painted = Ranged::from(PAINTED);
        for index in 0..self.bare.len() {
            let (surface, diameter) = self.bare[index];
            let own = weights.surface_temperature(surface, &[outdoors, space]).clamp(coldest, warmest);
            let emissivity = match self.network.surfaces()[surface].tag {
                tag if tag == Tag::Metal as u32 => self.spec.barrel.emissivity,
                tag if tag == Tag::Pipe as u32 => self.spec.supply.emissivity,
                _ => painted,
            };
            let film = natural_convection_cylinder(diameter.max(0.002), own, space)?
                + radiation(end(emissivity).si(), own, space)?;
            self.network.set_film(surface, 1.0 / film)?;
        }
        Ok(())
    }

    fn solved(&self, weights: &Weights, varied: Vec<(Factor, [Share; 2])>) -> Solved {
        let films = self.bare.iter().map(|&(surface, _)| 1.0 / self.network.films()[surface]);
        let range = films.fold(None, |range: Option<[f64; 2]>, film| {
            Some(range.map_or([film, film], |[least, most]| [least.min(film), most.max(film)]))
        });
        Solved {
            seat: self.seat(weights),
            varied,
            stations: self.stations(weights),
            indoor_films: range,
            imbalance: self.imbalance,
            cells: self.network.cells(),
            solves: self.solves,
        }
    }

    /// The outermost metal (or pipe) at each depth.
    fn stations(&self, weights: &Weights) -> Vec<Station> {
        let [across, along, _] = self.grid.shape();
        let mut stations = Vec::new();
        for j in 0..along {
            let metal = (0..across).rev().find_map(|i| {
                let at = [i, j, 0];
                let [r, z, _] = self.grid.centre(at);
                let metal = matches!(
                    self.shape.part(r, z),
                    Some(Part::Head | Part::Barrel | Part::Fitting | Part::Supply)
                );
                metal.then(|| self.network.cell_at(self.grid.number(at)).map(|cell| (z, cell))).flatten()
            });
            if let Some((depth, cell)) = metal {
                let share = Share(weights.cell_weight(cell, INDOORS) * self.spec.behind.share.si());
                stations.push(Station { depth, share });
            }
        }
        stations
    }
}

/// What an exposed face meets: its tag and first film resistance, m²K/W.
fn meets(shape: &Shape, spec: &Spec, grid: &Grid, face: &thermal::Exposed) -> Option<(Tag, f64)> {
    let [r, z, _] = face.centre;
    let outward = 1.0 / spec.outdoor_film.used.si();
    if z <= 0.5 * shape.wall {
        if r > RIM - 1e-9 {
            return None;
        }
        let covered = spec.cover > Micro::default() && r < COVER_RADIUS;
        return Some(if covered {
            (Tag::UnderCover, outward + spec.cover.si())
        } else {
            (Tag::Outdoors, outward)
        });
    }
    let [own_r, own_z, _] = grid.centre(face.at);
    match shape.part(own_r, own_z)? {
        Part::Layer(_) if r > RIM - 1e-9 => None,
        Part::Layer(_) => Some((Tag::WallInside, WALL_FILM_INSIDE)),
        // The far end of the supply: as much pipe goes on beyond it.
        _ if face.face == Face::new(Axis::Second, Side::High)
            && shape.supply_end.is_some_and(|end| z > end - 1e-9) =>
        {
            None
        }
        Part::Supply => Some((Tag::Pipe, 1.0 / FIRST_FILM)),
        Part::Sleeve => Some((Tag::Sleeve, 1.0 / FIRST_FILM)),
        _ => Some((Tag::Metal, 1.0 / FIRST_FILM)),
    }
}

fn reading(network: &Network, grid: &Grid, shape: &Shape) -> Vec<(usize, f64)> {
    let mut cells = Vec::new();
    for number in 0..grid.cells() {
        let at = grid.position(number);
        let [r, z, _] = grid.centre(at);
        let read = r < shape.supply_bore && z > shape.seat && z < shape.seat + SEAT_READING;
        if read && let Some(cell) = network.cell_at(number) {
            cells.push((cell, grid.volume(at)));
        }
    }
    let all: f64 = cells.iter().map(|(_, volume)| volume).sum();
    cells.into_iter().map(|(cell, volume)| (cell, volume / all)).collect()
}

fn fits(spec: &Spec, shape: &Shape) -> Result<(), Refusal> {
    let refuse = |what| Err(Refusal::DoesNotFit(what));
    /// A seat deeper than this, or a wall thicker, is a slip of the pen, m.
    const DEEPEST: f64 = 2.0;
    if spec.wall.is_empty() || spec.wall.iter().any(|it| it.thickness <= Micro::default()) {
        return refuse("every layer of the wall needs a thickness above zero");
    }
    if shape.wall > DEEPEST || !(0.0..=DEEPEST).contains(&shape.seat) {
        return refuse("the wall or the seat depth is below zero or above 2 m");
    }
    if !(shape.stem > 0.0 && shape.stem < shape.barrel_bore && shape.barrel < HEAD_RADIUS.max(FLANGE_RADIUS))
    {
        return refuse("stem, barrel and flange do not fit into one another");
    }
    if !(shape.supply_bore > 0.0 && shape.supply_bore < shape.supply && shape.supply < FLANGE_RADIUS) {
        return refuse("the supply pipe's thickness and diameter do not go together");
    }
    if shape.sleeve.is_some_and(|outer| outer > RIM / 2.0) {
        return refuse("the insulation around the supply is more than 2 in thick");
    }
    if spec.supply.run.si() < WASHER_LENGTH {
        return refuse("the supply run is shorter than 1/2 in");
    }
    if spec.inlet == Inlet::InWall && shape.fitting_end + 2.0 * shape.supply > shape.wall {
        return refuse("the inlet reaches through the wall, so that the supply cannot turn down inside it");
    }
    if !(0.0..=1.0).contains(&spec.behind.share.si()) {
        return refuse("the factor of the space behind is not between 0 and 1");
    }
    Ok(())
}

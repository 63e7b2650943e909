//! Cells, the links between them and the surfaces where they meet a boundary. What a network is made of (which
//! cells touch, and their geometry) is kept apart from what may change between solves (conductivities and films).

use super::error::NetworkError;
use super::grid::{Face, Grid};

/// Two cells that exchange heat. Its resistance is `half[0]`/k₀ + `half[1]`/k₁ + `extra`, K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// The two cells.
    pub cells: [usize; 2],
    /// The geometry factor from each cell's node to where they touch, 1/m: path length over area.
    pub half: [f64; 2],
    /// Resistance between the two, such as an imperfect contact, K/W.
    pub extra: f64,
}

/// A part of a cell that meets a boundary. Its resistance is `half`/k + film/`area`, K/W. A cell whose surroundings
/// are a mix of two temperatures has two parallel surfaces that share its area: with `half` divided by each share as
/// the area is multiplied by it, the two together are exactly the undivided surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// The cell.
    pub cell: usize,
    /// The boundary.
    pub boundary: usize,
    /// The geometry factor from the cell's node to the surface, 1/m.
    pub half: f64,
    /// The area of the surface, m².
    pub area: f64,
    /// The caller's own mark, to find the surface again.
    pub tag: u32,
}

/// What a face of the grid meets: a boundary through a film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// The boundary.
    pub boundary: usize,
    /// The film's resistance, m²K/W; 0 where the surface is held at the boundary's temperature.
    pub resistance: f64,
    /// The caller's own mark, kept with the surface.
    pub tag: u32,
}

impl Film {
    /// A film without a mark.
    pub const fn new(boundary: usize, resistance: f64) -> Self {
        Self { boundary, resistance, tag: 0 }
    }
}

/// A face of a present cell with no present cell behind it: at the rim of the grid or beside an absent cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposed {
    /// The cell's position in the grid.
    pub at: [usize; 3],
    /// Which of its faces.
    pub face: Face,
    /// The middle of the face, m.
    pub center: [f64; 3],
    /// The area of the face, m².
    pub area: f64,
}

/// A network of cells, links and surfaces with `boundaries` given temperatures.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    boundaries: usize,
    links: Vec<Link>,
    surfaces: Vec<Surface>,
    values: Values,
    /// The cell at each position of the grid it was made from.
    at: Vec<Option<usize>>,
}

/// What may change between solves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Values {
    /// The conductivity of each cell, W/mK.
    conductivities: Vec<f64>,
    /// The film resistance of each surface, m²K/W.
    films: Vec<f64>,
}

/// The conductances of a network at its present conductivities and films, W/K.
#[derive(Clone, Debug, PartialEq)]
pub struct Conductances {
    /// Of each link.
    pub links: Vec<f64>,
    /// Of each surface.
    pub surfaces: Vec<f64>,
}

impl Network {
    /// A network without cells, for `boundaries` temperatures.
    pub const fn new(boundaries: usize) -> Self {
        Self {
            boundaries,
            links: Vec::new(),
            surfaces: Vec::new(),
            values: Values { conductivities: Vec::new(), films: Vec::new() },
            at: Vec::new(),
        }
    }

    /// A network over a grid. `conductivity` gives the conductivity \[W/mK\] of the cell with a position and a node
    /// \[m\], or nothing where the grid is left empty. `film` gives what an exposed face meets, or nothing where it is
    /// adiabatic. More cells, links and surfaces can be added afterwards.
    pub fn over(
        grid: &Grid,
        boundaries: usize,
        mut conductivity: impl FnMut([usize; 3], [f64; 3]) -> Option<f64>,
        mut film: impl FnMut(&Exposed) -> Option<Film>,
    ) -> Result<Self, NetworkError> {
        let mut network = Self::new(boundaries);
        let cells = grid.cells();
        network.at.reserve(cells);
        network.values.conductivities.reserve(cells);
        network.links.reserve(2 * cells);
        for number in 0..cells {
            let at = grid.position(number);
            let cell = match conductivity(at, grid.center(at)) {
                Some(value) => Some(network.add_cell(value)?),
                None => None,
            };
            network.at.push(cell);
        }
        for number in 0..cells {
            let Some(cell) = network.at[number] else { continue };
            let at = grid.position(number);
            for face in Face::ALL {
                let beside = grid.neighbor(at, face);
                match beside.and_then(|next| network.at[grid.number(next)].map(|other| (next, other))) {
                    // Each pair is met twice and linked from the cell that comes first.
                    Some((next, other)) if cell < other => {
                        let half = [grid.half(at, face), grid.half(next, face.opposite())];
                        network.link(Link { cells: [cell, other], half, extra: 0.0 })?;
                    }
                    Some(_) => {}
                    None => {
                        let area = grid.area(at, face);
                        if area == 0.0 {
                            continue;
                        }
                        let exposed = Exposed { at, face, center: grid.face_center(at, face), area };
                        if let Some(Film { boundary, resistance, tag }) = film(&exposed) {
                            let half = grid.half(at, face);
                            network.meet(Surface { cell, boundary, half, area, tag }, resistance)?;
                        }
                    }
                }
            }
        }
        Ok(network)
    }

    /// Adds a cell of a conductivity \[W/mK\] and gives its number.
    pub fn add_cell(&mut self, conductivity: f64) -> Result<usize, NetworkError> {
        let cell = self.values.conductivities.len();
        positive_conductivity(cell, conductivity)?;
        self.values.conductivities.push(conductivity);
        Ok(cell)
    }

    /// Links two cells and gives the link's number. Two cells may be linked more than once.
    pub fn link(&mut self, link: Link) -> Result<usize, NetworkError> {
        for cell in link.cells {
            self.known_cell(cell)?;
        }
        if link.cells[0] == link.cells[1] {
            return Err(NetworkError::LinkedToItself { cell: link.cells[0] });
        }
        if ![link.half[0], link.half[1], link.extra].into_iter().all(not_negative) {
            return Err(NetworkError::Geometry);
        }
        self.links.push(link);
        Ok(self.links.len() - 1)
    }

    /// Lets a cell meet a boundary through a film \[m²K/W\] and gives the surface's number. A cell may have several
    /// surfaces.
    pub fn meet(&mut self, surface: Surface, film: f64) -> Result<usize, NetworkError> {
        self.known_cell(surface.cell)?;
        if surface.boundary >= self.boundaries {
            return Err(NetworkError::NoSuchBoundary { boundary: surface.boundary });
        }
        if !(not_negative(surface.half) && not_negative(surface.area) && surface.area > 0.0) {
            return Err(NetworkError::Geometry);
        }
        let number = self.surfaces.len();
        usable_film(number, film)?;
        self.surfaces.push(surface);
        self.values.films.push(film);
        Ok(number)
    }

    /// Changes the conductivity of a cell, W/mK. The pattern stays as analysed.
    pub fn set_conductivity(&mut self, cell: usize, value: f64) -> Result<(), NetworkError> {
        positive_conductivity(cell, value)?;
        *self.values.conductivities.get_mut(cell).ok_or(NetworkError::NoSuchCell { cell })? = value;
        Ok(())
    }

    /// Changes the film resistance of a surface, m²K/W. The pattern stays as analysed.
    pub fn set_film(&mut self, surface: usize, resistance: f64) -> Result<(), NetworkError> {
        usable_film(surface, resistance)?;
        *self.values.films.get_mut(surface).ok_or(NetworkError::NoSuchSurface { surface })? = resistance;
        Ok(())
    }

    /// How many boundary temperatures there are.
    pub const fn boundaries(&self) -> usize {
        self.boundaries
    }

    /// How many cells there are.
    pub const fn cells(&self) -> usize {
        self.values.conductivities.len()
    }

    /// How many of its cells, the first ones, belong to the grid it was made over.
    pub(super) fn grid_cells(&self) -> usize {
        self.at.iter().flatten().count()
    }

    /// The links.
    pub fn links(&self) -> &[Link] {
        &self.links
    }

    /// The surfaces.
    pub fn surfaces(&self) -> &[Surface] {
        &self.surfaces
    }

    /// The conductivity of each cell, W/mK.
    pub fn conductivities(&self) -> &[f64] {
        &self.values.conductivities
    }

    /// The film resistance of each surface, m²K/W.
    pub fn films(&self) -> &[f64] {
        &self.values.films
    }

    /// Conductivities and films, to go back to after a change.
    pub const fn values(&self) -> &Values {
        &self.values
    }

    /// Puts back conductivities and films that this network had.
    pub fn restore(&mut self, values: &Values) {
        self.values.clone_from(values);
    }

    /// The cell at a [number](Grid::number) of the grid it was made over; nothing where the grid was left empty.
    pub fn cell_at(&self, number: usize) -> Option<usize> {
        self.at.get(number).copied().flatten()
    }

    /// The conductances at the present conductivities and films.
    pub fn conductances(&self) -> Result<Conductances, NetworkError> {
        Ok(Conductances {
            links: (0..self.links.len()).map(|link| self.through_link(link)).collect::<Result<_, _>>()?,
            surfaces: (0..self.surfaces.len())
                .map(|surface| self.through_surface(surface))
                .collect::<Result<_, _>>()?,
        })
    }

    /// The same where those at other values are known: only what differs is computed.
    pub(super) fn conductances_near(
        &self,
        values: &Values,
        known: &Conductances,
    ) -> Result<Conductances, NetworkError> {
        let Values { conductivities, films } = &self.values;
        let is_changed: Vec<bool> =
            conductivities.iter().zip(&values.conductivities).map(|(now, was)| now != was).collect();
        let mut near = known.clone();
        for (number, link) in self.links.iter().enumerate() {
            if is_changed[link.cells[0]] || is_changed[link.cells[1]] {
                near.links[number] = self.through_link(number)?;
            }
        }
        for (number, surface) in self.surfaces.iter().enumerate() {
            if is_changed[surface.cell] || films[number] != values.films[number] {
                near.surfaces[number] = self.through_surface(number)?;
            }
        }
        Ok(near)
    }

    fn through_link(&self, number: usize) -> Result<f64, NetworkError> {
        let (link, k) = (&self.links[number], &self.values.conductivities);
        let resistance = link.half[0] / k[link.cells[0]] + link.half[1] / k[link.cells[1]] + link.extra;
        usable(resistance).ok_or(NetworkError::LinkResistance { link: number })
    }

    fn through_surface(&self, number: usize) -> Result<f64, NetworkError> {
        let surface = &self.surfaces[number];
        let within = surface.half / self.values.conductivities[surface.cell];
        let resistance = within + self.values.films[number] / surface.area;
        usable(resistance).ok_or(NetworkError::SurfaceResistance { surface: number })
    }

    fn known_cell(&self, cell: usize) -> Result<(), NetworkError> {
        if cell < self.cells() { Ok(()) } else { Err(NetworkError::NoSuchCell { cell }) }
    }
}

/// The conductance of a resistance, where both are ordinary positive numbers.
fn usable(resistance: f64) -> Option<f64> {
    (resistance.is_normal() && resistance > 0.0)
        .then(|| 1.0 / resistance)
        .filter(|conductance| conductance.is_normal())
}

fn not_negative(x: f64) -> bool {
    x.is_finite() && x >= 0.0
}

fn positive_conductivity(cell: usize, value: f64) -> Result<(), NetworkError> {
    if value.is_finite() && value > 0.0 { Ok(()) } else { Err(NetworkError::Conductivity { cell, value }) }
}

fn usable_film(surface: usize, value: f64) -> Result<(), NetworkError> {
    if not_negative(value) { Ok(()) } else { Err(NetworkError::Film { surface, value }) }
}
